// SPDX-License-Identifier: MIT
#include "outline/first_pass.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <string>
#include <utility>

#include "outline/arc.h"
#include "outline/contour.h"
#include "outline/edge_marks.h"
#include "outline/edge_path.h"
#include "outline/lip.h"
#include "outline/mirrored.h"
#include "outline/sections.h"
#include "outline/unlike.h"
#include "outline/vessel_mask.h"

namespace potshadow {
namespace {

// How far from the rough contour the edge is looked for, in pixels of the mask: first and then.
constexpr double kFirstReach = 3.5;
constexpr double kSecondReach = 2.0;
// And how surely the mirrored outline lies there.
constexpr double kMirroredSd = 1.2;
// A vessel's mask and its mirror image have at least so much in common.
constexpr double kLeastMirrored = 0.75;
// At fewer heights than this share both sides show an edge: nothing is mirrored there.
constexpr double kLeastSupport = 0.4;
// Where less of the contour is clear, what was found is hardly a vessel.
constexpr double kLeastClear = 0.25;
// Between the tops of two vessels side by side the contour is lower by this part of the height.
constexpr double kNotch = 0.15;
constexpr double kNearAxis = 0.04;  // of the half width
// A thing of this part of the vessel's area could be meant as well.
constexpr double kAnotherThing = 0.3;
// Where so much is doubtful the rest may be, too: first it is said so, then nothing is claimed.
constexpr double kMuchDoubt = 0.15;
constexpr double kMostDoubt = 0.60;
// A camera's focal length, in its picture's longer side: of phones 0.7, of small zooms 2.
constexpr double kFocal = 1.1;
// Two masks of one vessel have at least so much in common.
constexpr double kAlike = 0.93;
// So much of a contour on one ellipse is nothing but a rim.
constexpr double kAllRim = 0.90;
constexpr const char* kPictureEnds = "the picture ends here";
// Nearer to the picture's edge than this a contour is the picture's.
constexpr double kBorderPx = 4.0;

Problem not_one_vessel() {
  return {Code::kCannotBeAnswered,
          "What stands out in the box is not alike on its left and right, as one pot would be.",
          "Draw the box round one vessel only, or paint strokes on it and beside it.",
          {}};
}

Problem not_clear() {
  return {Code::kCannotBeAnswered, "Hardly any clear edge of a vessel was found in the box.",
          "Paint strokes on the vessel and beside it, or mark it by hand; see-through and "
          "mirror-bright vessels often need it.",
          kNotClear};
}

void draw_mask(const SearchLine& line, VesselMask& mask) {
  std::vector<std::vector<cv::Point>> polygon(1);
  for (const cv::Point2d& p : line.at) {
    const cv::Point2d q = mask.from_photo({p.x, p.y});
    polygon[0].emplace_back(static_cast<int>(std::lround(q.x)), static_cast<int>(std::lround(q.y)));
  }
  mask.inside.setTo(cv::Scalar(0));
  cv::fillPoly(mask.inside, polygon, cv::Scalar(255));
}

bool at_border(const cv::Mat& bgr, cv::Point2d p, double margin) {
  return p.x < margin || p.y < margin || p.x > bgr.cols - 1.0 - margin ||
         p.y > bgr.rows - 1.0 - margin;
}

// Those of the points that are the vessel's own, not the picture's edge.
std::vector<bool> cut_places(const cv::Mat& bgr, const SearchLine& line, double margin) {
  std::vector<bool> cut;
  cut.reserve(line.at.size());
  for (const cv::Point2d& p : line.at) cut.push_back(at_border(bgr, p, margin));
  return cut;
}

// Whether the contour is cut in beside the axis both from above and from below, as between two
// vessels that touch.
bool notched(const std::vector<cv::Point2d>& contour, const Axis& axis) {
  std::vector<cv::Point2d> uv;
  double highest = INFINITY;
  double lowest = -INFINITY;
  double widest = 0.0;
  for (const cv::Point2d& p : contour) {
    uv.push_back(axis.to_axis(p));
    highest = std::min(highest, uv.back().y);
    lowest = std::max(lowest, uv.back().y);
    widest = std::max(widest, std::abs(uv.back().x));
  }
  double top = INFINITY;
  double bottom = -INFINITY;
  for (const cv::Point2d& p : uv) {
    if (std::abs(p.x) > kNearAxis * widest) continue;
    top = std::min(top, p.y);
    bottom = std::max(bottom, p.y);
  }
  const double height = lowest - highest;
  return top - highest > kNotch * height && lowest - bottom > kNotch * height;
}

// How much of what was looked at became no mark.
double doubtful_share(const Trace& trace) {
  std::size_t doubtful = 0;
  for (const DoubtfulStretch& stretch : trace.doubtful) {
    // What the picture cuts off says nothing about the rest.
    if (stretch.why != kPictureEnds) doubtful += stretch.points.size();
  }
  const std::size_t all =
      doubtful + trace.left.size() + trace.right.size() + trace.rim.size() + trace.base.size();
  return static_cast<double>(doubtful) / static_cast<double>(std::max<std::size_t>(1, all));
}

// How wide the outline is near the rim, on its narrower and its wider side. A handle widens one, a
// neighbour in front narrows it.
HalfWidths widths_near_rim(const Axis& axis, const Sections& sections) {
  constexpr double kNear = 0.12;  // of the sides' height
  double top = INFINITY;
  double bottom = -INFINITY;
  const std::array<const std::vector<EdgeNode>*, 2> sides = {&sections.left, &sections.right};
  for (const auto* side : sides) {
    for (const EdgeNode& node : *side) {
      top = std::min(top, axis.to_axis(node.at).y);
      bottom = std::max(bottom, axis.to_axis(node.at).y);
    }
  }
  std::array<double, 2> widest = {0.0, 0.0};
  for (std::size_t i = 0; i < sides.size(); ++i) {
    for (const EdgeNode& node : *sides[i]) {
      const cv::Point2d uv = axis.to_axis(node.at);
      if (uv.y < top + kNear * (bottom - top)) widest[i] = std::max(widest[i], std::abs(uv.x));
    }
  }
  const auto [narrow, wide] = std::minmax(widest[0], widest[1]);
  return {narrow > 0.0 ? narrow : wide, wide};
}

void add_sections(const cv::Mat& bgr, const VesselMask& mask, const Axis& axis,
                  const MarkPlan& plan, const Sections& sections, Trace& trace) {
  for (const auto& [side, edge] : {std::pair(&sections.left, TracedEdge::kLeft),
                                   std::pair(&sections.right, TracedEdge::kRight)}) {
    std::vector<EdgeNode> nodes = fitted(bgr, *side, plan);
    doubt_scattered(nodes, kLeastOfSide);
    add_marks(nodes, edge, plan, trace);
  }
  if (sections.rim_arc) {
    std::vector<EdgeNode> back = fitted(bgr, sections.rim, plan);
    const auto arc = trimmed_to_arc(*sections.rim_arc, axis, back);
    add_marks(back, TracedEdge::kRim, plan, trace);
    LipFront front;
    if (arc) front = lip_front(bgr, mask, axis, *arc, back, widths_near_rim(axis, sections), plan);
    add_marks(front.nodes, TracedEdge::kRim, plan, trace);
    trace.notes.push_back(
        {front.nodes.empty()
             ? "Only the back of the rim was marked, where it stands out from what is behind it; "
               "its front was not told from the lip's inner edge."
             : "The rim was marked at its back, where it stands out from what is behind it, and at "
               "its front, on the edge that lies on one ellipse with the back: the outer one.",
         false});
  } else {
    trace.notes.push_back({"No rim was told from the outline.", true});
  }
  if (sections.base_arc) {
    std::vector<EdgeNode> front = fitted(bgr, sections.base, plan);
    trimmed_to_arc(*sections.base_arc, axis, front);
    add_marks(front, TracedEdge::kBase, plan, trace);
  }
  if (trace.base.empty()) {
    trace.notes.push_back({sections.foot_is_odd
                               ? "What lies lowest is not a foot's circle: a round bottom, a stand "
                                 "or a shadow. No foot was marked."
                               : "The foot was not told from the outline.",
                           true});
  }
}

double common_part(const cv::Mat& one, const cv::Mat& other) {
  cv::Mat both;
  cv::Mat any;
  cv::bitwise_and(one, other, both);
  cv::bitwise_or(one, other, any);
  return static_cast<double>(cv::countNonZero(both)) / std::max(1, cv::countNonZero(any));
}

std::vector<cv::Point2d> places_of(const std::vector<EdgeNode>& nodes) {
  std::vector<cv::Point2d> places;
  places.reserve(nodes.size());
  for (const EdgeNode& node : nodes) places.push_back(node.at);
  return places;
}

bool all_rim(const std::vector<cv::Point2d>& contour) { return part_on_rim(contour) > kAllRim; }

}  // namespace

Problem stopped() { return {Code::kCannotBeAnswered, "Tracing was stopped.", "Trace again.", {}}; }

Result<Trace> first_pass(const cv::Mat& bgr, const cv::Rect2d& box, const TraceRequest& request,
                         const TraceWatch& watch) {
  const auto done = [&](double part_done) {
    if (watch.done) watch.done(part_done);
    return watch.stop.stop_requested();
  };
  if (done(0.0)) return stopped();
  const auto found = vessel_mask(bgr, box, request.strokes);
  if (!found) return found.problem();
  if (done(0.5)) return stopped();
  VesselMask mask = *found;
  const double border = kBorderPx + mask.scale;
  SearchLine contour = rough_contour(mask, kFirstReach);
  std::vector<bool> cut = cut_places(bgr, contour, border);
  if (notched(contour.at, axis_of(contour.at, cut))) return not_one_vessel();
  // With a second thing in the box the axis is not near the box's middle.
  // A bowl seen steeply shows its rim alone, which need not lie square to an upright axis.
  const bool alone = mask.second_part > kAnotherThing || all_rim(contour.at);
  const cv::Mat labelled = mask.inside.clone();
  const Mirrored mirrored =
      alone ? Mirrored{}
            : mirror_outline(mask, mask.from_photo({bgr.cols / 2.0, bgr.rows / 2.0}),
                             kFocal * std::max(bgr.cols, bgr.rows) / mask.scale);
  if (mirrored.found && !request.strokes.empty() && common_part(labelled, mask.inside) < kAlike) {
    // What was painted tells more than the edges do.
    mask.inside = labelled;
  } else if (mirrored.found && mirrored.support < kLeastSupport) {
    return not_clear();
  }
  contour = rough_contour(mask, kFirstReach);
  cut = cut_places(bgr, contour, border);
  Axis axis = axis_of(contour.at, cut);
  if (mirrored_part(mask, bgr.size(), axis) < kLeastMirrored) return not_one_vessel();
  MarkPlan plan = mark_plan(bgr, box);
  if (mirrored.found) contour.expected_px.assign(contour.at.size(), kMirroredSd * mask.scale);
  std::vector<PathPlace> path = likely_path(bgr, mask, contour, plan.noise);
  if (done(0.65)) return stopped();
  contour = moved_line(contour, path, 1.5);
  draw_mask(contour, mask);
  contour.reach_px.assign(contour.at.size(), kSecondReach * mask.scale);
  path = likely_path(bgr, mask, contour, plan.noise);
  contour = moved_line(contour, path, 1.0);
  cut = cut_places(bgr, contour, border);
  axis = axis_of(contour.at, cut);
  if (done(0.75)) return stopped();

  std::vector<EdgeNode> nodes = nodes_of(contour, path, plan.noise);
  if (axis.seen && std::none_of(cut.begin(), cut.end(), [](bool one) { return one; })) {
    const cv::Point2d middle(bgr.cols / 2.0, bgr.rows / 2.0);
    doubt_unlike(fitted_mirror(nodes, axis, middle, kFocal * std::max(bgr.cols, bgr.rows)), nodes);
  }
  std::size_t clear = 0;
  std::size_t whole = 0;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (cut[i]) {
      nodes[i].doubt = kPictureEnds;
      continue;
    }
    ++whole;
    if (nodes[i].doubt == nullptr) ++clear;
  }
  if (static_cast<double>(clear) < kLeastClear * static_cast<double>(whole)) return not_clear();
  learn_light(bgr, nodes, plan);
  Trace trace;
  if (whole < nodes.size()) {
    trace.notes.push_back(
        {"The vessel is cut off by the picture's edge; what is missing there "
         "was left out.",
         true});
  }
  const bool several = mask.second_part > kAnotherThing;
  if (several) {
    trace.notes.push_back(
        {"More than one thing stands out in the box; the largest was traced.", true});
  }
  if (all_rim(places_of(nodes))) {
    add_marks(fitted(bgr, nodes, plan), TracedEdge::kRim, plan, trace);
    if (trace.rim.empty()) return not_clear();
    trace.notes.push_back(
        {"All that stands out lies on one ellipse: it was marked as the rim. Neither the sides nor "
         "the foot were told from what is around them.",
         true});
    done(1.0);
    return trace;
  }
  const Sections sections = sections_of(nodes, axis, axis.seen);
  // A contour with neither rim nor foot is hardly a vessel's.
  if (axis.seen && !sections.rim_arc && !sections.base_arc) return not_clear();
  add_sections(bgr, mask, axis, plan, sections, trace);
  if (trace.left.empty() && trace.right.empty() && trace.rim.empty()) return not_clear();
  const double doubtful = doubtful_share(trace);
  // Of several things none of which is clear, as of the reflections in a polished vessel, none is
  // told.
  if (doubtful > kMostDoubt || (several && doubtful > kMuchDoubt)) return not_clear();
  if (doubtful > kMuchDoubt) {
    trace.notes.push_back(
        {"Much of the edge was not clear, so that other things' edges may have been "
         "taken for the vessel's. Look at the marks, or paint strokes.",
         true});
  }
  done(1.0);
  return trace;
}

}  // namespace potshadow
