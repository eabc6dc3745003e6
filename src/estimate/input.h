// SPDX-License-Identifier: MIT
// What the estimate starts from: a photograph's marks, its references and what is assumed.
#pragma once

#include <array>
#include <compare>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/units.h"
#include "estimate/size_name.h"

// Marks are in pixels of the upright photograph, (0, 0) at the centre of its top-left pixel.
// Lengths in millimetres. Every `_sd` is a standard uncertainty.
namespace potshadow {

// Where a flat reference is in relation to the vessel.
enum class Place {
  kLying,     // flat on the shelf: in its plane
  kStanding,  // upright on the shelf: lower edge in the shelf's plane
  kLeaning,   // lower edge on the shelf, leaning by an unknown angle
  kOnGlass    // flat on the pane
};

struct RectangleReference {
  std::size_t number = 0;  // what MarkPlace and the overlay call it
  double width_mm = 0.0;
  double height_mm = 0.0;
  double size_sd_mm = 0.3;  // of width and of height, each
  Place place = Place::kLying;
  bool behind_glass = true;  // on-glass: true on the inner face, false on the outer
  // The vessel stands on a riser this high, the reference on the shelf below it. Negative where the
  // reference is the higher of the two, on a box or a step.
  double riser_mm = 0.0;
  double riser_sd_mm = 0.0;
  // On the glass only: from the face that carries the reference to the vessel's axis.
  double glass_to_axis_mm = 0.0;
  double glass_to_axis_sd_mm = 0.0;
  // Lower left, lower right, upper right, upper left as the face is seen; lying: near left, near
  // right, far right, far left. For standing and leaning the first two are on the shelf.
  std::array<PhotoPoint, 4> corners{};
};

// A coin or another flat disc. Members as in RectangleReference.
struct DiscReference {
  std::size_t number = 0;
  double diameter_mm = 0.0;
  double size_sd_mm = 0.1;
  Place place = Place::kLying;
  bool behind_glass = true;
  double riser_mm = 0.0;
  double riser_sd_mm = 0.0;
  double glass_to_axis_mm = 0.0;
  double glass_to_axis_sd_mm = 0.0;
  std::vector<PhotoPoint> edge;  // at least five, anywhere round it
};

// A size of the vessel itself that is known beforehand: from a catalogue or a label, or guessed.
struct KnownSize {
  std::size_t number = 0;             // what notes call it, counted with the references
  SizeName name = SizeName::kHeight;  // the height, or one of the diameters
  double value_mm = 0.0;
  double sd_mm = 0.0;  // 0 for exact
  bool guess = false;  // what the potter would bet on
  friend bool operator==(const KnownSize&, const KnownSize&) = default;
};

// A measured distance from the lens to the vessel's axis at half height.
struct KnownDistance {
  std::size_t number = 0;  // as above
  double value_mm = 0.0;
  double sd_mm = 0.0;  // 0 for exact
  friend bool operator==(const KnownDistance&, const KnownDistance&) = default;
};

// What a mark was put on.
enum class MarkKind { kRim, kBase, kLeft, kRight, kReference };

// Which mark it is: the `number`-th of its kind, from 0; of a reference, its corner or edge point.
struct MarkPlace {
  MarkKind kind = MarkKind::kRim;
  std::size_t reference = 0;  // `number` of the reference, where kind is kReference
  std::size_t number = 0;
  friend auto operator<=>(const MarkPlace&, const MarkPlace&) = default;
};

struct Marks {
  std::vector<PhotoPoint> rim;    // outer edge of the lip, anywhere round it
  std::vector<PhotoPoint> base;   // visible front of the foot, where it meets the shelf
  std::vector<PhotoPoint> left;   // outline, left of the axis
  std::vector<PhotoPoint> right;  // outline, right of the axis
  double sd_px = 1.0;             // of each mark, corners included
};

struct GlassPane {
  double thickness_mm = 8.0;
  double thickness_sd_mm = 1.0;
  double index = 1.52;
};

// Focal length as the 35 mm equivalent, by the diagonal of the frame.
struct FocalPrior {
  double focal_35mm = 0.0;
  double sd_percent = 2.0;
};

struct PhotoInput {
  int width_px = 0;   // upright
  int height_px = 0;  // upright
  std::optional<FocalPrior> focal;
  bool cropped = false;  // a cut-out of a larger picture: principal point unknown
  double k1_sd = 0.02;   // lens distortion prior, mean zero
  std::optional<GlassPane> glass;
  std::vector<RectangleReference> references;
  std::vector<DiscReference> discs;
  std::vector<KnownSize> sizes;
  std::vector<KnownDistance> distances;
  Marks marks;
};

struct EstimateInput {
  PhotoInput photo;
  // How far any one diameter may differ from the mean, as a standard uncertainty in percent: 1 for
  // hand-built ware, 0 for a vessel known to be truly round.
  double out_of_round_percent = 1.0;
  bool round_base = false;  // rests on a rounded bottom, without a foot
  double wall_mm = 6.0;     // for the capacity
  double wall_sd_mm = 1.0;
};

}  // namespace potshadow
