// SPDX-License-Identifier: MIT
#include "desktop/window/compare_drawing.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "core/text.h"
#include "desktop/window/kit.h"
#include "desktop/window/mark_glyph.h"
#include "desktop/window/section_drawing.h"
#include "desktop/window/section_shape.h"
#include "desktop/words/compare_words.h"

namespace potshadow {
namespace {

// At 100 %.
constexpr double kHead = 24.0;  // words above each
constexpr double kFoot = 34.0;  // scale bar and figures below
constexpr double kGap = 32.0;   // between the three
constexpr double kChartPart = 0.26;
constexpr double kThin = 1.4;
constexpr double kHeavy = 3.0;
constexpr double kDash = 5.0;
constexpr double kReach = 12.0;  // of the pointer, up and down

struct Extent {
  double widest = 1.0;  // radius
  double top = 1.0;
};

void take(const std::vector<ProfilePoint>& rows, Extent& extent) {
  for (const ProfilePoint& p : rows) {
    extent.widest = std::max(extent.widest, p.radius_mm);
    extent.top = std::max(extent.top, p.height_mm);
  }
}

std::vector<ProfilePoint> matched_rows(const ShapeDifference& shape) {
  std::vector<ProfilePoint> rows;
  for (const GapRow& row : shape.scaled) rows.push_back(row.at);
  return rows;
}

Extent extent_of(const VesselComparison& c) {
  Extent extent;
  take(c.original_rows, extent);
  take(c.replica_rows, extent);
  take(matched_rows(*c.shape), extent);
  return extent;
}

// The outline on both sides of the axis, closed by the rim's line and the bench's.
void outline(const Look& look, ImDrawList& list, const std::vector<ProfilePoint>& rows,
             const Upright& place, ImU32 colour, double dash) {
  std::vector<ImVec2> path;
  for (auto row = rows.rbegin(); row != rows.rend(); ++row) path.push_back(place.at(*row, -1.0));
  for (const ProfilePoint& row : rows) path.push_back(place.at(row, 1.0));
  path.push_back(path.front());
  haloed_path(list, path.data(), static_cast<int>(path.size()), colour, look.px(kThin),
              look.px(dash), false);
}

void centre_line(const Look& look, ImDrawList& list, const Upright& place, double top_mm) {
  const ImVec2 path[] = {place.at(0.0, 0.0, 1.0), place.at(0.0, top_mm, 1.0)};
  haloed_path(list, path, 2, paint(look.colours.line, 0.6), look.px(1), look.px(8), false);
}

void head(const Frame& frame, ImDrawList& list, const std::string& words, double left, double top) {
  ImFont* const font = frame.look.fonts.note;
  list.AddText(font, font->FontSize, ImVec2(static_cast<float>(left), static_cast<float>(top)),
               paint(frame.look.colours.quiet), words.c_str());
}

// Where the profiles differ beyond doubt, on both sides of the matched drawing.
void heavy_stretches(const Look& look, ImDrawList& list, const std::vector<GapRow>& rows,
                     const Upright& place) {
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    if (!rows[i].differs && !rows[i + 1].differs) continue;
    for (const double side : {-1.0, 1.0}) {
      list.AddLine(place.at(rows[i].at, side), place.at(rows[i + 1].at, side),
                   paint(look.colours.doubt), look.px(kHeavy));
    }
  }
}

// A round number beyond which no band reaches, in the unit shown.
double most_shown(const std::vector<GapRow>& rows, LengthUnit unit) {
  double most = 0.0;
  for (const GapRow& row : rows) {
    const double half = std::max(row.together_mm, (row.gap_mm.high95 - row.gap_mm.low95) / 2.0);
    most = std::max(most, std::abs(row.gap_mm.value) + half);
  }
  most = std::max(in_unit(Mm{most}, unit), in_unit(Mm{0.5}, unit));
  const double power = std::pow(10.0, std::floor(std::log10(most)));
  for (const double round : {1.0, 2.0, 5.0}) {
    if (round * power >= most) return round * power;
  }
  return 10.0 * power;
}

// The chart of gaps: heights as in the drawing beside it, gaps to both sides of the middle.
struct Chart {
  ScreenBox box;
  double foot = 0.0;   // where height 0 is
  double scale = 1.0;  // window pixels a millimetre of height
  double most = 1.0;   // of a gap, in the unit
  LengthUnit unit = LengthUnit::kMm;

