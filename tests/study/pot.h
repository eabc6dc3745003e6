// SPDX-License-Identifier: MIT
// Random vessels: a wall from joined arcs, turned, and pressed slightly oval.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "estimate/size_name.h"
#include "study/dice.h"

// The wall is a chain of cubic Bezier arcs through a few key points (foot, belly, neck, rim) with a
// drawn slope at each. At azimuth a the radius is r (1 + A cos 2a + B sin 2a). Millimetres; foot at
// z = 0. Sizes are read from the arcs here, by the definitions in vessel/sizes.h but not its code.
namespace potshadow::study {

struct WallPoint {
  double radius = 0.0;
  double height = 0.0;
  double radius_slope = 0.0;  // unit tangent, base to rim
  double height_slope = 1.0;
};

struct Pot {
  std::string family;
  std::vector<WallPoint> wall;  // dense, base first
  bool round_base = false;      // begins on the axis
  double oval_cos = 0.0;        // A
  double oval_sin = 0.0;        // B
  double wall_mm = 6.0;         // thickness

  double height() const { return wall.back().height; }
  double widest() const;  // radius
  // A point of the surface and the outward normal there, unit length.
  Eigen::Vector3d at(std::size_t i, double azimuth) const;
  Eigen::Vector3d normal(std::size_t i, double azimuth) const;
  // Whether the straight line from `from` along `direction` runs through the inside; only ahead of
  // `from`, or both ways.
  bool stops(const Eigen::Vector3d& from, const Eigen::Vector3d& direction, bool both_ways) const;
};

using TrueSizes = std::array<std::optional<double>, kSizeCount>;

// Returns the sizes; none for a neck or foot that it has not.
TrueSizes true_sizes(const Pot& pot);

// The families drawn from, each as likely as the others.
inline constexpr std::array<const char*, 8> kFamilies = {
    "jar", "bottle", "bowl", "inturned-bowl", "barrel", "beaker", "round-jar", "keeled-bowl"};

// Returns a vessel whose larger extent is `size_mm`, round as yet.
Pot random_pot(Dice& dice, double size_mm);

}  // namespace potshadow::study
