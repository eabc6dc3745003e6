// SPDX-License-Identifier: MIT
// The strips round the window of a page of patterns: what it is, check bars, page map.
#pragma once

#include <string>
#include <vector>

#include "sheets/page_blocks.h"
#include "sheets/paper.h"
#include "sheets/template_layout.h"
#include "sheets/words.h"

namespace potshadow {

struct SheetHead {
  TemplateWords words;
  std::string title;       // "Ring gauges"
  std::string scale;       // "1:1"; empty where nothing is drawn
  std::string size_words;  // in place of "wet size", if not empty
  std::vector<std::string> how;
  std::string piece;       // the one on this page; may be empty
  bool for_making = true;  // else clay and shrinkage are left out
};

// Returns how high the strip at the page's head is.
double head_height(const SheetHead& head);

// Returns where the pieces go.
PageBox head_window(const PageFrame& frame, double head_mm);

// Draws the strips; the map only where there are cells.
void draw_head(TemplatePage& page, const PageFrame& frame, const SheetHead& head,
               const PageWords& on_page, const std::vector<MapCell>& cells,
               const std::vector<std::vector<ProfilePoint>>& outlines);

}  // namespace potshadow
