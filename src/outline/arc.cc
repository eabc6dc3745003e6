// SPDX-License-Identifier: MIT
#include "outline/arc.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

namespace potshadow {
namespace {

// A flatter ellipse is a line to the pixels.
constexpr double kLeastHalfHeightPx = 1.0;
// An ellipse rounder than this is no rim seen from a visitor's height.
constexpr double kMostRound = 0.95;
constexpr int kWidths = 60;
// The outermost part of an arc's width is steep, and the body leaves it there.
constexpr double kFlatPart = 0.96;
// So many points in a row off the ellipse end a run.
constexpr int kMostOff = 4;
constexpr double kLeastRun = 0.1;

using Values = Eigen::Matrix<double, 5, 1>;
using Normal = Eigen::Matrix<double, 5, 5>;

Arc arc_of(const Values& v) {
  return {v[0], v[1], std::max(std::abs(v[2]), kLeastHalfHeightPx),
          std::max(std::abs(v[3]), kLeastHalfHeightPx), v[4]};
}

Values values_of(const Arc& arc) {
  Values v;
  v << arc.u0, arc.v0, arc.a, arc.b, arc.skew;
  return v;
}

// By how much each value changes the place's distance from the arc.
Values slopes_at(const Values& v, cv::Point2d p) {
  const Values steps(1e-3, 1e-3, 1e-3, 1e-3, 1e-6);
  const double off = arc_of(v).distance(p);
  Values slopes;
  for (int k = 0; k < 5; ++k) {
    Values moved = v;
    moved[k] += steps[k];
    slopes[k] = (arc_of(moved).distance(p) - off) / steps[k];
  }
  return slopes;
}

// v = v0 + skew u -/+ b sqrt(1 - (u/a)^2) through the points by least squares, far ones weighing
// less; u0 is 0.
std::optional<Arc> arc_of_width(const std::vector<cv::Point2d>& points, std::size_t middle,
                                bool upwards, double a, double within_px) {
  std::vector<cv::Point2d> used;
  const auto take = [&](std::ptrdiff_t step) {
    for (auto i = static_cast<std::ptrdiff_t>(middle) + (step > 0 ? 0 : step);
         i >= 0 && i < static_cast<std::ptrdiff_t>(points.size()); i += step) {
      const cv::Point2d& p = points[static_cast<std::size_t>(i)];
      if (std::abs(p.x) > kFlatPart * a) break;
      used.push_back(p);
    }
  };
  take(1);
  take(-1);
  if (used.size() < 8) return std::nullopt;
  Eigen::Vector3d values = Eigen::Vector3d::Zero();
  std::vector<double> weight(used.size(), 1.0);
  for (int round = 0; round < 4; ++round) {
    Eigen::Matrix3d normal = Eigen::Matrix3d::Identity() * 1e-9;
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    const auto row_of = [&](const cv::Point2d& p) {
      const double part = p.x / a;
      const double height = std::sqrt(std::max(0.0, 1.0 - part * part));
      return Eigen::Vector3d(1.0, p.x, upwards ? -height : height);
    };
    for (std::size_t i = 0; i < used.size(); ++i) {
      const Eigen::Vector3d row = row_of(used[i]);
      normal += weight[i] * row * row.transpose();
      right += weight[i] * row * used[i].y;
    }
    values = normal.ldlt().solve(right);
    if (!values.allFinite()) return std::nullopt;
    for (std::size_t i = 0; i < used.size(); ++i) {
      const double off = std::abs(used[i].y - row_of(used[i]).dot(values));
      weight[i] = off <= within_px ? 1.0 : within_px / off;
    }
  }
  if (values[2] < -within_px || values[2] > kMostRound * a) return std::nullopt;
  return Arc{0.0, values[0], a, std::max(values[2], kLeastHalfHeightPx), values[1]};
}

// How far the contour follows the arc from `middle` on, both ways.
ArcRun followed(const Arc& arc, const std::vector<cv::Point2d>& points, std::size_t middle,
                double within_px) {
  const auto walk = [&](std::ptrdiff_t step) {
    auto good = static_cast<std::ptrdiff_t>(middle);
    int off = 0;
    for (auto i = good; i >= 0 && i < static_cast<std::ptrdiff_t>(points.size()); i += step) {
      if (std::abs(arc.distance(points[static_cast<std::size_t>(i)])) <= within_px) {
        good = i;
        off = 0;
      } else if (++off > kMostOff) {
        break;
      }
    }
    return static_cast<std::size_t>(good);
  };
  ArcRun run{arc, walk(-1), walk(1), 0.0};
  double squares = 0.0;
  for (std::size_t i = run.first; i <= run.last; ++i) {
    squares += std::min(std::pow(arc.distance(points[i]), 2), 4.0 * within_px * within_px);
  }
  run.rms_px = std::sqrt(squares / static_cast<double>(run.last - run.first + 1));
  return run;
}

std::vector<cv::Point2d> points_of(const ArcRun& run, const std::vector<cv::Point2d>& points) {
  return {points.begin() + static_cast<std::ptrdiff_t>(run.first),
          points.begin() + static_cast<std::ptrdiff_t>(run.last) + 1};
}

}  // namespace

double Arc::distance(cv::Point2d uv) const {
  const double x = (uv.x - u0) / a;
  const double y = (uv.y - v0 - skew * (uv.x - u0)) / b;
  const double out = std::hypot(x, y);
  if (out < 1e-9) return -std::min(a, b);
  // (out - 1) over its slope: exact along both axes, and near the ellipse everywhere.
  const double slope_v = y / b / out;
  const double slope_u = x / a / out - skew * slope_v;
  return (out - 1.0) / std::hypot(slope_u, slope_v);
}

cv::Point2d Arc::place(double angle_rad) const {
  const double u = a * std::cos(angle_rad);
  return {u0 + u, v0 + skew * u - b * std::sin(angle_rad)};
}

Arc refined_arc(const Arc& arc, const std::vector<cv::Point2d>& points, double within_px) {
  if (points.size() < 10) return arc;
  Values v = values_of(arc);
  const auto cost_of = [&](const Values& at) {
    double cost = 0.0;
    const Arc one = arc_of(at);
    for (const cv::Point2d& p : points) {
      const double off = std::abs(one.distance(p));
      cost += off <= within_px ? off * off : within_px * (2.0 * off - within_px);
    }
    return cost;
  };
  double damping = 1e-4;
  double cost = cost_of(v);
  for (int round = 0; round < 30 && damping < 1e6; ++round) {
    Normal normal = Normal::Zero();
    Values pull = Values::Zero();
    for (const cv::Point2d& p : points) {
      const double off = arc_of(v).distance(p);
      const Values slope = slopes_at(v, p);
      const double weight = std::abs(off) <= within_px ? 1.0 : within_px / std::abs(off);
      normal += weight * slope * slope.transpose();
      pull -= weight * off * slope;
    }
    normal.diagonal() *= 1.0 + damping;
    normal.diagonal().array() += 1e-12;
    const Values next = v + normal.ldlt().solve(pull);
    const double next_cost = next.allFinite() ? cost_of(next) : INFINITY;
    if (!(next_cost < cost)) {
      damping *= 10.0;
      continue;
    }
    const bool still = cost - next_cost < 1e-9 * cost;
    v = next;
    cost = next_cost;
    damping *= 0.2;
    if (still) break;
  }
  return arc_of(v);
}

std::vector<double> arc_deviations(const Arc& arc, const std::vector<cv::Point2d>& points,
                                   double sd_px, const std::vector<double>& angles_rad) {
  const Values v = values_of(arc);
  Normal normal = Normal::Identity() * 1e-12;
  for (const cv::Point2d& p : points) {
    const Values slope = slopes_at(v, p);
    normal += slope * slope.transpose() / (sd_px * sd_px);
  }
  const Normal covariance = normal.ldlt().solve(Normal::Identity());
  std::vector<double> deviations;
  for (const double angle : angles_rad) {
    const Values slope = slopes_at(v, arc.place(angle));
    deviations.push_back(std::sqrt(std::max(0.0, slope.dot(covariance * slope))));
  }
  return deviations;
}

std::optional<ArcRun> longest_arc(const std::vector<cv::Point2d>& points, std::size_t middle,
                                  bool upwards, double within_px) {
  if (middle >= points.size()) return std::nullopt;
  double widest = 0.0;
  for (const cv::Point2d& p : points) widest = std::max(widest, std::abs(p.x));
  std::optional<ArcRun> best;
  double best_score = 0.0;
  for (int i = 1; i <= kWidths; ++i) {
    const double a = widest * (0.1 + 0.95 * i / kWidths);
    const auto arc = arc_of_width(points, middle, upwards, a, within_px);
    if (!arc) continue;
    const ArcRun run = followed(*arc, points, middle, within_px);
    // The longest run; of those as long the one that fits best.
    const double length = static_cast<double>(run.last - run.first);
    const double score = length * (1.0 - 0.2 * run.rms_px / within_px);
    if (score > best_score) {
      best_score = score;
      best = run;
    }
  }
  if (!best) return std::nullopt;
  for (int round = 0; round < 3; ++round) {
    const Arc better = refined_arc(best->arc, points_of(*best, points), within_px / 2.0);
    if (better.b > kMostRound * better.a || better.a > 1.3 * widest) break;
    const ArcRun run = followed(better, points, middle, within_px);
    if (run.last - run.first < best->last - best->first) break;
    *best = run;
  }
  const double wide = std::abs(points[best->last].x - points[best->first].x);
  if (wide < kLeastRun * 2.0 * widest) return std::nullopt;
  return best;
}

double part_on_rim(const std::vector<cv::Point2d>& contour) {
  constexpr std::size_t kLeastPoints = 40;
  constexpr double kMostRatio = 0.92;
  // A lip is uneven by so much of the half height, and pixels of a mask are whole.
  constexpr double kWithinPx = 1.0;
  constexpr double kWithinPart = 0.012;
  if (contour.size() < kLeastPoints) return 0.0;
  const std::vector<cv::Point2f> points(contour.begin(), contour.end());
  const cv::RotatedRect oval = cv::fitEllipseAMS(points);
  const double turn = oval.angle * std::numbers::pi / 180.0;
  const double a = oval.size.width / 2.0;
  const double b = oval.size.height / 2.0;
  if (!(std::min(a, b) > 1.0) || std::min(a, b) > kMostRatio * std::max(a, b)) return 0.0;
  const double within = kWithinPx + kWithinPart * std::min(a, b);
  const auto on = std::count_if(contour.begin(), contour.end(), [&](const cv::Point2d& p) {
    const cv::Point2d d = p - cv::Point2d(oval.center);
    const double x = (d.x * std::cos(turn) + d.y * std::sin(turn)) / a;
    const double y = (d.y * std::cos(turn) - d.x * std::sin(turn)) / b;
    // To first order near the ellipse.
    return std::abs(x * x + y * y - 1.0) < 2.0 * within * std::hypot(x / a, y / b);
  });
  return static_cast<double>(on) / static_cast<double>(contour.size());
}

}  // namespace potshadow
