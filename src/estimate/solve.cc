// SPDX-License-Identifier: MIT
#include "estimate/solve.h"

#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

#include "core/check.h"
#include "estimate/controls.h"
#include "estimate/known_size.h"
#include "estimate/neighbour.h"
#include "photo/focal.h"

namespace potshadow::internal {
namespace {

constexpr double kRadPerDeg = std::numbers::pi / 180.0;

// Focusing at another distance changes the focal length, and stabilisers move the lens (common
// practice, no source).
constexpr double kFocusingSd = 0.003;
constexpr double kSharedK1Sd = 0.002;

// The two blocks of a profile's control coordinates.
double* head(Body& body) { return body.controls.data(); }
double* tail(Body& body) { return body.controls.data() + kHeadSize; }

// The neighbour's own size, as a known size of its profile.
std::vector<KnownSize> size_of(const NeighbourReference& neighbour) {
  return {{neighbour.number, neighbour.name, neighbour.value_mm, neighbour.sd_mm, false}};
}

// What is read from the profiles at every step: the vessel's known sizes, and each neighbour's.
struct Readings {
  std::shared_ptr<SizeReadings> vessel = std::make_shared<SizeReadings>();
  std::vector<std::vector<std::shared_ptr<SizeReadings>>> neighbours;  // by view
  std::size_t lowest_in = 0;  // the view that has the lowest mark of any outline
  std::shared_ptr<SeenHeight> lowest = std::make_shared<SeenHeight>();
};

// Terms for every known size, so that there are some even where the first profile is none.
void begin(SizeReadings& readings, std::size_t sizes, std::size_t control_count) {
  readings.height = size_terms({1.0, 1, 1.0}, control_count);
  readings.sizes.assign(sizes, readings.height);
}

// The lowest mark on the outline in a photograph; none where all are on the circles.
std::optional<std::size_t> lowest_mark(const ViewMatches& view) {
  std::optional<std::size_t> lowest;
  for (std::size_t i = 0; i < view.marks.size(); ++i) {
    if (!view.marks[i].on_outline()) continue;
    if (!lowest || view.marks[i].s < view.marks[*lowest].s) lowest = i;
  }
  return lowest;
}

SeenHeight seen_height(const ViewTask& task, const View& view, const Body& body,
                       const ViewMatches& matches, std::size_t mark) {
  const Eigen::Vector3d point = surface_point(matches.marks[mark], body);
  SeenHeight seen{task.marks[mark].at, point.y(), 0.0};
  seen.bent_mm = point.z() - sight_height_mm(task.setting, view, seen);
  return seen;
}

bool has_distance(const Task& task) {
  return std::any_of(task.views.begin(), task.views.end(),
                     [](const ViewTask& view) { return !view.photo->distances.empty(); });
}

// Matches the marks anew whenever the solver moves to another point.
class Rematch final : public ceres::EvaluationCallback {
 public:
  Rematch(const Task& task, const State& state, std::shared_ptr<Matched> matched, Readings readings)
      : task_(task),
        state_(state),
        matched_(std::move(matched)),
        readings_(std::move(readings)),
        read_vessel_(!task.sizes.empty() || has_distance(task)) {}
  void PrepareForEvaluation(bool /*evaluate_jacobians*/, bool new_evaluation_point) override {
    if (!new_evaluation_point && !matched_->views.empty()) return;
    *matched_ = matched(task_, state_);
    if (read_vessel_) {
      if (auto found = size_readings(task_.sizes, state_.vessel.controls)) {
        *readings_.vessel = std::move(*found);
      }
    }
    if (task_.seen_from) {
      const std::size_t v = readings_.lowest_in;
      if (const auto mark = lowest_mark(matched_->views[v])) {
        *readings_.lowest =
            seen_height(task_.views[v], state_.views[v], state_.vessel, matched_->views[v], *mark);
      }
    }
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      const PhotoInput& photo = *task_.views[v].photo;
      for (std::size_t n = 0; n < photo.neighbours.size(); ++n) {
        if (auto found = size_readings(size_of(photo.neighbours[n]),
                                       state_.views[v].neighbours[n].body.controls)) {
          *readings_.neighbours[v][n] = std::move(*found);
        }
      }
    }
  }

