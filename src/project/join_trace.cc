// SPDX-License-Identifier: MIT
#include "project/join_trace.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace potshadow {
namespace {

double distance(const PhotoPoint& a, const PhotoPoint& b) {
  return std::hypot(a.x_px - b.x_px, a.y_px - b.y_px);
}

void join_edge(const std::vector<PhotoPoint>& by_hand, const std::vector<TracedPoint>& traced,
               double reach_px, std::vector<PhotoPoint>& marks, std::vector<double>& own_sd_px) {
  marks = by_hand;
  if (traced.empty()) return;
  own_sd_px.assign(by_hand.size(), 0.0);
  for (const TracedPoint& point : traced) {
    const bool overruled = std::any_of(by_hand.begin(), by_hand.end(), [&](const PhotoPoint& mark) {
      return distance(mark, point.at) < reach_px;
    });
    if (overruled) continue;
    marks.push_back(point.at);
    own_sd_px.push_back(point.sd_px);
  }
}

}  // namespace

Marks joined_marks(const ProjectPhoto& photo) {
  const ProjectTrace trace = photo.trace.value_or(ProjectTrace());
  const double reach_px = kOverruleReach * distance(trace.box[0], trace.box[1]);
  Marks joined;
  joined.sd_px = photo.marks.sd_px;
  join_edge(photo.marks.rim, trace.rim, reach_px, joined.rim, joined.rim_sd_px);
  join_edge(photo.marks.base, trace.base, reach_px, joined.base, joined.base_sd_px);
  join_edge(photo.marks.left, trace.left, reach_px, joined.left, joined.left_sd_px);
  join_edge(photo.marks.right, trace.right, reach_px, joined.right, joined.right_sd_px);
  return joined;
}

bool has_marks(const ProjectPhoto& photo) {
  const Marks marks = joined_marks(photo);
  return !(marks.rim.empty() && marks.base.empty() && marks.left.empty() && marks.right.empty());
}

}  // namespace potshadow
