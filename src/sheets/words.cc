// SPDX-License-Identifier: MIT
#include "sheets/words.h"

#include <tuple>
#include <utility>

#include "core/printable.h"

namespace potshadow {
namespace {

std::string percent_text(const LinearShrinkage& shrinkage) {
  const double percent = 100.0 * shrinkage.fraction;
  const double half_width = 100.0 * shrinkage.half95;
  if (!(half_width > 0.0)) return fixed_text(percent, 1) + " %";
  // One place is what a test bar gives; a better-known shrinkage shows two.
  const RoundedText text = rounded(percent, half_width, 1, half_width < 0.1 ? 2 : 1);
  return text.value + " % ± " + text.plus_minus + " %";
}

std::string shrinkage_text(const TotalShrinkage& shrinkage) {
  if (!shrinkage.has_ways()) return percent_text(shrinkage.linear());
  return "upright " + percent_text(shrinkage.linear(SizeWay::kUpright)) + ", across " +
         percent_text(shrinkage.linear(SizeWay::kAcross));
}

std::string printer_text(const TemplateRequest& request) {
  if (request.printer == PrinterScale{}) return "";
  const auto percent = [](double scale) { return fixed_text(100.0 * scale, 1); };
  const std::string name = printable_text(request.printer_name);
  return "Made up for " + (name.empty() ? std::string("a printer") : "the printer " + name) +
         ", which prints 100 mm as " + percent(request.printer.across) + " across and " +
         percent(request.printer.along) + " along the paper.";
}

// Splits "235.4 ± 1.8" into "235.4" and "± 1.8".
std::pair<std::string, std::string> split_figure(const std::string& text) {
  const std::size_t at = text.find(" ± ");
  if (at == std::string::npos) return {text, ""};
  return {text.substr(0, at), text.substr(at + 1)};
}

// Millilitres up to ten litres, litres beyond.
bool in_litres(const Measured& fired_ml) { return fired_ml.value >= 10000.0; }

std::string volume_text(const Measured& ml, bool litres) {
  const double factor = litres ? 1e-3 : 1.0;
  constexpr int kLeastDecimals = -3;  // a doubtful volume rounds to tens or hundreds
  const RoundedText text =
      rounded(ml.value * factor, (ml.high95 - ml.low95) / 2.0 * factor, kLeastDecimals, 2);
  return text.value + " ± " + text.plus_minus;
}

SizeWords size_words_of(const TemplateSizeRow& row, const TotalShrinkage& shrinkage,
                        LengthUnit unit) {
  SizeWords words;
  const bool litres = row.is_volume && in_litres(row.fired);
  words.words = printable_text(row.words);
  if (row.is_volume) words.words += litres ? ", l" : ", ml";
  const Measured wet =
      row.is_volume ? shrinkage.wet_volume(row.fired) : shrinkage.wet_length(row.fired, row.way);
  const auto text = [&](const Measured& m) {
    if (row.is_volume) return split_figure(volume_text(m, litres));
    if (unit != LengthUnit::kInch) return split_figure(length_text(m, unit));
    // A hundredth of an inch is as fine as a bench needs, and fits the column.
    const RoundedText inches =
        rounded(in_unit(Mm{m.value}, unit), in_unit(Mm{(m.high95 - m.low95) / 2.0}, unit), 0, 2);
    return std::pair{inches.value, "± " + inches.plus_minus};
  };
  std::tie(words.fired, words.fired_pm) = text(row.fired);
  std::tie(words.wet, words.wet_pm) = text(wet);
  if (unit == LengthUnit::kInch && !row.is_volume) words.sixteenth = sixteenths_text(Mm{wet.value});
  return words;
}

}  // namespace

TemplateWords words_of(const TemplateRequest& request, double foot_to_axis_mm) {
  TemplateWords words;
  words.name = printable_text(request.vessel_name);
  if (words.name.find_first_not_of(' ') == std::string::npos) words.name = "Vessel without a name";
  const std::string clay = printable_text(request.clay_name);
  const std::string shrinkage = shrinkage_text(request.shrinkage);
  words.clay = "Clay: " + (clay.empty() ? std::string("not named") : clay);
  const std::string stage(stage_words(request.stage));
  words.shrinkage = request.stage == Stage::kFired
                        ? "Shrinkage: none, the size it has when fired"
                        : "Shrinkage: " + shrinkage + " of the " + stage + " length";
  words.stage = stage;
  words.paper = std::string(paper_title(request.paper));
  words.printer = printer_text(request);
  words.scale = printable_text(request.guessed_scale);
  words.date = printable_text(request.date_line);
  words.unit = std::string(unit_name(request.unit));
  words.along_card = words.name + " · " + stage + " size 1:1 · " +
                     (words.scale.empty() ? "" : "scale guessed · ") +
                     (clay.empty() ? "" : clay + " ") + shrinkage_percents(request.shrinkage);
  for (const TemplateSizeRow& row : request.sizes) {
    words.sizes.push_back(size_words_of(row, request.shrinkage, request.unit));
  }
  words.using_it = {"Cut along the heavy line; the wedges lie on the waste.",
                    "Stand the card on the bench, its edge against the pot.",
                    "Each ± is the 95 % interval."};
  if (request.band.size() >= 2) {
    words.using_it.back() = "Each ± and the grey band are the 95 % interval.";
  }
  if (foot_to_axis_mm > 0.0) {
    const int decimals = request.unit == LengthUnit::kMm ? 1 : 2;
    words.using_it.push_back("The foot's edge is " +
                             fixed_text(in_unit(Mm{foot_to_axis_mm}, request.unit), decimals) +
                             " " + words.unit + " from the centre line.");
  }
  words.joining = {"To join: cut a sheet along its dotted line, lay it on",
                   "its neighbour so that each letter's halves meet, tape."};
  words.cautions = {"Clay dust holds silica: work wet, wear a fitted respirator.",
                    "Mind the knife. Not for food or drink without testing.",
                    "Put your maker's mark and the date on the replica.",
                    "Local rules and licensed practice come first."};
  return words;
}

}  // namespace potshadow
