// SPDX-License-Identifier: MIT
#include "project/clay_text.h"

#include <array>

#include "clay/handbook.h"
#include "core/text.h"
#include "project/one_line.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

struct SourceName {
  std::string_view words;
  std::string_view key;
};
constexpr std::array<SourceName, 5> kSources{{{"bars", "bars"},
                                              {"as stated", "stated"},
                                              {"worked out", "worked_out"},
                                              {"estimated from the mix", "mix"},
                                              {"a handbook's range", "handbook"}}};

std::string cell(const std::optional<double>& value, int decimals) {
  return value ? fixed_text(*value, decimals) : "";
}

std::string loss_cell(const std::optional<double>& before, const std::optional<double>& after) {
  if (!before || !after) return "";
  return fixed_text(100.0 * (*before - *after) / *before, 1);
}

std::string heat_cell(const TestBar& bar) {
  if (bar.firing_c) return fixed_text(*bar.firing_c, 0) + " °C";
  return bar.cone.empty() ? "" : "cone " + on_one_line(bar.cone);
}

std::string remark_cell(const TestBar& bar) {
  std::string words = on_one_line(bar.date);
  const auto add = [&](const std::string& more) {
    if (!more.empty()) words += (words.empty() ? "" : ", ") + more;
  };
  if (bar.way == BarWay::kVertical) add("vertical");
  if (bar.way == BarWay::kHorizontal) add("horizontal");
  if (!bar.used) add("left out");
  add(on_one_line(bar.note));
  return words;
}

std::string bars_text(const ClayBody& body) {
  if (body.bars.empty()) {
    return wrapped("  ",
                   "None yet. Print the sheet with 'potshadow clay sheet', make some, and "
                   "write each down with 'potshadow clay bar " +
                       body.record + "'.");
  }
  Table table({true, true, true, true, true, false, true, true, true, false});
  table.add({"bar", "wet", "leather", "dry", "fired", "", "drying", "firing", "total", ""});
  table.add({"", "mm", "mm", "mm", "mm", "", "% of wet", "% of dry", "% of wet", ""});
  for (std::size_t i = 0; i < body.bars.size(); ++i) {
    const TestBar& bar = body.bars[i];
    table.add({std::to_string(i + 1), cell(bar.wet_mm, 1), cell(bar.leather_mm, 1),
               cell(bar.dry_mm, 1), cell(bar.fired_mm, 1), heat_cell(bar),
               loss_cell(bar.wet_mm, bar.dry_mm), loss_cell(bar.dry_mm, bar.fired_mm),
               loss_cell(bar.wet_mm, bar.fired_mm), remark_cell(bar)});
  }
  return table.text();
}

std::string pots_text(const ClayBody& body) {
  if (body.pots.empty()) return "";
  Table table({true, false, false, true, false, false});
  for (std::size_t i = 0; i < body.pots.size(); ++i) {
    const PotRecord& pot = body.pots[i];
    const LinearShrinkage shrinkage =
        normal_shrinkage(pot.from, pot.to, pot.percent / 100.0, pot.sd_percent / 100.0);
    std::string remark = on_one_line(pot.date);
    const auto add = [&](const std::string& more) {
      remark += (remark.empty() ? "" : ", ") + more;
    };
    if (pot.way == BarWay::kVertical) add("heights");
    if (pot.way == BarWay::kHorizontal) add("diameters");
    if (!pot.used) add("left out");
    table.add({std::to_string(i + 1), on_one_line(pot.pot),
               std::string(stage_words(pot.from)) + " to " + std::string(stage_words(pot.to)),
               percent_words(shrinkage),
               pot.firing_c ? fixed_text(*pot.firing_c, 0) + " °C" : std::string(), remark});
  }
  return "\nFinished pots\n" + table.text() +
         wrapped("  ",
                 "A pot weighs in beside the bars with its own doubt and half a point more, for "
                 "pots are not built and fired as evenly as bars.");
}

// What the total was without the pots, where they weigh in.
std::string without_pots_text(const BodyFigures& figures) {
  if (!figures.total.without_pots) return "";
  return wrapped("  ", "Without the pots the total would be " +
                           percent_words(*figures.total.without_pots) + " (" +
                           source_words(figures.total.source, figures.total.bars.size()) + ").");
}

