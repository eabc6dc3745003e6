// SPDX-License-Identifier: MIT
#include "study/pot.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace potshadow::study {
namespace {

constexpr double kDeg = std::numbers::pi / 180.0;

// A key point of the wall; slopes are angles from upright, positive outward.
struct Key {
  double radius;
  double height;
  double slope_before;
  double slope_after;
};

Key smooth(double radius, double height, double slope_deg) {
  return {radius, height, slope_deg * kDeg, slope_deg * kDeg};
}

using Flat = Eigen::Vector2d;

void append_arc(const Key& from, const Key& to, double fullness, std::vector<WallPoint>& wall) {
  const Flat a(from.radius, from.height);
  const Flat b(to.radius, to.height);
  const Flat leave(std::sin(from.slope_after), std::cos(from.slope_after));
  const Flat arrive(std::sin(to.slope_before), std::cos(to.slope_before));
  const Flat chord = b - a;
  // Where the two tangents meet, the handles reach a part of the way there; else they are a part of
  // the chord as each tangent sees it.
  double first = 0.4 * std::abs(chord.dot(leave));
  double second = 0.4 * std::abs(chord.dot(arrive));
  const double turn = leave.x() * arrive.y() - leave.y() * arrive.x();
  if (std::abs(turn) > 1e-3) {
    const double ahead = (chord.x() * arrive.y() - chord.y() * arrive.x()) / turn;
    const double behind = (leave.x() * chord.y() - leave.y() * chord.x()) / turn;
    if (ahead > 0.0 && behind > 0.0 && ahead < 2.0 * chord.norm() && behind < 2.0 * chord.norm()) {
      first = fullness * ahead;
      second = fullness * behind;
    }
  }
  const Flat c = a + first * leave;
  const Flat d = b - second * arrive;
  constexpr int kSteps = 260;
  for (int i = wall.empty() ? 0 : 1; i <= kSteps; ++i) {
    const double t = static_cast<double>(i) / kSteps;
    const double u = 1.0 - t;
    const Flat p = u * u * u * a + 3.0 * u * u * t * c + 3.0 * u * t * t * d + t * t * t * b;
    const Flat slope =
        (3.0 * u * u * (c - a) + 6.0 * u * t * (d - c) + 3.0 * t * t * (b - d)).normalized();
    wall.push_back({p.x(), p.y(), slope.x(), slope.y()});
  }
}

// The keys of a vessel of maximum radius 1.
std::vector<Key> random_keys(Dice& dice, const std::string& family) {
  std::vector<Key> keys;
  const auto foot = [&](double low, double high, double slope_low, double slope_high) {
    keys.push_back(smooth(dice.even(low, high), 0.0, dice.even(slope_low, slope_high)));
  };
  const auto neck_and_rim = [&](double height, double neck_low, double neck_high, double at_low,
                                double at_high, double flare_low, double flare_high) {
    const double neck = dice.even(neck_low, neck_high);
    keys.push_back(smooth(neck, height * dice.even(at_low, at_high), 0.0));
    keys.push_back(smooth(neck + dice.even(flare_low, flare_high), height, dice.even(15.0, 50.0)));
  };
  if (family == "jar") {
    const double height = dice.even(1.5, 2.6);
    foot(0.35, 0.65, 15.0, 50.0);
    keys.push_back(smooth(1.0, height * dice.even(0.35, 0.6), 0.0));
    neck_and_rim(height, 0.45, 0.85, 0.8, 0.9, 0.06, 0.14);
  } else if (family == "bottle") {
    const double height = dice.even(2.6, 4.2);
    foot(0.4, 0.75, 5.0, 40.0);
    keys.push_back(smooth(1.0, height * dice.even(0.22, 0.4), 0.0));
    neck_and_rim(height, 0.15, 0.35, 0.68, 0.88, 0.05, 0.14);
  } else if (family == "bowl") {
    foot(0.3, 0.55, 40.0, 70.0);
    keys.push_back(smooth(1.0, dice.even(0.7, 1.3), dice.even(2.0, 30.0)));
  } else if (family == "inturned-bowl") {
    const double height = dice.even(0.8, 1.4);
    foot(0.3, 0.6, 35.0, 65.0);
    keys.push_back(smooth(1.0, height * dice.even(0.5, 0.75), 0.0));
    keys.push_back(smooth(dice.even(0.82, 0.96), height, -dice.even(15.0, 45.0)));
  } else if (family == "barrel") {
    const double height = dice.even(1.8, 3.2);
    foot(0.6, 0.85, 5.0, 25.0);
    keys.push_back(smooth(1.0, height * dice.even(0.4, 0.6), 0.0));
    keys.push_back(smooth(dice.even(0.65, 0.9), height, -dice.even(5.0, 25.0)));
  } else if (family == "beaker") {
    foot(0.5, 0.75, 0.0, 12.0);
    keys.push_back(smooth(1.0, dice.even(1.8, 3.0), dice.even(15.0, 40.0)));
  } else if (family == "round-jar") {
    const double height = dice.even(1.4, 2.2);
    keys.push_back(smooth(0.0, 0.0, 90.0));
    keys.push_back(smooth(1.0, height * dice.even(0.4, 0.55), 0.0));
    neck_and_rim(height, 0.5, 0.85, 0.82, 0.9, 0.05, 0.12);
  } else {  // keeled bowl: the keel rounded over a short way
    const double height = dice.even(0.8, 1.5);
    const double keel = height * dice.even(0.4, 0.65);
    foot(0.3, 0.55, 35.0, 55.0);
    const double lower = dice.even(25.0, 50.0);
    keys.push_back(smooth(0.98, keel - 0.03, lower));
    keys.push_back(smooth(1.0, keel, 0.0));
    keys.push_back(smooth(0.98, keel + 0.04, -dice.even(20.0, 35.0)));
    keys.push_back(smooth(dice.even(0.80, 0.92), height, dice.even(-15.0, 10.0)));
  }
  return keys;
}

bool sound(const std::vector<WallPoint>& wall) {
  for (std::size_t i = 1; i < wall.size(); ++i) {
    if (wall[i].radius <= 0.0 || wall[i].height < wall[i - 1].height) return false;
  }
  return true;
}

}  // namespace

