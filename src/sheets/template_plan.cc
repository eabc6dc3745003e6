// SPDX-License-Identifier: MIT
#include "sheets/template_plan.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sheets/page_blocks.h"

namespace potshadow {
namespace {

// Around the gauge: below the bench, above the card, right of it, left of the profile or the axis.
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

class Planner {
 public:
  explicit Planner(const PlanRequest& request)
      : gauge_(request.gauge),
        words_(request.words),
        paper_(request.paper),
        printer_(request.printer) {}

  std::optional<TemplatePlan> best(int most, PageWay way) const {
    std::optional<TemplatePlan> best;
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
  std::optional<TemplatePlan> made(bool beside, bool axis, bool landscape, int most) const {
    TemplatePlan plan;
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
  bool cut(TemplatePlan& plan, int most) const {
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
        PlannedSheet sheet;
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
    const bool first_column =
        std::any_of(plan.sheets.begin(), plan.sheets.end(),
                    [](const PlannedSheet& sheet) { return sheet.column == 0; });
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

  static PlannedSheet* find(TemplatePlan& plan, int row, int column) {
    for (PlannedSheet& sheet : plan.sheets) {
      if (sheet.row == row && sheet.column == column) return &sheet;
    }
    return nullptr;
  }

  // Puts a mark at a place of the gauge on both sheets.
  static void mark_both(PlannedSheet& a, PlannedSheet& b, const std::string& letter, double radius,
                        double height) {
    for (PlannedSheet* sheet : {&a, &b}) {
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

  // "A1 (a, b)": the sheet that another is laid on, and their marks.
  static std::string join_words(const PlannedSheet& sheet, const std::string& first,
                                const std::string& last) {
    std::string words = sheet.cell.label;
    return words.append(" (").append(first).append(", ").append(last).append(")");
  }

  void add_joins(TemplatePlan& plan) const {
    std::size_t letters = 0;
    for (PlannedSheet& sheet : plan.sheets) {
      if (PlannedSheet* below = find(plan, sheet.row + 1, sheet.column)) {
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
        below->joins.push_back(join_words(sheet, first, second));
      }
      if (PlannedSheet* beside = find(plan, sheet.row, sheet.column + 1)) {
        const double seam = sheet.cell.right_mm - kOverlapMm / 2.0;
        const std::string first = letter_for(letters++);
        const std::string second = letter_for(letters++);
        mark_both(sheet, *beside, first, seam, sheet.cell.top_mm - 2.0 * kMarkOffCornerMm);
        mark_both(sheet, *beside, second, seam, sheet.cell.bottom_mm + 2.0 * kMarkOffCornerMm);
        const double x = beside->origin.x_mm + seam;
        beside->trims.push_back(
            trim_line({x, beside->window.top_mm}, {x, beside->window.bottom_mm}));
        beside->joins.push_back(join_words(sheet, first, second));
      }
    }
  }

  // How far to the right words may reach between two heights of a page.
  double limit(const TemplatePlan& plan, const PlannedSheet* sheet, double top,
               double bottom) const {
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
  std::optional<std::vector<PlacedBlock>> stacked(const TemplatePlan& plan,
                                                  const PlannedSheet* sheet,
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
  std::optional<std::vector<PlacedBlock>> stacked_any(const TemplatePlan& plan,
                                                      const PlannedSheet* sheet,
                                                      const std::vector<Row>& rows) const {
    std::vector<std::size_t> order(rows.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    do {
      std::vector<Row> ordered;
      ordered.reserve(order.size());
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

  bool place_beside(TemplatePlan& plan) const {
    const bool split = plan.sheets.size() > 1;
    Row title = row_of(BlockKind::kTitle, title_size(words_, split));
    if (split) {
      add_to(title, BlockKind::kMap, {kTitleMapMm, title_size(words_, split).height_mm},
             title_size(words_, split).width_mm + kTitleMapGapMm, 0.0);
    }
    bool first = true;
    for (PlannedSheet& sheet : plan.sheets) {
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
  static double map_scale(const TemplatePlan& plan, const PageBox& box) {
    MapCell all = plan.sheets.front().cell;
    for (const PlannedSheet& sheet : plan.sheets) {
      all.left_mm = std::min(all.left_mm, sheet.cell.left_mm);
      all.right_mm = std::max(all.right_mm, sheet.cell.right_mm);
      all.bottom_mm = std::min(all.bottom_mm, sheet.cell.bottom_mm);
      all.top_mm = std::max(all.top_mm, sheet.cell.top_mm);
    }
    return std::min(box.width() / (all.right_mm - all.left_mm),
                    box.height() / (all.top_mm - all.bottom_mm));
  }

  bool place_apart(TemplatePlan& plan) const {
    const PageBox& usable = plan.frame.usable;
    const bool split = plan.sheets.size() > 1;
    for (PlannedSheet& sheet : plan.sheets) {
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

}  // namespace

std::optional<TemplatePlan> best_plan(const PlanRequest& request, int most, PageWay way) {
  return Planner(request).best(most, way);
}

}  // namespace potshadow
