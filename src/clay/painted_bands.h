// SPDX-License-Identifier: MIT
// Painted bands carried over to the new pot: lines by height, and motifs spaced round it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/body_figures.h"
#include "core/result.h"
#include "vessel/profile.h"

// Model: a band is a line round the original at a height above the shelf, or the strip between two,
// with a motif repeated a whole number of times. On the pot at any stage the line is as high as the
// clay makes it, its girth is the way round the outer face there, and a repeat takes an equal part
// of it. Where the profile passes one height more than once its widest place counts, which is the
// one that a brush meets. Lengths in millimetres.
namespace potshadow {

struct PaintedBand {
  std::string name;
  double low_mm = 0.0;            // on the original, fired
  std::optional<double> high_mm;  // of the strip's upper line; none for a single line
  int repeats = 0;                // of its motif round the pot; 0: it has none
};

struct BandLine {
  double height_mm = 0.0;
  double girth_mm = 0.0;
  double spacing_mm = 0.0;  // of one repeat; 0 without any
};

struct BandPlan {
  PaintedBand band;  // as it was asked for
  BandLine low;
  std::optional<BandLine> high{};
  double along_mm = 0.0;  // up the wall from the lower line to the upper one
};

inline constexpr int kMostRepeats = 10'000;

// Returns each band on a pot at `stage`, from the original's profile. Fails with kBadValue, naming
// the band: lines that do not lie on the vessel or are the wrong way up, repeats below 0 or above
// kMostRepeats.
Result<std::vector<BandPlan>> band_plans(const Profile& fired,
                                         const std::vector<PaintedBand>& bands,
                                         const BodyFigures& clay, Stage stage);

}  // namespace potshadow
