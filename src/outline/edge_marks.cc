// SPDX-License-Identifier: MIT
#include "outline/edge_marks.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace potshadow {
namespace {

// Margins of the path below which another edge may be the right one.
constexpr double kLeastMargin = 1.0;
constexpr const char* kTooLittle = "too little of the edge is seen here";
// An edge must differ by so many deviations of a pixel's noise, and by so many grey levels.
constexpr double kLeastContrast = 4.0;
constexpr double kLeastLevels = 5.0;
// How far the fitted edge may be from the path, which is whole pixels.
constexpr double kMostOffPx = 2.5;
// Wider than this is a shade or a shadow, not the edge of a thing.
constexpr double kMostBlurPx = 4.0;
// An edge leaves its neighbours where it is farther than this from their middle.
constexpr double kLeavesSd = 5.0;
constexpr double kLeavesPx = 1.0;
constexpr double kMostSdPx = 0.7;
// The bend is taken over so many nodes each way.
constexpr std::size_t kBendNodes = 3;
// Shift of an edge by shading and tone curve, as part of its blur; see shift_of.
constexpr double kShiftOfBlur = 0.08;
constexpr double kLeastShiftPx = 0.03;
// Of the front of a lip: both sides are the same clay, and the light fades round its bend. Of a
// foot: its own shadow lies against it. Means over whole edges of ray-traced photographs are off by
// 0.2 to 1.2 pixels and by 0.0 to 0.6; those of other edges by 0.1 to 0.2.
constexpr double kLipShiftPx = 0.8;
constexpr double kFootShiftPx = 0.4;
constexpr std::size_t kShortestStretch = 2;
constexpr double kMarksASide = 150.0;
constexpr double kLeastSpacingPx = 4.0;
// Shading changes over about this part of the vessel's height.
constexpr double kSharedPart = 0.08;

PhotoPoint photo(cv::Point2d p) { return {p.x, p.y}; }

double middle_of(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

EdgeWindow window_of(const EdgeNode& node, const MarkPlan& plan) {
  // A lip is a narrow band: beyond it are other edges.
  constexpr double kLipAcrossPx = 4.5;
  EdgeWindow window;
  window.half_along_px = plan.half_along_px;
  if (node.inner) window.half_across_px = kLipAcrossPx;
  window.at = node.at;
  window.outward = node.outward;
  window.bend_per_px = node.bend_per_px;
  return window;
}

// Deviation of the shift that neighbouring marks share: what is not known of the tone curve moves
// an edge by about 0.5 blur for the whole of it, and shading by some of the blur.
double shift_of(const EdgeNode& node, TracedEdge edge, const MarkPlan& plan) {
  constexpr double kShiftOfWarp = 0.5;
  const EdgeFit& fit = node.fit;
  const double tone = kShiftOfWarp * std::abs(fit.warp) * fit.blur_px * plan.light_sd;
  const double least = node.inner                  ? kLipShiftPx
                       : edge == TracedEdge::kBase ? kFootShiftPx
                                                   : kLeastShiftPx;
  return std::sqrt(least * least + tone * tone + std::pow(kShiftOfBlur * fit.blur_px, 2));
}

}  // namespace

std::vector<EdgeNode> nodes_of(const SearchLine& moved, const std::vector<PathPlace>& path,
                               double noise, double faintest) {
  std::vector<EdgeNode> nodes(moved.at.size());
  const std::size_t count = nodes.size();
  for (std::size_t i = 0; i < count; ++i) {
    EdgeNode& node = nodes[i];
    node.at = moved.at[i];
    node.outward = moved.outward[i];
    node.apart = path[i].apart;
    if (i >= kBendNodes && i + kBendNodes < count) {
      const cv::Point2d before = moved.at[i - kBendNodes] - node.at;
      const cv::Point2d after = moved.at[i + kBendNodes] - node.at;
      const double step = (cv::norm(before) + cv::norm(after)) / 2.0;
      if (step > 0.0) node.bend_per_px = (before + after).dot(node.outward) / (step * step);
    }
    if (path[i].contrast < faintest * std::max(kLeastLevels, kLeastContrast * noise)) {
      node.doubt = "the edge is too faint here";
    } else if (path[i].margin < kLeastMargin) {
      node.doubt = "more than one edge could be the vessel's here";
    }
  }
  return nodes;
}

bool vessel_behind(const VesselMask& mask, cv::Point2d at, cv::Point2d outward) {
  constexpr double kBeyondPx = 3.0;  // of the mask
  const cv::Point2d p = mask.from_photo({at.x, at.y}) + kBeyondPx * outward;
  const cv::Point place(static_cast<int>(std::lround(p.x)), static_cast<int>(std::lround(p.y)));
  return cv::Rect({}, mask.inside.size()).contains(place) &&
         mask.inside.at<unsigned char>(place) > 0;
}

void tell_inner(const VesselMask& mask, std::vector<EdgeNode>& nodes) {
  for (EdgeNode& node : nodes) node.inner = vessel_behind(mask, node.at, node.outward);
}

MarkPlan mark_plan(const cv::Mat& bgr, const cv::Rect2d& box) {
  MarkPlan plan;
  plan.noise = pixel_noise(bgr(cv::Rect(box) & cv::Rect(0, 0, bgr.cols, bgr.rows)));
  plan.spacing_px = std::max(kLeastSpacingPx, box.height / kMarksASide);
  plan.shared_px = kSharedPart * box.height;
  return plan;
}

void learn_light(const cv::Mat& bgr, const std::vector<EdgeNode>& nodes, MarkPlan& plan) {
  constexpr std::size_t kMostEdges = 80;
  constexpr std::size_t kLeastEdges = 10;
  // No lens draws an edge sharper than this, but a pixel's own width does (0.29).
  constexpr double kDrawnBlurPx = 0.45;
  constexpr double kDrawnSd = 0.15;
  std::vector<double> blurs;
  const std::size_t step = std::max<std::size_t>(1, nodes.size() / kMostEdges);
  for (std::size_t i = 0; i < nodes.size(); i += step) {
    if (nodes[i].doubt != nullptr || nodes[i].left_out) continue;
    const auto fit = fit_edge(bgr, window_of(nodes[i], plan), plan.light, plan.noise);
    if (fit) blurs.push_back(fit->blur_px);
  }
  if (blurs.size() < kLeastEdges || middle_of(blurs) > kDrawnBlurPx) return;
  plan.light = 0.0;
  plan.light_sd = kDrawnSd;
}

SearchLine moved_line(const SearchLine& line, const std::vector<PathPlace>& path, double smooth) {
  std::vector<cv::Point2d> points(line.at.size());
  double outwards = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    points[i] = line.at[i] + path[i].off_px * line.outward[i];
  }
  SearchLine moved = line_through(points, line.closed, smooth);
  for (std::size_t i = 0; i < points.size(); ++i) outwards += moved.outward[i].dot(line.outward[i]);
  if (outwards < 0.0) {
    for (cv::Point2d& normal : moved.outward) normal *= -1.0;
  }
  return moved;
}

