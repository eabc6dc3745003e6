// SPDX-License-Identifier: MIT
// The pot on the bench against the original: from what was measured to verdicts, and those in
// words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/bench_check.h"
#include "clay/bench_reading.h"
#include "core/result.h"
#include "core/text.h"
#include "estimate/size_name.h"
#include "project/measure.h"
#include "project/pot_evidence.h"

namespace potshadow {

// One reading of one size. Of the capacity it is millilitres, whatever its fields are called, and
// its tolerance 2 % where none is given (common practice, no source).
struct BenchSizeReading {
  SizeName size = SizeName::kMaxDiameter;
  BenchReading reading;
  friend bool operator==(const BenchSizeReading&, const BenchSizeReading&) = default;
};

struct BenchInput {
  Stage stage = Stage::kWet;
  std::vector<BenchSizeReading> readings{};  // in any order; those of one size are averaged
  const Measurement* photograph = nullptr;   // of the pot, measured like any other; may be null
  double right_percent = kRightPercent;
};

struct BenchAnswer {
  std::vector<SizeName> names;  // of check.sizes
  BenchCheck check;
  std::vector<Note> notes{};  // of measuring and checking
};

// Returns the verdicts on all that was measured and that the original has. What was both typed and
// photographed is weighed together. Fails with kCannotBeAnswered: nothing says how big the original
// is, or the bench photograph's pot; its clay is not known and the pot is not fired yet; nothing
// was measured that the original has. Fails with kBadValue as measured_size and bench_check do.
Result<BenchAnswer> check_pot(const Measurement& original, const BenchInput& input);

// Returns the answer and what the pot's earlier stages tell for a terminal. `file` is the project's
// file, for a vessel without a name.
std::string bench_text(const Measurement& original, const BenchAnswer& answer,
                       const PotEvidence& evidence, const std::string& file, LengthUnit unit);

// Returns { "format": 1, "check": ... }, in millimetres and millilitres.
std::string bench_json(const Measurement& original, const BenchAnswer& answer,
                       const PotEvidence& evidence, const std::string& file);

// Returns a line a size under a heading, lines ending in CR LF. Source: RFC 4180.
std::string bench_csv(const Measurement& original, const BenchAnswer& answer,
                      const std::string& file);

// Return one size's verdict: "right, to within ± 4.4", "larger by 14 ± 10", "cannot tell yet"; and
// what to do about it: "Press the wall in while it is wet.", nothing where nothing can be done.
std::string verdict_words(const BenchSize& size, LengthUnit unit);
std::string correction_words(const BenchSize& size);

// Returns what would tell more: "Make more test bars of the clay."
std::string doubt_words(BenchDoubt doubt);

// Returns the answer as the project keeps it.
ProjectBench bench_record(const BenchAnswer& answer, const std::string& date);

// Returns the project with `record` in place of the one of its stage.
Project with_bench(Project project, const ProjectBench& record);

}  // namespace potshadow
