// SPDX-License-Identifier: MIT
#include "unroll/view_grid.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <opencv2/core/utility.hpp>
#include <opencv2/imgproc.hpp>

namespace potshadow::internal {
namespace {

constexpr double kDegPerRad = 180.0 / std::numbers::pi;

// How much a place counts that is turned so far from the eye.
double weight_of(double obliquity_deg, const UnrollChoices& choices) {
  return std::clamp(
      (choices.blank_from_deg - obliquity_deg) / (choices.blank_from_deg - choices.full_until_deg),
      0.0, 1.0);
}

}  // namespace

FlatGrid::FlatGrid(const Development& flat, double wanted_px_per_mm) : px_per_mm(wanted_px_per_mm) {
  constexpr int kMostStepPx = 8;
  step_px = std::clamp(static_cast<int>(std::lround(px_per_mm)), 1, kMostStepPx);
  const std::vector<FlatPoint> edge = flat.outline(0.1 / px_per_mm);
  double right_mm = -std::numeric_limits<double>::infinity();
  double bottom_mm = std::numeric_limits<double>::infinity();
  left_mm = -right_mm;
  top_mm = -bottom_mm;
  for (const FlatPoint& p : edge) {
    left_mm = std::min(left_mm, p.x_mm);
    right_mm = std::max(right_mm, p.x_mm);
    bottom_mm = std::min(bottom_mm, p.y_mm);
    top_mm = std::max(top_mm, p.y_mm);
  }
  constexpr double kMostSide = 1e6;  // beyond it the caller refuses, and an int still holds it
  const auto pixels = [&](double mm) {
    return std::max(1, static_cast<int>(std::ceil(std::min(mm * px_per_mm, kMostSide))));
  };
  width_px = pixels(right_mm - left_mm);
  height_px = pixels(top_mm - bottom_mm);
  if (static_cast<double>(width_px) * height_px > kMostUnrolledPixels) return;
  inside = cv::Mat::zeros((height_px - 1) / step_px + 2, (width_px - 1) / step_px + 2, CV_8U);
  for (int j = 0; j < inside.rows; ++j) {
    for (int i = 0; i < inside.cols; ++i) {
      if (flat.holds(flat.spot(place(i * step_px, j * step_px)))) inside.at<uchar>(j, i) = 255;
    }
  }
}

FlatPoint FlatGrid::place(int x_px, int y_px) const {
  return {left_mm + (x_px + 0.5) / px_per_mm, top_mm - (y_px + 0.5) / px_per_mm};
}

// The singular values of the way from flat pixels to the photograph's, from the nodes beside.
void fill_scales(int step_px, ViewGrid& grid) {
  grid.shrink = cv::Mat::zeros(grid.x.size(), CV_32F);
  grid.least = cv::Mat::zeros(grid.x.size(), CV_32F);
  const auto step = [step_px](const cv::Mat& of, int y0, int x0, int y1, int x1) {
    return static_cast<double>(of.at<float>(y1, x1) - of.at<float>(y0, x0)) /
           (step_px * std::max(1, (y1 - y0) + (x1 - x0)));
  };
  for (int j = 0; j < grid.x.rows; ++j) {
    const int up = std::max(0, j - 1);
    const int down = std::min(grid.x.rows - 1, j + 1);
    for (int i = 0; i < grid.x.cols; ++i) {
      const int left = std::max(0, i - 1);
      const int right = std::min(grid.x.cols - 1, i + 1);
      const double xx = step(grid.x, j, left, j, right);
      const double yx = step(grid.y, j, left, j, right);
      const double xy = step(grid.x, up, i, down, i);
      const double yy = step(grid.y, up, i, down, i);
      const double sum = xx * xx + yx * yx + xy * xy + yy * yy;
      const double det = std::abs(xx * yy - xy * yx);
      const double root = std::sqrt(std::max(0.0, sum * sum - 4.0 * det * det));
      grid.shrink.at<float>(j, i) = static_cast<float>(std::sqrt((sum + root) / 2.0));
      grid.least.at<float>(j, i) = static_cast<float>(std::sqrt(std::max(0.0, (sum - root) / 2.0)));
    }
  }
}

ViewGrid view_grid(const PaintedFace& face, const Development& flat, const FlatGrid& grid,
                   const UnrollPhoto& photo, const UnrollChoices& choices) {
  ViewGrid out;
  const cv::Size nodes = grid.inside.size();
  out.x = cv::Mat::zeros(nodes, CV_32F);
  out.y = cv::Mat::zeros(nodes, CV_32F);
  cv::Mat weight = cv::Mat::zeros(nodes, CV_32F);
  cv::Mat hidden = cv::Mat::zeros(nodes, CV_8U);
  cv::parallel_for_(cv::Range(0, nodes.height), [&](const cv::Range& range) {
    for (int j = range.start; j < range.end; ++j) {
      for (int i = 0; i < nodes.width; ++i) {
        const FaceSpot spot = flat.spot(grid.place(i * grid.step_px, j * grid.step_px));
        const FacePlace place = face.at(spot.azimuth_rad, spot.along_mm);
        const std::optional<PhotoPoint> at = photo.view.pixel(place.point);
        if (!at) continue;
        out.x.at<float>(j, i) = static_cast<float>(at->x_px);
        out.y.at<float>(j, i) = static_cast<float>(at->y_px);
        const Eigen::Vector3d eye = photo.view.apparent_eye_mm(place.point);
        const double facing = (eye - place.point).normalized().dot(place.normal);
        const double turned = std::acos(std::clamp(facing, -1.0, 1.0)) * kDegPerRad;
        const bool pictured = at->x_px >= 0.0 && at->y_px >= 0.0 &&
                              at->x_px <= photo.bgr.cols - 1.0 && at->y_px <= photo.bgr.rows - 1.0;
        if (!pictured || turned >= choices.blank_from_deg) continue;
        if (face.hidden_from(eye, spot.azimuth_rad, spot.along_mm)) {
          hidden.at<uchar>(j, i) = 255;
        } else {
          weight.at<float>(j, i) = static_cast<float>(weight_of(turned, choices));
        }
      }
    }
  });
  fill_scales(grid.step_px, out);
  // Between a node that shows and one that does not nothing is shown of what hides the latter.
  cv::dilate(hidden, hidden, cv::Mat());
  weight.setTo(0.0F, hidden);
  // Beyond the development's edge the wall goes on in mind, so that its edge is sharp there.
  cv::Mat near_inside;
  cv::dilate(grid.inside, near_inside, cv::Mat());
  weight.setTo(0.0F, near_inside == 0);
  out.weight = weight;
  return out;
}

cv::Mat colours_at(const ViewGrid& grid, const std::vector<cv::Mat>& levels) {
  constexpr std::size_t kQuarter = 2;
  const std::size_t level = std::min(kQuarter, levels.size() - 1);
  const double scale = std::ldexp(1.0, -static_cast<int>(level));
  cv::Mat out;
  cv::remap(levels[level], out, grid.x * scale, grid.y * scale, cv::INTER_LINEAR,
            cv::BORDER_REPLICATE);
  return out;
}

Seen how_seen(const FlatGrid& grid, const std::vector<const ViewGrid*>& views) {
  Seen seen;
  int all = 0;
  int shown = 0;
  double finest = 0.0;
  double coarsest = 0.0;
  for (int j = 0; j < grid.inside.rows; ++j) {
    for (int i = 0; i < grid.inside.cols; ++i) {
      if (grid.inside.at<uchar>(j, i) == 0) continue;
      ++all;
      float most = 0.0F;
      double best = 0.0;  // photograph's pixels to one of the flat picture, of the squarest view
      for (const ViewGrid* view : views) {
        const float weight = view->weight.at<float>(j, i);
        if (weight <= most) continue;
        most = weight;
        best = static_cast<double>(view->least.at<float>(j, i));
      }
      if (!(most > 0.0F)) continue;
      ++shown;
      if (!(best > 0.0)) continue;
      const double mm = 1.0 / (grid.px_per_mm * best);
      if (finest == 0.0 || mm < finest) finest = mm;
      if (most >= 1.0F) coarsest = std::max(coarsest, mm);
    }
  }
  seen.part = all > 0 ? static_cast<double>(shown) / all : 0.0;
  seen.finest_mm = finest;
  seen.coarsest_mm = coarsest;
  return seen;
}

}  // namespace potshadow::internal
