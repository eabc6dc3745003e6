// SPDX-License-Identifier: MIT
// One scene put to the estimate, and what came of it against the truth.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/measured.h"
#include "estimate/answer.h"
#include "study/scene.h"

// The bound that errors are held against is the Bayesian Cramer-Rao bound: the standard deviation
// that the model's own Fisher information, priors included, gives at the truth. It is read off an
// estimate from the marks without noise and the true values, with the same stated uncertainties.
namespace potshadow::study {

struct SizeResult {
  SizeName name = SizeName::kHeight;
  std::optional<double> truth;  // none where the vessel has no such size
  std::optional<Measured> found;
  std::optional<double> bound_sd;
  std::optional<double> noiseless;  // what the estimate gives without noise

  bool both() const { return truth && found; }
  bool covered() const { return both() && *truth >= found->low95 && *truth <= found->high95; }
};

// What following the first advice gave.
struct Followed {
  std::string what;
  SizeName size = SizeName::kHeight;
  double sd_before = 0.0;
  double sd_promised = 0.0;
  std::optional<double> sd_got;  // none where the new input had no answer
};

struct Trial {
  // Of the scene
  std::uint64_t number = 0;
  std::string kind;
  std::string place;
  std::string family;
  bool round_base = false;
  double larger_mm = 0.0;
  double oval_percent = 0.0;
  double focal_35mm = 0.0;
  double focal_sd_percent = 0.0;
  double elevation_deg = 0.0;
  double distance_mm = 0.0;
  double eye_over_rim_mm = 0.0;
  bool glass = false;
  std::size_t views = 1;
  double mark_sd_px = 0.0;
  // Of the answer
  bool answered = false;
  std::string problem;        // where there is none
  std::string exact_problem;  // where the marks without noise have none
  std::string notes;          // doubtful ones
  ScaleSource scale = ScaleSource::kKnown;
  double scatter_ratio = 0.0;
  double rms_px = 0.0;
  std::vector<SizeResult> sizes{};  // all eight
  std::optional<Followed> followed{};
  double seconds = 0.0;  // of the one estimate
};

// Returns what came of the scene. With `advice` the first advice is followed too.
Trial tried(const Scene& scene, bool advice);

// Returns the input as an advice would have it: the uncertainty it speaks of lessened, and the
// value drawn anew about the truth by the lesser one. None where it speaks of nothing in the input.
std::optional<EstimateInput> following(const Scene& scene, const Advice& advice);

}  // namespace potshadow::study
