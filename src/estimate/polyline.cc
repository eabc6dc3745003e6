// SPDX-License-Identifier: MIT
#include "estimate/polyline.h"

#include <algorithm>
#include <utility>

namespace potshadow::internal {

Polyline::Polyline(std::vector<CurveCandidate> points, bool only_seen)
    : points_(std::move(points)), only_seen_(only_seen) {
  for (std::size_t i = 0; i + 1 < points_.size(); ++i) {
    if (i % kRun == 0) boxes_.emplace_back();
    if (left_out(i)) continue;
    boxes_.back().extend(points_[i].image);
    boxes_.back().extend(points_[i + 1].image);
  }
}

bool Polyline::nearer(const Eigen::Vector2d& pixel, Nearest& best) const {
  const double before = best.distance;
  std::size_t likely = 0;
  double least = best.distance;
  for (std::size_t run = 0; run < boxes_.size(); ++run) {
    const double distance = boxes_[run].squaredExteriorDistance(pixel);
    if (!(distance < least)) continue;
    least = distance;
    likely = run;
  }
  if (!(least < best.distance)) return false;
  search(likely, pixel, best);
  for (std::size_t run = 0; run < boxes_.size(); ++run) {
    if (run != likely && boxes_[run].squaredExteriorDistance(pixel) < best.distance) {
      search(run, pixel, best);
    }
  }
  return best.distance < before;
}

bool Polyline::left_out(std::size_t i) const {
  return only_seen_ && !(points_[i].seen && points_[i + 1].seen);
}

void Polyline::search(std::size_t run, const Eigen::Vector2d& pixel, Nearest& best) const {
  const std::size_t end = std::min((run + 1) * kRun, points_.size() - 1);
  for (std::size_t i = run * kRun; i < end; ++i) {
    if (left_out(i)) continue;
    const Eigen::Vector2d step = points_[i + 1].image - points_[i].image;
    const double length = step.squaredNorm();
    const double t =
        length > 0.0 ? std::clamp((pixel - points_[i].image).dot(step) / length, 0.0, 1.0) : 0.0;
    const double distance = (points_[i].image + t * step - pixel).squaredNorm();
    if (distance < best.distance) {
      best = {distance, points_[i].at + t * (points_[i + 1].at - points_[i].at)};
    }
  }
}

}  // namespace potshadow::internal
