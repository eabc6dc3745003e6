// SPDX-License-Identifier: MIT
#include "estimate/readings.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "estimate/predicted.h"

namespace potshadow::internal {
namespace {

void begin(SizeReadings& readings, std::size_t sizes, std::size_t control_count) {
  readings.height = size_terms({1.0, 1, 1.0}, control_count);
  readings.sizes.assign(sizes, readings.height);
}

// The lowest mark on the outline in a photograph; none where all are on the circles.
std::optional<std::size_t> lowest_mark(const ViewMatches& view) {
  std::optional<std::size_t> lowest;
  for (std::size_t i = 0; i < view.marks.size(); ++i) {
    if (!view.marks[i].on_outline()) continue;
    if (!lowest || view.marks[i].s < view.marks[*lowest].s) lowest = i;
  }
  return lowest;
}

SeenHeight seen_height(const ViewTask& task, const View& view, const Body& body,
                       const ViewMatches& matches, std::size_t mark) {
  const Eigen::Vector3d point = surface_point(matches.marks[mark], body);
  SeenHeight seen{task.marks[mark].at, point.y(), 0.0};
  seen.bent_mm = point.z() - sight_height_mm(task.setting, view, seen);
  return seen;
}

// Whether anything of the vessel's own profile is known that must be read.
bool reads_vessel(const Task& task) {
  return !task.sizes.empty() ||
         std::any_of(task.views.begin(), task.views.end(),
                     [](const ViewTask& view) { return !view.photo->distances.empty(); });
}

}  // namespace

KnownSize size_of(const NeighbourReference& neighbour) {
  return {neighbour.number, neighbour.name, neighbour.value_mm, neighbour.sd_mm, false};
}

Readings first_readings(const Task& task, const State& state) {
  Readings readings;
  begin(*readings.vessel, task.sizes.size(), state.vessel.control_count());
  if (task.seen_from) {
    const Matched all = matched(task, state);
    double lowest = 2.0;
    for (std::size_t v = 0; v < all.views.size(); ++v) {
      const auto mark = lowest_mark(all.views[v]);
      if (!mark || !(all.views[v].marks[*mark].s < lowest)) continue;
      lowest = all.views[v].marks[*mark].s;
      readings.lowest_in = v;
    }
  }
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    readings.neighbours.emplace_back();
    for (const NeighbourState& neighbour : state.views[v].neighbours) {
      readings.neighbours.back().push_back(std::make_shared<SizeReadings>());
      begin(*readings.neighbours.back().back(), 1, neighbour.body.control_count());
    }
  }
  return readings;
}

void read_anew(const Task& task, const State& state, const Matched& matched, Readings& readings) {
  if (reads_vessel(task)) {
    if (auto found = size_readings(task.sizes, state.vessel.controls)) {
      *readings.vessel = std::move(*found);
    }
  }
  if (task.seen_from) {
    const std::size_t v = readings.lowest_in;
    if (const auto mark = lowest_mark(matched.views[v])) {
      *readings.lowest =
          seen_height(task.views[v], state.views[v], state.vessel, matched.views[v], *mark);
    }
  }
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const PhotoInput& photo = *task.views[v].photo;
    for (std::size_t n = 0; n < photo.neighbours.size(); ++n) {
      if (auto found = size_readings({size_of(photo.neighbours[n])},
                                     state.views[v].neighbours[n].body.controls)) {
        *readings.neighbours[v][n] = std::move(*found);
      }
    }
  }
}

}  // namespace potshadow::internal