 private:
  const Task& task_;
  const State& state_;
  std::shared_ptr<Matched> matched_;
  Readings readings_;
  bool read_vessel_;
};

Readings first_readings(const Task& task, const State& state) {
  Readings readings;
  begin(*readings.vessel, task.sizes.size(), state.vessel.control_count());
  if (task.seen_from) {
    const Matched all = matched(task, state);
    double lowest = 2.0;
    for (std::size_t v = 0; v < all.views.size(); ++v) {
      const auto mark = lowest_mark(all.views[v]);
      if (!mark || !(all.views[v].marks[*mark].s < lowest)) continue;
      lowest = all.views[v].marks[*mark].s;
      readings.lowest_in = v;
    }
  }
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    readings.neighbours.emplace_back();
    for (const NeighbourState& neighbour : state.views[v].neighbours) {
      readings.neighbours.back().push_back(std::make_shared<SizeReadings>());
      begin(*readings.neighbours.back().back(), 1, neighbour.body.control_count());
    }
  }
  return readings;
}

// The problem over the blocks of one state; not copied, since the solver holds pointers into it.
class Assembled {
 public:
  Assembled(const Task& task, const Smoothnesses& smoothness, State& state)
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
  Assembled(const Assembled&) = delete;
  Assembled& operator=(const Assembled&) = delete;

  ceres::Problem& problem() { return *problem_; }
  const std::vector<RowInfo>& rows() const { return rows_; }

 private:
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
    add_block(head(body), kHeadSize, fixed);
    add_block(tail(body), tail_size(body.control_count()), {});
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
      const auto is_on_glass = [](const auto& r) { return r.place == Place::kOnGlass; };
      const PhotoInput& photo = *task.photo;
      const bool on_glass =
          std::any_of(task.flats.begin(), task.flats.end(),
                      [](const Flat& flat) { return flat.seat.place == Place::kOnGlass; }) ||
          std::any_of(photo.discs.begin(), photo.discs.end(), is_on_glass);
      fixed.clear();
      if (!task.setting.glass && !on_glass) fixed.push_back(kPaneAzimuthRad);
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
          view.pane.data(), state_.vessel.round.data(), head(state_.vessel), tail(state_.vessel));
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
      std::vector<int> fixed;
      if (!stands_on_edge(disc.place) && disc.place != Place::kBeside) fixed.push_back(kYawRad);
      if (disc.place != Place::kLeaning) fixed.push_back(kLeanRad);
      if (disc.size_sd_mm == 0.0) fixed.push_back(kWidthMm);
      fixed.push_back(kHeightMm);
      Offset offset = offset_of(disc);
      if (d < task.lean_doubts.size()) {
        offset.mean_mm += task.lean_doubts[d].shift_mm;
        offset.sd_mm = std::hypot(offset.sd_mm, task.lean_doubts[d].sd_mm);
      }
      if (offset.given && offset.sd_mm == 0.0) fixed.push_back(kOffsetMm);
      add_block(block, kReferenceSize, fixed);
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
            neighbour.body.round.data(), head(neighbour.body), tail(neighbour.body));
      }
      const KnownSize known = size_of(reference).front();
      add(size_cost(readings_.neighbours[v][n], 0, known.value_mm,
                    size_sd(known, round_sd(*task_.input)), count),
          {RowKind::kPrior, DoubtSource::kReferenceSize, v, reference.number}, head(neighbour.body),
          tail(neighbour.body));
      prior(place, kNeighbourSize, kBelowMm, reference.riser_mm, reference.riser_sd_mm,
            DoubtSource::kReferencePlace, v, reference.number, Said::kOffset);
      for (const int entry : {kLeanX, kLeanY}) {
        prior(place, kNeighbourSize, entry, 0.0, task.priors.tilt_sd_rad,
              DoubtSource::kReferencePlace, v, reference.number);
      }
      add_round_priors(neighbour.body.round.data(), free);
    }
  }

  // The photograph that the i-th known size stands with.
  std::size_t photo_of_size(std::size_t i) const {
    std::size_t v = 0;
    for (; v + 1 < task_.views.size(); ++v) {
      const std::size_t count = task_.views[v].photo->sizes.size();
      if (i < count) break;
      i -= count;
    }
    return v;
  }

  void add_known() {
    const std::size_t count = state_.vessel.control_count();
    for (std::size_t i = 0; i < task_.sizes.size(); ++i) {
      const KnownSize& size = task_.sizes[i];
      add(size_cost(readings_.vessel, i, size.value_mm, size_sd(size, round_sd(*task_.input)),
                    count),
          {RowKind::kPrior, DoubtSource::kReferenceSize, photo_of_size(i), size.number},
          head(state_.vessel), tail(state_.vessel));
    }
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      for (const KnownDistance& distance : task_.views[v].photo->distances) {
        add(distance_cost(readings_.vessel, distance, count),
            {RowKind::kPrior, DoubtSource::kReferenceSize, v, distance.number},
            state_.views[v].pose.data(), head(state_.vessel), tail(state_.vessel));
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
      prior(tail(state_.vessel), size, size - 1, task_.rim->mean_mm, task_.rim->sd_mm,
            DoubtSource::kHidden);
    }
  }

  void add_smoothness(const Smoothness& smoothness, View& view, Body& body) {
    add(smoothness_cost(smoothness, body.control_count()),
        {RowKind::kSmoothness, DoubtSource::kMarks}, view.pose.data(), view.lens.data(), head(body),
        tail(body));
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

}  // namespace

