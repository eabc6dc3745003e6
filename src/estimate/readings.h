// SPDX-License-Identifier: MIT
// What the solver reads from the profiles anew at every step.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "estimate/costs.h"
#include "estimate/known_size.h"
#include "estimate/state.h"
#include "estimate/task.h"

// Internal to `estimate`. A known size belongs to a place of the profile (the widest, the neck),
// the bound of a hidden foot to the lowest mark on the outline; both move as the profile does. The
// costs share what is read here and see it change.
namespace potshadow::internal {

struct Readings {
  std::shared_ptr<SizeReadings> vessel = std::make_shared<SizeReadings>();
  std::vector<std::vector<std::shared_ptr<SizeReadings>>> neighbours;  // by view
  std::size_t lowest_in = 0;  // the view that has the lowest mark of any outline
  std::shared_ptr<SeenHeight> lowest = std::make_shared<SeenHeight>();
};

// Returns readings to begin with: terms for every known size, so that there are some even where the
// first profile is none.
Readings first_readings(const Task& task, const State& state);

// Reads everything anew at a state whose marks are matched; what is not found there stays.
void read_anew(const Task& task, const State& state, const Matched& matched, Readings& readings);

// Returns the neighbour's own size, as a known size of its profile.
KnownSize size_of(const NeighbourReference& neighbour);

}  // namespace potshadow::internal
