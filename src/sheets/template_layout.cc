// SPDX-License-Identifier: MIT
#include "sheets/template_layout.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "patterns/curves.h"
#include "patterns/gauge.h"
#include "sheets/drawn_pattern.h"
#include "sheets/page_blocks.h"
#include "sheets/words.h"

namespace potshadow {
namespace {

// Around the gauge: below the bench, above the card, right of it, left of the profile or the axis.
constexpr double kBelowMm = 1.5;
constexpr double kAboveMm = 0.7;
constexpr double kRightMm = 0.5;
constexpr double kLeftMm = 4.0;
// Words keep this far from the card's edge, the grey band and the marks.
constexpr double kClearMm = 5.0;
constexpr double kSearchStepMm = 1.0;
// Strips for the check bars on sheets that hold nothing but the gauge.
constexpr double kStripGapMm = 3.5;

constexpr double kMarkOffEdgeMm = 9.0;    // from the card's edge, on the waste
constexpr double kMarkOffRulerMm = 21.0;  // from the back edge, clear of the ruler and the words
constexpr double kMarkOffCornerMm = 14.0;
constexpr double kMarkApartMm = 30.0;
constexpr double kNameReachMm = 22.0;    // of a name, from the card's edge
constexpr double kSeamOffNameMm = 10.0;  // half a mark, its letter and half a name

constexpr double kTitleMapMm = 22.0;
constexpr double kTitleMapGapMm = 4.0;
constexpr double kStripMapMm = 70.0;
constexpr double kCornerMapMm = 30.0;
constexpr double kMapToleranceMm = 0.5;  // a drawing that small needs few points
constexpr double kAxisGrey = 0.3;

enum class BlockKind { kTitle, kTable, kNotes, kLyingBars, kStandingBars, kMap, kLyingBare, kFoot };

struct PlacedBlock {
  BlockKind kind;
  PageBox box;
};

struct Sheet {
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

struct Plan {
  PageFrame frame;
  bool beside = false;  // words stand beside the card; else on a page of their own
  bool axis = false;    // the centre line was asked to show
  std::vector<Sheet> sheets;
  std::vector<PlacedBlock> words_page;  // empty where `beside`
  std::size_t pages() const { return sheets.size() + (words_page.empty() ? 0 : 1); }
};

class Planner {
 public:
  Planner(const Gauge& gauge, const TemplateWords& words, Paper paper, const PrinterScale& printer)
      : gauge_(gauge), words_(words), paper_(paper), printer_(printer) {}

  // Returns the plan with the fewest pages that lie as allowed; null where every one takes more
  // than `most` sheets or the words do not fit a page.
  std::optional<Plan> best(int most, PageWay way) const {
    std::optional<Plan> best;
    for (const bool beside : {true, false}) {
      for (const bool axis : {true, false}) {
        for (const bool landscape : {false, true}) {
          if (!allows(way, landscape)) continue;
          auto plan = made(beside, axis, landscape, most);
          if (plan && (!best || plan->pages() < best->pages())) best = std::move(plan);
        }
      }
    }
    return best;
  }

 private:
  std::optional<Plan> made(bool beside, bool axis, bool landscape, int most) const {
    Plan plan;
    plan.frame = page_frame(paper_, printer_, landscape);
    plan.beside = beside;
    plan.axis = axis;
    if (!cut(plan, most)) return std::nullopt;
    add_joins(plan);
    if (!(beside ? place_beside(plan) : place_apart(plan))) return std::nullopt;
    return plan;
  }

  double left_shown(bool axis) const { return axis ? -kLeftMm : gauge_.least_radius_mm - kLeftMm; }