  float x(double gap_mm) const {
    return static_cast<float>(box.left + 0.5 * box.width +
                              in_unit(Mm{gap_mm}, unit) / most * 0.5 * box.width);
  }
  float y(double height_mm) const { return static_cast<float>(foot - scale * height_mm); }
};

void draw_chart(const Frame& frame, ImDrawList& list, const std::vector<GapRow>& rows,
                const Chart& chart) {
  const Look& look = frame.look;
  const float top = static_cast<float>(chart.box.top);
  const float foot = static_cast<float>(chart.foot);
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    const GapRow& a = rows[i];
    const GapRow& b = rows[i + 1];
    list.AddQuadFilled(ImVec2(chart.x(a.gap_mm.low95), chart.y(a.at.height_mm)),
                       ImVec2(chart.x(a.gap_mm.high95), chart.y(a.at.height_mm)),
                       ImVec2(chart.x(b.gap_mm.high95), chart.y(b.at.height_mm)),
                       ImVec2(chart.x(b.gap_mm.low95), chart.y(b.at.height_mm)),
                       paint(look.colours.band));
  }
  list.AddLine(ImVec2(chart.x(0.0), top), ImVec2(chart.x(0.0), foot), paint(look.colours.line),
               look.px(1));
  list.AddLine(ImVec2(static_cast<float>(chart.box.left), foot),
               ImVec2(static_cast<float>(chart.box.left + chart.box.width), foot),
               paint(look.colours.line), look.px(1));
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    const GapRow& a = rows[i];
    const GapRow& b = rows[i + 1];
    const auto line = [&](double from, double to, ImU32 colour, double width) {
      list.AddLine(ImVec2(chart.x(from), chart.y(a.at.height_mm)),
                   ImVec2(chart.x(to), chart.y(b.at.height_mm)), colour, look.px(width));
    };
    for (const double side : {-1.0, 1.0}) {
      line(side * a.together_mm, side * b.together_mm, paint(look.colours.quiet, 0.6), 1.0);
    }
    const bool differs = a.differs || b.differs;
    line(a.gap_mm.value, b.gap_mm.value, paint(differs ? look.colours.doubt : look.colours.drawing),
         differs ? kHeavy : kThin);
  }
  ImFont* const font = look.fonts.note;
  for (const double part : {-1.0, 0.0, 1.0}) {
    const double value = part * chart.most;
    const int decimals = chart.most < 1.0 ? 2 : chart.most < 5.0 ? 1 : 0;
    const std::string words =
        (value > 0.0 ? "+" : "") + fixed_text(value, part == 0.0 ? 0 : decimals);
    const float x = static_cast<float>(chart.box.left + (0.5 + 0.5 * part) * chart.box.width);
    list.AddLine(ImVec2(x, foot), ImVec2(x, foot + look.px(5)), paint(look.colours.line),
                 look.px(1));
    const float width = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, words.c_str()).x;
    const float left = part > 0.0 ? x - width : part < 0.0 ? x : x - 0.5F * width;
    list.AddText(font, font->FontSize, ImVec2(left, foot + look.px(7)), paint(look.colours.quiet),
                 words.c_str());
  }
}

// The row at whose height the pointer is, or null.
const GapRow* pointed_row(const Frame& frame, const std::vector<GapRow>& rows, const Chart& chart) {
  const ImVec2 pointer = ImGui::GetIO().MousePos;
  const GapRow* nearest = nullptr;
  float least = frame.look.px(kReach);
  for (const GapRow& row : rows) {
    const float away = std::abs(pointer.y - chart.y(row.at.height_mm));
    if (away > least) continue;
    least = away;
    nearest = &row;
  }
  return nearest;
}

}  // namespace

double compare_drawing_height(const Frame& frame, const VesselComparison& comparison, double width,
                              double most) {
  const Extent extent = extent_of(comparison);
  const auto px = [&](double v) { return static_cast<double>(frame.look.px(v)); };
  const double each = ((1.0 - kChartPart) * width - 2.0 * px(kGap)) / 2.0;
  return std::min(most, each / (2.0 * extent.widest) * extent.top + px(kHead) + px(kFoot));
}

