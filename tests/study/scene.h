// SPDX-License-Identifier: MIT
// Random museum scenes from stated priors: what is true, and what a potter would type and mark.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "estimate/input.h"
#include "study/pot.h"

// Priors. Whatever the input states with a standard uncertainty is drawn as truth = stated + normal
// error of that uncertainty; the rest is even (from low to high) unless said otherwise.
//
// - Vessel: 8 families with drawn proportions (pot.cc); larger extent 60-450 mm, even in its
//   logarithm. Out of round: 0, 0.5, 1 or 2 % stated; A and B of r (1 + A cos 2a + B sin 2a) have
//   that standard deviation. Axis against shelf: 0.5 degrees in two directions. Wall 2.5 % of the
//   larger extent, 3-9 mm, uncertain by 15 %.
// - Camera: 24-85 mm (35 mm equivalent, even in the logarithm). In 70 of 100 the focal length is
//   EXIF's (2 %), k1 0 ± 0.02, principal point ± 0.5 % of the longer side; in 15 a phone class's
//   (6 %, the rest likewise); in 15 calibrated (0.4 %, k1 ± 0.002, principal point ± 0.1 %). Longer
//   side 2016, 3000, 4032 or 6000 pixels, 4:3 or 3:2, tall or wide. Elevation 5-40 degrees. The
//   vessel fills 40-80 % of the picture's tighter direction; less where the camera would come
//   nearer than 350 mm or a mark would leave the picture. Roll 2 degrees (normal).
// - Glass: in half of the scenes, always for things on it; 4-12 mm thick, ± 1; its direction 15
//   degrees (normal) off square to the view.
// - Marks: 10-24 on the rim, 6-12 on the foot, 25-60 a side; 0.02-0.06 % of the longer side (even
//   in the logarithm), normal, as stated.
// - References: sizes 15-60 % of the vessel's larger extent. Known to 0.1, 0.3 or 1 mm. Half of
//   those on a shelf have the vessel on a riser of 10-60 mm ± 1-5 (a fifth of these: the reference
//   is the higher one). Turned 25 degrees either way, leaning 5-45. Pane-to-axis known to 2-15 mm,
//   depth offset to 5-25 mm. Catalogued sizes known to 0.3-3 mm (5 % at most), guesses to 10 %,
//   distances to 5-20. A diameter was measured across any one direction of the oval.
// - Several photographs: 2-5 from directions all round, each at its own distance; the first has a
//   reference, each other one in four of ten. In six of ten scenes all share a lens, but for what
//   focusing changes: 0.3 % of the focal length, 0.002 of k1, and the principal point.
//
// A scene is drawn anew where less than a tenth of the wall shows in the outline of a side, or
// fewer than 5 marks on the rim or 3 on the foot could be seen: no potter keeps such a photograph.
namespace potshadow::study {

struct Scene {
  std::uint64_t seed = 0;
  std::uint64_t number = 0;
  std::string kind;   // "rectangle", ..., "two", "views"
  std::string place;  // "lying", ...; of "two" and "views" both, or empty
  Pot pot;
  TrueSizes truth;
  EstimateInput told;   // as the potter has it
  EstimateInput exact;  // the same with every value and mark true, and the same uncertainties
  double elevation_deg = 0.0;
  double distance_mm = 0.0;
  double eye_over_rim_mm = 0.0;  // of the first photograph
};

// A kind of scene and the reference's place.
struct KindOfScene {
  std::string kind;
  std::string place;
};

// Returns all of them, in a fixed order: scenes take turns.
std::vector<KindOfScene> kinds_of_scene();

// Returns scene `number` of a study. Independent of other scenes.
Scene random_scene(const KindOfScene& kind, std::uint64_t seed, std::uint64_t number);

}  // namespace potshadow::study
