// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>
#include <utility>

#include "project/clay_text.h"
#include "project/compare_series.h"
#include "project/csv_text.h"
#include "project/json_text.h"
#include "project/stages_report.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

std::string figure_words(const Measured& m, SizeName name, LengthUnit unit) {
  return words_of(name == SizeName::kCapacity ? volume_figure(m) : length_figure(m, unit));
}

std::string state_title(const SeriesPot& pot, const SeriesState& state) {
  return pot.title + ", " + std::string(stage_words(state.vessel.stage));
}

// All sizes as they were measured, a line each; a pot at a stage has a column.
std::string sizes_table(const PotSeries& series, LengthUnit unit) {
  std::vector<bool> right{false, true};
  std::vector<std::string> head{std::string(unit_name(unit)), "original"};
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      right.push_back(true);
      head.push_back(state_title(pot, state));
    }
  }
  Table table(std::move(right));
  table.add(std::move(head));
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    const auto name = static_cast<SizeName>(i);
    const bool volume = name == SizeName::kCapacity;
    std::vector<std::string> row{std::string(size_words(name)) + (volume ? ", ml" : "")};
    bool any = false;
    const auto add = [&](const MeasuredSize* size) {
      any = any || size != nullptr;
      row.push_back(size == nullptr ? "–" : figure_words(size->measured, name, unit));
    };
    const auto own = std::find_if(series.original_sizes.begin(), series.original_sizes.end(),
                                  [&](const MeasuredSize& size) { return size.name == name; });
    add(own == series.original_sizes.end() ? nullptr : &*own);
    for (const SeriesPot& pot : series.pots) {
      for (const SeriesState& state : pot.states) add(find_size(state.vessel, name));
    }
    if (any) table.add(std::move(row));
  }
  return table.text();
}

std::string shrank_words(const PotShrinkage& shrank) {
  const LinearShrinkage& s = shrank.shrinkage;
  return "from " + std::string(stage_words(s.from)) + " to " + std::string(stage_words(s.to)) +
         " by " + percent_words(s) + " " + basis_words(s.from);
}

std::string shrinkage_text(const PotSeries& series) {
  std::string out;
  for (const SeriesPot& pot : series.pots) {
    if (pot.shrank.empty()) continue;
    std::string words = pot.title + " shrank ";
    for (std::size_t i = 0; i < pot.shrank.size(); ++i) {
      words += (i > 0 ? ", " : "") + shrank_words(pot.shrank[i]);
    }
    if (pot.in_all && pot.shrank.size() > 1) {
      words +=
          "; in all by " + percent_words(pot.in_all->shrinkage) + " " + basis_words(Stage::kWet);
    }
    out += wrapped("- ", words + ".");
  }
  return out;
}

std::string next_text(const PotSeries& series, LengthUnit unit) {
  const std::string pots =
      series.followed == 1 ? "one pot" : std::to_string(series.followed) + " pots";
  std::string out = wrapped(
      "  ", "By what " + pots + " really did, beside what was known of the clay, it shrinks by " +
                percent_words(*series.mean) + " " + basis_words(Stage::kWet) +
                ", and the next pot, which is no mean of pots, by " +
                percent_words(*series.next_pot) + ". Make it, wet:");
  Table table({false, true, true});
  table.add({std::string(unit_name(unit)), "original", "make, wet"});
  for (const NextSize& size : series.next) {
    table.add({std::string(size_words(size.name)), figure_words(size.original, size.name, unit),
               figure_words(size.wet, size.name, unit)});
  }
  return out + table.text();
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
  std::string out =
      "A series after " + series.original + "\n\nSizes as measured\n" + sizes_table(series, unit);
  out += "\nAgainst the original, fired\n";
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      std::string words = state.why_not;
      if (state.against) {
        words = comparison_paragraph(*state.against, unit);
        if (words.empty()) words = "Nothing that both were measured by.";
      }
      out += wrapped("- ", state_title(pot, state) + ". " + words);
    }
  }
  const std::string shrank = shrinkage_text(series);
  if (!shrank.empty()) out += "\nWhat they shrank by\n" + shrank;
  if (!series.next.empty()) out += "\nThe next pot\n" + next_text(series, unit);
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
           {"fired_against_original", state.against ? verdicts_json(*state.against) : Json()},
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
