// SPDX-License-Identifier: MIT
// The proportions that are told of a vessel.
#pragma once

#include <array>

#include "estimate/size_name.h"

namespace potshadow {

// One size over another.
struct ProportionKind {
  SizeName above;
  SizeName below;
  const char* key;
  const char* words;
};

// Key of the one that tells the foot's width.
inline constexpr const char* kBaseToMaxKey = "base_to_max_diameter";

inline constexpr std::array<ProportionKind, 5> kProportionKinds = {{
    {SizeName::kHeight, SizeName::kMaxDiameter, "height_to_max_diameter",
     "Height to maximum diameter"},
    {SizeName::kHeightOfMax, SizeName::kHeight, "height_of_max_to_height",
     "Height of the maximum to height"},
    {SizeName::kNeckDiameter, SizeName::kMaxDiameter, "neck_to_max_diameter",
     "Neck to maximum diameter"},
    {SizeName::kRimDiameter, SizeName::kMaxDiameter, "rim_to_max_diameter",
     "Rim to maximum diameter"},
    {SizeName::kBaseDiameter, SizeName::kMaxDiameter, kBaseToMaxKey, "Base to maximum diameter"},
}};

}  // namespace potshadow
