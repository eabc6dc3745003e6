// SPDX-License-Identifier: MIT
// A flat disc as a reference: where its edge is, and which place of it each mark belongs to.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "estimate/flat.h"
#include "estimate/state.h"

// Internal to `estimate`. A disc has a block like a rectangle's. Along and across are its centre,
// or its lowest point where it stands or leans on the shelf; kWidthMm is its diameter, kHeightMm is
// not used; it has a turn only where it stands, leans or is beside the vessel. A mark on its edge
// belongs to the nearest point of the edge's picture, as marks on the rim do (see matching.h).
namespace potshadow::internal {

// Returns whether a disc rests on the shelf with its lowest point.
inline bool stands_on_edge(Place place) {
  return place == Place::kStanding || place == Place::kLeaning;
}

// Returns the point of the edge at an angle, in the vessel frame: from the face's right,
// anticlockwise as the face is seen.
template <class T>
Vector3<T> disc_point(Place place, const T* reference, const T* pane, const T* tilt,
                      double angle_rad) {
  const T radius = reference[kWidthMm] / T(2.0);
  const T u = radius * std::cos(angle_rad);
  T v = radius * std::sin(angle_rad);
  if (stands_on_edge(place)) v += radius;
  return reference_point(place, reference, pane, tilt, u, v);
}

// How far back things lean: label stands do some way; wide enough to leave it to the picture.
inline constexpr double kLeanMeanRad = 20.0 * std::numbers::pi / 180.0;
inline constexpr double kLeanSdRad = 30.0 * std::numbers::pi / 180.0;

// A circle looks the same in two positions, one the other's mirror image in the sight line. Where
// the disc lies, stands or is on the glass only one of them can be; where it leans both can, and
// they put the shelf at two depths. The two together, weighed by how far they lean, count as a
// doubt about the offset: its mean moves by `shift_mm`, its variance grows by `sd_mm` squared.
struct LeanDoubt {
  double shift_mm = 0.0;
  double sd_mm = 0.0;
};

// Returns the doubt about disc `d`; none where it does not lean.
LeanDoubt lean_doubt(const View& view, const DiscReference& disc, std::size_t d);

// Returns which entries of a disc's block are held, for want of meaning or of doubt.
std::vector<int> fixed_entries(const DiscReference& disc, const Offset& offset);

struct EdgeMatch {
  double angle_rad = 0.0;
  Eigen::Vector2d normal = Eigen::Vector2d::UnitX();  // across the edge, in the picture
};

// Returns the pixel of a point of the edge of disc `d`.
Eigen::Vector2d edge_image(const Setting& setting, const View& view, const DiscReference& disc,
                           std::size_t d, double angle_rad);

// Returns one match for each edge mark of disc `d`.
std::vector<EdgeMatch> match_edge(const Setting& setting, const View& view,
                                  const DiscReference& disc, std::size_t d);

}  // namespace potshadow::internal
