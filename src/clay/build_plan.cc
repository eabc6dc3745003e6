// SPDX-License-Identifier: MIT
#include "clay/build_plan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "clay/plan_parts.h"
#include "clay/stages.h"
#include "core/propagation.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kMm3PerMl = 1000.0;

std::optional<Problem> request_problem(const PlanRequest& request) {
  const double thickest = std::max(request.wall.foot_mm, request.wall.rim_mm);
  if (!std::isfinite(request.coil_mm) || request.coil_mm < thickest) {
    return Problem{Code::kBadValue,
                   "A coil of " + fixed_text(request.coil_mm, 1) + " mm cannot make a wall of " +
                       fixed_text(thickest, 1) + " mm.",
                   "Roll coils one and a half to two times as thick as the wall.", ""};
  }
  double widest = 0.0;
  for (const ProfilePoint& point : request.wet_profile.controls()) {
    widest = std::max(widest, point.radius_mm);
  }
  if (request.coil_mm > widest) {
    return Problem{Code::kBadValue,
                   "A coil of " + fixed_text(request.coil_mm, 1) +
                       " mm is too thick for a pot of " + fixed_text(widest, 0) + " mm radius.",
                   "Give the coil's diameter in millimetres.", ""};
  }
  const double allowance = request.allowance_percent;
  if (!std::isfinite(allowance) || allowance < 0.0 || allowance > 100.0) {
    return Problem{Code::kBadValue,
                   "An allowance of " + fixed_text(allowance, 0) + " % for scraping cannot be.",
                   "Give 0 to 100 percent of the clay in the pot.", ""};
  }
  if (!std::isfinite(request.wall_sd_mm) || request.wall_sd_mm < 0.0 ||
      request.wall_sd_mm > thickest / 2.0) {
    return Problem{
        Code::kBadValue,
        "The wall cannot be known to within " + fixed_text(request.wall_sd_mm, 1) + " mm.",
        "Give a standard deviation of up to half its thickness.", ""};
  }
  return std::nullopt;
}

// How the volumes of clay and of the room inside change with the wall's thickness, in mm3 for a
// millimetre. By central difference; zero where it cannot be thinner or thicker.
struct WallSlopes {
  double clay = 0.0;
  double room = 0.0;
};

WallSlopes slopes_of(const PlanRequest& request) {
  constexpr double kStepMm = 0.1;
  WallThickness thin = request.wall;
  WallThickness thick = request.wall;
  const double step = std::min({kStepMm, thin.foot_mm / 2.0, thin.rim_mm / 2.0});
  thin.foot_mm -= step;
  thin.rim_mm -= step;
  thick.foot_mm += step;
  thick.rim_mm += step;
  const Result<Wall> less = wall_of(request.wet_profile, thin);
  const Result<Wall> more = wall_of(request.wet_profile, thick);
  if (!less || !more) return {};
  return {(clay_volume(*more) - clay_volume(*less)) / (2.0 * step),
          (more->capacity_mm3 - less->capacity_mm3) / (2.0 * step)};
}

// An interval that few bars made wide counts as wide.
UncertainInput input_of(double value, double sd, double half95) {
  return {value, std::max(sd, half95 / kNormal95)};
}

UncertainInput input_of(const ClayValue& value) {
  const Measured& m = value.measured;
  return input_of(m.value, m.sd, (m.high95 - m.low95) / 2.0);
}

