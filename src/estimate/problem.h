// SPDX-License-Identifier: MIT
// The least-squares problem of the joint estimate, put together row by row.
#pragma once

#include <ceres/problem.h>

#include <memory>
#include <vector>

#include "estimate/rows.h"
#include "estimate/solve.h"
#include "estimate/state.h"
#include "estimate/task.h"

// Internal to `estimate`. Each block of the state is one of the solver's; each row is an
// observation over its standard deviation, a prior or a second difference of the profile. They come
// in this order: marks on the vessel, references with their priors, known sizes and distances,
// priors of each view, shared lenses, out-of-round, hidden ends, smoothness. A standard deviation
// of zero holds an unknown fixed instead.
namespace potshadow::internal {

// The problem over the blocks of one state; not copied, since the solver holds pointers into it.
class AssembledProblem {
 public:
  // Task and state must outlive it. Requires a smoothness for the vessel and for each neighbour.
  AssembledProblem(const Task& task, const Smoothnesses& smoothness, State& state);
  ~AssembledProblem();
  AssembledProblem(const AssembledProblem&) = delete;
  AssembledProblem& operator=(const AssembledProblem&) = delete;

  ceres::Problem& problem();
  const std::vector<RowInfo>& rows() const;  // in the order of the residuals

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace potshadow::internal
