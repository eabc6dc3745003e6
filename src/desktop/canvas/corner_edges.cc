// SPDX-License-Identifier: MIT
#include "desktop/canvas/corner_edges.h"

#include <cmath>

namespace potshadow {
namespace {

double cross(PhotoPoint a, PhotoPoint b, PhotoPoint c) {
  return (b.x_px - a.x_px) * (c.y_px - a.y_px) - (b.y_px - a.y_px) * (c.x_px - a.x_px);
}

// Where the line through a and b meets that through c and d; nothing where they are nearly
// parallel.
std::optional<PhotoPoint> meeting(PhotoPoint a, PhotoPoint b, PhotoPoint c, PhotoPoint d) {
  const PhotoPoint u{b.x_px - a.x_px, b.y_px - a.y_px};
  const PhotoPoint v{d.x_px - c.x_px, d.y_px - c.y_px};
  const double turn = u.x_px * v.y_px - u.y_px * v.x_px;
  constexpr double kLeastAngle = 0.02;  // sine of the angle between them
  const double lengths = std::hypot(u.x_px, u.y_px) * std::hypot(v.x_px, v.y_px);
  if (!(std::abs(turn) > kLeastAngle * lengths)) return std::nullopt;
  const double along = ((c.x_px - a.x_px) * v.y_px - (c.y_px - a.y_px) * v.x_px) / turn;
  return PhotoPoint{a.x_px + along * u.x_px, a.y_px + along * u.y_px};
}

}  // namespace

std::optional<std::array<PhotoPoint, 4>> corners_of_edges(std::span<const PhotoPoint> points) {
  if (points.size() != 8) return std::nullopt;
  std::array<PhotoPoint, 4> corners;
  for (std::size_t i = 0; i < 4; ++i) {
    // Corner i lies between the edge before it and edge i; the lower left between left and lower.
    const std::size_t before = 2 * ((i + 3) % 4);
    const auto corner =
        meeting(points[before], points[before + 1], points[2 * i], points[2 * i + 1]);
    if (!corner) return std::nullopt;
    corners[i] = *corner;
  }
  // All corners turn the same way: convex, and not crossed.
  double sign = 0.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const double turn = cross(corners[i], corners[(i + 1) % 4], corners[(i + 2) % 4]);
    if (turn == 0.0 || turn * sign < 0.0) return std::nullopt;
    sign = turn;
  }
  return corners;
}

}  // namespace potshadow
