// SPDX-License-Identifier: MIT
#include "project/compare_report.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <system_error>
#include <utility>

namespace potshadow {
namespace {

double shared_scale_sd(const ComparedVessel& a, const ComparedVessel& b) {
  if (a.objects.size() != 1 || a.objects != b.objects) return 0.0;
  return std::min(a.reference_doubt, b.reference_doubt);
}

const Proportion* find_proportion(const ComparedVessel& vessel, const std::string& key) {
  const auto found = std::find_if(vessel.proportions.begin(), vessel.proportions.end(),
                                  [&](const Proportion& p) { return p.key == key; });
  return found == vessel.proportions.end() ? nullptr : &*found;
}

bool same_file(const std::string& a, const std::string& b) {
  std::error_code error;
  return a == b || std::filesystem::equivalent(a, b, error);
}

Problem no_clay(const std::string& whose, Stage at) {
  return {Code::kCannotBeAnswered,
          "The " + whose + " is not " + std::string(stage_words(at)) +
              ", and nothing says how much its clay shrinks.",
          "Give 'record' (see 'potshadow clay') or 'shrinkage_percent' in its project's 'clay', or "
          "'shrinkage' in its text, or compare pots at one stage.",
          ""};
}

// How many claims are made together: an interval for each size and proportion that both have, and
// the scale and the shape.
int claims_of(const ComparedVessel& a, const ComparedVessel& b) {
  int claims = 0;
  for (const MeasuredSize& size : a.sizes) claims += find_size(b, size.name) != nullptr;
  for (const Proportion& p : a.proportions) claims += find_proportion(b, p.key) != nullptr;
  if (!a.form.rows.empty() && !b.form.rows.empty()) claims += 2;
  return std::max(1, claims);
}

// What both share, as pairs of what it does to each.
using SharedPairs = std::vector<std::pair<const SharedDoubt*, const SharedDoubt*>>;

SharedPairs shared_by(const ComparedVessel& a, const ComparedVessel& b) {
  SharedPairs pairs;
  for (const SharedDoubt& one : a.shared) {
    for (const SharedDoubt& other : b.shared) {
      if (one.source == other.source) pairs.emplace_back(&one, &other);
    }
  }
  return pairs;
}

double covariance_of(const SharedPairs& pairs, SizeName name) {
  const auto i = static_cast<std::size_t>(name);
  double sum = 0.0;
  for (const auto& [one, other] : pairs) sum += one->sizes.at(i) * other->sizes.at(i);
  return sum;
}

double covariance_of(const SharedPairs& pairs, const std::string& proportion) {
  double sum = 0.0;
  for (const auto& [one, other] : pairs) {
    const auto a = one->proportions.find(proportion);
    const auto b = other->proportions.find(proportion);
    if (a == one->proportions.end() || b == other->proportions.end()) continue;
    sum += a->second * b->second;
  }
  return sum;
}

void compare_sizes(const ComparedVessel& a, const ComparedVessel& b, int claims,
                   VesselComparison& out) {
  const SharedPairs pairs = shared_by(a, b);
  for (std::size_t i = 0; a.scaled && b.scaled && i < kSizeCount; ++i) {
    const auto name = static_cast<SizeName>(i);
    const MeasuredSize* const one = find_size(a, name);
    const MeasuredSize* const other = find_size(b, name);
    if (one != nullptr && other != nullptr) {
      const double shared =
          name == SizeName::kCapacity ? 3.0 * out.shared_scale_sd : out.shared_scale_sd;
      out.sizes.push_back({name, size_difference(one->measured, other->measured, shared, claims,
                                                 covariance_of(pairs, name))});
    } else if (one != nullptr || other != nullptr) {
      out.missing.push_back(std::string(size_words(name)) + " is known of " +
                            (one != nullptr ? out.original : out.replica) + " only.");
    }
  }
  for (const Proportion& p : a.proportions) {
    const Proportion* const other = find_proportion(b, p.key);
    if (other == nullptr) continue;
    out.proportions.push_back(
        {p.words, p.key,
         size_difference(p.measured, other->measured, 0.0, claims, covariance_of(pairs, p.key))});
  }
}

void compare_shapes(const ComparedVessel& a, const ComparedVessel& b, int claims,
                    VesselComparison& out) {
  out.original_rows = a.form.rows;
  out.replica_rows = b.form.rows;
  if (a.form.rows.empty() && b.form.rows.empty()) {
    out.missing.push_back("The outline is known of neither, so nothing is said of the shape.");
    return;
  }
  if (a.form.rows.empty() || b.form.rows.empty()) {
    out.missing.push_back("The outline is known of " +
                          (b.form.rows.empty() ? out.original : out.replica) +
                          " only, so nothing is said of the shape.");
    return;
  }
  std::vector<SharedMove> moves;
  for (const auto& [one, other] : shared_by(a, b)) moves.push_back({one->rows, other->rows});
  const auto found = shape_difference({.original = a.form,
                                       .replica = b.form,
                                       .shared_scale_sd = out.shared_scale_sd,
                                       .shared = std::move(moves),
                                       .confidence = std::pow(0.95, 1.0 / claims)});
  if (!found) {
    out.notes.push_back({found.problem().what + " " + found.problem().next, true});
    return;
  }
  out.shape = *found;
  if (out.shape->by_parts) {
    out.notes.push_back(
        {"In shape they are so unlike that their outlines were laid together part by "
         "part, from foot to rim. The gaps say how unlike they are, not what to "
         "correct.",
         true});
  }
  out.scale_verdict =
      size_difference(normal_measured(1.0, 0.0), out.shape->scale, 0.0, claims).verdict;
}

// Sizes so far apart are seldom those of a replica.
void ask_about_units(VesselComparison& out) {
  constexpr double kFarApart = 4.0;
  constexpr double kInchCm = 2.54;  // one taken for the other
  constexpr double kNearlyThat = 0.03;
  for (const ComparedSize& size : out.sizes) {
    if (size.name != SizeName::kHeight && size.name != SizeName::kMaxDiameter) continue;
    const double ratio = size.difference.replica.value / size.difference.original.value;
    const double apart = std::max(ratio, 1.0 / ratio);
    if (apart < kFarApart && std::abs(apart / kInchCm - 1.0) > kNearlyThat) continue;
    out.notes.push_back({"One is " + fixed_text(apart, 1) +
                             " times as large as the other. Check the unit in which sizes were "
                             "given.",
                         true});
    return;
  }
}

void take_notes(const ComparedVessel& vessel, VesselComparison& out) {
  for (const Note& note : vessel.notes)
    out.notes.push_back({vessel.title + ": " + note.text, true});
}

}  // namespace

Result<VesselComparison> compare_vessels(const ComparedVessel& original,
                                         const ComparedVessel& replica, Stage at) {
  if (same_file(original.file, replica.file)) {
    return Problem{Code::kBadValue, "The original and the replica are the same project.",
                   "Measure the replica in a project of its own, from photographs of it.", ""};
  }
  ComparedVessel as_it_was = original;
  ComparedVessel made = replica;
  VesselComparison out;
  if (made.stage != at && !made.clay) {
    if (!original.clay) return no_clay("replica", at);
    made.clay = original.clay;
    out.notes.push_back(
        {"The replica names no clay, so the one that the original's project plans "
         "with counts.",
         false});
  }
  // Taken back to an earlier stage it is what it would have been in the replica's clay.
  if (as_it_was.stage != at && made.clay && (as_it_was.stage > at || !as_it_was.clay)) {
    as_it_was.clay = made.clay;
  }
  if (as_it_was.stage != at && !as_it_was.clay) return no_clay("original", at);
  out.original = original.title;
  out.replica = replica.title;
  out.stage = replica.stage;
  out.original_stage = original.stage;
  out.at = at;
  if (made.clay) out.clay_name = made.clay->name;
  if (as_it_was.clay) out.original_clay_name = as_it_was.clay->name;
  out.shrinkage = shrinkage_to(made, at);
  out.original_shrinkage = shrinkage_to(as_it_was, at);
  const ComparedVessel a = at_stage(as_it_was, at);
  const ComparedVessel b = at_stage(made, at);
  out.original_factor = factor_to(as_it_was, at);
  out.replica_factor = factor_to(made, at);
  out.original_wall_mm = a.wall_mm;
  out.replica_wall_mm = b.wall_mm;
  const bool scaled = a.scaled && b.scaled;
  if (scaled) out.shared_scale_sd = shared_scale_sd(a, b);
  const int claims = claims_of(a, b);
  compare_sizes(a, b, claims, out);
  if (scaled) {
    compare_shapes(a, b, claims, out);
  } else {
    out.notes.push_back(
        {"Of one of the two nothing says how big it is, so only proportions are compared. Mark "
         "something of known size in its photograph.",
         true});
  }
  ask_about_units(out);
  if (a.guessed || b.guessed) {
    out.notes.push_back({"A scale is a guess, and so is every difference in size.", true});
  }
  if (!a.kind.empty() && !b.kind.empty() && a.kind != b.kind) {
    out.notes.push_back({"They are vessels of different kinds: " + out.original + " is " + a.kind +
                             ", " + out.replica + " is " + b.kind + ".",
                         false});
  }
  take_notes(a, out);
  take_notes(b, out);
  return out;
}

}  // namespace potshadow
