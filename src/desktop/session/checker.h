// SPDX-License-Identifier: MIT
// Holds the pot on the bench against what it must be, whenever one of the two changes.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "core/result.h"
#include "project/bench_report.h"
#include "project/measure.h"
#include "project/pot_evidence.h"

namespace potshadow {

struct CheckView {
  Stage stage = Stage::kWet;
  std::optional<BenchAnswer> answer{};  // none where nothing was measured at that stage
  std::optional<Problem> problem{};     // why there is none, though something was
  // What the pot shrank by from earlier stages to this one, by the sizes that the project keeps.
  PotEvidence evidence{};
  std::vector<Note> evidence_notes{};
  std::optional<Problem> evidence_problem{};
};

// Returns the pot's sizes at a stage as the project keeps them, or null.
const ProjectBench* bench_at(const Project& project, Stage stage);

// What a check depends on.
struct CheckQuestion {
  std::shared_ptr<const Measurement> measurement;  // null: there are no current figures
  Stage stage = Stage::kWet;
  std::uint64_t book = 0;                           // revision of the book of clays
  std::string pot;                                  // its name
  std::shared_ptr<const Measurement> photograph{};  // of the pot; null: none
  friend bool operator==(const CheckQuestion&, const CheckQuestion&) = default;
};

class Checker {
 public:
  // Checks the pot of the measurement's project, unless that is done. Some milliseconds.
  void want(const CheckQuestion& question, const ClayBook& book);
  const CheckView& view() const { return view_; }

 private:
  CheckView view_;
  CheckQuestion asked_;
};

}  // namespace potshadow
