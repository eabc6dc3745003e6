// SPDX-License-Identifier: MIT
// The mirror image of a turned vessel's outline, as a camera sees it.
#pragma once

#include <opencv2/core/matx.hpp>
#include <opencv2/core/types.hpp>

// Model: the two halves of a turned vessel's outline are mirror images in space; in a pinhole's
// picture they are images of each other under the harmonic homology W = I - 2 v l' / (v' l), with l
// the axis as seen and v = (f^2 l1, f^2 l2, l3) the direction square to it, from the picture's
// middle. Without perspective, f endless, W is the reflection in the axis. Source: Wong, Mendonca,
// Cipolla, "Camera calibration from surfaces of revolution", IEEE TPAMI 25(2), 2003.
// Frames: pixels of any one picture; (u, v) across and down along the axis from `at`.
namespace potshadow {

class MirrorImage {
 public:
  // `at` lies on the axis, which leans to the right going down by `lean_rad`. `middle` is where the
  // camera looks and `focal` its focal length, in the same pixels. Requires focal > 0.
  MirrorImage(cv::Point2d at, double lean_rad, cv::Point2d middle, double focal);

  cv::Point2d at() const { return at_; }
  cv::Point2d down() const { return down_; }
  cv::Point2d right() const { return {down_.y, -down_.x}; }
  cv::Point2d to_axis(cv::Point2d p) const {
    return {(p - at_).dot(right()), (p - at_).dot(down_)};
  }
  cv::Point2d from_axis(cv::Point2d uv) const { return at_ + uv.x * right() + uv.y * down_; }
  // The image of a place on the other side.
  cv::Point2d of(cv::Point2d p) const;

 private:
  cv::Point2d at_;
  cv::Point2d down_;
  cv::Point2d middle_;
  cv::Matx33d image_;
};

}  // namespace potshadow
