// SPDX-License-Identifier: MIT
#include "project/series_sheet.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>

#include "patterns/series.h"
#include "project/series_table.h"
#include "project/sheet_words.h"
#include "project/text_layout.h"
#include "sheets/sheet_set.h"

namespace potshadow {

using namespace internal;
namespace {

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
  const std::string at(stage_words(state.against->at));
  return (state.vessel.stage == state.against->at ? "" : at + " ") + times + " × the original";
}

std::vector<SeriesPanel> panels_of(const PotSeries& series) {
  std::vector<SeriesPanel> panels;
  for (const SeriesPot& pot : series.pots) {
    for (const SeriesState& state : pot.states) {
      const bool there = series.drawn_there && state.there;
      const ComparedVessel& vessel = there ? *state.there : state.vessel;
      SeriesPanel panel;
      panel.title = series_state_title(pot, state);
      panel.words = scale_words(state);
      panel.outline = vessel.form.rows;
      if (panel.outline.empty()) panel.strokes = strokes_of(vessel);
      if (there) panel.original = state.against->original_rows;
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
  std::vector<SheetParagraph> paragraphs{{series_legend()}};
  for (std::string& words : series_paragraphs(series, unit))
    paragraphs.push_back({std::move(words)});
  for (std::string& words : series_shrank_words(series)) paragraphs.push_back({std::move(words)});
  for (const Note& note : series.notes) paragraphs.push_back({"! " + note.text, note.doubtful});
  if (series.next_pot) paragraphs.push_back({series_next_words(series), true});
  return paragraphs_piece("In words", paragraphs);
}

// One below the other, their left sides in one line.
Pattern stacked(Pattern above, Pattern below) {
  constexpr double kBetweenMm = 10.0;
  const PatternBox top = box_of(above);
  const PatternBox box = box_of(below);
  below =
      moved(std::move(below), top.left_mm - box.left_mm, top.bottom_mm - kBetweenMm - box.top_mm);
  const auto take = [](auto& to, auto& from) { to.insert(to.end(), from.begin(), from.end()); };
  take(above.paths, below.paths);
  take(above.areas, below.areas);
  take(above.texts, below.texts);
  return above;
}

// What each differs by, a few pots to a table.
std::optional<Pattern> differences_piece(const PotSeries& series, LengthUnit unit) {
  constexpr std::size_t kColumns = 4;
  constexpr double kFirstMm = 44.0;
  const double each = (kSheetWidthMm - kFirstMm) / static_cast<double>(kColumns);
  std::optional<Pattern> piece;
  for (SeriesRows& rows : series_parts(series_difference_rows(series, unit), kColumns)) {
    std::vector<SheetColumn> columns{{0.0}};
    for (std::size_t i = 1; i < rows.front().size(); ++i) {
      columns.push_back({kFirstMm + each * static_cast<double>(i), true});
    }
    rows.front().front() =
        "Difference, " + std::string(stage_words(series.at)) + ", " + std::string(unit_name(unit));
    Pattern table = table_piece("Differences", columns, rows);
    piece = piece ? stacked(*std::move(piece), std::move(table)) : std::move(table);
  }
  return piece;
}

Pattern next_piece(const PotSeries& series, LengthUnit unit) {
  SeriesRows rows = series_next_rows(series, unit);
  rows.front().front() = "The next pot, " + rows.front().front();
  return table_piece("The next pot", {{0.0}, {80.0, true}, {115.0, true}}, rows);
}

// The largest of the usual scales at which all pots take no more than the upper part of a page.
double scale_of(const PotSeries& series, const std::vector<SeriesPanel>& panels) {
  constexpr std::array<double, 9> kScales{1.0,       0.5,   1.0 / 3.0, 0.25, 0.2,
                                          1.0 / 6.0, 0.125, 0.1,       0.05};
  constexpr double kMostHighMm = 128.0;
  const auto fits = [&](double at) {
    const PatternBox box =
        box_of(series_panels(series.original_rows, panels, at, Mm{kSheetWidthMm}));
    return box.width() <= kSheetWidthMm && box.height() <= kMostHighMm;
  };
  const auto found = std::find_if(kScales.begin(), kScales.end(), fits);
  return found == kScales.end() ? kScales.back() : *found;
}

std::string size_words_of(const PotSeries& series) {
  return series.drawn_there ? std::string(stage_words(series.at)) + " size" : "as measured";
}

PatternSheet sheet_of(const PotSeries& series, const std::string& title, const std::string& scale) {
  PatternSheet sheet;
  sheet.title = title;
  sheet.size_words = size_words_of(series);
  sheet.for_making = false;
  sheet.scale = scale;
  return sheet;
}

}  // namespace

Pattern series_drawing(const PotSeries& series, double scale, double most_width_mm) {
  Pattern out = series_panels(series.original_rows, panels_of(series), scale, Mm{most_width_mm});
  const std::vector<ShrinkageLine> lines = lines_of(series);
  if (lines.empty()) return out;
  return stacked(std::move(out), shrinkage_chart(lines));
}

Pattern series_drawing_for_file(const PotSeries& series) {
  constexpr double kScale = 0.25;
  constexpr double kMostWidthMm = 300.0;
  return series_drawing(series, kScale, kMostWidthMm);
}

std::string series_drawing_words(const PotSeries& series) {
  return size_words_of(series) + ", scale 1:4, millimetres";
}

Result<SheetPdf> series_pdf(const PotSeries& series, const SheetChoices& choices,
                            std::chrono::system_clock::time_point now) {
  const Result<TemplateRequest> facts = sheet_facts("after " + series.original, choices, now);
  if (!facts) return facts.problem();
  const double scale = scale_of(series, panels_of(series));
  PatternSheet first = sheet_of(series, "Series", "1:" + fixed_text(1.0 / scale, 0));
  first.how = {"Solid: " + series.original + ". Dashed: each pot as it " +
                   (series.drawn_there ? "is or would be " + std::string(stage_words(series.at))
                                       : std::string("was measured")) +
                   ".",
               "The drawings are not for cutting."};
  first.pieces.push_back(series_drawing(series, scale, kSheetWidthMm));
  if (!series.next.empty()) first.pieces.push_back(next_piece(series, choices.unit));
  PatternSheet second = sheet_of(series, "Series in figures", "");
  second.pieces.push_back(words_piece(series, choices.unit));
  if (auto differences = differences_piece(series, choices.unit)) {
    second.pieces.push_back(*std::move(differences));
  }
  return pattern_sheet_set({first, second}, *facts);
}

}  // namespace potshadow
