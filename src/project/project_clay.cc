// SPDX-License-Identifier: MIT
#include "project/project_clay.h"

#include <utility>
#include <vector>

namespace potshadow {
namespace {

// A body of which nothing is known but a total shrinkage.
ClayBody typed_body(const ProjectClay& clay) {
  ClayBody body;
  body.record = "typed";
  body.stated.push_back({Stage::kWet, Stage::kFired, *clay.shrinkage_percent,
                         clay.shrinkage_sd_percent, "the project"});
  return body;
}

void take_weights(const BodyFigures& from, BodyFigures& to) {
  to.water_percent = from.water_percent;
  to.ignition_percent = from.ignition_percent;
  to.weight_loss_percent = from.weight_loss_percent;
  to.wet_density = from.wet_density;
  to.fired_density = from.fired_density;
}

Result<std::optional<ProjectClayFigures>> with_total(std::string name, BodyFigures figures,
                                                     bool from_book, std::vector<Note> notes) {
  Result<TotalShrinkage> total = TotalShrinkage::from_linear(figures.total.shrinkage);
  if (total.ok() && figures.upright && figures.across) {
    total = total->with_ways(figures.upright->shrinkage, figures.across->shrinkage);
  }
  if (!total) return total.problem();
  return {std::optional<ProjectClayFigures>(
              ProjectClayFigures{std::move(name), std::move(figures), *total, from_book}),
          std::move(notes)};
}

}  // namespace

Result<std::optional<ProjectClayFigures>> project_clay(const Project& project,
                                                       const ClayBook& book) {
  if (!project.clay) return std::optional<ProjectClayFigures>();
  const ProjectClay& clay = *project.clay;
  const ClayBody* const body = body_in(book.bodies, clay.record);
  std::string name = clay.name;
  if (name.empty()) name = body == nullptr ? clay.record : clay_words(*body);
  if (clay.shrinkage_percent) {
    Result<BodyFigures> typed = body_figures(typed_body(clay), {}, std::nullopt);
    if (!typed) return typed.problem();
    BodyFigures figures = std::move(typed).value();
    if (body != nullptr) {
      const Result<BodyFigures> recorded = body_figures(*body, book.bodies, clay.firing_c);
      if (recorded.ok()) take_weights(*recorded, figures);
    }
    return with_total(std::move(name), std::move(figures), false, {});
  }
  if (clay.record.empty()) return std::optional<ProjectClayFigures>();
  if (body == nullptr) {
    return Problem{Code::kCannotBeAnswered,
                   "The clay '" + clay.record + "' is not in your book of clays.",
                   "Run 'potshadow clay' to see which are, or give 'shrinkage_percent' in the "
                   "project.",
                   ""};
  }
  Result<BodyFigures> found = body_figures(*body, book.bodies, clay.firing_c);
  if (!found) return found.problem();
  std::vector<Note> notes = found.notes();
  return with_total(std::move(name), std::move(found).value(), true, std::move(notes));
}

Result<ClayBook> own_clay_book() {
  const Result<UserFolders> folders = user_folders();
  if (!folders) return ClayBook();
  return load_clay_book(*folders);
}

}  // namespace potshadow
