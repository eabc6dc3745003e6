// SPDX-License-Identifier: MIT
#include "estimate/solved.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "estimate/smoothing.h"
#include "estimate/start.h"
#include "photo/focal.h"
#include "vessel/sizes.h"

namespace potshadow::internal {
namespace {

constexpr std::size_t kCoarseControls = 12;
constexpr std::size_t kCoarseMarks = 60;
constexpr std::size_t kFineControls = 40;
constexpr double kRoughMarks = 1e-3;  // of the picture's longer side
constexpr double kSharpening = 4.0;
constexpr int kCoarseSteps = 8;
constexpr int kFineSteps = 6;
constexpr int kSettleSteps = 2;
constexpr int kSmoothnessRounds = 4;
constexpr int kLastSteps = 8;
constexpr int kBoldSteps = 3;
constexpr double kSettled = 0.03;  // relative change of the smoothness that no interval shows

// At most about `count` of the marks, evenly picked: enough to tell a good start from a bad one.
std::vector<MarkRef> thinned(const std::vector<MarkRef>& marks, std::size_t count) {
  const std::size_t stride = std::max<std::size_t>(1, marks.size() / count);
  std::vector<MarkRef> few;
  for (std::size_t i = 0; i < marks.size(); i += stride) few.push_back(marks[i]);
  return few;
}

// The same body with another number of control points.
Result<Body> with_controls(const Body& body, std::size_t count, bool round_base) {
  const auto profile = Profile::through(profile_of(body.controls).value().sampled(257), count);
  if (!profile) return profile.problem();
  Body out = body;
  out.controls.clear();
  for (const ProfilePoint& p : profile->controls()) {
    out.controls.push_back(p.radius_mm);
    out.controls.push_back(p.height_mm);
  }
  out.controls[1] = body.controls[1];
  if (round_base) {
    out.controls[0] = 0.0;
    out.controls[3] = out.controls[1];
  }
  return out;
}

double rough_sd(const PhotoInput& photo) {
  return std::max(photo.marks.sd_px, kRoughMarks * std::max(photo.width_px, photo.height_px));
}

bool has_scale(const PhotoInput& photo) {
  return !photo.references.empty() || !photo.discs.empty() || !photo.lengths.empty() ||
         !photo.grids.empty() || !photo.neighbours.empty() || !photo.distances.empty();
}

struct Candidate {
  Task task;  // of one photograph
  State state;
  double cost = 0.0;
};

// What bounds an end that is not seen, from where the outline is seen to end; none while the start
// is rough.
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

// Tries every start of one photograph with few control points and some of the marks; the best cost
// wins.
Result<Candidate> coarse(const EstimateInput& input, std::size_t v,
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
      candidate.task.sizes = sizes;
      candidate.task.views = {view_task(photo, start.setting)};
      // Rough starts with precise marks would crumple the profile, so the marks count as rough at
      // first.
      ViewTask& view = candidate.task.views.front();
      view.marks = thinned(view.marks, kCoarseMarks);
      view.rough_px = rough_sd(photo);
      candidate.state = start.state;
      bound_ends(candidate.state, candidate.task);
      const SolveReport report = solve(candidate.task, present_smoothness(candidate.state, 0.1),
                                       kCoarseSteps, candidate.state);
      if (!report.usable) continue;
      candidate.cost = report.cost;
      candidates.push_back(std::move(candidate));
    }
  }
  if (candidates.empty()) {
    if (!no_start.what.empty()) return no_start;
    return Problem{Code::kCannotBeAnswered, "No vessel fits the marks.",
                   "Check the reference's place and that each kind of mark is on its own edge.",
                   "no start converged"};
  }
  return *std::min_element(candidates.begin(), candidates.end(),
                           [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
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

// All photographs together, each from its own start.
Result<Candidate> together(const EstimateInput& input) {
  const std::vector<KnownSize> known = known_sizes(input);
  if (input.photos.size() == 1) return coarse(input, 0, known);
  std::vector<std::optional<Candidate>> found(input.photos.size());
  std::optional<std::size_t> base;
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    if (!has_scale(input.photos[v]) && known.empty()) continue;
    auto candidate = coarse(input, v, known);
    if (!candidate) return in_photo(input, v, candidate.problem());
    found[v] = std::move(candidate).value();
    if (!base) base = v;
  }
  if (!base) {
    return Problem{Code::kCannotBeAnswered, "No photograph says how big the vessel is.",
                   "Mark something of known size in one of them.", "no base"};
  }
  const std::vector<KnownSize> tying = tying_sizes(found[*base]->state);
  Candidate all;
  all.task.input = &input;
  all.task.sizes = known;
  all.state.vessel = found[*base]->state.vessel;
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    if (!found[v]) {
      auto candidate = coarse(input, v, tying);
      if (!candidate) return in_photo(input, v, candidate.problem());
      found[v] = std::move(candidate).value();
    }
    all.task.views.push_back(found[v]->task.views.front());
    all.state.views.push_back(found[v]->state.views.front());
  }
  share_lenses(input, all.task, all.state);
  bound_ends(all.state, all.task);
  if (!solve(all.task, present_smoothness(all.state, 0.1), kCoarseSteps, all.state).usable) {
    return not_settled("together");
  }
  return all;
}

std::vector<LeanDoubt> lean_doubts(const PhotoInput& photo, const View& view) {
  std::vector<LeanDoubt> doubts;
  for (std::size_t d = 0; d < photo.discs.size(); ++d) {
    doubts.push_back(lean_doubt(view, photo.discs[d], d));
  }
  return doubts;
}

// Lets all marks of `input` count, as roughly as so far.
void take_all_marks(const EstimateInput& input, const State& state, WildMarks left_out,
                    Task& task) {
  task.input = &input;
  task.left_out = std::move(left_out);
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    ViewTask& view = task.views[v];
    view.photo = &input.photos[v];
    view.marks = mark_refs(view.photo->marks);
    view.lean_doubts = lean_doubts(*view.photo, state.views[v]);
  }
}

