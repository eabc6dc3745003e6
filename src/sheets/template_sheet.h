// SPDX-License-Identifier: MIT
// The printed template: a half-profile gauge at wet size on ordinary paper, as a PDF.
#pragma once

#include <string>
#include <vector>

#include "clay/shrinkage.h"
#include "core/measured.h"
#include "core/result.h"
#include "core/text.h"
#include "patterns/band.h"
#include "sheets/paper.h"
#include "vessel/profile.h"

// Model: the potter cuts a card whose one edge is the vessel's outer profile, enlarged from fired
// to wet size, and holds it against the clay from outside. The card is drawn at true size. What
// does not fit one page is split over several that overlap; template_layout.h says where everything
// lies. Every page carries check bars, for a printer that scales makes a wrong pot.
//
// The same request gives the same bytes where the same fonts are installed. Text is set in Inter,
// else DejaVu Sans, else whatever font has the letter; fonts are embedded. Scripts whose letters
// must be joined or reordered are not shaped.
namespace potshadow {

// One row of the table of sizes: what it is called, and how big it is when fired.
struct TemplateSizeRow {
  std::string words;       // "Height", "Maximum diameter"
  Measured fired;          // millimetres, or millilitres where `is_volume`
  bool is_volume = false;  // grows by the cube of the enlargement
  SizeWay way = SizeWay::kAcross;
};

// A template of more pages than this is rarely meant; whoever wants one asks for it.
inline constexpr int kMostPages = 60;

struct TemplateRequest {
  std::string vessel_name;
  Profile fired_profile;               // millimetres
  std::vector<ProfileBandRow> band;    // may be empty: no band is drawn
  std::vector<TemplateSizeRow> sizes;  // in the order of the table; may be empty
  std::string clay_name;               // may be empty
  TotalShrinkage shrinkage;
  Paper paper = Paper::kA4;
  std::string date_line;              // printed as it stands, as "25 November 2026"
  std::string created_iso;            // "2026-11-25" or "2026-11-25T14:30:00Z": the PDF's date
  LengthUnit unit = LengthUnit::kMm;  // of the table and of the ruler on the card
  bool has_scale = true;              // whether the profile is in millimetres at all
  // Where the scale is a guess, the words that say so on every page: "Scale guessed: height 260 ±
  // 20 mm."
  std::string guessed_scale{};
  Stage stage = Stage::kWet;    // of the pot the sheets are for; `shrinkage` counts from there
  PrinterScale printer{};       // made up for
  std::string printer_name{};   // printed where it is made up for
  int most_pages = kMostPages;  // refused beyond
  PageWay page_way = PageWay::kFewest;  // the bench sheet is upright all the same
};

struct SheetPdf {
  std::string bytes;
  int pages = 0;
};

// Returns the template as a PDF in memory. Fails with kBadValue (a vessel without extent, numbers
// that are not finite, a negative uncertainty, a date that is not one) or kCannotBeAnswered (no
// scale; more than kMostPages pages; no font found). Slow: about a tenth of a second.
Result<SheetPdf> template_sheet(const TemplateRequest& request);

}  // namespace potshadow
