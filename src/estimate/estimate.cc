// SPDX-License-Identifier: MIT
#include "estimate/estimate.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <string>

#include "core/check.h"
#include "core/text.h"
#include "estimate/checks.h"
#include "estimate/overlay_of.h"
#include "estimate/posterior.h"
#include "estimate/solve.h"
#include "estimate/start.h"
#include "photo/focal.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

using namespace internal;

constexpr std::size_t kCoarseControls = 12;
constexpr std::size_t kCoarseMarks = 60;
constexpr std::size_t kFineControls = 40;
constexpr double kRoughMarks = 1e-3;  // of the picture's width
constexpr double kSharpening = 4.0;
constexpr int kCoarseSteps = 8;
constexpr int kFineSteps = 6;
constexpr int kSettleSteps = 2;
constexpr int kSmoothnessRounds = 4;
constexpr int kLastSteps = 8;
constexpr double kWorstFit = 0.01;     // of the picture's longer side
constexpr double kWidestDoubt = 0.25;  // sd over size beyond which there is no answer
constexpr double kSettled = 0.03;      // relative change of the smoothness that no interval shows

// At most about `count` of the marks, evenly picked: enough to tell a good start from a bad one.
std::vector<MarkRef> thinned(const std::vector<MarkRef>& marks, std::size_t count) {
  const std::size_t stride = std::max<std::size_t>(1, marks.size() / count);
  std::vector<MarkRef> few;
  for (std::size_t i = 0; i < marks.size(); i += stride) few.push_back(marks[i]);
  return few;
}

struct Candidate {
  Task task;
  State state;
  double cost = 0.0;
};

Profile profile_of(const State& state) {
  std::vector<ProfilePoint> controls;
  for (std::size_t i = 0; i < state.control_count(); ++i) {
    controls.push_back({std::max(0.0, state.controls[2 * i]), state.controls[2 * i + 1]});
  }
  return Profile::from_controls(std::move(controls)).value();
}

// The same state with a profile of another number of control points.
Result<State> with_controls(const State& state, std::size_t count, bool round_base) {
  const auto profile = Profile::through(profile_of(state).sampled(257), count);
  if (!profile) return profile.problem();
  State out = state;
  out.controls.clear();
  for (const ProfilePoint& p : profile->controls()) {
    out.controls.push_back(p.radius_mm);
    out.controls.push_back(p.height_mm);
  }
  out.controls[1] = 0.0;
  if (round_base) {
    out.controls[0] = 0.0;
    out.controls[3] = 0.0;
  }
  return out;
}

// Chooses the smoothness from the data: the scale that makes the marginal likelihood stationary,
// given the present Jacobian, is sd^2 = |D c|^2 / (degrees of freedom the data did not use).
// Source: Wood & Fasiolo, Biometrics 73(4), 2017 (generalised Fellner-Schall step).
Smoothness chosen_smoothness(const Task& task, const State& state, const Smoothness& before) {
  const Linear linear = linearised(task, before, state);
  if (linear.jacobian.rows() == 0) return before;
  const Eigen::MatrixXd normal = linear.jacobian.transpose() * linear.jacobian;
  const Eigen::LDLT<Eigen::MatrixXd> factor(normal);
  const Eigen::VectorXd second = second_differences(state.controls);
  const auto knots = static_cast<std::size_t>(second.size() / 2);

  // Rows of the smoothness prior, whitened; the trace of D C D^T is what the data left open.
  Eigen::Index first = 0;
  while (linear.rows[static_cast<std::size_t>(first)].kind != RowKind::kSmoothness) ++first;
  const Eigen::MatrixXd rows = linear.jacobian.middleRows(first, second.size());
  const Eigen::MatrixXd spread = factor.solve(rows.transpose());
  Smoothness after = before;
  after.relax.resize(knots, 1.0);
  double roughness = 0.0;
  double open = 0.0;
  std::vector<double> expected(knots);  // of each knot's squared second difference, in sd^2
  for (std::size_t k = 0; k < knots; ++k) {
    const auto i = static_cast<Eigen::Index>(2 * k);
    const double weighted = before.sd_mm * after.relax[k];
    const double left = rows.row(i).dot(spread.col(i)) + rows.row(i + 1).dot(spread.col(i + 1));
    const double size = second.segment<2>(i).squaredNorm() / (weighted * weighted);
    roughness += size;
    open += left;
    expected[k] = size + left;
  }
  const double used = std::max(1e-3, 2.0 * static_cast<double>(knots) - open);
  after.sd_mm = before.sd_mm * std::sqrt(std::max(roughness, 1e-12) / used);

  // Student-t weights with nu degrees of freedom let a keel or a lip turn sharply where the rest is
  // smooth (expectation step of the usual scale mixture).
  constexpr double kFreedom = 3.0;
  const double ratio = before.sd_mm / after.sd_mm;
  for (std::size_t k = 0; k < knots; ++k) {
    const double squared = expected[k] * after.relax[k] * after.relax[k] * ratio * ratio;
    after.relax[k] = std::sqrt((kFreedom + squared) / (kFreedom + 2.0));
  }

  // Where no mark shows the wall it may turn more sharply than the rest does: a notch behind a rim,
  // a keel under a handle. The interval there says so.
  constexpr double kHiddenTurn = 3.0;
  std::vector<bool> shown(knots, false);
  for (const Match& match : match_marks(task.setting, state, task.marks)) {
    const double at = match.s * static_cast<double>(knots - 1);
    shown[static_cast<std::size_t>(at)] = true;
    shown[std::min(knots - 1, static_cast<std::size_t>(at) + 1)] = true;
  }
  for (std::size_t k = 0; k < knots; ++k) {
    if (!shown[k]) after.relax[k] = std::max(after.relax[k], kHiddenTurn);
  }
  return after;
}

