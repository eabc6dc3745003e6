// SPDX-License-Identifier: MIT
#include "outline/mirrored.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace potshadow {
namespace {

// A box drawn by hand has the axis this near its middle, a part of its width; and a camera held by
// hand leans by so much.
constexpr double kOffMiddle = 0.10;
constexpr double kMostLeanDeg = 12.0;
constexpr double kLeanStepDeg = 1.0;
// An edge is strong where it is as steep as the steepest fifth of the box.
constexpr double kStrongShare = 0.80;
// Weights of the costs at one height.
constexpr double kEdge = 1.0;       // an edge on one side
constexpr double kPair = 1.5;       // edges that are mirror images
constexpr double kLabel = 0.06;     // a pixel labelled wrongly
constexpr double kMostLabel = 6.0;  // all of them: a reflection must not outvote the edges
constexpr double kJump = 0.12;      // a pixel of change from one height to the next
// From here on an edge counts as seen.
constexpr double kSeen = 0.35;
constexpr int kLeastHeights = 8;

struct Maps {
  cv::Mat x;  // CV_32F: the edge's direction square to it, times its strength from 0 to 1
  cv::Mat y;
  cv::Mat labels;  // CV_32F: 1 on the vessel
};

Maps maps_of(const VesselMask& mask) {
  cv::Mat smooth;
  cv::GaussianBlur(mask.bgr, smooth, cv::Size(), 1.0);
  cv::Mat dx;
  cv::Mat dy;
  cv::Sobel(smooth, dx, CV_32F, 1, 0, 3, 0.125);
  cv::Sobel(smooth, dy, CV_32F, 0, 1, 3, 0.125);
  Maps maps;
  maps.x.create(mask.bgr.size(), CV_32F);
  maps.y.create(mask.bgr.size(), CV_32F);
  std::vector<float> steep;
  for (int row = 0; row < dx.rows; ++row) {
    for (int column = 0; column < dx.cols; ++column) {
      const auto& gx = dx.at<cv::Vec3f>(row, column);
      const auto& gy = dy.at<cv::Vec3f>(row, column);
      int best = 0;
      for (int c = 1; c < 3; ++c) {
        if (std::hypot(gx[c], gy[c]) > std::hypot(gx[best], gy[best])) best = c;
      }
      maps.x.at<float>(row, column) = gx[best];
      maps.y.at<float>(row, column) = gy[best];
      if (mask.box.contains(cv::Point2d(column, row)))
        steep.push_back(std::hypot(gx[best], gy[best]));
    }
  }
  float strong = 1.F;
  if (!steep.empty()) {
    const auto at = steep.begin() + static_cast<std::ptrdiff_t>(
                                        kStrongShare * static_cast<double>(steep.size() - 1));
    std::nth_element(steep.begin(), at, steep.end());
    strong = std::max(1.5F, *at);
  }
  for (int row = 0; row < dx.rows; ++row) {
    for (int column = 0; column < dx.cols; ++column) {
      float& gx = maps.x.at<float>(row, column);
      float& gy = maps.y.at<float>(row, column);
      const float length = std::hypot(gx, gy);
      if (length <= 0.F) continue;
      const float strength = 1.F - std::exp(-0.5F * length * length / (strong * strong));
      gx *= strength / length;
      gy *= strength / length;
    }
  }
  mask.inside.convertTo(maps.labels, CV_32F, 1.0 / 255.0);
  return maps;
}

// The maps turned so that an axis that leans by `angle` is upright; about the box's middle.
Maps turned(const Maps& maps, cv::Point2d middle, double angle_rad) {
  const cv::Mat turn =
      cv::getRotationMatrix2D(cv::Point2f(middle), -angle_rad * 180.0 / std::numbers::pi, 1.0);
  Maps result;
  cv::Mat x;
  cv::Mat y;
  cv::warpAffine(maps.x, x, turn, maps.x.size());
  cv::warpAffine(maps.y, y, turn, maps.y.size());
  cv::warpAffine(maps.labels, result.labels, turn, maps.labels.size());
  const double c = std::cos(angle_rad);
  const double s = std::sin(angle_rad);
  // Directions turn with the picture: a down of (s, c) becomes (0, 1).
  result.x = c * x - s * y;
  result.y = s * x + c * y;
  return result;
}

// How much of the steep edges has a mirror image about the column.
double mirrored_edges(const Maps& maps, const cv::Rect& box, int axis) {
  double sum = 0.0;
  const int reach = std::min({axis - box.x, box.x + box.width - 1 - axis, box.width / 2});
  for (int row = box.y; row < box.y + box.height; row += 2) {
    const float* x = maps.x.ptr<float>(row);
    for (int u = 6; u < reach; ++u) {
      sum += static_cast<double>(std::max(0.F, -x[axis - u] * x[axis + u]));
    }
  }
  return sum;
}

// Costs of each half width at one height.
std::vector<float> costs_at(const Maps& maps, int row, int axis, int most) {
  std::vector<float> costs(static_cast<std::size_t>(most + 1));
  const float* x = maps.x.ptr<float>(row);
  const float* y = maps.y.ptr<float>(row);
  const float* label = maps.labels.ptr<float>(row);
  const auto at = [&](const float* list, int column) {
    return column >= 0 && column < maps.x.cols ? static_cast<double>(list[column]) : 0.0;
  };
  std::vector<double> wrong(static_cast<std::size_t>(most + 1), 0.0);
  double all_out = 0.0;
  for (int u = 0; u <= most; ++u) all_out += (at(label, axis - u) + at(label, axis + u)) / 2.0;
  double inside = 0.0;  // labelled vessel within u
  for (int u = 0; u <= most; ++u) {
    // With half width u what is nearer is vessel: the others' vessel labels are wrong, and so are
    // the surroundings' labels within.
    wrong[static_cast<std::size_t>(u)] = (all_out - inside) + (u - inside);
    inside += (at(label, axis - u) + at(label, axis + u)) / 2.0;
  }
  for (int u = 0; u <= most; ++u) {
    double cost = std::min(kMostLabel, kLabel * wrong[static_cast<std::size_t>(u)]);
    if (u > 0) {
      const double xl = at(x, axis - u);
      const double yl = at(y, axis - u);
      const double xr = at(x, axis + u);
      const double yr = at(y, axis + u);
      cost -= kEdge * (std::hypot(xl, yl) + std::hypot(xr, yr)) / 2.0;
      // A mirror image points the other way across and the same way along the axis; lit from one
      // side it may also point just the other way.
      cost -= kPair * std::abs(yl * yr - xl * xr);
    }
    costs[static_cast<std::size_t>(u)] = static_cast<float>(cost);
  }
  return costs;
}

// Returns the half width at each height with the least sum of costs.
std::vector<int> half_widths(const std::vector<std::vector<float>>& costs) {
  const std::size_t rows = costs.size();
  const std::size_t states = costs.front().size();
  std::vector<std::vector<int>> from(rows, std::vector<int>(states, 0));
  std::vector<float> total = costs.front();
  for (std::size_t row = 1; row < rows; ++row) {
    // The cheapest way to each state from all others, by two sweeps.
    std::vector<float> best = total;
    std::vector<int>& way = from[row];
    for (std::size_t s = 0; s < states; ++s) way[s] = static_cast<int>(s);
    const auto better = [&](std::size_t to, std::size_t by) {
      const float cost = best[by] + static_cast<float>(kJump);
      if (cost < best[to]) {
        best[to] = cost;
        way[to] = way[by];
      }
    };
    for (std::size_t s = 1; s < states; ++s) better(s, s - 1);
    for (std::size_t s = states - 1; s-- > 0;) better(s, s + 1);
    for (std::size_t s = 0; s < states; ++s) total[s] = best[s] + costs[row][s];
  }
  std::vector<int> widths(rows, 0);
  auto state = static_cast<int>(std::min_element(total.begin(), total.end()) - total.begin());
  for (std::size_t row = rows; row-- > 0;) {
    widths[row] = state;
    state = from[row][static_cast<std::size_t>(state)];
  }
  return widths;
}

}  // namespace

