// SPDX-License-Identifier: MIT
#include <filesystem>
#include <vector>

#include "cli/cameras.h"
#include "cli/commands.h"
#include "project/compare_report.h"

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

}  // namespace

ExitCode run_compare(const CompareOptions& options) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<ClayBook> book = own_clay_book();
  if (!book) return fail("", book.problem());
  const Result<Measurement> original = measured(options.original, book);
  if (!original) return fail(options.original, original.problem());
  const Result<Measurement> replica = measured(options.replica, book);
  if (!replica) return fail(options.replica, replica.problem());
  const Result<VesselComparison> found =
      compare_vessels({*original, options.original}, {*replica, options.replica}, options.stage);
  if (!found) return fail(options.replica, found.problem());
  if (options.json_file != kStandardOutput && options.csv_file != kStandardOutput) {
    const Result<Done> printed = print_text(comparison_text(*found, options.unit));
    if (!printed) return fail("", printed.problem());
  }
  const std::vector<std::filesystem::path> inputs = {options.original, options.replica};
  if (!options.json_file.empty()) {
    const auto written = write_output(options.json_file, comparison_json(*found), inputs);
    if (!written) return fail("", written.problem());
  }
  if (!options.csv_file.empty()) {
    const auto written = write_output(options.csv_file, comparison_csv(*found), inputs);
    if (!written) return fail("", written.problem());
  }
  return ExitCode::kDone;
}

}  // namespace potshadow
