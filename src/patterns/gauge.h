// SPDX-License-Identifier: MIT
// The card to cut: its outline along the profile, its ruler and the places named on it.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "core/text.h"
#include "patterns/band.h"
#include "patterns/pattern.h"
#include "vessel/profile.h"

// Frame: the vessel's own half-plane at the size to make, in millimetres: radius from the centre
// line to the right, height up from the bench. The card lies outside the vessel: to the right of
// the profile, down to the bench, up beyond the rim, and out to a straight back edge that carries
// the ruler. Above the rim its edge runs straight up.
namespace potshadow {

// How far the back edge stands off the vessel's widest place, and the top edge off its rim.
inline constexpr double kCardBackMm = 36.0;
inline constexpr double kCardAboveRimMm = 7.0;

// A place on the profile that the card names: "foot", "widest", "neck", "rim".
struct GaugeName {
  std::string words;
  double height_mm = 0.0;
};

struct Gauge {
  std::vector<ProfilePoint> profile;  // base first, steps too short to see
  std::vector<ProfilePoint> card;     // closed outline
  std::vector<ProfilePoint> band;     // closed outline of the 95 % interval; may be empty
  std::vector<GaugeName> names;       // from the bench up
  double least_radius_mm = 0.0;       // of the profile and the band
  double right_mm = 0.0;              // radius of the card's back edge
  double bottom_mm = 0.0;             // lowest place drawn, 0 unless the profile dips below
  double top_mm = 0.0;                // height of the card's top edge
};

// Returns the gauge of a profile at fired size, enlarged for the clay. Fails with kBadValue: a
// vessel without extent, a band that is not finite or has a negative uncertainty.
Result<Gauge> gauge_of(const Profile& fired, const std::vector<ProfileBandRow>& band,
                       const TotalShrinkage& shrinkage);

// Returns the least or the greatest radius of the card's left edge (profile, and the straight edge
// above the rim) between two heights. Where the edge does not reach them, the back edge's radius.
double least_edge_radius(const Gauge& gauge, double low_mm, double high_mm);
double greatest_edge_radius(const Gauge& gauge, double low_mm, double high_mm);

// How a gauge is cut.
struct GaugeWishes {
  LengthUnit unit = LengthUnit::kMm;
  // The card reaches over the rim to the centre line, where it meets its mirrored half.
  bool with_arm = false;
  std::string words{};  // written along its back
};

// Returns the card as a pattern in the gauge's own frame.
Pattern gauge_pattern(const Gauge& gauge, const GaugeWishes& wishes);

}  // namespace potshadow
