// SPDX-License-Identifier: MIT
#include "desktop/canvas/block_lines.h"

#include <cmath>
#include <cstddef>

namespace potshadow {
namespace {

double cross(PhotoPoint a, PhotoPoint b, PhotoPoint c) {
  return (b.x_px - a.x_px) * (c.y_px - a.y_px) - (b.y_px - a.y_px) * (c.x_px - a.x_px);
}

bool is_convex(std::span<const PhotoPoint> corners) {
  double sign = 0.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const double turn = cross(corners[i], corners[(i + 1) % 4], corners[(i + 2) % 4]);
    if (turn == 0.0 || turn * sign < 0.0) return false;
    sign = turn;
  }
  return true;
}

// The way from the unit square to the quadrilateral, (0, 0) to its first corner, u to the second.
class Square {
 public:
  explicit Square(std::span<const PhotoPoint> p) : origin_(p[0]) {
    const PhotoPoint one{p[1].x_px - p[2].x_px, p[1].y_px - p[2].y_px};
    const PhotoPoint two{p[3].x_px - p[2].x_px, p[3].y_px - p[2].y_px};
    const PhotoPoint sum{p[0].x_px - p[1].x_px + p[2].x_px - p[3].x_px,
                         p[0].y_px - p[1].y_px + p[2].y_px - p[3].y_px};
    const double whole = one.x_px * two.y_px - two.x_px * one.y_px;
    g_ = (sum.x_px * two.y_px - two.x_px * sum.y_px) / whole;
    h_ = (one.x_px * sum.y_px - sum.x_px * one.y_px) / whole;
    along_u_ = {p[1].x_px - p[0].x_px + g_ * p[1].x_px, p[1].y_px - p[0].y_px + g_ * p[1].y_px};
    along_v_ = {p[3].x_px - p[0].x_px + h_ * p[3].x_px, p[3].y_px - p[0].y_px + h_ * p[3].y_px};
  }
  // 1 in the first corner, more farther in; not above 0 where the camera cannot see.
  double depth(double u, double v) const { return g_ * u + h_ * v + 1.0; }
  // Where a point lies in the square's own lengths; no numbers where it lies on the horizon.
  std::array<double, 2> back(PhotoPoint p) const {
    const double a = along_u_.x_px - g_ * p.x_px;
    const double b = along_v_.x_px - h_ * p.x_px;
    const double c = along_u_.y_px - g_ * p.y_px;
    const double d = along_v_.y_px - h_ * p.y_px;
    const double x = p.x_px - origin_.x_px;
    const double y = p.y_px - origin_.y_px;
    const double whole = a * d - b * c;
    return {(x * d - b * y) / whole, (a * y - x * c) / whole};
  }
  PhotoPoint at(double u, double v) const {
    const double w = depth(u, v);
    return {(along_u_.x_px * u + along_v_.x_px * v + origin_.x_px) / w,
            (along_u_.y_px * u + along_v_.y_px * v + origin_.y_px) / w};
  }

 private:
  PhotoPoint origin_;
  PhotoPoint along_u_;
  PhotoPoint along_v_;
  double g_ = 0.0;
  double h_ = 0.0;
};

}  // namespace

std::vector<std::array<PhotoPoint, 2>> block_lines(std::span<const PhotoPoint> corners, int columns,
                                                   int rows) {
  std::vector<std::array<PhotoPoint, 2>> lines;
  if (corners.size() != 4 || !is_convex(corners) || columns > kMostTiles || rows > kMostTiles) {
    return lines;
  }
  const Square square(corners);
  for (int i = 1; i < columns; ++i) {
    const double u = static_cast<double>(i) / columns;
    lines.push_back({square.at(u, 0.0), square.at(u, 1.0)});
  }
  for (int i = 1; i < rows; ++i) {
    const double v = static_cast<double>(i) / rows;
    lines.push_back({square.at(0.0, v), square.at(1.0, v)});
  }
  return lines;
}

std::optional<PhotoPoint> crossing_at(std::span<const PhotoPoint> corners, int columns, int rows,
                                      GridPlace place) {
  if (corners.size() != 4 || !is_convex(corners)) return std::nullopt;
  const Square square(corners);
  const double u = static_cast<double>(place.column) / columns;
  const double v = static_cast<double>(place.row) / rows;
  if (!(square.depth(u, v) > 0.0)) return std::nullopt;
  return square.at(u, v);
}

std::optional<GridPlace> crossing_near(std::span<const PhotoPoint> corners, int columns, int rows,
                                       PhotoPoint at) {
  if (corners.size() != 4 || !is_convex(corners)) return std::nullopt;
  const Square square(corners);
  const auto [u, v] = square.back(at);
  const double column = std::round(u * columns);
  const double row = std::round(v * rows);
  // Written so that what is not a number fails.
  const bool countable =
      std::abs(column) <= kFarthestCrossing && std::abs(row) <= kFarthestCrossing;
  if (!countable || !(square.depth(u, v) > 0.0)) return std::nullopt;
  return GridPlace{static_cast<int>(column), static_cast<int>(row)};
}

}  // namespace potshadow
