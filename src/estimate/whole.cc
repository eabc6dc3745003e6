// SPDX-License-Identifier: MIT
#include "estimate/whole.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "core/text.h"
#include "estimate/advice.h"
#include "estimate/candidates.h"
#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "estimate/normal.h"
#include "estimate/overlay_of.h"
#include "estimate/posterior.h"
#include "estimate/predicted.h"
#include "estimate/proportion_kinds.h"
#include "estimate/read_off.h"
#include "estimate/rival.h"
#include "estimate/solve.h"
#include "estimate/uneven.h"
#include "vessel/sizes.h"

namespace potshadow::internal {
namespace {

constexpr double kWorstFit = 0.01;     // of the picture's longer side
constexpr double kWidestDoubt = 0.25;  // sd over size beyond which there is no answer

// What a mark is called: "rim 7", "corner 2"; with its reference and photograph where there are
// several.
std::string mark_words(const EstimateInput& input, const MarkPlace& place) {
  constexpr std::array<const char*, 4> kNames = {"rim ", "base ", "left ", "right "};
  const PhotoInput& photo = input.photos[place.photo];
  std::string words;
  if (place.kind != MarkKind::kReference) {
    const std::array lists = {&photo.marks.rim_sd_px, &photo.marks.base_sd_px,
                              &photo.marks.left_sd_px, &photo.marks.right_sd_px};
    const std::vector<double>& own = *lists[static_cast<std::size_t>(place.kind)];
    if (place.number < own.size() && own[place.number] > 0.0) words = "traced ";
    words += kNames[static_cast<std::size_t>(place.kind)] + std::to_string(place.number + 1);
  } else {
    const char* point = "edge";
    for (const Flat& flat : flats_of(photo)) {
      if (flat.seat.number != place.reference) continue;
      point = place.number < flat.points.size() ? flat.point_word : "shelf line";
    }
    for (const NeighbourReference& neighbour : photo.neighbours) {
      if (neighbour.number == place.reference) point = "mark";
    }
    const std::size_t count = photo.references.size() + photo.discs.size() + photo.lengths.size() +
                              photo.grids.size() + photo.neighbours.size();
    if (count > 1) words = reference_words(place.reference) + " ";
    words += point + (" " + std::to_string(place.number + 1));
  }
  if (input.photos.size() > 1) words = photo_words(input, place.photo) + " " + words;
  return words;
}

std::vector<MarkResidual> worst_marks(const Task& task, std::vector<Misfit> all) {
  std::sort(all.begin(), all.end(), [](const Misfit& a, const Misfit& b) {
    return std::abs(a.off_px) > std::abs(b.off_px);
  });
  constexpr std::size_t kShown = 5;
  if (all.size() > kShown) all.resize(kShown);
  std::vector<MarkResidual> worst;
  for (const Misfit& misfit : all) {
    const double off = std::abs(misfit.off_px);
    worst.push_back({mark_words(*task.input, misfit.place), misfit.place, off, off / misfit.sd_px});
  }
  return worst;
}

Fit fit_of(const Task& task, const std::vector<Misfit>& all, const Linear& linear) {
  Fit fit;
  double squares = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (is_left_out(task, i)) continue;
    ++fit.marks;
    squares += all[i].off_px * all[i].off_px;
  }
  fit.rms_px = std::sqrt(squares / static_cast<double>(fit.marks));
  fit.worst = worst_marks(task, all);

