// SPDX-License-Identifier: MIT
#include "sheets/template_layout.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "patterns/curves.h"
#include "patterns/gauge.h"
#include "sheets/drawn_pattern.h"
#include "sheets/page_blocks.h"
#include "sheets/template_plan.h"
#include "sheets/words.h"

namespace potshadow {
namespace {

constexpr double kMapToleranceMm = 0.5;  // a drawing that small needs few points
constexpr double kAxisGrey = 0.3;

class Composer {
 public:
  Composer(const Gauge& gauge, const TemplateWords& words, const TemplateRequest& request,
           const TemplatePlan& plan, const PageCount& count)
      : gauge_(gauge), words_(words), request_(request), plan_(plan), count_(count) {
    for (const PlannedSheet& sheet : plan.sheets) cells_.push_back(sheet.cell);
  }

  std::vector<TemplatePage> pages() const {
    std::vector<TemplatePage> pages;
    PageWords on_page;
    on_page.number = count_.before + 1;
    on_page.count = count_.all > 0 ? count_.all : static_cast<int>(plan_.pages());
    if (!plan_.words_page.empty()) {
      TemplatePage page = empty_page();
      draw_blocks(page, plan_.words_page, on_page);
      pages.push_back(std::move(page));
    }
    for (const PlannedSheet& sheet : plan_.sheets) {
      on_page.number = count_.before + static_cast<int>(pages.size()) + 1;
      on_page.label = plan_.sheets.size() > 1 ? sheet.cell.label : "";
      on_page.joins = sheet.joins;
      TemplatePage page = empty_page();
      page.label = on_page.label;
      page.has_gauge = true;
      page.window = sheet.window;
      page.gauge_origin = sheet.origin;
      page.marks = sheet.marks;
      DrawnGroup gauge{sheet.window, {}};
      draw_axis(gauge.items, sheet);
      for (Drawn& item : drawn_pattern(
               gauge_pattern(gauge_, {request_.unit, false, words_.along_card}), sheet.origin)) {
        // A word cut through by the window's edge stands whole on the neighbouring sheet.
        const Label* label = std::get_if<Label>(&item);
        if (label != nullptr && !label->upwards &&
            (label->at.y_mm - label->size_mm < sheet.window.top_mm ||
             label->at.y_mm + 0.3 * label->size_mm > sheet.window.bottom_mm)) {
          continue;
        }
        gauge.items.push_back(std::move(item));
      }
      page.drawing.groups.push_back(std::move(gauge));
      draw_marks(page, sheet);
      draw_blocks(page, sheet.blocks, on_page);
      pages.push_back(std::move(page));
    }
    return pages;
  }

 private:
  TemplatePage empty_page() const {
    TemplatePage page;
    page.drawing = plan_.frame.empty_page();
    return page;
  }

  void draw_blocks(TemplatePage& page, const std::vector<PlacedBlock>& blocks,
                   const PageWords& on_page) const {
    for (const PlacedBlock& block : blocks) {
      const PagePoint at{block.box.left_mm, block.box.top_mm};
      switch (block.kind) {
        case BlockKind::kTitle:
          draw_title(page, at, block.box.width(), words_, on_page);
          break;
        case BlockKind::kTable:
          draw_table(page, at, words_);
          break;
        case BlockKind::kNotes:
          draw_notes(page, at, words_, cells_.size() > 1);
          break;
        case BlockKind::kLyingBars:
          draw_lying_bars_with_words(page, at);
          break;
        case BlockKind::kStandingBars:
          draw_standing_bars(page, at);
          break;
        case BlockKind::kLyingBare:
          draw_lying_bars(page, at);
          break;
        case BlockKind::kMap:
          draw_map(page, block.box, cells_, {simplified(gauge_.card, kMapToleranceMm)},
                   on_page.label);
          break;
        case BlockKind::kFoot:
          draw_foot_words(page, block.box, words_, on_page);
          break;
      }
    }
  }

