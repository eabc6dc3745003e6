// SPDX-License-Identifier: MIT
#include <filesystem>

#include "cli/cameras.h"
#include "cli/commands.h"
#include "project/plan_report.h"

namespace potshadow {

ExitCode run_plan(const PlanOptions& options) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<Project> project = load_project(options.project);
  if (!project) return fail("", project.problem());
  const Result<ClayBook> book = own_clay_book();
  if (!book) return fail("", book.problem());
  // What the book cannot tell is worth no measuring.
  const Result<std::optional<ProjectClayFigures>> clay = project_clay(*project, *book);
  if (!clay) return fail(options.project, clay.problem());
  const std::filesystem::path folder = std::filesystem::path(options.project).parent_path();
  Result<Measurement> measured =
      measure_project(*project, folder, probe_with_own_cameras(*project));
  if (!measured) return fail(options.project, measured.problem());
  Measurement measurement = std::move(measured).value();
  add_clay(book, measurement);
  const Result<BuildPlan> plan = plan_for(measurement, options.choices);
  if (!plan) return fail(options.project, plan.problem());
  if (options.json_file != kStandardOutput) {
    const Result<Done> printed =
        print_text(plan_text(measurement, *plan, options.project, options.unit));
    if (!printed) return fail("", printed.problem());
  }
  if (options.json_file.empty()) return ExitCode::kDone;
  const Result<Done> written = write_output(
      options.json_file, plan_json(measurement, *plan, options.project), {options.project});
  return written.ok() ? ExitCode::kDone : fail("", written.problem());
}

}  // namespace potshadow
