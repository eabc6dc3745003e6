// SPDX-License-Identifier: MIT
#include "project/compare_sheet.h"

#include <algorithm>
#include <array>
#include <utility>

#include "patterns/comparison.h"
#include "project/sheet_words.h"
#include "project/text_layout.h"
#include "sheets/sheet_set.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr double kDrawingHeightMm = 105.0;

Pattern words_of_comparison(const VesselComparison& c, LengthUnit unit) {
  std::vector<SheetParagraph> paragraphs{{comparison_paragraph(c, unit)}};
  for (const Note& note : c.notes) paragraphs.push_back({"! " + note.text, note.doubtful});
  return paragraphs_piece("In words", paragraphs);
}

Pattern table_of_comparison(const VesselComparison& c, LengthUnit unit) {
  std::vector<std::vector<std::string>> rows{
      {"Fired size, " + std::string(unit_name(unit)), "original", "replica", "difference", ""}};
  const auto add = [&](const std::string& name, const SizeDifference& d, const auto& words) {
    rows.push_back({name, words(d.original), words(d.replica), words(d.difference),
                    std::string(comparison_words(d.verdict))});
  };
  for (const ComparedSize& size : c.sizes) {
    const bool volume = size.name == SizeName::kCapacity;
    add(std::string(size_words(size.name)) + (volume ? ", ml" : ""), size.difference,
        [&](const Measured& m) {
          return words_of(volume ? volume_figure(m) : length_figure(m, unit));
        });
  }
  for (const ComparedProportion& p : c.proportions) {
    constexpr int kDecimals = 3;
    add(p.words, p.difference, [](const Measured& m) { return words_of(figure(m, kDecimals)); });
  }
  return table_piece("Sizes", {{0.0}, {70.0, true}, {95.0, true}, {121.0, true}, {124.0}}, rows);
}

}  // namespace

std::optional<Pattern> comparison_drawing(const VesselComparison& comparison, double most_width_mm,
                                          double most_height_mm, double& scale) {
  if (!comparison.shape || comparison.original_rows.size() < 2) return std::nullopt;
  const ShapeDifference& shape = *comparison.shape;
  ComparedOutlines outlines{
      comparison.original_rows, comparison.replica_rows, {}, shape.scale.value, {}};
  double height = 0.0;
  for (const GapRow& row : shape.scaled) {
    outlines.matched.push_back(row.at);
    const Measured& gap = row.gap_mm;
    outlines.gaps.push_back({row.at.height_mm, gap.value, (gap.high95 - gap.low95) / 2.0,
                             row.together_mm, row.differs});
    height = std::max(height, row.at.height_mm);
  }
  for (const ProfilePoint& p : outlines.original) height = std::max(height, p.height_mm);
  constexpr std::array<double, 8> kScales{1.0,       1.0 / 2.0, 1.0 / 3.0, 1.0 / 4.0,
                                          1.0 / 5.0, 0.1,       0.05,      0.02};
  const auto fits = [&](double at) {
    return compared_width_mm(outlines, at) <= most_width_mm && height * at <= most_height_mm;
  };
  const auto found = std::find_if(kScales.begin(), kScales.end(), fits);
  scale = found == kScales.end() ? kScales.back() : *found;
  return compared_outlines(outlines, scale);
}

PatternSheet comparison_sheet(const VesselComparison& comparison, LengthUnit unit,
                              std::vector<Pattern> more) {
  PatternSheet sheet;
  sheet.title = "Replica and original";
  sheet.size_words = "fired size";
  double scale = 1.0;
  std::optional<Pattern> drawing =
      comparison_drawing(comparison, kSheetWidthMm, kDrawingHeightMm, scale);
  sheet.scale = drawing ? "1:" + fixed_text(1.0 / scale, 0) : "";
  sheet.how = {"Solid: " + comparison.original + ". Dashed: " + comparison.replica +
                   ". Grey: the gap's 95 % interval; between the faint lines all heights together.",
               "Heavy: where the shapes differ beyond doubt. The drawing is not for cutting."};
  sheet.pieces.push_back(words_of_comparison(comparison, unit));
  if (drawing) sheet.pieces.push_back(*std::move(drawing));
  if (!comparison.sizes.empty() || !comparison.proportions.empty()) {
    sheet.pieces.push_back(table_of_comparison(comparison, unit));
  }
  for (Pattern& piece : more) sheet.pieces.push_back(std::move(piece));
  return sheet;
}

std::string comparison_title(const VesselComparison& comparison) {
  return comparison.replica + " and " + comparison.original;
}

Result<Pattern> comparison_at_true_size(const VesselComparison& comparison) {
  constexpr double kFar = 1e6;
  double scale = 1.0;
  std::optional<Pattern> drawing = comparison_drawing(comparison, kFar, kFar, scale);
  if (drawing) return *std::move(drawing);
  return Problem{Code::kCannotBeAnswered, "There are no two outlines to draw over each other.",
                 "Give both a scale and an outline.", ""};
}

Result<SheetPdf> comparison_pdf(const VesselComparison& comparison, const SheetChoices& choices,
                                std::vector<Pattern> more,
                                std::chrono::system_clock::time_point now) {
  const Result<TemplateRequest> facts =
      fired_sheet_facts(comparison_title(comparison), comparison.clay_name, choices, now);
  if (!facts) return facts.problem();
  return pattern_sheet_set({comparison_sheet(comparison, choices.unit, std::move(more))}, *facts);
}

}  // namespace potshadow
