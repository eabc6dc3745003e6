// SPDX-License-Identifier: MIT
// The reference in words: where it can be, which corner is next, and what it still lacks.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/text.h"
#include "estimate/input.h"
#include "project/project.h"

namespace potshadow {

// As many points as an oval needs (five fix a conic).
inline constexpr std::size_t kLeastEdgeMarks = 5;
inline constexpr std::size_t kCornerCount = 4;

struct PlaceWords {
  Place place = Place::kLying;
  std::string_view key;                                // as in a project: "lying", "on-glass"
  std::string_view title;                              // "Lying on the shelf"
  std::string_view sentence;                           // what that means and what it asks for
  std::array<std::string_view, kCornerCount> corners;  // "lower left", ... in their order
};

inline constexpr std::size_t kPlaceCount = 4;

// Returns the words for a place.
PlaceWords place_words(Place place);
// Returns them all, in the order they are offered.
std::array<PlaceWords, kPlaceCount> all_places();
// Returns the place with that key, or nothing.
std::optional<Place> place_of_key(std::string_view key);

// Returns "1 lower left, 2 lower right, 3 upper right, 4 upper left".
std::string corner_order(Place place);
// Returns what to mark next after `marked` corners: "Corner 2 of 4: the lower right."
std::string corner_prompt(Place place, std::size_t marked);
// Returns the same for a disc's edge: "Mark at least 2 more points round its edge."
std::string edge_prompt(std::size_t marked);
// Returns the one of the two that fits the reference. A reference without a place yet has its
// corners in the order of an upright one.
std::string reference_prompt(const ProjectReference& reference);

// Returns its size in `unit`: "120 × 80 mm", "ø 23.25 mm", "4.72 × 3.15 in"; "size not given".
std::string reference_size_text(const ProjectReference& reference, LengthUnit unit);
// Returns its name and size: "Bank or identity card, 85.6 × 53.98 mm"; where it is no common
// object, "Rectangle, ..." or "Disc, ...".
std::string reference_title(const ProjectReference& reference, LengthUnit unit);

// Returns what it lacks to be used, each as one order, the most pressing first; empty where it can
// be used. The same demands as those of measure_project.
std::vector<std::string> reference_missing(const ProjectReference& reference);

}  // namespace potshadow
