// SPDX-License-Identifier: MIT
#include "clay/painted_bands.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "clay/stages.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr std::size_t kSteps = 4001;  // a step is then a tenth of a millimetre

// Where a line lies on a profile's points: before the point `at`, at the part `part` of the way.
struct Place {
  std::size_t at = 1;
  double part = 0.0;
  double radius_mm = -1.0;
};

// The widest place at a height; a radius below 0 where the profile does not reach it.
Place place_at(const std::vector<ProfilePoint>& points, double height) {
  Place widest;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const ProfilePoint& a = points[i - 1];
    const ProfilePoint& b = points[i];
    if (height < std::min(a.height_mm, b.height_mm) ||
        height > std::max(a.height_mm, b.height_mm)) {
      continue;
    }
    const double rise = b.height_mm - a.height_mm;
    const double part = rise != 0.0 ? (height - a.height_mm) / rise : 0.0;
    const double radius = a.radius_mm + part * (b.radius_mm - a.radius_mm);
    if (radius > widest.radius_mm) widest = {i, part, radius};
  }
  return widest;
}

double length_up_to(const std::vector<ProfilePoint>& points, const Place& place) {
  double length = 0.0;
  for (std::size_t i = 1; i <= place.at; ++i) {
    const double step = std::hypot(points[i].radius_mm - points[i - 1].radius_mm,
                                   points[i].height_mm - points[i - 1].height_mm);
    length += i == place.at ? place.part * step : step;
  }
  return length;
}

Problem bad_band(const PaintedBand& band, std::size_t index, const std::string& what,
                 const std::string& next) {
  const std::string name =
      band.name.empty() ? "Band " + std::to_string(index + 1) : "The band '" + band.name + "'";
  return {Code::kBadValue, name + " " + what, next, ""};
}

std::optional<Problem> band_problem(const PaintedBand& band, std::size_t index, double top) {
  const auto on_vessel = [&](double height) {
    return std::isfinite(height) && height > 0.0 && height <= top;
  };
  if (!on_vessel(band.low_mm) || !on_vessel(band.high_mm.value_or(band.low_mm))) {
    return bad_band(band, index,
                    "does not lie on the vessel, which is " + fixed_text(top, 0) + " mm high.",
                    "Give its height above the shelf, in millimetres of the original.");
  }
  if (band.high_mm && *band.high_mm <= band.low_mm) {
    return bad_band(band, index, "has its upper line below its lower one.", "Exchange the two.");
  }
  if (band.repeats < 0 || band.repeats > kMostRepeats) {
    return bad_band(band, index, "cannot be repeated " + std::to_string(band.repeats) + " times.",
                    "Give how many times its motif goes round, or leave it out.");
  }
  return std::nullopt;
}

}  // namespace

Result<std::vector<BandPlan>> band_plans(const Profile& fired,
                                         const std::vector<PaintedBand>& bands,
                                         const BodyFigures& clay, Stage stage) {
  const std::vector<ProfilePoint> original = fired.sampled(kSteps);
  const std::vector<ProfilePoint> points = profile_at_stage(fired, clay, stage).sampled(kSteps);
  const auto highest = [](const std::vector<ProfilePoint>& outline) {
    return std::max_element(outline.begin(), outline.end(),
                            [](const auto& a, const auto& b) { return a.height_mm < b.height_mm; })
        ->height_mm;
  };
  const double top = highest(original);
  const double enlarged = highest(points) / top;
  std::vector<BandPlan> plans;
  for (std::size_t i = 0; i < bands.size(); ++i) {
    const PaintedBand& band = bands[i];
    if (auto problem = band_problem(band, i, top)) return *problem;
    const auto place = [&](double height) {
      return place_at(points, std::min(height * enlarged, highest(points)));
    };
    const auto line = [&](double height) {
      const double girth = 2.0 * std::numbers::pi * place(height).radius_mm;
      return BandLine{height * enlarged, girth, band.repeats > 0 ? girth / band.repeats : 0.0};
    };
    BandPlan plan{.band = band, .low = line(band.low_mm)};
    if (band.high_mm) {
      plan.high = line(*band.high_mm);
      plan.along_mm = std::abs(length_up_to(points, place(*band.high_mm)) -
                               length_up_to(points, place(band.low_mm)));
    }
    plans.push_back(std::move(plan));
  }
  return plans;
}

}  // namespace potshadow
