// SPDX-License-Identifier: MIT
#include "outline/lip.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "outline/edge_path.h"

namespace potshadow {
namespace {

// A flatter ellipse has its front and back, inner and outer edge too near each other.
constexpr double kLeastHalfHeightPx = 8.0;
// The ends, where the front runs into the outline, are left out, in radians.
constexpr double kEndsRad = 0.25;
constexpr double kStepPx = 3.0;
// What a back mark is off one ellipse by: noise, and an uneven lip.
constexpr double kBackSdPx = 0.5;
constexpr double kReachSd = 3.0;
// Where the front could be anywhere within so much of the ellipse's half height it is not looked
// for.
constexpr double kMostReachPart = 0.3;
constexpr double kReachAlwaysPx = 8.0;
// How far about a scanned front its edge may lie: a lip's two edges are as far from each other.
constexpr double kScannedSdPx = 5.0;
constexpr double kScannedReachPx = 10.0;
// A front mark lies on the common ellipse within this, and so many of them must.
constexpr double kOnEllipsePx = 1.5;
constexpr double kLeastFound = 0.4;
// The common ellipse must not spoil the back's own fit.
constexpr double kSpoilt = 1.5;
constexpr double kSpoiltPx = 0.3;

double rms_of(const Arc& arc, const std::vector<cv::Point2d>& points) {
  double squares = 0.0;
  for (const cv::Point2d& p : points) squares += std::pow(arc.distance(p), 2);
  return std::sqrt(squares / static_cast<double>(std::max<std::size_t>(1, points.size())));
}

bool good(const EdgeNode& node) { return node.doubt == nullptr && !node.left_out; }

// The front of an ellipse from left to right, and the angle of each of its places.
SearchLine front_of(const Axis& axis, const Arc& arc, std::vector<double>& angles) {
  const auto steps = static_cast<int>(std::ceil(std::numbers::pi * arc.a / kStepPx));
  std::vector<cv::Point2d> points;
  for (int i = 0; i <= steps; ++i) {
    angles.push_back(std::numbers::pi + kEndsRad +
                     (std::numbers::pi - 2.0 * kEndsRad) * static_cast<double>(i) / steps);
    points.push_back(axis.from_axis(arc.place(angles.back())));
  }
  SearchLine line = line_through(points, false, 0.0);
  const cv::Point2d centre = axis.from_axis({arc.u0, arc.v0});
  if (line.outward[line.at.size() / 2].dot(line.at[line.at.size() / 2] - centre) < 0.0) {
    for (cv::Point2d& normal : line.outward) normal *= -1.0;
  }
  line.parts = false;
  return line;
}

// The front where the back says it is; nothing where the back does not say it well.
std::optional<SearchLine> front_line(const Axis& axis, const Arc& arc,
                                     const std::vector<cv::Point2d>& back_uv) {
  std::vector<double> angles;
  SearchLine line = front_of(axis, arc, angles);
  for (const double sd : arc_deviations(arc, back_uv, kBackSdPx, angles)) {
    const double known = sd + kBackSdPx;
    line.expected_px.push_back(known);
    line.reach_px.push_back(kReachSd * known + 2.0);
    if (line.reach_px.back() > std::max(kReachAlwaysPx, kMostReachPart * arc.b)) {
      return std::nullopt;
    }
  }
  return line;
}

// The front about one that was scanned for.
SearchLine scanned_line(const Axis& axis, const Arc& arc) {
  std::vector<double> angles;
  SearchLine line = front_of(axis, arc, angles);
  line.expected_px.assign(line.at.size(), kScannedSdPx);
  line.reach_px.assign(line.at.size(), kScannedReachPx);
  line.outermost = true;
  return line;
}

}  // namespace

LipFront lip_front(const cv::Mat& bgr, const VesselMask& mask, const Axis& axis, const Arc& arc,
                   const std::vector<EdgeNode>& back, HalfWidths widths, const MarkPlan& plan) {
  LipFront front{arc, {}};
  if (arc.b < kLeastHalfHeightPx) return front;
  std::vector<cv::Point2d> back_uv;
  for (const EdgeNode& node : back) {
    if (good(node)) back_uv.push_back(axis.to_axis(node.at));
  }
  if (back_uv.size() < 10) return front;
  auto looked_for = front_line(axis, arc, back_uv);
  Arc from = arc;
  if (!looked_for) {
    const auto scanned = scanned_lip(bgr, axis, back_uv, widths);
    if (!scanned || scanned->b < kLeastHalfHeightPx) return front;
    from = *scanned;
    looked_for = scanned_line(axis, from);
  }
  const SearchLine& line = *looked_for;
  const std::vector<PathPlace> path = likely_path(bgr, mask, line, plan.noise);
  std::vector<EdgeNode> nodes =
      fitted(bgr, nodes_of(moved_line(line, path, 1.5), path, plan.noise), plan);
  std::vector<cv::Point2d> all(back_uv);
  for (const EdgeNode& node : nodes) {
    if (good(node)) all.push_back(axis.to_axis(node.at));
  }
  const Arc common = refined_arc(from, all, kOnEllipsePx / 2.0);
  std::size_t found = 0;
  for (EdgeNode& node : nodes) {
    if (!good(node)) continue;
    if (std::abs(common.distance(axis.to_axis(node.at))) > kOnEllipsePx) {
      node.doubt = "the edge that is seen does not lie on the lip's ellipse";
    } else {
      ++found;
    }
  }
  const bool spoilt = rms_of(common, back_uv) > kSpoilt * rms_of(arc, back_uv) + kSpoiltPx;
  if (spoilt || static_cast<double>(found) < kLeastFound * static_cast<double>(nodes.size())) {
    return front;
  }
  for (EdgeNode& node : nodes) node.inner = true;
  front.arc = common;
  front.nodes = std::move(nodes);
  return front;
}

}  // namespace potshadow
