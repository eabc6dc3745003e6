// SPDX-License-Identifier: MIT
#include "outline/second_pass.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include "outline/contour.h"
#include "outline/edge_marks.h"
#include "outline/edge_path.h"
#include "outline/faint_edges.h"
#include "outline/first_pass.h"
#include "outline/vessel_mask.h"

namespace potshadow {
namespace {

// Along the sides the prediction is within a fit's reach of the edge, and each pass improves it: a
// wider search finds what lies beside the edge more often than the edge. The front of a lip is told
// by smoothness alone until it is found, and is searched for within so many deviations.
constexpr double kFrontReachSd = 1.5;
constexpr double kMostReachPart = 0.04;  // of the vessel's height
constexpr double kLeastSdPx = 1.0;
// An edge farther off than this is not the one predicted.
constexpr double kAgreesSd = 3.5;
constexpr double kAgreesMorePx = 1.5;
// Nor one that is much farther off than most are, and than the estimate knows.
constexpr double kAsUsual = 4.0;
constexpr double kLeastUsualPx = 0.3;
constexpr double kAsKnown = 1.0;
constexpr double kFrontAsKnown = 2.5;  // for the front of a lip
// Nor one that is farther than this off where so many marks to both sides have it.
constexpr std::size_t kAround = 12;
constexpr double kLeavesPx = 1.2;
constexpr double kLeavesSd = 3.0;
// An edge where one is expected need have only so much of the usual contrast.
constexpr double kFaintest = 0.35;
// Which way the edge runs is known, so that it is averaged over more of it: so much to both sides,
// by the vessel's height, since a small one's bends are sharper. In the rough path and in the fits.
constexpr double kAlongPart = 0.006;
constexpr double kMostAlongPx = 12.0;
constexpr double kOfAlong = 0.8;
// Where the foot's front may lie anywhere within so much of its width, other edges lie there, too:
// one of them taken for the foot's would say how wide it is.
constexpr double kUnsureFoot = 0.02;
// Of a run of the rim so much must be seen.
constexpr double kLeastOfRim = 0.3;
// Where classes meet nothing is marked within this part of the height.
constexpr double kGapPart = 0.006;
constexpr double kStepPx = 3.0;

// A predicted line with even steps.
struct Line {
  TracedEdge edge = TracedEdge::kLeft;
  SearchLine search;
};

bool finite(const std::vector<PhotoPoint>& points) {
  return std::all_of(points.begin(), points.end(), [](const PhotoPoint& p) {
    return std::isfinite(p.x_px) && std::isfinite(p.y_px);
  });
}

bool usable(const PredictedLine& line) {
  return line.middle.size() >= 2 && line.inner.size() == line.middle.size() &&
         line.outer.size() == line.middle.size() && finite(line.middle) && finite(line.inner) &&
         finite(line.outer);
}

cv::Point2d point(const PhotoPoint& p) { return {p.x_px, p.y_px}; }

// Even steps along the line, with the band's half width at each.
Line line_of(const PredictedLine& predicted, double step, cv::Point2d centre, cv::Size picture) {
  Line line;
  line.edge = predicted.edge;
  std::vector<cv::Point2d> points;
  std::vector<cv::Point2d> across;
  double into = 0.0;
  for (std::size_t i = 0; i + 1 < predicted.middle.size(); ++i) {
    const cv::Point2d from = point(predicted.middle[i]);
    const cv::Point2d way = point(predicted.middle[i + 1]) - from;
    const cv::Point2d band = point(predicted.outer[i]) - point(predicted.inner[i]);
    const cv::Point2d next = point(predicted.outer[i + 1]) - point(predicted.inner[i + 1]);
    const double length = cv::norm(way);
    // What lies outside the picture has no edge, and could be endless.
    const double most = 2.0 * (picture.width + picture.height);
    if (!(length < most)) continue;
    while (into < length) {
      const double part = into / length;
      points.push_back(from + part * way);
      across.push_back((band * (1.0 - part) + next * part) * 0.5);
      into += step;
    }
    into -= length;
  }
  line.search = line_through(points, false, 0.0);
  double same = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double by_band = line.search.outward[i].dot(across[i]);
    // A band too narrow to tell points away from the middle of all.
    same +=
        std::abs(by_band) > 1e-3 ? by_band : 1e-6 * line.search.outward[i].dot(points[i] - centre);
  }
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (same < 0.0) line.search.outward[i] *= -1.0;
    const double half = std::abs(line.search.outward[i].dot(across[i]));
    line.search.expected_px.push_back(std::max(kLeastSdPx, half / 2.0));
  }
  return line;
}

