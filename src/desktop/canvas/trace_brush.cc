// SPDX-License-Identifier: MIT
#include "desktop/canvas/trace_brush.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace potshadow {
namespace {

constexpr std::size_t kMostPoints = 2000;  // the project file takes 20,000
constexpr double kSpacing = 0.25;          // of the brush's width

double distance(PhotoPoint a, PhotoPoint b) { return std::hypot(a.x_px - b.x_px, a.y_px - b.y_px); }

double distance_from_piece(PhotoPoint from, PhotoPoint to, PhotoPoint point) {
  const double dx = to.x_px - from.x_px;
  const double dy = to.y_px - from.y_px;
  const double squared = dx * dx + dy * dy;
  if (!(squared > 0.0)) return distance(from, point);
  const double along = ((point.x_px - from.x_px) * dx + (point.y_px - from.y_px) * dy) / squared;
  const double t = std::clamp(along, 0.0, 1.0);
  return distance({from.x_px + t * dx, from.y_px + t * dy}, point);
}

}  // namespace

double distance_from(const std::vector<PhotoPoint>& line, PhotoPoint point) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < line.size(); ++i) {
    nearest = std::min(nearest, distance_from_piece(line[i == 0 ? 0 : i - 1], line[i], point));
  }
  return nearest;
}

void extend_stroke(std::vector<PhotoPoint>& points, PhotoPoint at, double width_px) {
  if (points.size() >= kMostPoints) return;
  if (!points.empty() && distance(points.back(), at) < kSpacing * width_px) return;
  points.push_back(at);
}

ProjectTrace rubbed_out(ProjectTrace trace, const std::vector<PhotoPoint>& stroke,
                        double width_px) {
  for (auto* marks : {&trace.rim, &trace.base, &trace.left, &trace.right}) {
    std::erase_if(*marks, [&](const TracedPoint& mark) {
      return distance_from(stroke, mark.at) <= width_px / 2.0;
    });
  }
  return trace;
}

std::optional<std::size_t> doubtful_near(const ProjectTrace& trace, PhotoPoint at,
                                         double reach_px) {
  std::optional<std::size_t> found;
  double nearest = reach_px;
  for (std::size_t i = 0; i < trace.doubtful.size(); ++i) {
    const double away = distance_from(trace.doubtful[i].points, at);
    if (!(away <= nearest)) continue;
    nearest = away;
    found = i;
  }
  return found;
}

}  // namespace potshadow
