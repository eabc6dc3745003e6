// SPDX-License-Identifier: MIT
#include "outline/unlike.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/core.hpp>

namespace potshadow {
namespace {

// A vessel made by hand is uneven by some of its half width.
constexpr double kUnevenPart = 0.012;
constexpr double kUnevenPx = 3.0;
// Inside and outside look alike below the first, and below the second where they are apart by so
// many times as much on the other side: 5 % of the edges of clear pictures lie below 2.5.
constexpr double kAlike = 1.2;
constexpr double kRatherAlike = 2.5;
constexpr double kOtherApart = 3.0;
// Images farther off than this pull no more.
constexpr double kPullsPx = 3.0;
constexpr std::size_t kMostFitted = 150;
// What is known beforehand of the focal length, as a logarithm.
constexpr double kFocalSd = 0.35;
constexpr double kImageSdPx = 2.0;

using Values = Eigen::Vector3d;  // across the axis in pixels, lean, logarithm of the focal length

// The distance of a place from the nodes of the other side, outward positive; the nearest node.
struct Miss {
  double px = std::numeric_limits<double>::infinity();
  std::size_t node = 0;
};

class Sides {
 public:
  explicit Sides(const std::vector<EdgeNode>& nodes) : nodes_(nodes) {}

  Miss miss(cv::Point2d p, const MirrorImage& mirror, bool right) const {
    double least = std::numeric_limits<double>::infinity();
    Miss miss;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      const cv::Point2d off = p - nodes_[i].at;
      const double square = off.dot(off);
      if (square >= least || (mirror.to_axis(nodes_[i].at).x > 0.0) != right) continue;
      least = square;
      miss = {off.dot(nodes_[i].outward), i};
    }
    return miss;
  }

 private:
  const std::vector<EdgeNode>& nodes_;
};

}  // namespace

MirrorImage fitted_mirror(const std::vector<EdgeNode>& nodes, const Axis& axis, cv::Point2d middle,
                          double focal) {
  cv::Point2d centre(0.0, 0.0);
  for (const EdgeNode& node : nodes) {
    centre += node.at * (1.0 / static_cast<double>(std::max<std::size_t>(1, nodes.size())));
  }
  const double v = axis.to_axis(centre).y;
  const cv::Point2d at = axis.from_axis({0.0, v});
  const double lean = std::atan2(axis.down.x, axis.down.y);
  const auto mirror_of = [&](const Values& values) {
    return MirrorImage(at + values[0] * axis.right(), lean + values[1], middle,
                       focal * std::exp(values[2]));
  };
  const Sides sides(nodes);
  Values values = Values::Zero();
  const std::size_t every = 1 + nodes.size() / kMostFitted;
  for (int round = 0; round < 8; ++round) {
    const MirrorImage now = mirror_of(values);
    const Values steps(0.05, 1e-4, 1e-2);
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Values pull = Values::Zero();
    normal(2, 2) = kImageSdPx * kImageSdPx / (kFocalSd * kFocalSd);
    pull[2] = -normal(2, 2) * values[2];
    for (std::size_t i = 0; i < nodes.size(); i += every) {
      const bool right = now.to_axis(nodes[i].at).x > 0.0;
      const Miss miss = sides.miss(now.of(nodes[i].at), now, !right);
      if (!std::isfinite(miss.px)) continue;
      const EdgeNode& other = nodes[miss.node];
      Values slope;
      for (int k = 0; k < 3; ++k) {
        Values moved = values;
        moved[k] += steps[k];
        const cv::Point2d image = mirror_of(moved).of(nodes[i].at);
        slope[k] = ((image - other.at).dot(other.outward) - miss.px) / steps[k];
      }
      const double far = miss.px / kPullsPx;
      const double weight = 1.0 / (1.0 + far * far);
      normal += weight * slope * slope.transpose();
      pull -= weight * miss.px * slope;
    }
    normal.diagonal().array() *= 1.0 + 1e-6;
    const Values change = normal.ldlt().solve(pull);
    if (!change.allFinite()) break;
    values += change;
    values[2] = std::clamp(values[2], -1.0, 1.5);
  }
  return mirror_of(values);
}

void doubt_unlike(const MirrorImage& mirror, std::vector<EdgeNode>& nodes) {
  double widest = 0.0;
  for (const EdgeNode& node : nodes) {
    widest = std::max(widest, std::abs(mirror.to_axis(node.at).x));
  }
  const double most = kUnevenPx + kUnevenPart * widest;
  const Sides sides(nodes);
  std::vector<Miss> misses;
  std::vector<bool> hidden(nodes.size(), false);
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const bool right = mirror.to_axis(nodes[i].at).x > 0.0;
    misses.push_back(sides.miss(mirror.of(nodes[i].at), mirror, !right));
    const double other = std::isfinite(misses[i].px) ? nodes[misses[i].node].apart : 0.0;
    hidden[i] = nodes[i].apart < kAlike ||
                (nodes[i].apart < kRatherAlike && kOtherApart * nodes[i].apart < other);
  }
  std::vector<bool> unlike(nodes.size(), false);
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (std::abs(misses[i].px) <= most) continue;
    const bool known = std::isfinite(misses[i].px);
    // What is not seen on one side says nothing about the other.
    const bool seen = known && !hidden[misses[i].node] && nodes[misses[i].node].doubt == nullptr;
    if (seen || !known) unlike[i] = true;
    if (known && !hidden[i] && nodes[i].doubt == nullptr) unlike[misses[i].node] = true;
  }
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (nodes[i].doubt != nullptr) continue;
    if (hidden[i]) nodes[i].doubt = "what lies on both sides of the edge looks alike here";
    if (unlike[i]) nodes[i].doubt = "left and right are not alike here";
  }
}

}  // namespace potshadow
