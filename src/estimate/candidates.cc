// SPDX-License-Identifier: MIT
#include "estimate/candidates.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "estimate/predicted.h"
#include "estimate/smoothing.h"
#include "estimate/solve.h"
#include "estimate/start.h"
#include "photo/focal.h"
#include "vessel/sizes.h"

namespace potshadow::internal {
namespace {

constexpr std::size_t kCoarseControls = 12;
constexpr std::size_t kCoarseMarks = 60;
constexpr double kCoarseRoughness = 1.5e-4;  // of the profile at first, at least
constexpr double kRoughMarks = 1e-3;         // of the picture's longer side
constexpr int kCoarseSteps = 8;

// At most about `count` of the marks, evenly picked: enough to tell a good start from a bad one.
std::vector<MarkRef> thinned(const std::vector<MarkRef>& marks, std::size_t count) {
  const std::size_t stride = std::max<std::size_t>(1, marks.size() / count);
  std::vector<MarkRef> few;
  for (std::size_t i = 0; i < marks.size(); i += stride) few.push_back(marks[i]);
  return few;
}

double rough_sd(const PhotoInput& photo) {
  return std::max(photo.marks.sd_px, kRoughMarks * std::max(photo.width_px, photo.height_px));
}

bool has_scale(const PhotoInput& photo) {
  return !photo.references.empty() || !photo.discs.empty() || !photo.lengths.empty() ||
         !photo.grids.empty() || !photo.neighbours.empty() || !photo.distances.empty();
}

// Whether nothing but one known size says how big the vessel is. The picture then is the same at
// any scale, the pane's thickness apart.
bool hangs_on_one_size(const EstimateInput& input) {
  return known_sizes(input).size() == 1 && !input.hidden_foot && !input.hidden_rim &&
         std::none_of(input.photos.begin(), input.photos.end(), has_scale);
}

// Makes the vessel `factor` times as large, and its eyes as much farther off: nothing changes in
// the pictures of it.
void enlarge(double factor, State& state) {
  for (double& coordinate : state.vessel.controls) coordinate *= factor;
  for (View& view : state.views) {
    view.pose[kDistanceMm] *= factor;
    view.pose[kEyeHeightMm] *= factor;
  }
}

// Holds the scale while the shape is sought. A known height binds it to what is hardly seen of a
// low bowl from above: the way to the optimum then is bent, and the solver comes to rest beside it.
// So the widest diameter is held instead, and the vessel brought to its known size at the end.
// Without a pane that diameter is always the same, so that the shape is found on the same way
// whatever is known.
void hold_scale(const std::vector<KnownSize>& known, Task& task, State& state) {
  constexpr double kWidestMm = 200.0;
  constexpr double kLoose = 0.01;  // of the diameter, as a typed one
  task.sizes = known;
  if (!hangs_on_one_size(*task.input)) return;
  double widest = 0.0;
  for (std::size_t i = 0; i < state.vessel.controls.size(); i += 2) {
    widest = std::max(widest, 2.0 * state.vessel.controls[i]);
  }
  const auto has_pane = [](const PhotoInput& photo) { return photo.glass.has_value(); };
  if (std::none_of(task.input->photos.begin(), task.input->photos.end(), has_pane)) {
    enlarge(kWidestMm / widest, state);
    widest = kWidestMm;
  }
  task.sizes = {{0, SizeName::kMaxDiameter, widest, kLoose * widest, false}};
}

// How far the eye is above the rim, for each millimetre that it is away.
double fall_to_rim(const State& state) {
  const View& view = state.views.front();
  return (view.pose[kEyeHeightMm] - state.vessel.controls.back()) / view.pose[kDistanceMm];
}

// The same with the eye as far on the other side of the rim's plane, the rim staying in its place
// in the picture: a rim that is seen nearly level looks alike from above and from below.
Candidate from_other_side(const Candidate& candidate) {
  Candidate other = candidate;
  View& view = other.state.views.front();
  Setting& setting = other.task.views.front().setting;
  const double turn = 2.0 * std::atan(fall_to_rim(candidate.state));
  const Eigen::Matrix3d level =
      Eigen::AngleAxisd(-turn, Eigen::Vector3d::UnitX()).toRotationMatrix();
  setting.camera_from_vessel_start = setting.camera_from_vessel_start * level;
  view.pose[kEyeHeightMm] = 2.0 * candidate.state.vessel.controls.back() - view.pose[kEyeHeightMm];
  return other;
}

bool solve_coarse(Candidate& candidate) {
  const SolveReport report =
      solve(candidate.task, present_smoothness(candidate.state, kCoarseRoughness), kCoarseSteps,
            candidate.state);
  candidate.cost = report.cost;
  return report.usable;
}

// Tries every start of one photograph with few control points and some of the marks. Returns the
// one of best cost, and after it the one with the eye on the other side of the rim where that is
// nearly as good.
Result<std::vector<Candidate>> coarse(const EstimateInput& input, std::size_t v,
                                      const std::vector<KnownSize>& sizes) {
  const PhotoInput& photo = input.photos[v];
  std::vector<double> focals;
  if (photo.focal) {
    focals = {photo.focal->focal_35mm};
  } else {
    focals = {26.0, 45.0, 75.0};  // the prior then is wide
  }
  StartInput from{&photo, sizes, input.round_base};
  if (input.hidden_foot) {
    constexpr double kStandMm = 20.0;  // where nothing is said of it
    const double low = input.hidden_foot->low_mm.value_or(0.0);
    from.hidden_mm = (low + input.hidden_foot->high_mm.value_or(low + 2.0 * kStandMm)) / 2.0;
  }
  std::vector<Candidate> candidates;
  Problem no_start;
  for (const double focal : focals) {
    const double focal_px = focal_px_from_35mm(focal, photo.width_px, photo.height_px);
    auto found = starts(from, focal_px, kCoarseControls);
    if (!found) {
      no_start = found.problem();
      continue;
    }
    for (const Start& start : *found) {
      Candidate candidate;
      candidate.task.input = &input;
      candidate.task.views = {view_task(photo, start.setting)};
      // Rough starts with precise marks would crumple the profile, so the marks count as rough at
      // first.
      ViewTask& view = candidate.task.views.front();
      view.marks = thinned(view.marks, kCoarseMarks);
      view.rough_px = rough_sd(photo);
      candidate.state = start.state;
      hold_scale(sizes, candidate.task, candidate.state);
      bound_ends(candidate.state, candidate.task);
      if (solve_coarse(candidate)) candidates.push_back(std::move(candidate));
    }
  }
  if (candidates.empty()) {
    if (!no_start.what.empty()) return no_start;
    return Problem{Code::kCannotBeAnswered, "No vessel fits the marks.",
                   "Check the reference's place and that each kind of mark is on its own edge.",
                   "no start converged"};
  }
  std::vector<Candidate> best = {
      *std::min_element(candidates.begin(), candidates.end(),
                        [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; })};
  constexpr double kNearlyLevel = 0.07;  // as an angle: farther off the back of the rim tells
  constexpr double kNearlyAsGood = 4.0;  // times the cost, before the marks count as they are
  if (!photo.marks.rim.empty() && std::abs(fall_to_rim(best.front().state)) < kNearlyLevel) {
    Candidate other = from_other_side(best.front());
    if (solve_coarse(other) && other.cost < kNearlyAsGood * (1.0 + best.front().cost) &&
        fall_to_rim(other.state) * fall_to_rim(best.front().state) < 0.0) {
      best.push_back(std::move(other));
    }
  }
  return best;
}

// The known sizes that tie a photograph without a scale to one that has been solved.
std::vector<KnownSize> tying_sizes(const State& solved) {
  constexpr double kLoose = 0.03;  // of each size; only the start hangs on it
  const auto profile = profile_of(solved.vessel.controls);
  if (!profile) return {};
  const Sizes sizes = sizes_of(*profile);
  const double height = sizes.height_mm - solved.vessel.controls[1];
  return {
      {0, SizeName::kHeight, height, kLoose * height, false},
      {0, SizeName::kMaxDiameter, sizes.max_diameter_mm, kLoose * sizes.max_diameter_mm, false}};
}

// Lets photographs of one camera and zoom share their lens.
void share_lenses(const EstimateInput& input, Task& task, State& state) {
  std::map<int, std::vector<std::size_t>> groups;
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    if (input.photos[v].same_lens) groups[*input.photos[v].same_lens].push_back(v);
  }
  for (const auto& [number, views] : groups) {
    if (views.size() < 2) continue;
    // The photographs' own statements are one statement, made several times: the best counts.
    const auto better = [&](std::size_t a, std::size_t b) {
      return task.views[a].priors.log_focal_sd < task.views[b].priors.log_focal_sd;
    };
    const std::size_t best = *std::min_element(views.begin(), views.end(), better);
    const PhotoInput& photo = input.photos[best];
    const double focal_px = task.views[best].setting.focal_start_px;
    SharedLens lens;
    lens.log_focal_35mm = std::log(focal_35mm_from_px(focal_px, photo.width_px, photo.height_px));
    lens.log_focal_sd = task.views[best].priors.log_focal_sd;
    lens.k1 = photo.lens.k1;
    lens.k1_sd = photo.lens.k1_sd;
    for (const std::size_t v : views) task.views[v].shared_lens = task.lenses.size();
    task.lenses.push_back(lens);
    state.lenses.push_back({lens.log_focal_35mm, lens.k1});
  }
}

}  // namespace

