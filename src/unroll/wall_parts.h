// SPDX-License-Identifier: MIT
// The parts of the wall that are laid flat, and each of them as a piece with its words.
#pragma once

#include <string>
#include <vector>

#include "clay/painted_bands.h"
#include "core/result.h"
#include "core/text.h"
#include "unroll/strip_pattern.h"
#include "unroll/unroll.h"

namespace potshadow {

enum class WallParts {
  kWhole,   // the face as one picture
  kStrips,  // as few strips as keep to the wall within a millimetre
  kBands    // a strip between the two lines of each painted band that has two
};

struct WallWish {
  WallParts parts = WallParts::kWhole;
  std::vector<PaintedBand> bands{};   // their lines are drawn on every part
  int repeats = 0;                    // of a motif; 0: a band's own
  double front_rad = 0.0;             // azimuth in the middle
  Enlargement size{};                 // of the pot to make
  bool all_round = false;             // the parts that no photograph shows, too
  LengthUnit unit = LengthUnit::kMm;  // of the words
};

// A part of the wall, laid flat.
struct FlatPart {
  std::string name;  // "Strip 2"
  Development flat;
  int repeats = 0;
  Unrolled picture;
};

// Returns the parts to lay flat, without their pictures; none with kBands where no band has two
// lines. Fails as strip_between does.
Result<std::vector<FlatPart>> wall_parts(const PaintedFace& face, const WallWish& wish);

// Puts the picture in; the part is cut down to what is seen, unless the wish says all_round. Fails
// as unroll does. Slow: a second for twenty million pixels.
Result<Done> add_picture(const PaintedFace& face, const WallWish& wish,
                         const std::vector<UnrollPhoto>& photos, double px_per_mm, FlatPart& part);

// Returns the part as a piece, with what is to be known of it below. Requires its picture.
Pattern piece_of(const PaintedFace& face, const WallWish& wish, const FlatPart& part);

// Returns how much of the whole girth is seen along the part, in percent; "Strip 2: 41 % of it is
// seen."
double seen_percent(const FlatPart& part);
std::string seen_words(const FlatPart& part);

// What the sheets of the pieces are called, and how they are used.
struct WallSheetWords {
  std::string title;
  std::vector<std::string> how;
};
WallSheetWords wall_sheet_words(WallParts parts);

// Returns the pixels to the millimetre at which the photograph that comes nearest keeps all it has,
// from 2 to 20.
double own_fineness(const std::vector<UnrollPhoto>& photos, const PaintedFace& face,
                    const Enlargement& size);

}  // namespace potshadow
