// SPDX-License-Identifier: MIT
// References in words: their kinds and places, which mark is next, and what they still lack.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/text.h"
#include "desktop/document/document.h"
#include "estimate/input.h"
#include "estimate/size_name.h"
#include "project/project.h"

namespace potshadow {

// As many points as an oval needs (five fix a conic).
inline constexpr std::size_t kLeastEdgeMarks = 5;
inline constexpr std::size_t kCornerCount = 4;

inline constexpr std::size_t kEndCount = 2;

// What the fields of a reference are called, in the panel and in what is said of them.
namespace reference_field {
inline constexpr std::string_view kWidth = "Width";
inline constexpr std::string_view kHeight = "Height";
inline constexpr std::string_view kDiameter = "Diameter";
inline constexpr std::string_view kLength = "Length";
inline constexpr std::string_view kPitch = "From joint to joint";
inline constexpr std::string_view kWhichSize = "Which size";
inline constexpr std::string_view kValue = "It is";
inline constexpr std::string_view kDistance = "From lens to pot";
inline constexpr std::string_view kGlass = "From glass to middle of pot";
inline constexpr std::string_view kShelfLine = "Mark the shelf line";
}  // namespace reference_field

struct KindWords {
  std::string_view key;       // as in a project: "rectangle"
  std::string_view name;      // in the list: "Tiles"
  std::string_view offer;     // on the button that adds one: "A tile floor or wall"
  std::string_view sentence;  // what it is, and what to type and mark
  bool has_place = true;      // whether it has to be said where it is
};
inline constexpr std::size_t kKindCount = 7;

// Returns all kinds, in the order they are offered.
std::array<KindWords, kKindCount> all_reference_kinds();
// Returns the words for the kind with that key, or nothing for a kind that is not known.
std::optional<KindWords> kind_words(std::string_view key);

struct PlaceWords {
  Place place = Place::kLying;
  std::string_view key;                                // as in a project: "lying", "on-glass"
  std::string_view title;                              // "Lying on the shelf"
  std::string_view brief;                              // in the list: "lying"
  std::string_view sentence;                           // what that means and what it asks for
  std::string_view of_length;                          // the same for a known length
  std::array<std::string_view, kCornerCount> corners;  // "lower left", ... in their order
};

inline constexpr std::size_t kPlaceCount = 5;

// Returns the words for a place.
PlaceWords place_words(Place place);
// Returns them all, in the order they are offered.
std::array<PlaceWords, kPlaceCount> all_places();
// Returns the place with that key, or nothing.
std::optional<Place> place_of_key(std::string_view key);

// Returns the sizes that can be known of the vessel itself, and of a neighbour.
std::vector<SizeName> knowable_sizes(bool neighbour);

// Returns "1 lower left, 2 lower right, 3 upper right, 4 upper left".
std::string corner_order(Place place);
// Returns what to mark next after `marked` corners: "Corner 2 of 4: the lower right."
std::string corner_prompt(Place place, std::size_t marked);
// Returns the same for the ends of a length: "End 1 of 2: the one on the shelf."
std::string end_prompt(Place place, std::size_t marked);
// Returns the same for a disc's edge: "Mark at least 2 more points round its edge."
std::string edge_prompt(std::size_t marked);
// Returns the same for the line where shelf and pane meet.
std::string shelf_line_prompt(std::size_t marked);
// Returns the same for further crossings of a tile floor or wall.
std::string crossings_prompt(std::size_t marked);
// Returns "2  Column 5, row -1", to fit a row of the panel.
std::string crossing_words(std::size_t index, GridPlace place);
// Returns the one of the first three that fits the reference; for a neighbour, what to mark of it.
// A reference without a place yet has its corners in the order of an upright one.
std::string reference_prompt(const ProjectReference& reference);

// Returns "Its corners lie on its edges now, to 0.3 px." once they were set onto them.
std::string refined_words(const ProjectReference& reference);

// Returns its size in `unit`: "120 × 80 mm", "ø 23.25 mm", "4.72 × 3.15 in", "3 × 2 of 100 mm",
// "height 214 mm"; "size not given".
std::string reference_size_text(const ProjectReference& reference, LengthUnit unit);
// Returns its name and size: "Bank or identity card, 85.6 × 53.98 mm"; where it is no common
// object, the name of its kind, "Rectangle, ..."; "Guess, ..." for a guess.
std::string reference_title(const ProjectReference& reference, LengthUnit unit);
// Returns what the list says below its name: "120 × 80 mm, standing, complete"; where it lacks
// something, the first of that in place of "complete": "2 corners missing".
std::string reference_summary(const ProjectReference& reference, LengthUnit unit);

// Returns what it lacks to be used, each as one order that names the field to fill in, the most
// pressing first; empty where it can be used. The same demands as those of measure_project, and of
// the estimate on a neighbour's marks.
std::vector<std::string> reference_missing(const ProjectReference& reference);

}  // namespace potshadow
