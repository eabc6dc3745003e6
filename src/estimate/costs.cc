// SPDX-License-Identifier: MIT
#include "estimate/costs.h"

#include <ceres/ceres.h>

#include <cmath>
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

double growth(const Match& match, const double* round) {
  double sum = 0.0;
  for (std::size_t i = 0; i < kRoundSize; ++i) sum += match.round_weight[i] * round[i];
  return sum;
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
    const double grown = growth(match, parameters[3]);
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
    const double grown = growth(match, parameters[5]);
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

struct PointResidual {
  Setting setting;
  FlatReference seat;
  bool square;
  FlatPoint point;
  double sd_px;

  template <class T>
  bool operator()(const T* pose, const T* lens, const T* pane, const T* tilt, const T* reference,
                  T* residual) const {
    const Vector3<T> at =
        flat_point(seat.place, square, reference, pane, tilt, point.across, point.up);
    const Vector2<T> seen = image_of(setting, pose, lens, pane, at, is_behind_glass(seat));
    residual[0] = (seen.x() - point.at.x_px) / sd_px;
    residual[1] = (seen.y() - point.at.y_px) / sd_px;
    return true;
  }
};

struct EdgeResidual {
  Setting setting;
  Place place;
  bool refracted;
  PhotoPoint mark;
  double sd_px;
  SharedMatched matched;
  std::size_t view;
  std::size_t index;

  template <class T>
  bool operator()(const T* pose, const T* lens, const T* pane, const T* tilt, const T* reference,
                  T* residual) const {
    const EdgeMatch& match = matched->views[view].edges[index];
    const Vector3<T> point = disc_point(place, reference, pane, tilt, match.angle_rad);
    const Vector2<T> seen = image_of(setting, pose, lens, pane, point, refracted);
    residual[0] =
        ((seen.x() - mark.x_px) * match.normal.x() + (seen.y() - mark.y_px) * match.normal.y()) /
        sd_px;
    return true;
  }
};

struct SeamResidual {
  Setting setting;
  bool on_inner_face;
  std::array<PhotoPoint, 2> marks;
  double sd_px;

  template <class T>
  bool operator()(const T* pose, const T* lens, const T* pane, const T* tilt, const T* reference,
                  const T* seam, T* residual) const {
    for (std::size_t k = 0; k < 2; ++k) {
      const Vector3<T> point =
          seam_point(on_inner_face, reference, pane, tilt,
                     seam[k == 0 ? kSeamFirstMm : kSeamSecondMm], seam[kSeamDropMm]);
      const Vector2<T> seen = image_of(setting, pose, lens, pane, point, true);
      residual[2 * k] = (seen.x() - marks[k].x_px) / sd_px;
      residual[2 * k + 1] = (seen.y() - marks[k].y_px) / sd_px;
    }
    return true;
  }
};

class EntryPrior final : public ceres::CostFunction {
 public:
  EntryPrior(int block_size, int entry, double mean, double sd)
      : entry_(entry), mean_(mean), sd_(sd) {
    set_num_residuals(1);
    *mutable_parameter_block_sizes() = {block_size};
  }
  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    residuals[0] = (parameters[0][entry_] - mean_) / sd_;
    if (jacobians != nullptr && jacobians[0] != nullptr) {
      std::fill(jacobians[0], jacobians[0] + parameter_block_sizes()[0], 0.0);
      jacobians[0][entry_] = 1.0 / sd_;
    }
    return true;
  }

 private:
  int entry_;
  double mean_;
  double sd_;
};

struct SharedLensResidual {
  int entry;
  int shared_entry;
  double shift;
  double sd;

  template <class T>
  bool operator()(const T* lens, const T* shared, T* residual) const {
    residual[0] = (lens[entry] + shift - shared[shared_entry]) / sd;
    return true;
  }
};

template <class T>
T sight_height(const Setting& setting, const T* pose, const T* lens, const SeenHeight& seen) {
  const Lens<T> through = lens_of(lens, setting.focal_start_px);
  const Vector2<T> bent((seen.mark.x_px - through.cx_px) / through.focal_px,
                        (seen.mark.y_px - through.cy_px) / through.focal_px);
  Vector2<T> flat = bent;
  constexpr int kSteps = 5;
  for (int i = 0; i < kSteps; ++i) {
    const T q = flat.squaredNorm();
    flat = bent / (T(1.0) + q * (through.k1 + q * through.k2));
  }
  const T back[3] = {-pose[kTurnX], -pose[kTurnY], -pose[kTurnZ]};
  const Vector3<T> in_camera(flat.x(), flat.y(), T(1.0));
  Vector3<T> turned;
  ceres::AngleAxisRotatePoint(back, in_camera.data(), turned.data());
  const Vector3<T> ray = setting.camera_from_vessel_start.transpose().cast<T>() * turned;
  return pose[kEyeHeightMm] + ray.z() / ray.y() * (seen.depth_mm + pose[kDistanceMm]);
}

struct SeenHeightResidual {
  const Setting& setting;
  std::shared_ptr<const SeenHeight> seen;
  double mean_mm;
  double sd_mm;

  template <class T>
  bool operator()(const T* pose, const T* lens, T* residual) const {
    residual[0] = (sight_height(setting, pose, lens, *seen) + seen->bent_mm - mean_mm) / sd_mm;
    return true;
  }
};

