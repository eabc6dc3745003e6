// SPDX-License-Identifier: MIT
#include <filesystem>

#include "cli/cameras.h"
#include "cli/commands.h"
#include "project/sheet_request.h"
#include "sheets/template_sheet.h"

namespace potshadow {
namespace {

struct ChosenClay {
  TotalShrinkage shrinkage;
  std::string name;  // as the book has it; empty if it does not come of the book
};

// Returns the shrinkage of the options, else of the project, else of its clay's record.
Result<ChosenClay> chosen_clay(const SheetOptions& options, const Project& project) {
  const bool has_clay = project.clay && project.clay->shrinkage_percent;
  if (!options.shrinkage_percent && !has_clay && project.clay && !project.clay->record.empty()) {
    const Result<ClayBook> book = own_clay_book();
    if (!book) return book.problem();
    const Result<std::optional<ProjectClayFigures>> clay = project_clay(project, *book);
    if (!clay) return clay.problem();
    std::vector<Note> notes = clay.notes();
    if ((*clay)->figures.upright) {
      notes.push_back(
          {"The clay shrinks differently upright and across; the template is enlarged "
           "by one figure for both.",
           true});
    }
    return {ChosenClay{(*clay)->total, (*clay)->name}, std::move(notes)};
  }
  if (!options.shrinkage_percent && !has_clay) {
    return Problem{Code::kCannotBeAnswered, "The project does not say how much its clay shrinks.",
                   "Add --shrinkage with the percentage, or --shrinkage 0 for a template at the "
                   "original's size.",
                   ""};
  }
  const double percent =
      options.shrinkage_percent ? *options.shrinkage_percent : *project.clay->shrinkage_percent;
  // A shrinkage typed here is as sure as typed here; the project's figure is about its own.
  double sd = kDefaultShrinkageSdPercent;
  if (!options.shrinkage_percent) sd = project.clay->shrinkage_sd_percent;
  if (options.shrinkage_sd_percent) sd = *options.shrinkage_sd_percent;
  const Result<TotalShrinkage> shrinkage = TotalShrinkage::from_percent_of_wet(percent, sd);
  if (!shrinkage) return shrinkage.problem();
  return ChosenClay{*shrinkage, ""};
}

}  // namespace

ExitCode run_sheet(const SheetOptions& options, std::chrono::system_clock::time_point now) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<Project> project = load_project(options.project);
  if (!project) return fail("", project.problem());
  const Result<ChosenClay> clay = chosen_clay(options, *project);
  if (!clay) return fail("", clay.problem());
  const TotalShrinkage& shrinkage = clay->shrinkage;
  const std::filesystem::path folder = std::filesystem::path(options.project).parent_path();
  const Result<Measurement> measured =
      measure_project(*project, folder, probe_with_own_cameras(*project));
  if (!measured) return fail(options.project, measured.problem());
  TemplateRequest request = template_request(*measured, options.project, shrinkage,
                                             SheetChoices{options.paper, options.unit}, now);
  if (!clay->name.empty()) request.clay_name = clay->name;
  const Result<SheetPdf> pdf = template_sheet(request);
  if (!pdf) return fail(options.project, pdf.problem());

  std::vector<std::filesystem::path> inputs{options.project};
  for (const ProjectPhoto& photo : project->photos) {
    if (!photo.file.empty()) inputs.push_back(folder / photo.file);
  }
  const Result<Done> written = write_output(options.output_file, pdf->bytes, inputs);
  if (!written) return fail("", written.problem());

  std::string said;
  if (options.output_file != kStandardOutput) {
    said = "Wrote " + on_one_line(options.output_file) + ": " + std::to_string(pdf->pages) +
           (pdf->pages == 1 ? " page" : " pages") + " at true size, enlarged for " +
           fixed_text(100.0 * shrinkage.fraction_of_wet(), 1) +
           " % shrinkage.\nPrint at 100 % and lay a ruler on the check bars before you cut.\n";
    for (const Note& note : measured->answer.notes) {
      if (note.doubtful) said += "! " + on_one_line(note.text) + "\n";
    }
    for (const Note& note : clay.notes()) {
      if (note.doubtful) said += "! " + on_one_line(note.text) + "\n";
    }
    for (const Note& note : pdf.notes()) said += "! " + on_one_line(note.text) + "\n";
  }
  const Result<Done> printed = print_text(said);
  if (!printed) return fail("", printed.problem());
  return ExitCode::kDone;
}

}  // namespace potshadow
