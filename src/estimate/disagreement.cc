// SPDX-License-Identifier: MIT
#include "estimate/disagreement.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <vector>

#include "core/text.h"
#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "estimate/normal.h"
#include "estimate/whole.h"

namespace potshadow::internal {
namespace {

constexpr double kTooFar = 3.0;  // chance alone goes as far once in 370 times

enum class Kind { kRectangle, kDisc, kLength, kGrid, kNeighbour, kSize, kDistance };

// One thing that says how big things are.
struct Source {
  Kind kind = Kind::kRectangle;
  std::size_t photo = 0;
  std::size_t index = 0;   // in its list
  std::size_t number = 0;  // as the potter counts, less 1
};

// Calls `visit` with each list of a photograph's references and the kind it holds.
template <class Photo, class Visit>
void visit_lists(Photo& photo, const Visit& visit) {
  visit(Kind::kRectangle, photo.references);
  visit(Kind::kDisc, photo.discs);
  visit(Kind::kLength, photo.lengths);
  visit(Kind::kGrid, photo.grids);
  visit(Kind::kNeighbour, photo.neighbours);
  visit(Kind::kSize, photo.sizes);
  visit(Kind::kDistance, photo.distances);
}

std::vector<Source> sources_of(const EstimateInput& input) {
  std::vector<Source> sources;
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    visit_lists(input.photos[v], [&](Kind kind, const auto& list) {
      for (std::size_t i = 0; i < list.size(); ++i) sources.push_back({kind, v, i, list[i].number});
    });
  }
  return sources;
}

// The input without this source, or with no other.
EstimateInput changed(const EstimateInput& input, const Source& source, bool only) {
  EstimateInput out = input;
  for (std::size_t v = 0; v < out.photos.size(); ++v) {
    visit_lists(out.photos[v], [&](Kind kind, auto& list) {
      const bool here = source.photo == v && source.kind == kind;
      auto kept = list;
      kept.clear();
      for (std::size_t i = 0; i < list.size(); ++i) {
        const bool is_source = here && source.index == i;
        if (is_source == only) kept.push_back(list[i]);
      }
      list = std::move(kept);
    });
  }
  return out;
}

std::string named(const EstimateInput& input, const Source& source, bool begins) {
  std::string words = reference_words(source.number);
  if (input.photos.size() > 1) words += " of " + photo_words(input, source.photo);
  if (begins) words.front() = 'R';
  return words;
}

// What the rest is called where it is said to say something: one reference by its number.
std::string rest_words(const EstimateInput& rest, const char* one, const char* several) {
  const std::vector<Source> sources = sources_of(rest);
  if (sources.size() != 1) return std::string("The other references ") + several;
  return named(rest, sources.front(), true) + " " + one;
}

struct Disagreement {
  double sigmas = 0.0;
  std::string text;  // one sentence or two
};

constexpr const char* kBeyond = "; they are farther apart than their uncertainties allow.";

// The likeliest slip behind a reading that is `ratio` times what the rest says, or nothing.
std::string slip(double ratio) {
  const double off = std::abs(std::log(ratio));
  constexpr double kNear = 0.08;
  const auto near = [&](double factor) { return std::abs(off - std::log(factor)) < kNear; };
  if (near(10.0)) return " One of them may be in centimetres.";
  if (near(25.4) || near(2.54)) return " One of them may be in inches.";
  if (near(2.0)) return " One of them may be a radius, or half a size.";
  return "";
}

std::string reason(const EstimateInput& input, const Source& source, double ratio) {
  const std::string found = slip(ratio);
  if (!found.empty()) return found;
  const PhotoInput& photo = input.photos[source.photo];
  const FlatReference* seat = nullptr;
  if (source.kind == Kind::kRectangle) seat = &photo.references[source.index];
  if (source.kind == Kind::kDisc) seat = &photo.discs[source.index];
  if (source.kind == Kind::kLength) seat = &photo.lengths[source.index];
  if (source.kind == Kind::kGrid) seat = &photo.grids[source.index];
  if (seat == nullptr) return "";
  if (seat->place == Place::kOnGlass) {
    return " The likeliest reason is the distance from the glass to the vessel.";
  }
  if (seat->place == Place::kBeside) {
    return std::string(" The likeliest reason is that it was ") +
           (ratio < 1.0 ? "nearer to the camera" : "farther from the camera") + " than the vessel.";
  }
  return " The likeliest reason is its place, such as a step or a riser under one of them, or its "
         "size.";
}

// Returns how a known size (or distance, where `size` is null) disagrees with what the rest says,
// or none where it does not or the rest says nothing.
std::optional<Disagreement> known_disagreement(const EstimateInput& rest, const KnownSize* size,
                                               const KnownDistance* distance, std::size_t photo) {
  const auto found = whole(rest);
  if (!found) return std::nullopt;
  if (size != nullptr) {
    const MeasuredSize* read = find_size(found->answer, size->name);
    if (read == nullptr) return std::nullopt;
    const double sd = std::hypot(read->measured.sd, size_sd(*size, round_sd(rest)));
    const double sigmas = std::abs(read->measured.value - size->value_mm) / sd;
    if (!(sigmas > kTooFar)) return std::nullopt;
    return Disagreement{
        sigmas, rest_words(rest, "says the ", "say the ") + small_size_words(size->name) + " is " +
                    mm_text(read->measured.value) +
                    (size->guess ? ", the guess " : ", the catalogue ") + mm_text(size->value_mm) +
                    kBeyond + slip(size->value_mm / read->measured.value)};
  }
  // The scale carries the distance: its share of doubt is the height's, at least.
  const MeasuredSize* height = find_size(found->answer, SizeName::kHeight);
  if (height == nullptr) return std::nullopt;
  const CameraAnswer& camera = found->answer.photos[photo].camera;
  const double part = std::hypot(height->measured.sd / height->measured.value,
                                 camera.focal_35mm_sd / camera.focal_35mm);
  const double sd = std::hypot(part * camera.distance_mm, distance_sd(*distance));
  const double sigmas = std::abs(camera.distance_mm - distance->value_mm) / sd;
  if (!(sigmas > kTooFar)) return std::nullopt;
  return Disagreement{
      sigmas, rest_words(rest, "puts", "put") + " the camera " + mm_text(camera.distance_mm) +
                  " from the vessel, the measured distance is " + mm_text(distance->value_mm) +
                  kBeyond + slip(distance->value_mm / camera.distance_mm)};
}

// The height, or the maximum diameter where no height is seen.
const MeasuredSize* scale_size(const Answer& answer) {
  const MeasuredSize* size = find_size(answer, SizeName::kHeight);
  return size != nullptr ? size : find_size(answer, SizeName::kMaxDiameter);
}

// Of a size's variance what one reference brings and another does not share.
double own_variance(const MeasuredSize& size) {
  double share = 0.0;
  for (const DoubtSource source :
       {DoubtSource::kMarks, DoubtSource::kReferenceSize, DoubtSource::kReferencePlace}) {
    share += size.budget[static_cast<std::size_t>(source)];
  }
  return share * size.measured.sd * size.measured.sd;
}

// Returns how a thing in the photograph disagrees with the rest.
std::optional<Disagreement> seen_disagreement(const EstimateInput& input, const Source& source) {
  const EstimateInput rest = changed(input, source, false);
  const EstimateInput alone = changed(input, source, true);
  const auto others = whole(rest);
  if (!others) return std::nullopt;
  const auto one = whole(alone);
  if (!one) return std::nullopt;
  const MeasuredSize* a = scale_size(one->answer);
  const MeasuredSize* b = scale_size(others->answer);
  if (a == nullptr || b == nullptr || a->name != b->name) return std::nullopt;
  const double sd = std::sqrt(own_variance(*a) + own_variance(*b));
  const double sigmas = std::abs(a->measured.value - b->measured.value) / sd;
  if (!(sigmas > kTooFar)) return std::nullopt;
  const std::string size = small_size_words(a->name);
  return Disagreement{sigmas, named(input, source, true) + " says the " + size + " is " +
                                  mm_text(a->measured.value) + ", " +
                                  (sources_of(rest).size() == 1
                                       ? named(rest, sources_of(rest).front(), false) + " says "
                                       : std::string("the other references say ")) +
                                  mm_text(b->measured.value) + kBeyond +
                                  reason(input, source, a->measured.value / b->measured.value)};
}

std::optional<Disagreement> disagreement(const EstimateInput& input, const Source& source) {
  const PhotoInput& photo = input.photos[source.photo];
  if (source.kind == Kind::kSize) {
    return known_disagreement(changed(input, source, false), &photo.sizes[source.index], nullptr,
                              source.photo);
  }
  if (source.kind == Kind::kDistance) {
    return known_disagreement(changed(input, source, false), nullptr,
                              &photo.distances[source.index], source.photo);
  }
  return seen_disagreement(input, source);
}

// Those of the sources without which the height would move farther than chance allows. With J and
// r the rows of a source and N the normal matrix of all, the solution without it moves by
// (N - J^T J)^-1 J^T r; the variance of that is what the source takes away from the rest's.
std::vector<Source> suspects(const EstimateInput& input, const std::vector<Source>& sources,
                             const Solved& joint) {
  constexpr double kSuspect = 2.5;  // sd; less than what is then called too far
  const Linear linear = linearised(joint.task, joint.smoothness, joint.state);
  const std::size_t count = joint.state.vessel.controls.size();
  Eigen::VectorXd gradient = Eigen::VectorXd::Zero(linear.jacobian.cols());
  const std::size_t coordinate = input.hidden_rim ? count / 2 / 2 * 2 : count - 1;
  if (linear.control_column[coordinate] < 0) return sources;
  gradient(linear.control_column[coordinate]) = 1.0;
  const Eigen::MatrixXd normal = normal_matrix(linear.jacobian);
  const double variance = gradient.dot(Eigen::LDLT<Eigen::MatrixXd>(normal).solve(gradient));
  std::vector<Source> out;
  for (const Source& source : sources) {
    std::vector<Eigen::Index> rows;
    for (std::size_t i = 0; i < linear.rows.size(); ++i) {
      const RowInfo& row = linear.rows[i];
      if (row.view == source.photo && row.reference == source.number) {
        rows.push_back(static_cast<Eigen::Index>(i));
      }
    }
    const Eigen::MatrixXd own = linear.jacobian(rows, Eigen::all);
    // Unknowns of the source alone hang in the air without it: they are held.
    Eigen::MatrixXd rest = normal - own.transpose() * own;
    rest.diagonal().array() += 1e-9 * normal.diagonal().array();
    const Eigen::LDLT<Eigen::MatrixXd> factor(rest);
    const Eigen::VectorXd solved = factor.solve(gradient);
    const double moved = solved.dot(own.transpose() * linear.residual(rows));
    const double spread = gradient.dot(solved) - variance;
    if (factor.info() != Eigen::Success || !std::isfinite(moved) ||
        std::abs(moved) > kSuspect * std::sqrt(std::max(0.0, spread))) {
      out.push_back(source);
    }
  }
  return out;
}

// One photograph alone, with a scale of its own or any.
EstimateInput alone(const EstimateInput& input, std::size_t v) {
  EstimateInput one = input;
  one.photos = {input.photos[v]};
  return scale_of(one) == ScaleSource::kNone ? with_any_scale(std::move(one)) : one;
}

}  // namespace

