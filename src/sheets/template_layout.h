// SPDX-License-Identifier: MIT
// Where everything on a template's pages lies, in millimetres, before anything is drawn.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "sheets/drawing.h"
#include "sheets/template_sheet.h"
#include "sheets/tiling.h"

// Model: the gauge is looked at through one window a page. Where it fits beside the words, the
// words stand in the room that the card leaves on the vessel's side; else each page keeps two
// strips for its check bars, and a first page carries the words. The arrangement with the fewest
// pages wins; at a tie the one with the words beside the card, with the centre line, upright.
//
// How sheets are joined: tiling.h.
//
// Frames: pages as in drawing.h; the gauge as in gauge.h. A place of the gauge (radius, height)
// lies on a page at (gauge_origin.x + radius, gauge_origin.y - height).
namespace potshadow {

// A black bar to measure: its `box` is `length_mm` long, exactly.
struct CheckBar {
  PageBox box;
  double length_mm = 0.0;
  bool standing = false;
};

// A piece on a page of patterns, or the part of it that shows through `window`.
struct PlacedPiece {
  std::string name;
  PagePoint origin;  // where the piece's (0, 0) lies
  PageBox window;
};

struct TemplatePage {
  std::string title{};     // of the sheet it belongs to: "Ring gauges"
  std::string label;       // "A1"; empty where the gauge is not split or the page has words only
  bool has_gauge = false;  // shows a part of the gauge
  PageBox window;          // where the gauge shows
  PagePoint gauge_origin;  // the centre line on the bench, wherever that lies
  std::vector<CheckBar> bars;
  std::vector<RegistrationMark> marks;
  std::vector<PlacedPiece> pieces{};  // of a page of patterns
  PageDrawing drawing;
};

struct TemplateLayout {
  std::vector<ProfilePoint> wet_profile;  // as drawn, base first
  double card_right_mm = 0.0;             // radius of the card's straight back edge
  double card_top_mm = 0.0;               // height of its top edge
  std::vector<TemplatePage> pages;
};

// Which pages of a larger set these are.
struct PageCount {
  int before = 0;
  int all = 0;  // 0: these alone
};

// Returns the layout of a template. It depends on nothing but the request. Fails with kBadValue
// (a vessel without extent, numbers that are not finite, a negative uncertainty) and
// kCannotBeAnswered (no scale, more than kMostPages pages, more sizes than a page holds).
Result<TemplateLayout> template_layout(const TemplateRequest& request, const PageCount& count = {});

}  // namespace potshadow
