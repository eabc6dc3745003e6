// SPDX-License-Identifier: MIT
// What a project's pot shrank by from stage to stage, as evidence for its clay's record.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/body_figures.h"
#include "clay/pot_shrinkage.h"
#include "core/result.h"
#include "project/clay_book.h"
#include "project/project.h"

// The project keeps the pot's sizes at each stage ("bench"). Sizes that were taken at an earlier
// stage too tell what the pot shrank by in between. That may be laid into the record of its clay,
// beside the bars and not as one of them: pot_shrinkage.h says how it weighs.
namespace potshadow {

struct StageEvidence {
  Stage from = Stage::kWet;
  Stage to = Stage::kFired;
  std::vector<SizeName> names;  // of pot.each
  PotShrinkage pot;
};

struct PotEvidence {
  std::vector<StageEvidence> stages;     // the earliest first
  std::optional<ClayBody> body{};        // the clay's record with this evidence in it
  std::optional<BodyFigures> without{};  // what the record says without this pot
  std::optional<BodyFigures> with{};     // and with it
};

// Returns what the pot tells from each earlier stage of the project to that of `record`, and what
// its clay's record says without and with it; no body where the project's clay has no record in the
// book. `pot` is the pot's name: what it had told before between the same stages is replaced. Fails
// as pot_shrinkage and body_figures do, with the notes of the first.
Result<PotEvidence> pot_evidence(const Project& project, const ProjectBench& record,
                                 const ClayBook& book, const std::string& pot);

// Returns what the pot shrank by, and what the record says without and with it; empty where no size
// was taken twice.
std::string evidence_text(const PotEvidence& evidence);

}  // namespace potshadow
