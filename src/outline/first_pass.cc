// SPDX-License-Identifier: MIT
#include "outline/first_pass.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <optional>

#include "outline/arc.h"
#include "outline/contour.h"
#include "outline/edge_marks.h"
#include "outline/edge_path.h"
#include "outline/lip.h"
#include "outline/vessel_mask.h"

namespace potshadow {
namespace {

// How far from the rough contour the edge is looked for, in pixels of the mask: first and then.
constexpr double kFirstReach = 7.0;
constexpr double kSecondReach = 3.0;
// A vessel's mask and its mirror image have at least so much in common.
constexpr double kLeastMirrored = 0.75;

struct Work {
  const cv::Mat& bgr;
  VesselMask mask;
  double noise = 1.0;
  Axis axis;
  SearchLine contour;
  std::vector<PathPlace> path;
};

void draw_mask(const SearchLine& line, VesselMask& mask) {
  std::vector<std::vector<cv::Point>> polygon(1);
  for (const cv::Point2d& p : line.at) {
    const cv::Point2d q = mask.from_photo({p.x, p.y});
    polygon[0].emplace_back(static_cast<int>(std::lround(q.x)), static_cast<int>(std::lround(q.y)));
  }
  mask.inside.setTo(cv::Scalar(0));
  cv::fillPoly(mask.inside, polygon, cv::Scalar(255));
}

std::vector<cv::Point2d> in_axis(const Axis& axis, const std::vector<cv::Point2d>& points) {
  std::vector<cv::Point2d> uv;
  uv.reserve(points.size());
  for (const cv::Point2d& p : points) uv.push_back(axis.to_axis(p));
  return uv;
}

template <class Better>
std::size_t nearest_axis(const std::vector<cv::Point2d>& uv, Better better) {
  double widest = 0.0;
  for (const cv::Point2d& p : uv) widest = std::max(widest, std::abs(p.x));
  std::size_t best = 0;
  bool any = false;
  for (std::size_t i = 0; i < uv.size(); ++i) {
    if (std::abs(uv[i].x) > 0.1 * widest) continue;
    if (!any || better(uv[i].y, uv[best].y)) best = i;
    any = true;
  }
  return best;
}

std::vector<EdgeNode> part(const std::vector<EdgeNode>& nodes, std::size_t from, std::size_t to) {
  if (from >= to) return {};
  return {nodes.begin() + static_cast<std::ptrdiff_t>(from),
          nodes.begin() + static_cast<std::ptrdiff_t>(to)};
}

}  // namespace

Problem stopped() { return {Code::kCannotBeAnswered, "Tracing was stopped.", "Trace again.", {}}; }

Result<Trace> first_pass(const cv::Mat& bgr, const cv::Rect2d& box, const TraceRequest& request,
                         const TraceWatch& watch) {
  const auto done = [&](double part_done) {
    if (watch.done) watch.done(part_done);
    return watch.stop.stop_requested();
  };
  auto mask = vessel_mask(bgr, box, request.strokes);
  if (!mask) return mask.problem();
  if (done(0.4)) return stopped();
  Work work{bgr, *mask, 1.0, {}, {}, {}};
  work.contour = rough_contour(work.mask, kFirstReach);
  work.axis = axis_of(work.contour.at);
  if (mirrored_part(work.mask, work.axis) < kLeastMirrored) {
    return Problem{Code::kCannotBeAnswered,
                   "What stands out in the box is not the same on both sides, as a pot would be.",
                   "Draw the box round one vessel only, or paint strokes on it and beside it.",
                   {}};
  }
  MarkPlan plan = mark_plan(bgr, box, box.height);
  work.noise = plan.noise;
  work.path = likely_path(bgr, work.mask, work.contour, work.noise);
  if (done(0.6)) return stopped();
  work.contour = moved_line(work.contour, work.path, 1.5);
  draw_mask(work.contour, work.mask);
  work.contour.reach_px.assign(work.contour.at.size(), kSecondReach * work.mask.scale);
  work.path = likely_path(bgr, work.mask, work.contour, work.noise);
  work.contour = moved_line(work.contour, work.path, 1.0);
  work.axis = axis_of(work.contour.at);
  if (done(0.75)) return stopped();

  const std::vector<EdgeNode> nodes = nodes_of(work.contour, work.path, work.noise);
  const std::vector<cv::Point2d> uv = in_axis(work.axis, work.contour.at);
  const std::size_t count = uv.size();
  const std::size_t top = nearest_axis(uv, [](double a, double b) { return a < b; });
  const double height = std::abs(uv[top].y - uv[0].y);
  const double within = 0.8 + 0.0006 * height;
  const auto rim = longest_arc(uv, top, true, within);
  // The foot is looked for in the list turned by half a lap.
  std::vector<cv::Point2d> turned(uv);
  std::rotate(turned.begin(), turned.begin() + static_cast<std::ptrdiff_t>(top), turned.end());
  const std::size_t bottom = nearest_axis(turned, [](double a, double b) { return a > b; });
  const auto foot = longest_arc(turned, bottom, false, within);
  const auto gap = static_cast<std::size_t>(std::ceil(0.015 * height / (0.8 * work.mask.scale)));
  const std::size_t rim_first = rim ? rim->first : top;
  const std::size_t rim_last = rim ? rim->last : top;
  const std::size_t foot_left = foot ? (foot->last + top) % count : 0;        // first of the lap
  const std::size_t foot_right = foot ? (foot->first + top) % count : count;  // last of the lap

  plan.spacing_px = std::max(4.0, height / 150.0);
  plan.shared_px = 0.08 * height;
  learn_light(bgr, nodes, plan);
  Trace trace;
  const std::size_t left_from = (foot_left < rim_first ? foot_left : 0) + gap;
  std::vector<EdgeNode> left = part(nodes, left_from, rim_first > gap ? rim_first - gap : 0);
  std::reverse(left.begin(), left.end());
  add_marks(fitted(bgr, left, plan), TracedEdge::kLeft, plan, trace);
  const std::size_t right_to = foot_right > rim_last ? foot_right : count;
  const std::vector<EdgeNode> right =
      part(nodes, rim_last + gap, right_to > gap ? right_to - gap : 0);
  add_marks(fitted(bgr, right, plan), TracedEdge::kRight, plan, trace);
  if (rim) {
    const std::vector<EdgeNode> back =
        fitted(bgr, part(nodes, rim->first + gap, rim->last - std::min(rim->last, gap)), plan);
    add_marks(back, TracedEdge::kRim, plan, trace);
    std::vector<cv::Point2d> on_rim;
    for (const EdgeNode& node : back) {
      if (node.doubt == nullptr) on_rim.push_back(work.axis.to_axis(node.at));
    }
    const Arc arc = refined_arc(rim->arc, on_rim, 0.5);
    const LipFront front = lip_front(bgr, work.mask, work.axis, arc, back, plan);
    add_marks(front.nodes, TracedEdge::kRim, plan, trace);
  }
  if (foot) {
    std::vector<EdgeNode> front;
    for (std::size_t i = foot->first + gap; i + gap < foot->last; ++i)
      front.push_back(nodes[(i + top) % count]);
    std::reverse(front.begin(), front.end());
    add_marks(fitted(bgr, front, plan), TracedEdge::kBase, plan, trace);
  }
  done(1.0);
  return trace;
}

}  // namespace potshadow
