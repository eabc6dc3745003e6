// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "patterns/pieces.h"

namespace potshadow::internal {
namespace {

constexpr double kWidthMm = 60.0;
constexpr double kAboveMm = 8.0;   // over the highest feature
constexpr double kRulerMm = 11.0;  // the ruler's strip at the left edge
constexpr double kApartMm = 8.6;   // from one feature's words to the next
constexpr double kWordsMm = 17.0;  // where the words begin
constexpr double kNameSizeMm = 3.2;
constexpr double kFigureSizeMm = 2.7;

}  // namespace

Result<std::vector<Pattern>> stick_pieces(const PatternVessel& vessel) {
  double top = 0.0;
  for (const PatternFeature& feature : vessel.features) {
    top = std::max(top, feature.height.high95);
  }
  if (!(top > 0.0)) {
    return Problem{Code::kCannotBeAnswered, "The vessel has no height to make a stick for.",
                   "Measure the vessel again.", ""};
  }
  const double end = top + kAboveMm;
  const std::string unit(unit_name(vessel.unit));
  Pattern stick;
  stick.name = "Height stick";
  stick.paths.push_back(
      {{{0.0, 0.0}, {kWidthMm, 0.0}, {kWidthMm, end}, {0.0, end}}, PatternLine::kCut, true});
  std::vector<double> wanted;
  for (const PatternFeature& feature : vessel.features) {
    wanted.push_back(std::max(feature.height.value, kApartMm / 2.0));
    const double half = (feature.height.high95 - feature.height.low95) / 2.0;
    if (!(half > 0.0)) continue;
    const double low = std::max(feature.height.value - half, 0.0);
    const double high = feature.height.value + half;
    stick.areas.push_back(
        {{{kRulerMm, low}, {kWidthMm, low}, {kWidthMm, high}, {kRulerMm, high}}, false});
  }
  const std::vector<double> places = spread(wanted, kApartMm, end - kApartMm / 2.0);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const PatternFeature& feature = vessel.features[i];
    const double h = feature.height.value;
    // The line at the height meets the stick's right edge, which is held to the pot.
    constexpr double kNotchMm = 6.0;
    if (h > 0.0) {
      add_line(stick, {kRulerMm, h}, {kWordsMm - 2.0, h}, PatternLine::kMark);
      add_line(stick, {kWidthMm - kNotchMm, h}, {kWidthMm, h}, PatternLine::kMark);
      add_line(stick, {kWordsMm - 2.0, h}, {kWordsMm - 0.8, places[i]}, PatternLine::kMark);
    }
    add_text(stick, feature.name, {kWordsMm, places[i] + 0.5}, kNameSizeMm).bold = true;
    std::string figures;
    if (h > 0.0) figures = length_text(feature.height, vessel.unit);
    if (feature.diameter) {
      figures += (figures.empty() ? "ø " : ", ø ") + length_text(*feature.diameter, vessel.unit);
    }
    PatternText& text = add_text(stick, figures, {kWordsMm, places[i] - 3.2}, kFigureSizeMm);
    text.most_width_mm = kWidthMm - kWordsMm - 1.0;
  }
  // The ruler.
  const bool inches = vessel.unit == LengthUnit::kInch;
  const double step = inches ? kMmPerInch / 8.0 : 1.0;
  const int half_every = inches ? 4 : 5;
  const int whole_every = inches ? 8 : 10;
  const double figure_step = inches ? 1.0 : (vessel.unit == LengthUnit::kCm ? 1.0 : 10.0);
  for (int k = 1; k * step < end - 0.5; ++k) {
    const bool whole = k % whole_every == 0;
    const double length = whole ? 5.0 : (k % half_every == 0 ? 3.6 : 2.2);
    add_line(stick, {0.0, k * step}, {length, k * step}, PatternLine::kMark);
    if (!whole || k * step > end - 2.0) continue;
    PatternText& figure = add_text(stick, fixed_text(figure_step * k / whole_every, 0),
                                   {kRulerMm - 0.4, k * step - 0.9}, 2.3);
    figure.align = PatternAlign::kRight;
  }
  add_text(stick, unit, {5.6, 0.9}, 2.3);
  return std::vector<Pattern>{std::move(stick)};
}

}  // namespace potshadow::internal
