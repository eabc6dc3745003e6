// SPDX-License-Identifier: MIT
// The names of a vessel's sizes, as keys and as words.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace potshadow {

// The eight sizes, in the order they are printed.
enum class SizeName {
  kHeight,
  kMaxDiameter,
  kHeightOfMax,
  kNeckDiameter,
  kHeightOfNeck,
  kRimDiameter,
  kBaseDiameter,
  kCapacity
};
inline constexpr std::size_t kSizeCount = 8;

// Returns the size's key in files: "height", "max_diameter", ... "capacity".
std::string_view size_key(SizeName name);
// Returns the size that a key names, or none.
std::optional<SizeName> size_of_key(std::string_view key);
// Returns the size's name in words: "Height", "Maximum diameter", "Height of the maximum", ...
std::string_view size_words(SizeName name);

}  // namespace potshadow
