// SPDX-License-Identifier: MIT
// Looks the input over before anything is computed.
#pragma once

#include <string>

#include "core/result.h"
#include "estimate/input.h"

// Internal to `estimate`. Finds numbers that cannot be, too few marks (mark_checks.h) and
// references that cannot be used (reference_checks.h), and says which.
namespace potshadow::internal {

// Whether each photograph must have marks on the rim, and on the foot.
inline bool needs_rim(const EstimateInput& input) { return !input.hidden_rim; }
inline bool needs_base(const EstimateInput& input) {
  return !input.round_base && !input.hidden_foot;
}

// Returns "reference 3" for the number 2, as a potter counts.
std::string reference_words(std::size_t number);

// Returns "photo 2" for the photograph of index 1, or as its own number says.
std::string photo_words(const EstimateInput& input, std::size_t photo);

// Returns the problem as one of the `photo`-th photograph, where there are several.
Problem in_photo(const EstimateInput& input, std::size_t photo, Problem problem);

// Returns a size's name as it stands inside a sentence: "maximum diameter".
std::string small_size_words(SizeName name);

// Returns notes on what is thin but usable. Fails with kBadValue, kBadMarks, kTooFewMarks or
// kCannotBeAnswered.
Result<Done> check_input(const EstimateInput& input);

}  // namespace potshadow::internal