class SmoothnessCost final : public ceres::CostFunction {
 public:
  SmoothnessCost(Smoothness smoothness, std::size_t control_count)
      : smoothness_(std::move(smoothness)), count_(control_count) {
    smoothness_.relax.resize(count_ - 2, 1.0);
    set_num_residuals(static_cast<int>(2 * (count_ - 2)));
    *mutable_parameter_block_sizes() = {kPoseSize, kLensSize, kHeadSize, tail_size(count_)};
    for (std::size_t k = 0; k + 2 < count_; ++k) rows_.push_back(knot_basis(k, count_));
  }
  static ProfileBasis knot_basis(std::size_t k, std::size_t count) {
    const double spans = static_cast<double>(count - 3);
    ProfileBasis basis = profile_basis(static_cast<double>(k) / spans, count);
    for (double& c : basis.curvature) c /= spans * spans;
    return basis;
  }
  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    double* by_pose = jacobians != nullptr ? jacobians[0] : nullptr;
    double* by_lens = jacobians != nullptr ? jacobians[1] : nullptr;
    const ControlBlocks controls{parameters[2], parameters[3]};
    const double scale_mm = picture_scale_mm(parameters[0], parameters[1]);
    if (!(scale_mm > 0.0)) return false;
    const std::size_t height = 2 * (count_ - 2);
    if (by_pose != nullptr) std::fill(by_pose, by_pose + height * kPoseSize, 0.0);
    if (by_lens != nullptr) std::fill(by_lens, by_lens + height * kLensSize, 0.0);
    ControlSlopes by_controls(jacobians != nullptr ? jacobians[2] : nullptr,
                              jacobians != nullptr ? jacobians[3] : nullptr, height, count_);
    for (std::size_t k = 0; k < rows_.size(); ++k) {
      const double sd = smoothness_.sd * smoothness_.relax[k] * scale_mm;
      for (std::size_t c = 0; c < 2; ++c) {
        const std::size_t row = 2 * k + c;
        double sum = 0.0;
        for (std::size_t j = 0; j < 4; ++j) {
          const std::size_t at = 2 * (rows_[k].first + j) + c;
          sum += rows_[k].curvature[j] * controls[at];
          by_controls.add(row, at, rows_[k].curvature[j] / sd);
        }
        residuals[row] = sum / sd;
        if (by_pose != nullptr) {
          by_pose[row * kPoseSize + kDistanceMm] = -sum / sd / parameters[0][kDistanceMm];
        }
        if (by_lens != nullptr) by_lens[row * kLensSize + kLogFocal] = sum / sd;
      }
    }
    return true;
  }

 private:
  Smoothness smoothness_;
  std::size_t count_;
  std::vector<ProfileBasis> rows_;
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

Cost point_cost(const Setting& setting, const Flat& flat, const FlatPoint& point, double sd_px) {
  using Function = ceres::AutoDiffCostFunction<PointResidual, 2, kPoseSize, kLensSize, kPaneSize,
                                               kTiltSize, kReferenceSize>;
  return std::make_unique<Function>(
      new PointResidual{setting, flat.seat, flat.square(), point, sd_px});
}

Cost edge_cost(const Setting& setting, const DiscReference& disc, PhotoPoint mark, double sd_px,
               SharedMatched matched, std::size_t view, std::size_t index) {
  using Function = ceres::AutoDiffCostFunction<EdgeResidual, 1, kPoseSize, kLensSize, kPaneSize,
                                               kTiltSize, kReferenceSize>;
  return std::make_unique<Function>(new EdgeResidual{setting, disc.place, is_behind_glass(disc),
                                                     mark, sd_px, std::move(matched), view, index});
}

Cost seam_cost(const Setting& setting, const Seam& seam, double sd_px) {
  using Function = ceres::AutoDiffCostFunction<SeamResidual, 4, kPoseSize, kLensSize, kPaneSize,
                                               kTiltSize, kReferenceSize, kSeamSize>;
  return std::make_unique<Function>(
      new SeamResidual{setting, seam.seat.behind_glass, *seam.seat.shelf_at_glass, sd_px});
}

Cost entry_prior(int block_size, int entry, double mean, double sd) {
  return std::make_unique<EntryPrior>(block_size, entry, mean, sd);
}

Cost shared_lens_cost(int entry, int shared_entry, double shift, double sd) {
  using Function = ceres::AutoDiffCostFunction<SharedLensResidual, 1, kLensSize, kSharedLensSize>;
  return std::make_unique<Function>(new SharedLensResidual{entry, shared_entry, shift, sd});
}

Cost seen_height_cost(const Setting& setting, std::shared_ptr<const SeenHeight> seen,
                      double mean_mm, double sd_mm) {
  using Function = ceres::AutoDiffCostFunction<SeenHeightResidual, 1, kPoseSize, kLensSize>;
  return std::make_unique<Function>(
      new SeenHeightResidual{setting, std::move(seen), mean_mm, sd_mm});
}

double sight_height_mm(const Setting& setting, const View& view, const SeenHeight& seen) {
  return sight_height(setting, view.pose.data(), view.lens.data(), seen);
}

Cost smoothness_cost(const Smoothness& smoothness, std::size_t control_count) {
  return std::make_unique<SmoothnessCost>(smoothness, control_count);
}

Eigen::VectorXd second_differences(const std::vector<double>& controls) {
  const std::size_t count = controls.size() / 2;
  Eigen::VectorXd out(static_cast<Eigen::Index>(2 * (count - 2)));
  const SmoothnessCost cost({1.0, {}}, count);
  std::array<double, kPoseSize> pose{};  // such that the scale is a millimetre
  pose[kDistanceMm] = 1.0;
  const std::array<double, kLensSize> lens{};
  const double* blocks[] = {pose.data(), lens.data(), controls.data(), controls.data() + kHeadSize};
  cost.Evaluate(blocks, out.data(), nullptr);
  return out;
}

}  // namespace potshadow::internal