// The marks in the order of `misfits_px`, with their names.
std::vector<MarkResidual> all_marks_of(const Task& task) {
  std::vector<MarkResidual> all;
  constexpr std::array<const char*, 4> kNames = {"rim ", "base ", "left ", "right "};
  for (const MarkRef& mark : task.marks) {
    all.push_back({kNames[static_cast<std::size_t>(mark.kind)] + std::to_string(mark.number + 1),
                   {mark.kind, 0, mark.number}});
  }
  const PhotoInput& photo = task.input->photo;
  const bool several = photo.references.size() + photo.discs.size() > 1;
  const auto add = [&](std::size_t reference, const char* word, std::size_t count) {
    const std::string name = several ? reference_words(reference) + " " + word : word;
    for (std::size_t k = 0; k < count; ++k) {
      all.push_back({name + " " + std::to_string(k + 1), {MarkKind::kReference, reference, k}});
    }
  };
  for (const RectangleReference& r : photo.references) add(r.number, "corner", r.corners.size());
  for (const DiscReference& d : photo.discs) add(d.number, "edge", d.edge.size());
  return all;
}

std::vector<MarkResidual> worst_marks(const Task& task, const std::vector<double>& misfits) {
  std::vector<MarkResidual> all = all_marks_of(task);
  POTSHADOW_CHECK(all.size() == misfits.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    all[i].off_px = std::abs(misfits[i]);
    all[i].off_sd = all[i].off_px / task.input->photo.marks.sd_px;
  }
  std::sort(all.begin(), all.end(),
            [](const MarkResidual& a, const MarkResidual& b) { return a.off_px > b.off_px; });
  constexpr std::size_t kShown = 5;
  if (all.size() > kShown) all.resize(kShown);
  return all;
}

Fit fit_of(const Task& task, const State& state, const Linear& linear) {
  const std::vector<double> misfits = misfits_px(task, state);
  Fit fit;
  fit.marks = static_cast<int>(misfits.size());
  double squares = 0.0;
  for (const double misfit : misfits) squares += misfit * misfit;
  fit.rms_px = std::sqrt(squares / static_cast<double>(misfits.size()));
  fit.worst = worst_marks(task, misfits);

  // Scatter against the stated precision: observations, less the unknowns they determine.
  const Eigen::MatrixXd normal = linear.jacobian.transpose() * linear.jacobian;
  const Eigen::LDLT<Eigen::MatrixXd> factor(normal);
  double sum = 0.0;
  double freedom = 0.0;
  Eigen::MatrixXd observed = Eigen::MatrixXd::Zero(normal.rows(), normal.cols());
  for (std::size_t i = 0; i < linear.rows.size(); ++i) {
    if (linear.rows[i].kind != RowKind::kObservation) continue;
    const auto row = static_cast<Eigen::Index>(i);
    sum += linear.residual(row) * linear.residual(row);
    freedom += 1.0;
    observed += linear.jacobian.row(row).transpose() * linear.jacobian.row(row);
  }
  freedom -= factor.solve(observed).trace();
  fit.scatter_ratio = freedom > 1.0 ? std::sqrt(sum / freedom) : 1.0;
  return fit;
}

