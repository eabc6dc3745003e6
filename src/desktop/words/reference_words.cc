// SPDX-License-Identifier: MIT
#include "desktop/words/reference_words.h"

#include <algorithm>

#include "core/typed_number.h"
#include "desktop/words/figure_text.h"
#include "project/reference_table.h"

namespace potshadow {
namespace {

constexpr std::array<std::string_view, kCornerCount> kUpright{"lower left", "lower right",
                                                              "upper right", "upper left"};
constexpr std::array<std::string_view, kCornerCount> kFlat{"near left", "near right", "far right",
                                                           "far left"};

constexpr std::array<PlaceWords, kPlaceCount> kPlaces{
    {{Place::kLying, "lying", "Lying on the shelf",
      "It lies flat on the shelf that the vessel stands on.", kFlat},
     {Place::kStanding, "standing", "Standing upright",
      "It stands upright, its lower edge on the shelf.", kUpright},
     {Place::kLeaning, "leaning", "Leaning back",
      "Its lower edge is on the shelf and it leans back; how far does not matter.", kUpright},
     {Place::kOnGlass, "on-glass", "Flat against the glass",
      "It is held flat against the pane; you also say how far the pane is from the middle of the "
      "vessel.",
      kUpright}}};

bool is_disc(const ProjectReference& reference) { return reference.kind == "disc"; }

// Two places in millimetres hold the sizes of cards as their standards give them.
std::string size_number(double mm, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kCm ? 3 : 2;
  return typed_text(in_unit(Mm{mm}, unit), decimals);
}

bool positive(const std::optional<double>& value) { return value.value_or(0.0) > 0.0; }

}  // namespace

PlaceWords place_words(Place place) { return kPlaces.at(static_cast<std::size_t>(place)); }

std::array<PlaceWords, kPlaceCount> all_places() { return kPlaces; }

std::optional<Place> place_of_key(std::string_view key) {
  for (const PlaceWords& words : kPlaces) {
    if (words.key == key) return words.place;
  }
  return std::nullopt;
}

std::string corner_order(Place place) {
  std::string order;
  const PlaceWords words = place_words(place);
  for (std::size_t i = 0; i < kCornerCount; ++i) {
    order += (i == 0 ? "" : ", ") + std::to_string(i + 1) + " " + std::string(words.corners[i]);
  }
  return order;
}

std::string corner_prompt(Place place, std::size_t marked) {
  if (marked >= kCornerCount) return "All four corners are marked.";
  return "Corner " + std::to_string(marked + 1) + " of 4: the " +
         std::string(place_words(place).corners[marked]) + ".";
}

std::string edge_prompt(std::size_t marked) {
  if (marked >= kLeastEdgeMarks) {
    return std::to_string(marked) + " points marked, which is enough; more make it surer.";
  }
  if (marked == 0) return "Mark at least 5 points round its edge, spread all round it.";
  return "Mark at least " + counted(kLeastEdgeMarks - marked, "more point", "more points") +
         " round its edge.";
}

std::string reference_prompt(const ProjectReference& reference) {
  if (is_disc(reference)) return edge_prompt(reference.edge.size());
  return corner_prompt(place_of_key(reference.place).value_or(Place::kStanding),
                       reference.corners.size());
}

std::string reference_size_text(const ProjectReference& reference, LengthUnit unit) {
  const std::string unit_text = " " + std::string(unit_name(unit));
  if (is_disc(reference)) {
    if (!positive(reference.diameter_mm)) return "size not given";
    return "ø " + size_number(*reference.diameter_mm, unit) + unit_text;
  }
  if (!positive(reference.width_mm) || !positive(reference.height_mm)) return "size not given";
  return size_number(*reference.width_mm, unit) + " × " + size_number(*reference.height_mm, unit) +
         unit_text;
}

std::string reference_title(const ProjectReference& reference, LengthUnit unit) {
  const CommonObject* object =
      reference.object.empty() ? nullptr : find_object(common_objects(), reference.object);
  const std::string name = object != nullptr               ? object->name
                           : is_disc(reference)            ? "Disc"
                           : reference.kind == "rectangle" ? "Rectangle"
                                                           : "Reference of another kind";
  return name + ", " + reference_size_text(reference, unit);
}

std::vector<std::string> reference_missing(const ProjectReference& reference) {
  const bool disc = is_disc(reference);
  if (!disc && reference.kind != "rectangle") {
    return {"Use a flat rectangle or a disc; this kind of reference is kept, but not used yet."};
  }
  std::vector<std::string> missing;
  if (disc && !positive(reference.diameter_mm)) {
    missing.push_back("Type its diameter, or choose it from the common objects.");
  }
  if (!disc && (!positive(reference.width_mm) || !positive(reference.height_mm))) {
    const char* what = positive(reference.width_mm)    ? "height"
                       : positive(reference.height_mm) ? "width"
                                                       : "width and height";
    missing.push_back(std::string("Type its ") + what + ", or choose it from the common objects.");
  }
  const std::optional<Place> place = place_of_key(reference.place);
  if (!place) missing.push_back("Say where it is: on the shelf or on the glass.");
  if (place == Place::kOnGlass && !positive(reference.glass_to_axis_mm)) {
    missing.push_back(
        "Type how far the glass is from the middle of the vessel, and how sure you "
        "are of it.");
  }
  if (disc && reference.edge.size() < kLeastEdgeMarks) {
    missing.push_back(edge_prompt(reference.edge.size()));
  }
  if (!disc && reference.corners.size() != kCornerCount) {
    const std::size_t left = kCornerCount - std::min(reference.corners.size(), kCornerCount);
    missing.push_back(left == kCornerCount ? "Mark its four corners."
                      : left == 0
                          ? "Keep four corners and take the others out."
                          : "Mark " + counted(left, "more corner", "more corners") + " of it.");
  }
  return missing;
}

}  // namespace potshadow
