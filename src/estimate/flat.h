// SPDX-License-Identifier: MIT
// Flat references that are known by points: rectangles, lengths and grids, alike to the solver.
#pragma once

#include <cstddef>
#include <vector>

#include "estimate/input.h"
#include "estimate/state.h"

// Internal to `estimate`. Each such reference is two lengths (kWidthMm, kHeightMm of its block) and
// marks at whole or half multiples of them, from its lower left corner, or from its centre where it
// is beside the vessel. A length is one of the two: the width where it lies, is on the glass or
// beside; the height where it stands or leans. A grid's two lengths are one, its pitch.
namespace potshadow::internal {

enum class FlatKind { kRectangle, kLength, kGrid };

struct FlatPoint {
  PhotoPoint at;
  double across = 0.0;  // widths from the left
  double up = 0.0;      // heights from below
};

// A reference of one of the three kinds.
struct Flat {
  FlatKind kind = FlatKind::kRectangle;
  FlatReference seat;
  double width_mm = 0.0;   // 0 where it has none
  double height_mm = 0.0;  // likewise; of a grid 0
  double size_sd_mm = 0.0;
  double marks_sd_px = 1.0;
  std::vector<FlatPoint> points;
  const char* point_word = "corner";  // what a potter calls one

  bool square() const { return kind == FlatKind::kGrid; }
};

// Returns the standard uncertainty of a reference's marks, as stated.
double marks_sd_px(const PhotoInput& photo, const FlatReference& seat);

// Returns the photograph's rectangles, lengths and grids, in that order.
std::vector<Flat> flats_of(const PhotoInput& photo);

// Whether a reference is seen through the pane, where there is one.
inline bool is_behind_glass(const FlatReference& seat) {
  return seat.place != Place::kOnGlass || seat.behind_glass;
}

// Returns where a point of a flat reference is, in the vessel frame.
template <class T>
Vector3<T> flat_point(Place place, bool square, const T* reference, const T* pane, const T* tilt,
                      double across, double up) {
  const T u = across * reference[kWidthMm];
  const T v = up * reference[square ? kWidthMm : kHeightMm];
  return reference_point(place, reference, pane, tilt, u, v);
}

// The mean and standard uncertainty of how a reference is tied to the vessel, and whether anything
// says so beforehand (a marked seam alone does not).
struct Offset {
  double mean_mm = 0.0;
  double sd_mm = 0.0;
  bool given = true;
};
Offset offset_of(const FlatReference& seat);

// Which entries of a flat reference's block are held, for want of meaning or of doubt.
std::vector<int> fixed_entries(const Flat& flat);

// The line where shelf and pane meet, marked for a reference on the glass.
struct Seam {
  FlatReference seat;
  bool of_disc = false;
  std::size_t index = 0;  // among the flats, or the discs
};

// Returns the photograph's marked lines: those of its flats, then those of its discs.
std::vector<Seam> seams_of(const PhotoInput& photo);

// Returns a point of that line, in the vessel frame: `along_mm` on the pane, `drop_mm` below the
// vessel's shelf. The shelf meets the pane's inner face.
template <class T>
Vector3<T> seam_point(bool on_inner_face, const T* reference, const T* pane, const T* tilt,
                      const T& along_mm, const T& drop_mm) {
  const Vector3<T> normal = pane_normal(pane);
  const Vector3<T> along(normal.y(), -normal.x(), T(0.0));
  T to_axis = reference[kOffsetMm];
  if (!on_inner_face) to_axis -= pane[kPaneThicknessMm];
  Vector3<T> on_shelf = along * along_mm - normal * to_axis;
  on_shelf.z() = -drop_mm;
  return turned_by(tilt, on_shelf);
}

}  // namespace potshadow::internal