void bound_ends(const State& state, Task& task) {
  task.foot.reset();
  task.seen_from.reset();
  task.rim.reset();
  const EstimateInput& input = *task.input;
  if (!input.hidden_foot && !input.hidden_rim) return;
  double highest = -1e300;
  const Matched all = matched(task, state);
  for (const ViewMatches& view : all.views) {
    for (const Match& match : view.marks) {
      const double height = profile_point(match, state.vessel.controls).height_mm;
      highest = std::max(highest, height);
    }
  }
  // Anywhere between two bounds: a rectangular distribution (JCGM 100:2008, 4.3.7).
  const auto between = [](double low, double high) {
    return EndPrior{(low + high) / 2.0, std::max(0.1, (high - low) / std::sqrt(12.0))};
  };
  if (input.hidden_foot) {
    // Nothing is said of the stand: then it hides a fifth of the vessel at most.
    constexpr double kMostHidden = 0.2;
    const double low = input.hidden_foot->low_mm.value_or(0.0);
    const double most = std::max(low + 1.0, kMostHidden * state.vessel.controls.back());
    task.seen_from = between(low, input.hidden_foot->high_mm.value_or(most));
    task.foot = between(0.0, task.seen_from->mean_mm);
    task.foot->mean_mm = state.vessel.controls[1];  // where it is held
  }
  if (input.hidden_rim) {
    const HiddenPart& rim = *input.hidden_rim;
    if (rim.low_mm && rim.high_mm) {
      task.rim = between(*rim.low_mm, *rim.high_mm);
    } else {
      task.rim = EndPrior{highest, 1.0};
    }
  }
}

