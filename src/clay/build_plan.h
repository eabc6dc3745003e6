// SPDX-License-Identifier: MIT
// How to build the pot: cradle, coil after coil, and the clay and water to weigh out.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/body_figures.h"
#include "clay/painted_bands.h"
#include "clay/wall.h"
#include "core/measured.h"
#include "core/result.h"
#include "vessel/profile.h"

// Model: the pot is built at the wet size of `wet_profile`, as it stands: what is doubtful in the
// weights is the potter's wall and the clay, not the photograph. The lower part is pressed into a
// cradle (puki) from one flat piece; above its line lie coils. A round coil of diameter c keeps its
// cross-section when it is pressed into the wall: each takes pi c^2 / 4 of it, and is as long as
// its way round at the middle of that piece of wall (Pappus). The last one may be thinner.
//
// Where the clay shrinks upright and across by figures of their own, `wet_profile` has been
// enlarged by both (stages.h), and the fired capacity comes of both.
//
// The wall leans outward (+) or inward (-) of upright, in degrees. Where it turns inward fastest
// and then leans in, wet clay is likeliest to sag.
namespace potshadow {

struct PlanRequest {
  Profile wet_profile;
  WallThickness wall;                      // wet
  double wall_sd_mm = 0.5;                 // as evenly as hands build (common practice, no source)
  double coil_mm = 12.0;                   // diameter of a coil as rolled
  double allowance_percent = 10.0;         // of clay that is scraped off or left over
  std::optional<double> cradle_height_mm;  // of its line; chosen if absent
  BodyFigures clay;
};

struct Cradle {
  double line_mm = 0.0;      // height of its edge above the bench
  double diameter_mm = 0.0;  // of the pot at that line: the cradle's mouth
  double depth_mm = 0.0;     // inside, from its mouth to its floor
  double floor_mm = 0.0;     // diameter of the pot's foot
  double clay_mm3 = 0.0;     // of the flat piece that is pressed into it
};

struct Coil {
  int number = 1;
  double low_mm = 0.0;  // the outer face between these heights
  double high_mm = 0.0;
  double girth_mm = 0.0;   // round the outer face, at the middle
  double length_mm = 0.0;  // to roll
  double lean_deg = 0.0;   // outward of upright
  double part = 1.0;       // of a whole coil's thickness; less for the last one
  double clay_mm3 = 0.0;
};

struct Sag {
  double height_mm = 0.0;  // where the wall turns inward fastest
  double below_deg = 0.0;  // how it leans just below and just above
  double above_deg = 0.0;
  double steepest_mm = 0.0;  // where it leans inward most, and by how much
  double steepest_deg = 0.0;
};

struct BuildPlan {
  PlanRequest request;  // as it was asked for
  Cradle cradle;
  std::vector<Coil> coils{};
  std::optional<Sag> sag{};       // none where it never leans inward
  double clay_mm3 = 0.0;          // floor and wall, wet, nothing to spare
  Measured weigh_out_g{};         // wet clay with the allowance
  Measured dry_g{};               // the dry materials of it
  Measured water_g{};             // and the water
  Measured empty_g{};             // the fired pot
  Measured capacity_ml{};         // fired, to the brim
  Measured brim_full_g{};         // fired, with water
  std::vector<BandPlan> bands{};  // painted ones, where there are any, at `band_stage`
  Stage band_stage = Stage::kWet;
  std::vector<Note> notes{};
};

// Returns the plan, without bands. Fails with kBadValue: a wall as wall_of says, a coil thinner
// than the wall or wider than the pot, an allowance outside 0 to 100 %, a cradle that is larger
// than the vessel or from which it could not be lifted.
Result<BuildPlan> build_plan(const PlanRequest& request);

}  // namespace potshadow
