// SPDX-License-Identifier: MIT
// One size of the pot on the bench from what was read off calipers, a tape or a ruler.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/measured.h"
#include "core/result.h"

// Model: a reading is sure to within ± its tolerance, anything between being equally likely (JCGM
// 100:2008, 4.3.7): a standard uncertainty of tolerance / sqrt(3). A girth is the way round
// outside; over pi it is the diameter, and its tolerance goes with it. A hand-built pot is not
// round: calipers meet one of its diameters and a girth their mean (over pi, to the second order of
// the ovalness). So a caliper's diameter has a further kOneWayPercent, which each further reading
// at another place round the pot divides by the square root of their number; where the readings
// themselves scatter more, their scatter counts. Several readings of one size are averaged; one
// tool's tolerance is common to them and does not lessen.
namespace potshadow {

// How a diameter or height was measured. A tape is a tape or a ruler held upright or across; a
// girth is a tape laid round.
enum class BenchTool { kCaliper, kTape, kGirth };

struct BenchReading {
  BenchTool tool = BenchTool::kCaliper;
  double mm = 0.0;                     // as read; the way round for kGirth
  std::optional<double> tolerance_mm;  // of that reading; its tool's where absent
  friend bool operator==(const BenchReading&, const BenchReading&) = default;
};

// What a tool is good for on clay (common practice, no source). Calipers touch soft clay or dent
// it; a tape is read to a millimetre and held a little askew; a tape laid round may run a little
// slack or aslant.
inline constexpr double kCaliperToleranceMm = 0.5;
inline constexpr double kTapeToleranceMm = 1.0;
inline constexpr double kGirthToleranceMm = 2.0;
double tolerance_of(BenchTool tool);

// How far one diameter of a hand-built pot lies from the mean of all, as a standard deviation: a
// project's "out_of_round_percent" has the same default.
inline constexpr double kOneWayPercent = 1.0;

// Returns the size that the readings tell; `diameter` says that they are diameters or girths, not
// heights. Requires one reading at least. Fails with kBadValue: a length that is not above zero, a
// tolerance below zero or above half of its length, a girth of a height.
Result<Measured> measured_size(const std::vector<BenchReading>& readings, bool diameter);

// Returns both as one, each weighted by its certainty (JCGM 100:2008, 5.1, of a weighted mean),
// with a doubtful note where they lie farther apart than chance once in twenty times. The interval
// is then as much wider as they disagree.
Result<Measured> both_as_one(const Measured& a, const Measured& b);

// Returns "caliper", "tape" or "girth".
std::string_view tool_key(BenchTool tool);
std::optional<BenchTool> tool_of_key(std::string_view key);

}  // namespace potshadow
