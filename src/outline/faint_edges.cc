// SPDX-License-Identifier: MIT
#include "outline/faint_edges.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

namespace potshadow {
namespace {

constexpr double kLonger = 3.0;  // than the plan's windows
// Over so much of it an edge is seen clearly, or it is none.
constexpr double kMostSdPx = 0.35;
constexpr double kMostOffPx = 2.5;
constexpr double kMostBlurPx = 3.0;

}  // namespace

std::size_t nearest_place(const SearchLine& line, cv::Point2d at) {
  std::size_t near = 0;
  for (std::size_t k = 1; k < line.at.size(); ++k) {
    if (cv::norm(line.at[k] - at) < cv::norm(line.at[near] - at)) near = k;
  }
  return near;
}

void fit_faint(const cv::Mat& bgr, const SearchLine& line, double step_px, const MarkPlan& plan,
               std::vector<EdgeNode>& nodes) {
  std::vector<std::size_t> places;
  std::vector<std::pair<double, double>> offs;  // place of the line and offset, of good ones
  for (const EdgeNode& node : nodes) {
    places.push_back(nearest_place(line, node.at));
    if (node.doubt != nullptr || node.left_out) continue;
    const std::size_t k = places.back();
    offs.emplace_back(static_cast<double>(k), (node.at - line.at[k]).dot(line.outward[k]));
  }
  const auto off_at = [&](std::size_t place) {
    const auto at = static_cast<double>(place);
    const auto after =
        std::lower_bound(offs.begin(), offs.end(), at,
                         [](const auto& off, double place) { return off.first < place; });
    if (after == offs.begin()) return offs.empty() ? 0.0 : offs.front().second;
    const auto before = std::prev(after);
    if (after == offs.end()) return before->second;
    const double part = (at - before->first) / std::max(1e-9, after->first - before->first);
    return before->second * (1.0 - part) + after->second * part;
  };
  std::sort(offs.begin(), offs.end());
  EdgeWindow window;
  window.half_along_px = kLonger * plan.half_along_px;
  const auto bend_steps = static_cast<std::size_t>(std::lround(window.half_along_px / step_px));
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    EdgeNode& node = nodes[i];
    const std::size_t k = places[i];
    if (node.doubt == nullptr || node.left_out || node.inner || k < bend_steps ||
        k + bend_steps >= line.at.size()) {
      continue;
    }
    const cv::Point2d before = line.at[k - bend_steps] - line.at[k];
    const cv::Point2d after = line.at[k + bend_steps] - line.at[k];
    const double way = (cv::norm(before) + cv::norm(after)) / 2.0;
    window.outward = line.outward[k];
    window.at = line.at[k] + off_at(k) * window.outward;
    window.bend_per_px = (before + after).dot(window.outward) / (way * way);
    const cv::Rect2d inside(0.0, 0.0, bgr.cols - 1.0, bgr.rows - 1.0);
    if (!inside.contains(window.at)) continue;
    const auto fit = fit_edge(bgr, window, plan.light, plan.noise);
    if (!fit) continue;
    // Marks nearer to each other than a window is long share what they are taken from.
    const double sharing = std::max(1.0, 2.0 * window.half_along_px / plan.spacing_px);
    EdgeFit shared = *fit;
    shared.sd_px *= std::sqrt(sharing);
    if (std::abs(fit->off_px) > kMostOffPx || fit->blur_px > kMostBlurPx ||
        shared.sd_px > kMostSdPx) {
      continue;
    }
    node.fit = shared;
    node.at = window.at + fit->off_px * window.outward;
    node.outward = window.outward;
    node.bend_per_px = window.bend_per_px;
    node.doubt = nullptr;
  }
}

}  // namespace potshadow
