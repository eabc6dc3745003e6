// SPDX-License-Identifier: MIT
#include "estimate/surface_costs.h"

#include <ceres/ceres.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <utility>

#include "estimate/controls.h"
#include "estimate/neighbour.h"
#include "estimate/picture.h"

namespace potshadow::internal {
namespace {

constexpr int kFreeLens = kLensSize - 1;  // k2 is held fixed

// A block's values as variables of a Jet, from `next` on.
template <class Jet, std::size_t Size>
std::array<Jet, Size> as_jets(const double* block, std::size_t free, int& next) {
  std::array<Jet, Size> jets;
  for (std::size_t i = 0; i < Size; ++i) {
    jets[i] = i < free ? Jet(block[i], next++) : Jet(block[i]);
  }
  return jets;
}

// What the residuals of marks on a surface share: radius and height there, and the last three
// blocks, round and both of the controls.
class OnSurface : public ceres::CostFunction {
 protected:
  OnSurface(const Setting& setting, PhotoPoint mark, double sd_px, SharedMatched matched,
            std::size_t view, std::size_t index, std::size_t control_count)
      : setting_(setting),
        mark_(mark),
        sd_px_(sd_px),
        matched_(std::move(matched)),
        view_(view),
        index_(index),
        control_count_(control_count) {
    set_num_residuals(1);
  }

  template <class T>
  T across(const Vector2<T>& seen, const Match& match) const {
    return ((seen.x() - mark_.x_px) * match.normal.x() +
            (seen.y() - mark_.y_px) * match.normal.y()) /
           sd_px_;
  }

  // Writes the derivatives by the last three blocks from those by growth, radius and height.
  void write_surface(const Match& match, double by_growth, double by_radius, double by_height,
                     double** blocks) const {
    if (blocks[0] != nullptr) {
      for (std::size_t i = 0; i < kRoundSize; ++i) blocks[0][i] = match.round_weight[i] * by_growth;
    }
    ControlSlopes slopes(blocks[1], blocks[2], 1, control_count_);
    for (std::size_t j = 0; j < 4; ++j) {
      const std::size_t at = 2 * (match.basis.first + j);
      slopes.add(0, at, match.basis.weight[j] * by_radius);
      slopes.add(0, at + 1, match.basis.weight[j] * by_height);
    }
  }

