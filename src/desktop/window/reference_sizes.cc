// SPDX-License-Identifier: MIT
#include <string>
#include <utility>
#include <vector>

#include "desktop/window/kit.h"
#include "desktop/window/number_fields.h"
#include "desktop/window/reference_editor.h"
#include "estimate/size_name.h"

namespace potshadow {
namespace {

constexpr double kFarthestMm = 100000.0;  // nobody photographs a pot from farther away
constexpr int kMostCells = 1000;          // of a block of tiles; more could not be counted

}  // namespace

void ReferenceEditor::size() {
  const std::string& kind = value_.kind;
  const bool wanting = kind == "disc"     ? !value_.diameter_mm
                       : kind == "length" ? !value_.length_mm
                       : kind == "grid"   ? !value_.pitch_mm
                                          : !value_.width_mm || !value_.height_mm;
  if (!kit::fold(frame_, std::string(kSizeFold) + std::to_string(index_), wanting)) return;
  const auto old = value_;
  if (kind == "disc") {
    take(length_field(frame_,
                      {.label = std::string(reference_field::kDiameter), .mm = value_.diameter_mm}),
         value_.diameter_mm);
  } else if (kind == "length") {
    take(length_field(frame_, {.label = std::string(reference_field::kLength),
                               .mm = value_.length_mm,
                               .tooltip = "Straight from its end 1 to its end 2."}),
         value_.length_mm);
  } else if (kind == "grid") {
    take(length_field(frame_,
                      {.label = std::string(reference_field::kPitch),
                       .mm = value_.pitch_mm,
                       .tooltip = "One tile with one joint. Measure over several tiles and divide "
                                  "by their number."}),
         value_.pitch_mm);
    take(count_field(frame_, {.label = "Tiles across",
                              .value = value_.columns,
                              .tooltip = "Whole tiles of the block from corner 1 to corner 2.",
                              .most = kMostCells}),
         value_.columns);
    take(
        count_field(frame_, {.label = where() == Place::kLying ? "Tiles away from you" : "Tiles up",
                             .value = value_.rows,
                             .tooltip = "Whole tiles of the block from corner 2 to corner 3.",
                             .most = kMostCells}),
        value_.rows);
  } else {
    take(length_field(frame_, {.label = std::string(reference_field::kWidth),
                               .mm = value_.width_mm,
                               .tooltip = "From its corner 1 to its corner 2."}),
         value_.width_mm);
    take(length_field(frame_, {.label = std::string(reference_field::kHeight),
                               .mm = value_.height_mm,
                               .tooltip = "From its corner 2 to its corner 3."}),
         value_.height_mm);
  }
  // With another size it is no longer the thing from the table.
  if (value_ != old) value_.object.clear();
  take(length_field(frame_,
                    {.label = kind == "grid" ? "Joint to joint within ±" : "Size usually within ±",
                     .mm = value_.size_sd_mm,
                     .tooltip = kUsually,
                     .least_allowed = true}),
       value_.size_sd_mm);
  if (kind != "rectangle" || !value_.width_mm || !value_.height_mm) return;
  if (kit::link(frame_, "Swap width and height", "For a card that is set upright on its end.")) {
    std::swap(value_.width_mm, value_.height_mm);
    changed_ = true;
  }
}

// A value and how sure it is.
void ReferenceEditor::value_field(const std::string& label, const std::string& tooltip) {
  const bool far = value_.kind == "distance";
  take(length_field(frame_, {.label = label,
                             .mm = value_.value_mm,
                             .tooltip = tooltip,
                             .most_mm = far ? kFarthestMm : kLargestMm}),
       value_.value_mm);
  const double usual = far ? kDefaultDistanceSdMm : kDefaultKnownSizeSdMm;
  take(length_field_or_none(frame_, {.label = "Usually within ±",
                                     .mm = value_.sd_mm.value_or(usual),
                                     .tooltip = kUsually,
                                     .least_allowed = true}),
       value_.sd_mm);
}

// One size of the vessel itself, or of its neighbour.
void ReferenceEditor::known_size() {
  const std::vector<SizeName> names = knowable_sizes(is_neighbour());
  std::vector<std::string> entries;
  std::size_t chosen = names.size();
  for (std::size_t i = 0; i < names.size(); ++i) {
    entries.emplace_back(size_words(names[i]));
    if (size_key(names[i]) == value_.size) chosen = i;
  }
  const auto picked = kit::list(
      frame_, std::string(reference_field::kWhichSize), entries, chosen,
      is_neighbour() ? "Which size of that vessel is known." : "Which size of your pot is known.");
  if (picked && *picked != chosen) {
    value_.size = size_key(names[*picked]);
    changed_ = true;
  }
  value_field(std::string(reference_field::kValue),
              "As the label or the catalogue gives it. Most round to the centimetre, which "
              "is what ± 2.9 mm stands for.");
  if (is_neighbour()) return;
  if (kit::check(frame_, "A guess", value_.guess,
                 "No label says so, but you would bet on it. Everything that comes of it is marked "
                 "as a guess.")) {
    changed_ = true;
  }
}

void ReferenceEditor::distance() {
  value_field(std::string(reference_field::kDistance),
              "From the front of the lens to the middle of the pot, at half its height.");
}

}  // namespace potshadow
