// SPDX-License-Identifier: MIT
#include "estimate/solve.h"

#include <ceres/ceres.h>

#include <memory>
#include <numbers>

#include "core/check.h"
#include "estimate/disc.h"
#include "estimate/known_size.h"

namespace potshadow::internal {
namespace {

constexpr double kRadPerDeg = std::numbers::pi / 180.0;

// One mark against the surface point it is matched with: signed distance across the curve, over the
// mark's standard deviation. Parameters: pose, lens, pane, round, controls.
class SurfaceMarkCost final : public ceres::CostFunction {
 public:
  SurfaceMarkCost(Setting setting, PhotoPoint mark, double sd_px, std::size_t index,
                  std::shared_ptr<const std::vector<Match>> matches, std::size_t control_count)
      : setting_(std::move(setting)),
        mark_(mark),
        sd_px_(sd_px),
        index_(index),
        matches_(std::move(matches)) {
    set_num_residuals(1);
    *mutable_parameter_block_sizes() = {kPoseSize, kLensSize, kPaneSize, kRoundSize,
                                        static_cast<int>(2 * control_count)};
  }

  bool Evaluate(double const* const* parameters, double* residuals,
                double** jacobians) const override {
    const Match& match = (*matches_)[index_];
    if (!(parameters[0][kDistanceMm] > 1.0)) return false;  // the eye stays outside the vessel
    const double* controls = parameters[4];
    double radius = 0.0;
    double height = 0.0;
    for (std::size_t j = 0; j < 4; ++j) {
      radius += match.basis.weight[j] * controls[2 * (match.basis.first + j)];
      height += match.basis.weight[j] * controls[2 * (match.basis.first + j) + 1];
    }
    if (jacobians == nullptr) {
      residuals[0] = residual<double>(match, parameters[0], parameters[1], parameters[2],
                                      parameters[3], radius, height);
      return std::isfinite(residuals[0]);
    }

    constexpr int kUnknowns =
        int{kPoseSize} + int{kLensSize} + int{kPaneSize} + int{kRoundSize} + 2;
    using Jet = ceres::Jet<double, kUnknowns>;
    constexpr std::array<int, 4> kSizes = {kPoseSize, kLensSize, kPaneSize, kRoundSize};
    std::array<Jet, kUnknowns> jets;
    int next = 0;
    for (std::size_t block = 0; block < kSizes.size(); ++block) {
      for (int i = 0; i < kSizes[block]; ++i, ++next) {
        jets[static_cast<std::size_t>(next)] = Jet(parameters[block][i], next);
      }
    }
    const Jet radius_jet(radius, next);
    const Jet height_jet(height, next + 1);
    const Jet* pose = jets.data();
    const Jet* lens = pose + kPoseSize;
    const Jet* pane = lens + kLensSize;
    const Jet* round = pane + kPaneSize;
    const Jet value = residual<Jet>(match, pose, lens, pane, round, radius_jet, height_jet);
    residuals[0] = value.a;
    if (!std::isfinite(value.a) || !value.v.allFinite()) return false;
    next = 0;
    for (std::size_t block = 0; block < kSizes.size(); ++block) {
      for (int i = 0; i < kSizes[block]; ++i, ++next) {
        if (jacobians[block] != nullptr) jacobians[block][i] = value.v(next);
      }
    }
    if (jacobians[4] != nullptr) {
      const int size = parameter_block_sizes()[4];
      std::fill(jacobians[4], jacobians[4] + size, 0.0);
      for (std::size_t j = 0; j < 4; ++j) {
        jacobians[4][2 * (match.basis.first + j)] = match.basis.weight[j] * value.v(next);
        jacobians[4][2 * (match.basis.first + j) + 1] = match.basis.weight[j] * value.v(next + 1);
      }
    }
    return true;
  }

 private:
  template <class T>
  T residual(const Match& match, const T* pose, const T* lens, const T* pane, const T* round,
             const T& radius, const T& height) const {
    const Vector3<T> point = surface_point(match, radius, height, round);
    const Vector2<T> seen = image_of(setting_, pose, lens, pane, point, true);
    return ((seen.x() - mark_.x_px) * match.normal.x() +
            (seen.y() - mark_.y_px) * match.normal.y()) /
           sd_px_;
  }

