// SPDX-License-Identifier: MIT
#include "sheets/paper.h"

#include <algorithm>
#include <string>
#include <utility>

#include "core/text.h"

namespace potshadow {
namespace {

struct PaperFacts {
  std::string_view word;
  std::string_view title;
  PaperSize size;
};

constexpr std::array<PaperFacts, kPapers.size()> kFacts{{
    {"a4", "A4", {210.0, 297.0}},
    {"a3", "A3", {297.0, 420.0}},
    {"letter", "Letter", {8.5 * kMmPerInch, 11.0 * kMmPerInch}},
    {"legal", "Legal", {8.5 * kMmPerInch, 14.0 * kMmPerInch}},
    {"tabloid", "Tabloid", {11.0 * kMmPerInch, 17.0 * kMmPerInch}},
}};

const PaperFacts& facts_of(Paper paper) { return kFacts.at(static_cast<std::size_t>(paper)); }

}  // namespace

std::string_view paper_word(Paper paper) { return facts_of(paper).word; }
std::string_view paper_title(Paper paper) { return facts_of(paper).title; }
PaperSize paper_size(Paper paper) { return facts_of(paper).size; }

std::optional<Paper> paper_of(std::string_view word) {
  std::string small(word);
  for (char& c : small) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  for (const Paper paper : kPapers) {
    if (paper_word(paper) == small) return paper;
  }
  return std::nullopt;
}

std::string_view page_way_word(PageWay way) {
  constexpr std::array<std::string_view, kPageWays.size()> kWords{"fewest", "upright", "lying"};
  return kWords.at(static_cast<std::size_t>(way));
}

bool allows(PageWay way, bool landscape) {
  return way == PageWay::kFewest || (way == PageWay::kLying) == landscape;
}

bool is_sound(const PrinterScale& printer) {
  const auto sound = [](double scale) {
    return scale >= kLeastPrinterScale && scale <= kMostPrinterScale;
  };
  return sound(printer.across) && sound(printer.along);
}

PageDrawing PageFrame::empty_page() const {
  return {width_mm, height_mm, {}, stretch_x, stretch_y};
}

PageFrame page_frame(Paper paper, const PrinterScale& printer, bool landscape) {
  PageFrame frame;
  const PaperSize size = paper_size(paper);
  frame.width_mm = size.width_mm * printer.across;
  frame.height_mm = size.height_mm * printer.along;
  frame.stretch_x = 1.0 / printer.across;
  frame.stretch_y = 1.0 / printer.along;
  // What is printed too large runs over the paper's edges.
  double over_x = std::max(0.0, frame.width_mm - size.width_mm);
  double over_y = std::max(0.0, frame.height_mm - size.height_mm);
  if (landscape) {
    std::swap(frame.width_mm, frame.height_mm);
    std::swap(frame.stretch_x, frame.stretch_y);
    std::swap(over_x, over_y);
  }
  frame.usable = {kPageMarginMm + over_x, kPageMarginMm + over_y,
                  frame.width_mm - kPageMarginMm - over_x,
                  frame.height_mm - kPageMarginMm - over_y};
  return frame;
}

}  // namespace potshadow