  // Scatter against the stated precision: observations, less the unknowns they determine.
  const Eigen::MatrixXd normal = normal_matrix(linear.jacobian);
  const Eigen::LDLT<Eigen::MatrixXd> factor(normal);
  std::vector<Eigen::Index> rows;
  double sum = 0.0;
  for (std::size_t i = 0; i < linear.rows.size(); ++i) {
    if (linear.rows[i].kind != RowKind::kObservation) continue;
    rows.push_back(static_cast<Eigen::Index>(i));
    sum += linear.residual(rows.back()) * linear.residual(rows.back());
  }
  const Eigen::MatrixXd observed = linear.jacobian(rows, Eigen::all);
  const double freedom =
      static_cast<double>(rows.size()) - factor.solve(normal_matrix(observed)).trace();
  fit.scatter_ratio = freedom > 1.0 ? std::sqrt(sum / freedom) : 1.0;
  return fit;
}

// Whether anything in the photographs or beside them is of known size, or measured.
bool anything_known(const EstimateInput& input) {
  return std::any_of(input.photos.begin(), input.photos.end(), [](const PhotoInput& photo) {
    return !photo.references.empty() || !photo.discs.empty() || !photo.lengths.empty() ||
           !photo.grids.empty() || !photo.neighbours.empty() || !photo.distances.empty();
  });
}

// Without any scale the vessel is taken as this high: the height of a middling pot, so that the
// pane's shift, which is in millimetres, is about right.
constexpr double kAnyHeightMm = 200.0;

// A known neck binds nothing where the marks show none.
std::optional<Problem> no_neck(const EstimateInput& input, const Profile& profile) {
  const std::vector<KnownSize> known = known_sizes(input);
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
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    if (input.photos[v].focal) continue;
    const std::string which = input.photos.size() > 1
                                  ? "The focal length of " + photo_words(input, v)
                                  : std::string("The photograph's focal length");
    notes.push_back({which + " is not known, so it was worked out from the marks. Give the 35 mm "
                             "equivalent for narrower intervals.",
                     true});
  }
  for (const KnownSize& size : known_sizes(input)) {
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
  for (const PhotoInput& photo : input.photos) {
    const auto look = [&](const auto& list) {
      for (const auto& reference : list) {
        if (height == nullptr || !(reference.riser_mm > height->measured.value)) continue;
        notes.push_back({"The riser with " + reference_words(reference.number) + ", " +
                             mm_text(reference.riser_mm) +
                             ", is higher than the vessel itself. Check it.",
                         true});
      }
    };
    look(photo.references);
    look(photo.discs);
    look(photo.lengths);
    look(photo.grids);
    look(photo.neighbours);
  }
  for (const MeasuredSize& size : answer.sizes) {
    const double relative = size.measured.sd / size.measured.value;
    if (size.name == SizeName::kHeightOfMax || size.name == SizeName::kHeightOfNeck) {
      if (height != nullptr && size.measured.sd > 0.1 * height->measured.value) {
        notes.push_back({std::string(size_words(size.name)) +
                             " is not pinned down: the wall is nearly upright there.",
                         false});
      }
    } else if (relative > 0.10 && answer.scale != ScaleSource::kGuess) {
      notes.push_back({std::string(size_words(size.name)) +
                           " is hardly pinned down: it may be a fifth more or less.",
                       true});
    }
  }
  return notes;
}

// Names the marks that were left out, with how far off each is; traced ones are counted by edge.
std::optional<Note> left_out_note(const Task& task, const std::vector<Misfit>& all) {
  const auto pixel_words = [](double off_px) {
    const std::string pixels = fixed_text(off_px, 0);
    return pixels + (pixels == "1" ? " pixel" : " pixels");
  };
  constexpr std::array<const char*, 4> kEdges = {"rim", "foot", "left side", "right side"};
  struct OnEdge {
    std::size_t count = 0;
    double farthest_px = 0.0;
  };
  std::map<std::pair<std::size_t, MarkKind>, OnEdge> traced;  // by photograph and edge
  std::vector<std::string> names;
  std::size_t next = 0;
  std::size_t count = 0;
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    for (const MarkRef& mark : task.views[v].marks) {
      const std::size_t i = next++;
      if (!is_left_out(task, i)) continue;
      ++count;
      const double off_px = std::abs(all[i].off_px);
      if (mark.traced) {
        OnEdge& edge = traced[{v, mark.kind}];
        ++edge.count;
        edge.farthest_px = std::max(edge.farthest_px, off_px);
      } else {
        names.push_back(mark_words(*task.input, all[i].place) + " (" + pixel_words(off_px) + ")");
      }
    }
  }
  for (const auto& [at, edge] : traced) {
    std::string words = std::to_string(edge.count) + " traced on the " +
                        kEdges[static_cast<std::size_t>(at.second)];
    if (task.views.size() > 1) words += " of " + photo_words(*task.input, at.first);
    names.push_back(words + " (up to " + pixel_words(edge.farthest_px) + ")");
  }
  if (names.empty()) return std::nullopt;
  std::string list = names.front();
  for (std::size_t i = 1; i < names.size(); ++i) {
    list += (i + 1 < names.size() ? ", " : " and ") + names[i];
  }
  const bool one = count == 1;
  return Note{(one ? "One mark lies" : std::to_string(count) + " marks lie") +
                  std::string(" too far off for chance, so ") + (one ? "it was" : "they were") +
                  " left out: " + list + ". Move " + (one ? "it" : "them") +
                  " onto the edge, or delete " + (one ? "it." : "them."),
              true};
}

