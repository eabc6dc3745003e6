// SPDX-License-Identifier: MIT
#include "estimate/estimate.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <string>

#include "core/check.h"
#include "core/text.h"
#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "estimate/overlay_of.h"
#include "estimate/posterior.h"
#include "estimate/solve.h"
#include "estimate/start.h"
#include "estimate/wild.h"
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

// The same state with a profile of another number of control points.
Result<State> with_controls(const State& state, std::size_t count, bool round_base) {
  const auto profile = Profile::through(profile_of(state.controls).value().sampled(257), count);
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
  const std::vector<Match> matches = match_marks(task.setting, state, task.marks);
  for (std::size_t i = 0; i < matches.size(); ++i) {
    if (is_left_out(task, i)) continue;
    const Match& match = matches[i];
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
  const PhotoInput& photo = task.input->photos.front();
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
    all[i].off_sd = all[i].off_px / task.input->photos.front().marks.sd_px;
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
  double squares = 0.0;
  for (std::size_t i = 0; i < misfits.size(); ++i) {
    if (is_left_out(task, i)) continue;
    ++fit.marks;
    squares += misfits[i] * misfits[i];
  }
  fit.rms_px = std::sqrt(squares / static_cast<double>(fit.marks));
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

// Whether nothing but guesses says how big the vessel is.
bool scale_is_guess(const PhotoInput& photo) {
  const bool guessed = std::all_of(photo.sizes.begin(), photo.sizes.end(),
                                   [](const KnownSize& size) { return size.guess; });
  return guessed && !photo.sizes.empty() && photo.references.empty() && photo.discs.empty() &&
         photo.distances.empty();
}

// Whole millimetres; tenths where a tenth counts.
std::string mm_text(double mm) {
  const bool whole = std::abs(mm - std::round(mm)) < 0.05 || mm >= 100.0;
  return fixed_text(mm, whole ? 0 : 1) + " mm";
}

// A known neck binds nothing where the marks show none.
std::optional<Problem> no_neck(const EstimateInput& input, const Profile& profile) {
  const std::vector<KnownSize>& known = input.photos.front().sizes;
  const auto neck = std::find_if(known.begin(), known.end(), [](const KnownSize& size) {
    return size.name == SizeName::kNeckDiameter;
  });
  if (neck == known.end() || sizes_of(profile).neck) return std::nullopt;
  return Problem{Code::kCannotBeAnswered,
                 "The marks show no neck, so the neck diameter in " +
                     reference_words(neck->number) + " cannot be used.",
                 "Give the rim's diameter or another size, or mark the outline at the neck.",
                 "no neck"};
}

std::vector<Note> notes_of(const Answer& answer, const EstimateInput& input,
                           const std::vector<Note>& earlier) {
  std::vector<Note> notes = earlier;
  notes.insert(notes.end(), answer.notes.begin(), answer.notes.end());
  if (!input.photos.front().focal) {
    notes.push_back(
        {"The photograph's focal length is not known, so it was worked out from the "
         "marks. Give the 35 mm equivalent for narrower intervals.",
         true});
  }
  for (const KnownSize& size : input.photos.front().sizes) {
    if (!size.guess) continue;
    const std::string guess = small_size_words(size.name) + ", " + mm_text(size.value_mm) +
                              " give or take " + mm_text(size.sd_mm);
    if (answer.scale == ScaleSource::kGuess) {
      notes.push_back({"The scale is a guess: every size hangs on the guessed " + guess +
                           ". Mark something of known size to be sure.",
                       true});
    } else {
      notes.push_back({"A guess counts beside what is known: the " + guess +
                           ". Take it out to measure without it.",
                       false});
    }
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
  for (std::size_t d = 0; d < input.photos.front().discs.size(); ++d) {
    doubts.push_back(lean_doubt(state, input.photos.front().discs[d], d));
  }
  return doubts;
}

// Tries every start with few control points and some of the marks; the best cost wins.
Result<Candidate> coarse(const EstimateInput& input, const Priors& priors) {
  std::vector<double> focals;
  if (input.photos.front().focal) {
    focals = {input.photos.front().focal->focal_35mm};
  } else {
    focals = {26.0, 45.0, 75.0};  // the prior then is wide
  }
  // Rough starts with precise marks would crumple the profile, so the marks count as rough at
  // first.
  const double rough_sd = std::max(input.photos.front().marks.sd_px, kRoughMarks * priors.width_px);
  const std::vector<MarkRef> few_marks =
      thinned(mark_refs(input.photos.front().marks), kCoarseMarks);
  std::vector<Candidate> candidates;
  Problem no_start;
  for (const double focal : focals) {
    const double focal_px =
        focal_px_from_35mm(focal, input.photos.front().width_px, input.photos.front().height_px);
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
Result<Solved> fine(const EstimateInput& input, Candidate start, WildMarks left_out) {
  auto state = with_controls(start.state, kFineControls, input.round_base);
  if (!state) return state.problem();
  Solved solved{std::move(start.task), std::move(state).value(), {}};
  auto& [task, found, smoothness] = solved;
  const double sd_px = input.photos.front().marks.sd_px;
  task.input = &input;
  task.marks = mark_refs(input.photos.front().marks);
  task.left_out = std::move(left_out);
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

// Names the marks that were left out, with how far off each is.
std::optional<Note> left_out_note(const Task& task, const State& state) {
  const std::vector<MarkResidual> all = all_marks_of(task);
  const std::vector<double> misfits = misfits_px(task, state);
  std::vector<std::string> names;
  for (std::size_t i = 0; i < task.marks.size(); ++i) {
    if (!is_left_out(task, i)) continue;
    const std::string pixels = fixed_text(std::abs(misfits[i]), 0);
    names.push_back(all[i].mark + " (" + pixels + (pixels == "1" ? " pixel)" : " pixels)"));
  }
  if (names.empty()) return std::nullopt;
  std::string list = names.front();
  for (std::size_t i = 1; i < names.size(); ++i) {
    list += (i + 1 < names.size() ? ", " : " and ") + names[i];
  }
  const bool one = names.size() == 1;
  return Note{(one ? "One mark lies" : std::to_string(names.size()) + " marks lie") +
                  std::string(" too far off for chance, so ") + (one ? "it was" : "they were") +
                  " left out: " + list + ". Move " + (one ? "it" : "them") +
                  " onto the edge, or delete " + (one ? "it." : "them."),
              true};
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
  const Profile profile = profile_of(state.controls).value();
  if (auto problem = no_neck(input, profile)) return *problem;
  Answer answer = answer_of(task, state, profile, *posterior, inflation);
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
  answer.photos.front().overlay = overlay_of(task, state, answer, *posterior, inflation);
  answer.scale = scale_is_guess(input.photos.front()) ? ScaleSource::kGuess : ScaleSource::kKnown;
  answer.notes = notes_of(answer, input, earlier);
  if (auto note = left_out_note(task, state)) answer.notes.push_back(std::move(*note));
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
  const PhotoInput& now = input.photos.front();
  const PhotoInput& then = before.photos.front();
  const auto alike = [](const auto& a, const auto& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
      return x.number == y.number && x.place == y.place;
    });
  };
  return now.width_px == then.width_px && now.height_px == then.height_px &&
         now.focal.has_value() == then.focal.has_value() &&
         now.glass.has_value() == then.glass.has_value() && input.round_base == before.round_base &&
         alike(now.references, then.references) && alike(now.discs, then.discs) &&
         now.sizes == then.sizes && now.distances == then.distances;
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
  auto start = coarse(clean, priors_of(clean));
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
          second_differences(other->state.controls).norm() <
              second_differences(solved.state.controls).norm()) {
        solved = std::move(other).value();
        break;
      }
    }
  }
  return solved;
}

bool same_counts(const Marks& a, const Marks& b) {
  return a.rim.size() == b.rim.size() && a.base.size() == b.base.size() &&
         a.left.size() == b.left.size() && a.right.size() == b.right.size();
}

// The answer, with what it was read from.
struct Found {
  Solved solved;
  Answer answer;
};

Result<Found> whole(const EstimateInput& input) {
  const auto checked = check_input(input);
  if (!checked) return checked.problem();
  auto start = coarse(input, priors_of(input));
  if (!start) return start.problem();
  auto first = fine(input, std::move(start).value(), {});
  if (!first) return first.problem();
  const Solved solved = without_wild(input, std::move(first).value());
  auto answer = answered(input, checked.notes(), solved);
  if (!answer) return answer.problem();
  return Found{solved, std::move(answer).value()};
}

// --- Known sizes and distances against the rest --------------------------------------------------

struct Disagreement {
  double sigmas = 0.0;
  std::string text;  // one sentence
};

// What the rest is called where it is said to say something: one reference by its number.
std::string rest_words(const PhotoInput& rest, const char* one, const char* several) {
  std::vector<std::size_t> numbers;
  const auto take = [&](const auto& list) {
    for (const auto& reference : list) numbers.push_back(reference.number);
  };
  take(rest.references);
  take(rest.discs);
  take(rest.sizes);
  take(rest.distances);
  if (numbers.size() != 1) return std::string("The other references ") + several;
  std::string words = reference_words(numbers.front());
  words.front() = 'R';
  return words + " " + one;
}

// Returns how a known size (or distance, where `size` is null) disagrees with what the rest says,
// or none where it does not or the rest says nothing.
std::optional<Disagreement> disagreement(const EstimateInput& rest, const KnownSize* size,
                                         const KnownDistance* distance) {
  constexpr double kTooFar = 3.0;  // chance alone goes as far once in 370 times
  const auto found = whole(rest);
  if (!found) return std::nullopt;
  const std::string beyond = "; they are farther apart than their uncertainties allow.";
  if (size != nullptr) {
    const MeasuredSize* read = find_size(found->answer, size->name);
    if (read == nullptr) return std::nullopt;
    const double sd =
        std::hypot(read->measured.sd, size_sd(*size, rest.out_of_round_percent / 100.0));
    const double sigmas = std::abs(read->measured.value - size->value_mm) / sd;
    if (!(sigmas > kTooFar)) return std::nullopt;
    return Disagreement{sigmas, rest_words(rest.photos.front(), "says the ", "say the ") +
                                    small_size_words(size->name) + " is " +
                                    mm_text(read->measured.value) +
                                    (size->guess ? ", the guess " : ", the catalogue ") +
                                    mm_text(size->value_mm) + beyond};
  }
  // The scale carries the distance: its share of doubt is the height's, at least.
  const MeasuredSize* height = find_size(found->answer, SizeName::kHeight);
  if (height == nullptr) return std::nullopt;
  const CameraAnswer& camera = found->answer.photos.front().camera;
  const double part = std::hypot(height->measured.sd / height->measured.value,
                                 camera.focal_35mm_sd / camera.focal_35mm);
  const double sd = std::hypot(part * camera.distance_mm, distance_sd(*distance));
  const double sigmas = std::abs(camera.distance_mm - distance->value_mm) / sd;
  if (!(sigmas > kTooFar)) return std::nullopt;
  return Disagreement{sigmas, rest_words(rest.photos.front(), "puts", "put") + " the camera " +
                                  mm_text(camera.distance_mm) +
                                  " from the vessel, the measured distance is " +
                                  mm_text(distance->value_mm) + beyond};
}

// Returns the sentence on the known size or distance that disagrees most with all the rest; none
// where nothing does, or where there is no rest. Each is judged by an estimate without it.
std::optional<std::string> worst_disagreement(const EstimateInput& input) {
  const PhotoInput& photo = input.photos.front();
  const std::size_t known = photo.sizes.size() + photo.distances.size();
  if (known == 0 || known + photo.references.size() + photo.discs.size() < 2) return std::nullopt;
  std::optional<Disagreement> worst;
  const auto keep = [&](std::optional<Disagreement> found) {
    if (found && (!worst || found->sigmas > worst->sigmas)) worst = std::move(found);
  };
  for (std::size_t i = 0; i < photo.sizes.size(); ++i) {
    EstimateInput rest = input;
    rest.photos.front().sizes.erase(rest.photos.front().sizes.begin() +
                                    static_cast<std::ptrdiff_t>(i));
    keep(disagreement(rest, &photo.sizes[i], nullptr));
  }
  for (std::size_t i = 0; i < photo.distances.size(); ++i) {
    EstimateInput rest = input;
    rest.photos.front().distances.erase(rest.photos.front().distances.begin() +
                                        static_cast<std::ptrdiff_t>(i));
    keep(disagreement(rest, nullptr, &photo.distances[i]));
  }
  if (!worst) return std::nullopt;
  return worst->text;
}

void note_disagreement(const EstimateInput& input, Answer& answer) {
  if (const auto text = worst_disagreement(input)) {
    answer.notes.insert(answer.notes.begin(),
                        {*text + " Check both, and take out the one that is wrong.", true});
  }
}

}  // namespace

