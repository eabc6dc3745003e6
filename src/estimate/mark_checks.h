// SPDX-License-Identifier: MIT
// Looks marks over: that they lie on the photograph, and that there are enough on each part.
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/result.h"
#include "estimate/input.h"

// Internal to `estimate`. A check returns what it finds wrong, or nothing.
namespace potshadow::internal {

using Finding = std::optional<Problem>;

inline constexpr std::size_t kLeastRimMarks = 5;
inline constexpr std::size_t kLeastBaseMarks = 3;
inline constexpr std::size_t kLeastOutlineMarks = 6;  // left and right together
inline constexpr std::size_t kMostMarks = 20000;

inline Problem bad_value(std::string what, std::string next) {
  return {Code::kBadValue, std::move(what), std::move(next), ""};
}

inline bool in_range(double value, double low, double high) {
  return std::isfinite(value) && value >= low && value <= high;
}

// Returns how far apart two marks are, in pixels.
double px_between(const PhotoPoint& a, const PhotoPoint& b);

// Returns the beginning of a sentence: "There are 3 marks on the rim".
std::string counted(std::size_t count, const std::string& where);

// Finds marks that lie far outside the photograph.
Finding check_mark_list(const std::vector<PhotoPoint>& marks, const std::string& kind,
                        const PhotoInput& photo);

// What a vessel's marks must show, and whose they are: "" or "neighbour's ".
struct MarksNeeded {
  bool rim = true;
  bool base = true;
  std::string whose{};
};

// Finds a vessel's marks that are too few, too many or all on one spot.
Finding check_marks(const PhotoInput& photo, const Marks& marks, const MarksNeeded& needed);

}  // namespace potshadow::internal