  Setting setting_;
  PhotoPoint mark_;
  double sd_px_;
  SharedMatched matched_;
  std::size_t view_;
  std::size_t index_;
  std::size_t control_count_;
};

// A wall beyond the axis looks like one on this side of it, so no step may lead there. Steps are
// tried without derivatives.
bool turned_inside_out(const ProfilePoint& p) {
  constexpr double kSlackMm = 1.0;  // a round base ends on the axis
  return p.radius_mm < -kSlackMm;
}

template <class Derivatives>
void write_block(double* jacobian, const Derivatives& by, int from, int free, int size) {
  if (jacobian == nullptr) return;
  for (int i = 0; i < size; ++i) jacobian[i] = i < free ? by(from + i) : 0.0;
}

class MarkCost final : public OnSurface {
 public:
  MarkCost(const Setting& setting, PhotoPoint mark, double sd_px, SharedMatched matched,
           std::size_t view, std::size_t index, std::size_t control_count)
      : OnSurface(setting, mark, sd_px, std::move(matched), view, index, control_count) {
    *mutable_parameter_block_sizes() = {kPoseSize,  kLensSize, kPaneSize,
                                        kRoundSize, kHeadSize, tail_size(control_count)};
  }

  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    const Match& match = matched_->views[view_].marks[index_];
    if (!(parameters[0][kDistanceMm] > 1.0)) return false;  // the eye stays outside the vessel
    const ProfilePoint p = profile_point(match, ControlBlocks{parameters[4], parameters[5]});
    if (jacobians == nullptr && turned_inside_out(p)) return false;
    const double grown = growth_at(match, parameters[3]);
    const Eigen::Vector3d point = grown_point(match, p.radius_mm, p.height_mm, grown);
    if (jacobians == nullptr) {
      residuals[0] = across<double>(
          image_of(setting_, parameters[0], parameters[1], parameters[2], point, true), match);
      return std::isfinite(residuals[0]);
    }
    const Picture picture = picture_along(setting_, parameters[0], parameters[1], parameters[2],
                                          point, match.normal / sd_px_);
    residuals[0] = across<double>(picture.image, match);
    if (!std::isfinite(residuals[0]) || !picture.by_point.allFinite()) return false;
    const auto write = [](const auto& slopes, double* block) {
      if (block != nullptr) std::copy(slopes.begin(), slopes.end(), block);
    };
    write(picture.by_pose, jacobians[0]);
    write(picture.by_lens, jacobians[1]);
    write(picture.by_pane, jacobians[2]);
    const double outwards = picture.by_point.dot(grown_point(match, 1.0, 0.0, 0.0));
    write_surface(match, outwards * p.radius_mm, outwards * (1.0 + grown), picture.by_point.z(),
                  jacobians + 3);
    return true;
  }
};

class NeighbourMarkCost final : public OnSurface {
 public:
  NeighbourMarkCost(const Setting& setting, PhotoPoint mark, double sd_px, SharedMatched matched,
                    std::size_t view, std::size_t neighbour, std::size_t index,
                    std::size_t control_count)
      : OnSurface(setting, mark, sd_px, std::move(matched), view, index, control_count),
        neighbour_(neighbour) {
    *mutable_parameter_block_sizes() = {
        kPoseSize,      kLensSize,  kPaneSize, kTiltSize,
        kNeighbourSize, kRoundSize, kHeadSize, tail_size(control_count)};
  }

  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    const NeighbourMatches& matches = matched_->views[view_].neighbours[neighbour_];
    const Match& match = matches.marks[index_];
    const ProfilePoint p = profile_point(match, ControlBlocks{parameters[6], parameters[7]});
    if (jacobians == nullptr && turned_inside_out(p)) return false;
    const double grown = growth_at(match, parameters[5]);
    if (jacobians == nullptr) {
      residuals[0] =
          residual<double>(match, matches.turn_rad, parameters[0], parameters[1], parameters[2],
                           parameters[3], parameters[4], grown, p.radius_mm, p.height_mm);
      return std::isfinite(residuals[0]);
    }
    constexpr int kUnknowns =
        int{kPoseSize} + kFreeLens + int{kPaneSize} + int{kTiltSize} + int{kNeighbourSize} + 3;
    using Jet = ceres::Jet<double, kUnknowns>;
    int next = 0;
    const auto pose = as_jets<Jet, kPoseSize>(parameters[0], kPoseSize, next);
    const auto lens = as_jets<Jet, kLensSize>(parameters[1], kFreeLens, next);
    const auto pane = as_jets<Jet, kPaneSize>(parameters[2], kPaneSize, next);
    const auto tilt = as_jets<Jet, kTiltSize>(parameters[3], kTiltSize, next);
    const auto place = as_jets<Jet, kNeighbourSize>(parameters[4], kNeighbourSize, next);
    const Jet value = residual<Jet>(match, matches.turn_rad, pose.data(), lens.data(), pane.data(),
                                    tilt.data(), place.data(), Jet(grown, next),
                                    Jet(p.radius_mm, next + 1), Jet(p.height_mm, next + 2));
    residuals[0] = value.a;
    if (!std::isfinite(value.a) || !value.v.allFinite()) return false;
    int from = 0;
    const std::array<std::pair<int, int>, 5> blocks = {{{kPoseSize, kPoseSize},
                                                        {kFreeLens, kLensSize},
                                                        {kPaneSize, kPaneSize},
                                                        {kTiltSize, kTiltSize},
                                                        {kNeighbourSize, kNeighbourSize}}};
    for (std::size_t b = 0; b < blocks.size(); ++b) {
      write_block(jacobians[b], value.v, from, blocks[b].first, blocks[b].second);
      from += blocks[b].first;
    }
    write_surface(match, value.v(next), value.v(next + 1), value.v(next + 2), jacobians + 5);
    return true;
  }

 private:
  template <class T>
  T residual(const Match& match, double turn_rad, const T* pose, const T* lens, const T* pane,
             const T* tilt, const T* place, const T& grown, const T& radius,
             const T& height) const {
    return across<T>(neighbour_image(setting_, pose, lens, pane, tilt, place, match, turn_rad,
                                     grown, radius, height),
                     match);
  }

  std::size_t neighbour_;
};

}  // namespace

Cost mark_cost(const Setting& setting, PhotoPoint mark, double sd_px, SharedMatched matched,
               std::size_t view, std::size_t index, std::size_t control_count) {
  return std::make_unique<MarkCost>(setting, mark, sd_px, std::move(matched), view, index,
                                    control_count);
}

Cost neighbour_mark_cost(const Setting& setting, PhotoPoint mark, double sd_px,
                         SharedMatched matched, std::size_t view, std::size_t neighbour,
                         std::size_t index, std::size_t control_count) {
  return std::make_unique<NeighbourMarkCost>(setting, mark, sd_px, std::move(matched), view,
                                             neighbour, index, control_count);
}

}  // namespace potshadow::internal
