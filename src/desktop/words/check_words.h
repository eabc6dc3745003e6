// SPDX-License-Identifier: MIT
// The pot on the bench in words: what each size is, and what to correct first.
#pragma once

#include <string>

#include "core/text.h"
#include "project/bench_report.h"
#include "project/pot_evidence.h"

namespace potshadow {

// Returns whether any size is larger or smaller than it must be.
bool has_size_off(const BenchAnswer& answer);

// Returns the verdict on one size and what to do about it: "Larger by 14 ± 10 mm. Press the wall in
// while it is wet."
std::string check_words(const BenchSize& size, LengthUnit unit);
// Returns what the size will be when fired: "Fired it will be 243.2 ± 3.1 mm; the original has
// 238.0." Empty for a fired pot.
std::string when_fired_words(const BenchSize& size, Stage stage, LengthUnit unit);
// Returns what it must be at the stage: "270.8 ± 4.4".
std::string target_words(const Measured& target, SizeName name, LengthUnit unit);

// Returns the verdict on the whole pot, with what to correct first.
std::string pot_sentence(const BenchAnswer& answer);

// Returns "From wet to fired this pot shrank by 11.2 ± 0.6 % of the wet length, by 3 sizes."
std::string evidence_sentence(const StageEvidence& evidence);

// Returns "Calipers", "Tape or ruler", "Tape laid round".
std::string tool_words(BenchTool tool);

}  // namespace potshadow
