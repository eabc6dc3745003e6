// SPDX-License-Identifier: MIT
#include "estimate/costs.h"

#include <ceres/ceres.h>

#include <cmath>
#include <utility>

#include "estimate/controls.h"

namespace potshadow::internal {
namespace {

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
