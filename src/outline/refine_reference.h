// SPDX-License-Identifier: MIT
// A card's corners and a disc's edge in a picture, to a fraction of a pixel, from rough clicks.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/units.h"
#include "photo/decode.h"

// Model. Each side of a card is a parabola across its chord: straight, but for the lens, which
// bends it slightly. A disc's edge is an ellipse; near a rough one it differs by five harmonics.
// 1. Edges are searched along the normals within reach of the rough line. The line that most of
//    them agree on wins; clear ones count more, as do those whose inner side has the colour of the
//    card's middle, and those near the clicks.
// 2. Along normals of that line a blurred step is fitted in light (sRGB's curve undone, for a
//    blurred edge is even only there), and the curve is fitted to all places, outliers weighed down
//    (Tukey's weights). A corner is where the curves of its two sides meet. Samples near the ends
//    are left out, so a rounded corner is where its EDGES meet.
// Uncertainty: the fit's covariance, from the scatter about the curve, made larger where
// neighbouring places err alike; besides, each edge may be off as a whole by kEdgeBiasPx.
// Pixels: (0, 0) at the centre of the top-left one of the upright picture.
// Failure: a side without a clear edge leaves its two corners as clicked, with a doubtful note.
// Sources: Beaton & Tukey, Technometrics 16(2), 1974 (weights); Fischler & Bolles, CACM 24(6), 1981
// (agreement of samples); JCGM 100 (covariance of a fit).
namespace potshadow {

// How far a click may be off: this part of the picture's longer side.
inline constexpr double kRoughReach = 0.015;

// What one edge may be off as a whole: a phone's own tone curve is not quite sRGB's.
inline constexpr double kEdgeBiasPx = 0.02;

struct RefinedPoint {
  PhotoPoint at;
  double sd_px = 0.0;    // standard uncertainty, root mean square of x and y; 0 where not refined
  bool refined = false;  // false: as clicked
};

struct RefinedCard {
  std::array<RefinedPoint, 4> corners;  // in the order of the clicks
};

struct RefinedDisc {
  std::vector<RefinedPoint> edge;  // round the edge, wherever it is clear; all refined
};

// Returns the corners of a card (or any flat thing with four straight sides) near the clicks, which
// go round it either way. Its sides must be 20 px long at least. Fails with kBadMarks for corners
// that are not finite, outside the picture, crossed or too near one another; with kCannotBeAnswered
// where no side has a clear edge; with kBadValue for an empty picture. Slow: some 50 ms.
Result<RefinedCard> refine_card(const Picture& picture, const std::array<PhotoPoint, 4>& clicks);

// Returns points round a disc's edge, at most 60, from at least five rough ones. Each sd allows for
// what all of them share. Fails with kTooFewMarks for fewer, kBadMarks where they lie on no
// ellipse, outside the picture, or the ellipse is under 20 px across; otherwise as refine_card.
// Slow: some 50 ms.
Result<RefinedDisc> refine_disc(const Picture& picture, const std::vector<PhotoPoint>& clicks);

}  // namespace potshadow