// Makes the marks count as more precise, as far as they are; returns whether they were not yet.
bool sharpen(Task& task) {
  bool sharper = false;
  for (ViewTask& view : task.views) {
    double finest = view.photo->marks.sd_px;
    for (const MarkRef& mark : view.marks) finest = std::min(finest, mark.sd_px);
    for (const Flat& flat : view.flats) finest = std::min(finest, flat.marks_sd_px);
    for (const DiscReference& disc : view.photo->discs) {
      finest = std::min(finest, marks_sd_px(*view.photo, disc));
    }
    if (view.rough_px <= finest) continue;
    view.rough_px = std::max(finest, view.rough_px / kSharpening);
    sharper = true;
  }
  return sharper;
}

// The full profile, and its smoothness chosen from the data.
Result<Solved> fine(const EstimateInput& input, Candidate start, WildMarks left_out) {
  Solved solved{std::move(start.task), std::move(start.state), {}};
  auto& [task, found, smoothness] = solved;
  take_all_marks(input, found, std::move(left_out), task);
  auto vessel = with_controls(found.vessel, kFineControls, input.round_base);
  if (!vessel) return vessel.problem();
  found.vessel = std::move(vessel).value();
  for (std::size_t v = 0; v < found.views.size(); ++v) {
    for (std::size_t n = 0; n < found.views[v].neighbours.size(); ++n) {
      Body& body = found.views[v].neighbours[n].body;
      auto other = with_controls(body, kFineControls, input.photos[v].neighbours[n].round_base);
      if (!other) return other.problem();
      body = std::move(other).value();
    }
  }
  smoothness = present_smoothness(found, 0.02);
  SolveReport report;
  do {
    report = solve(task, smoothness, kFineSteps, found);
    bound_ends(found, task);
    smoothness = chosen_smoothness(task, found, smoothness);
    if (!sharpen(task)) break;
  } while (report.usable);
  for (int i = 0; i < kSmoothnessRounds && report.usable; ++i) {
    const double before = smoothness.front().sd;
    smoothness = chosen_smoothness(task, found, smoothness);
    report = solve(task, smoothness, kSettleSteps, found);
    if (std::abs(smoothness.front().sd / before - 1.0) < kSettled) break;
  }
  if (report.usable) {
    solve(task, smoothness, kBoldSteps, found, Steps::kBold);
    report = solve(task, smoothness, kLastSteps, found);
  }
  if (!report.usable) return not_settled("solver");
  return solved;
}

bool same(const WildMarks& a, const WildMarks& b) {
  for (std::size_t i = 0; i < std::max(a.size(), b.size()); ++i) {
    if ((i < a.size() && a[i]) != (i < b.size() && b[i])) return false;
  }
  return true;
}