std::vector<EdgeNode> fitted(const cv::Mat& bgr, const std::vector<EdgeNode>& nodes,
                             const MarkPlan& plan) {
  std::vector<EdgeNode> result;
  double way = plan.spacing_px;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (i > 0) way += cv::norm(nodes[i].at - nodes[i - 1].at);
    if (way < plan.spacing_px) continue;
    way = 0.0;
    EdgeNode node = nodes[i];
    if (node.doubt == nullptr && !node.left_out) {
      const auto fit = fit_edge(bgr, window_of(node, plan), plan.light, plan.noise);
      if (!fit || std::abs(fit->off_px) > kMostOffPx) {
        node.doubt = "no clear edge fits here";
      } else if (fit->blur_px > kMostBlurPx) {
        node.doubt = "the edge is too soft here";
      } else if (fit->sd_px > kMostSdPx) {
        node.doubt = "the edge is too faint here";
      } else {
        node.fit = *fit;
      }
    }
    result.push_back(node);
  }
  // What leaves its neighbours.
  std::vector<const char*> doubts(result.size(), nullptr);
  constexpr std::size_t kNeighbours = 4;
  for (std::size_t i = 0; i < result.size(); ++i) {
    if (result[i].doubt != nullptr || result[i].left_out) continue;
    std::vector<double> offs;
    const std::size_t from = i >= kNeighbours ? i - kNeighbours : 0;
    for (std::size_t k = from; k <= std::min(result.size() - 1, i + kNeighbours); ++k) {
      if (k != i && result[k].doubt == nullptr && !result[k].left_out)
        offs.push_back(result[k].fit.off_px);
    }
    if (offs.size() < 3) {
      doubts[i] = "too little of the edge is seen here";
    } else if (std::abs(result[i].fit.off_px - middle_of(offs)) >
               std::max(kLeavesPx, kLeavesSd * result[i].fit.sd_px)) {
      doubts[i] = "the edge jumps here";
    }
  }
  for (std::size_t i = 0; i < result.size(); ++i) {
    if (doubts[i] != nullptr) result[i].doubt = doubts[i];
  }
  for (std::size_t i = 0; i < result.size(); ++i) {
    if (result[i].doubt == nullptr && !result[i].left_out)
      result[i].at += result[i].fit.off_px * result[i].outward;
  }
  return result;
}

