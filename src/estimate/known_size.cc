// SPDX-License-Identifier: MIT
#include "estimate/known_size.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "estimate/controls.h"

namespace potshadow::internal {
namespace {

// What is given as exact is taken to this: far below what anyone measures on a vessel, and not so
// small that its row drowns the others' digits.
constexpr double kExactMm = 0.01;

class SizeCost final : public ceres::CostFunction {
 public:
  SizeCost(std::shared_ptr<const SizeReadings> shared, std::size_t index, double value_mm,
           double sd_mm, std::size_t control_count)
      : shared_(std::move(shared)),
        index_(index),
        value_mm_(value_mm),
        sd_mm_(sd_mm),
        control_count_(control_count) {
    set_num_residuals(1);
    *mutable_parameter_block_sizes() = {kHeadSize, tail_size(control_count)};
  }
  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    const SizeTerms& terms = shared_->sizes[index_];
    const ControlBlocks controls{parameters[0], parameters[1]};
    residuals[0] = (size_value(terms, controls) - value_mm_) / sd_mm_;
    if (jacobians != nullptr) {
      ControlSlopes slopes(jacobians[0], jacobians[1], 1, control_count_);
      for (const SizeTerm& term : terms) slopes.add(0, term.index, term.amount / sd_mm_);
    }
    return std::isfinite(residuals[0]);
  }

 private:
  std::shared_ptr<const SizeReadings> shared_;
  std::size_t index_;
  double value_mm_;
  double sd_mm_;
  std::size_t control_count_;
};

class DistanceCost final : public ceres::CostFunction {
 public:
  DistanceCost(std::shared_ptr<const SizeReadings> shared, const KnownDistance& distance,
               std::size_t control_count)
      : shared_(std::move(shared)),
        value_mm_(distance.value_mm),
        sd_mm_(distance_sd(distance)),
        control_count_(control_count) {
    set_num_residuals(1);
    *mutable_parameter_block_sizes() = {kPoseSize, kHeadSize, tail_size(control_count)};
  }
  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    // From the lens to the axis at half height.
    const double height = size_value(shared_->height, ControlBlocks{parameters[1], parameters[2]});
    const double up = parameters[0][kEyeHeightMm] - height / 2.0;
    const double length = std::hypot(parameters[0][kDistanceMm], up);
    residuals[0] = (length - value_mm_) / sd_mm_;
    if (!std::isfinite(residuals[0]) || !(length > 0.0)) return false;
    if (jacobians == nullptr) return true;
    if (jacobians[0] != nullptr) {
      std::fill(jacobians[0], jacobians[0] + kPoseSize, 0.0);
      jacobians[0][kDistanceMm] = parameters[0][kDistanceMm] / length / sd_mm_;
      jacobians[0][kEyeHeightMm] = up / length / sd_mm_;
    }
    ControlSlopes slopes(jacobians[1], jacobians[2], 1, control_count_);
    for (const SizeTerm& term : shared_->height) {
      slopes.add(0, term.index, -up / length / 2.0 * term.amount / sd_mm_);
    }
    return true;
  }

 private:
  std::shared_ptr<const SizeReadings> shared_;
  double value_mm_;
  double sd_mm_;
  std::size_t control_count_;
};

// The narrowest place of the upper half, for a profile that shows no neck (yet).
double narrowest_above_half_way(const Profile& profile) {
  constexpr int kSteps = 128;
  double at = 1.0;
  double least = profile.at(1.0).radius_mm;
  for (int i = kSteps / 2; i < kSteps; ++i) {
    const double s = static_cast<double>(i) / kSteps;
    const double radius = profile.at(s).radius_mm;
    if (radius < least) {
      least = radius;
      at = s;
    }
  }
  return at;
}

}  // namespace

SizeTerms size_terms(const SizePlace& place, std::size_t count) {
  const ProfileBasis basis = profile_basis(place.s, count);
  SizeTerms terms;
  for (std::size_t j = 0; j < terms.size(); ++j) {
    terms[j] = {2 * (basis.first + j) + place.coordinate, place.factor * basis.weight[j]};
  }
  return terms;
}

bool can_give_scale(SizeName name) {
  return name == SizeName::kHeight || name == SizeName::kMaxDiameter ||
         name == SizeName::kNeckDiameter || name == SizeName::kRimDiameter ||
         name == SizeName::kBaseDiameter;
}

std::optional<SizePlace> size_place(SizeName name, const Sizes& sizes) {
  switch (name) {
    case SizeName::kHeight:
      return SizePlace{sizes.top.s, 1, 1.0};
    case SizeName::kMaxDiameter:
      return SizePlace{sizes.widest.s, 0, 2.0};
    case SizeName::kRimDiameter:
      return SizePlace{1.0, 0, 2.0};
    case SizeName::kBaseDiameter:
      return SizePlace{0.0, 0, 2.0};
    case SizeName::kNeckDiameter:
      if (!sizes.neck) return std::nullopt;
      return SizePlace{sizes.neck->s, 0, 2.0};
    case SizeName::kHeightOfMax:
    case SizeName::kHeightOfNeck:
    case SizeName::kCapacity:
      break;
  }
  return std::nullopt;
}

Result<Profile> profile_of(const std::vector<double>& controls) {
  std::vector<ProfilePoint> points;
  for (std::size_t i = 0; i < controls.size() / 2; ++i) {
    points.push_back({std::max(0.0, controls[2 * i]), controls[2 * i + 1]});
  }
  return Profile::from_controls(std::move(points));
}

std::optional<SizeReadings> size_readings(const std::vector<KnownSize>& known,
                                          const std::vector<double>& controls) {
  const auto found = profile_of(controls);
  if (!found) return std::nullopt;
  const Profile& profile = *found;
  const Sizes sizes = sizes_of(profile);
  const std::size_t count = controls.size() / 2;
  SizeReadings readings;
  readings.height = size_terms({sizes.top.s, 1, 1.0}, count);
  for (const KnownSize& size : known) {
    const SizePlace place =
        size_place(size.name, sizes).value_or(SizePlace{narrowest_above_half_way(profile), 0, 2.0});
    readings.sizes.push_back(size_terms(place, count));
  }
  return readings;
}

double size_sd(const KnownSize& size, double round_sd) {
  const double round = size.name == SizeName::kHeight ? 0.0 : round_sd * size.value_mm;
  return std::max(kExactMm, std::hypot(size.sd_mm, round));
}

double distance_sd(const KnownDistance& distance) { return std::max(kExactMm, distance.sd_mm); }

std::unique_ptr<ceres::CostFunction> size_cost(std::shared_ptr<const SizeReadings> shared,
                                               std::size_t index, double value_mm, double sd_mm,
                                               std::size_t control_count) {
  return std::make_unique<SizeCost>(std::move(shared), index, value_mm, sd_mm, control_count);
}

std::unique_ptr<ceres::CostFunction> distance_cost(std::shared_ptr<const SizeReadings> shared,
                                                   const KnownDistance& distance,
                                                   std::size_t control_count) {
  return std::make_unique<DistanceCost>(std::move(shared), distance, control_count);
}

}  // namespace potshadow::internal
