// SPDX-License-Identifier: MIT
#include "cli/made_vessel.h"

#include <utility>

#include "cli/cameras.h"
#include "cli/console.h"

namespace potshadow {
namespace {

Stage stage_of(const Typed& text, OptionReader& reading) {
  for (const Stage stage : {Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry, Stage::kFired}) {
    if (!text || *text == stage_words(stage)) return stage;
  }
  reading.complain("The stage '" + *text + "' is not known.",
                   "Use --stage wet, leather-hard, bone-dry or fired.");
  return Stage::kWet;
}

// Returns the project with the shrinkage that was typed in place of its own.
Project with_typed_clay(const MadeOptions& options, Project project) {
  if (!options.shrinkage_percent && !options.shrinkage_sd_percent) return project;
  if (!project.clay) project.clay = ProjectClay{};
  ProjectClay& clay = *project.clay;
  if (options.shrinkage_percent) {
    clay.shrinkage_percent = options.shrinkage_percent;
    // A shrinkage typed here is as sure as typed here; the project's figure is about its own.
    clay.shrinkage_sd_percent = kDefaultShrinkageSdPercent;
  }
  if (options.shrinkage_sd_percent) clay.shrinkage_sd_percent = *options.shrinkage_sd_percent;
  return project;
}

struct ChosenClay {
  MadeSize made;
  std::vector<Note> notes;
};

Result<ChosenClay> chosen_clay(const MadeOptions& options, const Project& project) {
  const bool stated = project.clay && project.clay->shrinkage_percent;
  if (!stated && !(project.clay && !project.clay->record.empty())) {
    return Problem{Code::kCannotBeAnswered, "The project does not say how much its clay shrinks.",
                   "Add --shrinkage with the percentage, or --shrinkage 0 for the original's size.",
                   ""};
  }
  if (stated) {
    // Judged first, so that a typed figure gets a typed figure's answer, whatever the book holds.
    const Result<TotalShrinkage> typed = TotalShrinkage::from_percent_of_wet(
        *project.clay->shrinkage_percent, project.clay->shrinkage_sd_percent);
    if (!typed) return typed.problem();
    if (options.stage == Stage::kWet) {
      const std::string& name = project.clay->name;
      return ChosenClay{{Stage::kWet, *typed, name.empty() ? project.clay->record : name}, {}};
    }
  }
  const Result<ClayBook> book = own_clay_book();
  if (!book) return book.problem();
  const Result<std::optional<ProjectClayFigures>> clay = project_clay(project, *book);
  if (!clay) return clay.problem();
  const Result<MadeSize> made = made_size(**clay, options.stage);
  if (!made) return made.problem();
  return ChosenClay{*made, clay.notes()};
}

}  // namespace

void MadeTyped::add_to(OptionSlots& slots) {
  slots.names = &names;
  slots.values.insert(slots.values.end(), {{"--stage", &stage},
                                           {"--units", &units},
                                           {"--shrinkage", &shrinkage},
                                           {"--shrinkage-sd", &shrinkage_sd},
                                           {"--wall", &wall},
                                           {"--cradle", &cradle},
                                           {"--lid-clearance", &lid_clearance}});
  slots.flags.insert(slots.flags.end(), {{"--left-handed", &left_handed}, {"--whole", &whole}});
}

MadeOptions MadeTyped::read(OptionReader& reading) const {
  MadeOptions options;
  options.project = reading.one_name(names, "project");
  options.unit = reading.unit(units);
  options.stage = stage_of(stage, reading);
  options.shrinkage_percent = reading.number("--shrinkage", shrinkage);
  options.shrinkage_sd_percent = reading.number("--shrinkage-sd", shrinkage_sd);
  options.wall_mm = reading.length("--wall", wall, options.unit);
  PatternChoices& patterns = options.patterns;
  patterns.left_handed = left_handed;
  patterns.whole = whole;
  patterns.cradle_mm = reading.length("--cradle", cradle, options.unit);
  const auto clearance = reading.length("--lid-clearance", lid_clearance, options.unit);
  patterns.lid_clearance_mm = clearance.value_or(patterns.lid_clearance_mm);
  constexpr double kMostClearanceMm = 20.0;
  if (!(patterns.lid_clearance_mm >= 0.0 && patterns.lid_clearance_mm <= kMostClearanceMm)) {
    reading.complain(
        "A lid cannot be " + fixed_text(patterns.lid_clearance_mm, 1) + " mm clear of the mouth.",
        "Give --lid-clearance from 0 to 20 mm.");
  }
  return options;
}

Result<MadeVessel> made_vessel(const MadeOptions& options) {
  const Result<Project> loaded = load_project(options.project);
  if (!loaded) return loaded.problem();
  const Project project = with_typed_clay(options, *loaded);
  const Result<ChosenClay> clay = chosen_clay(options, project);
  if (!clay) return clay.problem();
  const std::filesystem::path folder = std::filesystem::path(options.project).parent_path();
  Result<Measurement> measured = measure_project(project, folder, probe_with_own_cameras(project));
  if (!measured) return measured.problem();
  MadeSize made = clay->made;
  made.wall_mm = options.wall_mm;
  const Result<PatternVessel> vessel =
      pattern_vessel(*measured, options.project, made, options.unit);
  if (!vessel) return vessel.problem();
  MadeVessel out{std::move(measured).value(), made, *vessel, {options.project}, {}};
  for (const ProjectPhoto& photo : loaded->photos) {
    if (!photo.file.empty()) out.inputs.push_back(folder / photo.file);
  }
  const auto take = [&](const std::vector<Note>& notes) {
    for (const Note& note : notes) {
      if (note.doubtful) out.doubts.push_back(on_one_line(note.text));
    }
  };
  take(out.measurement.answer.notes);
  take(clay->notes);
  return out;
}

}  // namespace potshadow
