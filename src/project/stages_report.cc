// SPDX-License-Identifier: MIT
#include "project/stages_report.h"

#include <array>
#include <vector>

#include "clay/stages.h"
#include "project/clay_text.h"
#include "project/one_line.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr std::array kStages{Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry, Stage::kFired};

std::string doubt_text(double clay_share) {
  constexpr double kHalf = 0.5;
  const bool clay = clay_share > kHalf;
  const double share = clay ? clay_share : 1.0 - clay_share;
  return std::string(clay ? "clay " : "photo ") + fixed_text(100.0 * share, 0) + " %";
}

bool has_sizes(const Measurement& measurement) {
  return measurement.clay && measurement.answer.scale != ScaleSource::kNone;
}

Json value_json(const ClayValue& value) {
  Json json = measured_json(value.measured);
  json["source"] = std::string(source_key(value.source));
  return json;
}

Json sourced_json(const ClayShrinkage& found) {
  Json json = shrinkage_json(found.shrinkage);
  json["source"] = std::string(source_key(found.source));
  if (found.bars.empty()) return json;
  json["bars"] = Json::array();
  for (const std::size_t bar : found.bars) json["bars"].push_back(bar + 1);
  return json;
}

}  // namespace

std::string stages_text(const Measurement& measurement, LengthUnit unit) {
  if (!has_sizes(measurement)) return "";
  const BodyFigures& figures = measurement.clay->figures;
  std::array<FigureColumn, kStages.size()> columns;
  std::vector<std::string> doubts;
  for (const MeasuredSize& size : measurement.answer.sizes) {
    const bool volume = size.name == SizeName::kCapacity;
    for (std::size_t i = 0; i < kStages.size(); ++i) {
      const StageSize found = at_stage(size, figures, kStages[i]);
      columns[i].add(volume ? volume_figure(found.measured) : length_figure(found.measured, unit));
      if (kStages[i] == Stage::kWet) doubts.push_back(doubt_text(found.clay_share));
    }
  }
  Table table({false, true, true, true, true, false});
  std::vector<std::string> heading{std::string(unit_name(unit))};
  for (const Stage stage : kStages) heading.emplace_back(stage_words(stage));
  heading.emplace_back("doubt, wet");
  table.add(heading);
  for (std::size_t row = 0; row < measurement.answer.sizes.size(); ++row) {
    const MeasuredSize& size = measurement.answer.sizes[row];
    const bool volume = size.name == SizeName::kCapacity;
    std::vector<std::string> cells{std::string(size_words(size.name)) + (volume ? ", ml" : "")};
    for (const FigureColumn& column : columns) cells.push_back(column.middle(row));
    cells.push_back(doubts[row]);
    table.add(cells);
  }
  std::string out = table.text();
  const std::string name = measurement.clay->name.empty() ? "the clay" : measurement.clay->name;
  out += wrapped("  ", "By " + on_one_line(name) + ": " + clay_sentence(figures));
  out += wrapped("  ",
                 "The last column says which brings more of the doubt when wet. Where the clay "
                 "does, more test bars help; where the photograph does, a better one.");
  return out;
}

Json measured_json(const Measured& measured) {
  return Json{{"value", measured.value},
              {"sd", measured.sd},
              {"low95", measured.low95},
              {"high95", measured.high95}};
}

Json shrinkage_json(const LinearShrinkage& shrinkage) {
  const double percent = 100.0 * shrinkage.fraction;
  const double half = 100.0 * shrinkage.half95;
  return {{"value", percent},
          {"sd", 100.0 * shrinkage.sd},
          {"low95", percent - half},
          {"high95", percent + half},
          {"basis", std::string(stage_key(shrinkage.from))},
          {"to", std::string(stage_key(shrinkage.to))}};
}

Json clay_json(const Measurement& measurement) {
  if (!measurement.clay) return Json();
  const BodyFigures& figures = measurement.clay->figures;
  Json json = Json::object();
  json["name"] = measurement.clay->name;
  if (measurement.clay->from_book) json["record"] = measurement.project.clay->record;
  json["drying_percent"] = sourced_json(figures.drying);
  json["firing_percent"] = sourced_json(figures.firing);
  json["total_percent"] = sourced_json(figures.total);
  json["leather_hard_to_fired_percent"] = sourced_json(figures.from_leather);
  if (figures.upright && figures.across) {
    json["vertical_total_percent"] = sourced_json(*figures.upright);
    json["horizontal_total_percent"] = sourced_json(*figures.across);
  }
  json["water_percent_of_dry"] = value_json(figures.water_percent);
  json["ignition_percent_of_dry"] = value_json(figures.ignition_percent);
  json["weight_loss_percent_of_wet"] = value_json(figures.weight_loss_percent);
  json["wet_density_g_cm3"] = value_json(figures.wet_density);
  json["fired_density_g_cm3"] = value_json(figures.fired_density);
  return json;
}

Json stages_json(const Measurement& measurement) {
  if (!has_sizes(measurement)) return Json();
  const BodyFigures& figures = measurement.clay->figures;
  const bool guess = measurement.answer.scale == ScaleSource::kGuess;
  Json json = Json::object();
  for (const Stage stage : kStages) {
    Json sizes = Json::object();
    Json capacity;
    for (const MeasuredSize& size : measurement.answer.sizes) {
      const StageSize found = at_stage(size, figures, stage);
      Json item = measured_json(found.measured);
      item["clay_share"] = found.clay_share;
      if (guess) item["guess"] = true;
      if (size.name == SizeName::kCapacity) {
        capacity = std::move(item);
      } else {
        sizes[std::string(size_key(size.name))] = std::move(item);
      }
    }
    json[std::string(stage_key(stage))] = {{"sizes_mm", std::move(sizes)},
                                           {"capacity_ml", std::move(capacity)}};
  }
  return json;
}

}  // namespace potshadow