std::string mix_text(const ClayBody& body) {
  double all = 0.0;
  for (const MixPart& part : body.mix) all += part.dry_parts;
  std::string words;
  for (const MixPart& part : body.mix) {
    words += (words.empty() ? "" : ", ") +
             on_one_line(part.name.empty() ? part.record : part.name) + " " +
             fixed_text(100.0 * part.dry_parts / all, 1) + " %" +
             (part.kind == MixKind::kTemper ? " (temper)" : "");
  }
  return words.empty() ? "" : wrapped("  ", "Mixed of, by dry weight: " + words + ".");
}

std::vector<std::string> shrinkage_row(const std::string& words, const ClayShrinkage& found) {
  return {words, percent_words(found.shrinkage), basis_words(found.shrinkage.from),
          evidence_words(found)};
}

std::string figures_text(const BodyFigures& figures) {
  Table table({false, true, false, false});
  table.add(shrinkage_row("Drying", figures.drying));
  table.add(shrinkage_row("Firing", figures.firing));
  table.add(shrinkage_row("Total", figures.total));
  if (figures.upright && figures.across) {
    table.add(shrinkage_row("Total, vertical", *figures.upright));
    table.add(shrinkage_row("Total, horizontal", *figures.across));
  }
  table.add(shrinkage_row("Leather-hard to fired", figures.from_leather));
  const auto value_row = [&](const std::string& words, const ClayValue& value,
                             const std::string& unit, const std::string& basis) {
    table.add({words, words_of(figure(value.measured, 2)) + " " + unit, basis,
               source_words(value.source, 0)});
  };
  value_row("Water of plasticity", figures.water_percent, "%", "of the dry weight");
  value_row("Loss in the fire", figures.ignition_percent, "%", "of the dry weight");
  value_row("Weight loss, wet to fired", figures.weight_loss_percent, "%", "of the wet weight");
  value_row("Density, wet", figures.wet_density, "g/cm³", "");
  value_row("Density, fired", figures.fired_density, "g/cm³", "pores included");
  const double enlargement = 1.0 / (1.0 - figures.total.shrinkage.fraction);
  return table.text() + without_pots_text(figures) +
         wrapped("  ", "Each ± is the 95 % interval. Make every length " +
                           fixed_text(enlargement, 3) +
                           " times the fired one. Percentages of "
                           "different lengths are multiplied, never added.");
}

}  // namespace

std::string source_words(FigureSource source, std::size_t bars) {
  if (source == FigureSource::kBars && bars > 0) {
    return std::to_string(bars) + (bars == 1 ? " bar" : " bars");
  }
  return std::string(kSources.at(static_cast<std::size_t>(source)).words);
}

std::string percent_words(const LinearShrinkage& shrinkage) {
  const double percent = 100.0 * shrinkage.fraction;
  const double half = 100.0 * shrinkage.half95;
  const RoundedText text = rounded(percent, half, 0, 2);
  return text.value + " ± " + text.plus_minus + " %";
}

std::string basis_words(Stage from) {
  return "of the " + std::string(stage_words(from)) + " length";
}

std::string evidence_words(const ClayShrinkage& found) {
  std::string words = source_words(found.source, found.bars.size());
  if (found.pots.empty()) return words;
  const std::size_t pots = found.pots.size();
  return words + " and " + std::to_string(pots) + (pots == 1 ? " pot" : " pots");
}

std::string_view source_key(FigureSource source) {
  return kSources.at(static_cast<std::size_t>(source)).key;
}

std::string clay_sentence(const BodyFigures& figures) {
  const auto words = [](const ClayShrinkage& found) {
    return percent_words(found.shrinkage) + " " + basis_words(found.shrinkage.from) + " (" +
           evidence_words(found) + ")";
  };
  std::string sentence = "in all it shrinks by " + words(figures.total) + ", in drying by " +
                         words(figures.drying) + ", in the fire by " + words(figures.firing) + ".";
  if (!figures.upright || !figures.across) return sentence;
  return sentence + " Wet heights follow its vertical bars, " + words(*figures.upright) +
         ", and wet diameters its horizontal ones, " + words(*figures.across) + ".";
}