std::vector<Note> notes_of(const Answer& answer, const EstimateInput& input,
                           const std::vector<Note>& earlier) {
  std::vector<Note> notes = earlier;
  notes.insert(notes.end(), answer.notes.begin(), answer.notes.end());
  if (!input.photo.focal) {
    notes.push_back(
        {"The photograph's focal length is not known, so it was worked out from the "
         "marks. Give the 35 mm equivalent for narrower intervals.",
         true});
  }
  const MeasuredSize* height = find_size(answer, SizeName::kHeight);
  for (const MeasuredSize& size : answer.sizes) {
    const double relative = size.measured.sd / size.measured.value;
    if (size.name == SizeName::kHeightOfMax || size.name == SizeName::kHeightOfNeck) {
      if (height != nullptr && size.measured.sd > 0.1 * height->measured.value) {
        notes.push_back({std::string(size_words(size.name)) +
                             " is not pinned down: the wall is nearly upright there.",
                         false});
      }
    } else if (relative > 0.10) {
      notes.push_back({std::string(size_words(size.name)) +
                           " is hardly pinned down: it may be a fifth more or less.",
                       true});
    }
  }
  return notes;
}

// A vessel that fits the marks, with what it was fitted by.
struct Solved {
  Task task;
  State state;
  Smoothness smoothness;
};

Problem not_settled(const char* detail) {
  return {Code::kCannotBeAnswered, "The estimate did not settle on one vessel.",
          "Check the marks for any on the wrong edge, and add more of them.", detail};
}

std::vector<LeanDoubt> lean_doubts(const EstimateInput& input, const State& state) {
  std::vector<LeanDoubt> doubts;
  for (std::size_t d = 0; d < input.photo.discs.size(); ++d) {
    doubts.push_back(lean_doubt(state, input.photo.discs[d], d));
  }
  return doubts;
}

// Tries every start with few control points and some of the marks; the best cost wins.
Result<Candidate> coarse(const EstimateInput& input, const Priors& priors) {
  std::vector<double> focals;
  if (input.photo.focal) {
    focals = {input.photo.focal->focal_35mm};
  } else {
    focals = {26.0, 45.0, 75.0};  // the prior then is wide
  }
  // Rough starts with precise marks would crumple the profile, so the marks count as rough at
  // first.
  const double rough_sd = std::max(input.photo.marks.sd_px, kRoughMarks * priors.width_px);
  const std::vector<MarkRef> few_marks = thinned(mark_refs(input.photo.marks), kCoarseMarks);
  std::vector<Candidate> candidates;
  Problem no_start;
  for (const double focal : focals) {
    const double focal_px = focal_px_from_35mm(focal, input.photo.width_px, input.photo.height_px);
    auto found = starts(input, priors, focal_px, kCoarseControls);
    if (!found) {
      no_start = found.problem();
      continue;
    }
    for (const Start& start : *found) {
      Candidate candidate{{&input, start.setting, priors, few_marks, rough_sd}, start.state, 0.0};
      Smoothness smoothness;
      smoothness.sd_mm = second_differences(candidate.state.controls).norm() /
                         std::sqrt(2.0 * static_cast<double>(kCoarseControls - 2));
      smoothness.sd_mm = std::max(smoothness.sd_mm, 0.1);
      const SolveReport report = solve(candidate.task, smoothness, kCoarseSteps, candidate.state);
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

// The full profile, and its smoothness chosen from the data.
Result<Solved> fine(const EstimateInput& input, Candidate start) {
  auto state = with_controls(start.state, kFineControls, input.round_base);
  if (!state) return state.problem();
  Solved solved{std::move(start.task), std::move(state).value(), {}};
  auto& [task, found, smoothness] = solved;
  const double sd_px = input.photo.marks.sd_px;
  task.marks = mark_refs(input.photo.marks);
  task.lean_doubts = lean_doubts(input, start.state);
  smoothness.sd_mm = std::max(0.02, second_differences(found.controls).norm() /
                                        std::sqrt(2.0 * static_cast<double>(kFineControls - 2)));
  SolveReport report;
  do {
    report = solve(task, smoothness, kFineSteps, found);
    smoothness = chosen_smoothness(task, found, smoothness);
    if (task.sd_px <= sd_px) break;
    task.sd_px = std::max(sd_px, task.sd_px / kSharpening);
  } while (report.usable);
  for (int i = 0; i < kSmoothnessRounds && report.usable; ++i) {
    const double before = smoothness.sd_mm;
    smoothness = chosen_smoothness(task, found, smoothness);
    report = solve(task, smoothness, kSettleSteps, found);
    if (std::abs(smoothness.sd_mm / before - 1.0) < kSettled) break;
  }
  if (report.usable) report = solve(task, smoothness, kLastSteps, found);
  if (!report.usable) return not_settled("solver");
  return solved;
}

// From a solution to the answer; `earlier` are the notes of the checks.
Result<Answer> answered(const EstimateInput& input, const std::vector<Note>& earlier,
                        const Solved& solved) {
  const auto& [task, state, smoothness] = solved;
  for (const double coordinate : state.controls) {
    if (!std::isfinite(coordinate)) return not_settled("not finite");
  }
  Linear linear = linearised(task, smoothness, state);
  const Fit fit = fit_of(task, state, linear);
  if (fit.rms_px > kWorstFit * std::max(task.priors.width_px, task.priors.height_px)) {
    return Problem{
        Code::kCannotBeAnswered,
        "No vessel fits the marks: they miss the best one by " + fixed_text(fit.rms_px, 0) +
            " pixels, the worst being " + fit.worst.front().mark + ".",
        "Look at that mark first; check the reference's place and its corners' order.", "misfit"};
  }
  const auto posterior = Posterior::from(std::move(linear));
  if (!posterior) return posterior.problem();
  // Marks that scatter more than stated widen the intervals; the margin is what chance allows.
  const double allowed = 1.0 + 2.0 / std::sqrt(2.0 * static_cast<double>(fit.marks));
  const double inflation = fit.scatter_ratio > allowed ? fit.scatter_ratio : 1.0;
  Answer answer = answer_of(task, state, profile_of(state), *posterior, inflation);
  for (const SizeName name : {SizeName::kHeight, SizeName::kMaxDiameter}) {
    const MeasuredSize* size = find_size(answer, name);
    if (size == nullptr || !(size->measured.sd < kWidestDoubt * size->measured.value)) {
      return Problem{Code::kCannotBeAnswered, "The marks do not pin down how big the vessel is.",
                     "Spread marks over the rim, the foot and both outlines, and check the "
                     "reference's place.",
                     "interval without bounds"};
    }
  }
  answer.fit = fit;
  answer.overlay = overlay_of(task, state, answer, *posterior, inflation);
  answer.notes = notes_of(answer, input, earlier);
  if (inflation > 1.0) {
    answer.notes.push_back({"The marks scatter " + fixed_text(fit.scatter_ratio, 1) +
                                " times as much as stated, so the intervals are widened. Look at "
                                "the worst marks first.",
                            true});
  }
  return answer;
}

// Whether a solution is of nearly the same problem: all but the marks' places is alike.
bool starts_from(const EstimateInput& input, const EstimateInput& before) {
  const PhotoInput& now = input.photo;
  const PhotoInput& then = before.photo;
  const auto alike = [](const auto& a, const auto& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
      return x.number == y.number && x.place == y.place;
    });
  };
  return now.width_px == then.width_px && now.height_px == then.height_px &&
         now.focal.has_value() == then.focal.has_value() &&
         now.glass.has_value() == then.glass.has_value() && input.round_base == before.round_base &&
         alike(now.references, then.references) && alike(now.discs, then.discs);
}

}  // namespace