  Setting setting_;
  PhotoPoint mark_;
  double sd_px_;
  std::size_t index_;
  std::shared_ptr<const std::vector<Match>> matches_;
};

// The four corners of a reference. Parameters: pose, lens, pane, tilt, reference.
struct CornersCost {
  Setting setting;
  Place place;
  bool refracted;
  std::array<PhotoPoint, 4> corners;
  double sd_px;

  template <class T>
  bool operator()(const T* pose, const T* lens, const T* pane, const T* tilt, const T* reference,
                  T* residual) const {
    for (std::size_t k = 0; k < 4; ++k) {
      const Vector3<T> point = reference_corner(place, reference, pane, tilt, k);
      const Vector2<T> seen = image_of(setting, pose, lens, pane, point, refracted);
      residual[2 * k] = (seen.x() - corners[k].x_px) / sd_px;
      residual[2 * k + 1] = (seen.y() - corners[k].y_px) / sd_px;
    }
    return true;
  }
};

// One mark on the edge of a disc, across the edge. Parameters as for the corners.
struct EdgeCost {
  Setting setting;
  Place place;
  bool refracted;
  PhotoPoint mark;
  double sd_px;
  std::size_t index;
  std::shared_ptr<const std::vector<EdgeMatch>> matches;

  template <class T>
  bool operator()(const T* pose, const T* lens, const T* pane, const T* tilt, const T* reference,
                  T* residual) const {
    const EdgeMatch& match = (*matches)[index];
    const Vector3<T> point = disc_point(place, reference, pane, tilt, match.angle_rad);
    const Vector2<T> seen = image_of(setting, pose, lens, pane, point, refracted);
    residual[0] =
        ((seen.x() - mark.x_px) * match.normal.x() + (seen.y() - mark.y_px) * match.normal.y()) /
        sd_px;
    return true;
  }
};

// (x_i - mean) / sd for one entry of a block.
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

// Second differences of the profile at its knots, over their prior standard deviations.
class SmoothnessCost final : public ceres::CostFunction {
 public:
  SmoothnessCost(Smoothness smoothness, std::size_t control_count)
      : smoothness_(std::move(smoothness)), count_(control_count) {
    set_num_residuals(static_cast<int>(2 * (count_ - 2)));
    *mutable_parameter_block_sizes() = {static_cast<int>(2 * count_)};
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
    const bool wanted = jacobians != nullptr && jacobians[0] != nullptr;
    const std::size_t width = 2 * count_;
    if (wanted) std::fill(jacobians[0], jacobians[0] + 2 * (count_ - 2) * width, 0.0);
    for (std::size_t k = 0; k < rows_.size(); ++k) {
      const double sd = smoothness_.sd_mm * smoothness_.relax[k];
      for (std::size_t c = 0; c < 2; ++c) {
        double sum = 0.0;
        for (std::size_t j = 0; j < 4; ++j) {
          const std::size_t column = 2 * (rows_[k].first + j) + c;
          sum += rows_[k].curvature[j] * parameters[0][column];
          if (wanted) jacobians[0][(2 * k + c) * width + column] = rows_[k].curvature[j] / sd;
        }
        residuals[2 * k + c] = sum / sd;
      }
    }
    return true;
  }

