// SPDX-License-Identifier: MIT
// The build plan of a measured vessel: from what was measured to a plan, and the plan in words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/build_plan.h"
#include "core/result.h"
#include "core/text.h"
#include "project/measure.h"

namespace potshadow {

// What the potter may choose; what is absent is the project's choice (plan_choices), else it
// follows from vessel and clay.
struct PlanChoices {
  std::optional<double> wall_mm;      // wet, at the foot; else the project's wall, enlarged
  std::optional<double> wall_rim_mm;  // wet, at the rim; else as at the foot
  std::optional<double> wall_sd_mm;
  std::optional<double>
      coil_mm;  // as rolled; else 12 mm, or one and a half walls where that is more
  std::optional<double> allowance_percent;
  std::optional<double> cradle_mm;  // height of its line
  Stage band_stage = Stage::kWet;   // at what size painted bands are spaced
};

// Returns what the project itself chooses.
PlanChoices plan_choices(const Project& project);

// Returns the project's painted bands.
std::vector<PaintedBand> painted_bands(const std::vector<ProjectBand>& bands);

// Returns the plan of the vessel at wet size, with the project's painted bands and the
// measurement's doubtful notes. Fails with kCannotBeAnswered where nothing says how big the vessel
// is or how much the clay shrinks, and as build_plan and band_plans do.
Result<BuildPlan> plan_for(const Measurement& measurement, const PlanChoices& choices);

// Returns how much larger than the fired pot the wet one is: "Every length is that of the wet pot,
// 1.136 times the fired one.", with a figure for each way where the clay has two.
std::string enlargement_words(const BodyFigures& figures);

// Returns "12° out", "8° in" or "upright".
std::string lean_words(double degrees);
// Return one or two sentences each: the cradle to press the foot into; where the wall is likeliest
// to sag; how much there is to roll.
std::string cradle_sentence(const BuildPlan& plan, LengthUnit unit);
std::string sag_sentence(const BuildPlan& plan, LengthUnit unit);
std::string coils_sentence(const BuildPlan& plan);

// Returns the plan for a terminal. `file` is the project's file, for a vessel without a name.
std::string plan_text(const Measurement& measurement, const BuildPlan& plan,
                      const std::string& file, LengthUnit unit);

// Returns the plan as JSON, in millimetres, grams and millilitres: { "format": 1, "plan": ... }.
std::string plan_json(const Measurement& measurement, const BuildPlan& plan,
                      const std::string& file);

}  // namespace potshadow
