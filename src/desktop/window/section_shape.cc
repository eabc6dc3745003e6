// SPDX-License-Identifier: MIT
#include "desktop/window/section_shape.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

#include "core/measured.h"
#include "desktop/window/hard_edges.h"
#include "desktop/window/mark_glyph.h"
#include "desktop/words/profile_words.h"

namespace potshadow {
namespace {

constexpr std::size_t kSamples = 121;  // a bend of the wall then shows no corners at 600 px

// Where the profile is not known: at the row that is nearest.
class Doubt {
 public:
  explicit Doubt(std::span<const ProfileRow> rows)
      : rows_(rows), unknown_(unknown_rows({rows.begin(), rows.end()})) {}
  bool at(const ProfilePoint& p) const {
    if (std::find(unknown_.begin(), unknown_.end(), true) == unknown_.end()) return false;
    const auto nearer = [&](const ProfileRow& a, const ProfileRow& b) {
      return std::hypot(a.radius_mm - p.radius_mm, a.height_mm - p.height_mm) <
             std::hypot(b.radius_mm - p.radius_mm, b.height_mm - p.height_mm);
    };
    const auto nearest = std::min_element(rows_.begin(), rows_.end(), nearer);
    return unknown_[static_cast<std::size_t>(nearest - rows_.begin())];
  }

 private:
  std::span<const ProfileRow> rows_;
  std::vector<bool> unknown_;
};

struct Pen {
  ImU32 colour = 0;
  float thickness = 1.0F;
  float dash = 4.0F;  // of what is not known, and its gaps
};

// A line through the points, dashed where the profile is not known.
void draw_curve(ImDrawList& list, const std::vector<ProfilePoint>& points, const Doubt& doubt,
                const Upright& place, double side, const Pen& pen) {
  std::vector<ImVec2> path;
  bool unknown = false;
  const auto finish = [&] {
    if (path.size() > 1) {
      haloed_path(list, path.data(), static_cast<int>(path.size()), pen.colour, pen.thickness,
                  unknown ? pen.dash : 0.0F, false);
    }
  };
  for (const ProfilePoint& p : points) {
    const bool here = doubt.at(p);
    if (!path.empty() && here != unknown) {
      const ImVec2 last = path.back();
      finish();
      path = {last};
    }
    unknown = here;
    path.push_back(place.at(p, side));
  }
  finish();
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
    if (nearest >= kSlack * shape.least_mm) line.push_back(p);
  }
  if (floor == 0 && !line.empty()) line.insert(line.begin(), {0.0, line.front().height_mm});
  if (!shape.inner.empty()) line.push_back(shape.inner.back());
  return line;
}

// The band of the interval on one side.
void draw_band(ImDrawList& list, std::span<const ProfileRow> rows, const Upright& place,
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

}  // namespace

SectionShape section_shape(const Profile& profile, double wall_mm) {
  return section_shape(profile, wall_mm, wall_mm);
}

SectionShape section_shape(const Profile& profile, double foot_mm, double rim_mm) {
  SectionShape shape;
  shape.wall_mm = foot_mm;
  shape.least_mm = std::min(foot_mm, rim_mm);
  const double height_mm = profile.at(1.0).height_mm;
  for (std::size_t i = 0; i < kSamples; ++i) {
    const double s = static_cast<double>(i) / static_cast<double>(kSamples - 1);
    const ProfilePoint p = profile.at(s);
    const ProfilePoint normal = profile.normal_at(s);
    const double part = height_mm > 0.0 ? std::clamp(p.height_mm / height_mm, 0.0, 1.0) : 0.0;
    const double wall_mm = foot_mm + part * (rim_mm - foot_mm);
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

void draw_section(const Look& look, ImDrawList& list, const SectionShape& shape,
                  const Upright& place, double opacity, std::span<const ProfileRow> rows) {
  const Doubt doubt(rows);
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
      if (doubt.at(shape.outer[i]) || doubt.at(shape.outer[i + 1])) continue;
      list.AddQuadFilled(place.at(shape.outer[i], -1.0), place.at(shape.outer[i + 1], -1.0),
                         place.at(inner(i + 1), -1.0), place.at(inner(i), -1.0), filling);
    }
    if (has_floor(shape) && !doubt.at(shape.outer.front())) {
      list.AddQuadFilled(place.at(0.0, 0.0, -1.0), place.at(shape.base_radius_mm, 0.0, -1.0),
                         place.at(floor_corner(shape), -1.0), place.at(0.0, shape.wall_mm, -1.0),
                         filling);
    }
  }
  const Pen pen{line, thick, look.px(4)};
  draw_curve(list, inside_line(shape), doubt, place, -1.0, pen);
  for (const double side : {-1.0, 1.0}) draw_curve(list, shape.outer, doubt, place, side, pen);
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

void draw_interval(ImDrawList& list, std::span<const ProfileRow> rows, const Upright& place,
                   ImU32 colour, const ScreenBox& box) {
  list.PushClipRect(
      ImVec2(static_cast<float>(box.left), static_cast<float>(box.top)),
      ImVec2(static_cast<float>(box.left + box.width), static_cast<float>(box.top + box.height)),
      true);
  for (const double side : {-1.0, 1.0}) draw_band(list, rows, place, side, colour);
  list.PopClipRect();
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

}  // namespace potshadow
