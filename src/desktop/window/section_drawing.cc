// SPDX-License-Identifier: MIT
#include "desktop/window/section_drawing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <string>

#include "desktop/words/figures_words.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

constexpr std::size_t kSamples = 121;  // a bend of the wall then shows no corners at 600 px
constexpr double kStaleOpacity = 0.4;
constexpr double kReach = 5.0;  // how near to a line the pointer must be, at 100 %

// Room around the vessel, at 100 %.
constexpr double kSide = 4.0;
constexpr double kRight = 22.0;  // the height's line
constexpr double kAbove = 14.0;
constexpr double kBelow = 36.0;  // the scale bar

ImVec2 vec(double x, double y) { return ImVec2(static_cast<float>(x), static_cast<float>(y)); }

// From the vessel's half-plane to the window; side -1 is the left half.
struct Upright {
  ScreenPoint foot;
  double scale = 1.0;
  ImVec2 at(double radius_mm, double height_mm, double side) const {
    return vec(foot.x + side * scale * radius_mm, foot.y - scale * height_mm);
  }
  ImVec2 at(const ProfilePoint& p, double side) const { return at(p.radius_mm, p.height_mm, side); }
};

// Filling without soft edges, so that neighbouring pieces of one colour show no seam.
class HardEdges {
 public:
  explicit HardEdges(ImDrawList& list) : list_(list), before_(list.Flags) {
    list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
  }
  ~HardEdges() { list_.Flags = before_; }
  HardEdges(const HardEdges&) = delete;
  HardEdges& operator=(const HardEdges&) = delete;

 private:
  ImDrawList& list_;
  ImDrawListFlags before_;
};

void draw_curve(ImDrawList& list, const std::vector<ProfilePoint>& points, const Upright& place,
                double side, ImU32 colour, float thickness) {
  std::vector<ImVec2> path;
  path.reserve(points.size());
  for (const ProfilePoint& p : points) path.push_back(place.at(p, side));
  list.AddPolyline(path.data(), static_cast<int>(path.size()), colour, 0, thickness);
}

void dashed(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float thickness,
            std::array<float, 4> pattern) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0.0F)) return;
  const auto at = [&](float along) {
    return ImVec2(from.x + (to.x - from.x) * along / length,
                  from.y + (to.y - from.y) * along / length);
  };
  float along = 0.0F;
  for (std::size_t i = 0; along < length; i = (i + 1) % pattern.size()) {
    const float next = std::min(length, along + pattern[i]);
    if (i % 2 == 0) list.AddLine(at(along), at(next), colour, thickness);
    along = next;
  }
}

bool has_floor(const SectionShape& shape) { return shape.base_radius_mm > shape.wall_mm; }

// Where the inside of the wall meets the floor.
ProfilePoint floor_corner(const SectionShape& shape) {
  for (std::size_t i = 0; i < shape.inner.size(); ++i) {
    const ProfilePoint& above = shape.inner[i];
    if (above.height_mm < shape.wall_mm) continue;
    if (i == 0) return {above.radius_mm, shape.wall_mm};
    const ProfilePoint& below = shape.inner[i - 1];
    const double t = (shape.wall_mm - below.height_mm) / (above.height_mm - below.height_mm);
    return {below.radius_mm + t * (above.radius_mm - below.radius_mm), shape.wall_mm};
  }
  return {shape.base_radius_mm, shape.wall_mm};
}

// The inside of the wall that is really seen: places nearer to the outline than the wall is thick
// are within the clay.
std::vector<ProfilePoint> inside_line(const SectionShape& shape) {
  constexpr double kSlack = 0.96;  // the outline is sampled
  std::vector<ProfilePoint> line;
  if (has_floor(shape)) {
    line.push_back({0.0, shape.wall_mm});
    line.push_back(floor_corner(shape));
  }
  const std::size_t floor = line.size();
  for (std::size_t i = 0; i < shape.inner.size(); ++i) {
    const ProfilePoint& p = shape.inner[i];
    if (p.radius_mm < 0.0 || (floor > 0 && p.height_mm <= shape.wall_mm)) continue;
    double nearest = std::numeric_limits<double>::infinity();
    for (const ProfilePoint& q : shape.outer) {
      nearest = std::min(nearest, std::hypot(p.radius_mm - q.radius_mm, p.height_mm - q.height_mm));
    }
    if (nearest >= kSlack * shape.wall_mm) line.push_back(p);
  }
  if (floor == 0 && !line.empty()) line.insert(line.begin(), {0.0, line.front().height_mm});
  if (!shape.inner.empty()) line.push_back(shape.inner.back());
  return line;
}

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

// The band of the interval on one side.
void draw_band(ImDrawList& list, const std::vector<ProfileRow>& rows, const Upright& place,
               double side, ImU32 colour) {
  if (rows.size() < 2) return;
  const HardEdges hard(list);
  std::vector<std::array<ImVec2, 2>> edges;
  edges.reserve(rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const ProfileRow& before = rows[i == 0 ? 0 : i - 1];
    const ProfileRow& after = rows[std::min(i + 1, rows.size() - 1)];
    double normal_r = after.height_mm - before.height_mm;
    double normal_z = before.radius_mm - after.radius_mm;
    const double length = std::hypot(normal_r, normal_z);
    normal_r = length > 0.0 ? normal_r / length : 1.0;
    normal_z = length > 0.0 ? normal_z / length : 0.0;
    const double half = kNormal95 * rows[i].sd_mm;
    const auto moved = [&](double by) {
      return place.at(std::max(0.0, rows[i].radius_mm + by * normal_r),
                      rows[i].height_mm + by * normal_z, side);
    };
    edges.push_back({moved(half), moved(-half)});
  }
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    list.AddQuadFilled(edges[i][0], edges[i + 1][0], edges[i + 1][1], edges[i][1], colour);
  }
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

