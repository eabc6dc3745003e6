// SPDX-License-Identifier: MIT
#include "outline/sections.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace potshadow {
namespace {

// How near an ellipse a run of whole pixels lies: they are off by half a pixel, and by a lip's own
// unevenness as a part of the height.
constexpr double kWithinPx = 0.8;
constexpr double kWithinPart = 0.0006;
// Left out on both sides of where two classes meet, and this near the other's ellipse; parts of the
// height.
constexpr double kGapPart = 0.012;
constexpr double kNearRimPart = 0.010;
constexpr double kNearFootPart = 0.004;
constexpr double kUnknownGapPart = 0.04;
// By how much the ratio of the foot's ellipse may differ from the rim's.
constexpr double kFlatter = 0.85;
constexpr double kFlatterSlack = 0.03;
// A circle's ratio is the sine of how steeply it is seen; the tangents of foot and rim differ by
// the vessel's height over the eye's distance, and nobody stands nearer than this.
constexpr double kMostHeightOverDistance = 0.75;
// Without a rim to compare with, a foot seen from a visitor's height is flatter than this.
constexpr double kMostRoundFoot = 0.6;
// Parts of the height: two ellipses nearer than this are the same one.
constexpr double kSameEllipse = 0.02;

// A lowest run wider than this part of the vessel is no foot's.
constexpr double kWallPart = 0.5;

template <class Better>
std::size_t nearest_axis(const std::vector<cv::Point2d>& uv, Better better) {
  constexpr double kNear = 0.1;  // of the half width
  double widest = 0.0;
  for (const cv::Point2d& p : uv) widest = std::max(widest, std::abs(p.x));
  std::size_t best = 0;
  bool any = false;
  for (std::size_t i = 0; i < uv.size(); ++i) {
    if (std::abs(uv[i].x) > kNear * widest) continue;
    if (!any || better(uv[i].y, uv[best].y)) best = i;
    any = true;
  }
  return best;
}

// The nodes [from, to) of the contour.
std::vector<EdgeNode> part(const std::vector<EdgeNode>& nodes, std::size_t from, std::size_t to) {
  if (from >= to || to > nodes.size()) return {};
  return {nodes.begin() + static_cast<std::ptrdiff_t>(from),
          nodes.begin() + static_cast<std::ptrdiff_t>(to)};
}

std::vector<EdgeNode> without_ends(const std::vector<EdgeNode>& nodes, double gap) {
  std::size_t from = 0;
  std::size_t to = nodes.size();
  while (from < to && cv::norm(nodes[from].at - nodes.front().at) < gap) ++from;
  while (to > from && cv::norm(nodes[to - 1].at - nodes.back().at) < gap) --to;
  return part(nodes, from, to);
}

void leave_out_near(const Arc& arc, const Axis& axis, double near, std::vector<EdgeNode>& nodes) {
  for (EdgeNode& node : nodes) {
    if (arc.distance(axis.to_axis(node.at)) < near) node.left_out = true;
  }
}

// Leaves out an end of a side up to where the contour first runs rather down than across, and
// some more: where no ellipse tells rim and foot from the outline, they are in there.
template <class Begin>
void leave_out_level_end(const Axis& axis, double gap, Begin begin, Begin end) {
  constexpr double kSteep = 0.42;  // of the normal, along the width: 25 degrees from level
  if (begin == end) return;
  auto node = begin;
  while (node != end && std::abs(node->outward.dot(axis.right())) < kSteep) ++node;
  if (node == end) --node;
  const cv::Point2d steep = node->at;
  for (auto k = begin; k != end; ++k) {
    if (k >= node && cv::norm(k->at - steep) > gap) break;
    k->left_out = true;
  }
}

// Whether the lowest run can be the foot's front.
bool is_foot(const Arc& foot, const std::optional<Arc>& rim, double height) {
  const double ratio = foot.b / foot.a;
  if (!rim) return ratio < kMostRoundFoot;
  const bool same = std::abs(foot.v0 - rim->v0) < kSameEllipse * height;
  const double rims = rim->b / rim->a;
  const auto tangent = [](double sine) {
    return sine / std::sqrt(std::max(1e-9, 1.0 - sine * sine));
  };
  return !same && ratio > kFlatter * rims - kFlatterSlack &&
         tangent(ratio) - tangent(rims) < kMostHeightOverDistance;
}

}  // namespace