std::optional<std::string> worst_disagreement(const EstimateInput& input, const Solved* joint) {
  std::vector<Source> sources = sources_of(input);
  if (sources.size() < 2) return std::nullopt;
  if (joint != nullptr) {
    sources = suspects(input, sources, *joint);
    if (sources.empty()) return std::nullopt;
  }
  std::optional<Disagreement> worst;
  // Known sizes and distances are judged first: their sentences say more plainly what is what.
  bool judged = false;
  for (const bool known : {true, false}) {
    for (const Source& source : sources) {
      if ((source.kind == Kind::kSize || source.kind == Kind::kDistance) != known) continue;
      // Of two alone, one against the other is enough.
      if (sources_of(input).size() == 2 && judged && !known) break;
      judged = true;
      auto found = disagreement(input, source);
      if (found && (!worst || found->sigmas > worst->sigmas)) worst = std::move(found);
    }
    if (worst) break;
  }
  if (!worst) return std::nullopt;
  return worst->text + " Check both, and take out the one that is wrong.";
}

std::optional<Problem> different_vessels(const EstimateInput& input, const Answer& joint) {
  constexpr double kFitsWell = 2.0;  // the scatter of one vessel's marks, against what is stated
  if (input.photos.size() < 2 || joint.fit.scatter_ratio < kFitsWell) return std::nullopt;
  return why_nothing_fits(input);
}

