// SPDX-License-Identifier: MIT
#include "exports/mesh.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "clay/turned.h"
#include "core/check.h"
#include "core/text.h"
#include "exports/triangles.h"

namespace potshadow {
namespace {

constexpr double kOnAxisMm = 1e-3;  // nearer to the axis than this lies on it
constexpr double kSamePlaceMm = 1e-3;

// How many pieces a circle needs. A regular n-gon with the circle's area stands out at its corners
// by r pi^2 / (3 n^2) and in at its sides by half as much, to second order.
std::size_t pieces_round(double radius, double tolerance) {
  constexpr double kFewest = 24.0;
  const double pieces = std::numbers::pi * std::sqrt(radius / (3.0 * tolerance));
  return static_cast<std::size_t>(std::ceil(std::max(pieces, kFewest)));
}

// What the radius of a circle's corners is multiplied by so that the polygon has its area.
double corner_factor(std::size_t pieces) {
  const double angle = 2.0 * std::numbers::pi / static_cast<double>(pieces);
  return std::sqrt(angle / std::sin(angle));
}

// Takes out points that repeat and puts those beside the axis on it.
std::vector<ProfilePoint> cleaned(const std::vector<ProfilePoint>& polygon) {
  std::vector<ProfilePoint> out;
  const auto same = [](const ProfilePoint& a, const ProfilePoint& b) {
    return std::hypot(a.radius_mm - b.radius_mm, a.height_mm - b.height_mm) < kSamePlaceMm;
  };
  for (ProfilePoint p : polygon) {
    if (p.radius_mm < kOnAxisMm) p.radius_mm = 0.0;
    if (out.empty() || !same(out.back(), p)) out.push_back(p);
  }
  while (out.size() > 1 && same(out.front(), out.back())) out.pop_back();
  return out;
}

}  // namespace

Result<Mesh> turned_solid(std::vector<ProfilePoint> polygon, double tolerance_mm) {
  POTSHADOW_CHECK(tolerance_mm > 0.0);
  polygon = cleaned(polygon);
  POTSHADOW_CHECK(polygon.size() >= 3);
  if (turned(polygon).area_mm2 < 0.0) std::reverse(polygon.begin(), polygon.end());
  double widest = 0.0;
  for (const ProfilePoint& p : polygon) widest = std::max(widest, p.radius_mm);
  const std::size_t pieces = pieces_round(widest, tolerance_mm);
  if (2 * pieces * polygon.size() > kMostFacets) {
    return Problem{Code::kBadValue,
                   "A facet error of " + fixed_text(tolerance_mm, 4) + " mm would take more than " +
                       std::to_string(kMostFacets / 1'000'000) + " million facets.",
                   "Give a larger one; 0.05 mm is finer than most printers.", ""};
  }
  const double factor = corner_factor(pieces);
  Mesh mesh;
  std::vector<std::size_t> first;  // of each polygon point's ring; one point on the axis
  for (const ProfilePoint& p : polygon) {
    first.push_back(mesh.points.size());
    const std::size_t count = p.radius_mm > 0.0 ? pieces : 1;
    for (std::size_t k = 0; k < count; ++k) {
      const double angle =
          2.0 * std::numbers::pi * static_cast<double>(k) / static_cast<double>(pieces);
      const double radius = p.radius_mm * factor;
      mesh.points.push_back({radius * std::cos(angle), radius * std::sin(angle), p.height_mm});
    }
  }
  const auto corner = [&](std::size_t i, std::size_t k) {
    return static_cast<std::uint32_t>(first[i] + (polygon[i].radius_mm > 0.0 ? k % pieces : 0));
  };
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const std::size_t j = (i + 1) % polygon.size();
    const bool low_on_axis = !(polygon[i].radius_mm > 0.0);
    const bool high_on_axis = !(polygon[j].radius_mm > 0.0);
    if (low_on_axis && high_on_axis) continue;
    for (std::size_t k = 0; k < pieces; ++k) {
      if (!low_on_axis) mesh.facets.push_back({corner(i, k), corner(i, k + 1), corner(j, k + 1)});
      if (!high_on_axis) mesh.facets.push_back({corner(i, k), corner(j, k + 1), corner(j, k)});
    }
  }
  return mesh;
}

Result<Mesh> plate(const std::vector<PatternPoint>& outline,
                   const std::vector<std::vector<PatternPoint>>& holes, double thick_mm) {
  POTSHADOW_CHECK(thick_mm > 0.0);
  const auto filled = triangles_of(outline, holes);
  if (!filled) {
    return Problem{Code::kCannotBeAnswered, "The plate's outline crosses itself.",
                   "Give a thinner wall, or export the piece as .svg or .dxf.", ""};
  }
  Mesh mesh;
  const auto count = static_cast<std::uint32_t>(filled->points.size());
  for (const double z : {0.0, thick_mm}) {
    for (const PatternPoint& p : filled->points) mesh.points.push_back({p.x_mm, p.y_mm, z});
  }
  for (const auto& [a, b, c] : filled->triangles) {
    mesh.facets.push_back({a, c, b});
    mesh.facets.push_back({a + count, b + count, c + count});
  }
  for (const std::vector<std::uint32_t>& loop : filled->loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const std::uint32_t a = loop[i];
      const std::uint32_t b = loop[(i + 1) % loop.size()];
      mesh.facets.push_back({a, b, b + count});
      mesh.facets.push_back({a, b + count, a + count});
    }
  }
  return mesh;
}

double volume_mm3(const Mesh& mesh) {
  double six = 0.0;
  for (const auto& [i, j, k] : mesh.facets) {
    const VesselPoint& a = mesh.points[i];
    const VesselPoint& b = mesh.points[j];
    const VesselPoint& c = mesh.points[k];
    six += a.x_mm * (b.y_mm * c.z_mm - b.z_mm * c.y_mm) +
           a.y_mm * (b.z_mm * c.x_mm - b.x_mm * c.z_mm) +
           a.z_mm * (b.x_mm * c.y_mm - b.y_mm * c.x_mm);
  }
  return six / 6.0;
}

}  // namespace potshadow