 private:
  Smoothness smoothness_;
  std::size_t count_;
  std::vector<ProfileBasis> rows_;
};

// Matches the marks anew whenever the solver moves to another point.
class Rematch final : public ceres::EvaluationCallback {
 public:
  Rematch(const Task& task, const State& state, std::shared_ptr<std::vector<Match>> matches,
          std::shared_ptr<std::vector<EdgeMatch>> edges, std::shared_ptr<SizeReadings> readings)
      : task_(task),
        state_(state),
        matches_(std::move(matches)),
        edges_(std::move(edges)),
        readings_(std::move(readings)) {}
  void PrepareForEvaluation(bool /*evaluate_jacobians*/, bool new_evaluation_point) override {
    if (new_evaluation_point || matches_->empty()) {
      *matches_ = match_marks(task_.setting, state_, task_.marks);
      edges_->clear();
      const std::vector<DiscReference>& discs = task_.input->photos.front().discs;
      for (std::size_t d = 0; d < discs.size(); ++d) {
        const auto found = match_edge(task_.setting, state_, discs[d], d);
        edges_->insert(edges_->end(), found.begin(), found.end());
      }
      const PhotoInput& photo = task_.input->photos.front();
      if (!photo.sizes.empty() || !photo.distances.empty()) {
        if (auto found = size_readings(photo, state_.controls)) *readings_ = std::move(*found);
      }
    }
  }

 private:
  const Task& task_;
  const State& state_;
  std::shared_ptr<std::vector<Match>> matches_;
  std::shared_ptr<std::vector<EdgeMatch>> edges_;  // of all discs, one disc after the other
  std::shared_ptr<SizeReadings> readings_;
};

// Terms for every known size, so that there are some even where the first profile is none.
std::shared_ptr<SizeReadings> first_readings(const Task& task, const State& state) {
  auto readings = std::make_shared<SizeReadings>();
  const std::size_t count = state.control_count();
  readings->height = size_terms({1.0, 1, 1.0}, count);
  readings->sizes.assign(task.input->photos.front().sizes.size(), readings->height);
  return readings;
}

// The problem over the blocks of one state; not copied, since the solver holds pointers into it.
class Assembled {
 public:
  Assembled(const Task& task, const Smoothness& smoothness, State& state)
      : task_(task),
        state_(state),
        matches_(std::make_shared<std::vector<Match>>()),
        edges_(std::make_shared<std::vector<EdgeMatch>>()),
        readings_(first_readings(task, state)),
        rematch_(task, state, matches_, edges_, readings_) {
    ceres::Problem::Options options;
    options.evaluation_callback = &rematch_;
    problem_ = std::make_unique<ceres::Problem>(options);
    add_blocks();
    add_marks();
    add_rectangles();
    add_discs();
    add_known();
    add_priors();
    problem_->AddResidualBlock(new SmoothnessCost(smoothness, state_.control_count()), nullptr,
                               state_.controls.data());
    note({RowKind::kSmoothness, DoubtSource::kMarks}, 2 * (state_.control_count() - 2));
  }
  Assembled(const Assembled&) = delete;
  Assembled& operator=(const Assembled&) = delete;

  ceres::Problem& problem() { return *problem_; }
  const std::vector<RowInfo>& rows() const { return rows_; }

 private:
  void note(RowInfo info, std::size_t count) { rows_.insert(rows_.end(), count, info); }

  void add_block(double* block, int size, const std::vector<int>& fixed) {
    problem_->AddParameterBlock(block, size);
    if (static_cast<int>(fixed.size()) == size) {
      problem_->SetParameterBlockConstant(block);
    } else if (!fixed.empty()) {
      problem_->SetManifold(block, new ceres::SubsetManifold(size, fixed));
    }
  }

  void add_blocks() {
    const Priors& p = task_.priors;
    add_block(state_.pose.data(), kPoseSize, {});
    std::vector<int> fixed = {kK2};
    if (p.k1_sd == 0.0) fixed = {kK1, kK2};
    add_block(state_.lens.data(), kLensSize, fixed);
    const PhotoInput& photo = task_.input->photos.front();
    const auto is_on_glass = [](const auto& r) { return r.place == Place::kOnGlass; };
    const bool on_glass =
        std::any_of(photo.references.begin(), photo.references.end(), is_on_glass) ||
        std::any_of(photo.discs.begin(), photo.discs.end(), is_on_glass);
    fixed.clear();
    if (!task_.setting.glass && !on_glass) fixed.push_back(kPaneAzimuthRad);
    if (!task_.setting.glass || p.pane_thickness_sd_mm == 0.0) fixed.push_back(kPaneThicknessMm);
    add_block(state_.pane.data(), kPaneSize, fixed);
    add_block(state_.tilt.data(), kTiltSize, {});
    if (p.round_sd == 0.0) {
      add_block(state_.round.data(), kRoundSize, {0, 1, 2, 3});
    } else {
      add_block(state_.round.data(), kRoundSize, {});
    }
    // The base stands on the shelf; a round one touches it on the axis, level.
    fixed = {1};
    if (task_.input->round_base) fixed = {0, 1, 3};
    add_block(state_.controls.data(), static_cast<int>(state_.controls.size()), fixed);
  }