Priors priors_of(const PhotoInput& photo) {
  Priors p;
  p.longer_side_px = std::max(photo.width_px, photo.height_px);
  // With no focal length given, somewhere between a wide phone lens and a short telephoto.
  p.log_focal_sd = photo.focal ? photo.focal->sd_percent / 100.0 : 0.5;
  p.centre_x_px = (photo.width_px - 1.0) / 2.0 + photo.lens.centre_x_px;
  p.centre_y_px = (photo.height_px - 1.0) / 2.0 + photo.lens.centre_y_px;
  p.centre_sd_px =
      photo.lens.centre_sd_px.value_or(p.longer_side_px * (photo.cropped ? 0.25 : 0.005));
  p.k1 = photo.lens.k1;
  p.k1_sd = photo.lens.k1_sd;
  p.pane_azimuth_sd_rad = 15.0 * kRadPerDeg;
  if (photo.glass) {
    p.pane_thickness_mm = photo.glass->thickness_mm;
    p.pane_thickness_sd_mm = photo.glass->thickness_sd_mm;
  }
  p.tilt_sd_rad = 0.5 * kRadPerDeg;
  return p;
}

ViewTask view_task(const PhotoInput& photo, const Setting& setting) {
  ViewTask task{&photo, setting, priors_of(photo), mark_refs(photo.marks)};
  if (photo.focal) {
    const double stated =
        focal_px_from_35mm(photo.focal->focal_35mm, photo.width_px, photo.height_px);
    task.priors.log_focal = std::log(stated / setting.focal_start_px);
  }
  task.flats = flats_of(photo);
  task.seams = seams_of(photo);
  for (const NeighbourReference& neighbour : photo.neighbours) {
    task.neighbour_marks.push_back(mark_refs(neighbour.marks));
  }
  return task;
}

std::size_t Task::mark_count() const {
  std::size_t count = 0;
  for (const ViewTask& view : views) count += view.marks.size();
  return count;
}

std::vector<KnownSize> known_sizes(const EstimateInput& input) {
  std::vector<KnownSize> sizes;
  for (const PhotoInput& photo : input.photos) {
    sizes.insert(sizes.end(), photo.sizes.begin(), photo.sizes.end());
  }
  return sizes;
}

SolveReport solve(const Task& task, const Smoothnesses& smoothness, int iterations, State& state,
                  Steps steps) {
  State work = state;
  Assembled assembled(task, smoothness, work);
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
  options.max_num_iterations = iterations;
  options.function_tolerance = 1e-6;  // half a hundredth of a sd at the usual cost
  options.parameter_tolerance = 1e-9;
  options.gradient_tolerance = 1e-10;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  // The scale is held by one row only, and damping as strong as usual follows it but slowly.
  constexpr double kBoldRadius = 1e9;
  if (steps == Steps::kBold) options.initial_trust_region_radius = kBoldRadius;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &assembled.problem(), &summary);
  SolveReport report;
  report.usable = summary.IsSolutionUsable();
  report.cost = summary.final_cost;
  report.iterations = static_cast<int>(summary.iterations.size());
  if (report.usable) state = work;
  return report;
}