void compare_drawing(Frame& frame, const VesselComparison& comparison, ScreenBox box) {
  const ShapeDifference& shape = *comparison.shape;
  const Look& look = frame.look;
  const auto px = [&](double v) { return static_cast<double>(look.px(v)); };
  const Extent extent = extent_of(comparison);
  const double chart_width = kChartPart * box.width;
  const double each = (box.width - chart_width - 2.0 * px(kGap)) / 2.0;
  const double room_y = box.height - px(kHead) - px(kFoot);
  if (!(each > 0.0 && room_y > 0.0)) return;
  const double scale = std::min(each / (2.0 * extent.widest), room_y / extent.top);
  const double foot = box.top + px(kHead) + room_y;
  const auto place_at = [&](double left) { return Upright{{left + 0.5 * each, foot}, scale}; };
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ThemeColours& colours = look.colours;
  const std::vector<ProfilePoint> matched = matched_rows(shape);

  const Upright made = place_at(box.left);
  head(frame, list, "As made", box.left, box.top);
  centre_line(look, list, made, extent.top);
  outline(look, list, comparison.original_rows, made, paint(colours.drawing), 0.0);
  outline(look, list, comparison.replica_rows, made, paint(colours.accent), kDash);
  draw_scale_bar(frame, list, frame.settings.unit, scale,
                 ImVec2(static_cast<float>(box.left), static_cast<float>(foot + px(14))), each,
                 1.0);

  const double second = box.left + each + px(kGap);
  const Upright brought = place_at(second);
  constexpr int kDecimals = 3;
  head(frame, list, "The original times " + fixed_text(shape.scale.value, kDecimals), second,
       box.top);
  centre_line(look, list, brought, extent.top);
  heavy_stretches(look, list, shape.scaled, brought);
  outline(look, list, matched, brought, paint(colours.drawing), 0.0);
  outline(look, list, comparison.replica_rows, brought, paint(colours.accent), kDash);

  Chart chart;
  chart.box = {second + each + px(kGap), box.top + px(kHead), chart_width, room_y};
  chart.foot = foot;
  chart.scale = scale;
  chart.unit = frame.settings.unit;
  chart.most = most_shown(shape.scaled, chart.unit);
  head(frame, list, "Gap in " + std::string(unit_name(chart.unit)) + ": right, farther out",
       chart.box.left, box.top);
  draw_chart(frame, list, shape.scaled, chart);

  ImGui::SetCursorScreenPos(
      ImVec2(static_cast<float>(chart.box.left), static_cast<float>(chart.box.top)));
  ImGui::Dummy(ImVec2(static_cast<float>(chart.box.width), static_cast<float>(room_y)));
  kit::describe_last(frame, "Chart of gaps");
  if (!ImGui::IsItemHovered()) return;
  const GapRow* const row = pointed_row(frame, shape.scaled, chart);
  if (row == nullptr) return;
  const float y = chart.y(row->at.height_mm);
  list.AddLine(ImVec2(static_cast<float>(chart.box.left), y),
               ImVec2(static_cast<float>(chart.box.left + chart.box.width), y),
               paint(colours.accent), look.px(1));
  for (const double side : {-1.0, 1.0}) {
    list.AddCircleFilled(brought.at(row->at, side), look.px(4), paint(colours.accent));
  }
  kit::tip(frame, gap_words(*row, chart.unit));
}

namespace {

Extent extent_of(const ComparedWork& work) {
  Extent extent;
  take(work.comparison->original_rows, extent);
  take(work.comparison->replica_rows, extent);
  return extent;
}

double each_width(const Frame& frame, double width) {
  return (width - static_cast<double>(frame.look.px(kGap))) / 2.0;
}

}  // namespace

double compared_sections_height(const Frame& frame, const ComparedWork& work, double width,
                                double most) {
  const Extent extent = extent_of(work);
  const auto px = [&](double v) { return static_cast<double>(frame.look.px(v)); };
  return std::min(
      most, each_width(frame, width) / (2.0 * extent.widest) * extent.top + px(kHead) + px(kFoot));
}

void compared_sections(Frame& frame, const ComparedWork& work, ScreenBox box) {
  constexpr double kLineMm = 0.8;  // for a wall that is not known
  const VesselComparison& comparison = *work.comparison;
  const Look& look = frame.look;
  const auto px = [&](double v) { return static_cast<double>(look.px(v)); };
  const Extent extent = extent_of(work);
  const double each = each_width(frame, box.width);
  const double room_y = box.height - px(kHead) - px(kFoot);
  if (!(each > 0.0 && room_y > 0.0)) return;
  const double scale = std::min(each / (2.0 * extent.widest), room_y / extent.top);
  const double foot = box.top + px(kHead) + room_y;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  double left = box.left;
  const auto show = [&](const std::string& title, const Profile& profile,
                        std::optional<double> wall_mm) {
    head(frame, list, title + (wall_mm ? "" : ", wall not known"), left, box.top);
    draw_section(look, list, section_shape(profile, wall_mm.value_or(kLineMm)),
                 Upright{{left + 0.5 * each, foot}, scale}, 1.0);
    left += each + px(kGap);
  };
  show(comparison.original, *work.original_profile, comparison.original_wall_mm);
  show(comparison.replica, *work.replica_profile, comparison.replica_wall_mm);
  draw_scale_bar(frame, list, frame.settings.unit, scale,
                 ImVec2(static_cast<float>(box.left), static_cast<float>(foot + px(14))), each,
                 1.0);
}

}  // namespace potshadow
