// SPDX-License-Identifier: MIT
#include "project/bench_report.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "project/answer_text.h"

namespace potshadow {
namespace {

constexpr double kCapacityTolerancePercent = 2.0;

// "maximum diameter", for the middle of a sentence that has its own article.
std::string words_of(SizeName name) { return lower_first(size_words(name)); }

Problem no_size(const std::string& of) {
  return {Code::kCannotBeAnswered, "Nothing says how big " + of + " is.",
          "Mark something of known size, or give one size of the vessel, be it a guess.", ""};
}

Result<Measured> capacity_of(const std::vector<BenchReading>& readings) {
  std::vector<BenchReading> filled = readings;
  for (BenchReading& reading : filled) {
    reading.tool = BenchTool::kTape;
    const double part = kCapacityTolerancePercent / 100.0;
    if (!reading.tolerance_mm) reading.tolerance_mm = part * std::abs(reading.mm);
  }
  return measured_size(filled, false);
}

Result<std::optional<Measured>> typed_size(const BenchInput& input, SizeName name) {
  std::vector<BenchReading> readings;
  for (const BenchSizeReading& reading : input.readings) {
    if (reading.size == name) readings.push_back(reading.reading);
  }
  if (readings.empty()) return std::optional<Measured>();
  const PartKind kind = part_kind_of(name);
  Result<Measured> size = kind == PartKind::kCapacity
                              ? capacity_of(readings)
                              : measured_size(readings, kind == PartKind::kDiameter);
  if (!size) {
    Problem problem = size.problem();
    problem.what = "Of the " + words_of(name) + ": " + lower_first(problem.what);
    return problem;
  }
  return std::optional<Measured>(*size);
}

Result<std::optional<Measured>> size_on_bench(const BenchInput& input, SizeName name,
                                              std::vector<Note>& notes) {
  Result<std::optional<Measured>> typed = typed_size(input, name);
  if (!typed) return typed;
  const MeasuredSize* const seen =
      input.photograph == nullptr ? nullptr : find_size(input.photograph->answer, name);
  if (seen == nullptr) return typed;
  if (!*typed) return std::optional<Measured>(seen->measured);
  const Result<Measured> both = both_as_one(**typed, seen->measured);
  for (const Note& note : both.notes()) {
    notes.push_back({"Of the " + words_of(name) + ": " + lower_first(note.text), note.doubtful});
  }
  return std::optional<Measured>(*both);
}

std::optional<Problem> missing_for(const Measurement& original, const BenchInput& input) {
  if (original.answer.scale == ScaleSource::kNone) return no_size("the original");
  if (input.photograph != nullptr && input.photograph->answer.scale == ScaleSource::kNone) {
    return no_size("the pot in the bench photograph");
  }
  if (!original.clay && input.stage != Stage::kFired) {
    return Problem{Code::kCannotBeAnswered,
                   "The project does not say how much its clay shrinks, and the pot is not fired "
                   "yet.",
                   "Give 'record' (see 'potshadow clay') or 'shrinkage_percent' in its 'clay'.",
                   ""};
  }
  return std::nullopt;
}

// How the doubts of the sizes that were measured hang together in the original's photograph.
std::vector<std::vector<double>> correlation_of(const Answer& answer,
                                                const std::vector<std::size_t>& places) {
  if (answer.size_correlation.size() != answer.sizes.size()) return {};
  std::vector<std::vector<double>> correlation;
  for (const std::size_t i : places) {
    correlation.emplace_back();
    for (const std::size_t j : places) {
      correlation.back().push_back(answer.size_correlation[i][j]);
    }
  }
  return correlation;
}

void note_what_the_original_lacks(const Measurement& original, const BenchInput& input,
                                  std::vector<Note>& notes) {
  std::vector<SizeName> told;
  for (const BenchSizeReading& reading : input.readings) {
    const bool known = find_size(original.answer, reading.size) != nullptr;
    if (known || std::find(told.begin(), told.end(), reading.size) != told.end()) continue;
    told.push_back(reading.size);
    notes.push_back({"The original's " + words_of(reading.size) +
                         " is not known, so there is nothing to hold the pot's against.",
                     true});
  }
}

}  // namespace

Result<BenchAnswer> check_pot(const Measurement& original, const BenchInput& input) {
  if (auto problem = missing_for(original, input)) return *problem;
  BenchAnswer answer;
  BenchRequest request{.stage = input.stage, .parts = {}, .clay = {}};
  if (original.clay) request.clay = original.clay->figures;
  request.right_percent = input.right_percent;
  note_what_the_original_lacks(original, input, answer.notes);
  const MeasuredSize* const height = find_size(original.answer, SizeName::kHeight);
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < original.answer.sizes.size(); ++i) {
    const MeasuredSize& size = original.answer.sizes[i];
    const auto measured = size_on_bench(input, size.name, answer.notes);
    if (!measured) return measured.problem();
    if (!*measured) continue;
    BenchPart part{words_of(size.name), part_kind_of(size.name), size.measured, **measured};
    if (part.kind == PartKind::kPlace && height != nullptr) part.whole = height->measured.value;
    request.parts.push_back(std::move(part));
    answer.names.push_back(size.name);
    places.push_back(i);
  }
  if (request.parts.empty()) {
    return Problem{Code::kCannotBeAnswered,
                   "Nothing was measured on the pot that the original has.",
                   "Give one size at least, as in max=240.", ""};
  }
  request.target_correlation = correlation_of(original.answer, places);
  Result<BenchCheck> check = bench_check(request);
  if (!check) return check.problem();
  answer.check = std::move(check).value();
  answer.notes.insert(answer.notes.end(), answer.check.notes.begin(), answer.check.notes.end());
  for (const Note& note : original.answer.notes) {
    if (note.doubtful) answer.notes.push_back({"Of the original: " + note.text, true});
  }
  if (input.photograph == nullptr) return answer;
  for (const Note& note : input.photograph->answer.notes) {
    if (note.doubtful) answer.notes.push_back({"Of the bench photograph: " + note.text, true});
  }
  return answer;
}

ProjectBench bench_record(const BenchAnswer& answer, const std::string& date) {
  ProjectBench record;
  record.stage = answer.check.stage;
  record.date = date;
  for (std::size_t i = 0; i < answer.names.size(); ++i) {
    const Measured& measured = answer.check.sizes[i].measured;
    record.sizes.push_back({answer.names[i], measured.value, measured.sd, {}});
  }
  return record;
}

Project with_bench(Project project, const ProjectBench& record) {
  std::erase_if(project.bench, [&](const ProjectBench& old) { return old.stage == record.stage; });
  const auto later =
      std::find_if(project.bench.begin(), project.bench.end(),
                   [&](const ProjectBench& other) { return other.stage > record.stage; });
  project.bench.insert(later, record);
  return project;
}

}  // namespace potshadow
