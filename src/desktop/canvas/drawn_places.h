// SPDX-License-Identifier: MIT
// Which of very many marks are drawn, where one would only cover another.
#pragma once

#include <set>
#include <tuple>

#include "desktop/document/document.h"

namespace potshadow {

// The photograph is parted into squares, and in each one mark of a kind is drawn: the first. The
// squares belong to the photograph, so that the same marks are drawn while it is moved about.
class DrawnPlaces {
 public:
  // Requires a positive side.
  explicit DrawnPlaces(double side_px) : side_px_(side_px) {}
  // Returns whether the mark is to be drawn, and notes that it is.
  bool take(MarkKind kind, const PhotoPoint& at);

 private:
  double side_px_;
  std::set<std::tuple<MarkKind, double, double>> taken_;
};

}  // namespace potshadow
