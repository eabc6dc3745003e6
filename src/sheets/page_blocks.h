// SPDX-License-Identifier: MIT
// The blocks that stand on a template's pages: check bars, title, table, notes, page map.
#pragma once

#include <string>
#include <vector>

#include "patterns/gauge.h"
#include "sheets/drawing.h"
#include "sheets/template_layout.h"
#include "sheets/words.h"

// Frame: as drawing.h. Every block is drawn from its top left corner and keeps within its size.
namespace potshadow {

struct BlockSize {
  double width_mm = 0.0;
  double height_mm = 0.0;
};

// One sheet of the gauge as the page map shows it.
struct MapCell {
  std::string label;  // "A1"
  double left_mm = 0.0;
  double right_mm = 0.0;
  double bottom_mm = 0.0;
  double top_mm = 0.0;
};

// Everything a block may need to say about its page.
struct PageWords {
  int number = 1;
  int count = 1;
  std::string label;               // "A1"; empty where the page holds no part of a split gauge
  std::vector<std::string> joins;  // "on A1: a, b", one for each neighbour it is laid on
};

// Returns "Page 2 of 5 · A4 · 25 November 2026", or with "Sheet A1, page 2 of 5".
std::string page_line(const TemplateWords& words, const PageWords& on_page);
// Returns "Lay this sheet on A1 (a, b) and on B1 (c, d)", or nothing for one that others are laid
// on.
std::string joins_text(const PageWords& on_page);

// Widths that the layout counts with.
inline constexpr double kWordsWidthMm = 84.0;
inline constexpr double kBarThickMm = 6.0;
inline constexpr double kBarGapMm = 2.0;
inline constexpr double kBlockGapMm = 6.0;

// The two bars lying, 100 mm above 4 in, and the two standing side by side: without words around.
BlockSize lying_bars_size();
BlockSize standing_bars_size();
// The lying bars under their sentence.
BlockSize lying_bars_with_words_size();
// `split`: with a line that says how the sheet joins its neighbours.
BlockSize title_size(const TemplateWords& words, bool split);
BlockSize table_size(const TemplateWords& words);
BlockSize notes_size(const TemplateWords& words, bool split);

// Draws onto `page` and adds the bars to its list.
void draw_lying_bars(TemplatePage& page, PagePoint top_left);
void draw_standing_bars(TemplatePage& page, PagePoint top_left);
void draw_lying_bars_with_words(TemplatePage& page, PagePoint top_left);

// Draws the vessel's name, a guessed scale, clay, shrinkage, page and date; `width_mm` is the room
// for the name.
void draw_title(TemplatePage& page, PagePoint top_left, double width_mm, const TemplateWords& words,
                const PageWords& on_page);
void draw_table(TemplatePage& page, PagePoint top_left, const TemplateWords& words);
// Draws how to use the card, how to join the sheets (where `split`), and the cautions.
void draw_notes(TemplatePage& page, PagePoint top_left, const TemplateWords& words, bool split);
// Draws the sheets and what lies on them small within `box`, the sheet called `present` shaded; the
// outlines are closed.
void draw_map(TemplatePage& page, const PageBox& box, const std::vector<MapCell>& cells,
              const std::vector<std::vector<ProfilePoint>>& outlines, const std::string& present);
// Draws the few lines at the foot of a sheet that holds nothing but the gauge.
void draw_foot_words(TemplatePage& page, const PageBox& box, const TemplateWords& words,
                     const PageWords& on_page);

}  // namespace potshadow