void doubt_scattered(std::vector<EdgeNode>& nodes, double least_good) {
  constexpr std::size_t kAround = 7;
  std::vector<bool> scattered(nodes.size(), false);
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    double good = 0.0;
    double all = 0.0;
    for (std::size_t k = i - std::min(i, kAround); k < std::min(nodes.size(), i + kAround + 1);
         ++k) {
      if (nodes[k].left_out) continue;
      all += 1.0;
      if (nodes[k].doubt == nullptr) good += 1.0;
    }
    scattered[i] = good < least_good * all;
  }
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (scattered[i] && nodes[i].doubt == nullptr) {
      nodes[i].doubt = kTooLittle;
    }
  }
}

namespace {

template <class Node>
void doubt_lone_end(Node node, Node end) {
  constexpr int kAlone = 5;
  const auto good = [](const EdgeNode& one) { return one.doubt == nullptr && !one.left_out; };
  const auto first = std::find_if(node, end, good);
  const auto last = std::find_if_not(first, end, good);
  const auto next = std::find_if(last, end, good);
  if (next == end || last - first >= kAlone || next - last < last - first) return;
  std::for_each(first, last, [](EdgeNode& one) { one.doubt = kTooLittle; });
}

}  // namespace

void doubt_lone_ends(std::vector<EdgeNode>& nodes) {
  doubt_lone_end(nodes.begin(), nodes.end());
  doubt_lone_end(nodes.rbegin(), nodes.rend());
}

void add_marks(const std::vector<EdgeNode>& nodes, TracedEdge edge, const MarkPlan& plan,
               Trace& trace) {
  const double sharing = std::max(1.0, plan.shared_px / plan.spacing_px);
  std::vector<TracedMark>& marks = edge == TracedEdge::kLeft    ? trace.left
                                   : edge == TracedEdge::kRight ? trace.right
                                   : edge == TracedEdge::kRim   ? trace.rim
                                                                : trace.base;
  DoubtfulStretch stretch;
  stretch.edge = edge;
  const auto close = [&] {
    if (stretch.points.size() >= kShortestStretch) trace.doubtful.push_back(stretch);
    stretch.points.clear();
  };
  for (const EdgeNode& node : nodes) {
    if (node.left_out) {
      close();
      continue;
    }
    if (node.doubt == nullptr) {
      close();
      const double shift = shift_of(node, edge, plan);
      const double alike = std::clamp(node.fit.alike, 0.0, 0.45);
      const double noise = node.fit.sd_px * (1.0 + 2.0 * alike);
      marks.push_back({photo(node.at), std::hypot(noise, shift * std::sqrt(sharing))});
      continue;
    }
    if (!stretch.points.empty() && stretch.why != node.doubt) close();
    stretch.why = node.doubt;
    stretch.points.push_back(photo(node.at));
  }
  close();
}

void in_order(Trace& trace) {
  const auto down = [](const TracedMark& a, const TracedMark& b) { return a.at.y_px < b.at.y_px; };
  const auto along = [](const TracedMark& a, const TracedMark& b) { return a.at.x_px < b.at.x_px; };
  std::stable_sort(trace.left.begin(), trace.left.end(), down);
  std::stable_sort(trace.right.begin(), trace.right.end(), down);
  std::stable_sort(trace.base.begin(), trace.base.end(), along);
}

}  // namespace potshadow