bool lies_in(const cv::Mat& bgr, cv::Point2d p) {
  return p.x >= 1.0 && p.y >= 1.0 && p.x <= bgr.cols - 2.0 && p.y <= bgr.rows - 2.0;
}

// The vessel as the lines have it: between left and right outline, with the rim's and the foot's
// ellipses.
void draw_mask(const std::vector<Line>& lines, VesselMask& mask) {
  std::array<std::vector<cv::Point>, 4> parts;
  for (const Line& line : lines) {
    for (const cv::Point2d& p : line.search.at) {
      const cv::Point2d q = mask.from_photo({p.x, p.y});
      constexpr double kFar = 1e5;
      parts[static_cast<std::size_t>(line.edge)].emplace_back(
          static_cast<int>(std::lround(std::clamp(q.x, -kFar, kFar))),
          static_cast<int>(std::lround(std::clamp(q.y, -kFar, kFar))));
    }
  }
  auto& left = parts[static_cast<std::size_t>(TracedEdge::kLeft)];
  auto& right = parts[static_cast<std::size_t>(TracedEdge::kRight)];
  const auto down = [](const cv::Point& a, const cv::Point& b) { return a.y < b.y; };
  std::stable_sort(left.begin(), left.end(), down);
  std::stable_sort(right.begin(), right.end(), down);
  mask.inside = cv::Mat::zeros(mask.bgr.size(), CV_8U);
  std::vector<cv::Point> body(left);
  body.insert(body.end(), right.rbegin(), right.rend());
  if (!left.empty() && !right.empty())
    cv::fillPoly(mask.inside, std::vector{body}, cv::Scalar(255));
  for (const TracedEdge edge : {TracedEdge::kRim, TracedEdge::kBase}) {
    const auto& points = parts[static_cast<std::size_t>(edge)];
    if (points.size() < 3) continue;
    std::vector<cv::Point> hull;
    cv::convexHull(points, hull);
    cv::fillConvexPoly(mask.inside, hull, cv::Scalar(255));
  }
}

// Whether a place of one class lies where it runs into another.
bool at_junction(const std::vector<Line>& lines, const Line& own, cv::Point2d p, double gap) {
  const bool outline = own.edge == TracedEdge::kLeft || own.edge == TracedEdge::kRight;
  for (const Line& other : lines) {
    const bool other_outline = other.edge == TracedEdge::kLeft || other.edge == TracedEdge::kRight;
    if (outline == other_outline || other.search.at.empty()) continue;
    if (outline) {
      for (std::size_t i = 0; i < other.search.at.size(); i += 2) {
        if (cv::norm(other.search.at[i] - p) < gap) return true;
      }
    } else if (cv::norm(other.search.at.front() - p) < gap ||
               cv::norm(other.search.at.back() - p) < gap) {
      return true;
    }
  }
  return false;
}

double height_of(const std::vector<Line>& lines) {
  double low = INFINITY;
  double high = -INFINITY;
  for (const Line& line : lines) {
    for (const cv::Point2d& p : line.search.at) {
      low = std::min(low, p.y);
      high = std::max(high, p.y);
    }
  }
  return std::max(1.0, high - low);
}

double along_px(double height) { return std::min(kMostAlongPx, kAlongPart * height); }

