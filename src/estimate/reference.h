// SPDX-License-Identifier: MIT
// What says how big things are: things of known size, known sizes, a measured distance.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "core/units.h"
#include "estimate/marks.h"
#include "estimate/size_name.h"

// Lengths in millimetres. Every `_sd` is a standard uncertainty.
namespace potshadow {

// Where a reference is in relation to the vessel.
enum class Place {
  kLying,     // flat on the shelf: in its plane
  kStanding,  // upright on the shelf: lower edge in the shelf's plane
  kLeaning,   // lower edge on the shelf, leaning by an unknown angle
  kOnGlass,   // flat on the pane
  kBeside     // upright at any height, its centre as far away as the vessel's axis
};

// How a reference is tied to the vessel; what all kinds but a neighbour have in common.
struct FlatReference {
  std::size_t number = 0;  // what MarkPlace and the overlay call it
  Place place = Place::kLying;
  bool behind_glass = true;  // on-glass: true on the inner face, false on the outer
  // Standard uncertainty of its marks, where it is not that of the photograph's: each corner, end,
  // crossing or point of the edge, but not of `shelf_at_glass`.
  std::optional<double> marks_sd_px{};
  // The vessel stands on a riser this high, the reference on the shelf below it. Negative where the
  // reference is the higher of the two, on a box or a step.
  double riser_mm = 0.0;
  double riser_sd_mm = 0.0;
  // On the glass only: from the face that carries the reference to the vessel's axis. May be left
  // out (0) where `shelf_at_glass` is marked.
  double glass_to_axis_mm = 0.0;
  double glass_to_axis_sd_mm = 0.0;
  // On the glass only: two marks on the line where the shelf meets the pane. That shelf is the
  // riser's height below the vessel's.
  std::optional<std::array<PhotoPoint, 2>> shelf_at_glass{};
  // Beside only: how much farther from the camera than the axis its centre is.
  double depth_offset_mm = 0.0;
  double depth_offset_sd_mm = 0.0;
};

struct RectangleReference : FlatReference {
  double width_mm = 0.0;
  double height_mm = 0.0;
  double size_sd_mm = 0.3;  // of width and of height, each
  // Lower left, lower right, upper right, upper left as the face is seen; lying: near left, near
  // right, far right, far left. For standing and leaning the first two are on the shelf.
  std::array<PhotoPoint, 4> corners{};
};

// A coin or another flat disc.
struct DiscReference : FlatReference {
  double diameter_mm = 0.0;
  double size_sd_mm = 0.1;
  std::vector<PhotoPoint> edge;  // at least five, anywhere round it
};

// Two points a known length apart. Lying: both on the shelf, in any direction. Standing: the first
// on the shelf, the second upright above it. Leaning: likewise, not upright. On the glass: in any
// direction. Beside: upright, level or aslant, square to the view.
struct LengthReference : FlatReference {
  double length_mm = 0.0;
  double size_sd_mm = 0.3;
  std::array<PhotoPoint, 2> ends{};
};

// A tiled floor or wall, or another grid of equal squares.
struct GridReference : FlatReference {
  double pitch_mm = 0.0;    // from one line to the next, joint included
  double size_sd_mm = 0.3;  // of the pitch
  struct Crossing {
    PhotoPoint at;
    int column = 0;  // counted to the right
    int row = 0;     // counted up, or away from the camera where it lies
  };
  // The first four are the corners of a block, in the order of RectangleReference.
  std::vector<Crossing> crossings;
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

// Another vessel on the same shelf, one of whose sizes is known.
struct NeighbourReference {
  std::size_t number = 0;             // as above
  SizeName name = SizeName::kHeight;  // the height, the maximum or the rim diameter
  double value_mm = 0.0;
  double sd_mm = 0.0;     // 0 for exact
  double riser_mm = 0.0;  // as for a FlatReference
  double riser_sd_mm = 0.0;
  bool round_base = false;
  Marks marks;  // its own; as precise as `sd_px` here says
};

}  // namespace potshadow
