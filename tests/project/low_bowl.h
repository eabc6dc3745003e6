// SPDX-License-Identifier: MIT
// The measurement of one invented bowl, for tests of what is written about it.
#pragma once

#include "project/measure.h"

namespace potshadow {

// Returns a bowl without a neck as it could have been measured: profile, camera, fit and notes, but
// no sizes, which each test adds.
inline Measurement low_bowl() {
  Project project;
  project.name = "Low bowl";
  project.photos.resize(1);
  project.photos[0].file = "bowl.jpg";
  const Profile profile =
      Profile::from_controls({{40.0, 0.0}, {70.0, 20.0}, {95.0, 50.0}, {100.0, 80.0}}).value();
  const MarkResidual rim{"rim 7", {MarkKind::kRim, 0, 6}, 2.5, 2.75};
  const MarkResidual left{"left 3", {MarkKind::kLeft, 0, 2}, 1.5, 1.75};
  Answer answer{.sizes = {},
                .proportions = {},
                .profile = profile,
                .rows = {{0.0, 40.0, 0.25}, {80.0, 100.0, 1.0 / 3.0}},
                .photos = {{.camera = {26.1, 0.2, 812.75, 17.25, 0.5}, .overlay = {}}},
                .fit = {0.8, 120, 1.1, {rim, left}},
                .notes = {{"A plain note.", false}, {"A \"doubtful\" note.", true}}};
  Measurement measurement{project, 0, answer, std::nullopt};
  measurement.photo_indices = {0};
  return measurement;
}

}  // namespace potshadow