  void add_marks() {
    std::size_t used = 0;
    for (std::size_t i = 0; i < task_.marks.size(); ++i) {
      if (is_left_out(task_, i)) continue;
      ++used;
      problem_->AddResidualBlock(new SurfaceMarkCost(task_.setting, task_.marks[i].at, task_.sd_px,
                                                     i, matches_, state_.control_count()),
                                 nullptr, state_.pose.data(), state_.lens.data(),
                                 state_.pane.data(), state_.round.data(), state_.controls.data());
    }
    note({RowKind::kObservation, DoubtSource::kMarks}, used);
  }

  void prior(double* block, int size, int entry, double mean, double sd, DoubtSource source) {
    if (sd <= 0.0) return;
    problem_->AddResidualBlock(new EntryPrior(size, entry, mean, sd), nullptr, block);
    note({RowKind::kPrior, source}, 1);
  }

  // The prior of how a rectangle or disc is tied to the vessel.
  struct Offset {
    double mean_mm = 0.0;
    double sd_mm = 0.0;
  };
  template <class Reference>
  static Offset offset_of(const Reference& reference) {
    if (reference.place == Place::kOnGlass) {
      return {reference.glass_to_axis_mm, reference.glass_to_axis_sd_mm};
    }
    return {reference.riser_mm, reference.riser_sd_mm};
  }

  void add_place_priors(Place place, const Offset& offset, double* block) {
    prior(block, kReferenceSize, kOffsetMm, offset.mean_mm, offset.sd_mm,
          DoubtSource::kReferencePlace);
    if (place == Place::kLeaning) {
      prior(block, kReferenceSize, kLeanRad, kLeanMeanRad, kLeanSdRad,
            DoubtSource::kReferencePlace);
    }
  }

  void add_rectangles() {
    const std::vector<RectangleReference>& references = task_.input->photos.front().references;
    for (std::size_t i = 0; i < references.size(); ++i) {
      const RectangleReference& reference = references[i];
      double* block = state_.references[i].data();
      std::vector<int> fixed;
      if (reference.place != Place::kLeaning) fixed.push_back(kLeanRad);
      if (reference.size_sd_mm == 0.0) {
        fixed.push_back(kWidthMm);
        fixed.push_back(kHeightMm);
      }
      const Offset offset = offset_of(reference);
      if (offset.sd_mm == 0.0) fixed.push_back(kOffsetMm);
      add_block(block, kReferenceSize, fixed);
      const bool refracted = reference.place != Place::kOnGlass || reference.behind_glass;
      problem_->AddResidualBlock(
          new ceres::AutoDiffCostFunction<CornersCost, 8, kPoseSize, kLensSize, kPaneSize,
                                          kTiltSize, kReferenceSize>(new CornersCost{
              task_.setting, reference.place, refracted, reference.corners, task_.sd_px}),
          nullptr, state_.pose.data(), state_.lens.data(), state_.pane.data(), state_.tilt.data(),
          block);
      note({RowKind::kObservation, DoubtSource::kMarks}, 8);
      prior(block, kReferenceSize, kWidthMm, reference.width_mm, reference.size_sd_mm,
            DoubtSource::kReferenceSize);
      prior(block, kReferenceSize, kHeightMm, reference.height_mm, reference.size_sd_mm,
            DoubtSource::kReferenceSize);
      add_place_priors(reference.place, offset, block);
    }
  }

