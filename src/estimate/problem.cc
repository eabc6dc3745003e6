// SPDX-License-Identifier: MIT
#include "estimate/problem.h"

#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <optional>
#include <utility>

#include "core/check.h"
#include "estimate/controls.h"
#include "estimate/costs.h"
#include "estimate/disc.h"
#include "estimate/flat.h"
#include "estimate/predicted.h"
#include "estimate/readings.h"
#include "estimate/surface_costs.h"
#include "photo/focal.h"

namespace potshadow::internal {
namespace {

// Focusing at another distance changes the focal length, and stabilisers move the lens (common
// practice, no source).
constexpr double kFocusingSd = 0.003;
constexpr double kSharedK1Sd = 0.002;

// Matches the marks and reads the profiles anew whenever the solver moves to another point.
class Rematch final : public ceres::EvaluationCallback {
 public:
  Rematch(const Task& task, const State& state, std::shared_ptr<Matched> matched, Readings readings)
      : task_(task), state_(state), matched_(std::move(matched)), readings_(std::move(readings)) {}
  void PrepareForEvaluation(bool /*evaluate_jacobians*/, bool new_evaluation_point) override {
    if (!new_evaluation_point && !matched_->views.empty()) return;
    *matched_ = matched(task_, state_);
    read_anew(task_, state_, *matched_, readings_);
  }

 private:
  const Task& task_;
  const State& state_;
  std::shared_ptr<Matched> matched_;
  Readings readings_;
};

}  // namespace

struct AssembledProblem::Inside {
  Inside(const Task& task, const Smoothnesses& smoothness, State& state)
      : task_(task),
        state_(state),
        matched_(std::make_shared<Matched>()),
        readings_(first_readings(task, state)),
        rematch_(task, state, matched_, readings_) {
    ceres::Problem::Options options;
    options.evaluation_callback = &rematch_;
    problem_ = std::make_unique<ceres::Problem>(options);
    add_blocks();
    for (std::size_t v = 0; v < task_.views.size(); ++v) add_marks(v);
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      add_flats(v);
      add_discs(v);
      add_seams(v);
      add_neighbours(v);
    }
    add_known();
    for (std::size_t v = 0; v < task_.views.size(); ++v) add_view_priors(v);
    add_shared_lenses();
    add_round_priors(state_.vessel.round.data(), round_free_);
    add_ends();
    POTSHADOW_CHECK(!smoothness.empty());
    add_smoothness(smoothness.front(), state_.views.front(), state_.vessel);
    std::size_t next = 1;
    for (View& view : state_.views) {
      for (NeighbourState& neighbour : view.neighbours) {
        POTSHADOW_CHECK(next < smoothness.size());
        add_smoothness(smoothness[next++], view, neighbour.body);
      }
    }
  }

  void note(RowInfo info, std::size_t count) { rows_.insert(rows_.end(), count, info); }

  template <class... Blocks>
  void add(Cost cost, RowInfo info, Blocks... blocks) {
    const auto count = static_cast<std::size_t>(cost->num_residuals());
    problem_->AddResidualBlock(cost.release(), nullptr, blocks...);
    note(info, count);
  }

  void add_block(double* block, int size, const std::vector<int>& fixed) {
    problem_->AddParameterBlock(block, size);
    if (static_cast<int>(fixed.size()) == size) {
      problem_->SetParameterBlockConstant(block);
    } else if (!fixed.empty()) {
      problem_->SetManifold(block, new ceres::SubsetManifold(size, fixed));
    }
  }

  std::vector<int> add_round(double* round) {
    std::vector<int> free;
    std::vector<int> fixed;
    for (int i = 0; i < kRoundSize; ++i) {
      (round_sd(*task_.input) == 0.0 ? fixed : free).push_back(i);
    }
    add_block(round, kRoundSize, fixed);
    return free;
  }

  // The base stands on the shelf; a round one touches it on the axis, level. A hidden one is held
  // where it is likeliest: free, the smoothness prior would draw it up to where the wall is seen.
  void add_controls(Body& body, bool round_base) {
    std::vector<int> fixed = {1};
    if (round_base) fixed = {0, 1, 3};
    add_block(head_of(body), kHeadSize, fixed);
    add_block(tail_of(body), tail_size(body.control_count()), {});
  }