Mirrored mirror_outline(VesselMask& mask) {
  Mirrored result;
  const cv::Rect box = cv::Rect(mask.box) & cv::Rect(cv::Point(0, 0), mask.bgr.size());
  // Room on both sides of the box shows that the picture does not cut it.
  if (box.x < 3 || box.x + box.width > mask.bgr.cols - 3) return result;
  const Maps maps = maps_of(mask);
  const cv::Point2d middle(box.x + box.width / 2.0, box.y + box.height / 2.0);
  double best = -1.0;
  double lean = 0.0;
  int axis = 0;
  const int off = static_cast<int>(kOffMiddle * box.width);
  const auto look = [&](double from_deg, double to_deg, double step_deg) {
    for (double degrees = from_deg; degrees <= to_deg + 1e-9; degrees += step_deg) {
      const double angle = degrees * std::numbers::pi / 180.0;
      const Maps now = turned(maps, middle, angle);
      const int from = static_cast<int>(middle.x) - off;
      for (int column = from; column <= from + 2 * off; ++column) {
        const double score = mirrored_edges(now, box, column);
        if (score <= best) continue;
        best = score;
        lean = angle;
        axis = column;
      }
    }
  };
  look(-kMostLeanDeg, kMostLeanDeg, kLeanStepDeg);
  const double rough = lean * 180.0 / std::numbers::pi;
  look(rough - kLeanStepDeg / 2.0, rough + kLeanStepDeg / 2.0, kLeanStepDeg / 4.0);
  const Maps upright = turned(maps, middle, lean);
  const int most = box.width / 2 + off;
  std::vector<std::vector<float>> costs;
  for (int row = box.y; row < box.y + box.height; ++row) {
    costs.push_back(costs_at(upright, row, axis, most));
  }
  const std::vector<int> widths = half_widths(costs);
  cv::Mat outline = cv::Mat::zeros(mask.inside.size(), CV_8U);
  int heights = 0;
  int seen = 0;
  for (std::size_t i = 0; i < widths.size(); ++i) {
    const int row = box.y + static_cast<int>(i);
    const int width = widths[i];
    if (width == 0) continue;
    cv::line(outline, {axis - width + 1, row}, {axis + width - 1, row}, cv::Scalar(255));
    const auto strength = [&](int column) {
      float most_near = 0.F;
      for (int k = column - 2; k <= column + 2; ++k) {
        if (k < 0 || k >= upright.x.cols) continue;
        most_near = std::max(most_near,
                             std::hypot(upright.x.at<float>(row, k), upright.y.at<float>(row, k)));
      }
      return most_near;
    };
    ++heights;
    if (strength(axis - width) > kSeen && strength(axis + width) > kSeen) ++seen;
  }
  if (heights < kLeastHeights) return result;
  // A height or two that stick out of the rim or the foot along the axis.
  cv::morphologyEx(outline, outline, cv::MORPH_OPEN,
                   cv::getStructuringElement(cv::MORPH_ELLIPSE, cv::Size(7, 7)));
  if (cv::countNonZero(outline) == 0) return result;
  // Back to the mask's own way up.
  const cv::Mat turn =
      cv::getRotationMatrix2D(cv::Point2f(middle), lean * 180.0 / std::numbers::pi, 1.0);
  cv::warpAffine(outline, mask.inside, turn, outline.size(), cv::INTER_NEAREST);
  result.found = true;
  result.support = static_cast<double>(seen) / heights;
  return result;
}

}  // namespace potshadow
