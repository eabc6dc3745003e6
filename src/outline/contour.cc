// SPDX-License-Identifier: MIT
#include "outline/contour.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

namespace potshadow {
namespace {

// Stairs of the mask's pixels are smoothed away; corners are rounded by as much.
constexpr double kSmoothMaskPx = 2.0;
constexpr double kStepMaskPx = 0.8;
constexpr double kMostLeanDeg = 15.0;
// Of a hundred heights, so many must show both sides for an axis, and for its lean.
constexpr std::size_t kLeastHeights = 6;
constexpr std::size_t kHeightsForLean = 30;
// How much of the vessel's half width a degree of lean must gain to be believed.
constexpr double kLeanCost = 0.0005;

std::size_t wrapped(std::ptrdiff_t i, std::size_t count, bool closed) {
  const auto n = static_cast<std::ptrdiff_t>(count);
  if (closed) return static_cast<std::size_t>((i % n + n) % n);
  return static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(i, 0, n - 1));
}

std::vector<cv::Point2d> smoothed(const std::vector<cv::Point2d>& points, bool closed,
                                  double deviation) {
  if (deviation <= 0.0) return points;
  const auto reach = static_cast<std::ptrdiff_t>(std::ceil(3.0 * deviation));
  std::vector<cv::Point2d> result(points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    cv::Point2d sum(0.0, 0.0);
    double weights = 0.0;
    for (std::ptrdiff_t k = -reach; k <= reach; ++k) {
      const auto at = static_cast<std::ptrdiff_t>(i) + k;
      // An open line keeps its ends: what is missing beyond one is left out on the other side too.
      if (!closed) {
        const auto last = static_cast<std::ptrdiff_t>(points.size()) - 1;
        if (at < 0 || at > last || at - 2 * k < 0 || at - 2 * k > last) continue;
      }
      const double part = static_cast<double>(k) / deviation;
      const double weight = std::exp(-0.5 * part * part);
      sum += weight * points[wrapped(at, points.size(), closed)];
      weights += weight;
    }
    result[i] = sum * (1.0 / weights);
  }
  return result;
}

// Evenly spaced points of a closed line.
std::vector<cv::Point2d> resampled(const std::vector<cv::Point2d>& closed, double step) {
  std::vector<cv::Point2d> result;
  double into = 0.0;
  for (std::size_t i = 0; i < closed.size(); ++i) {
    const cv::Point2d from = closed[i];
    const cv::Point2d way = closed[(i + 1) % closed.size()] - from;
    const double length = cv::norm(way);
    while (into < length) {
      result.push_back(from + way * (into / length));
      into += step;
    }
    into -= length;
  }
  return result;
}

double middle(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

struct Lean {
  double angle_rad = 0.0;
  double middle_u = 0.0;
  double spread = INFINITY;
  std::size_t heights = 0;  // at which both sides are seen
};

// The middles between the leftmost and rightmost point at each height, for one lean of the axis.
Lean middles_at(const std::vector<cv::Point2d>& contour, const std::vector<bool>& cut,
                double angle_rad) {
  constexpr std::size_t kBins = 100;
  // The lowest and highest tenth are rim and foot, whose middles tell less.
  constexpr std::size_t kFirst = 8;
  constexpr std::size_t kLast = 92;
  Axis turned;
  turned.down = {std::sin(angle_rad), std::cos(angle_rad)};
  double low = INFINITY;
  double high = -INFINITY;
  std::vector<cv::Point2d> uv;
  uv.reserve(contour.size());
  for (const cv::Point2d& p : contour) {
    uv.push_back(turned.to_axis(p));
    low = std::min(low, uv.back().y);
    high = std::max(high, uv.back().y);
  }
  std::vector<double> left(kBins, INFINITY);
  std::vector<double> right(kBins, -INFINITY);
  std::vector<bool> missing(kBins, false);
  for (std::size_t i = 0; i < uv.size(); ++i) {
    const double part = (uv[i].y - low) / std::max(high - low, 1e-9) * kBins;
    const auto bin = std::min(kBins - 1, static_cast<std::size_t>(part));
    left[bin] = std::min(left[bin], uv[i].x);
    right[bin] = std::max(right[bin], uv[i].x);
    if (cut[i]) missing[bin] = true;
  }
  std::vector<double> middles;
  double widest = 1e-9;
  for (std::size_t i = kFirst; i < kLast; ++i) {
    if (right[i] < left[i] || missing[i]) continue;
    middles.push_back((left[i] + right[i]) / 2.0);
    widest = std::max(widest, right[i] - left[i]);
  }
  Lean lean;
  lean.angle_rad = angle_rad;
  lean.heights = middles.size();
  if (middles.size() < kLeastHeights) return lean;
  lean.middle_u = middle(middles);
  double sum = 0.0;
  for (const double m : middles) sum += std::abs(m - lean.middle_u);
  lean.spread = sum / static_cast<double>(middles.size()) / (widest / 2.0) +
                kLeanCost * std::abs(angle_rad) * 180.0 / std::numbers::pi;
  return lean;
}

}  // namespace

SearchLine line_through(const std::vector<cv::Point2d>& points, bool closed, double smooth) {
  SearchLine line;
  line.closed = closed;
  line.at = smoothed(points, closed, smooth);
  const std::size_t count = line.at.size();
  line.outward.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const auto at = static_cast<std::ptrdiff_t>(i);
    cv::Point2d way =
        line.at[wrapped(at + 1, count, closed)] - line.at[wrapped(at - 1, count, closed)];
    const double length = cv::norm(way);
    if (length > 0.0) way *= 1.0 / length;
    line.outward[i] = {way.y, -way.x};
  }
  line.reach_px.assign(count, 0.0);
  return line;
}

