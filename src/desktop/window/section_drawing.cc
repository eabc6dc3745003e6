// SPDX-License-Identifier: MIT
#include "desktop/window/section_drawing.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "desktop/window/section_shape.h"
#include "desktop/words/figures_words.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

constexpr double kStaleOpacity = 0.4;
constexpr double kReach = 5.0;  // how near to a line the pointer must be, at 100 %

// Room around the vessel, at 100 %.
constexpr double kSide = 4.0;
constexpr double kRight = 22.0;  // the height's line
constexpr double kAbove = 14.0;
constexpr double kBelow = 36.0;  // the scale bar

ImVec2 vec(double x, double y) { return ImVec2(static_cast<float>(x), static_cast<float>(y)); }

// The rows in lengths of the profile: without a scale they are in percent of its height.
std::vector<ProfileRow> rows_like_profile(const Answer& answer) {
  std::vector<ProfileRow> rows = answer.rows;
  if (answer.scale != ScaleSource::kNone) return rows;
  const double part = sizes_of(answer.profile).height_mm / 100.0;
  for (ProfileRow& row : rows) {
    row = {part * row.height_mm, part * row.radius_mm, part * row.sd_mm};
  }
  return rows;
}

// A size's line on the drawing.
struct SizeLine {
  SizeName name = SizeName::kHeight;
  ImVec2 from;
  ImVec2 to;
};

double distance_to(const SizeLine& line, ImVec2 p) {
  const double dx = line.to.x - line.from.x;
  const double dy = line.to.y - line.from.y;
  const double square = dx * dx + dy * dy;
  double t = square > 0.0 ? ((p.x - line.from.x) * dx + (p.y - line.from.y) * dy) / square : 0.0;
  t = std::clamp(t, 0.0, 1.0);
  return std::hypot(line.from.x + t * dx - p.x, line.from.y + t * dy - p.y);
}

std::vector<SizeLine> lines_of(const Frame& frame, const Answer& answer, const Sizes& sizes,
                               const SectionShape& shape, const Upright& place) {
  std::vector<SizeLine> lines;
  const auto across = [&](SizeName name, double radius_mm, double height_mm) {
    if (find_size(answer, name) == nullptr) return;
    lines.push_back(
        {name, place.at(radius_mm, height_mm, -1.0), place.at(radius_mm, height_mm, 1.0)});
  };
  const auto up = [&](SizeName name, float x, double to_mm) {
    if (find_size(answer, name) == nullptr) return;
    lines.push_back(
        {name, ImVec2(x, place.at(0.0, 0.0, 1.0).y), ImVec2(x, place.at(0.0, to_mm, 1.0).y)});
  };
  across(SizeName::kRimDiameter, shape.outer.back().radius_mm, shape.outer.back().height_mm);
  if (sizes.neck) across(SizeName::kNeckDiameter, sizes.neck->radius_mm, sizes.neck->height_mm);
  across(SizeName::kMaxDiameter, sizes.widest.radius_mm, sizes.widest.height_mm);
  across(SizeName::kBaseDiameter, shape.base_radius_mm, 0.0);
  const float right = place.at(shape.widest_mm, 0.0, 1.0).x;
  up(SizeName::kHeight, right + frame.look.px(14), shape.top_mm);
  // The heights of places on the wall stand inside the right half, apart from each other.
  up(SizeName::kHeightOfMax, place.at(0.42 * shape.widest_mm, 0.0, 1.0).x, sizes.height_of_max_mm);
  if (sizes.height_of_neck_mm) {
    up(SizeName::kHeightOfNeck, place.at(0.24 * shape.widest_mm, 0.0, 1.0).x,
       *sizes.height_of_neck_mm);
  }
  return lines;
}

// A line with an end bar on both sides.
void draw_size_line(const Frame& frame, ImDrawList& list, const SizeLine& line, ImU32 colour,
                    float thickness) {
  const float bar = frame.look.px(4);
  const bool upright = line.from.x == line.to.x;
  list.AddLine(line.from, line.to, colour, thickness);
  for (const ImVec2& end : {line.from, line.to}) {
    if (upright) {
      list.AddLine(ImVec2(end.x - bar, end.y), ImVec2(end.x + bar, end.y), colour, thickness);
    } else {
      list.AddLine(ImVec2(end.x, end.y - bar), ImVec2(end.x, end.y + bar), colour, thickness);
    }
  }
}

double bottom_to_top(const SectionShape& shape) { return std::max(1.0, shape.top_mm); }

}  // namespace

