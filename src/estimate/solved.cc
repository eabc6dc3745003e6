// SPDX-License-Identifier: MIT
#include "estimate/solved.h"

#include <algorithm>
#include <cmath>

#include "estimate/candidates.h"
#include "estimate/known_size.h"
#include "estimate/smoothing.h"

namespace potshadow::internal {
namespace {

constexpr std::size_t kFineControls = 40;
constexpr double kFineRoughness = 3e-5;
constexpr double kSharpening = 4.0;
constexpr int kFineSteps = 6;
constexpr int kSettleSteps = 2;
constexpr int kSmoothnessRounds = 4;
constexpr int kLastSteps = 8;
constexpr int kBoldSteps = 3;
constexpr double kSettled = 0.03;  // relative change of the smoothness that no interval shows

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
  auto& [task, found, smoothness, rival] = solved;
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
  smoothness = present_smoothness(found, kFineRoughness);
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
  if (report.usable && bring_to_size(task, found)) {
    report = solve(task, smoothness, kSettleSteps, found, Steps::kBold);
  }
  if (!report.usable) return not_settled("solver");
  return solved;
}

// The likeliest of what the candidates lead to.
Result<Solved> likeliest(const EstimateInput& input, std::vector<Candidate> candidates,
                         const WildMarks& left_out) {
  auto best = fine(input, std::move(candidates.front()), left_out);
  for (std::size_t i = 1; i < candidates.size(); ++i) {
    auto other = fine(input, std::move(candidates[i]), left_out);
    if (!other) continue;
    if (!best || marginal_cost(other->task, other->state, other->smoothness) <
                     marginal_cost(best->task, best->state, best->smoothness)) {
      best = std::move(other);
    }
  }
  return best;
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
  return likeliest(input, std::move(start).value(), wild);
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

Result<Solved> solved(const EstimateInput& input) {
  auto start = together(input);
  if (!start) return start.problem();
  auto first = likeliest(input, std::move(start).value(), {});
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
