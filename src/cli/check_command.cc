// SPDX-License-Identifier: MIT
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "cli/cameras.h"
#include "cli/commands.h"
#include "project/bench_report.h"
#include "project/pot_evidence.h"
#include "project/report.h"
#include "project/shared_files.h"
#include "project/sheet_request.h"

namespace potshadow {
namespace {

constexpr const char* kOnceMore = "Run the same command once more.";

// Everything the command worked out before anything is written.
struct Checked {
  Project project;  // with the pot's sizes at this stage
  Measurement original;
  BenchAnswer answer;
  PotEvidence evidence;
  ClayBook book;
  std::optional<std::string> print;  // of the project's file, before it was read
};

// A problem, and the project it is about where the problem does not name it itself.
struct Failed {
  std::string about;
  Problem problem;
};

std::variant<Measurement, Failed> measured(const std::string& file) {
  const Result<Project> project = load_project(file);
  if (!project) return Failed{"", project.problem()};
  const std::filesystem::path folder = std::filesystem::path(file).parent_path();
  Result<Measurement> found = measure_project(*project, folder, probe_with_own_cameras(*project));
  if (!found) return Failed{file, found.problem()};
  return std::move(found).value();
}

std::variant<Checked, Failed> checked(const CheckOptions& options, const std::string& date) {
  const Result<ClayBook> book = own_clay_book();
  if (!book) return Failed{"", book.problem()};
  const std::optional<std::string> print = print_of_file(options.project);
  std::variant<Measurement, Failed> original = measured(options.project);
  if (auto* failed = std::get_if<Failed>(&original)) return *failed;
  Checked all{.project = {},
              .original = std::get<Measurement>(std::move(original)),
              .answer = {},
              .evidence = {},
              .book = *book,
              .print = print};
  // What the book cannot tell of the clay is the answer, unless the pot is fired.
  const Result<std::optional<ProjectClayFigures>> clay = project_clay(all.original.project, *book);
  if (!clay && options.stage != Stage::kFired) return Failed{options.project, clay.problem()};
  add_clay(book, all.original);
  BenchInput input{options.stage, options.readings, nullptr, options.right_percent};
  std::variant<Measurement, Failed> photograph = Failed{};
  if (!options.photo_project.empty()) {
    photograph = measured(options.photo_project);
    if (auto* failed = std::get_if<Failed>(&photograph)) return *failed;
    input.photograph = &std::get<Measurement>(photograph);
  }
  Result<BenchAnswer> answer = check_pot(all.original, input);
  if (!answer) return Failed{options.project, answer.problem()};
  all.answer = std::move(answer).value();
  const ProjectBench record = bench_record(all.answer, date);
  all.project = with_bench(all.original.project, record);
  const std::string pot = title_of(all.project, options.project);
  const Result<PotEvidence> evidence = pot_evidence(all.project, record, all.book, pot);
  if (!evidence) return Failed{options.project, evidence.problem()};
  all.evidence = *evidence;
  all.answer.notes.insert(all.answer.notes.end(), evidence.notes().begin(), evidence.notes().end());
  return all;
}

// What would make --evidence impossible.
std::optional<Problem> evidence_problem(const Checked& all) {
  if (all.evidence.stages.empty()) {
    return Problem{
        Code::kCannotBeAnswered,
        "No size of this pot was kept at an earlier stage, so nothing tells what it "
        "shrank by.",
        "Check the pot with --keep while it is wet; of a pot that is fired already, give "
        "its wet sizes with --stage wet --keep.",
        ""};
  }
  if (!all.evidence.body) {
    return Problem{Code::kCannotBeAnswered, "The project's clay has no record in your book.",
                   "Begin one with 'potshadow clay write', and give its 'record' in the project.",
                   ""};
  }
  return std::nullopt;
}

std::string offer_words(const Checked& all, const CheckOptions& options) {
  if (!all.evidence.body || options.evidence) return "";
  return "To lay this into the record of '" + all.evidence.body->record + "', add --evidence.\n";
}

// Other clays may have been changed in the book since it was read, but not this one.
Result<Done> lay_into_book(const Checked& all, const UserFolders& folders) {
  const Result<FileLock> lock = lock_clay_book(folders);
  if (!lock) return lock.problem();
  const Result<ClayBook> now = load_clay_book(folders);
  if (!now) return now.problem();
  const ClayBody& body = *all.evidence.body;
  const ClayBody* const before = body_in(all.book.bodies, body.record);
  const ClayBody* const present = body_in(now->bodies, body.record);
  if (before == nullptr || present == nullptr || *before != *present) {
    return Problem{Code::kFileUnwritable,
                   "Another program has changed the clay '" + body.record +
                       "' meanwhile, so it was left alone.",
                   kOnceMore, ""};
  }
  return save_clay_book(with_clay(*now, body), folders);
}

Result<std::string> saved(const Checked& all, const CheckOptions& options) {
  std::string words;
  if (options.keep) {
    const Result<Done> written =
        save_if_unchanged(all.project, options.project, all.print, kOnceMore);
    if (!written) return written.problem();
    words += "Kept these sizes in " + on_one_line(options.project) + ".\n";
  }
  if (options.evidence) {
    const Result<UserFolders> folders = user_folders();
    if (!folders) return folders.problem();
    const Result<Done> written = lay_into_book(all, *folders);
    if (!written) return written.problem();
    words +=
        "Laid what this pot shrank by into the record of '" + all.evidence.body->record + "'.\n";
  }
  return words;
}

}  // namespace

ExitCode run_check(const CheckOptions& options, std::chrono::system_clock::time_point now) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  std::variant<Checked, Failed> found = checked(options, iso_date(now));
  if (const auto* failed = std::get_if<Failed>(&found)) return fail(failed->about, failed->problem);
  const Checked& all = std::get<Checked>(found);
  if (options.evidence) {
    if (auto problem = evidence_problem(all)) return fail(options.project, *problem);
  }
  const Result<std::string> kept = saved(all, options);
  if (!kept) return fail("", kept.problem());
  if (options.json_file != kStandardOutput && options.csv_file != kStandardOutput) {
    const std::string text =
        bench_text(all.original, all.answer, all.evidence, options.project, options.unit);
    const std::string gap = kept->empty() && offer_words(all, options).empty() ? "" : "\n";
    const Result<Done> printed = print_text(text + gap + offer_words(all, options) + *kept);
    if (!printed) return fail("", printed.problem());
  }
  std::vector<std::filesystem::path> inputs{options.project};
  if (!options.photo_project.empty()) inputs.emplace_back(options.photo_project);
  const auto write = [&](const std::string& file, const std::string& bytes) -> Result<Done> {
    if (file.empty()) return Done{};
    return write_output(file, bytes, inputs);
  };
  const Result<Done> json =
      write(options.json_file, bench_json(all.original, all.answer, all.evidence, options.project));
  if (!json) return fail("", json.problem());
  const Result<Done> csv =
      write(options.csv_file, bench_csv(all.original, all.answer, options.project));
  return csv.ok() ? ExitCode::kDone : fail("", csv.problem());
}

}  // namespace potshadow