  void add_discs() {
    const std::vector<DiscReference>& discs = task_.input->photos.front().discs;
    std::size_t next = 0;
    for (std::size_t d = 0; d < discs.size(); ++d) {
      const DiscReference& disc = discs[d];
      double* block = state_.discs[d].data();
      std::vector<int> fixed;
      if (!stands_on_edge(disc.place)) fixed.push_back(kYawRad);
      if (disc.place != Place::kLeaning) fixed.push_back(kLeanRad);
      if (disc.size_sd_mm == 0.0) fixed.push_back(kWidthMm);
      fixed.push_back(kHeightMm);
      Offset offset = offset_of(disc);
      if (d < task_.lean_doubts.size()) {
        offset.mean_mm += task_.lean_doubts[d].shift_mm;
        offset.sd_mm = std::hypot(offset.sd_mm, task_.lean_doubts[d].sd_mm);
      }
      if (offset.sd_mm == 0.0) fixed.push_back(kOffsetMm);
      add_block(block, kReferenceSize, fixed);
      const bool refracted = disc.place != Place::kOnGlass || disc.behind_glass;
      for (const PhotoPoint& mark : disc.edge) {
        problem_->AddResidualBlock(
            new ceres::AutoDiffCostFunction<EdgeCost, 1, kPoseSize, kLensSize, kPaneSize, kTiltSize,
                                            kReferenceSize>(new EdgeCost{
                task_.setting, disc.place, refracted, mark, task_.sd_px, next++, edges_}),
            nullptr, state_.pose.data(), state_.lens.data(), state_.pane.data(), state_.tilt.data(),
            block);
      }
      note({RowKind::kObservation, DoubtSource::kMarks}, disc.edge.size());
      prior(block, kReferenceSize, kWidthMm, disc.diameter_mm, disc.size_sd_mm,
            DoubtSource::kReferenceSize);
      add_place_priors(disc.place, offset, block);
    }
  }

  void add_known() {
    const PhotoInput& photo = task_.input->photos.front();
    const std::size_t count = state_.control_count();
    for (std::size_t i = 0; i < photo.sizes.size(); ++i) {
      const double sd_mm = size_sd(photo.sizes[i], task_.priors.round_sd);
      problem_->AddResidualBlock(
          size_cost(readings_, i, photo.sizes[i].value_mm, sd_mm, count).release(), nullptr,
          state_.controls.data());
    }
    for (const KnownDistance& distance : photo.distances) {
      problem_->AddResidualBlock(distance_cost(readings_, distance, count).release(), nullptr,
                                 state_.pose.data(), state_.controls.data());
    }
    note({RowKind::kPrior, DoubtSource::kReferenceSize},
         photo.sizes.size() + photo.distances.size());
  }

  void add_priors() {
    const Priors& p = task_.priors;
    double* lens = state_.lens.data();
    prior(lens, kLensSize, kLogFocal, 0.0, p.log_focal_sd, DoubtSource::kFocalLength);
    prior(lens, kLensSize, kCxPx, (p.width_px - 1.0) / 2.0, p.centre_sd_px, DoubtSource::kLens);
    prior(lens, kLensSize, kCyPx, (p.height_px - 1.0) / 2.0, p.centre_sd_px, DoubtSource::kLens);
    prior(lens, kLensSize, kK1, 0.0, p.k1_sd, DoubtSource::kLens);
    double* pane = state_.pane.data();
    if (!problem_->IsParameterBlockConstant(pane)) {
      prior(pane, kPaneSize, kPaneAzimuthRad, 0.0, p.pane_azimuth_sd_rad, DoubtSource::kGlass);
      prior(pane, kPaneSize, kPaneThicknessMm, p.pane_thickness_mm, p.pane_thickness_sd_mm,
            DoubtSource::kGlass);
    }
    for (const int entry : {kTiltX, kTiltY}) {
      prior(state_.tilt.data(), kTiltSize, entry, 0.0, p.tilt_sd_rad, DoubtSource::kReferencePlace);
    }
    for (int entry = 0; entry < kRoundSize; ++entry) {
      prior(state_.round.data(), kRoundSize, entry, 0.0, p.round_sd, DoubtSource::kOutOfRound);
    }
  }