Note rival_note(const Rival& rival) {
  const double times = rival.other.vessel.controls[0] / rival.found.vessel.controls[0];
  return {"A vessel on a foot " + fixed_text(times, 1) +
              " times as wide would fit these marks nearly as well, and the intervals allow for "
              "it. More marks on the foot, or a photograph from lower down, would tell.",
          false};
}

double longest_side(const EstimateInput& input) {
  int side = 1;
  for (const PhotoInput& photo : input.photos) {
    side = std::max({side, photo.width_px, photo.height_px});
  }
  return side;
}

// A size that must be known for there to be an answer.
bool pinned_down(const Answer& answer, SizeName name) {
  const MeasuredSize* size = find_size(answer, name);
  return size != nullptr && size->measured.sd < kWidestDoubt * size->measured.value;
}

}  // namespace

ScaleSource scale_of(const EstimateInput& input) {
  const std::vector<KnownSize> sizes = known_sizes(input);
  if (anything_known(input)) return ScaleSource::kKnown;
  if (sizes.empty()) return ScaleSource::kNone;
  const bool guessed =
      std::all_of(sizes.begin(), sizes.end(), [](const KnownSize& size) { return size.guess; });
  return guessed ? ScaleSource::kGuess : ScaleSource::kKnown;
}

EstimateInput with_any_scale(EstimateInput input) {
  if (input.photos.empty()) return input;
  const bool no_height = input.hidden_rim.has_value();
  input.photos.front().sizes.push_back(
      {0, no_height ? SizeName::kMaxDiameter : SizeName::kHeight, kAnyHeightMm, 0.0, true});
  if (no_height) input.out_of_round_percent = 0.0;
  return input;
}

void leave_scale_open(Answer& answer) {
  const double part = 100.0 / kAnyHeightMm;
  answer.scale = ScaleSource::kNone;
  answer.sizes.clear();
  answer.size_correlation.clear();
  answer.advice.clear();
  answer.rows_covariance.resize(0, 0);
  if (answer.uneven) {
    answer.uneven->widest_mm *= part;
    answer.uneven->widest_sd_mm *= part;
    answer.uneven->at_height_mm *= part;
  }
  std::erase_if(answer.notes,
                [](const Note& note) { return note.text.rfind("The scale is a guess", 0) == 0; });
  for (ProfileRow& row : answer.rows) {
    row = {part * row.height_mm, part * row.radius_mm, part * row.sd_mm};
  }
  for (PhotoAnswer& photo : answer.photos) photo.overlay.dimensions.clear();
}

std::string mm_text(double mm) {
  const bool whole = std::abs(mm - std::round(mm)) < 0.05 || mm >= 100.0;
  return fixed_text(mm, whole ? 0 : 1) + " mm";
}