void draw_scale_bar(const Frame& frame, ImDrawList& list, LengthUnit unit, double scale, ImVec2 at,
                    double width, double opacity) {
  const double most = width / 3.0 / (scale / in_unit(Mm{1.0}, unit));
  if (!(most > 0.0) || !std::isfinite(most)) return;
  const double power = std::pow(10.0, std::floor(std::log10(most)));
  double length = power;
  for (const double step : {2.0, 5.0}) {
    if (step * power <= most) length = step * power;
  }
  const double pixels = length * scale / in_unit(Mm{1.0}, unit);
  const ImU32 colour = paint(frame.look.colours.drawing, opacity);
  const float height = frame.look.px(4);
  const float thin = frame.look.px(1);
  // Two halves, one full and one empty, as on a map.
  const ImVec2 middle = vec(at.x + 0.5 * pixels, at.y);
  const ImVec2 end = vec(at.x + pixels, at.y + static_cast<double>(height));
  list.AddRectFilled(at, ImVec2(middle.x, end.y), colour);
  list.AddRect(at, end, colour, 0.0F, 0, thin);
  const int decimals = length < 1.0 ? static_cast<int>(std::ceil(-std::log10(length))) : 0;
  const std::string text = fixed_text(length, decimals) + " " + std::string(unit_name(unit));
  ImFont* const font = frame.look.fonts.note;
  list.AddText(font, font->FontSize,
               ImVec2(end.x + frame.look.px(8), at.y + 0.5F * height - 0.5F * font->FontSize),
               paint(frame.look.colours.quiet, opacity), text.c_str());
}

double section_height(const Frame& frame, const Measurement& measurement, double width,
                      double most) {
  const SectionShape shape = section_shape(measurement.answer.profile, 0.0);
  const auto px = [&](double v) { return static_cast<double>(frame.look.px(v)); };
  const double room = width - px(kSide) - px(kRight);
  if (!(shape.widest_mm > 0.0)) return most;
  const double needed = room / (2.0 * shape.widest_mm) * bottom_to_top(shape);
  return std::min(most, needed + px(kAbove) + px(kBelow));
}

std::optional<SizeName> section_drawing(Frame& frame, const Measurement& measurement, bool current,
                                        ScreenBox box) {
  const Answer& answer = measurement.answer;
  const std::vector<ProfileRow> rows = rows_like_profile(answer);
  // Without a scale nothing tells how thick the wall is in proportion.
  const bool scaled = answer.scale != ScaleSource::kNone;
  const SectionShape shape =
      section_shape(answer.profile, scaled ? measurement.project.wall.value_mm : 0.0);
  const auto px = [&](double v) { return static_cast<double>(frame.look.px(v)); };
  const double room_x = box.width - px(kSide) - px(kRight);
  const double room_y = box.height - px(kAbove) - px(kBelow);
  if (!(room_x > 0.0 && room_y > 0.0 && shape.widest_mm > 0.0)) return std::nullopt;
  const double scale = std::min(room_x / (2.0 * shape.widest_mm), room_y / bottom_to_top(shape));
  const Upright place{{box.left + px(kSide) + 0.5 * room_x,
                       box.top + px(kAbove) + 0.5 * (room_y + scale * bottom_to_top(shape))},
                      scale};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ThemeColours& colours = frame.look.colours;
  const double opacity = current ? 1.0 : kStaleOpacity;
  const std::optional<SizeName> lit = frame.state.canvas.lit_size;

  if (lit == SizeName::kCapacity) fill_inside(list, shape, place, paint(colours.accent, 0.3));
  draw_interval(list, rows, place, paint(colours.band, opacity), box);
  draw_section(frame.look, list, shape, place, opacity, rows);
  if (scaled) {
    draw_scale_bar(frame, list, frame.settings.unit, scale,
                   vec(box.left + px(kSide), box.top + box.height - px(12)), room_x, opacity);
  }

  const Sizes sizes = sizes_of(answer.profile);
  const std::vector<SizeLine> lines = lines_of(frame, answer, sizes, shape, place);
  const ImVec2 pointer = ImGui::GetIO().MousePos;
  const SizeLine* nearest = nullptr;
  double least = px(kReach);
  for (const SizeLine& line : lines) {
    const bool shown = line.name == SizeName::kHeight || line.name == SizeName::kMaxDiameter ||
                       line.name == SizeName::kNeckDiameter;
    if (shown && lit != line.name) {
      draw_size_line(frame, list, line, paint(colours.quiet, 0.55 * opacity), frame.look.px(1));
    }
    const double distance = distance_to(line, pointer);
    if (distance < least) {
      least = distance;
      nearest = &line;
    }
  }
  for (const SizeLine& line : lines) {
    if (lit == line.name) {
      draw_size_line(frame, list, line, paint(colours.accent), frame.look.px(2.5));
    }
  }
  const bool here = ImGui::IsWindowHovered() && box.holds({pointer.x, pointer.y});
  if (nearest == nullptr || !here) return std::nullopt;
  return nearest->name;
}

}  // namespace potshadow
