// SPDX-License-Identifier: MIT
#include "outline/mirrored.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "outline/edge_maps.h"
#include "outline/half_outline.h"

namespace potshadow {
namespace {

// A box drawn by hand has the axis this near its middle, a part of its width; and a camera held by
// hand leans by so much.
constexpr double kOffMiddle = 0.10;
constexpr double kMostLeanDeg = 12.0;
// The box is looked at with so much more of it around.
constexpr double kAround = 0.03;  // of its height, above and below
constexpr double kWider = 1.12;   // its half width
constexpr std::size_t kLeastPath = 16;
// Axes whose outlines are compared.
constexpr std::size_t kMostAxes = 4;

struct Lean {
  double off = 0.0;  // of the axis from the box's middle, at its height
  double lean_rad = 0.0;
  double score = 0.0;
};

MirrorImage image_of(const Lean& axis, cv::Point2d box_middle, cv::Point2d middle, double focal) {
  return {{box_middle.x + axis.off, box_middle.y}, axis.lean_rad, middle, focal};
}

// Axes in whose mirror the most of the clear edges lie on others; the best ones, apart.
std::vector<Lean> likely_axes(const EdgeMaps& maps, const cv::Rect2d& box, cv::Point2d middle,
                              double focal) {
  constexpr double kStepDeg = 1.0;
  constexpr double kStepPx = 2.0;
  constexpr double kApartDeg = 1.5;
  constexpr double kApartPx = 4.0;
  constexpr float kClear = 0.5F;
  constexpr std::size_t kMostEdges = 2500;
  std::vector<cv::Point2d> edges;
  const cv::Rect inside = cv::Rect(box) & cv::Rect(cv::Point(0, 0), maps.x.size());
  for (int row = inside.y; row < inside.y + inside.height; ++row) {
    for (int column = inside.x; column < inside.x + inside.width; ++column) {
      const cv::Point2d p(column, row);
      if (cv::norm(maps.at(p)) > kClear) edges.push_back(p);
    }
  }
  const std::size_t every = 1 + edges.size() / kMostEdges;
  const cv::Point2d box_middle(box.x + box.width / 2.0, box.y + box.height / 2.0);
  std::vector<Lean> all;
  for (double degrees = -kMostLeanDeg; degrees <= kMostLeanDeg + 1e-9; degrees += kStepDeg) {
    for (double off = -kOffMiddle * box.width; off <= kOffMiddle * box.width; off += kStepPx) {
      Lean axis{off, degrees * std::numbers::pi / 180.0, 0.0};
      const MirrorImage image = image_of(axis, box_middle, middle, focal);
      for (std::size_t i = 0; i < edges.size(); i += every) {
        const cv::Point2d uv = image.to_axis(edges[i]);
        if (std::abs(uv.x) < kNearAxisPx) continue;
        const cv::Point2f own = maps.at(edges[i]);
        const cv::Point2f other = maps.at(image.of(edges[i]));
        // The other's direction, mirrored.
        const cv::Point2f right(image.right());
        const cv::Point2f turned = other - 2.F * other.dot(right) * right;
        const double along = own.dot(turned);
        const double across = std::abs(own.cross(turned));
        // Lit from one side both may differ just the other way.
        axis.score += std::max(0.0, std::abs(along) - across) * (along > 0.0 ? 1.0 : 0.5);
      }
      all.push_back(axis);
    }
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Lean& a, const Lean& b) { return a.score > b.score; });
  std::vector<Lean> best;
  for (const Lean& axis : all) {
    const bool known = std::any_of(best.begin(), best.end(), [&](const Lean& other) {
      return std::abs(axis.lean_rad - other.lean_rad) * 180.0 / std::numbers::pi < kApartDeg &&
             std::abs(axis.off - other.off) < kApartPx;
    });
    if (!known) best.push_back(axis);
    if (best.size() == kMostAxes) break;
  }
  return best;
}

}  // namespace

Mirrored mirror_outline(VesselMask& mask, cv::Point2d middle, double focal) {
  Mirrored result;
  const cv::Rect2d& box = mask.box;
  // Room on both sides of the box shows that the picture does not cut it.
  if (box.x < 3.0 || box.x + box.width > mask.bgr.cols - 3.0) return result;
  const EdgeMaps maps = edge_maps(mask.bgr, box);
  const cv::Point2d box_middle(box.x + box.width / 2.0, box.y + box.height / 2.0);
  const double top = -(0.5 + kAround) * box.height;
  const cv::Size size(static_cast<int>(kWider * box.width / 2.0) + 1,
                      static_cast<int>(-2.0 * top) + 1);
  HalfOutline best;
  Lean best_axis;
  const auto look = [&](const Lean& axis) {
    const MirrorImage image = image_of(axis, box_middle, middle, focal);
    HalfOutline found = half_outline(mask, maps, image, top, size);
    if (found.cost >= best.cost) return;
    best = std::move(found);
    best_axis = axis;
  };
  for (const Lean& axis : likely_axes(maps, box, middle, focal)) look(axis);
  // Finer about the best one.
  constexpr double kFinerRad = 0.4 * std::numbers::pi / 180.0;
  for (const double turn : {-kFinerRad, kFinerRad}) {
    look({best_axis.off, best_axis.lean_rad + turn, 0.0});
  }
  for (const double move : {-1.0, 1.0}) look({best_axis.off + move, best_axis.lean_rad, 0.0});
  if (best.path.size() < kLeastPath) return result;
  const MirrorImage image = image_of(best_axis, box_middle, middle, focal);
  std::vector<cv::Point> polygon;
  const auto whole = [](cv::Point2d p) {
    return cv::Point(static_cast<int>(std::lround(p.x)), static_cast<int>(std::lround(p.y)));
  };
  for (const cv::Point& p : best.path)
    polygon.push_back(whole(image.from_axis({p.x * 1.0, top + p.y})));
  for (auto p = best.path.rbegin(); p != best.path.rend(); ++p) {
    polygon.push_back(whole(image.of(image.from_axis({p->x * 1.0, top + p->y}))));
  }
  cv::Mat outline = cv::Mat::zeros(mask.bgr.size(), CV_8U);
  cv::fillPoly(outline, std::vector{polygon}, cv::Scalar(255));
  mask.inside = outline;
  result.found = true;
  result.support = best.support;
  return result;
}

}  // namespace potshadow
