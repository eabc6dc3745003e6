// SPDX-License-Identifier: MIT
// All the sheets that a vessel's patterns are printed on, as one PDF.
#pragma once

#include <optional>
#include <vector>

#include "core/result.h"
#include "patterns/pattern_kinds.h"
#include "sheets/bench_sheet.h"
#include "sheets/pattern_pages.h"
#include "sheets/template_layout.h"

namespace potshadow {

struct SheetSetRequest {
  TemplateRequest facts;  // what every page names, paper, printer, and the profile gauge's table
  PatternVessel vessel;
  PatternChoices choices;                 // its section_scale is not looked at
  std::vector<PatternKind> kinds{};       // in this order, each once
  std::optional<double> section_scale{};  // 0.5 for 1:2; if absent the largest that fits a page
  std::optional<BenchSheet> bench{};      // comes first
};

// Returns the pages, numbered through. The profile gauge for the right hand, half, comes with the
// table of sizes beside it (template_layout.h); all other patterns as pattern_pages.h says. Fails
// as those and patterns_of do, and with kBadValue for a printer scale that no printer has.
Result<std::vector<TemplatePage>> sheet_set_pages(const SheetSetRequest& request);

// Returns the pages of sheets of patterns that were made elsewhere, numbered through. Fails as
// pattern_pages does.
Result<std::vector<TemplatePage>> pattern_sheet_pages(const std::vector<PatternSheet>& sheets,
                                                      const TemplateRequest& facts);

// Returns pages as a PDF in memory, the same bytes for the same pages and fonts. Fails with
// kBadValue for a date that is none, and as pdf_of does. Slow: about a tenth of a second and ten
// milliseconds a page.
Result<SheetPdf> pdf_of_pages(std::vector<TemplatePage> pages, const TemplateRequest& facts);

// Return both as a PDF.
Result<SheetPdf> sheet_set(const SheetSetRequest& request);
Result<SheetPdf> pattern_sheet_set(const std::vector<PatternSheet>& sheets,
                                   const TemplateRequest& facts);

}  // namespace potshadow