std::optional<Problem> why_nothing_fits(const EstimateInput& input) {
  constexpr double kPlainly = 4.0;  // sd between two photographs' proportions
  if (input.photos.size() > 1) {
    struct Seen {
      std::size_t photo = 0;
      std::vector<Proportion> proportions;
    };
    std::vector<Seen> seen;
    for (std::size_t v = 0; v < input.photos.size(); ++v) {
      const EstimateInput one = alone(input, v);
      const auto found = whole(one);
      if (found) seen.push_back({v, found->answer.proportions});
    }
    for (std::size_t k = 1; k < seen.size(); ++k) {
      for (const Proportion& a : seen.front().proportions) {
        for (const Proportion& b : seen[k].proportions) {
          if (a.key != b.key) continue;
          const double sd = std::hypot(a.measured.sd, b.measured.sd);
          if (!(std::abs(a.measured.value - b.measured.value) > kPlainly * sd)) continue;
          const auto figure = [](const Measured& m) {
            return fixed_text(m.value, 2) + " ± " + fixed_text((m.high95 - m.low95) / 2.0, 2);
          };
          return Problem{Code::kBadMarks,
                         upper_first(photo_words(input, seen.front().photo)) + " and " +
                             photo_words(input, seen[k].photo) + " do not show the same vessel: " +
                             lower_first(a.words) + " is " + figure(a.measured) +
                             " in the one and " + figure(b.measured) + " in the other.",
                         "Take out the photograph of the other vessel, or check the marks on both.",
                         "different vessels"};
        }
      }
    }
  }
  const auto text = worst_disagreement(input, nullptr);
  if (!text) return std::nullopt;
  // What to do is the last sentence.
  const std::string next = "Check both, and take out the one that is wrong.";
  return Problem{Code::kCannotBeAnswered, text->substr(0, text->size() - next.size() - 1), next,
                 ""};
}

}  // namespace potshadow::internal
