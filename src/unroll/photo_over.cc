// SPDX-License-Identifier: MIT
#include "unroll/photo_over.h"

#include <cmath>
#include <opencv2/core/utility.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>

#include "unroll/sampling.h"

namespace potshadow {
namespace {

// From how far round each camera looks.
double azimuth_of(const SolvedView& view) { return std::atan2(view.eye_mm.y(), view.eye_mm.x()); }

}  // namespace

cv::Mat seen_as(const SolvedView& other, const cv::Rect& part, const PaintedFace& face,
                double factor, const UnrollPhoto& photo) {
  constexpr int kStepPx = 4;
  const cv::Size nodes((part.width - 1) / kStepPx + 2, (part.height - 1) / kStepPx + 2);
  internal::ViewGrid grid;
  grid.x = cv::Mat::zeros(nodes, CV_32F);
  grid.y = cv::Mat::zeros(nodes, CV_32F);
  grid.weight = cv::Mat::zeros(nodes, CV_32F);
  const double turn = azimuth_of(photo.view) - azimuth_of(other);
  cv::parallel_for_(cv::Range(0, nodes.height), [&](const cv::Range& range) {
    for (int j = range.start; j < range.end; ++j) {
      for (int i = 0; i < nodes.width; ++i) {
        const SolvedView::Ray ray = other.ray(
            {static_cast<double>(part.x + i * kStepPx), static_cast<double>(part.y + j * kStepPx)});
        // The pot as it is, and the other camera's eye as much nearer.
        const auto met = face.met_by(ray.from_mm / factor, ray.along);
        if (!met) continue;
        const double azimuth = met->azimuth_rad + turn;
        const FacePlace place = face.at(azimuth, met->along_mm);
        const std::optional<PhotoPoint> at = photo.view.pixel(place.point);
        if (!at) continue;
        grid.x.at<float>(j, i) = static_cast<float>(at->x_px);
        grid.y.at<float>(j, i) = static_cast<float>(at->y_px);
        const Eigen::Vector3d eye = photo.view.apparent_eye_mm(place.point);
        const bool pictured = at->x_px >= 0.0 && at->y_px >= 0.0 &&
                              at->x_px <= photo.bgr.cols - 1.0 && at->y_px <= photo.bgr.rows - 1.0;
        if (pictured && (eye - place.point).dot(place.normal) > 0.0 &&
            !face.hidden_from(eye, azimuth, met->along_mm)) {
          grid.weight.at<float>(j, i) = 1.0F;
        }
      }
    }
  });
  // Nodes beside the pot have no pixel to lead to, so nothing is shown next to them.
  cv::Mat shown = grid.weight > 0.0F;
  cv::erode(shown, shown, cv::Mat());
  grid.weight.setTo(0.0F, shown == 0);
  internal::fill_scales(kStepPx, grid);
  return internal::painted({internal::source_of(std::move(grid), photo.bgr)}, kStepPx, part.size());
}

}  // namespace potshadow
