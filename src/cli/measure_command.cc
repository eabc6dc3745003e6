// SPDX-License-Identifier: MIT
#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "cli/cameras.h"
#include "cli/commands.h"
#include "cli/progress_line.h"
#include "project/answer_text.h"
#include "project/report.h"

namespace potshadow {
namespace {

// Adds the files of a project that no output may overwrite.
void add_inputs(const std::string& file, const Result<Project>& project,
                std::vector<std::filesystem::path>& inputs) {
  inputs.emplace_back(file);
  if (!project) return;
  const std::filesystem::path folder = std::filesystem::path(file).parent_path();
  for (const ProjectPhoto& photo : project->photos) {
    if (!photo.file.empty()) inputs.push_back(folder / photo.file);
  }
}

// Returns whether two names stand for one file, which need not exist yet.
bool same_file(const std::filesystem::path& a, const std::filesystem::path& b) {
  std::error_code ignored;
  if (std::filesystem::equivalent(a, b, ignored)) return true;
  const auto absolute = [&](const std::filesystem::path& path) {
    return std::filesystem::weakly_canonical(std::filesystem::absolute(path, ignored), ignored);
  };
  return absolute(a) == absolute(b);
}

Result<Measurement> measured_as_asked(const Project& project, const std::string& file,
                                      const MeasureOptions& options) {
  const std::filesystem::path folder = std::filesystem::path(file).parent_path();
  const PhotoProbe probe = probe_with_own_cameras(project);
  if (!options.redraw) return measure_project(project, folder, probe);
  ProgressLine line("Checking the intervals of " + on_one_line(file));
  MonteCarloWishes wishes;
  wishes.draws = options.redraw->draws;
  wishes.seed = options.redraw->seed;
  wishes.jobs = options.redraw->jobs;
  wishes.progress = [&](int done, int all) { line.show(done, all); };
  return measure_and_redraw(project, folder, wishes, probe);
}

}  // namespace

ExitCode run_measure(const MeasureOptions& options) {
  if (!options.json_file.empty() && !options.csv_file.empty() &&
      same_file(options.json_file, options.csv_file)) {
    print_problem("", "Both --json and --csv name the same file.", "Give each a file of its own.");
    return ExitCode::kWrongInput;
  }
  const bool shows_table =
      options.json_file != kStandardOutput && options.csv_file != kStandardOutput;
  ExitCode worst = ExitCode::kDone;
  const auto give = [&](const Result<Done>& written) {
    if (written.ok()) return true;
    print_problem("", written.problem());
    worst = worse(worst, exit_code_of(written.problem()));
    return false;
  };

  std::vector<ReportEntry> entries;
  std::vector<std::filesystem::path> inputs;
  for (const std::string& file : options.projects) {
    const Result<Project> project = load_project(file);
    add_inputs(file, project, inputs);
    if (!project) {
      // These problems name the file themselves.
      print_problem("", project.problem());
      worst = worse(worst, exit_code_of(project.problem()));
      entries.push_back({file, project.problem()});
      continue;
    }
    Result<Measurement> measured = measured_as_asked(*project, file, options);
    if (measured.ok()) {
      Measurement with_clay = std::move(measured).value();
      add_clay(own_clay_book(), with_clay);
      measured = std::move(with_clay);
    }
    if (!measured) {
      print_problem(file, measured.problem());
      worst = worse(worst, exit_code_of(measured.problem()));
    } else if (shows_table) {
      const std::string gap = entries.empty() ? "" : "\n\n";
      if (!give(print_text(gap + answer_text(*measured, file, options.unit)))) return worst;
    }
    entries.push_back({file, measured});
  }
  // Nothing measured is nothing to write: an older report is worth more.
  const bool measured_any = std::any_of(entries.begin(), entries.end(),
                                        [](const auto& entry) { return entry.measurement.ok(); });
  if (!measured_any) return worst;
  if (!options.json_file.empty()) {
    give(write_output(options.json_file, report_json(entries), inputs));
  }
  if (!options.csv_file.empty()) give(write_output(options.csv_file, report_csv(entries), inputs));
  return worst;
}

}  // namespace potshadow
