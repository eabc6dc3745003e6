// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>
#include <utility>

#include "project/compare_series.h"
#include "project/csv_text.h"
#include "project/json_text.h"
#include "project/series_table.h"
#include "project/stages_report.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

std::string table_text(const SeriesRows& rows) {
  constexpr std::size_t kColumns = 4;  // as wide as the lines of a text
  std::string out;
  for (const SeriesRows& part : series_parts(rows, kColumns)) {
    std::vector<bool> right(part.front().size(), true);
    right.front() = false;
    Table table(std::move(right));
    for (const std::vector<std::string>& row : part) table.add(row);
    out += (out.empty() ? "" : "\n") + table.text();
  }
  return out;
}

Json sizes_json(const std::vector<MeasuredSize>& sizes) {
  Json out = Json::object();
  for (const MeasuredSize& size : sizes) {
    out[std::string(size_key(size.name))] = measured_json(size.measured);
  }
  return out;
}

Json verdicts_json(const VesselComparison& comparison) {
  Json out = Json::object();
  for (const ComparedSize& size : comparison.sizes) {
    out[std::string(size_key(size.name))] = {
        {"difference", measured_json(size.difference.difference)},
        {"verdict", comparison_key(size.difference.verdict)}};
  }
  return out;
}

}  // namespace

std::string series_text(const PotSeries& series, LengthUnit unit) {
  const std::string at(stage_words(series.at));
  std::string out = "A series after " + series.original + "\n\nSizes as measured\n" +
                    table_text(series_size_rows(series, unit));
  const SeriesRows differences = series_difference_rows(series, unit);
  if (differences.size() > 1) {
    out += "\nDifference from the original, " + at + "\n" + table_text(differences);
    out += wrapped("  ", series_legend());
  }
  out += "\nAgainst the original, " + at + "\n";
  for (const std::string& words : series_paragraphs(series, unit)) out += wrapped("- ", words);
  const std::vector<std::string> shrank = series_shrank_words(series);
  if (!shrank.empty()) out += "\nWhat they shrank by\n";
  for (const std::string& words : shrank) out += wrapped("- ", words);
  if (!series.next.empty()) {
    out += "\nThe next pot\n" + wrapped("  ", series_next_words(series) + " Make it, wet:") +
           table_text(series_next_rows(series, unit));
  }
  if (!series.notes.empty()) out += "\nNotes\n";
  for (const Note& note : series.notes) out += wrapped(note.doubtful ? "! " : "- ", note.text);
  return out;
}

std::string series_json(const PotSeries& series) {
  Json pots = Json::array();
  for (const SeriesPot& pot : series.pots) {
    Json states = Json::array();
    for (const SeriesState& state : pot.states) {
      states.push_back(
          {{"stage", stage_key(state.vessel.stage)},
           {"sizes", sizes_json(state.vessel.sizes)},
           {"against_original", state.against ? verdicts_json(*state.against) : Json()},
           {"scale", state.against && state.against->shape
                         ? measured_json(state.against->shape->scale)
                         : Json()}});
    }
    Json shrank = Json::array();
    for (const PotShrinkage& step : pot.shrank) {
      Json one = shrinkage_json(step.shrinkage);
      one["from"] = stage_key(step.shrinkage.from);
      shrank.push_back(std::move(one));
    }
    pots.push_back(
        {{"pot", pot.title}, {"states", std::move(states)}, {"shrank", std::move(shrank)}});
  }
  Json next = Json();
  if (series.next_pot) {
    next = {{"pots", series.followed},
            {"mean", shrinkage_json(*series.mean)},
            {"one_pot", shrinkage_json(*series.next_pot)},
            {"wet_mm", Json::object()}};
    for (const NextSize& size : series.next) {
      next["wet_mm"][std::string(size_key(size.name))] = measured_json(size.wet);
    }
  }
  Json notes = Json::array();
  for (const Note& note : series.notes) {
    notes.push_back({{"text", note.text}, {"doubtful", note.doubtful}});
  }
  return json_text({{"format", 1},
                    {"series",
                     {{"original", series.original},
                      {"compared_at", stage_key(series.at)},
                      {"original_sizes", sizes_json(series.original_sizes)},
                      {"pots", std::move(pots)},
                      {"next", std::move(next)},
                      {"notes", std::move(notes)}}}});
}

std::string series_csv(const PotSeries& series) {
  std::string out = "pot,stage,size,value,sd,low95,high95,unit\r\n";
  const auto add = [&](const std::string& title, std::string_view stage,
                       const std::vector<MeasuredSize>& sizes) {
    for (const MeasuredSize& size : sizes) {
      const Measured& m = size.measured;
      out += csv_field(title) + "," + std::string(stage) + "," + std::string(size_key(size.name)) +
             "," + csv_number(m.value) + "," + csv_number(m.sd) + "," + csv_number(m.low95) + "," +
             csv_number(m.high95) + "," + (size.name == SizeName::kCapacity ? "ml" : "mm") + "\r\n";
    }
  };
  add(series.original, stage_key(Stage::kFired), series.original_sizes);
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      add(pot.title, stage_key(state.vessel.stage), state.vessel.sizes);
    }
  }
  return out;
}

}  // namespace potshadow
