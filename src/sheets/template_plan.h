// SPDX-License-Identifier: MIT
// Which windows on the gauge a template's pages are, and where words and bars stand beside them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "patterns/gauge.h"
#include "sheets/page_blocks.h"
#include "sheets/tiling.h"

// Model, frames and how sheets are joined: template_layout.h. Nothing is drawn here.
namespace potshadow {

// How far below the bench the gauge is still shown.
inline constexpr double kBelowMm = 1.5;

// What stands on a page beside the gauge.
enum class BlockKind { kTitle, kTable, kNotes, kLyingBars, kStandingBars, kMap, kLyingBare, kFoot };

// A block of words or bars, and where it stands on its page.
struct PlacedBlock {
  BlockKind kind;
  PageBox box;
};

// A page that shows a part of the gauge.
struct PlannedSheet {
  int row = 0;
  int column = 0;
  MapCell cell;      // of the gauge, what the window shows
  PageBox window;    // on the page
  PagePoint origin;  // of the gauge, on the page
  std::vector<RegistrationMark> marks;
  std::vector<Stroke> trims;
  std::vector<std::string> joins;
  std::vector<PlacedBlock> blocks;
};

struct TemplatePlan {
  PageFrame frame;
  bool beside = false;  // words stand beside the card; else on a page of their own
  bool axis = false;    // the centre line was asked to show
  std::vector<PlannedSheet> sheets;
  std::vector<PlacedBlock> words_page;  // empty where `beside`
  std::size_t pages() const { return sheets.size() + (words_page.empty() ? 0 : 1); }
};

// What is to be laid out, and on what. All of it must outlive the call.
struct PlanRequest {
  const Gauge& gauge;
  const TemplateWords& words;
  Paper paper = Paper::kA4;
  const PrinterScale& printer;
};

// Returns the plan with the fewest pages that lie as allowed; nothing where every one takes more
// than `most` sheets or the words do not fit a page.
std::optional<TemplatePlan> best_plan(const PlanRequest& request, int most, PageWay way);

}  // namespace potshadow
