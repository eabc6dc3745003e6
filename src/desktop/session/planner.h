// SPDX-License-Identifier: MIT
// Works the building plan of the latest figures out in the background.
#pragma once

#include <functional>
#include <memory>
#include <optional>

#include "clay/build_plan.h"
#include "core/result.h"
#include "desktop/session/latest_job.h"
#include "desktop/session/tracer.h"
#include "project/measure.h"

namespace potshadow {

struct PlanView {
  std::shared_ptr<const BuildPlan> plan;           // the last good one; null before the first
  std::shared_ptr<const Measurement> measurement;  // that it is of
  bool current = false;                            // that is the latest
  std::optional<Problem> problem;                  // why there is none of the latest
  std::optional<Busy> busy;
};

class Planner {
 public:
  explicit Planner(std::function<void()> wake) : planning_(std::move(wake)) {}

  // Plans for the measurement, its painted bands at a stage, unless that is planned or in work;
  // null: there are no current figures, and the last plan stays as an old one.
  void want(const std::shared_ptr<const Measurement>& measurement, Stage bands_at);
  // Takes the plan that is ready; returns whether there was one.
  bool take();
  // Forgets everything, as another project is opened.
  void forget();
  const PlanView& view() const { return view_; }

 private:
  PlanView view_;
  std::shared_ptr<const Measurement> wanted_;
  Stage bands_at_ = Stage::kWet;
  LatestJob<Result<BuildPlan>> planning_;
};

}  // namespace potshadow
