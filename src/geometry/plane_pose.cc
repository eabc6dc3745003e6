// SPDX-License-Identifier: MIT
#include "geometry/plane_pose.h"

#include <algorithm>
#include <cmath>
#include <opencv2/calib3d.hpp>

namespace potshadow {
namespace {

Problem no_pose(const std::string& detail) {
  return {Code::kBadMarks, "The four corners do not look like a rectangle in front of the camera.",
          "Mark the reference's corners again, in order from the lower left.", detail};
}

// Whether three of the corners lie on one line: their triangle is thinner than a millionth of its
// length, far less than a pixel.
bool any_collinear(const std::array<Eigen::Vector2d, 4>& corners) {
  constexpr double kThinnest = 1e-6;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Eigen::Vector2d a = corners.at((i + 1) % 4) - corners.at(i);
    const Eigen::Vector2d b = corners.at((i + 2) % 4) - corners.at(i);
    const double area = std::abs(a.x() * b.y() - a.y() * b.x());
    const double longest = std::max({a.squaredNorm(), b.squaredNorm(), (b - a).squaredNorm()});
    if (!(area > kThinnest * longest)) return true;
  }
  return false;
}

}  // namespace

Result<std::vector<PlanePose>> rectangle_poses(const std::array<Eigen::Vector2d, 4>& corners,
                                               Mm width, Mm height) {
  POTSHADOW_CHECK(width.value > 0.0 && height.value > 0.0);
  const std::vector<cv::Point3d> object = {
      {0, 0, 0}, {width.value, 0, 0}, {width.value, height.value, 0}, {0, height.value, 0}};
  std::vector<cv::Point2d> image;
  image.reserve(corners.size());
  for (const Eigen::Vector2d& corner : corners) image.emplace_back(corner.x(), corner.y());

  if (any_collinear(corners)) return no_pose("collinear corners");
  std::vector<cv::Mat> rotations;
  std::vector<cv::Mat> translations;
  try {
    cv::solvePnPGeneric(object, image, cv::Matx33d::eye(), cv::noArray(), rotations, translations,
                        false, cv::SOLVEPNP_IPPE);
  } catch (const cv::Exception& error) {
    return no_pose(error.what());
  }
  std::vector<PlanePose> poses;
  for (std::size_t k = 0; k < rotations.size(); ++k) {
    cv::Matx33d rotation;
    cv::Rodrigues(rotations[k], rotation);
    PlanePose pose;
    for (int i = 0; i < 3; ++i) {
      for (int j = 0; j < 3; ++j) pose.camera_from_plane(i, j) = rotation(i, j);
      pose.origin_mm(i) = translations[k].at<double>(i);
    }
    if (!pose.camera_from_plane.allFinite() || !pose.origin_mm.allFinite()) continue;
    double sum = 0.0;
    bool in_front = true;
    for (std::size_t c = 0; c < corners.size(); ++c) {
      const Eigen::Vector3d at =
          pose.camera_from_plane * Eigen::Vector3d(object[c].x, object[c].y, 0.0) + pose.origin_mm;
      in_front = in_front && at.z() > 0.0;
      sum += (at.head<2>() / at.z() - corners[c]).squaredNorm();
    }
    if (!in_front) continue;
    pose.rms_normalised = std::sqrt(sum / static_cast<double>(corners.size()));
    poses.push_back(pose);
  }
  if (poses.empty()) return no_pose("no pose in front of the camera");
  return poses;
}

}  // namespace potshadow