struct EstimateMemory::Inside {
  EstimateInput input;
  Setting setting;
  State state;
  Smoothness smoothness;
  WildMarks left_out;
};

Result<Answer> estimate(const EstimateInput& input, EstimateMemory* memory) {
  auto found = whole(input);
  if (!found) {
    Problem problem = found.problem();
    // Sizes that cannot both be true leave no vessel that fits.
    if (problem.code == Code::kCannotBeAnswered) {
      if (const auto text = worst_disagreement(input)) {
        return Problem{Code::kCannotBeAnswered, *text,
                       "Check both, and take out the one that is wrong.", problem.detail};
      }
    }
    return problem;
  }
  Found done = std::move(found).value();
  note_disagreement(input, done.answer);
  if (memory != nullptr) {
    memory->inside_ = std::make_shared<const EstimateMemory::Inside>(
        EstimateMemory::Inside{input, done.solved.task.setting, done.solved.state,
                               done.solved.smoothness, done.solved.task.left_out});
  }
  return std::move(done.answer);
}

Result<Answer> estimate_nearby(const EstimateInput& input, EstimateMemory& memory) {
  const auto before = memory.inside_;
  if (before == nullptr || !starts_from(input, before->input)) return estimate(input, &memory);
  // What is left out is known by its number.
  if (!same(before->left_out, {}) &&
      !same_counts(input.photos.front().marks, before->input.photos.front().marks)) {
    return estimate(input, &memory);
  }
  const auto checked = check_input(input);
  if (!checked) return checked.problem();
  Solved solved{
      {&input, before->setting, priors_of(input), mark_refs(input.photos.front().marks),
       input.photos.front().marks.sd_px, lean_doubts(input, before->state), before->left_out},
      before->state,
      before->smoothness};
  if (solve(solved.task, solved.smoothness, kFineSteps, solved.state).usable) {
    solved.smoothness = chosen_smoothness(solved.task, solved.state, solved.smoothness);
    if (solve(solved.task, solved.smoothness, kSettleSteps, solved.state).usable &&
        still_left_out(solved)) {
      Result<Answer> answer = answered(input, checked.notes(), solved);
      if (answer.ok()) {
        Answer noted = std::move(answer).value();
        note_disagreement(input, noted);
        memory.inside_ = std::make_shared<const EstimateMemory::Inside>(EstimateMemory::Inside{
            input, solved.task.setting, solved.state, solved.smoothness, solved.task.left_out});
        return noted;
      }
    }
  }
  return estimate(input, &memory);
}

}  // namespace potshadow