// Whether the marks that a solution leaves out are still the ones to leave out.
bool still_left_out(const Solved& solved) {
  const auto wild = wild_marks(solved.task, solved.state,
                               linearised(solved.task, solved.smoothness, solved.state));
  return same(wild.value_or(WildMarks{}), solved.task.left_out);
}

// The solution with these marks left out, from the start.
Result<Solved> solved_without(const EstimateInput& input, const WildMarks& wild) {
  const EstimateInput clean = without(input, wild);
  auto start = together(clean);
  if (!start) return start.problem();
  return fine(input, std::move(start).value(), wild);
}

// Solves again without wild marks until no more of them show. Where there are none it is `first`;
// likewise where they can't be told apart.
Solved without_wild(const EstimateInput& input, const Solved& first) {
  constexpr int kRounds = 8;
  Solved solved = first;
  for (int round = 0; round < kRounds; ++round) {
    const auto wild = wild_marks(solved.task, solved.state,
                                 linearised(solved.task, solved.smoothness, solved.state));
    if (!wild) return first;
    if (same(*wild, solved.task.left_out)) break;
    auto next = solved_without(input, *wild);
    if (!next) return first;
    solved = std::move(next).value();
    // A wild mark makes a bump: of two sides that disagree the one with the smoother wall is right.
    for (const WildMarks& choice : mirrored(solved.task, solved.state)) {
      auto other = solved_without(input, choice);
      if (other && still_left_out(*other) &&
          second_differences(other->state.vessel.controls).norm() <
              second_differences(solved.state.vessel.controls).norm()) {
        solved = std::move(other).value();
        break;
      }
    }
  }
  return solved;
}

// Makes the task one of `input`, which differs from that of `before` by nothing but values.
void take_up_input(const EstimateInput& input, const Solved& before, Task& task) {
  task.sizes = known_sizes(input);
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const ViewTask& then = before.task.views[v];
    task.views[v] = view_task(input.photos[v], then.setting);
    task.views[v].shared_lens = then.shared_lens;
  }
  for (std::size_t g = 0; g < task.lenses.size(); ++g) {
    for (const ViewTask& view : task.views) {
      if (view.shared_lens != g || !view.photo->focal) continue;
      task.lenses[g].log_focal_35mm = std::log(view.photo->focal->focal_35mm);
      break;
    }
  }
  take_all_marks(input, before.state, before.task.left_out, task);
}

}  // namespace

Problem not_settled(const char* detail) {
  return {Code::kCannotBeAnswered, "The estimate did not settle on one vessel.",
          "Check the marks for any on the wrong edge, and add more of them.", detail};
}

Result<Solved> solved(const EstimateInput& input) {
  auto start = together(input);
  if (!start) return start.problem();
  auto first = fine(input, std::move(start).value(), {});
  if (!first) return first.problem();
  return without_wild(input, std::move(first).value());
}

std::optional<Solved> solved_nearby(const EstimateInput& input, const Solved& before) {
  Solved solved = before;
  Task& task = solved.task;
  take_up_input(input, before, task);
  // Another scale is reached in one bold step or two; where the marks have moved, that step fails.
  solve(task, solved.smoothness, kBoldSteps, solved.state, Steps::kBold);
  if (!solve(task, solved.smoothness, kFineSteps, solved.state).usable) return std::nullopt;
  constexpr int kNearbyRounds = 2;
  for (int i = 0; i < kNearbyRounds; ++i) {
    solved.smoothness = chosen_smoothness(task, solved.state, solved.smoothness);
    if (!solve(task, solved.smoothness, kSettleSteps, solved.state).usable) return std::nullopt;
  }
  if (!still_left_out(solved)) return std::nullopt;
  return solved;
}

std::optional<State> solved_redrawn(const EstimateInput& input, const Solved& before,
                                    double most_cost) {
  // Further steps take as long again and move no size by a noticeable part of its uncertainty.
  constexpr int kBold = 2;
  constexpr int kFine = 5;
  constexpr int kStubborn = 20;
  Task task = before.task;
  take_up_input(input, before, task);
  State state = before.state;
  solve(task, before.smoothness, kBold, state, Steps::kBold);
  SolveReport report = solve(task, before.smoothness, kFine, state);
  if (report.usable && report.cost > most_cost) {
    report = solve(task, before.smoothness, kStubborn, state);
  }
  if (!report.usable || report.cost > most_cost) return std::nullopt;
  return state;
}

}  // namespace potshadow::internal
