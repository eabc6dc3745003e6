// SPDX-License-Identifier: MIT
#include "clay/plan_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/text.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

// Returns the first strip whose upper end lies above the line.
std::size_t first_above(const Wall& wall, double line_mm) {
  std::size_t i = 0;
  while (i + 1 < wall.strips.size() && wall.strips[i].high_mm <= line_mm) ++i;
  return i;
}

double degrees(double dr, double dz) { return std::atan2(dr, dz) * 180.0 / std::numbers::pi; }

double lean_of(const Wall& wall, std::size_t from, std::size_t to) {
  const ProfilePoint& a = wall.outer[from];
  const ProfilePoint& b = wall.outer[to];
  return degrees(b.radius_mm - a.radius_mm, b.height_mm - a.height_mm);
}

double length_of(const Wall& wall, std::size_t i) {
  const ProfilePoint& a = wall.outer[i];
  const ProfilePoint& b = wall.outer[i + 1];
  return std::hypot(b.radius_mm - a.radius_mm, b.height_mm - a.height_mm);
}

// A piece of wall that grows strip by strip until it is a coil.
struct Piece {
  double area = 0.0;
  double volume = 0.0;

  void add(const TurnedFigure& figure, double part) {
    area += part * figure.area_mm2;
    volume += part * figure.volume_mm3;
  }
};

double between(double a, double b, double part) { return a + part * (b - a); }

}  // namespace

Result<Cradle> cradle_of(const Wall& wall, const Profile& profile, std::optional<double> height) {
  const Sizes sizes = sizes_of(profile);
  constexpr double kOfHeight = 0.25;  // common practice, no source
  constexpr double kOfWidest = 0.9;
  const double chosen = std::min(kOfHeight * sizes.height_mm, kOfWidest * sizes.height_of_max_mm);
  const double line = height.value_or(chosen);
  if (!std::isfinite(line) || line <= 0.0) {
    return Problem{Code::kBadValue, "A cradle cannot be " + fixed_text(line, 0) + " mm deep.",
                   "Give the height of its line above the bench in millimetres.", ""};
  }
  if (line >= sizes.height_mm) {
    return Problem{Code::kBadValue,
                   "A cradle " + fixed_text(line, 0) +
                       " mm deep is larger than the vessel, which is " +
                       fixed_text(sizes.height_mm, 0) + " mm high wet.",
                   "Give a line below the widest place, or leave it out.", ""};
  }
  if (line > sizes.height_of_max_mm) {
    return Problem{Code::kBadValue,
                   "From a cradle " + fixed_text(line, 0) +
                       " mm deep the pot could not be lifted, for it is widest at " +
                       fixed_text(sizes.height_of_max_mm, 0) + " mm.",
                   "Give a line below the widest place, or leave it out.", ""};
  }
  const std::size_t at = first_above(wall, line);
  const WallStrip& strip = wall.strips[at];
  const double rise = strip.high_mm - strip.low_mm;
  const double part = rise > 0.0 ? std::clamp((line - strip.low_mm) / rise, 0.0, 1.0) : 0.0;
  Cradle cradle;
  cradle.line_mm = line;
  cradle.depth_mm = line;
  cradle.diameter_mm = 2.0 * between(wall.outer[at].radius_mm, wall.outer[at + 1].radius_mm, part);
  cradle.floor_mm = 2.0 * wall.outer.front().radius_mm;
  cradle.clay_mm3 = wall.floor.volume_mm3 + part * strip.figure.volume_mm3;
  for (std::size_t i = 0; i < at; ++i) cradle.clay_mm3 += wall.strips[i].figure.volume_mm3;
  return cradle;
}

std::vector<Coil> coils_of(double line_mm, const Wall& wall, double coil_mm) {
  const double whole = std::numbers::pi * coil_mm * coil_mm / 4.0;
  std::vector<Coil> coils;
  std::size_t at = first_above(wall, line_mm);
  const double rise = wall.strips[at].high_mm - wall.strips[at].low_mm;
  // The part of the strip that is taken so far; that below the line lies in the cradle.
  double taken = rise > 0.0 ? std::clamp((line_mm - wall.strips[at].low_mm) / rise, 0.0, 1.0) : 0.0;
  Piece piece;
  std::size_t first = at;
  double low = line_mm;
  const auto finish = [&](double high) {
    Coil coil;
    coil.number = static_cast<int>(coils.size()) + 1;
    coil.low_mm = low;
    coil.high_mm = high;
    const TurnedFigure figure{piece.area, piece.volume};
    coil.length_mm = 2.0 * std::numbers::pi * middle_radius(figure);
    const std::size_t last = std::min(at + 1, wall.outer.size() - 1);
    coil.girth_mm = 2.0 * std::numbers::pi * wall.outer[(first + last) / 2].radius_mm;
    coil.lean_deg = lean_of(wall, first, last);
    coil.part = std::sqrt(piece.area / whole);
    coil.clay_mm3 = piece.volume;
    coils.push_back(coil);
    piece = {};
    first = at;
    low = high;
  };
  for (; at < wall.strips.size(); ++at) {
    const WallStrip& strip = wall.strips[at];
    while (taken < 1.0) {
      const double left = (1.0 - taken) * strip.figure.area_mm2;
      const double room = whole - piece.area;
      if (left < room || strip.figure.area_mm2 <= 0.0) {
        piece.add(strip.figure, 1.0 - taken);
        break;
      }
      const double part = room / strip.figure.area_mm2;
      piece.add(strip.figure, part);
      taken += part;
      finish(between(strip.low_mm, strip.high_mm, taken));
    }
    taken = 0.0;
  }
  // A sliver of rounding is no coil.
  constexpr double kSliver = 1e-9;
  if (piece.area > kSliver * whole) {
    at = wall.strips.size() - 1;
    finish(wall.outer.back().height_mm);
  }
  return coils;
}

std::optional<Sag> sag_of(const Wall& wall, double line_mm) {
  constexpr double kUpright = -5.0;  // degrees; less than that leans in no way that sags
  // A turn is judged over a tenth of the wall, so that the lip's rounding is none.
  double all = 0.0;
  for (std::size_t i = 0; i < wall.strips.size(); ++i) all += length_of(wall, i);
  const double reach = all / 20.0;
  std::vector<double> along{0.0};
  for (std::size_t i = 0; i < wall.strips.size(); ++i) {
    along.push_back(along.back() + length_of(wall, i));
  }
  const auto index_at = [&](double length) {
    const auto found = std::lower_bound(along.begin(), along.end(), length);
    return static_cast<std::size_t>(
        std::min(found - along.begin(), static_cast<std::ptrdiff_t>(along.size()) - 1));
  };
  Sag sag;
  double most_turn = 0.0;
  bool leans = false;
  for (std::size_t i = first_above(wall, line_mm); i < wall.outer.size(); ++i) {
    if (along[i] + reach > all) break;
    const std::size_t before = index_at(along[i] - reach);
    const std::size_t after = index_at(along[i] + reach);
    if (before == i || after == i) continue;
    const double below = lean_of(wall, before, i);
    const double above = lean_of(wall, i, after);
    if (above < sag.steepest_deg) {
      sag.steepest_deg = above;
      sag.steepest_mm = (wall.outer[i].height_mm + wall.outer[after].height_mm) / 2.0;
    }
    if (above > kUpright || below - above <= most_turn) continue;
    leans = true;
    most_turn = below - above;
    sag.height_mm = wall.outer[i].height_mm;
    sag.below_deg = below;
    sag.above_deg = above;
  }
  if (!leans) return std::nullopt;
  return sag;
}

}  // namespace potshadow
