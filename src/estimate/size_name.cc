// SPDX-License-Identifier: MIT
#include "estimate/size_name.h"

#include <array>

namespace potshadow {
namespace {

struct Names {
  std::string_view key;
  std::string_view words;
};

constexpr std::array<Names, kSizeCount> kSizes = {{{"height", "Height"},
                                                   {"max_diameter", "Maximum diameter"},
                                                   {"height_of_max", "Height of the maximum"},
                                                   {"neck_diameter", "Neck diameter"},
                                                   {"height_of_neck", "Height of the neck"},
                                                   {"rim_diameter", "Rim diameter"},
                                                   {"base_diameter", "Base diameter"},
                                                   {"capacity", "Capacity to the brim"}}};

}  // namespace

std::string_view size_key(SizeName name) { return kSizes.at(static_cast<std::size_t>(name)).key; }
std::optional<SizeName> size_of_key(std::string_view key) {
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    if (kSizes[i].key == key) return static_cast<SizeName>(i);
  }
  return std::nullopt;
}
std::string_view size_words(SizeName name) {
  return kSizes.at(static_cast<std::size_t>(name)).words;
}

}  // namespace potshadow