// Follows one line: its places moved onto the likeliest edge. Empty for a line without places.
std::vector<EdgeNode> followed(const cv::Mat& bgr, const VesselMask& mask,
                               const std::vector<Line>& lines, const Line& line, double noise) {
  const double height = height_of(lines);
  SearchLine search = line.search;
  search.along_px = std::max(search.along_px, static_cast<int>(kOfAlong * along_px(height)));
  // The front of a lip, with the wall behind it.
  const std::size_t middle = search.at.size() / 2;
  search.outermost = line.edge == TracedEdge::kRim && !search.at.empty() &&
                     vessel_behind(mask, search.at[middle], search.outward[middle]);
  search.parts = !search.outermost;
  for (std::size_t i = 0; search.outermost && i < search.at.size(); ++i) {
    search.reach_px[i] = std::min(kFrontReachSd * search.expected_px[i], kMostReachPart * height);
  }
  const std::vector<PathPlace> path = likely_path(bgr, mask, search, noise);
  if (path.empty()) return {};
  const SearchLine moved = moved_line(search, path, 1.5);
  std::vector<EdgeNode> nodes = nodes_of(moved, path, noise, kFaintest);
  if (line.edge == TracedEdge::kRim) tell_inner(mask, nodes);
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (at_junction(lines, line, search.at[i], kGapPart * height)) {
      nodes[i].left_out = true;
    } else if (!lies_in(bgr, search.at[i])) {
      nodes[i].doubt = "the picture ends here";
    }
  }
  return nodes;
}

// The edges along one line: each node's, and how far it is off the line and may be.
struct Fitted {
  std::vector<EdgeNode> nodes;
  std::vector<std::size_t> good;  // those with an edge
  std::vector<double> offs;       // of the good ones, outward
  std::vector<double> known;      // standard deviation of the line there
};

Fitted fitted_along(const cv::Mat& bgr, const Line& line, const std::vector<EdgeNode>& nodes,
                    const MarkPlan& plan) {
  const SearchLine& search = line.search;
  Fitted result;
  result.nodes = fitted(bgr, nodes, plan);
  fit_faint(bgr, search, kStepPx, plan, result.nodes);
  for (std::size_t i = 0; i < result.nodes.size(); ++i) {
    const EdgeNode& node = result.nodes[i];
    if (node.doubt != nullptr || node.left_out) continue;
    const std::size_t near = nearest_place(search, node.at);
    result.good.push_back(i);
    result.offs.push_back((node.at - search.at[near]).dot(search.outward[near]));
    result.known.push_back(search.expected_px[near]);
  }
  return result;
}

