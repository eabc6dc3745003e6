// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "patterns/curves.h"
#include "patterns/pieces.h"

namespace potshadow::internal {
namespace {

constexpr double kRingMm = 22.0;  // how wide the card is all round

double half_of(const Measured& m) { return (m.high95 - m.low95) / 2.0; }

// The area between two arcs.
PatternArea arc_band(double inner, double outer, double to_deg) {
  PatternArea band{arc_points(outer, {0.0, to_deg}), false};
  const std::vector<PatternPoint> back = arc_points(inner, {to_deg, 0.0});
  band.points.insert(band.points.end(), back.begin(), back.end());
  return band;
}

// Writes the lines below each other into the ring's top, as large as it lets them be.
void write_on(Pattern& ring, double radius, double clear, const std::vector<std::string>& lines) {
  constexpr double kLetterWidth = 0.55;  // of its size, on average
  constexpr double kLine = 1.45;         // from line to line, of the size
  double size = 3.6;
  constexpr double kLeast = 1.8;
  double y = 0.0;
  for (; size >= kLeast; size -= 0.1) {
    double width = 0.0;
    for (const std::string& line : lines) {
      width = std::max(width, kLetterWidth * size * static_cast<double>(display_width(line)));
    }
    const double outer = radius + kRingMm;
    const double top = std::sqrt(std::max(outer * outer - width * width / 4.0, 0.0)) - 1.5;
    const double need = kLine * size * static_cast<double>(lines.size());
    y = top;
    if (top - need >= radius + clear && width < 1.8 * outer) break;
  }
  size = std::max(size, kLeast);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    y -= i == 0 ? size : kLine * size;
    PatternText& text = add_text(ring, lines[i], {0.0, y}, size);
    text.align = PatternAlign::kCentre;
    text.bold = i == 0;
  }
}

Pattern ring_for(const PatternFeature& feature, const PatternVessel& vessel, bool whole) {
  const double radius = feature.diameter->value / 2.0;
  const double half = half_of(*feature.diameter) / 2.0;
  Pattern ring;
  ring.name = std::string(whole ? "Ring" : "Half ring") + " for the " + feature.name;
  const double to_deg = whole ? 360.0 : 180.0;
  if (half > 0.0 && half < kRingMm && half < radius) {
    ring.areas.push_back(arc_band(radius - half, radius + half, to_deg));
  }
  if (whole) {
    ring.paths.push_back(circle_path({0.0, 0.0}, radius, PatternLine::kCut));
    ring.paths.push_back(circle_path({0.0, 0.0}, radius + kRingMm, PatternLine::kCut));
  } else {
    PatternPath path{arc_points(radius, {0.0, 180.0}), PatternLine::kCut, true};
    const std::vector<PatternPoint> outer = arc_points(radius + kRingMm, {180.0, 0.0});
    path.points.insert(path.points.end(), outer.begin(), outer.end());
    ring.paths.push_back(std::move(path));
  }
  // Where the four quarters are, so that two halves are seen to sit square.
  constexpr double kTickMm = 5.0;
  for (const double deg : {0.0, 90.0, 180.0, 270.0}) {
    if (deg > to_deg || (!whole && deg != 90.0)) continue;
    const double angle = deg * std::acos(-1.0) / 180.0;
    const double c = std::cos(angle);
    const double s = std::sin(angle);
    add_line(ring, {radius * c, radius * s}, {(radius + kTickMm) * c, (radius + kTickMm) * s},
             PatternLine::kMark);
  }
  const std::string unit(unit_name(vessel.unit));
  write_on(ring, radius, std::max(half, kTickMm) + 0.8,
           {upper_first(feature.name),
            "ø " + length_text(*feature.diameter, vessel.unit) + " " + unit, vessel.words});
  return ring;
}

// Whether a whole ring comes to its place from above or lies there.
bool slips_on(const PatternFeature& feature, const PatternVessel& vessel) {
  return std::none_of(vessel.features.begin(), vessel.features.end(),
                      [&](const PatternFeature& other) {
                        return other.diameter && other.height.value > feature.height.value &&
                               other.diameter->value > feature.diameter->value;
                      });
}

}  // namespace

Result<std::vector<Pattern>> ring_pieces(const PatternVessel& vessel,
                                         const PatternChoices& choices) {
  std::vector<Pattern> rings;
  for (const PatternFeature& feature : vessel.features) {
    constexpr double kLeastMm = 10.0;
    if (!feature.diameter || feature.diameter->value < kLeastMm) continue;
    if (choices.whole && slips_on(feature, vessel)) {
      rings.push_back(ring_for(feature, vessel, true));
      continue;
    }
    Pattern half = ring_for(feature, vessel, false);
    rings.push_back(half);
    rings.push_back(std::move(half));
  }
  if (rings.empty()) {
    return Problem{Code::kCannotBeAnswered, "The vessel has no diameter to make a ring for.",
                   "Mark its rim and its widest place, and measure again.", ""};
  }
  return rings;
}

}  // namespace potshadow::internal