// The hollow of the vessel, up to the brim, where the section shows it.
void fill_inside(ImDrawList& list, const SectionShape& shape, const Upright& place, ImU32 colour) {
  const std::vector<ProfilePoint> line = inside_line(shape);
  const HardEdges hard(list);
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    list.AddQuadFilled(place.at(0.0, line[i].height_mm, -1.0), place.at(line[i], -1.0),
                       place.at(line[i + 1], -1.0), place.at(0.0, line[i + 1].height_mm, -1.0),
                       colour);
  }
}

// A bar of a round length: 1, 2 or 5 times a power of ten of the unit, at most a third of the
// width.
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

double bottom_to_top(const SectionShape& shape) { return std::max(1.0, shape.top_mm); }

}  // namespace

SectionShape section_shape(const Profile& profile, double wall_mm) {
  SectionShape shape;
  shape.wall_mm = wall_mm;
  for (std::size_t i = 0; i < kSamples; ++i) {
    const double s = static_cast<double>(i) / static_cast<double>(kSamples - 1);
    const ProfilePoint p = profile.at(s);
    const ProfilePoint normal = profile.normal_at(s);
    shape.outer.push_back(p);
    shape.inner.push_back(
        {p.radius_mm - wall_mm * normal.radius_mm, p.height_mm - wall_mm * normal.height_mm});
    shape.top_mm = std::max(shape.top_mm, p.height_mm);
    shape.widest_mm = std::max(shape.widest_mm, p.radius_mm);
  }
  shape.base_radius_mm = shape.outer.front().radius_mm;
  // The lip is cut level: nothing of the wall stands above the vessel's height.
  for (ProfilePoint& p : shape.inner) p.height_mm = std::min(p.height_mm, shape.top_mm);
  return shape;
}

void draw_section(const Look& look, ImDrawList& list, const SectionShape& shape, ScreenPoint foot,
                  double scale, double opacity) {
  const Upright place{foot, scale};
  const ImU32 line = paint(look.colours.drawing, opacity);
  const float thick = look.px(1.5);
  const auto inner = [&](std::size_t i) {
    ProfilePoint p = shape.inner[i];
    p.radius_mm = std::max(0.0, p.radius_mm);
    p.height_mm = std::max(0.0, p.height_mm);
    return p;
  };
  // Opaque pieces over each other look even only where the whole is opaque; paler, they are kept
  // apart by mixing the colour with the ground first.
  const auto mixed = [&](Colour a) {
    const auto mix = [&](std::uint8_t over, std::uint8_t under) {
      return static_cast<std::uint8_t>(std::lround(opacity * over + (1.0 - opacity) * under));
    };
    const Colour g = look.colours.ground;
    return paint(Colour{mix(a.red, g.red), mix(a.green, g.green), mix(a.blue, g.blue)});
  };
  {
    const HardEdges hard(list);
    const ImU32 filling = mixed(look.colours.clay);
    for (std::size_t i = 0; i + 1 < shape.outer.size(); ++i) {
      list.AddQuadFilled(place.at(shape.outer[i], -1.0), place.at(shape.outer[i + 1], -1.0),
                         place.at(inner(i + 1), -1.0), place.at(inner(i), -1.0), filling);
    }
    if (has_floor(shape)) {
      list.AddQuadFilled(place.at(0.0, 0.0, -1.0), place.at(shape.base_radius_mm, 0.0, -1.0),
                         place.at(floor_corner(shape), -1.0), place.at(0.0, shape.wall_mm, -1.0),
                         filling);
    }
  }
  draw_curve(list, inside_line(shape), place, -1.0, line, thick);
  for (const double side : {-1.0, 1.0}) draw_curve(list, shape.outer, place, side, line, thick);
  // The foot, the far edge of the lip, and the cut through the lip.
  const ProfilePoint lip = shape.outer.back();
  list.AddLine(place.at(shape.base_radius_mm, 0.0, -1.0), place.at(shape.base_radius_mm, 0.0, 1.0),
               line, thick);
  list.AddLine(place.at(lip, -1.0), place.at(lip, 1.0), line, thick);
  list.AddLine(place.at(lip, -1.0), place.at(inner(shape.outer.size() - 1), -1.0), line, thick);
  // The centre line parts section and exterior.
  const float over = look.px(8);
  const ImVec2 top = place.at(0.0, shape.top_mm, 1.0);
  const ImVec2 base = place.at(0.0, 0.0, 1.0);
  dashed(list, ImVec2(top.x, top.y - over), ImVec2(base.x, base.y + over), line, look.px(1),
         {look.px(10), look.px(3), look.px(2), look.px(3)});
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
  for (const double side : {-1.0, 1.0}) {
    draw_band(list, rows, place, side, paint(colours.band, opacity));
  }
  draw_section(frame.look, list, shape, place.foot, scale, opacity);
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
