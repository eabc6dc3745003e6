// SPDX-License-Identifier: MIT
#include <array>
#include <cmath>
#include <numbers>
#include <string>

#include "clay/bench_parts.h"
#include "clay/stages.h"
#include "core/text.h"

namespace potshadow::internal {
namespace {

constexpr double kInch = 25.4;

// How far a size may lie from its target and still be the pot's: a pot thrown far off its aim, and
// the heights of belly and neck, which move more.
struct Bounds {
  double low;
  double high;
};
Bounds bounds_of(PartKind kind) {
  if (kind == PartKind::kPlace) return {0.3, 2.5};
  if (kind == PartKind::kCapacity) return {0.2, 4.0};
  return {0.6, 1.6};
}

bool is_likely(double ratio, PartKind kind) {
  const Bounds bounds = bounds_of(kind);
  return ratio > bounds.low && ratio < bounds.high;
}

// A slip of the pen or of the tool, by what it multiplies a size.
struct Slip {
  double factor;
  bool diameters_only;
  const char* question;
  const char* next;
};
constexpr std::array<Slip, 7> kSlips{{
    {1.0 / kInch, false, "Is it in inches?",
     "Say that the lengths are inches, or type millimetres."},
    {0.1, false, "Is it in centimetres?",
     "Say that the lengths are centimetres, or type millimetres."},
    {kInch, false, "Was it typed in millimetres and taken for inches?",
     "Say in which unit the lengths are."},
    {10.0, false, "Was it typed in millimetres and taken for centimetres?",
     "Say in which unit the lengths are."},
    {std::numbers::pi, true, "Is it the girth, round the outside?",
     "Say that it is a girth, or type the diameter."},
    {std::numbers::inv_pi, true, "Is it a diameter that was taken for a girth?",
     "Say that it is a diameter."},
    {0.5, true, "Is it the radius?", "Type the whole diameter."},
}};

// Whether a size is what this slip makes of one that is about right.
bool fits(const Slip& slip, double ratio) {
  constexpr double kAbout = 0.15;  // less than lies between two slips
  return std::abs(ratio / slip.factor - 1.0) < kAbout;
}

std::string mm_words(double mm) { return fixed_text(mm, 0) + " mm"; }

Problem question(const BenchPart& part, const BenchSize& size, Stage stage) {
  const bool volume = part.kind == PartKind::kCapacity;
  const auto words = [&](double value) {
    return fixed_text(value, value < 100.0 ? 1 : 0) + (volume ? " ml" : " mm");
  };
  const double ratio = size.measured.value / size.target.value;
  Problem problem{Code::kBadValue,
                  "The " + part.words + " was given as " + words(size.measured.value) + ", and " +
                      std::string(stage_words(stage)) + " it should be " +
                      words(size.target.value) + ".",
                  "Check the reading, and that the project is that of this pot.", ""};
  if (volume) return problem;
  for (const Slip& slip : kSlips) {
    if ((slip.diameters_only && part.kind != PartKind::kDiameter) || !fits(slip, ratio)) continue;
    problem.what += std::string(" ") + slip.question;
    problem.next = slip.next;
    break;
  }
  return problem;
}

// Whether two lengths fit each other's targets, and clearly not their own.
bool look_exchanged(const BenchSize& a, const BenchSize& b) {
  constexpr double kNear = 0.08;
  constexpr double kFar = 0.15;
  const auto off = [](const BenchSize& size, const BenchSize& target) {
    return std::abs(size.measured.value / target.target.value - 1.0);
  };
  const bool lengths = a.kind != PartKind::kCapacity && b.kind != PartKind::kCapacity;
  return lengths && off(a, b) < kNear && off(b, a) < kNear && off(a, a) > kFar && off(b, b) > kFar;
}

struct Pair {
  std::size_t first;
  std::size_t second;
};
std::optional<Pair> exchanged(const std::vector<BenchSize>& sizes) {
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    for (std::size_t j = i + 1; j < sizes.size(); ++j) {
      if (look_exchanged(sizes[i], sizes[j])) return Pair{i, j};
    }
  }
  return std::nullopt;
}

// The mean of how far the lengths are from their targets at a stage, as parts of these.
double mean_off(const BenchRequest& request, Stage stage) {
  double sum = 0.0;
  double count = 0.0;
  for (const BenchPart& part : request.parts) {
    if (part.kind != PartKind::kHeight && part.kind != PartKind::kDiameter) continue;
    const SizeWay way = part.kind == PartKind::kHeight ? SizeWay::kUpright : SizeWay::kAcross;
    const StageSize target = length_at_stage(part.target, request.clay, stage, way);
    sum += part.measured.value / target.measured.value - 1.0;
    count += 1.0;
  }
  return count > 0.0 ? sum / count : 0.0;
}

bool all_off_alike(const std::vector<BenchSize>& sizes) {
  bool larger = true;
  bool smaller = true;
  bool any = false;
  for (const BenchSize& size : sizes) {
    if (size.kind != PartKind::kHeight && size.kind != PartKind::kDiameter) continue;
    any = true;
    larger = larger && size.verdict == Verdict::kLarger;
    smaller = smaller && size.verdict == Verdict::kSmaller;
  }
  return any && (larger || smaller);
}

std::optional<Stage> better_stage(const BenchRequest& request) {
  constexpr double kFits = 0.015;   // a pot of another stage that is right
  constexpr double kBetter = 0.04;  // and so far off at this one
  if (std::abs(mean_off(request, request.stage)) < kBetter) return std::nullopt;
  std::optional<Stage> best;
  double least = kFits;
  for (const Stage stage : {Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry, Stage::kFired}) {
    const double off = std::abs(mean_off(request, stage));
    if (stage == request.stage || off >= least) continue;
    least = off;
    best = stage;
  }
  return best;
}

}  // namespace

std::optional<Problem> unlikely_reading(const BenchRequest& request,
                                        const std::vector<BenchSize>& sizes) {
  if (const std::optional<Pair> pair = exchanged(sizes)) {
    return Problem{Code::kBadValue,
                   "The " + request.parts[pair->first].words + " of " +
                       mm_words(sizes[pair->first].measured.value) + " and the " +
                       request.parts[pair->second].words + " of " +
                       mm_words(sizes[pair->second].measured.value) + " look exchanged.",
                   "Exchange them, or measure both again.", ""};
  }
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    if (is_likely(sizes[i].measured.value / sizes[i].target.value, sizes[i].kind)) continue;
    return question(request.parts[i], sizes[i], request.stage);
  }
  return std::nullopt;
}

std::vector<Note> bench_notes(const BenchRequest& request, const std::vector<BenchSize>& sizes) {
  std::vector<Note> notes;
  if (!all_off_alike(sizes)) return notes;
  if (const std::optional<Stage> stage = better_stage(request)) {
    notes.push_back({"The pot was said to be " + std::string(stage_words(request.stage)) +
                         ", and its sizes are those of a pot that is " +
                         std::string(stage_words(*stage)) + ". Is it?",
                     true});
  }
  return notes;
}

}  // namespace potshadow::internal