  // The centre line as far as it fits between the words, and the bench from it to the foot.
  void draw_axis(std::vector<Drawn>& items, const PlannedSheet& sheet) const {
    constexpr double kKeepOffMm = 2.5;
    constexpr double kLeastPieceMm = 12.0;
    constexpr double kWordsPieceMm = 32.0;
    const double x = sheet.origin.x_mm;
    if (x >= sheet.window.left_mm) {
      // Pieces of the line from the top down, cut where a block stands.
      std::vector<std::pair<double, double>> pieces = {
          {std::max(sheet.window.top_mm, sheet.origin.y_mm - gauge_.top_mm),
           std::min(sheet.window.bottom_mm, sheet.origin.y_mm + kBelowMm)}};
      for (const PlacedBlock& block : sheet.blocks) {
        if (block.box.left_mm - kKeepOffMm > x || block.box.right_mm + kKeepOffMm < x) continue;
        std::vector<std::pair<double, double>> left;
        for (const auto& [from, to] : pieces) {
          const double above = std::min(to, block.box.top_mm - kKeepOffMm);
          const double below = std::max(from, block.box.bottom_mm + kKeepOffMm);
          if (above > from) left.emplace_back(from, above);
          if (to > below) left.emplace_back(below, to);
        }
        pieces = std::move(left);
      }
      bool named = false;
      for (const auto& [from, to] : pieces) {
        if (to - from < kLeastPieceMm) continue;
        items.push_back(Stroke{{{x, to}, {x, from}}, 0.2, kAxisGrey, false, {7.0, 1.4, 0.8, 1.4}});
        if (named || to - from < kWordsPieceMm) continue;
        Label label{"centre line", {x - 1.2, to - 4.0}};
        label.size_mm = 2.6;
        label.grey = kAxisGrey;
        label.upwards = true;
        items.push_back(label);
        named = true;
      }
    }
    // The bench, left of the foot.
    const double foot = x + gauge_.profile.front().radius_mm;
    double from = std::max(x, sheet.window.left_mm);
    for (const PlacedBlock& block : sheet.blocks) {
      if (block.box.bottom_mm > sheet.origin.y_mm - kKeepOffMm && block.box.right_mm < foot) {
        from = std::max(from, block.box.right_mm + kKeepOffMm);
      }
    }
    constexpr double kLeastBenchMm = 5.0;
    if (foot - from >= kLeastBenchMm) {
      items.push_back(line({from, sheet.origin.y_mm}, {foot, sheet.origin.y_mm}, 0.2, kAxisGrey));
    }
  }

  static void draw_marks(TemplatePage& page, const PlannedSheet& sheet) {
    DrawnGroup group;
    for (const Stroke& trim : sheet.trims) group.items.push_back(trim);
    for (Drawn& item : drawn_marks(sheet.marks)) group.items.push_back(std::move(item));
    page.drawing.groups.push_back(std::move(group));
  }

  const Gauge& gauge_;
  const TemplateWords& words_;
  const TemplateRequest& request_;
  const TemplatePlan& plan_;
  PageCount count_;
  std::vector<MapCell> cells_;
};

std::optional<Problem> bad_sizes(const TemplateRequest& request) {
  for (const TemplateSizeRow& row : request.sizes) {
    const Measured& m = row.fired;
    if (!std::isfinite(m.value) || !std::isfinite(m.sd) || !std::isfinite(m.low95) ||
        !std::isfinite(m.high95) || m.sd < 0.0 || m.low95 > m.high95) {
      return Problem{Code::kBadValue, "The size \"" + row.words + "\" is not a number.",
                     "Measure the vessel again, then make the template.", ""};
    }
  }
  return std::nullopt;
}

}  // namespace

Result<TemplateLayout> template_layout(const TemplateRequest& request, const PageCount& count) {
  if (!request.has_scale) {
    return Problem{Code::kCannotBeAnswered,
                   "How big the vessel is stays open, so no template can be made at its true size.",
                   "Mark something whose size you know on a photograph, or give one size of the "
                   "vessel, be it a guess.",
                   ""};
  }
  if (auto problem = bad_sizes(request)) return *std::move(problem);
  constexpr std::size_t kMostSizes = 14;
  if (request.sizes.size() > kMostSizes) {
    return Problem{Code::kCannotBeAnswered, "There are more sizes than fit a page's table.",
                   "Leave out all but the " + std::to_string(kMostSizes) + " you work with.", ""};
  }
  const Result<Gauge> gauge = gauge_of(request.fired_profile, request.band, request.shrinkage);
  if (!gauge) return gauge.problem();
  const TemplateWords words = words_of(request, gauge->profile.front().radius_mm);
  const std::optional<TemplatePlan> plan = best_plan(
      {*gauge, words, request.paper, request.printer}, request.most_pages, request.page_way);
  if (!plan || plan->pages() > static_cast<std::size_t>(request.most_pages)) {
    return Problem{Code::kCannotBeAnswered,
                   "The template would take more than " + std::to_string(request.most_pages) +
                       " sheets of paper.",
                   "Check the size of the reference: the wet pot comes out " +
                       fixed_text(gauge->top_mm - kCardAboveRimMm, 0) +
                       " mm high. If that is meant, ask for larger paper or allow more sheets.",
                   ""};
  }
  TemplateLayout layout;
  layout.wet_profile = gauge->profile;
  layout.card_right_mm = gauge->right_mm;
  layout.card_top_mm = gauge->top_mm;
  layout.pages = Composer(*gauge, words, request, *plan, count).pages();
  return layout;
}

}  // namespace potshadow
