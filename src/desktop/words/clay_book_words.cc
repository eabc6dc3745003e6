// SPDX-License-Identifier: MIT
#include "desktop/words/clay_book_words.h"

#include "clay/handbook.h"
#include "core/typed_number.h"
#include "desktop/words/figure_text.h"
#include "project/clay_text.h"

namespace potshadow {
namespace {

constexpr const char* kNotKnown = "–";

bool is_estimate(FigureSource source) {
  return source == FigureSource::kMix || source == FigureSource::kHandbook;
}

std::string length_cell(const std::optional<double>& mm, LengthUnit unit) {
  if (!mm) return "";
  return fixed_text(in_unit(Mm{*mm}, unit), unit == LengthUnit::kMm ? 1 : 2);
}

std::string loss_cell(const std::optional<double>& before, const std::optional<double>& after) {
  if (!before || !after) return "";
  return fixed_text(100.0 * (*before - *after) / *before, 1) + " %";
}

std::string heat_cell(const TestBar& bar) {
  if (bar.firing_c) return fixed_text(*bar.firing_c, 0) + " °C";
  return bar.cone.empty() ? "" : "cone " + bar.cone;
}

std::string remark_cell(const TestBar& bar) {
  std::string words;
  const auto add = [&](const std::string& more) {
    if (!more.empty()) words += (words.empty() ? "" : ", ") + more;
  };
  if (!bar.used) add("left out");
  if (bar.way == BarWay::kVertical) add("upright");
  if (bar.way == BarWay::kHorizontal) add("across");
  add(bar.note);
  add(bar.date);
  return words;
}

std::string range_sentence(const std::string& what, const HandbookRange& range,
                           const std::string& unit) {
  return what + ": " + fixed_text(range.low, 0) + " to " + fixed_text(range.high, 0) + " " + unit +
         ". From " + std::string(range.source) + ".";
}

std::string names_of(const std::vector<std::string>& records) {
  std::string names;
  for (const std::string& record : records) names += (names.empty() ? "" : ", ") + record;
  return names;
}

}  // namespace

std::vector<ClayLine> clay_lines(const ClayBook& book) {
  std::vector<ClayLine> lines;
  for (const ClayBody& body : book.bodies) {
    const Result<BodyFigures> figures = body_figures(body, book.bodies, std::nullopt);
    ClayLine line{body.record, clay_words(body), kNotKnown, "fired at several heats"};
    if (figures.ok()) {
      line.shrinkage = percent_words(figures->total.shrinkage);
      line.source = evidence_words(figures->total);
      line.estimate = is_estimate(figures->total.source);
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

std::vector<BarLine> bar_lines(const ClayBody& body, LengthUnit unit) {
  std::vector<BarLine> lines;
  for (const TestBar& bar : body.bars) {
    lines.push_back({length_cell(bar.wet_mm, unit), length_cell(bar.leather_mm, unit),
                     length_cell(bar.dry_mm, unit), length_cell(bar.fired_mm, unit), heat_cell(bar),
                     loss_cell(bar.wet_mm, bar.dry_mm), loss_cell(bar.dry_mm, bar.fired_mm),
                     loss_cell(bar.wet_mm, bar.fired_mm), remark_cell(bar), bar.used});
  }
  return lines;
}

std::vector<MixLine> mix_lines(const ClayBody& body) {
  double all = 0.0;
  for (const MixPart& part : body.mix) all += part.dry_parts;
  std::vector<MixLine> lines;
  for (const MixPart& part : body.mix) {
    lines.push_back({part.name.empty() ? part.record : part.name,
                     part.kind == MixKind::kTemper ? "temper" : "clay",
                     typed_text(part.dry_parts, 2),
                     fixed_text(100.0 * part.dry_parts / all, 1) + " %"});
  }
  return lines;
}

std::vector<ClayFigureLine> clay_figure_lines(const BodyFigures& figures) {
  std::vector<ClayFigureLine> lines;
  const auto shrinkage = [&](const std::string& label, const ClayShrinkage& found) {
    lines.push_back({label, percent_words(found.shrinkage), basis_words(found.shrinkage.from),
                     evidence_words(found), is_estimate(found.source)});
  };
  shrinkage("Drying", figures.drying);
  shrinkage("Firing", figures.firing);
  shrinkage("Total", figures.total);
  if (figures.upright && figures.across) {
    shrinkage("Total, upright", *figures.upright);
    shrinkage("Total, across", *figures.across);
  }
  shrinkage("Leather-hard to fired", figures.from_leather);
  const auto value = [&](const std::string& label, const ClayValue& found, const std::string& unit,
                         const std::string& basis) {
    const FigureText text = plain_figure(found.measured, 2);
    lines.push_back({label, text.value + " ± " + text.plus_minus + " " + unit, basis,
                     source_words(found.source, 0), is_estimate(found.source)});
  };
  value("Water of plasticity", figures.water_percent, "%", "of the dry weight");
  value("Loss in the fire", figures.ignition_percent, "%", "of the dry weight");
  value("Weight loss, wet to fired", figures.weight_loss_percent, "%", "of the wet weight");
  value("Density, wet", figures.wet_density, "g/cm³", "");
  value("Density, fired", figures.fired_density, "g/cm³", "pores included");
  return lines;
}

std::string clay_standing(const ClayBody& body, const Result<BodyFigures>& figures) {
  if (!figures) return figures.problem().what + " " + figures.problem().next;
  switch (figures->total.source) {
    case FigureSource::kHandbook:
      return "No bar tells its shrinkage yet, so a handbook's wide range stands in. Three bars "
             "make it yours.";
    case FigureSource::kMix:
      return "This is an estimate from the clays of its mix. It stays one until there are bars.";
    case FigureSource::kMaker:
      return "This is as it was stated to you. Bars of your own making and firing go before it.";
    case FigureSource::kBars:
    case FigureSource::kWorkedOut:
      break;
  }
  const std::size_t bars =
      figures->total.bars.empty() ? body.bars.size() : figures->total.bars.size();
  constexpr std::size_t kFew = 3;
  if (bars < kFew) return "Few bars leave it wide. Three or more narrow it.";
  return "The ± is the 95 % interval, by as many bars as there are.";
}

std::vector<std::string> handbook_sentences() {
  return {range_sentence("Drying shrinkage", kDryingPercent, "% of the wet length"),
          range_sentence("Firing shrinkage", kFiringPercent, "% of the dry length"),
          range_sentence("Total shrinkage", kTotalPercent, "% of the wet length"),
          range_sentence("Water of plasticity", kWaterPercent, "% of the dry weight"),
          range_sentence("Loss in the fire", kIgnitionPercent, "% of the dry weight")};
}

std::string taken_in_words(const JoinedBook& joined) {
  if (joined.taken.empty()) return "There was no clay in that file.";
  std::string words = "Took " + counted(joined.taken.size(), "clay", "clays") +
                      " into the book: " + names_of(joined.taken) + ".";
  if (!joined.renamed.empty()) {
    words += " Yours of the same short name stayed as they were; the new ones are called " +
             names_of(joined.renamed) + ".";
  }
  return words;
}

Problem clay_problem_words(const Problem& problem) {
  Problem words = problem;
  if (problem.next.find("potshadow") != std::string::npos) {
    words.next = "Choose one from the list, take it in from a file, or type the shrinkage.";
  }
  return words;
}

std::string project_clay_sentence(const ProjectClayFigures& clay) {
  const ClayShrinkage& total = clay.figures.total;
  const std::string name = clay.name.empty() ? "The clay" : clay.name;
  return name + " shrinks by " + percent_words(total.shrinkage) + " of its wet length (" +
         evidence_words(total) + ").";
}

}  // namespace potshadow
