// SPDX-License-Identifier: MIT
#include "outline/mirror_image.h"

#include <cmath>

namespace potshadow {

MirrorImage::MirrorImage(cv::Point2d at, double lean_rad, cv::Point2d middle, double focal)
    : at_(at), down_(std::sin(lean_rad), std::cos(lean_rad)), middle_(middle) {
  const cv::Vec3d line(right().x, right().y, -right().dot(at - middle));
  const cv::Vec3d square(focal * focal * line[0], focal * focal * line[1], line[2]);
  image_ = cv::Matx33d::eye() - (2.0 / square.dot(line)) * (square * line.t());
}

cv::Point2d MirrorImage::of(cv::Point2d p) const {
  const cv::Vec3d q = image_ * cv::Vec3d(p.x - middle_.x, p.y - middle_.y, 1.0);
  return {q[0] / q[2] + middle_.x, q[1] / q[2] + middle_.y};
}

}  // namespace potshadow
