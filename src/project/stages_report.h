// SPDX-License-Identifier: MIT
// The sizes at every stage, as text and as JSON; for this part only.
#pragma once

#include <string>

#include "clay/linear_shrinkage.h"
#include "core/measured.h"
#include "core/text.h"
#include "project/json_text.h"
#include "project/measure.h"
#include "project/pot_evidence.h"

namespace potshadow {

// Returns the table of sizes wet, leather-hard, bone-dry and fired with the greater doubt of each,
// and what the clay's figures come from; nothing without a clay or without a scale.
std::string stages_text(const Measurement& measurement, LengthUnit unit);

// Returns "value", "sd", "low95" and "high95".
Json measured_json(const Measured& measured);

// Returns "value" in percent with "sd", "low95" and "high95", "basis" and "to".
Json shrinkage_json(const LinearShrinkage& shrinkage);

// Return what is known of the clay, and the sizes at each stage; null where there is none.
Json clay_json(const Measurement& measurement);
Json stages_json(const Measurement& measurement);

// Returns a list, one entry for each earlier stage; empty where no size was taken twice.
Json evidence_json(const PotEvidence& evidence);

}  // namespace potshadow