struct EstimateMemory::Inside {
  EstimateInput input;
  Setting setting;
  State state;
  Smoothness smoothness;
};

Result<Answer> estimate(const EstimateInput& input, EstimateMemory* memory) {
  const auto checked = check_input(input);
  if (!checked) return checked.problem();
  auto start = coarse(input, priors_of(input));
  if (!start) return start.problem();
  const auto solved = fine(input, std::move(start).value());
  if (!solved) return solved.problem();
  Result<Answer> answer = answered(input, checked.notes(), *solved);
  if (memory != nullptr && answer.ok()) {
    memory->inside_ = std::make_shared<const EstimateMemory::Inside>(
        EstimateMemory::Inside{input, solved->task.setting, solved->state, solved->smoothness});
  }
  return answer;
}

Result<Answer> estimate_nearby(const EstimateInput& input, EstimateMemory& memory) {
  const auto before = memory.inside_;
  if (before == nullptr || !starts_from(input, before->input)) return estimate(input, &memory);
  const auto checked = check_input(input);
  if (!checked) return checked.problem();
  Solved solved{{&input, before->setting, priors_of(input), mark_refs(input.photo.marks),
                 input.photo.marks.sd_px, lean_doubts(input, before->state)},
                before->state,
                before->smoothness};
  if (solve(solved.task, solved.smoothness, kFineSteps, solved.state).usable) {
    solved.smoothness = chosen_smoothness(solved.task, solved.state, solved.smoothness);
    if (solve(solved.task, solved.smoothness, kSettleSteps, solved.state).usable) {
      Result<Answer> answer = answered(input, checked.notes(), solved);
      if (answer.ok()) {
        memory.inside_ = std::make_shared<const EstimateMemory::Inside>(
            EstimateMemory::Inside{input, solved.task.setting, solved.state, solved.smoothness});
        return answer;
      }
    }
  }
  return estimate(input, &memory);
}

}  // namespace potshadow
