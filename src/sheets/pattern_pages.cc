// SPDX-License-Identifier: MIT
#include "sheets/pattern_pages.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "sheets/drawn_pattern.h"
#include "sheets/page_blocks.h"
#include "sheets/page_head.h"
#include "sheets/piece_tiles.h"
#include "sheets/words.h"

namespace potshadow {
namespace {

constexpr double kPieceGapMm = 6.0;
constexpr double kRoundMm = 1.0;  // white round a piece, for half its line and for its words

// A whole piece on a page, or what one window shows of a larger one.
struct Placed {
  const Pattern* piece = nullptr;
  PagePoint origin;
  PageBox clip;
};

struct Page {
  std::vector<Placed> placed;
  std::optional<PieceTile> tile;  // of a piece that is split
  const TiledPiece* tiled = nullptr;
};

struct Plan {
  PageFrame frame;
  PageBox window;
  std::vector<Pattern> pieces;  // turned where that is better
  std::vector<TiledPiece> tiled;
  std::vector<Page> pages;
};

PatternBox box_with_round(const Pattern& piece) {
  PatternBox box = box_of(piece);
  return {box.left_mm - kRoundMm, box.bottom_mm - kRoundMm, box.right_mm + kRoundMm,
          box.top_mm + kRoundMm};
}

double tiles_of(const PatternBox& box, const PageBox& window) {
  return tiles_for(box.width(), window.width()) * tiles_for(box.height(), window.height());
}

// Returns the piece as it lies best: turned where it then takes fewer windows.
Pattern best_lying(const Pattern& piece, const PageBox& window) {
  std::optional<Pattern> turned = quarter_turned(piece);
  if (turned &&
      tiles_of(box_with_round(*turned), window) < tiles_of(box_with_round(piece), window)) {
    return *std::move(turned);
  }
  return piece;
}

// Puts whole pieces in rows; the largest first, so that rows fill up.
void place_whole(Plan& plan, std::vector<const Pattern*> whole) {
  std::stable_sort(whole.begin(), whole.end(), [](const Pattern* a, const Pattern* b) {
    return box_of(*a).height() > box_of(*b).height();
  });
  struct Row {
    std::size_t page;
    double top;
    double height;
    double used;
  };
  std::vector<Row> rows;
  std::vector<double> depth;  // used of each page, from its window's top
  std::vector<std::size_t> pages;
  for (const Pattern* piece : whole) {
    const PatternBox box = box_with_round(*piece);
    auto row = std::find_if(rows.begin(), rows.end(), [&](const Row& r) {
      return r.height >= box.height() && r.used + box.width() <= plan.window.width();
    });
    if (row == rows.end()) {
      std::size_t at = 0;
      while (at < depth.size() && depth[at] + box.height() > plan.window.height()) ++at;
      if (at == depth.size()) {
        depth.push_back(0.0);
        pages.push_back(plan.pages.size());
        plan.pages.emplace_back();
      }
      rows.push_back({pages[at], plan.window.top_mm + depth[at], box.height(), 0.0});
      depth[at] += box.height() + kPieceGapMm;
      row = rows.end() - 1;
    }
    const double left = plan.window.left_mm + row->used;
    row->used += box.width() + kPieceGapMm;
    Placed placed{piece, {left - box.left_mm, row->top + box.top_mm}, {}};
    placed.clip = {left, row->top, left + box.width(), row->top + box.height()};
    plan.pages[row->page].placed.push_back(placed);
  }
}

Plan planned(const PatternSheet& sheet, const TemplateRequest& facts, double head_mm,
             bool landscape) {
  Plan plan;
  plan.frame = page_frame(facts.paper, facts.printer, landscape);
  plan.window = head_window(plan.frame, head_mm);
  for (const Pattern& piece : sheet.pieces) plan.pieces.push_back(best_lying(piece, plan.window));
  std::vector<const Pattern*> whole;
  std::vector<const Pattern*> split;
  for (const Pattern& piece : plan.pieces) {
    (tiles_of(box_with_round(piece), plan.window) > 1.0 ? split : whole).push_back(&piece);
  }
  place_whole(plan, std::move(whole));
  plan.tiled.reserve(split.size());
  for (const Pattern* piece : split) {
    // More than anyone prints: the count alone is wanted.
    constexpr double kFarTooMany = 2000.0;
    if (tiles_of(box_with_round(*piece), plan.window) > kFarTooMany) {
      plan.pages.resize(static_cast<std::size_t>(kFarTooMany));
      return plan;
    }
    plan.tiled.push_back(tiled_piece(*piece, box_with_round(*piece), plan.window));
    for (const PieceTile& tile : plan.tiled.back().tiles) {
      Page page;
      page.tile = tile;
      page.tiled = &plan.tiled.back();
      page.placed.push_back({piece, tile.origin, tile.window});
      plan.pages.push_back(std::move(page));
    }
  }
  return plan;
}

TemplatePage drawn(const Page& page, const Plan& plan, const SheetHead& head,
                   const PageWords& on_page) {
  TemplatePage out;
  out.drawing = plan.frame.empty_page();
  out.title = head.title;
  out.label = on_page.label;
  for (const Placed& placed : page.placed) {
    DrawnGroup group{placed.clip, drawn_pattern(*placed.piece, placed.origin)};
    out.drawing.groups.push_back(std::move(group));
    out.pieces.push_back({placed.piece->name, placed.origin, placed.clip});
  }
  std::vector<MapCell> cells;
  std::vector<std::vector<ProfilePoint>> outlines;
  if (page.tile) {
    out.marks = page.tile->marks;
    DrawnGroup group;
    for (const Stroke& trim : page.tile->trims) group.items.emplace_back(trim);
    for (Drawn& item : drawn_marks(page.tile->marks)) group.items.push_back(std::move(item));
    out.drawing.groups.push_back(std::move(group));
    for (const PieceTile& tile : page.tiled->tiles) cells.push_back(tile.cell);
    outlines = page.tiled->outlines;
  }
  draw_head(out, plan.frame, head, on_page, cells, outlines);
  return out;
}

}  // namespace

Result<std::vector<TemplatePage>> pattern_pages(const PatternSheet& sheet,
                                                const TemplateRequest& facts,
                                                const PageCount& count) {
  const TemplateWords words = words_of(facts, 0.0);
  SheetHead head{words,     sheet.title, sheet.scale,     sheet.size_words,
                 sheet.how, "",          sheet.for_making};
  const double head_mm = head_height(head);
  std::optional<Plan> plan_found;
  for (const bool landscape : {false, true}) {
    if (!allows(facts.page_way, landscape)) continue;
    Plan made = planned(sheet, facts, head_mm, landscape);
    if (!plan_found || made.pages.size() < plan_found->pages.size()) plan_found = std::move(made);
  }
  const Plan& plan = *plan_found;
  if (plan.pages.size() > static_cast<std::size_t>(facts.most_pages)) {
    return Problem{Code::kCannotBeAnswered,
                   sheet.title + " would take more than " + std::to_string(facts.most_pages) +
                       " sheets of paper.",
                   "Check the size of the reference. If that is meant, ask for larger paper or "
                   "allow more sheets.",
                   ""};
  }
  std::vector<TemplatePage> pages;
  for (const Page& page : plan.pages) {
    PageWords on_page;
    on_page.number = count.before + static_cast<int>(pages.size()) + 1;
    on_page.count = count.all > 0 ? count.all : static_cast<int>(plan.pages.size());
    if (page.tile) {
      on_page.label = page.tile->cell.label;
      on_page.joins = page.tile->joins;
    }
    // Where all pieces are one, or parts of one, the page says which.
    head.piece =
        page.placed.size() == 1 && sheet.pieces.size() > 1 ? page.placed[0].piece->name : "";
    pages.push_back(drawn(page, plan, head, on_page));
  }
  return pages;
}

}  // namespace potshadow
