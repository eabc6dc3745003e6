// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <string>
#include <vector>

#include "desktop/session/comparer.h"
#include "desktop/window/compare_drawing.h"
#include "desktop/window/compare_photos.h"
#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/table.h"
#include "desktop/words/compare_words.h"
#include "project/series_table.h"

namespace potshadow {
namespace {

constexpr double kWidest = 960.0;
constexpr double kMostDrawing = 420.0;

void table(Frame& frame, const char* name, const std::string& heading,
           const std::vector<ComparedRow>& rows) {
  std::vector<kit::TableRow> cells;
  for (const ComparedRow& row : rows) {
    cells.push_back({.cells = {row.words, row.original, row.replica, row.difference, row.verdict},
                     .doubtful = row.differs});
  }
  kit::table(frame, name,
             {{heading},
              {"Original", true},
              {"Replica", true},
              {"Difference", true},
              {.heading = "", .fills = true}},
             cells);
}

// A drawing as wide as the page, as high as `height_of` says; what follows stands below it.
template <typename HeightOf, typename Draw>
void drawing(Frame& frame, const HeightOf& height_of, const Draw& draw) {
  const double width = static_cast<double>(ImGui::GetContentRegionAvail().x);
  const double height = height_of(width, static_cast<double>(frame.look.px(kMostDrawing)));
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  draw(ScreenBox{static_cast<double>(corner.x), static_cast<double>(corner.y), width, height});
  ImGui::SetCursorScreenPos(corner);
  ImGui::Dummy(ImVec2(static_cast<float>(width), static_cast<float>(height)));
}

void outlines(Frame& frame, const VesselComparison& comparison) {
  if (!comparison.shape) return;
  const ShapeDifference& shape = *comparison.shape;
  kit::heading(frame, "Outlines");
  kit::note(frame, line_legend(comparison) +
                       " Heavy: different beyond doubt. The band is the gap's 95 % interval; "
                       "between the thin lines all heights hold together.");
  kit::space(frame);
  drawing(
      frame,
      [&](double width, double most) {
        return compare_drawing_height(frame, comparison, width, most);
      },
      [&](ScreenBox box) { compare_drawing(frame, comparison, box); });
  kit::words(frame, scales_words(shape));
  kit::words(frame, "Once both are brought to one size, the outlines are " +
                        apart_words(shape, frame.settings.unit));
}

void sizes(Frame& frame, const VesselComparison& comparison) {
  const std::string unit(unit_name(frame.settings.unit));
  if (!comparison.sizes.empty()) {
    kit::heading(frame, "Sizes, " + std::string(stage_words(comparison.at)));
    table(frame, "sizes", "In " + unit, compared_size_rows(comparison, frame.settings.unit));
    kit::note(frame,
              "Each ± is a 95 % interval; those of the differences are wide enough to hold all at "
              "once: of 100 pairs of like pots at most 5 have anything called different.");
  }
  if (!comparison.proportions.empty()) {
    kit::heading(frame, "Proportions");
    table(frame, "proportions", "Part of the other", compared_proportion_rows(comparison));
  }
  for (const std::string& words : comparison.missing) kit::note(frame, words);
}

void photographs(Frame& frame, const ComparedWork& work) {
  if (work.photos == nullptr) {
    if (!work.photos_problem) return;
    kit::heading(frame, "Photographs");
    kit::problem(frame, *work.photos_problem);
    return;
  }
  kit::heading(frame, "Photo over photo");
  kit::note(frame, "The replica as the original's camera would have seen it.");
  photos_over(frame);
  kit::heading(frame, "Photographs at one scale");
  kit::note(frame, "As far off as their axes, with the fitted outlines.");
  kit::space(frame, 4);
  photos_beside(frame);
}

void notes(Frame& frame, const std::vector<Note>& all) {
  if (all.empty()) return;
  kit::heading(frame, "Notes");
  for (const Note& note : all) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
}

void sections(Frame& frame, const ComparedWork& work) {
  if (!work.original_profile || !work.replica_profile) return;
  kit::heading(frame, "Sections");
  kit::note(frame,
            "Left of each: the wall cut through, as thick as its project states. Right: the "
            "outside.");
  kit::space(frame);
  drawing(
      frame,
      [&](double width, double most) { return compared_sections_height(frame, work, width, most); },
      [&](ScreenBox box) { compared_sections(frame, work, box); });
  kit::describe_last(frame, "Sections");
}

void comparison_page(Frame& frame, const ComparedWork& work) {
  const VesselComparison& comparison = *work.comparison;
  kit::title(frame, comparison.replica + " against " + comparison.original);
  kit::note(frame, comparison_sides(comparison));
  kit::space(frame);
  kit::words(frame, comparison_paragraph(comparison, frame.settings.unit));
  outlines(frame, comparison);
  sizes(frame, comparison);
  photographs(frame, work);
  sections(frame, work);
  notes(frame, comparison.notes);
}

// A table of a series, a few pots at a time, as many as a page is wide.
void series_table(Frame& frame, const std::string& name, const SeriesRows& rows) {
  constexpr std::size_t kColumns = 4;
  std::size_t number = 0;
  for (const SeriesRows& part : series_parts(rows, kColumns)) {
    std::vector<kit::Column> columns{{part.front().front()}};
    for (std::size_t i = 1; i < part.front().size(); ++i)
      columns.push_back({part.front()[i], true});
    columns.push_back({.heading = "", .fills = true});
    std::vector<kit::TableRow> cells;
    for (std::size_t k = 1; k < part.size(); ++k) {
      cells.push_back({.cells = part[k]});
      cells.back().cells.emplace_back();
    }
    kit::table(frame, name + std::to_string(++number), columns, cells);
    kit::space(frame);
  }
}

void series_page(Frame& frame, const ComparedWork& work) {
  const PotSeries& series = *work.series;
  const LengthUnit unit = frame.settings.unit;
  const std::string at(stage_words(series.at));
  kit::title(frame, "Pots after " + series.original);
  kit::note(frame, "Solid: the original. Dashed: each pot as it " +
                       (series.drawn_there ? "is or would be " + at : std::string("was measured")) +
                       ".");
  kit::space(frame);
  series_drawing(frame);
  if (!series.next.empty()) {
    kit::heading(frame, "The next pot");
    kit::words(frame, series_next_words(series));
    series_table(frame, "next", series_next_rows(series, unit));
  }
  const SeriesRows differences = series_difference_rows(series, unit);
  if (differences.size() > 1) {
    kit::heading(frame, "Difference from the original, " + at);
    series_table(frame, "differences", differences);
    kit::note(frame, series_legend());
  }
  kit::heading(frame, "Each against the original, " + at);
  for (const std::string& words : series_paragraphs(series, unit)) {
    kit::words(frame, words);
    kit::space(frame, 4);
  }
  const std::vector<std::string> shrank = series_shrank_words(series);
  if (!shrank.empty()) kit::heading(frame, "What they shrank by");
  for (const std::string& words : shrank) kit::words(frame, words);
  kit::heading(frame, "Sizes as measured");
  series_table(frame, "measured", series_size_rows(series, unit));
  notes(frame, series.notes);
}

}  // namespace

void compare_view(Frame& frame) {
  const kit::Page page(frame, "compare page", kWidest);
  if (not_measured_yet(frame, "comparison")) return;
  const ComparisonView& view = frame.session.comparison();
  if (view.work != nullptr && !frame.state.compare.wish.others.empty()) {
    if (!view.current && !view.busy) {
      kit::doubt(frame, "This is from before the last change.");
      kit::space(frame);
    }
    view.work->series ? series_page(frame, *view.work) : comparison_page(frame, *view.work);
    return;
  }
  kit::title(frame, "The replica against the original");
  if (view.problem && !frame.state.compare.wish.others.empty()) {
    kit::problem(frame, *view.problem);
  } else if (view.busy) {
    kit::words(frame, "The pots are being compared.");
  } else {
    kit::words(frame,
               "Size and shape are told apart here: how much larger or smaller the replica is as a "
               "whole, and where its outline runs farther out or in once both are of one size. "
               "Choose the other pot on the left.");
  }
}

}  // namespace potshadow