std::vector<std::string_view> clay_cautions() {
  return {
      "Dust of dry clay, grog and sand holds silica that harms the lungs: mix and clean wet, never "
      "sweep or sand dry, and wear a fitted respirator.",
      "Dry bars and pots right through before firing: water turning to steam bursts them.",
      "A clay with lime loses strength, and may flake, if fired past the heat at which the lime "
      "breaks down, from about 700 °C on.",
      "Firing in the open: follow the local rules on burning and use no accelerants. Protect eyes "
      "and hands, and have water at hand.",
      "Low-fired and unglazed ware is not for food or drink unless it has been tested.",
      "Local codes and licensed practice come first."};
}

std::string clay_list_text(const ClayBook& book) {
  if (book.bodies.empty()) {
    return "Your book of clays is empty.\nBegin with 'potshadow clay write buff-mix --name \"Buff "
           "mix\"', or see 'potshadow clay --help'.\n";
  }
  Table table({false, false, true, false});
  table.add({"Record", "Name", "total shrinkage", ""});
  for (const ClayBody& body : book.bodies) {
    const Result<BodyFigures> figures = body_figures(body, book.bodies, std::nullopt);
    if (figures.ok()) {
      const ClayShrinkage& total = figures->total;
      table.add({body.record, on_one_line(body.name), percent_words(total.shrinkage),
                 evidence_words(total)});
    } else {
      table.add({body.record, on_one_line(body.name), "?", "say how hot: clay show --firing"});
    }
  }
  return table.text();
}

std::string clay_text(const ClayBody& body, const Result<BodyFigures>& figures) {
  std::string out = on_one_line(clay_words(body)) + " (" + body.record + ")\n";
  if (!body.note.empty()) out += wrapped("  ", on_one_line(body.note));
  out += mix_text(body);
  if (body.firing_c) {
    out += "  Usually fired at " + fixed_text(*body.firing_c, 0) + " °C.\n";
  }
  out += "\nTest bars\n" + bars_text(body) + pots_text(body);
  std::vector<Note> notes = figures.notes();
  if (figures.ok()) {
    out += "\nFigures\n" + figures_text(*figures);
  } else {
    notes.push_back({figures.problem().what + " " + figures.problem().next, true});
  }
  if (!notes.empty()) out += "\nNotes\n";
  for (const Note& note : notes) {
    out += wrapped(note.doubtful ? "! " : "- ", on_one_line(note.text));
  }
  out += "\nTake care\n";
  for (const std::string_view caution : clay_cautions()) out += wrapped("- ", std::string(caution));
  return out;
}

std::string handbook_text() {
  std::string out = "What stands in where a clay has no bars\n";
  const auto add = [&](const std::string& words, const HandbookRange& range,
                       const std::string& unit) {
    out += wrapped("  ", words + ": " + fixed_text(range.low, 0) + " to " +
                             fixed_text(range.high, 0) + " " + unit + ".");
    out += wrapped("    ", "From " + std::string(range.source) + ".");
  };
  add("Drying shrinkage", kDryingPercent, "% of the wet length");
  add("Firing shrinkage", kFiringPercent, "% of the dry length");
  add("Total shrinkage", kTotalPercent, "% of the wet length");
  add("Water of plasticity", kWaterPercent, "% of the dry weight");
  add("Loss in the fire", kIgnitionPercent, "% of the dry weight");
  out += "\nClays as they were measured (Florida Geological Survey, 15th Annual Report)\n";
  Table table({false, true, true, true, true});
  table.add({"", "water", "drying", "drying, volume", "firing, 950 °C"});
  table.add({"", "% of dry weight", "% of wet length", "% of wet volume", "% of length"});
  for (const PublishedClay& clay : kPublishedClays) {
    table.add({std::string(clay.name), fixed_text(clay.water_percent, 1),
               fixed_text(clay.drying_percent, 1), cell(clay.drying_volume_percent, 1),
               cell(clay.firing_percent, 1)});
  }
  return out + table.text();
}

}  // namespace potshadow
