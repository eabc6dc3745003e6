// SPDX-License-Identifier: MIT
#include "project/pot_evidence.h"

#include <algorithm>
#include <utility>

#include "core/text.h"
#include "project/clay_text.h"
#include "project/measure.h"
#include "project/stages_report.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

const ProjectBenchSize* find(const ProjectBench& bench, SizeName name) {
  const auto found = std::find_if(bench.sizes.begin(), bench.sizes.end(),
                                  [&](const ProjectBenchSize& size) { return size.size == name; });
  return found == bench.sizes.end() ? nullptr : &*found;
}

// The record's figure between two stages; null where it keeps none.
const ClayShrinkage* figure_between(const std::optional<BodyFigures>& figures, Stage from,
                                    Stage to) {
  if (!figures || to == Stage::kLeatherHard) return nullptr;
  if (to == Stage::kBoneDry) return from == Stage::kWet ? &figures->drying : nullptr;
  if (from == Stage::kWet) return &figures->total;
  return from == Stage::kLeatherHard ? &figures->from_leather : &figures->firing;
}

Result<std::vector<StageEvidence>> stages_of(const Project& project, const ProjectBench& record) {
  std::vector<StageEvidence> stages;
  std::vector<Note> notes;
  for (const ProjectBench& before : project.bench) {
    if (before.stage >= record.stage) continue;
    StageEvidence evidence{before.stage, record.stage, {}, {}};
    std::vector<SizePair> pairs;
    for (const ProjectBenchSize& size : record.sizes) {
      const ProjectBenchSize* const earlier = find(before, size.size);
      const PartKind kind = part_kind_of(size.size);
      if (earlier == nullptr || kind == PartKind::kCapacity) continue;
      evidence.names.push_back(size.size);
      pairs.push_back({lower_first(size_words(size.size)), kind,
                       normal_measured(earlier->value, earlier->sd),
                       normal_measured(size.value, size.sd)});
    }
    if (pairs.empty()) continue;
    Result<PotShrinkage> pot = pot_shrinkage(pairs, evidence.from, evidence.to);
    if (!pot) return pot.problem();
    notes.insert(notes.end(), pot.notes().begin(), pot.notes().end());
    evidence.pot = std::move(pot).value();
    stages.push_back(std::move(evidence));
  }
  return {std::move(stages), std::move(notes)};
}

// The body without what this pot told between the same stages before.
ClayBody without_pot(ClayBody body, const std::vector<StageEvidence>& stages,
                     const std::string& pot) {
  for (const StageEvidence& stage : stages) {
    std::erase_if(body.pots, [&](const PotRecord& old) {
      return old.pot == pot && old.from == stage.from && old.to == stage.to;
    });
  }
  return body;
}

ClayBody with_pot(ClayBody body, const std::vector<StageEvidence>& stages, const PotRecord& form) {
  for (const StageEvidence& stage : stages) {
    const auto add = [&](const LinearShrinkage& shrinkage, BarWay way) {
      PotRecord record = form;
      record.from = stage.from;
      record.to = stage.to;
      record.percent = 100.0 * shrinkage.fraction;
      record.sd_percent = 100.0 * shrinkage.sd;
      record.way = way;
      if (stage.to != Stage::kFired) record.firing_c.reset();
      body.pots.push_back(std::move(record));
    };
    add(stage.pot.shrinkage, BarWay::kEither);
    if (!stage.pot.upright || !stage.pot.across) continue;
    add(*stage.pot.upright, BarWay::kVertical);
    add(*stage.pot.across, BarWay::kHorizontal);
  }
  return body;
}

std::string stages_words(const StageEvidence& evidence) {
  return std::string(stage_words(evidence.from)) + " to " + std::string(stage_words(evidence.to));
}

}  // namespace

Result<PotEvidence> pot_evidence(const Project& project, const ProjectBench& record,
                                 const ClayBook& book, const std::string& pot) {
  Result<std::vector<StageEvidence>> stages = stages_of(project, record);
  if (!stages) return stages.problem();
  PotEvidence evidence{*stages};
  const ClayBody* const body = project.clay ? body_in(book.bodies, project.clay->record) : nullptr;
  if (body == nullptr || evidence.stages.empty()) return {std::move(evidence), stages.notes()};
  const std::optional<double> heat =
      project.clay->firing_c ? project.clay->firing_c : body->firing_c;
  PotRecord form;
  form.pot = pot;
  form.firing_c = heat;
  form.date = record.date;
  const ClayBody before = without_pot(*body, evidence.stages, pot);
  evidence.body = with_pot(before, evidence.stages, form);
  const Result<BodyFigures> without = body_figures(before, book.bodies, heat);
  if (!without) return without.problem();
  const Result<BodyFigures> with = body_figures(*evidence.body, book.bodies, heat);
  if (!with) return with.problem();
  evidence.without = *without;
  evidence.with = *with;
  return {std::move(evidence), stages.notes()};
}

std::string evidence_text(const PotEvidence& evidence) {
  std::string out;
  for (const StageEvidence& stage : evidence.stages) {
    out += "\nWhat this pot shrank by, " + stages_words(stage) + "\n";
    Table table({false, true});
    for (std::size_t i = 0; i < stage.names.size(); ++i) {
      table.add({std::string(size_words(stage.names[i])), percent_words(stage.pot.each[i])});
    }
    if (stage.names.size() > 1) table.add({"All together", percent_words(stage.pot.shrinkage)});
    out += table.text();
    std::string words = "In percent of the " + std::string(stage_words(stage.from)) + " length.";
    const ClayShrinkage* const before = figure_between(evidence.without, stage.from, stage.to);
    const ClayShrinkage* const after = figure_between(evidence.with, stage.from, stage.to);
    if (before != nullptr && after != nullptr) {
      words += " Without this pot the clay's record says " + percent_words(before->shrinkage) +
               " (" + evidence_words(*before) + "), and with it " +
               percent_words(after->shrinkage) + " (" + evidence_words(*after) + ").";
    }
    out += wrapped("  ", words);
  }
  return out;
}

Json evidence_json(const PotEvidence& evidence) {
  Json list = Json::array();
  for (const StageEvidence& stage : evidence.stages) {
    Json json = Json::object();
    json["shrinkage_percent"] = shrinkage_json(stage.pot.shrinkage);
    json["each"] = Json::object();
    for (std::size_t i = 0; i < stage.names.size(); ++i) {
      json["each"][std::string(size_key(stage.names[i]))] = shrinkage_json(stage.pot.each[i]);
    }
    const auto figure = [&](const std::optional<BodyFigures>& figures) {
      const ClayShrinkage* const found = figure_between(figures, stage.from, stage.to);
      return found == nullptr ? Json() : shrinkage_json(found->shrinkage);
    };
    json["record_without"] = figure(evidence.without);
    json["record_with"] = figure(evidence.with);
    list.push_back(std::move(json));
  }
  return list;
}

}  // namespace potshadow
