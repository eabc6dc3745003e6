// SPDX-License-Identifier: MIT
// What each row of the joint estimate's linear form says, and of what.
#pragma once

#include <cstddef>
#include <optional>

#include "estimate/answer.h"

// Internal to `estimate`. The rows stand in the order in which problem.h adds them; budget, advice
// and disagreements choose among them by this.
namespace potshadow::internal {

// Where a row of the linear form comes from.
enum class RowKind { kObservation, kSmoothness, kPrior };
// What a prior row says, where someone could say it better.
enum class Said { kOther, kFocal, kCentre, kK1, kSize, kOffset };
struct RowInfo {
  RowKind kind = RowKind::kObservation;
  DoubtSource source = DoubtSource::kMarks;
  std::size_t view = 0;  // of an observation or a reference's prior
  // Number of the reference that the row is of, where it is of one; a known size or distance
  // counts.
  std::optional<std::size_t> reference{};
  Said said = Said::kOther;
  double sd = 0.0;  // of what is said
};

}  // namespace potshadow::internal