  // Cuts the gauge into windows.
  bool cut(Plan& plan, int most) const {
    PageBox room = plan.frame.usable;
    if (!plan.beside) {
      room.left_mm += standing_bars_size().width_mm + kStripGapMm;
      room.bottom_mm -= lying_bars_size().height_mm + kStripGapMm;
    }
    const double right = gauge_.right_mm + kRightMm;
    const double top = gauge_.top_mm + kAboveMm;
    const double width = right - left_shown(plan.axis);
    const double height = top - gauge_.bottom_mm + kBelowMm;
    const double columns = tiles_for(width, room.width());
    const double rows = tiles_for(height, room.height());
    if (plan.beside && columns > 1.0) return false;
    if (columns * rows > 4.0 * most) return false;
    const double cell_width = room.width();  // spare room goes to the left, where the card is not
    const double left = right - (columns * cell_width - kOverlapMm * (columns - 1.0));
    const double bottom = gauge_.bottom_mm - kBelowMm;
    const auto seams = seams_between(top, bottom, static_cast<int>(rows), room.height());
    for (int row = 0; row < static_cast<int>(rows); ++row) {
      for (int column = 0; column < static_cast<int>(columns); ++column) {
        Sheet sheet;
        sheet.row = row;
        sheet.column = column;
        MapCell& cell = sheet.cell;
        cell.label = sheet_label(row, column);
        cell.left_mm = left + column * (cell_width - kOverlapMm);
        cell.right_mm = cell.left_mm + cell_width;
        const auto r = static_cast<std::size_t>(row);
        cell.top_mm = row == 0 ? top : seams[r - 1] + kOverlapMm / 2.0;
        cell.bottom_mm = r == seams.size() ? bottom : seams[r] - kOverlapMm / 2.0;
        if (!shows_card(cell)) continue;
        // The bench to the foot of the page, the back edge to its right.
        sheet.window = {room.right_mm - cell_width, room.bottom_mm - (cell.top_mm - cell.bottom_mm),
                        room.right_mm, room.bottom_mm};
        sheet.origin = {sheet.window.left_mm - cell.left_mm,
                        sheet.window.bottom_mm + cell.bottom_mm};
        plan.sheets.push_back(std::move(sheet));
      }
    }
    // A plan that was to show the centre line and has no sheet for it is the other plan.
    const bool first_column = std::any_of(plan.sheets.begin(), plan.sheets.end(),
                                          [](const Sheet& sheet) { return sheet.column == 0; });
    return first_column;
  }

  // Heights of the gauge where sheets are joined, from the top: equal shares, all moved by the
  // least that keeps them off the names on the card, if the sheets have the room.
  std::vector<double> seams_between(double top, double bottom, int rows, double room) const {
    const double share = (top - bottom + kOverlapMm * (rows - 1)) / rows;
    const auto made = [&](double shift) {
      std::vector<double> seams;
      for (int k = 1; k < rows; ++k) {
        seams.push_back(top - k * (share - kOverlapMm) - kOverlapMm / 2.0 + shift);
      }
      return seams;
    };
    const auto is_clear = [&](const std::vector<double>& seams) {
      for (const double seam : seams) {
        for (const GaugeName& name : gauge_.names) {
          if (std::abs(name.height_mm - seam) < kSeamOffNameMm) return false;
        }
      }
      return true;
    };
    const double most = std::min(room - share, share / 2.0);
    for (double shift = 0.0; shift <= most; shift += kSearchStepMm) {
      for (const double way : {shift, -shift}) {
        std::vector<double> seams = made(way);
        if (is_clear(seams)) return seams;
      }
    }
    return made(0.0);
  }

  // Whether more of the card lies in the cell than its neighbours show as well.
  bool shows_card(const MapCell& cell) const {
    const double half = kOverlapMm / 2.0;
    return least_edge_radius(gauge_, cell.bottom_mm + half, cell.top_mm - half) <
           cell.right_mm - half;
  }

  static Sheet* find(Plan& plan, int row, int column) {
    for (Sheet& sheet : plan.sheets) {
      if (sheet.row == row && sheet.column == column) return &sheet;
    }
    return nullptr;
  }

  // Puts a mark at a place of the gauge on both sheets.
  static void mark_both(Sheet& a, Sheet& b, const std::string& letter, double radius,
                        double height) {
    for (Sheet* sheet : {&a, &b}) {
      sheet->marks.push_back({letter, {sheet->origin.x_mm + radius, sheet->origin.y_mm - height}});
    }
  }