Result<Answer> answered(const EstimateInput& input, const std::vector<Note>& earlier,
                        const Solved& solved, bool advise) {
  const auto& [task, state, smoothness, rival] = solved;
  for (const double coordinate : state.vessel.controls) {
    if (!std::isfinite(coordinate)) return not_settled("not finite");
  }
  Linear linear = linearised(task, smoothness, state);
  const std::vector<Misfit> all_misfits = misfits(task, state);
  const Fit fit = fit_of(task, all_misfits, linear);
  if (fit.rms_px > kWorstFit * longest_side(input)) {
    return Problem{
        Code::kCannotBeAnswered,
        "No vessel fits the marks: they miss the best one by " + fixed_text(fit.rms_px, 0) +
            " pixels, the worst being " + fit.worst.front().mark + ".",
        "Look at that mark first; check the reference's place and its corners' order.", "misfit"};
  }
  const Posterior::Gradient shift = rival ? doubt_of_rival(*rival, linear) : Posterior::Gradient();
  const auto posterior = Posterior::from(std::move(linear), shift);
  if (!posterior) return posterior.problem();
  // Marks that scatter more than stated widen the intervals; the margin is what chance allows.
  const double allowed = 1.0 + 2.0 / std::sqrt(2.0 * static_cast<double>(fit.marks));
  const double inflation = fit.scatter_ratio > allowed ? fit.scatter_ratio : 1.0;
  const Profile profile = profile_of(state.vessel.controls).value();
  if (auto problem = no_neck(input, profile)) return *problem;
  Answer answer = answer_of(task, state, profile, *posterior, inflation);
  if (!(input.hidden_rim || pinned_down(answer, SizeName::kHeight)) ||
      !(input.hidden_rim || pinned_down(answer, SizeName::kMaxDiameter))) {
    if (input.round_base && pinned_down(answer, SizeName::kMaxDiameter)) {
      return Problem{
          Code::kCannotBeAnswered,
          "From so high up nothing shows how deep the round bottom reaches.",
          "Take a photograph from lower down, or type the vessel's height if it is known.",
          kScaleWithoutBounds};
    }
    return Problem{Code::kCannotBeAnswered, "The marks do not pin down how big the vessel is.",
                   "Spread marks over the rim, the foot and both outlines, and check the "
                   "reference's place.",
                   kScaleWithoutBounds};
  }
  answer.fit = fit;
  const Eigen::MatrixXd covariance = posterior->covariance_matrix(inflation);
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    answer.photos[v].overlay =
        overlay_of(task, state, v, answer, *posterior, covariance, all_misfits);
  }
  answer.scale = scale_of(input);
  answer.uneven = uneven_of(task, state, *posterior, all_misfits);
  answer.out_of_round = out_of_round_of(task, state, *posterior);
  if (advise) answer.advice = advice_on(task, state, profile, *posterior, inflation, answer);
  answer.notes = notes_of(answer, input, earlier);
  if (rival) answer.notes.push_back(rival_note(*rival));
  if (auto note = left_out_note(task, all_misfits)) answer.notes.push_back(std::move(*note));
  if (inflation > 1.0) {
    answer.notes.push_back({"The marks scatter " + fixed_text(fit.scatter_ratio, 1) +
                                " times as much as stated, so the intervals are widened. Look at "
                                "the worst marks first.",
                            true});
  }
  return answer;
}

Result<Found> whole(const EstimateInput& input) {
  const auto checked = check_input(input);
  if (!checked) return checked.problem();
  auto settled = solved(input);
  if (!settled) return settled.problem();
  Solved found = std::move(settled).value();
  auto answer = answered(input, checked.notes(), found, true);
  if (!answer) return answer.problem();
  const std::vector<Proportion>& proportions = answer->proportions;
  const auto foot = std::find_if(proportions.begin(), proportions.end(),
                                 [](const Proportion& p) { return p.key == kBaseToMaxKey; });
  if (foot != proportions.end()) {
    found.rival = rival_foot(found, foot->measured.sd / foot->measured.value);
    if (found.rival) answer = answered(input, checked.notes(), found, true);
    if (!answer) return answer.problem();
  }
  return Found{std::move(found), std::move(answer).value()};
}

}  // namespace potshadow::internal
