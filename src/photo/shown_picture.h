// SPDX-License-Identifier: MIT
// A photograph made ready to be looked at: turned, brightened, and halved step by step.
#pragma once

#include <cstddef>
#include <memory>
#include <stop_token>
#include <vector>

#include "core/result.h"
#include "photo/decode.h"

// A screen shows far fewer pixels than a photograph has, so it is kept at every halving (level 0 in
// full, level 1 with half the width, ...) and drawn from the level that fits. Only pixels for the
// eye are changed here; what is measured is the picture itself, and the file is never touched.
//
// Frame: pixel (x, y) of level n is the mean of the 2^n x 2^n pixels of level 0 from (x 2^n, y 2^n)
// on, so that its top left corner lies there exactly; at the right and the lower side fewer pixels
// are left. Sides are halved rounding up.
//
// The order is local contrast, gamma, brightness, edges. Local contrast is histogram equalisation
// within tiles, each step of brightness held back from rising too steeply (Zuiderveld, "Contrast
// limited adaptive histogram equalization", Graphics Gems IV, 1994), and blended in by its
// strength. Edges are drawn anew for every level, so that lines are some two pixels wide at every
// zoom, and as dark as they are steep among the other edges of the same level.
namespace potshadow {

// How the eye wants it. Each default changes nothing.
struct ViewAdjust {
  double brightness = 0.0;      // -1 (black) .. 1 (white); added to every channel
  double gamma = 1.0;           // 0.25 .. 4; above 1 lifts the shadows
  double local_contrast = 0.0;  // 0 .. 1; contrast raised within each neighbourhood
  bool edges = false;           // black lines on white where brightness changes
  friend bool operator==(const ViewAdjust&, const ViewAdjust&) = default;
};

// Returns the picture turned clockwise by that many quarter turns (any number; 4 is none, -1 one
// anticlockwise). The facts stay those of the file. Without a turn it shares its pixels. A picture
// without pixels where memory runs out, which ShownPicture::of reports. Slow: some 10 ms for 12
// megapixels.
Picture turned_picture(const Picture& picture, int quarter_turns);

// Immutable; copies share the pixels.
class ShownPicture {
 public:
  // Rows of BGR bytes; valid while the ShownPicture lives.
  struct Pixels {
    const unsigned char* first = nullptr;
    std::size_t bytes_per_row = 0;
    int width_px = 0;
    int height_px = 0;
  };

  // Returns the picture as it is to be shown. Without adjustments level 0 shares the pixels of
  // `picture`; with some, one copy is made, and a third as much again while it is made. Fails with
  // kCannotBeAnswered where `stop` was requested meanwhile (looked at between the steps),
  // kBadValue for an adjustment outside its range, kFileTooLarge where memory runs out or the
  // picture has no pixels. Slow: some 10 ms for 12 megapixels, more with local contrast or edges.
  static Result<ShownPicture> of(const Picture& picture, const ViewAdjust& adjust,
                                 const std::stop_token& stop = {});

  int width_px() const;  // of level 0
  int height_px() const;
  // Levels until both sides are at most 512 pixels; at least 1.
  int levels() const;
  // Returns the part of a level from (x, y) on, at most width x height pixels, cut at the level's
  // edge. Requires 0 <= level < levels() and (x, y) inside.
  Pixels part(int level, int x, int y, int width, int height) const;
  // Returns all of a level. Requires 0 <= level < levels().
  Pixels whole(int level) const;

 private:
  struct Levels;
  explicit ShownPicture(std::shared_ptr<const Levels> levels);
  std::shared_ptr<const Levels> levels_;
};

}  // namespace potshadow