double Pot::widest() const {
  double radius = 0.0;
  for (const WallPoint& p : wall) radius = std::max(radius, p.radius);
  return radius;
}

Eigen::Vector3d Pot::at(std::size_t i, double azimuth) const {
  const double oval = 1.0 + oval_cos * std::cos(2.0 * azimuth) + oval_sin * std::sin(2.0 * azimuth);
  const double radius = wall[i].radius * oval;
  return {radius * std::cos(azimuth), radius * std::sin(azimuth), wall[i].height};
}

Eigen::Vector3d Pot::normal(std::size_t i, double azimuth) const {
  const double c = std::cos(azimuth);
  const double s = std::sin(azimuth);
  const double c2 = std::cos(2.0 * azimuth);
  const double s2 = std::sin(2.0 * azimuth);
  const double oval = 1.0 + oval_cos * c2 + oval_sin * s2;
  const double oval_slope = 2.0 * (oval_sin * c2 - oval_cos * s2);
  const Eigen::Vector3d round(oval_slope * c - oval * s, oval_slope * s + oval * c, 0.0);
  const Eigen::Vector3d up(wall[i].radius_slope * oval * c, wall[i].radius_slope * oval * s,
                           wall[i].height_slope);
  return round.cross(up).normalized();
}

bool Pot::stops(const Eigen::Vector3d& from, const Eigen::Vector3d& direction,
                bool both_ways) const {
  if (std::abs(direction.z()) < 1e-9) return false;
  const double slack = 1e-4 * wall.back().height;
  for (const WallPoint& p : wall) {
    const double along = (p.height - from.z()) / direction.z();
    if (!both_ways && along <= 0.0) continue;
    const double x = from.x() + along * direction.x();
    const double y = from.y() + along * direction.y();
    const double square = x * x + y * y;
    const double oval =
        1.0 + (oval_cos * (x * x - y * y) + oval_sin * 2.0 * x * y) / std::max(square, 1e-12);
    const double reach = p.radius * oval - slack;
    if (reach > 0.0 && square < reach * reach) return true;
  }
  return false;
}

