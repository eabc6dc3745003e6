// SPDX-License-Identifier: MIT
#include "sheets/sheet_set.h"

#include <array>
#include <string>
#include <utility>

#include "core/text.h"
#include "sheets/pattern_pages.h"
#include "sheets/pdf_writer.h"
#include "sheets/sheet_pdf.h"

namespace potshadow {
namespace {

// How each kind is used, two lines at most.
std::vector<std::string> how_to(PatternKind kind, const PatternChoices& choices) {
  switch (kind) {
    case PatternKind::kProfile:
      if (choices.whole) {
        return {
            "Cut both along the heavy line. Stand them on the bench, one on each side of the "
            "pot.",
            "Where their arms meet on the centre line the pot has its width. The grey band is "
            "the 95 % interval."};
      }
      return {"Cut along the heavy line. Stand the card on the bench, its edge against the pot.",
              "The grey band is the 95 % interval. Mind the knife."};
    case PatternKind::kRib:
      return {
          "Cut it of stiff card, wood or plastic, round its edge over, and draw it up the "
          "inside of the turning pot.",
          "Its edge is the inner face of the wall. The grey band is the 95 % interval. Mind the "
          "knife."};
    case PatternKind::kRings:
      return {
          "Lay a half ring round the pot from each side: the size is right where both ends "
          "meet and no light shows.",
          "The grey band is the 95 % interval of the radius. Mind the knife."};
    case PatternKind::kStick:
      return {
          "Stand it on the bench, its right edge against the pot. Each line is the height of "
          "what it names;",
          "the grey band is the 95 % interval. Read other heights from the ruler."};
    case PatternKind::kCradle:
      return {
          "Turn it about the centre line in the cradle's clay or plaster until its arm rests on "
          "the edge.",
          "Its curve is the outside of the pot below the line. Mind the knife; plaster dust, "
          "too, belongs in no lung."};
    case PatternKind::kLid:
      return {
          "Hold the mouth gauge across the mouth, and lay the half rings round the lid's "
          "flange.",
          "Make lid and pot of one clay on one day, so that they shrink alike. Mind the knife."};
    case PatternKind::kSection:
      break;
  }
  return {"Left of the centre line the wall, cut through, and the inside; right of it the outside.",
          "The wall's thickness is as stated, not measured. The grey band is the 95 % interval."};
}

std::string scale_words(double scale) {
  const double times = 1.0 / scale;
  const int decimals = times == static_cast<double>(static_cast<long>(times)) ? 0 : 1;
  return "1:" + fixed_text(times, decimals);
}

// Returns the pages of one kind.
Result<std::vector<TemplatePage>> pages_of(PatternKind kind, const SheetSetRequest& request,
                                           const PageCount& count) {
  const PatternChoices& choices = request.choices;
  const bool plain = !choices.left_handed && !choices.whole;
  if (kind == PatternKind::kProfile && plain) {
    Result<TemplateLayout> layout = template_layout(request.facts, count);
    if (!layout) return layout.problem();
    std::vector<TemplatePage> pages = std::move(layout).value().pages;
    for (TemplatePage& page : pages) page.title = pattern_title(kind);
    return pages;
  }
  const auto laid_out = [&](const PatternChoices& chosen) -> Result<std::vector<TemplatePage>> {
    Result<std::vector<Pattern>> pieces = patterns_of(kind, request.vessel, chosen);
    if (!pieces) return pieces.problem();
    PatternSheet sheet{std::string(pattern_title(kind)), "1:1", how_to(kind, chosen),
                       std::move(pieces).value(), ""};
    if (kind == PatternKind::kSection) {
      sheet.scale = scale_words(chosen.section_scale);
      sheet.size_words = "the original's size";
    }
    return pattern_pages(sheet, request.facts, count);
  };
  if (kind != PatternKind::kSection) return laid_out(choices);
  // The usual scales of such drawings.
  constexpr std::array<double, 6> kScales{1.0, 1.0 / 2.0, 1.0 / 3.0, 1.0 / 4.0, 1.0 / 5.0, 0.1};
  PatternChoices scaled = choices;
  if (request.section_scale) {
    scaled.section_scale = *request.section_scale;
    return laid_out(scaled);
  }
  for (const double scale : kScales) {
    scaled.section_scale = scale;
    Result<std::vector<TemplatePage>> pages = laid_out(scaled);
    if (!pages || pages->size() == 1) return pages;
  }
  return laid_out(scaled);
}

Problem no_such_printer() {
  return {Code::kBadValue, "No printer is so far off as that.",
          "Measure the 100 mm bars again; they come out between 80 and 125 mm.", ""};
}

// Lays the pages out once to count them, and again with the count on them.
template <class LayOut>
Result<std::vector<TemplatePage>> numbered(LayOut lay_out) {
  PageCount count;
  const Result<std::vector<TemplatePage>> counted = lay_out(count);
  if (!counted) return counted.problem();
  return lay_out(count = {0, static_cast<int>(counted->size())});
}

}  // namespace

Result<std::vector<TemplatePage>> sheet_set_pages(const SheetSetRequest& request) {
  if (!is_sound(request.facts.printer)) return no_such_printer();
  return numbered([&](PageCount& count) -> Result<std::vector<TemplatePage>> {
    std::vector<TemplatePage> pages;
    if (request.bench) {
      Result<TemplatePage> bench = bench_page(*request.bench, request.facts, count);
      if (!bench) return bench.problem();
      pages.push_back(std::move(bench).value());
      pages.back().title = "Bench sheet";
    }
    for (const PatternKind kind : request.kinds) {
      count.before = static_cast<int>(pages.size());
      Result<std::vector<TemplatePage>> more = pages_of(kind, request, count);
      if (!more) return more.problem();
      for (TemplatePage& page : std::move(more).value()) pages.push_back(std::move(page));
    }
    return pages;
  });
}

Result<std::vector<TemplatePage>> pattern_sheet_pages(const std::vector<PatternSheet>& sheets,
                                                      const TemplateRequest& facts) {
  if (!is_sound(facts.printer)) return no_such_printer();
  return numbered([&](PageCount& count) -> Result<std::vector<TemplatePage>> {
    std::vector<TemplatePage> pages;
    for (const PatternSheet& sheet : sheets) {
      count.before = static_cast<int>(pages.size());
      Result<std::vector<TemplatePage>> more = pattern_pages(sheet, facts, count);
      if (!more) return more.problem();
      for (TemplatePage& page : std::move(more).value()) pages.push_back(std::move(page));
    }
    return pages;
  });
}

Result<SheetPdf> pdf_of_pages(std::vector<TemplatePage> pages, const TemplateRequest& facts) {
  const std::optional<std::string> created = full_date(facts.created_iso);
  if (!created) return no_date(facts.created_iso);
  std::vector<PageDrawing> drawings;
  drawings.reserve(pages.size());
  for (TemplatePage& page : pages) drawings.push_back(std::move(page.drawing));
  Result<std::string> bytes = pdf_of(drawings, {facts.vessel_name, *created});
  if (!bytes) return bytes.problem();
  std::vector<Note> notes = bytes.notes();
  return Result<SheetPdf>(SheetPdf{std::move(bytes).value(), static_cast<int>(drawings.size())},
                          std::move(notes));
}

Result<SheetPdf> sheet_set(const SheetSetRequest& request) {
  Result<std::vector<TemplatePage>> pages = sheet_set_pages(request);
  if (!pages) return pages.problem();
  return pdf_of_pages(std::move(pages).value(), request.facts);
}

Result<SheetPdf> pattern_sheet_set(const std::vector<PatternSheet>& sheets,
                                   const TemplateRequest& facts) {
  Result<std::vector<TemplatePage>> pages = pattern_sheet_pages(sheets, facts);
  if (!pages) return pages.problem();
  return pdf_of_pages(std::move(pages).value(), facts);
}

}  // namespace potshadow