SearchLine rough_contour(const VesselMask& mask, double reach_mask_px) {
  std::vector<std::vector<cv::Point>> found;
  // A border of one pixel, so that a vessel at the picture's edge has a whole contour.
  cv::Mat framed;
  cv::copyMakeBorder(mask.inside, framed, 1, 1, 1, 1, cv::BORDER_CONSTANT, cv::Scalar(0));
  cv::findContours(framed, found, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
  if (found.empty()) return {};
  const auto longest = std::max_element(
      found.begin(), found.end(), [](const auto& a, const auto& b) { return a.size() < b.size(); });
  std::vector<cv::Point2d> points;
  for (const cv::Point& p : *longest) points.emplace_back(p.x - 1.0, p.y - 1.0);
  if (points.size() < 8) return {};
  if (cv::contourArea(*longest, true) < 0.0) std::reverse(points.begin(), points.end());
  points = resampled(smoothed(points, true, kSmoothMaskPx), kStepMaskPx);
  // From the lowest place on.
  const auto lowest =
      std::max_element(points.begin(), points.end(),
                       [](const cv::Point2d& a, const cv::Point2d& b) { return a.y < b.y; });
  std::rotate(points.begin(), lowest, points.end());
  for (cv::Point2d& p : points) {
    const PhotoPoint q = mask.to_photo(p);
    p = {q.x_px, q.y_px};
  }
  SearchLine line = line_through(points, true, 0.0);
  // The chain runs through the middles of the outermost pixels.
  for (std::size_t i = 0; i < line.at.size(); ++i) line.at[i] += 0.5 * mask.scale * line.outward[i];
  line.reach_px.assign(line.at.size(), reach_mask_px * mask.scale);
  return line;
}

Axis axis_of(const std::vector<cv::Point2d>& contour, const std::vector<bool>& cut) {
  constexpr double kDegree = std::numbers::pi / 180.0;
  Lean best = middles_at(contour, cut, 0.0);
  const auto look = [&](double from, double to, double step) {
    for (double degrees = from; degrees <= to + 1e-9; degrees += step) {
      const Lean lean = middles_at(contour, cut, degrees * kDegree);
      if (lean.spread < best.spread) best = lean;
    }
  };
  if (best.heights >= kHeightsForLean) {
    look(-kMostLeanDeg, kMostLeanDeg, 1.0);
    const double rough = best.angle_rad / kDegree;
    look(rough - 0.9, rough + 0.9, 0.1);
  }
  Axis axis;
  if (!std::isfinite(best.spread)) {
    // One side is missing: the axis stands where the picture cuts.
    double sum = 0.0;
    double count = 0.0;
    for (std::size_t i = 0; i < contour.size(); ++i) {
      if (!cut[i]) continue;
      sum += contour[i].x;
      count += 1.0;
    }
    axis.at = {count > 0.0 ? sum / count : 0.0, 0.0};
    axis.seen = false;
    return axis;
  }
  axis.down = {std::sin(best.angle_rad), std::cos(best.angle_rad)};
  axis.at = best.middle_u * axis.right();
  return axis;
}

double mirrored_part(const VesselMask& mask, cv::Size picture, const Axis& axis) {
  if (!axis.seen) return 1.0;
  double both = 0.0;
  double either = 0.0;
  for (int y = 0; y < mask.inside.rows; y += 2) {
    for (int x = 0; x < mask.inside.cols; x += 2) {
      if (mask.inside.at<unsigned char>(y, x) == 0) continue;
      const PhotoPoint p = mask.to_photo({static_cast<double>(x), static_cast<double>(y)});
      cv::Point2d uv = axis.to_axis({p.x_px, p.y_px});
      uv.x = -uv.x;
      const cv::Point2d other = axis.from_axis(uv);
      if (other.x < 0.0 || other.y < 0.0 || other.x > picture.width || other.y > picture.height) {
        continue;
      }
      const cv::Point2d q = mask.from_photo({other.x, other.y});
      const auto column = static_cast<int>(std::lround(q.x));
      const auto row = static_cast<int>(std::lround(q.y));
      const bool inside = row >= 0 && column >= 0 && row < mask.inside.rows &&
                          column < mask.inside.cols &&
                          mask.inside.at<unsigned char>(row, column) > 0;
      // A pixel whose image is outside stands for itself and its image.
      both += inside ? 1.0 : 0.0;
      either += inside ? 1.0 : 2.0;
    }
  }
  return either > 0.0 ? both / either : 0.0;
}

}  // namespace potshadow