Linear linearised(const Task& task, const Smoothnesses& smoothness, const State& state) {
  State work = state;
  Assembled assembled(task, smoothness, work);
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
    const int tangent = problem.ParameterBlockTangentSize(block);
    std::vector<double> plus(static_cast<std::size_t>(size * tangent));
    if (manifold != nullptr) manifold->PlusJacobian(block, plus.data());
    for (int i = 0; i < size; ++i) {
      bool free = true;
      if (manifold != nullptr) {
        free = false;
        for (int j = 0; j < tangent; ++j) {
          free = free || plus[static_cast<std::size_t>(i * tangent + j)] != 0.0;
        }
      }
      if (free) out[i] = next++;
    }
  };
  const auto belongs = [&](int view) {
    linear.view_of_column.resize(static_cast<std::size_t>(next), view);
  };
  const auto controls = [&](Body& body, std::vector<int>& out) {
    out.resize(body.controls.size());
    columns(head(body), kHeadSize, out.data());
    columns(tail(body), tail_size(body.control_count()), out.data() + kHeadSize);
  };
  std::vector<int> unused;
  const auto other = [&](auto& block) {
    unused.resize(block.size());
    columns(block.data(), static_cast<int>(block.size()), unused.data());
  };
  for (std::size_t v = 0; v < work.views.size(); ++v) {
    View& view = work.views[v];
    ViewColumns& of = linear.views.emplace_back();
    columns(view.pose.data(), kPoseSize, of.pose.data());
    columns(view.lens.data(), kLensSize, of.lens.data());
    columns(view.pane.data(), kPaneSize, of.pane.data());
    columns(view.tilt.data(), kTiltSize, of.tilt.data());
    belongs(static_cast<int>(v));
  }
  columns(work.vessel.round.data(), kRoundSize, linear.round_column.data());
  belongs(-1);
  for (std::size_t v = 0; v < work.views.size(); ++v) {
    View& view = work.views[v];
    for (auto& flat : view.flats) other(flat);
    for (auto& disc : view.discs) other(disc);
    for (auto& seam : view.seams) other(seam);
    for (NeighbourState& neighbour : view.neighbours) {
      other(neighbour.place);
      other(neighbour.body.round);
      controls(neighbour.body, unused);
    }
    belongs(static_cast<int>(v));
  }
  for (auto& lens : work.lenses) other(lens);
  controls(work.vessel, linear.control_column);
  belongs(-1);

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

Eigen::Vector2d vessel_image(const ViewTask& task, const View& view, const Eigen::Vector3d& point) {
  return image_of<double>(task.setting, view.pose.data(), view.lens.data(), view.pane.data(), point,
                          true);
}

Eigen::Vector2d flat_image(const ViewTask& task, const View& view, std::size_t f, std::size_t k) {
  const Flat& flat = task.flats[f];
  const FlatPoint& point = flat.points[k];
  const Eigen::Vector3d at = flat_point(flat.seat.place, flat.square(), view.flats[f].data(),
                                        view.pane.data(), view.tilt.data(), point.across, point.up);
  return image_of<double>(task.setting, view.pose.data(), view.lens.data(), view.pane.data(), at,
                          is_behind_glass(flat.seat));
}

std::array<Eigen::Vector2d, 2> seam_image(const ViewTask& task, const View& view, std::size_t s) {
  const Seam& seam = task.seams[s];
  const double* reference = (seam.of_disc ? view.discs : view.flats)[seam.index].data();
  std::array<Eigen::Vector2d, 2> out;
  for (std::size_t k = 0; k < 2; ++k) {
    const Eigen::Vector3d point = seam_point(
        seam.seat.behind_glass, reference, view.pane.data(), view.tilt.data(),
        view.seams[s][k == 0 ? kSeamFirstMm : kSeamSecondMm], view.seams[s][kSeamDropMm]);
    out[k] = vessel_image(task, view, point);
  }
  return out;
}

Matched matched(const Task& task, const State& state) {
  Matched out;
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const ViewTask& of = task.views[v];
    const View& view = state.views[v];
    ViewMatches& matches = out.views.emplace_back();
    matches.marks = match_marks(vessel_sight(of.setting, view), state.vessel, of.marks);
    const std::vector<DiscReference>& discs = of.photo->discs;
    for (std::size_t d = 0; d < discs.size(); ++d) {
      const auto found = match_edge(of.setting, view, discs[d], d);
      matches.edges.insert(matches.edges.end(), found.begin(), found.end());
    }
    for (std::size_t n = 0; n < view.neighbours.size(); ++n) {
      const NeighbourState& neighbour = view.neighbours[n];
      const NeighbourSight sight = neighbour_sight(of.setting, view, neighbour);
      matches.neighbours.push_back(
          {sight.turn_rad, match_marks(sight.sight, neighbour.body, of.neighbour_marks[n])});
    }
  }
  return out;
}