bool bring_to_size(Task& task, State& state) {
  if (!hangs_on_one_size(*task.input)) return false;
  task.sizes = known_sizes(*task.input);
  const auto readings = size_readings(task.sizes, state.vessel.controls);
  if (!readings) return true;
  const double size = size_value(readings->sizes.front(), state.vessel.controls);
  if (size > 0.0) enlarge(task.sizes.front().value_mm / size, state);
  return true;
}

Result<std::vector<Candidate>> together(const EstimateInput& input) {
  const std::vector<KnownSize> known = known_sizes(input);
  if (input.photos.size() == 1) return coarse(input, 0, known);
  std::vector<std::optional<Candidate>> found(input.photos.size());
  std::optional<std::size_t> base;
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    if (!has_scale(input.photos[v]) && known.empty()) continue;
    auto candidate = coarse(input, v, known);
    if (!candidate) return in_photo(input, v, candidate.problem());
    found[v] = std::move(candidate->front());
    if (!base) base = v;
  }
  if (!base) {
    return Problem{Code::kCannotBeAnswered, "No photograph says how big the vessel is.",
                   "Mark something of known size in one of them.", "no base"};
  }
  const std::vector<KnownSize> tying = tying_sizes(found[*base]->state);
  Candidate all;
  all.task.input = &input;
  all.state.vessel = found[*base]->state.vessel;
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    if (!found[v]) {
      auto candidate = coarse(input, v, tying);
      if (!candidate) return in_photo(input, v, candidate.problem());
      found[v] = std::move(candidate->front());
    }
    all.task.views.push_back(found[v]->task.views.front());
    all.state.views.push_back(found[v]->state.views.front());
  }
  share_lenses(input, all.task, all.state);
  hold_scale(known, all.task, all.state);
  bound_ends(all.state, all.task);
  if (!solve(all.task, present_smoothness(all.state, kCoarseRoughness), kCoarseSteps, all.state)
           .usable) {
    return not_settled("together");
  }
  return std::vector<Candidate>{std::move(all)};
}

Problem not_settled(const char* detail) {
  return {Code::kCannotBeAnswered, "The estimate did not settle on one vessel.",
          "Check the marks for any on the wrong edge, and add more of them.", detail};
}

}  // namespace potshadow::internal
