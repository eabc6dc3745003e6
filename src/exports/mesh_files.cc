// SPDX-License-Identifier: MIT
#include "exports/mesh_files.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>

#include "core/printable.h"
#include "core/text.h"

namespace potshadow {
namespace {

void put_32(std::string& out, std::uint32_t bits) {
  for (unsigned shift = 0; shift < 32U; shift += 8U) {
    out.push_back(static_cast<char>((bits >> shift) & 0xFFU));
  }
}

void put_float(std::string& out, double value) {
  put_32(out, std::bit_cast<std::uint32_t>(static_cast<float>(value)));
}

void put_point(std::string& out, const VesselPoint& p) {
  put_float(out, p.x_mm);
  put_float(out, p.y_mm);
  put_float(out, p.z_mm);
}

VesselPoint normal_of(const VesselPoint& a, const VesselPoint& b, const VesselPoint& c) {
  const double ux = b.x_mm - a.x_mm;
  const double uy = b.y_mm - a.y_mm;
  const double uz = b.z_mm - a.z_mm;
  const double vx = c.x_mm - a.x_mm;
  const double vy = c.y_mm - a.y_mm;
  const double vz = c.z_mm - a.z_mm;
  const VesselPoint n{uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx};
  const double length = std::hypot(n.x_mm, n.y_mm, n.z_mm);
  if (!(length > 0.0)) return {};
  return {n.x_mm / length, n.y_mm / length, n.z_mm / length};
}

}  // namespace

std::string stl_of(const Mesh& mesh, const std::string& words) {
  constexpr std::size_t kHeader = 80;
  constexpr std::size_t kFacet = 50;
  // A reader takes a file that begins with "solid" for the other kind, in text.
  std::string out = "Potshadow, mm: ";
  for (const char32_t c : printable_points(words)) {
    if (c < 0x7F && out.size() < kHeader) out.push_back(static_cast<char>(c));
  }
  out.resize(kHeader, ' ');
  out.reserve(kHeader + 4 + kFacet * mesh.facets.size());
  put_32(out, static_cast<std::uint32_t>(mesh.facets.size()));
  for (const auto& [i, j, k] : mesh.facets) {
    const VesselPoint& a = mesh.points[i];
    const VesselPoint& b = mesh.points[j];
    const VesselPoint& c = mesh.points[k];
    put_point(out, normal_of(a, b, c));
    put_point(out, a);
    put_point(out, b);
    put_point(out, c);
    out.append(2, '\0');
  }
  return out;
}

std::string obj_of(const Mesh& mesh, const std::string& words) {
  constexpr int kDecimals = 4;
  std::string out = "# " + printable_text(words) + "\n# Millimetres, z up\no vessel\n";
  for (const VesselPoint& p : mesh.points) {
    out += "v " + fixed_text(p.x_mm, kDecimals) + " " + fixed_text(p.y_mm, kDecimals) + " " +
           fixed_text(p.z_mm, kDecimals) + "\n";
  }
  for (const auto& facet : mesh.facets) {
    out += "f";
    for (const std::uint32_t i : facet) out += " " + std::to_string(i + 1);
    out += "\n";
  }
  return out;
}

}  // namespace potshadow
