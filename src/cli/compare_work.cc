// SPDX-License-Identifier: MIT
#include "cli/compare_work.h"

#include <filesystem>
#include <utility>

#include "cli/cameras.h"
#include "cli/options.h"
#include "exports/flat_files.h"
#include "project/compare_sheet.h"
#include "project/sheet_request.h"
#include "sheets/sheet_set.h"

namespace potshadow {
namespace {

Result<Measurement> measured(const std::string& file, const Result<ClayBook>& book) {
  const Result<Project> project = load_project(file);
  if (!project) return project.problem();
  const std::filesystem::path folder = std::filesystem::path(file).parent_path();
  Result<Measurement> found = measure_project(*project, folder, probe_with_own_cameras(*project));
  if (!found) return found.problem();
  Measurement measurement = std::move(found).value();
  add_clay(book, measurement);
  return measurement;
}

Result<std::string> sheet_bytes(const CompareOptions& options, const ComparedPair& pair,
                                std::chrono::system_clock::time_point now,
                                std::vector<Pattern> more) {
  const Result<TotalShrinkage> none = TotalShrinkage::from_percent_of_wet(0.0, 0.0);
  if (!none) return none.problem();
  TemplateRequest facts =
      template_request(pair.original, options.original, *none, {options.paper, options.unit}, now);
  facts.stage = Stage::kFired;
  facts.clay_name = pair.replica.clay ? pair.replica.clay->name : "";
  facts.vessel_name = pair.comparison.replica + " and " + pair.comparison.original;
  const Result<SheetPdf> pdf =
      pattern_sheet_set({comparison_sheet(pair.comparison, options.unit, std::move(more))}, facts);
  if (!pdf) return pdf.problem();
  return pdf->bytes;
}

Result<std::string> drawing_bytes(const ComparedPair& pair) {
  constexpr double kFar = 1e6;
  double scale = 1.0;
  const std::optional<Pattern> drawing = comparison_drawing(pair.comparison, kFar, kFar, scale);
  if (!drawing) {
    return Problem{Code::kCannotBeAnswered, "There are no two outlines to draw over each other.",
                   "Give both a scale, and compare vessels of the same kind.", ""};
  }
  return svg_of(*drawing, {pair.comparison.replica + " and " + pair.comparison.original,
                           "fired size, scale 1:1, millimetres"});
}

}  // namespace

ExitCode compare_and_write(const CompareOptions& options, std::chrono::system_clock::time_point now,
                           const PhotoWork& photo_work) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<ClayBook> book = own_clay_book();
  if (!book) return fail("", book.problem());
  Result<Measurement> original = measured(options.original, book);
  if (!original) return fail(options.original, original.problem());
  Result<Measurement> replica = measured(options.replica, book);
  if (!replica) return fail(options.replica, replica.problem());
  Result<VesselComparison> found =
      compare_vessels({*original, options.original}, {*replica, options.replica}, options.stage);
  if (!found) return fail(options.replica, found.problem());
  const ComparedPair pair{std::move(original).value(), std::move(replica).value(),
                          std::move(found).value()};
  if (options.json_file != kStandardOutput && options.csv_file != kStandardOutput) {
    const Result<Done> printed = print_text(comparison_text(pair.comparison, options.unit));
    if (!printed) return fail("", printed.problem());
  }
  const std::vector<std::filesystem::path> inputs = {options.original, options.replica};
  const auto write = [&](const std::string& file,
                         const Result<std::string>& bytes) -> Result<Done> {
    if (!bytes) return bytes.problem();
    return write_output(file, *bytes, inputs);
  };
  Result<std::vector<Pattern>> more = std::vector<Pattern>();
  if (photo_work) more = photo_work(pair);
  if (!more) return fail("", more.problem());
  Result<Done> written = Done{};
  if (!options.json_file.empty()) {
    written = write(options.json_file, comparison_json(pair.comparison));
  }
  if (written && !options.csv_file.empty()) {
    written = write(options.csv_file, comparison_csv(pair.comparison));
  }
  if (written && !options.drawing_file.empty()) {
    written = write(options.drawing_file, drawing_bytes(pair));
  }
  if (written && !options.sheet_file.empty()) {
    written = write(options.sheet_file, sheet_bytes(options, pair, now, std::move(more).value()));
  }
  return written ? ExitCode::kDone : fail("", written.problem());
}

}  // namespace potshadow