  // Where on a level seam its two marks stand: one on the waste beside the card's edge, one on the
  // card before its ruler; both on the waste where a name on the card is in the way.
  std::pair<double, double> marks_along(const MapCell& cell, double seam) const {
    const double edge = least_edge_radius(gauge_, seam - kMarkOffEdgeMm, seam + kMarkOffEdgeMm);
    const double least = cell.left_mm + kMarkArmMm + 1.0;
    const double beside = std::max(edge - kMarkOffEdgeMm, least);
    const double right =
        std::min(cell.right_mm - kMarkOffCornerMm, gauge_.right_mm - kMarkOffRulerMm);
    const bool name_there =
        std::any_of(gauge_.names.begin(), gauge_.names.end(), [&](const GaugeName& name) {
          const double start = greatest_edge_radius(gauge_, name.height_mm, name.height_mm);
          return std::abs(name.height_mm - seam) < kSeamOffNameMm && start < right + kMarkArmMm &&
                 start + kNameReachMm > right - kMarkArmMm;
        });
    if (name_there && beside - kMarkApartMm > least) return {beside - kMarkApartMm, beside};
    if (right - beside < kMarkApartMm) return {std::max(right - kMarkApartMm, least), right};
    return {beside, right};
  }

  void add_joins(Plan& plan) const {
    std::size_t letters = 0;
    for (Sheet& sheet : plan.sheets) {
      if (Sheet* below = find(plan, sheet.row + 1, sheet.column)) {
        const double seam = sheet.cell.bottom_mm + kOverlapMm / 2.0;
        const auto [left, right] = marks_along(sheet.cell, seam);
        const std::string first = letter_for(letters++);
        const std::string second = letter_for(letters++);
        mark_both(sheet, *below, first, left, seam);
        mark_both(sheet, *below, second, right, seam);
        const double y = below->origin.y_mm - seam;
        const double from =
            plan.beside ? below->origin.x_mm + left - 2.0 * kMarkArmMm : below->window.left_mm;
        below->trims.push_back(
            trim_line({std::max(from, below->window.left_mm), y}, {below->window.right_mm, y}));
        below->joins.push_back(sheet.cell.label + " (" + first + ", " + second + ")");
      }
      if (Sheet* beside = find(plan, sheet.row, sheet.column + 1)) {
        const double seam = sheet.cell.right_mm - kOverlapMm / 2.0;
        const std::string first = letter_for(letters++);
        const std::string second = letter_for(letters++);
        mark_both(sheet, *beside, first, seam, sheet.cell.top_mm - 2.0 * kMarkOffCornerMm);
        mark_both(sheet, *beside, second, seam, sheet.cell.bottom_mm + 2.0 * kMarkOffCornerMm);
        const double x = beside->origin.x_mm + seam;
        beside->trims.push_back(
            trim_line({x, beside->window.top_mm}, {x, beside->window.bottom_mm}));
        beside->joins.push_back(sheet.cell.label + " (" + first + ", " + second + ")");
      }
    }
  }

  // How far to the right words may reach between two heights of a page.
  double limit(const Plan& plan, const Sheet* sheet, double top, double bottom) const {
    double limit = plan.frame.usable.right_mm;
    if (sheet == nullptr) return limit;
    const double low = std::max(sheet->origin.y_mm - bottom - kClearMm, sheet->cell.bottom_mm);
    const double high = std::min(sheet->origin.y_mm - top + kClearMm, sheet->cell.top_mm);
    if (low < high) {
      double least = least_edge_radius(gauge_, low, high);
      for (const ProfilePoint& p : gauge_.band) {
        if (p.height_mm > low - kClearMm && p.height_mm < high + kClearMm) {
          least = std::min(least, p.radius_mm);
        }
      }
      limit = std::min(limit, sheet->origin.x_mm + least - kClearMm);
    }
    for (const RegistrationMark& mark : sheet->marks) {
      if (mark.at.y_mm > top - 2.0 * kClearMm && mark.at.y_mm < bottom + 2.0 * kClearMm) {
        limit = std::min(limit, mark.at.x_mm - 2.0 * kMarkArmMm - 1.0);
      }
    }
    return limit;
  }

  // A row of a page: blocks side by side, each with a place relative to the row's corner.
  struct Row {
    BlockSize size;
    std::vector<PlacedBlock> blocks;
  };

  static Row row_of(BlockKind kind, BlockSize size) {
    return {size, {{kind, {0.0, 0.0, size.width_mm, size.height_mm}}}};
  }

  static void add_to(Row& row, BlockKind kind, BlockSize size, double x, double y) {
    row.blocks.push_back({kind, {x, y, x + size.width_mm, y + size.height_mm}});
    row.size.width_mm = std::max(row.size.width_mm, x + size.width_mm);
    row.size.height_mm = std::max(row.size.height_mm, y + size.height_mm);
  }