  void add_blocks() {
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      const ViewTask& task = task_.views[v];
      const Priors& p = task.priors;
      View& view = state_.views[v];
      add_block(view.pose.data(), kPoseSize, {});
      std::vector<int> fixed = {kK2};
      if (p.k1_sd == 0.0) fixed = {kK1, kK2};
      add_block(view.lens.data(), kLensSize, fixed);
      const auto on_glass = [](const FlatReference& r) { return r.place == Place::kOnGlass; };
      const bool pane_turns =
          std::any_of(task.flats.begin(), task.flats.end(),
                      [&](const Flat& flat) { return on_glass(flat.seat); }) ||
          std::any_of(task.photo->discs.begin(), task.photo->discs.end(), on_glass);
      fixed.clear();
      if (!task.setting.glass && !pane_turns) fixed.push_back(kPaneAzimuthRad);
      if (!task.setting.glass || p.pane_thickness_sd_mm == 0.0) fixed.push_back(kPaneThicknessMm);
      add_block(view.pane.data(), kPaneSize, fixed);
      add_block(view.tilt.data(), kTiltSize, {});
    }
    round_free_ = add_round(state_.vessel.round.data());
    add_controls(state_.vessel, task_.input->round_base);
    for (auto& lens : state_.lenses) add_block(lens.data(), kSharedLensSize, {});
  }

  void add_marks(std::size_t v) {
    const ViewTask& task = task_.views[v];
    View& view = state_.views[v];
    for (std::size_t i = 0; i < task.marks.size(); ++i) {
      if (is_left_out(task_, next_mark_++)) continue;
      add(mark_cost(task.setting, task.marks[i].at, task.counted_sd(task.marks[i].sd_px), matched_,
                    v, i, state_.vessel.control_count()),
          {RowKind::kObservation, DoubtSource::kMarks, v, {}}, view.pose.data(), view.lens.data(),
          view.pane.data(), state_.vessel.round.data(), head_of(state_.vessel),
          tail_of(state_.vessel));
    }
  }

  void prior(double* block, int size, int entry, double mean, double sd, DoubtSource source,
             std::size_t view = 0, std::optional<std::size_t> reference = {},
             Said said = Said::kOther) {
    if (sd <= 0.0) return;
    add(entry_prior(size, entry, mean, sd), {RowKind::kPrior, source, view, reference, said, sd},
        block);
  }

  void add_place_priors(const FlatReference& seat, const Offset& offset, std::size_t v,
                        double* block) {
    if (offset.given) {
      prior(block, kReferenceSize, kOffsetMm, offset.mean_mm, offset.sd_mm,
            DoubtSource::kReferencePlace, v, seat.number, Said::kOffset);
    }
    if (seat.place == Place::kLeaning) {
      prior(block, kReferenceSize, kLeanRad, kLeanMeanRad, kLeanSdRad, DoubtSource::kReferencePlace,
            v, seat.number);
    }
  }

  void add_flats(std::size_t v) {
    const ViewTask& task = task_.views[v];
    View& view = state_.views[v];
    for (std::size_t f = 0; f < task.flats.size(); ++f) {
      const Flat& flat = task.flats[f];
      double* block = view.flats[f].data();
      add_block(block, kReferenceSize, fixed_entries(flat));
      for (const FlatPoint& point : flat.points) {
        add(point_cost(task.setting, flat, point, task.counted_sd(flat.marks_sd_px)),
            {RowKind::kObservation, DoubtSource::kMarks, v, flat.seat.number}, view.pose.data(),
            view.lens.data(), view.pane.data(), view.tilt.data(), block);
      }
      const auto size_prior = [&](int entry, double mm) {
        if (mm > 0.0) {
          prior(block, kReferenceSize, entry, mm, flat.size_sd_mm, DoubtSource::kReferenceSize, v,
                flat.seat.number, Said::kSize);
        }
      };
      size_prior(kWidthMm, flat.width_mm);
      size_prior(kHeightMm, flat.height_mm);
      add_place_priors(flat.seat, offset_of(flat.seat), v, block);
    }
  }

  void add_discs(std::size_t v) {
    const ViewTask& task = task_.views[v];
    View& view = state_.views[v];
    const std::vector<DiscReference>& discs = task.photo->discs;
    std::size_t next = 0;
    for (std::size_t d = 0; d < discs.size(); ++d) {
      const DiscReference& disc = discs[d];
      double* block = view.discs[d].data();
      Offset offset = offset_of(disc);
      if (d < task.lean_doubts.size()) {
        offset.mean_mm += task.lean_doubts[d].shift_mm;
        offset.sd_mm = std::hypot(offset.sd_mm, task.lean_doubts[d].sd_mm);
      }
      add_block(block, kReferenceSize, fixed_entries(disc, offset));
      const double sd_px = task.counted_sd(marks_sd_px(*task.photo, disc));
      for (const PhotoPoint& mark : disc.edge) {
        add(edge_cost(task.setting, disc, mark, sd_px, matched_, v, next++),
            {RowKind::kObservation, DoubtSource::kMarks, v, disc.number}, view.pose.data(),
            view.lens.data(), view.pane.data(), view.tilt.data(), block);
      }
      prior(block, kReferenceSize, kWidthMm, disc.diameter_mm, disc.size_sd_mm,
            DoubtSource::kReferenceSize, v, disc.number, Said::kSize);
      add_place_priors(disc, offset, v, block);
    }
  }

  void add_seams(std::size_t v) {
    const ViewTask& task = task_.views[v];
    View& view = state_.views[v];
    for (std::size_t s = 0; s < task.seams.size(); ++s) {
      const Seam& seam = task.seams[s];
      double* block = view.seams[s].data();
      std::vector<int> fixed;
      if (seam.seat.riser_sd_mm == 0.0) fixed.push_back(kSeamDropMm);
      add_block(block, kSeamSize, fixed);
      add(seam_cost(task.setting, seam, task.counted_sd(task.photo->marks.sd_px)),
          {RowKind::kObservation, DoubtSource::kMarks, v, seam.seat.number}, view.pose.data(),
          view.lens.data(), view.pane.data(), view.tilt.data(),
          (seam.of_disc ? view.discs : view.flats)[seam.index].data(), block);
      prior(block, kSeamSize, kSeamDropMm, seam.seat.riser_mm, seam.seat.riser_sd_mm,
            DoubtSource::kReferencePlace, v, seam.seat.number);
    }
  }

  void add_neighbours(std::size_t v) {
    const ViewTask& task = task_.views[v];
    View& view = state_.views[v];
    for (std::size_t n = 0; n < task.photo->neighbours.size(); ++n) {
      const NeighbourReference& reference = task.photo->neighbours[n];
      NeighbourState& neighbour = view.neighbours[n];
      double* place = neighbour.place.data();
      std::vector<int> fixed;
      if (reference.riser_sd_mm == 0.0) fixed.push_back(kBelowMm);
      add_block(place, kNeighbourSize, fixed);
      const std::vector<int> free = add_round(neighbour.body.round.data());
      add_controls(neighbour.body, reference.round_base);
      const std::size_t count = neighbour.body.control_count();
      for (std::size_t i = 0; i < task.neighbour_marks[n].size(); ++i) {
        const MarkRef& mark = task.neighbour_marks[n][i];
        add(neighbour_mark_cost(task.setting, mark.at, task.counted_sd(mark.sd_px), matched_, v, n,
                                i, count),
            {RowKind::kObservation, DoubtSource::kMarks, v, reference.number}, view.pose.data(),
            view.lens.data(), view.pane.data(), view.tilt.data(), place,
            neighbour.body.round.data(), head_of(neighbour.body), tail_of(neighbour.body));
      }
      const KnownSize known = size_of(reference);
      add(size_cost(readings_.neighbours[v][n], 0, known.value_mm,
                    size_sd(known, round_sd(*task_.input)), count),
          {RowKind::kPrior, DoubtSource::kReferenceSize, v, reference.number},
          head_of(neighbour.body), tail_of(neighbour.body));
      prior(place, kNeighbourSize, kBelowMm, reference.riser_mm, reference.riser_sd_mm,
            DoubtSource::kReferencePlace, v, reference.number, Said::kOffset);
      for (const int entry : {kLeanX, kLeanY}) {
        prior(place, kNeighbourSize, entry, 0.0, task.priors.tilt_sd_rad,
              DoubtSource::kReferencePlace, v, reference.number);
      }
      add_round_priors(neighbour.body.round.data(), free);
    }
  }

  void add_known() {
    const std::size_t count = state_.vessel.control_count();
    for (std::size_t i = 0; i < task_.sizes.size(); ++i) {
      const KnownSize& size = task_.sizes[i];
      add(size_cost(readings_.vessel, i, size.value_mm, size_sd(size, round_sd(*task_.input)),
                    count),
          {RowKind::kPrior, DoubtSource::kReferenceSize, photo_of_size(task_, i), size.number},
          head_of(state_.vessel), tail_of(state_.vessel));
    }
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      for (const KnownDistance& distance : task_.views[v].photo->distances) {
        add(distance_cost(readings_.vessel, distance, count),
            {RowKind::kPrior, DoubtSource::kReferenceSize, v, distance.number},
            state_.views[v].pose.data(), head_of(state_.vessel), tail_of(state_.vessel));
      }
    }
  }

  void add_view_priors(std::size_t v) {
    const Priors& p = task_.views[v].priors;
    View& view = state_.views[v];
    double* lens = view.lens.data();
    if (!task_.views[v].shared_lens) {
      prior(lens, kLensSize, kLogFocal, p.log_focal, p.log_focal_sd, DoubtSource::kFocalLength, v,
            0, Said::kFocal);
    }
    prior(lens, kLensSize, kCxPx, p.centre_x_px, p.centre_sd_px, DoubtSource::kLens, v, {},
          Said::kCentre);
    prior(lens, kLensSize, kCyPx, p.centre_y_px, p.centre_sd_px, DoubtSource::kLens, v, {},
          Said::kCentre);
    if (!task_.views[v].shared_lens) {
      prior(lens, kLensSize, kK1, p.k1, p.k1_sd, DoubtSource::kLens, v, {}, Said::kK1);
    }
    double* pane = view.pane.data();
    if (!problem_->IsParameterBlockConstant(pane)) {
      prior(pane, kPaneSize, kPaneAzimuthRad, 0.0, p.pane_azimuth_sd_rad, DoubtSource::kGlass, v);
      prior(pane, kPaneSize, kPaneThicknessMm, p.pane_thickness_mm, p.pane_thickness_sd_mm,
            DoubtSource::kGlass, v);
    }
    for (const int entry : {kTiltX, kTiltY}) {
      prior(view.tilt.data(), kTiltSize, entry, 0.0, p.tilt_sd_rad, DoubtSource::kReferencePlace,
            v);
    }
  }

  void add_shared_lenses() {
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      const ViewTask& task = task_.views[v];
      if (!task.shared_lens) continue;
      double* shared = state_.lenses[*task.shared_lens].data();
      const double start = std::log(focal_35mm_from_px(
          task.setting.focal_start_px, task.photo->width_px, task.photo->height_px));
      add(shared_lens_cost(kLogFocal, kSharedLogFocal, start, kFocusingSd),
          {RowKind::kPrior, DoubtSource::kFocalLength, v, {}}, state_.views[v].lens.data(), shared);
      if (task.priors.k1_sd > 0.0) {
        add(shared_lens_cost(kK1, kSharedK1, 0.0, kSharedK1Sd),
            {RowKind::kPrior, DoubtSource::kLens, v, {}}, state_.views[v].lens.data(), shared);
      }
    }
    for (std::size_t g = 0; g < task_.lenses.size(); ++g) {
      double* shared = state_.lenses[g].data();
      prior(shared, kSharedLensSize, kSharedLogFocal, task_.lenses[g].log_focal_35mm,
            task_.lenses[g].log_focal_sd, DoubtSource::kFocalLength, 0, {}, Said::kFocal);
      constexpr double kAsGoodAsFixed = 1e-6;
      prior(shared, kSharedLensSize, kSharedK1, task_.lenses[g].k1,
            std::max(kAsGoodAsFixed, task_.lenses[g].k1_sd), DoubtSource::kLens, 0, {}, Said::kK1);
    }
  }

  void add_round_priors(double* round, const std::vector<int>& free) {
    for (const int entry : free) {
      // Foot and rim are oval as the body is, but for a little of their own.
      const bool body = entry == kBodyCos2 || entry == kBodySin2;
      prior(round, kRoundSize, entry, 0.0, (body ? 1.0 : kOwnOval) * round_sd(*task_.input),
            DoubtSource::kOutOfRound);
    }
  }

  // Where an end of the profile is not seen.
  void add_ends() {
    if (task_.seen_from) {
      const std::size_t v = readings_.lowest_in;
      View& view = state_.views[v];
      add(seen_height_cost(task_.views[v].setting, readings_.lowest, task_.seen_from->mean_mm,
                           task_.seen_from->sd_mm),
          {RowKind::kPrior, DoubtSource::kHidden}, view.pose.data(), view.lens.data());
    }
    if (task_.rim) {
      const int size = tail_size(state_.vessel.control_count());
      prior(tail_of(state_.vessel), size, size - 1, task_.rim->mean_mm, task_.rim->sd_mm,
            DoubtSource::kHidden);
    }
  }

  void add_smoothness(const Smoothness& smoothness, View& view, Body& body) {
    add(smoothness_cost(smoothness, body.control_count()),
        {RowKind::kSmoothness, DoubtSource::kMarks}, view.pose.data(), view.lens.data(),
        head_of(body), tail_of(body));
  }

  const Task& task_;
  State& state_;
  std::shared_ptr<Matched> matched_;
  Readings readings_;
  Rematch rematch_;
  std::unique_ptr<ceres::Problem> problem_;
  std::vector<RowInfo> rows_;
  std::vector<int> round_free_;
  std::size_t next_mark_ = 0;
};

AssembledProblem::AssembledProblem(const Task& task, const Smoothnesses& smoothness, State& state)
    : inside_(std::make_unique<Inside>(task, smoothness, state)) {}

AssembledProblem::~AssembledProblem() = default;

ceres::Problem& AssembledProblem::problem() { return *inside_->problem_; }
const std::vector<RowInfo>& AssembledProblem::rows() const { return inside_->rows_; }

}  // namespace potshadow::internal
