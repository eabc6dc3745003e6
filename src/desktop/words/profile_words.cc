// SPDX-License-Identifier: MIT
#include "desktop/words/profile_words.h"

#include <algorithm>
#include <cstddef>

#include "core/measured.h"

namespace potshadow {

std::vector<bool> unknown_rows(const std::vector<ProfileRow>& rows) {
  constexpr double kMostDoubt = 1.0 / 3.0;
  double widest = 0.0;
  for (const ProfileRow& row : rows) widest = std::max(widest, row.radius_mm);
  std::vector<bool> unknown;
  unknown.reserve(rows.size());
  for (const ProfileRow& row : rows) {
    // Written so that what is not a number is not known.
    unknown.push_back(!(kNormal95 * row.sd_mm <= kMostDoubt * widest));
  }
  return unknown;
}

std::string unknown_profile_words(const Answer& answer, LengthUnit unit) {
  const std::vector<bool> unknown = unknown_rows(answer.rows);
  const bool open = answer.scale == ScaleSource::kNone;
  const int decimals = open || unit == LengthUnit::kMm ? 0 : 1;
  const std::string unit_text = open ? " % of its height" : " " + std::string(unit_name(unit));
  const auto height = [&](std::size_t row) {
    const double up = answer.rows[row].height_mm;
    return fixed_text(open ? up : in_unit(Mm{up}, unit), decimals);
  };
  std::string where;
  for (std::size_t i = 0; i < unknown.size(); ++i) {
    if (!unknown[i]) continue;
    std::size_t last = i;
    while (last + 1 < unknown.size() && unknown[last + 1]) ++last;
    const std::string low = height(i);
    const std::string high = height(last);
    where += (where.empty() ? "" : " and ") +
             (low == high ? "at " + low : "from " + low + " to " + high);
    i = last;
  }
  if (where.empty()) return "";
  return "The profile is not known " + where + unit_text +
         " up: there it may lie a third of the radius farther in or out, or more.";
}

}  // namespace potshadow
