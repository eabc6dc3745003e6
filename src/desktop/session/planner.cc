// SPDX-License-Identifier: MIT
#include "desktop/session/planner.h"

#include <chrono>
#include <stop_token>
#include <utility>

#include "project/plan_report.h"

namespace potshadow {

void Planner::want(const std::shared_ptr<const Measurement>& measurement, Stage bands_at) {
  if (measurement == wanted_ && bands_at == bands_at_) return;
  wanted_ = measurement;
  bands_at_ = bands_at;
  view_.current = false;
  if (!measurement) {
    planning_.cancel();
    view_.busy.reset();
    return;
  }
  view_.busy = Busy{"Working out the plan", std::chrono::steady_clock::now()};
  planning_.request([measurement, bands_at](const std::stop_token&) {
    PlanChoices choices;
    choices.band_stage = bands_at;
    return plan_for(*measurement, choices);
  });
}

bool Planner::take() {
  std::optional<Result<BuildPlan>> done = planning_.take();
  if (!done) return false;
  view_.busy.reset();
  view_.problem.reset();
  if (done->ok()) {
    view_.plan = std::make_shared<const BuildPlan>(std::move(*done).value());
    view_.measurement = wanted_;
    view_.current = true;
  } else {
    view_.problem = done->problem();
  }
  return true;
}

void Planner::forget() {
  planning_.cancel();
  wanted_.reset();
  view_ = {};
}

}  // namespace potshadow