TrueSizes true_sizes(const Pot& pot) {
  TrueSizes sizes;
  const auto set = [&](SizeName name, double value) {
    sizes[static_cast<std::size_t>(name)] = value;
  };
  const std::vector<WallPoint>& wall = pot.wall;
  const auto wider = [](const WallPoint& a, const WallPoint& b) { return a.radius < b.radius; };
  const auto widest = std::max_element(wall.begin(), wall.end(), wider);
  set(SizeName::kHeight, wall.back().height);
  set(SizeName::kMaxDiameter, 2.0 * widest->radius);
  set(SizeName::kHeightOfMax, widest->height);
  set(SizeName::kRimDiameter, 2.0 * wall.back().radius);
  if (!pot.round_base) set(SizeName::kBaseDiameter, 2.0 * wall.front().radius);
  // The neck: deepest below what is wider both under it and over it, by 1 % of the maximum.
  std::size_t neck = 0;
  double depth = 0.0;
  for (std::size_t i = 1; i + 1 < wall.size(); ++i) {
    const auto here = wall.begin() + static_cast<std::ptrdiff_t>(i);
    const double below = std::max_element(wall.begin(), here, wider)->radius;
    const double above = std::max_element(here, wall.end(), wider)->radius;
    const double stands_in = std::min(below, above) - here->radius;
    if (stands_in > depth) {
      depth = stands_in;
      neck = i;
    }
  }
  if (depth >= 0.01 * 2.0 * widest->radius) {
    set(SizeName::kNeckDiameter, 2.0 * wall[neck].radius);
    set(SizeName::kHeightOfNeck, wall[neck].height);
  }
  // Inside: everything farther than the wall from the outer surface, from the floor to the brim.
  const double w = pot.wall_mm;
  constexpr int kSlices = 600;
  const double step = (wall.back().height - w) / kSlices;
  double volume = 0.0;
  for (int k = 0; k < kSlices; ++k) {
    const double z = w + step * (k + 0.5);
    double inside = 1e9;
    for (const WallPoint& p : wall) {
      const double gap = z - p.height;
      if (std::abs(gap) < w) inside = std::min(inside, p.radius - std::sqrt(w * w - gap * gap));
    }
    if (inside > 0.0 && inside < 1e8) volume += std::numbers::pi * inside * inside * step;
  }
  // An oval of half axes 1 + e and 1 - e.
  const double oval = 1.0 + (pot.oval_cos * pot.oval_cos + pot.oval_sin * pot.oval_sin) / 2.0;
  set(SizeName::kCapacity, volume * oval / 1000.0);
  return sizes;
}

Pot random_pot(Dice& dice, double size_mm) {
  Pot pot;
  pot.family =
      kFamilies[static_cast<std::size_t>(dice.whole(0, static_cast<int>(kFamilies.size()) - 1))];
  pot.round_base = pot.family == "round-jar";
  do {
    const std::vector<Key> keys = random_keys(dice, pot.family);
    const double fullness = dice.even(0.5, 0.62);  // 0.55 is nearly an ellipse
    pot.wall.clear();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
      append_arc(keys[i], keys[i + 1], fullness, pot.wall);
    }
  } while (!sound(pot.wall));
  const double scale = size_mm / std::max(2.0 * pot.widest(), pot.height());
  for (WallPoint& p : pot.wall) {
    p.radius *= scale;
    p.height *= scale;
  }
  return pot;
}

}  // namespace potshadow::study
