// SPDX-License-Identifier: MIT
// The size of a part of the pot at each stage, and whether photograph or clay is its greater doubt.
#pragma once

#include "clay/body_figures.h"
#include "core/measured.h"
#include "vessel/profile.h"

// Model: the target is the original's size, which the pot must have when it is fired. At an earlier
// stage it is target / (1 - S), with S the shrinkage from that stage to fired, a part of the length
// at that stage. The target's doubt is the photograph's and S's is the clay's; they are
// independent. Where the body has vertical and horizontal bars, wet heights follow the vertical
// ones and wet diameters the horizontal ones; a wet capacity follows both, by the square of the
// one across.
namespace potshadow {

struct StageSize {
  Measured measured;
  // Which part of the interval's square the clay brings, 0 to 1; the rest is the photograph's.
  double clay_share = 0.0;
};

// Returns whether heights and diameters go different ways from a stage to fired.
bool has_ways(const BodyFigures& figures, Stage stage);

// Returns the shrinkage from `stage` to fired; none for kFired.
LinearShrinkage to_fired(const BodyFigures& figures, Stage stage, SizeWay way);

// Returns a length, or a capacity in the cube of it, at a stage from its size when fired.
StageSize length_at_stage(const Measured& fired, const BodyFigures& figures, Stage stage,
                          SizeWay way);
StageSize volume_at_stage(const Measured& fired, const BodyFigures& figures, Stage stage);

// Return what a length, or a capacity, of a pot at a stage comes to when it is fired.
Measured length_when_fired(const Measured& now, const BodyFigures& figures, Stage stage,
                           SizeWay way);
Measured volume_when_fired(const Measured& now, const BodyFigures& figures, Stage stage);

// Returns the outer face at a stage from the fired one: heights by the upright shrinkage, radii by
// the other, and both by one where the body has no bars for each.
Profile profile_at_stage(const Profile& fired, const BodyFigures& figures, Stage stage);

}  // namespace potshadow