  const Task& task_;
  State& state_;
  std::shared_ptr<std::vector<Match>> matches_;
  std::shared_ptr<std::vector<EdgeMatch>> edges_;
  std::shared_ptr<SizeReadings> readings_;
  Rematch rematch_;
  std::unique_ptr<ceres::Problem> problem_;
  std::vector<RowInfo> rows_;
};

Smoothness sized(Smoothness smoothness, std::size_t control_count) {
  smoothness.relax.resize(control_count - 2, 1.0);
  return smoothness;
}

}  // namespace

Priors priors_of(const EstimateInput& input) {
  const PhotoInput& photo = input.photos.front();
  Priors p;
  p.width_px = photo.width_px;
  p.height_px = photo.height_px;
  // With no focal length given, somewhere between a wide phone lens and a short telephoto.
  p.log_focal_sd = photo.focal ? photo.focal->sd_percent / 100.0 : 0.5;
  p.centre_sd_px = photo.width_px * (photo.cropped ? 0.25 : 0.005);
  p.k1_sd = photo.lens.k1_sd;
  p.pane_azimuth_sd_rad = 15.0 * kRadPerDeg;
  if (photo.glass) {
    p.pane_thickness_mm = photo.glass->thickness_mm;
    p.pane_thickness_sd_mm = photo.glass->thickness_sd_mm;
  }
  p.tilt_sd_rad = 0.5 * kRadPerDeg;
  p.round_sd = input.out_of_round_percent / 100.0;
  return p;
}

Eigen::VectorXd second_differences(const std::vector<double>& controls) {
  const std::size_t count = controls.size() / 2;
  Eigen::VectorXd out(static_cast<Eigen::Index>(2 * (count - 2)));
  const SmoothnessCost cost(sized({1.0, {}}, count), count);
  const double* blocks[] = {controls.data()};
  cost.Evaluate(blocks, out.data(), nullptr);
  return out;
}

SolveReport solve(const Task& task, const Smoothness& smoothness, int iterations, State& state) {
  State work = state;
  Assembled assembled(task, sized(smoothness, state.control_count()), work);
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
  options.max_num_iterations = iterations;
  options.function_tolerance = 1e-6;  // half a hundredth of a sd at the usual cost
  options.parameter_tolerance = 1e-9;
  options.gradient_tolerance = 1e-10;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &assembled.problem(), &summary);
  SolveReport report;
  report.usable = summary.IsSolutionUsable();
  report.cost = summary.final_cost;
  report.iterations = static_cast<int>(summary.iterations.size());
  if (report.usable) state = work;
  return report;
}