// Works the weights out to first order from the wall, the densities, the water, the loss in the
// fire and the shrinkage.
void add_weights(const PlanRequest& request, const Wall& wall, BuildPlan& plan) {
  const double clay_ml = clay_volume(wall) / kMm3PerMl;
  const double room_ml = wall.capacity_mm3 / kMm3PerMl;
  const WallSlopes slopes = slopes_of(request);
  const double more = 1.0 + request.allowance_percent / 100.0;
  const auto shrinkage = [&](SizeWay way) {
    const LinearShrinkage found = to_fired(request.clay, Stage::kWet, way);
    return input_of(found.fraction, found.sd, found.half95);
  };
  const bool ways = has_ways(request.clay, Stage::kWet);
  enum : std::size_t { kWall, kDensity, kWater, kLoss, kAcross, kUpright };
  const std::array<UncertainInput, 6> inputs{{{0.0, request.wall_sd_mm},
                                              input_of(request.clay.wet_density),
                                              input_of(request.clay.water_percent),
                                              input_of(request.clay.ignition_percent),
                                              shrinkage(SizeWay::kAcross),
                                              shrinkage(SizeWay::kUpright)}};
  const auto clay_g = [&](std::span<const double> x) {
    return (clay_ml + slopes.clay / kMm3PerMl * x[kWall]) * x[kDensity];
  };
  const auto dry_part = [](std::span<const double> x) { return 1.0 / (1.0 + x[kWater] / 100.0); };
  const auto empty_g = [&](std::span<const double> x) {
    return clay_g(x) * dry_part(x) * (1.0 - x[kLoss] / 100.0);
  };
  const auto fired_ml = [&](std::span<const double> x) {
    // One shrinkage for both ways is one doubt.
    const double upright = 1.0 - x[ways ? kUpright : kAcross];
    return (room_ml + slopes.room / kMm3PerMl * x[kWall]) * std::pow(1.0 - x[kAcross], 2) * upright;
  };
  const auto measured = [&](const Model& model) {
    const FirstOrder result = first_order(model, inputs);
    return normal_measured(result.value, result.sd);
  };
  plan.weigh_out_g = measured([&](std::span<const double> x) { return more * clay_g(x); });
  plan.dry_g = measured([&](std::span<const double> x) { return more * clay_g(x) * dry_part(x); });
  plan.water_g =
      measured([&](std::span<const double> x) { return more * clay_g(x) * (1.0 - dry_part(x)); });
  plan.empty_g = measured(empty_g);
  plan.capacity_ml = measured(fired_ml);
  // A millilitre of water weighs a gram to within 0.3 % up to 25 °C.
  plan.brim_full_g = measured([&](std::span<const double> x) { return empty_g(x) + fired_ml(x); });
}

void add_notes(const PlanRequest& request, BuildPlan& plan) {
  const double thickest = std::max(request.wall.foot_mm, request.wall.rim_mm);
  constexpr double kGoodRatio = 1.5;  // teaching texts: coils of 1.5 to 2 times the finished wall
  if (request.coil_mm < kGoodRatio * thickest) {
    plan.notes.push_back(
        {"A coil less than one and a half times as thick as the wall leaves little "
         "to press and scrape.",
         true});
  }
  if (request.clay.wet_density.source != FigureSource::kMaker &&
      request.clay.water_percent.source == FigureSource::kHandbook) {
    plan.notes.push_back(
        {"The weights rest on a handbook's range of water; weigh a bar wet and dry "
         "to know them better.",
         false});
  }
}

}  // namespace

Result<BuildPlan> build_plan(const PlanRequest& request) {
  // First, for coils that nobody chose follow from the wall.
  const Result<Wall> wall = wall_of(request.wet_profile, request.wall);
  if (!wall) return wall.problem();
  if (auto problem = request_problem(request)) return *problem;
  const Result<Cradle> cradle = cradle_of(*wall, request.wet_profile, request.cradle_height_mm);
  if (!cradle) return cradle.problem();
  BuildPlan plan{.request = request, .cradle = {}};
  plan.cradle = *cradle;
  plan.coils = coils_of(cradle->line_mm, *wall, request.coil_mm);
  plan.sag = sag_of(*wall, cradle->line_mm);
  plan.clay_mm3 = clay_volume(*wall);
  add_weights(request, *wall, plan);
  add_notes(request, plan);
  return plan;
}

}  // namespace potshadow
