// SPDX-License-Identifier: MIT
// The sample "Shelf jar" as it is measured, and what its photograph says, for the tests of words.
#pragma once

#include "desktop/words/steps.h"
#include "project/measure.h"

namespace potshadow {

// Returns the project in the samples' folder, its photograph by absolute path.
Document sample_document();
// Returns its measurement. Requires that the sample can be measured.
Measurement sample_measurement();
// Returns the same with figures of our own in place of those the estimate gives, so that what is
// said of them can be worked out by hand: sizes, budgets, proportions; no advice, notes, whiskers.
Measurement made_up_measurement();
// Returns the facts of its photograph.
PhotoFacts sample_facts();

}  // namespace potshadow
