// SPDX-License-Identifier: MIT
// Where the model has each mark.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "estimate/answer.h"
#include "estimate/costs.h"
#include "estimate/state.h"
#include "estimate/task.h"

// Internal to `estimate`. All places are pixels of the photograph that the view is of, with the
// bending of the lens and, where there is one, through the pane.
namespace potshadow::internal {

// Returns the pixel at which the model has point `k` of flat reference `f` of a photograph.
Eigen::Vector2d flat_image(const ViewTask& task, const View& view, std::size_t f, std::size_t k);

// Returns the pixels at which the model has the two marks of a seam.
std::array<Eigen::Vector2d, 2> seam_image(const ViewTask& task, const View& view, std::size_t s);

// Returns the pixel at which a photograph has a point of the vessel frame, through the pane.
Eigen::Vector2d vessel_image(const ViewTask& task, const View& view, const Eigen::Vector3d& point);

// What each mark belongs to at a state.
Matched matched(const Task& task, const State& state);

// A mark, where it was put and where the model has it.
struct Misfit {
  MarkPlace place;
  PhotoPoint marked;
  Eigen::Vector2d fitted = Eigen::Vector2d::Zero();
  double off_px = 0.0;  // signed across a curve; the distance for points
  double sd_px = 1.0;
};

// Returns the misfit of every mark: of the vessel's, photograph by photograph in the order of
// their MarkRefs, then of each photograph's flats, seams, discs and neighbours.
std::vector<Misfit> misfits(const Task& task, const State& state);

}  // namespace potshadow::internal