Linear linearised(const Task& task, const Smoothness& smoothness, const State& state) {
  State work = state;
  Assembled assembled(task, sized(smoothness, state.control_count()), work);
  ceres::Problem& problem = assembled.problem();
  ceres::Problem::EvaluateOptions options;
  Linear linear;
  int next = 0;
  const auto columns = [&](double* block, int size, int* out) {
    std::fill(out, out + size, -1);
    if (problem.IsParameterBlockConstant(block)) return;
    options.parameter_blocks.push_back(block);
    // The tangent of a subset keeps the free entries in order.
    const ceres::Manifold* manifold = problem.GetManifold(block);
    std::vector<double> plus(static_cast<std::size_t>(size) *
                             static_cast<std::size_t>(problem.ParameterBlockTangentSize(block)));
    for (int i = 0; i < size; ++i) {
      bool free = true;
      if (manifold != nullptr) {
        manifold->PlusJacobian(block, plus.data());
        free = false;
        const int tangent = problem.ParameterBlockTangentSize(block);
        for (int j = 0; j < tangent; ++j) {
          free = free || plus[static_cast<std::size_t>(i * tangent + j)] != 0.0;
        }
      }
      if (free) out[i] = next++;
    }
  };
  columns(work.pose.data(), kPoseSize, linear.pose_column.data());
  columns(work.lens.data(), kLensSize, linear.lens_column.data());
  columns(work.pane.data(), kPaneSize, linear.pane_column.data());
  columns(work.tilt.data(), kTiltSize, linear.tilt_column.data());
  columns(work.round.data(), kRoundSize, linear.round_column.data());
  std::array<int, kReferenceSize> unused{};
  for (auto& reference : work.references) columns(reference.data(), kReferenceSize, unused.data());
  for (auto& disc : work.discs) columns(disc.data(), kReferenceSize, unused.data());
  linear.control_column.resize(work.controls.size());
  columns(work.controls.data(), static_cast<int>(work.controls.size()),
          linear.control_column.data());

  std::vector<double> residuals;
  ceres::CRSMatrix sparse;
  double cost = 0.0;
  const bool done = problem.Evaluate(options, &cost, &residuals, nullptr, &sparse);
  if (!done) return linear;  // no rows: the caller says so
  linear.residual = Eigen::Map<const Eigen::VectorXd>(residuals.data(),
                                                      static_cast<Eigen::Index>(residuals.size()));
  linear.jacobian = Eigen::MatrixXd::Zero(sparse.num_rows, sparse.num_cols);
  for (int row = 0; row < sparse.num_rows; ++row) {
    const auto r = static_cast<std::size_t>(row);
    for (int k = sparse.rows[r]; k < sparse.rows[r + 1]; ++k) {
      const auto at = static_cast<std::size_t>(k);
      linear.jacobian(row, sparse.cols[at]) = sparse.values[at];
    }
  }
  linear.rows = assembled.rows();
  POTSHADOW_CHECK(linear.rows.size() == residuals.size() && next == sparse.num_cols);
  return linear;
}

Eigen::Vector2d corner_image(const Task& task, const State& state, std::size_t r, std::size_t k) {
  const RectangleReference& reference = task.input->photos.front().references[r];
  const bool refracted = reference.place != Place::kOnGlass || reference.behind_glass;
  const Eigen::Vector3d point = reference_corner(reference.place, state.references[r].data(),
                                                 state.pane.data(), state.tilt.data(), k);
  return image_of<double>(task.setting, state.pose.data(), state.lens.data(), state.pane.data(),
                          point, refracted);
}

std::vector<double> misfits_px(const Task& task, const State& state) {
  std::vector<double> out;
  const std::vector<Match> matches = match_marks(task.setting, state, task.marks);
  for (std::size_t i = 0; i < matches.size(); ++i) {
    const Match& match = matches[i];
    const ProfilePoint p = profile_point(match, state.controls);
    const Eigen::Vector3d point =
        surface_point(match, p.radius_mm, p.height_mm, state.round.data());
    const Eigen::Vector2d seen = image_of<double>(
        task.setting, state.pose.data(), state.lens.data(), state.pane.data(), point, true);
    const Eigen::Vector2d mark(task.marks[i].at.x_px, task.marks[i].at.y_px);
    out.push_back((seen - mark).dot(match.normal));
  }
  const std::vector<RectangleReference>& references = task.input->photos.front().references;
  for (std::size_t r = 0; r < references.size(); ++r) {
    for (std::size_t k = 0; k < 4; ++k) {
      const PhotoPoint& corner = references[r].corners[k];
      out.push_back(
          (corner_image(task, state, r, k) - Eigen::Vector2d(corner.x_px, corner.y_px)).norm());
    }
  }
  const std::vector<DiscReference>& discs = task.input->photos.front().discs;
  for (std::size_t d = 0; d < discs.size(); ++d) {
    const std::vector<EdgeMatch> edges = match_edge(task.setting, state, discs[d], d);
    for (std::size_t i = 0; i < edges.size(); ++i) {
      const PhotoPoint& mark = discs[d].edge[i];
      const Eigen::Vector2d seen = edge_image(task.setting, state, discs[d], d, edges[i].angle_rad);
      out.push_back((seen - Eigen::Vector2d(mark.x_px, mark.y_px)).dot(edges[i].normal));
    }
  }
  return out;
}

}  // namespace potshadow::internal
