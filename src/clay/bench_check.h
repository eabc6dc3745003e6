// SPDX-License-Identifier: MIT
// The pot on the bench against what it must be at its stage: verdicts, and what it will be fired.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "clay/body_figures.h"
#include "clay/linear_shrinkage.h"
#include "core/measured.h"
#include "core/result.h"

// Model: for each part, T = F / (1 - S) is what it must be now: F the original's size, with the
// photograph's doubt, S the shrinkage from this stage to fired, with the clay's (stages.h). M is
// what was measured on the bench, with its own. The difference is d = M - T, and the three doubts
// are independent. When fired the part will be M (1 - S), and differ from the original by
// M (1 - S) - F = d (1 - S): the same difference on a shorter length. So one verdict holds for both
// and the clay's doubt is counted once. A fired pot is held against F itself, and no clay counts.
//
// Several parts: the verdicts on a pot that is right must be right on all parts together in 95 of
// 100 pots, so that every further reading does not add a false alarm. The intervals are therefore
// widened, all by one factor, until they hold together with 95 %. How much depends on what the
// parts' doubts have in common: one clay, and one photograph's scale (`target_correlation`). It
// comes of drawing them (JCGM 102:2011, 6.5.4, hyper-rectangular region, from memory), always the
// same draws. A single part is not widened. `difference` has its own plain interval all the same.
//
// Verdicts: larger or smaller where 0 lies outside the wider interval. Else right, where that
// interval reaches no farther than the tolerance asked for to either side of its middle. Else it
// cannot be told yet, and the greatest of the three doubts is what to lessen.
namespace potshadow {

// Heights shrink as vertical bars do, diameters as horizontal ones. A place is the height of the
// widest part or of the neck.
enum class PartKind { kHeight, kDiameter, kPlace, kCapacity };

struct BenchPart {
  std::string words;  // what it is called inside a sentence: "maximum diameter"
  PartKind kind = PartKind::kDiameter;
  Measured target;    // of the original, fired; millimetres, or millilitres of a capacity
  Measured measured;  // of the pot as it stands
  // Of the original too: what the tolerance is a part of, the height for a place. 0: `target`.
  double whole = 0.0;
};

// What counts as right, in percent of the size, three times as much of a capacity (common practice,
// no source).
inline constexpr double kRightPercent = 5.0;

struct BenchRequest {
  Stage stage = Stage::kWet;
  std::vector<BenchPart> parts;
  BodyFigures clay;
  // How the targets' doubts hang together: a row and a column for each part. Empty: not at all,
  // which is on the safe side.
  std::vector<std::vector<double>> target_correlation{};
  double right_percent = kRightPercent;
};

enum class Verdict { kRight, kLarger, kSmaller, kCannotTell };
enum class BenchDoubt { kPhotograph, kClay, kBench };

// What can still be done about a part at a stage.
enum class Correction {
  kAsYouLike,  // wet clay
  kCutOnly,    // leather-hard: rims can be cut down, walls pared; nothing grows any more
  kNothing     // dry or fired, and what only follows from other parts
};

struct BenchSize {
  PartKind kind = PartKind::kDiameter;
  Measured target;              // at this stage
  Measured measured;            // as it stands
  Measured difference;          // measured - target, with its own 95 % interval
  double together_low95 = 0.0;  // the wider interval of the difference: the verdict goes by it
  double together_high95 = 0.0;
  double right_within = 0.0;  // how far the interval may reach to be called right
  Verdict verdict = Verdict::kCannotTell;
  Measured fired;                  // what it will be when fired
  Measured fired_difference;       // from the original then
  std::array<double, 3> doubts{};  // shares of the interval's square, by BenchDoubt
  BenchDoubt greatest = BenchDoubt::kPhotograph;
  Correction correction = Correction::kNothing;
};

struct BenchCheck {
  Stage stage = Stage::kWet;
  std::vector<BenchSize> sizes;      // in the order of the request
  double widening = 1.0;             // of the intervals, to hold together
  std::optional<std::size_t> first;  // the part to correct first: of those that are off and can be
                                     // corrected, the one off by the greatest part of its size
  std::vector<Note> notes{};
};

// Returns the verdicts, with a doubtful note where the pot seems to be at another stage than was
// said. Fails with kBadValue: no parts, sizes that are not above zero, a tolerance outside 0 to
// 50 %; and where a size cannot be of this pot, asking whether inches or centimetres, a girth or a
// radius were typed, or two sizes exchanged. Some milliseconds where there are several parts.
Result<BenchCheck> bench_check(const BenchRequest& request);

// Returns what can be done at a stage about a part that is too large or too small.
Correction correction_of(Stage stage, PartKind kind, bool too_large);

// Returns "right", "larger", "smaller", "cannot_tell".
std::string_view verdict_key(Verdict verdict);
// Returns "photograph", "clay", "bench".
std::string_view bench_doubt_key(BenchDoubt doubt);

}  // namespace potshadow
