// SPDX-License-Identifier: MIT
// Invented vessels whose profile is one cubic curve, so that tests know it without the program.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "sheets/template_sheet.h"

namespace potshadow::test {

// A Bézier cubic, which is what a cubic B-spline of four control points is. Here it is summed from
// Bernstein polynomials, not by the program's recurrence. Source: Farin, "Curves and Surfaces for
// CAGD" (from memory).
struct Vessel {
  std::string name;
  std::array<ProfilePoint, 4> controls;

  ProfilePoint at(double t) const {
    const double u = 1.0 - t;
    const std::array<double, 4> b = {u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t};
    ProfilePoint p;
    for (std::size_t i = 0; i < 4; ++i) {
      p.radius_mm += b.at(i) * controls.at(i).radius_mm;
      p.height_mm += b.at(i) * controls.at(i).height_mm;
    }
    return p;
  }

  // The radius at a height; all these vessels rise steadily.
  double radius_at(double height_mm) const {
    double low = 0.0;
    double high = 1.0;
    for (int i = 0; i < 60; ++i) {
      const double middle = (low + high) / 2.0;
      (at(middle).height_mm < height_mm ? low : high) = middle;
    }
    return at((low + high) / 2.0).radius_mm;
  }

  double widest() const {
    constexpr int kSteps = 100000;
    double most = 0.0;
    for (int i = 0; i <= kSteps; ++i)
      most = std::max(most, at(static_cast<double>(i) / kSteps).radius_mm);
    return most;
  }

  double height() const { return controls[3].height_mm; }
};

inline Vessel cup() { return {"Little cup", {{{22, 0}, {40, 20}, {38, 40}, {35, 60}}}}; }
inline Vessel jar() { return {"Shelf jar", {{{55, 0}, {190, 80}, {20, 190}, {75, 235}}}}; }
inline Vessel storage() { return {"Storage jar", {{{110, 0}, {380, 170}, {60, 390}, {150, 480}}}}; }
inline Vessel dish() { return {"Wide dish", {{{80, 0}, {200, 10}, {290, 60}, {300, 130}}}}; }
inline Vessel vat() { return {"Vat", {{{200, 0}, {640, 350}, {150, 820}, {280, 1000}}}}; }

inline constexpr double kPercent = 12.0;
inline constexpr double kEnlargement = 1.0 / 0.88;  // 12 % of the wet length

// A request with the eight sizes, an exact shrinkage of 12 % and no band.
inline TemplateRequest request_for(const Vessel& vessel, Paper paper = Paper::kA4,
                                   double shrinkage_sd_percent = 0.0) {
  const auto profile = Profile::from_controls({vessel.controls.begin(), vessel.controls.end()});
  EXPECT_TRUE(profile.ok());
  const auto shrinkage = TotalShrinkage::from_percent_of_wet(kPercent, shrinkage_sd_percent);
  EXPECT_TRUE(shrinkage.ok());
  TemplateRequest request{vessel.name, *profile,           {},          {}, "Buff mix", *shrinkage,
                          paper,       "25 November 2026", "2026-11-25"};
  request.sizes = {{"Height", normal_measured(vessel.height(), 0.9), false},
                   {"Maximum diameter", normal_measured(2.0 * vessel.widest(), 1.1), false},
                   {"Height of the maximum", normal_measured(0.4 * vessel.height(), 2.3), false},
                   {"Neck diameter", normal_measured(90.0, 0.8), false},
                   {"Height of the neck", normal_measured(0.9 * vessel.height(), 1.5), false},
                   {"Rim diameter", normal_measured(100.0, 0.6), false},
                   {"Base diameter", normal_measured(80.0, 1.2), false},
                   {"Capacity to the brim", normal_measured(4200.0, 60.0), true}};
  return request;
}

}  // namespace potshadow::test
