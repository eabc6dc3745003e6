// SPDX-License-Identifier: MIT
// What went into an estimate, drawn anew by chance.
#pragma once

#include <array>
#include <vector>

#include "core/propagation.h"
#include "estimate/answer.h"
#include "estimate/input.h"

// Internal to `estimate`. Every figure moves by its own standard uncertainty, and the marks as the
// things they are on do: see monte_carlo.h for what is drawn and what is not.
namespace potshadow::internal {

// Returns how many times as uncertain as stated the marks are. As for the first-order intervals:
// where they scatter more than stated they count as less precise.
double widening(const Answer& first);

// The seen vessel in broad lines: where its axis runs and how the rim's ellipse lies on it.
struct BroadLines {
  PhotoPoint rim_centre;
  PhotoPoint foot_centre;
  double along_x = 0.0;  // unit vector from the foot to the rim
  double along_y = -1.0;
  double rim_across_px = 1.0;  // half axes of the rim
  double rim_along_px = 1.0;

  double across(const PhotoPoint& from, const PhotoPoint& to) const {
    return (to.x_px - from.x_px) * -along_y + (to.y_px - from.y_px) * along_x;
  }
  double along(const PhotoPoint& from, const PhotoPoint& to) const {
    return (to.x_px - from.x_px) * along_x + (to.y_px - from.y_px) * along_y;
  }
};

// Draws an input about what its own answer was; the input must outlive it.
class Redraw {
 public:
  Redraw(const EstimateInput& input, const Answer& first);

  // Returns an input with every deviation multiplied by `size`.
  EstimateInput drawn(DrawRandom& random, double size) const;

 private:
  // One photograph as the first estimate had it.
  struct Photo {
    BroadLines seen;
    double focal_px = 1.0;
    double widening = 1.0;
    double centre_sd_px = 1.0;
  };
  // Ovalness of body, foot and rim in cos 2a and sin 2a.
  struct Oval {
    std::array<double, 2> body{};
    std::array<double, 2> foot{};
    std::array<double, 2> rim{};
  };

  static void draw_photo(DrawRandom& random, double size, const Photo& of, const Oval& oval,
                         double focal_part, PhotoInput& photo);

  static double moved_length(double mm, double by_mm);

  static void move_place(DrawRandom& random, double size, FlatReference& seat);

  // The outline is seen from one side: the body there is wider or narrower as a whole.
  static void widen_body(const BroadLines& seen, double part, Marks& marks);

  // The foot's ellipse is as flat as the rim's.
  static void widen_ring(const BroadLines& seen, const PhotoPoint& centre, double cos2, double sin2,
                         std::vector<PhotoPoint>& marks);

  const EstimateInput& input_;
  std::vector<Photo> photos_;
};

}  // namespace potshadow::internal