Sections sections_of(const std::vector<EdgeNode>& contour, const Axis& axis, bool arcs) {
  Sections sections;
  const std::size_t count = contour.size();
  if (count < 8) return sections;
  std::vector<cv::Point2d> uv;
  uv.reserve(count);
  for (const EdgeNode& node : contour) uv.push_back(axis.to_axis(node.at));
  const std::size_t top = nearest_axis(uv, [](double a, double b) { return a < b; });
  double low = uv[top].y;
  for (const cv::Point2d& p : uv) low = std::max(low, p.y);
  const double height = low - uv[top].y;
  const double gap = kGapPart * height;
  std::size_t rim_first = top;
  std::size_t rim_last = top;
  std::size_t foot_left = 0;       // first of the lap
  std::size_t foot_right = count;  // past its last
  if (arcs) {
    const double within = kWithinPx + kWithinPart * height;
    const auto rim = longest_arc(uv, top, true, within);
    // The foot is looked for in the lap from top to top.
    std::vector<cv::Point2d> turned(uv);
    std::rotate(turned.begin(), turned.begin() + static_cast<std::ptrdiff_t>(top), turned.end());
    const std::size_t bottom = nearest_axis(turned, [](double a, double b) { return a > b; });
    const auto foot = longest_arc(turned, bottom, false, within);
    if (rim) {
      rim_first = rim->first;
      rim_last = rim->last;
      sections.rim_arc = rim->arc;
      sections.rim = without_ends(part(contour, rim_first, rim_last + 1), gap);
    }
    if (foot) {
      std::vector<EdgeNode> run;
      for (std::size_t i = foot->last + 1; i-- > foot->first;) {
        run.push_back(contour[(i + top) % count]);
      }
      const std::size_t left_end = (foot->last + top) % count;
      const std::size_t right_end = (foot->first + top) % count;
      const bool is = is_foot(foot->arc, sections.rim_arc, height);
      double widest = 0.0;
      for (const cv::Point2d& p : uv) widest = std::max(widest, std::abs(p.x));
      // The lower wall of a bowl lies on an ellipse, too: it is outline.
      const double wide = std::abs(turned[foot->last].x - turned[foot->first].x);
      const bool wall = !is && wide > kWallPart * 2.0 * widest;
      if (!wall && left_end < rim_first) foot_left = left_end;
      if (!wall && right_end > rim_last) foot_right = right_end;
      if (is) {
        sections.base_arc = foot->arc;
        // The body leaves the foot's circle gently.
        sections.base = without_ends(run, 2.0 * gap);
      } else {
        sections.foot_is_odd = true;
      }
    }
  }
  sections.left = without_ends(part(contour, foot_left, rim_first), gap);
  std::reverse(sections.left.begin(), sections.left.end());
  sections.right = without_ends(part(contour, rim_last + 1, foot_right), gap);
  const double unknown_gap = kUnknownGapPart * height;
  for (auto* side : {&sections.left, &sections.right}) {
    if (!sections.rim_arc) leave_out_level_end(axis, unknown_gap, side->begin(), side->end());
    if (!sections.base_arc) leave_out_level_end(axis, unknown_gap, side->rbegin(), side->rend());
    if (sections.rim_arc) leave_out_near(*sections.rim_arc, axis, kNearRimPart * height, *side);
    if (sections.base_arc) leave_out_near(*sections.base_arc, axis, kNearFootPart * height, *side);
  }
  return sections;
}

std::optional<Arc> trimmed_to_arc(const Arc& arc, const Axis& axis, std::vector<EdgeNode>& fitted) {
  constexpr double kOffPx = 0.35;
  constexpr double kOffSd = 3.0;
  constexpr std::size_t kLeastGood = 10;
  constexpr int kInARow = 3;
  const auto good = [](const EdgeNode& node) { return node.doubt == nullptr && !node.left_out; };
  Arc better = arc;
  // Ends that are not the ellipse's pull at it: twice is enough to see them.
  for (int round = 0; round < 2; ++round) {
    std::vector<cv::Point2d> uv;
    for (const EdgeNode& node : fitted) {
      if (good(node)) uv.push_back(axis.to_axis(node.at));
    }
    if (uv.size() < kLeastGood) {
      for (EdgeNode& node : fitted) node.left_out = true;
      return std::nullopt;
    }
    better = refined_arc(better, uv, kOffPx);
    const auto off = [&](const EdgeNode& node) {
      return std::abs(better.distance(axis.to_axis(node.at))) > kOffPx + kOffSd * node.fit.sd_px;
    };
    // From each end up to where some in a row lie on it.
    const auto trim = [&](auto begin, auto end) {
      int on = 0;
      for (auto node = begin; node != end && on < kInARow; ++node) {
        if (!good(*node)) continue;
        on = off(*node) ? 0 : on + 1;
        if (on == kInARow) break;
        if (off(*node)) {
          for (auto before = begin; before != node; ++before) before->left_out = true;
          node->left_out = true;
        }
      }
    };
    trim(fitted.begin(), fitted.end());
    trim(fitted.rbegin(), fitted.rend());
  }
  return better;
}

}  // namespace potshadow
