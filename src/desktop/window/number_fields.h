// SPDX-License-Identifier: MIT
// Fields for lengths in the unit of the settings, and for whole numbers.
#pragma once

#include <optional>
#include <string>

#include "desktop/window/frame.h"

namespace potshadow {

inline constexpr double kLargestMm = 10000.0;  // longer things do not lie beside a pot

struct LengthField {
  std::string label;
  std::optional<double> mm;
  std::string tooltip{};
  double least_mm = 0.0;  // what is typed must be above it, or equal where `least_allowed`
  bool least_allowed = false;
  double most_mm = kLargestMm;
  std::string hint{};   // shown while empty
  double width = -1.0;  // as kit::FieldLook
};

// Returns the millimetres once typed, an empty inner optional where the field was emptied;
// complains about lengths that cannot be.
std::optional<std::optional<double>> length_field_or_none(Frame& frame, const LengthField& field);
// As above, for a length that has to be there.
std::optional<double> length_field(Frame& frame, const LengthField& field);

struct CountField {
  std::string label;
  int value = 0;
  std::string tooltip{};
  int least = 1;
  int most = 1;
  double width = -1.0;  // as kit::FieldLook
};

// Returns the whole number once typed; complains about others.
std::optional<int> count_field(Frame& frame, const CountField& field);

}  // namespace potshadow
