// SPDX-License-Identifier: MIT
#include "outline/painted.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "outline/vessel_mask.h"

namespace potshadow {
namespace {

constexpr const char* kPainted = "painted as not the vessel";
// A stroke by hand covers this much more than its own width, as a part of the box's height.
constexpr double kStrokePart = 0.004;
// The inner side is looked at this deep, in pixels of the mask; so much of it must be vessel.
constexpr int kFromDeep = 2;
constexpr int kToDeep = 7;
constexpr double kLeastVessel = 0.5;

double from_piece(PhotoPoint p, PhotoPoint a, PhotoPoint b) {
  const cv::Point2d way(b.x_px - a.x_px, b.y_px - a.y_px);
  const cv::Point2d off(p.x_px - a.x_px, p.y_px - a.y_px);
  const double square = way.dot(way);
  const double part = square > 0.0 ? std::clamp(off.dot(way) / square, 0.0, 1.0) : 0.0;
  return cv::norm(off - part * way);
}

bool on_stroke(PhotoPoint p, const TraceStroke& stroke, double more) {
  for (std::size_t i = 0; i < stroke.points.size(); ++i) {
    const std::size_t next = std::min(i + 1, stroke.points.size() - 1);
    if (from_piece(p, stroke.points[i], stroke.points[next]) <= stroke.width_px / 2.0 + more) {
      return true;
    }
  }
  return false;
}

// Whether what lies inward of a mark was labelled vessel.
bool vessel_within(const VesselMask& mask, PhotoPoint mark, cv::Point2d inward) {
  int vessel = 0;
  int all = 0;
  const cv::Point2d at = mask.from_photo(mark);
  for (int deep = kFromDeep; deep <= kToDeep; ++deep) {
    const cv::Point2d p = at + deep * inward;
    const auto x = static_cast<int>(std::lround(p.x));
    const auto y = static_cast<int>(std::lround(p.y));
    if (x < 0 || y < 0 || x >= mask.labels.cols || y >= mask.labels.rows) continue;
    ++all;
    if (mask.labels.at<unsigned char>(y, x) > 0) ++vessel;
  }
  return vessel >= kLeastVessel * all;
}

}  // namespace

void leave_out_painted(const cv::Mat& bgr, const cv::Rect2d& box,
                       const std::vector<TraceStroke>& strokes, Trace& trace) {
  std::vector<TraceStroke> not_vessel;
  for (const TraceStroke& stroke : strokes) {
    if (!stroke.vessel && !stroke.points.empty()) not_vessel.push_back(stroke);
  }
  if (not_vessel.empty()) return;
  const auto mask = vessel_mask(bgr, box, strokes);
  const double more = kStrokePart * box.height;
  const auto sift = [&](std::vector<TracedMark>& marks, TracedEdge edge,
                        std::optional<cv::Point2d> inward) {
    DoubtfulStretch out{edge, {}, kPainted};
    const auto painted = [&](const TracedMark& mark) {
      const bool gone =
          std::any_of(not_vessel.begin(), not_vessel.end(),
                      [&](const TraceStroke& one) { return on_stroke(mark.at, one, more); }) ||
          (inward && mask && !vessel_within(*mask, mark.at, *inward));
      if (gone) out.points.push_back(mark.at);
      return gone;
    };
    marks.erase(std::remove_if(marks.begin(), marks.end(), painted), marks.end());
    if (!out.points.empty()) trace.doubtful.push_back(out);
  };
  sift(trace.left, TracedEdge::kLeft, cv::Point2d(1.0, 0.0));
  sift(trace.right, TracedEdge::kRight, cv::Point2d(-1.0, 0.0));
  sift(trace.base, TracedEdge::kBase, cv::Point2d(0.0, -1.0));
  // The front of the rim has vessel to both sides.
  sift(trace.rim, TracedEdge::kRim, std::nullopt);
}

}  // namespace potshadow
