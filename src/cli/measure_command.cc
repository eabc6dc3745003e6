// SPDX-License-Identifier: MIT
#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include "cli/cameras.h"
#include "cli/commands.h"
#include "cli/progress_line.h"
#include "core/propagation.h"
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
  wishes.jobs = options.jobs;
  wishes.progress = [&](int done, int all) { line.show(done, all); };
  return measure_and_redraw(project, folder, wishes, probe);
}

// What one project brings, once it is measured: texts alone, so that a thousand take little memory.
struct ProjectOutcome {
  std::vector<std::filesystem::path> inputs;
  bool measured = false;
  std::string about;  // names the project of the problem, where the problem does not
  std::optional<Problem> problem;
  std::string table;
  std::string json;
  std::string csv;
};

ProjectOutcome outcome_of(const std::string& file, const MeasureOptions& options) {
  ProjectOutcome outcome;
  const Result<Project> project = load_project(file);
  add_inputs(file, project, outcome.inputs);
  ReportEntry entry{file, Problem{}};
  if (!project) {
    // These problems name the file themselves.
    entry.measurement = project.problem();
  } else if (Result<Measurement> measured = measured_as_asked(*project, file, options);
             measured.ok()) {
    Measurement with_clay = std::move(measured).value();
    add_clay(own_clay_book(), with_clay);
    outcome.measured = true;
    outcome.table = answer_text(with_clay, file, options.unit);
    entry.measurement = std::move(with_clay);
  } else {
    outcome.about = file;
    entry.measurement = measured.problem();
  }
  if (!entry.measurement.ok()) outcome.problem = entry.measurement.problem();
  if (!options.json_file.empty()) outcome.json = report_json_piece(entry);
  if (!options.csv_file.empty()) outcome.csv = report_csv_lines(entry);
  return outcome;
}

// Says what each project brought, in their order, and gathers it for the reports.
class Reports {
 public:
  Reports(const MeasureOptions& options, std::stop_source& stop) : options_(options), stop_(stop) {}

  // Takes the outcome of a project; what comes early waits for its turn.
  void take(std::size_t index, ProjectOutcome outcome) {
    const std::lock_guard lock(mutex_);
    early_.emplace(index, std::move(outcome));
    while (!early_.empty() && early_.begin()->first == next_) {
      say(early_.begin()->second);
      early_.erase(early_.begin());
      ++next_;
    }
  }

  // Writes the reports that were asked for, and returns the worst that happened.
  ExitCode finish() {
    // Nothing measured is nothing to write: an older report is worth more.
    if (!measured_any_ || stop_.stop_requested()) return worst_;
    if (!options_.json_file.empty()) {
      give(write_output(options_.json_file, report_json_of(json_), inputs_));
    }
    if (!options_.csv_file.empty()) {
      give(write_output(options_.csv_file, report_csv_heading() + csv_, inputs_));
    }
    return worst_;
  }

 private:
  bool give(const Result<Done>& written) {
    if (written.ok()) return true;
    print_problem("", written.problem());
    worst_ = worse(worst_, exit_code_of(written.problem()));
    return false;
  }

  void say(const ProjectOutcome& outcome) {
    if (stop_.stop_requested()) return;
    inputs_.insert(inputs_.end(), outcome.inputs.begin(), outcome.inputs.end());
    json_.push_back(outcome.json);
    csv_ += outcome.csv;
    if (outcome.problem) {
      print_problem(outcome.about, *outcome.problem);
      worst_ = worse(worst_, exit_code_of(*outcome.problem));
    }
    const bool shows_table =
        options_.json_file != kStandardOutput && options_.csv_file != kStandardOutput;
    if (outcome.measured && shows_table) {
      const std::string gap = next_ == 0 ? "" : "\n\n";
      if (!give(print_text(gap + outcome.table))) stop_.request_stop();
    }
    measured_any_ = measured_any_ || outcome.measured;
  }

  const MeasureOptions& options_;
  std::stop_source& stop_;  // asked once nothing more can be printed
  std::mutex mutex_;
  std::map<std::size_t, ProjectOutcome> early_;
  std::size_t next_ = 0;
  ExitCode worst_ = ExitCode::kDone;
  bool measured_any_ = false;
  std::vector<std::filesystem::path> inputs_;
  std::vector<std::string> json_;
  std::string csv_;
};

}  // namespace

ExitCode run_measure(const MeasureOptions& options) {
  if (!options.json_file.empty() && !options.csv_file.empty() &&
      same_file(options.json_file, options.csv_file)) {
    print_problem("", "Both --json and --csv name the same file.", "Give each a file of its own.");
    return ExitCode::kWrongInput;
  }
  std::stop_source stop;
  Reports reports(options, stop);
  // Draws are worked out side by side themselves.
  const int jobs = options.redraw ? 1 : options.jobs;
  run_draws(
      static_cast<int>(options.projects.size()), jobs,
      [&](int index) {
        const auto at = static_cast<std::size_t>(index);
        reports.take(at, outcome_of(options.projects[at], options));
      },
      {}, stop.get_token());
  return reports.finish();
}

}  // namespace potshadow
