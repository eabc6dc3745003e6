// SPDX-License-Identifier: MIT
#include "project/series_sheet.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>

#include "patterns/series.h"
#include "project/clay_text.h"
#include "project/sheet_words.h"
#include "project/text_layout.h"
#include "sheets/sheet_set.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr double kMostPanelMm = 55.0;  // three beside each other

std::vector<SeriesStroke> strokes_of(const ComparedVessel& vessel) {
  std::vector<SeriesStroke> strokes;
  const MeasuredSize* const height = find_size(vessel, SizeName::kHeight);
  const auto value = [](const MeasuredSize* size) { return size->measured.value; };
  const auto add = [&](SizeName name, std::optional<double> at) {
    const MeasuredSize* const size = find_size(vessel, name);
    if (size != nullptr && at) strokes.push_back({*at, value(size)});
  };
  const auto height_of = [&](SizeName name) -> std::optional<double> {
    const MeasuredSize* const size = find_size(vessel, name);
    if (size == nullptr) return std::nullopt;
    return value(size);
  };
  add(SizeName::kBaseDiameter, 0.0);
  std::optional<double> widest = height_of(SizeName::kHeightOfMax);
  // Where it is not said how high the widest place is, it is drawn halfway up.
  if (!widest && height != nullptr) widest = value(height) / 2.0;
  add(SizeName::kMaxDiameter, widest);
  add(SizeName::kNeckDiameter, height_of(SizeName::kHeightOfNeck));
  add(SizeName::kRimDiameter, height_of(SizeName::kHeight));
  return strokes;
}

std::string scale_words(const SeriesState& state) {
  if (!state.against || !state.against->shape) return "";
  constexpr int kDecimals = 3;
  const std::string times = words_of(figure(state.against->shape->scale, kDecimals));
  return (state.vessel.stage == Stage::kFired ? "" : "fired ") + times + " times the original";
}

std::vector<SeriesPanel> panels_of(const PotSeries& series) {
  std::vector<SeriesPanel> panels;
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      SeriesPanel panel;
      panel.title = pot.title + ", " + std::string(stage_words(state.vessel.stage));
      panel.words = scale_words(state);
      panel.outline = state.vessel.form.rows;
      if (panel.outline.empty()) panel.strokes = strokes_of(state.vessel);
      panels.push_back(std::move(panel));
    }
  }
  return panels;
}

std::vector<ShrinkageLine> lines_of(const PotSeries& series) {
  std::vector<ShrinkageLine> lines;
  for (const SeriesPot& pot : series.pots) {
    if (pot.shrank.empty()) continue;
    constexpr double kPercent = 100.0;
    const Stage first = pot.shrank.front().shrinkage.from;
    ShrinkageLine line{pot.title, {{static_cast<int>(first), 0.0, 0.0}}};
    LinearShrinkage so_far = normal_shrinkage(first, first, 0.0, 0.0);
    for (const PotShrinkage& step : pot.shrank) {
      if (step.shrinkage.from != so_far.to) break;
      so_far = then(so_far, step.shrinkage);
      line.points.push_back(
          {static_cast<int>(so_far.to), kPercent * so_far.fraction, kPercent * so_far.half95});
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

Pattern words_piece(const PotSeries& series, LengthUnit unit) {
  std::vector<SheetParagraph> paragraphs;
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      const std::string words =
          state.against ? comparison_paragraph(*state.against, unit) : state.why_not;
      if (words.empty()) continue;
      paragraphs.push_back(
          {pot.title + ", " + std::string(stage_words(state.vessel.stage)) + ": " + words});
    }
  }
  if (series.next_pot) {
    paragraphs.push_back({"By what they really did the next pot shrinks by " +
                              percent_words(*series.next_pot) + " " + basis_words(Stage::kWet) +
                              ".",
                          true});
  }
  for (const Note& note : series.notes) paragraphs.push_back({"! " + note.text, note.doubtful});
  return paragraphs_piece("In words", paragraphs);
}

Pattern next_piece(const PotSeries& series, LengthUnit unit) {
  std::vector<std::vector<std::string>> rows{
      {"The next pot, " + std::string(unit_name(unit)), "original", "make, wet"}};
  for (const NextSize& size : series.next) {
    rows.push_back({std::string(size_words(size.name)),
                    words_of(length_figure(size.original, unit)),
                    words_of(length_figure(size.wet, unit))});
  }
  return table_piece("The next pot", {{0.0}, {80.0, true}, {115.0, true}}, rows);
}

}  // namespace

std::vector<Pattern> series_drawings(const PotSeries& series, double scale, double most_width_mm) {
  std::vector<Pattern> drawings;
  drawings.push_back(series_panels(series.original_rows, panels_of(series), scale, most_width_mm));
  const std::vector<ShrinkageLine> lines = lines_of(series);
  if (!lines.empty()) drawings.push_back(shrinkage_chart(lines));
  return drawings;
}

Result<SheetPdf> series_pdf(const PotSeries& series, const SheetChoices& choices,
                            std::chrono::system_clock::time_point now) {
  constexpr std::array<double, 9> kScales{1.0, 0.5, 1.0 / 3.0, 0.25, 0.2, 0.125, 0.1, 0.05, 0.02};
  const std::vector<SeriesPanel> panels = panels_of(series);
  const auto found = std::find_if(kScales.begin(), kScales.end(), [&](double at) {
    return series_panel_width_mm(series.original_rows, panels, at) <= kMostPanelMm;
  });
  const double scale = found == kScales.end() ? kScales.back() : *found;
  PatternSheet sheet;
  sheet.title = "Series";
  sheet.size_words = "as measured";
  sheet.scale = "1:" + fixed_text(1.0 / scale, 0);
  sheet.how = {"Solid: " + series.original + ". Dashed: each pot as it was measured.",
               "The drawings are not for cutting."};
  for (Pattern& drawing : series_drawings(series, scale, kSheetWidthMm)) {
    sheet.pieces.push_back(std::move(drawing));
  }
  sheet.pieces.push_back(words_piece(series, choices.unit));
  if (!series.next.empty()) sheet.pieces.push_back(next_piece(series, choices.unit));
  const Result<TemplateRequest> facts =
      fired_sheet_facts("Series after " + series.original, "", choices, now);
  if (!facts) return facts.problem();
  return pattern_sheet_set({sheet}, *facts);
}

}  // namespace potshadow