  // Puts the rows below each other at the left, each as high as it fits.
  std::optional<std::vector<PlacedBlock>> stacked(const Plan& plan, const Sheet* sheet,
                                                  const std::vector<Row>& rows) const {
    std::vector<PlacedBlock> placed;
    double y = plan.frame.usable.top_mm;
    for (const Row& row : rows) {
      while (y + row.size.height_mm <= plan.frame.usable.bottom_mm &&
             plan.frame.usable.left_mm + row.size.width_mm >
                 limit(plan, sheet, y, y + row.size.height_mm)) {
        y += kSearchStepMm;
      }
      if (y + row.size.height_mm > plan.frame.usable.bottom_mm) return std::nullopt;
      for (PlacedBlock block : row.blocks) {
        block.box.left_mm += plan.frame.usable.left_mm;
        block.box.right_mm += plan.frame.usable.left_mm;
        block.box.top_mm += y;
        block.box.bottom_mm += y;
        placed.push_back(block);
      }
      y += row.size.height_mm + kBlockGapMm;
    }
    return placed;
  }

  // Tries every order of all rows but the first.
  std::optional<std::vector<PlacedBlock>> stacked_any(const Plan& plan, const Sheet* sheet,
                                                      const std::vector<Row>& rows) const {
    std::vector<std::size_t> order(rows.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    do {
      std::vector<Row> ordered;
      for (const std::size_t i : order) ordered.push_back(rows[i]);
      if (auto placed = stacked(plan, sheet, ordered)) return placed;
    } while (std::next_permutation(order.begin() + 1, order.end()));
    return std::nullopt;
  }

  // The words in the arrangements worth trying, best looking first.
  std::vector<std::vector<Row>> arrangements(const Row& title, bool split) const {
    const BlockSize bars = standing_bars_size();
    const BlockSize table = table_size(words_);
    const BlockSize notes = notes_size(words_, split);
    const double x = bars.width_mm + kBlockGapMm;
    const double table_gap = table.height_mm > 0.0 ? kBlockGapMm : 0.0;
    const Row lying = row_of(BlockKind::kLyingBars, lying_bars_with_words_size());

    Row all = row_of(BlockKind::kStandingBars, bars);
    add_to(all, BlockKind::kTable, table, x, 0.0);
    add_to(all, BlockKind::kNotes, notes, x, table.height_mm + table_gap);

    Row bars_and_notes = row_of(BlockKind::kStandingBars, bars);
    add_to(bars_and_notes, BlockKind::kNotes, notes, x, 0.0);

    Row bars_and_table = row_of(BlockKind::kStandingBars, bars);
    add_to(bars_and_table, BlockKind::kTable, table, x, 0.0);

    const Row only_table = row_of(BlockKind::kTable, table);
    const Row only_notes = row_of(BlockKind::kNotes, notes);
    const Row only_bars = row_of(BlockKind::kStandingBars, bars);
    return {{title, all, lying},
            {title, only_table, bars_and_notes, lying},
            {title, bars_and_table, only_notes, lying},
            {title, only_table, only_notes, lying, only_bars}};
  }

  bool place_beside(Plan& plan) const {
    const bool split = plan.sheets.size() > 1;
    Row title = row_of(BlockKind::kTitle, title_size(words_, split));
    if (split) {
      add_to(title, BlockKind::kMap, {kTitleMapMm, title_size(words_, split).height_mm},
             title_size(words_, split).width_mm + kTitleMapGapMm, 0.0);
    }
    bool first = true;
    for (Sheet& sheet : plan.sheets) {
      std::optional<std::vector<PlacedBlock>> placed;
      if (first) {
        for (const std::vector<Row>& rows : arrangements(title, split)) {
          placed = stacked_any(plan, &sheet, rows);
          if (placed) break;
        }
      } else {
        placed = stacked_any(plan, &sheet,
                             {title, row_of(BlockKind::kStandingBars, standing_bars_size()),
                              row_of(BlockKind::kLyingBars, lying_bars_with_words_size())});
      }
      if (!placed) return false;
      sheet.blocks = std::move(*placed);
      first = false;
    }
    return true;
  }

  // How large a map of all sheets comes out in a box.
  static double map_scale(const Plan& plan, const PageBox& box) {
    MapCell all = plan.sheets.front().cell;
    for (const Sheet& sheet : plan.sheets) {
      all.left_mm = std::min(all.left_mm, sheet.cell.left_mm);
      all.right_mm = std::max(all.right_mm, sheet.cell.right_mm);
      all.bottom_mm = std::min(all.bottom_mm, sheet.cell.bottom_mm);
      all.top_mm = std::max(all.top_mm, sheet.cell.top_mm);
    }
    return std::min(box.width() / (all.right_mm - all.left_mm),
                    box.height() / (all.top_mm - all.bottom_mm));
  }

  bool place_apart(Plan& plan) const {
    const PageBox& usable = plan.frame.usable;
    const bool split = plan.sheets.size() > 1;
    for (Sheet& sheet : plan.sheets) {
      const double y = usable.bottom_mm - lying_bars_size().height_mm;
      const double x = usable.left_mm + lying_bars_size().width_mm;
      sheet.blocks.push_back({BlockKind::kLyingBare, {usable.left_mm, y, x, usable.bottom_mm}});
      sheet.blocks.push_back({BlockKind::kStandingBars,
                              {usable.left_mm, y - kStripGapMm - standing_bars_size().height_mm,
                               usable.left_mm + standing_bars_size().width_mm, y - kStripGapMm}});
      double right = usable.right_mm;
      if (split) {
        // The map goes where it comes out larger: above the standing bars or in the foot's corner.
        const double strip_foot = y - kStripGapMm - standing_bars_size().height_mm - kBlockGapMm;
        const PageBox strip{usable.left_mm, usable.top_mm,
                            usable.left_mm + standing_bars_size().width_mm,
                            std::min(strip_foot, usable.top_mm + kStripMapMm)};
        const PageBox corner{right - kCornerMapMm, y, right, usable.bottom_mm};
        const bool in_corner = map_scale(plan, corner) > map_scale(plan, strip);
        sheet.blocks.push_back({BlockKind::kMap, in_corner ? corner : strip});
        if (in_corner) right = corner.left_mm - kTitleMapGapMm;
      }
      sheet.blocks.push_back({BlockKind::kFoot, {x + kBlockGapMm, y, right, usable.bottom_mm}});
    }
    const Row title = row_of(BlockKind::kTitle, title_size(words_, false));
    std::optional<std::vector<PlacedBlock>> placed;
    for (const std::vector<Row>& rows : arrangements(title, split)) {
      placed = stacked_any(plan, nullptr, rows);
      if (placed) break;
    }
    if (!placed) return false;
    plan.words_page = std::move(*placed);
    constexpr double kMapHeightMm = 100.0;
    const double left =
        usable.left_mm + standing_bars_size().width_mm + kWordsWidthMm + 3.0 * kBlockGapMm;
    plan.words_page.push_back(
        {BlockKind::kMap, {left, usable.top_mm, usable.right_mm, usable.top_mm + kMapHeightMm}});
    return true;
  }

  const Gauge& gauge_;
  const TemplateWords& words_;
  Paper paper_;
  PrinterScale printer_;
};

class Composer {
 public:
  Composer(const Gauge& gauge, const TemplateWords& words, const TemplateRequest& request,
           const Plan& plan, const PageCount& count)
      : gauge_(gauge), words_(words), request_(request), plan_(plan), count_(count) {
    for (const Sheet& sheet : plan.sheets) cells_.push_back(sheet.cell);
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
    for (const Sheet& sheet : plan_.sheets) {
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
  void draw_axis(std::vector<Drawn>& items, const Sheet& sheet) const {
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

  static void draw_marks(TemplatePage& page, const Sheet& sheet) {
    DrawnGroup group;
    for (const Stroke& trim : sheet.trims) group.items.push_back(trim);
    for (Drawn& item : drawn_marks(sheet.marks)) group.items.push_back(std::move(item));
    page.drawing.groups.push_back(std::move(group));
  }

  const Gauge& gauge_;
  const TemplateWords& words_;
  const TemplateRequest& request_;
  const Plan& plan_;
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
  const std::optional<Plan> plan = Planner(*gauge, words, request.paper, request.printer)
                                       .best(request.most_pages, request.page_way);
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
