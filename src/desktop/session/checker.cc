// SPDX-License-Identifier: MIT
#include "desktop/session/checker.h"

#include <algorithm>
#include <numbers>

namespace potshadow {
namespace {

bool is_height(SizeName name) {
  return name == SizeName::kHeight || name == SizeName::kHeightOfMax ||
         name == SizeName::kHeightOfNeck || name == SizeName::kCapacity;
}

// A reading that gives the size back as it is kept. The project keeps what readings came to, so
// nothing is added for an uneven pot a second time: a girth has it already.
BenchSizeReading reading_of(const ProjectBenchSize& size) {
  const double tolerance = size.sd * std::numbers::sqrt3;
  if (is_height(size.size)) return {size.size, {BenchTool::kTape, size.value, tolerance}};
  return {size.size,
          {BenchTool::kGirth, std::numbers::pi * size.value, std::numbers::pi * tolerance}};
}

}  // namespace

const ProjectBench* bench_at(const Project& project, Stage stage) {
  const auto found = std::find_if(project.bench.begin(), project.bench.end(),
                                  [&](const ProjectBench& bench) { return bench.stage == stage; });
  return found == project.bench.end() ? nullptr : &*found;
}

void Checker::want(const CheckQuestion& question, const ClayBook& book) {
  if (question == asked_) return;
  asked_ = question;
  view_ = {.stage = question.stage};
  if (question.measurement == nullptr) return;
  const Project& project = question.measurement->project;
  const ProjectBench* const bench = bench_at(project, question.stage);
  const bool typed = bench != nullptr && !bench->sizes.empty();
  if (!typed && question.photograph == nullptr) return;
  BenchInput input{
      .stage = question.stage, .readings = {}, .photograph = question.photograph.get()};
  if (typed) {
    for (const ProjectBenchSize& size : bench->sizes) input.readings.push_back(reading_of(size));
  }
  Result<BenchAnswer> answer = check_pot(*question.measurement, input);
  if (!answer) {
    view_.problem = answer.problem();
    return;
  }
  view_.answer = std::move(answer).value();
  if (!typed) return;
  Result<PotEvidence> evidence = pot_evidence(project, *bench, book, question.pot);
  view_.evidence_notes = evidence.notes();
  if (evidence.ok()) {
    view_.evidence = std::move(evidence).value();
  } else {
    view_.evidence_problem = evidence.problem();
  }
}

}  // namespace potshadow