double middle_of(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

// How far edges usually are off the lines that predict them, as a standard deviation: little for a
// vessel that is even and well predicted.
double usual_off(const std::vector<Fitted>& all) {
  constexpr double kOfMiddle = 1.4826;  // half of all normal numbers are below 0.6745
  std::vector<double> offs;
  for (const Fitted& one : all) {
    for (const double off : one.offs) offs.push_back(std::abs(off));
  }
  return offs.empty() ? 0.0 : kOfMiddle * middle_of(std::move(offs));
}

// Adds the edges that agree with the line.
void mark_line(const Line& line, double usual, const MarkPlan& plan, Fitted& found, Trace& trace) {
  const double most_unsure = kUnsureFoot * cv::norm(line.search.at.back() - line.search.at.front());
  std::vector<std::size_t> good;
  std::vector<double> offs;
  for (std::size_t k = 0; k < found.good.size(); ++k) {
    EdgeNode& node = found.nodes[found.good[k]];
    const double known = std::hypot(found.known[k], node.fit.sd_px);
    if (line.edge == TracedEdge::kBase && found.known[k] > most_unsure) {
      node.doubt = "how wide the foot is cannot be said well enough here";
      continue;
    }
    const double most = std::min(kAgreesSd * known + kAgreesMorePx,
                                 kAsUsual * std::max(usual, kLeastUsualPx) +
                                     (node.inner ? kFrontAsKnown : kAsKnown) * known);
    if (std::abs(found.offs[k]) > most) {
      node.doubt = "the edge that is seen is not where the estimate has it";
      continue;
    }
    good.push_back(found.good[k]);
    offs.push_back(found.offs[k]);
  }
  for (std::size_t k = 0; k < good.size(); ++k) {
    const double around = middle_of(
        {offs.begin() + static_cast<std::ptrdiff_t>(k - std::min(k, kAround)),
         offs.begin() + static_cast<std::ptrdiff_t>(std::min(good.size(), k + kAround + 1))});
    EdgeNode& node = found.nodes[good[k]];
    if (std::abs(offs[k] - around) > kLeavesPx + kLeavesSd * node.fit.sd_px) {
      node.doubt = "the edge that is seen leaves the vessel's here";
    }
  }
  const auto seen = std::count_if(found.nodes.begin(), found.nodes.end(), [](const EdgeNode& node) {
    return node.doubt == nullptr && !node.left_out;
  });
  // What is seen here and there of a lip may be paint or shade.
  const bool hardly =
      line.edge == TracedEdge::kRim &&
      static_cast<double>(seen) < kLeastOfRim * static_cast<double>(found.nodes.size());
  // A foot's front is short, and shadows leave gaps in it.
  if (line.edge == TracedEdge::kLeft || line.edge == TracedEdge::kRight || hardly) {
    doubt_scattered(found.nodes, kLeastOfSide);
  } else if (line.edge == TracedEdge::kBase) {
    doubt_lone_ends(found.nodes);
  }
  add_marks(found.nodes, line.edge, plan, trace);
}

}  // namespace

Result<Trace> second_pass(const cv::Mat& bgr, const cv::Rect2d& box, const TraceRequest& request,
                          const TraceWatch& watch) {
  Trace trace;
  cv::Point2d centre(0.0, 0.0);
  double count = 0.0;
  std::size_t ignored = 0;
  for (const PredictedLine& line : request.predicted) {
    if (!usable(line)) {
      ++ignored;
      continue;
    }
    for (const PhotoPoint& p : line.middle) centre += point(p);
    count += static_cast<double>(line.middle.size());
  }
  if (ignored > 0) {
    trace.notes.push_back({"Predicted lines that are empty or not whole were left out.", true});
  }
  if (count > 0.0) centre *= 1.0 / count;
  std::vector<Line> lines;
  for (const PredictedLine& line : request.predicted) {
    if (usable(line)) lines.push_back(line_of(line, kStepPx, centre, bgr.size()));
  }
  VesselMask mask = reduced_picture(bgr, box);
  draw_mask(lines, mask);
  MarkPlan plan = mark_plan(bgr, box);
  plan.half_along_px = std::max(plan.half_along_px, along_px(height_of(lines)));
  const auto done = [&](double part) {
    if (watch.done) watch.done(part);
    return watch.stop.stop_requested();
  };
  std::vector<std::vector<EdgeNode>> nodes;
  std::vector<EdgeNode> all;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (done(0.2 + 0.8 * static_cast<double>(i) / static_cast<double>(lines.size()))) {
      return stopped();
    }
    nodes.push_back(followed(bgr, mask, lines, lines[i], plan.noise));
    all.insert(all.end(), nodes.back().begin(), nodes.back().end());
  }
  learn_light(bgr, all, plan);
  std::vector<Fitted> found;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    found.push_back(fitted_along(bgr, lines[i], nodes[i], plan));
  }
  const double usual = usual_off(found);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    mark_line(lines[i], usual, plan, found[i], trace);
  }
  if (trace.left.empty() && trace.right.empty() && trace.rim.empty() && trace.base.empty()) {
    return Problem{Code::kCannotBeAnswered,
                   "No edge was found where the estimate has the vessel's.",
                   "Trace anew from the box, or mark the vessel by hand.",
                   {}};
  }
  in_order(trace);
  done(1.0);
  return trace;
}

}  // namespace potshadow
