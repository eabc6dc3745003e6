// SPDX-License-Identifier: MIT
// Marks on a photograph, and how one of them is named.
#pragma once

#include <compare>
#include <cstddef>
#include <vector>

#include "core/units.h"

// In pixels of the upright photograph, (0, 0) at the centre of its top-left pixel.
namespace potshadow {

// What a mark was put on.
enum class MarkKind { kRim, kBase, kLeft, kRight, kReference };

// Which mark it is: the `number`-th of its kind, from 0; of a reference, its corner, end, crossing
// or edge point, and of a neighbour the `number`-th of rim, base, left, right in turn. The marks of
// the line where shelf and pane meet follow those of their reference.
struct MarkPlace {
  MarkKind kind = MarkKind::kRim;
  std::size_t reference = 0;  // `number` of the reference, where kind is kReference
  std::size_t number = 0;
  std::size_t photo = 0;  // index of the photograph
  friend auto operator<=>(const MarkPlace&, const MarkPlace&) = default;
};

struct Marks {
  std::vector<PhotoPoint> rim;    // outer edge of the lip, anywhere round it
  std::vector<PhotoPoint> base;   // visible front of the foot, where it meets the shelf
  std::vector<PhotoPoint> left;   // outline, left of the axis
  std::vector<PhotoPoint> right;  // outline, right of the axis
  double sd_px = 1.0;             // of each mark without one of its own, corners included

  // Standard uncertainties of traced marks, across the edge: one a mark, in the order of its list;
  // 0 for one of the hand, which is as precise as `sd_px` says. Empty where none is traced.
  std::vector<double> rim_sd_px{};
  std::vector<double> base_sd_px{};
  std::vector<double> left_sd_px{};
  std::vector<double> right_sd_px{};
};

}  // namespace potshadow