std::vector<Misfit> misfits(const Task& task, const State& state) {
  std::vector<Misfit> out;
  const Matched all = matched(task, state);
  const auto curve = [&](MarkPlace place, const PhotoPoint& marked, const Eigen::Vector2d& fitted,
                         const Eigen::Vector2d& normal, double sd_px) {
    const Eigen::Vector2d mark(marked.x_px, marked.y_px);
    out.push_back({place, marked, fitted, (fitted - mark).dot(normal), sd_px});
  };
  const auto point = [&](MarkPlace place, const PhotoPoint& marked, const Eigen::Vector2d& fitted,
                         double sd_px) {
    const Eigen::Vector2d mark(marked.x_px, marked.y_px);
    out.push_back({place, marked, fitted, (fitted - mark).norm(), sd_px});
  };
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const ViewTask& of = task.views[v];
    for (std::size_t i = 0; i < of.marks.size(); ++i) {
      const Match& match = all.views[v].marks[i];
      curve({of.marks[i].kind, 0, of.marks[i].number, v}, of.marks[i].at,
            vessel_image(of, state.views[v], surface_point(match, state.vessel)), match.normal,
            of.marks[i].sd_px);
    }
  }
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const ViewTask& of = task.views[v];
    const View& view = state.views[v];
    const auto seam_of = [&](bool of_disc, std::size_t index, std::size_t number,
                             std::size_t first) {
      for (std::size_t s = 0; s < of.seams.size(); ++s) {
        if (of.seams[s].of_disc != of_disc || of.seams[s].index != index) continue;
        const auto images = seam_image(of, view, s);
        for (std::size_t k = 0; k < 2; ++k) {
          point({MarkKind::kReference, number, first + k, v}, (*of.seams[s].seat.shelf_at_glass)[k],
                images[k], of.photo->marks.sd_px);
        }
      }
    };
    for (std::size_t f = 0; f < of.flats.size(); ++f) {
      const Flat& flat = of.flats[f];
      for (std::size_t k = 0; k < flat.points.size(); ++k) {
        point({MarkKind::kReference, flat.seat.number, k, v}, flat.points[k].at,
              flat_image(of, view, f, k), flat.marks_sd_px);
      }
      seam_of(false, f, flat.seat.number, flat.points.size());
    }
    const std::vector<DiscReference>& discs = of.photo->discs;
    std::size_t next = 0;
    for (std::size_t d = 0; d < discs.size(); ++d) {
      for (std::size_t i = 0; i < discs[d].edge.size(); ++i) {
        const EdgeMatch& match = all.views[v].edges[next++];
        curve({MarkKind::kReference, discs[d].number, i, v}, discs[d].edge[i],
              edge_image(of.setting, view, discs[d], d, match.angle_rad), match.normal,
              marks_sd_px(*of.photo, discs[d]));
      }
      seam_of(true, d, discs[d].number, discs[d].edge.size());
    }
    for (std::size_t n = 0; n < view.neighbours.size(); ++n) {
      const NeighbourMatches& matches = all.views[v].neighbours[n];
      const NeighbourState& neighbour = view.neighbours[n];
      for (std::size_t i = 0; i < matches.marks.size(); ++i) {
        const Match& match = matches.marks[i];
        const ProfilePoint p = profile_point(match, neighbour.body.controls);
        double growth = 0.0;
        for (std::size_t k = 0; k < kRoundSize; ++k) {
          growth += match.round_weight[k] * neighbour.body.round[k];
        }
        const Eigen::Vector2d seen = neighbour_image<double>(
            of.setting, view.pose.data(), view.lens.data(), view.pane.data(), view.tilt.data(),
            neighbour.place.data(), match, matches.turn_rad, growth, p.radius_mm, p.height_mm);
        curve({MarkKind::kReference, of.photo->neighbours[n].number, i, v},
              of.neighbour_marks[n][i].at, seen, match.normal, of.neighbour_marks[n][i].sd_px);
      }
    }
  }
  return out;
}

}  // namespace potshadow::internal
