// SPDX-License-Identifier: MIT
// A neighbouring vessel: a second body of revolution on the vessel's shelf.
#pragma once

#include "estimate/matching.h"
#include "estimate/state.h"

// Internal to `estimate`. The neighbour stands at (beside, behind) on a shelf `below` the vessel's,
// leaning by a little of its own. Its surface, in its own frame, is that of any body; to find which
// point a mark belongs to, the photograph is looked at from the neighbour's frame, turned so that
// the eye is at azimuth -90 degrees there too.
namespace potshadow::internal {

// How a neighbour is seen, and its frame turned back: a point p of that frame is at
// Rz(turn_rad) p in the neighbour's own axes, which run along the shelf's.
struct NeighbourSight {
  Sight sight;
  double turn_rad = 0.0;
};

// Returns how a neighbour is seen. Requires that it does not stand at the eye.
NeighbourSight neighbour_sight(const Setting& setting, const View& view,
                               const NeighbourState& neighbour);

// Returns where a point of the neighbour's own axes is, in the vessel frame.
template <class T>
Vector3<T> beside_vessel(const T* place, const T* tilt, const Vector3<T>& point) {
  const T lean[2] = {place[kLeanX], place[kLeanY]};
  const Vector3<T> upright = turned_by(lean, point);
  const Vector3<T> on_shelf(upright.x() + place[kBesideMm], upright.y() + place[kBehindMm],
                            upright.z() - place[kBelowMm]);
  return turned_by(tilt, on_shelf);
}

// Returns the pixel of a matched point of the neighbour's surface.
template <class T>
Vector2<T> neighbour_image(const Setting& setting, const T* pose, const T* lens, const T* pane,
                           const T* tilt, const T* place, const Match& match, double turn_rad,
                           const T& growth, const T& radius_mm, const T& height_mm) {
  const Vector3<T> turned = grown_point(match, radius_mm, height_mm, growth);
  const double c = std::cos(turn_rad);
  const double s = std::sin(turn_rad);
  const Vector3<T> own(c * turned.x() - s * turned.y(), s * turned.x() + c * turned.y(),
                       turned.z());
  return image_of(setting, pose, lens, pane, beside_vessel(place, tilt, own), true);
}

}  // namespace potshadow::internal
