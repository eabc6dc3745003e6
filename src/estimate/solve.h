// SPDX-License-Identifier: MIT
// The least-squares problem of the joint estimate: residuals, priors, and its linear form.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <optional>
#include <vector>

#include "estimate/answer.h"
#include "estimate/costs.h"
#include "estimate/disc.h"
#include "estimate/flat.h"
#include "estimate/input.h"
#include "estimate/matching.h"
#include "estimate/state.h"

// Internal to `estimate`. Every residual is divided by its standard deviation, so half the cost is
// minus the logarithm of the posterior and the inverse of J^T J its covariance.
namespace potshadow::internal {

// Prior means and standard deviations of one photograph; a standard deviation of zero holds the
// unknown fixed.
struct Priors {
  double log_focal = 0.0;  // against Setting::focal_start_px
  double log_focal_sd = 0.02;
  double centre_x_px = 0.0;
  double centre_y_px = 0.0;
  double centre_sd_px = 1.0;
  double k1 = 0.0;
  double k1_sd = 0.02;
  double pane_azimuth_sd_rad = 0.26;
  double pane_thickness_mm = 0.0;
  double pane_thickness_sd_mm = 0.0;
  double tilt_sd_rad = 0.0087;
  double longer_side_px = 1.0;
};

// Returns the priors that the input states or implies (design values; see the function's body), but
// for `log_focal`.
Priors priors_of(const PhotoInput& photo);

// Returns how far the vessel may be out of round, as a part of its radius.
inline double round_sd(const EstimateInput& input) { return input.out_of_round_percent / 100.0; }

// Everything the problem needs of one photograph beside the state.
struct ViewTask {
  const PhotoInput* photo = nullptr;
  Setting setting;
  Priors priors;
  std::vector<MarkRef> marks;
  double rough_px = 0.0;  // while the solution is still rough, marks count as no more precise
  std::vector<LeanDoubt> lean_doubts{};  // one a disc, or none while the solution is still rough
  std::vector<Flat> flats{};             // of the photograph
  std::vector<Seam> seams{};             // likewise
  std::vector<std::vector<MarkRef>> neighbour_marks{};  // one list a neighbour
  std::optional<std::size_t> shared_lens{};             // index into Task::lenses

  double counted_sd(double stated_px) const { return std::max(stated_px, rough_px); }
};

// Returns a view's task, its marks as precise as stated.
ViewTask view_task(const PhotoInput& photo, const Setting& setting);

// The lens of photographs taken with the same camera and zoom.
struct SharedLens {
  double log_focal_35mm = 0.0;
  double log_focal_sd = 0.02;
  double k1 = 0.0;
  double k1_sd = 0.02;
};

// A height that is bounded beforehand: of a hidden foot above the shelf, of where the vessel comes
// into sight above it, or of a hidden rim.
struct EndPrior {
  double mean_mm = 0.0;
  double sd_mm = 1.0;
};

struct Task {
  const EstimateInput* input = nullptr;
  std::vector<ViewTask> views;
  std::vector<KnownSize> sizes{};       // of the vessel, those of all photographs
  std::vector<SharedLens> lenses{};     // those that two photographs or more share
  std::optional<EndPrior> foot{};       // where it is hidden
  std::optional<EndPrior> seen_from{};  // likewise: of the lowest mark on the outline
  std::optional<EndPrior> rim{};        // likewise
  std::vector<bool> left_out{};  // one a vessel mark, or none: marks that bind nothing (wild.h)

  std::size_t mark_count() const;  // on the vessel, in all photographs
};

inline bool is_left_out(const Task& task, std::size_t mark) {
  return mark < task.left_out.size() && task.left_out[mark];
}

// Returns the known sizes of the vessel, of all photographs.
std::vector<KnownSize> known_sizes(const EstimateInput& input);

// Smoothness of the vessel's profile and of each neighbour's, in the order of the views.
using Smoothnesses = std::vector<Smoothness>;

struct SolveReport {
  bool usable = false;
  double cost = 0.0;  // half the sum of squares
  int iterations = 0;
};

// How boldly the first steps go: with care from rough starts, far from what has nearly settled.
enum class Steps { kCareful, kBold };

// Improves `state` by at most `iterations` steps of Levenberg-Marquardt; leaves it untouched where
// the result is not usable.
SolveReport solve(const Task& task, const Smoothnesses& smoothness, int iterations, State& state,
                  Steps steps = Steps::kCareful);

// Where a row of the linear form comes from.
enum class RowKind { kObservation, kSmoothness, kPrior };
// What a prior row says, where someone could say it better.
enum class Said { kOther, kFocal, kCentre, kK1, kSize, kOffset };
struct RowInfo {
  RowKind kind = RowKind::kObservation;
  DoubtSource source = DoubtSource::kMarks;
  std::size_t view = 0;  // of an observation or a reference's prior
  // Number of the reference that the row is of, where it is of one; a known size or distance
  // counts.
  std::optional<std::size_t> reference{};
  Said said = Said::kOther;
  double sd = 0.0;  // of what is said
};

// Columns of one photograph's unknowns, or -1 where they are held fixed.
struct ViewColumns {
  std::array<int, kPoseSize> pose{};
  std::array<int, kLensSize> lens{};
  std::array<int, kPaneSize> pane{};
  std::array<int, kTiltSize> tilt{};
};

// The problem linearised at a state: residuals and their derivatives by the free unknowns.
struct Linear {
  Eigen::MatrixXd jacobian;
  Eigen::VectorXd residual;
  std::vector<RowInfo> rows;
  std::vector<ViewColumns> views;
  std::vector<int> view_of_column;  // the photograph an unknown belongs to, -1 for common ones
  std::vector<int> control_column;  // of each control coordinate of the vessel (r0, z0, r1, ...)
  std::array<int, kRoundSize> round_column{};
};

Linear linearised(const Task& task, const Smoothnesses& smoothness, const State& state);

// Returns the pixel at which the model has point `k` of flat reference `f` of a photograph.
Eigen::Vector2d flat_image(const ViewTask& task, const View& view, std::size_t f, std::size_t k);

// Returns the pixels at which the model has the two marks of a seam.
std::array<Eigen::Vector2d, 2> seam_image(const ViewTask& task, const View& view, std::size_t s);

// Returns the pixel at which a photograph has a point of the vessel frame, through the pane.
Eigen::Vector2d vessel_image(const ViewTask& task, const View& view, const Eigen::Vector3d& point);

// What each mark belongs to at a state.
Matched matched(const Task& task, const State& state);

// A mark, where it was put and where the model has it.
struct Misfit {
  MarkPlace place;
  PhotoPoint marked;
  Eigen::Vector2d fitted = Eigen::Vector2d::Zero();
  double off_px = 0.0;  // signed across a curve; the distance for points
  double sd_px = 1.0;
};

// Returns the misfit of every mark: of the vessel's, photograph by photograph in the order of
// their MarkRefs, then of each photograph's flats, seams, discs and neighbours.
std::vector<Misfit> misfits(const Task& task, const State& state);

}  // namespace potshadow::internal
