// SPDX-License-Identifier: MIT
#include "clay/cone.h"

#include <algorithm>
#include <array>

namespace potshadow {
namespace {

struct ConeRow {
  std::string_view name;
  double celsius;
};
constexpr std::array<ConeRow, 34> kCones{
    {{"022", 586.0}, {"021", 600.0}, {"020", 626.0}, {"019", 678.0}, {"018", 715.0}, {"017", 738.0},
     {"016", 772.0}, {"015", 791.0}, {"014", 807.0}, {"013", 837.0}, {"012", 861.0}, {"011", 875.0},
     {"010", 903.0}, {"09", 920.0},  {"08", 942.0},  {"07", 976.0},  {"06", 998.0},  {"05", 1031.0},
     {"04", 1063.0}, {"03", 1086.0}, {"02", 1102.0}, {"01", 1119.0}, {"1", 1137.0},  {"2", 1142.0},
     {"3", 1152.0},  {"4", 1162.0},  {"5", 1186.0},  {"6", 1222.0},  {"7", 1239.0},  {"8", 1249.0},
     {"9", 1260.0},  {"10", 1285.0}, {"11", 1294.0}, {"12", 1306.0}}};

}  // namespace

std::optional<double> cone_celsius(std::string_view cone) {
  const auto trim = [&] {
    while (!cone.empty() && cone.front() == ' ') cone.remove_prefix(1);
    while (!cone.empty() && cone.back() == ' ') cone.remove_suffix(1);
  };
  trim();
  for (const std::string_view word : {"cone", "Cone", "^"}) {
    if (cone.starts_with(word)) cone.remove_prefix(word.size());
  }
  trim();
  const auto found = std::find_if(kCones.begin(), kCones.end(),
                                  [&](const ConeRow& row) { return row.name == cone; });
  if (found == kCones.end()) return std::nullopt;
  return found->celsius;
}

}  // namespace potshadow
