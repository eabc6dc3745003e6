// SPDX-License-Identifier: MIT
// How good a trace is, against the true outline.
#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "outline/museum_scene.h"
#include "outline/trace.h"

// A mark's miss is its distance from the true lines of its own edge, or of a joint; at its ends a
// line goes on straight for kGoesOnPx, so that a mark just beyond is judged across the edge. A
// stretch of the true outline is claimed where a mark of its edge lies within kClaimPx.
namespace potshadow::testing {

inline constexpr double kFalsePx = 3.0;    // a mark farther off is false
inline constexpr double kClaimPx = 16.0;   // marks are thinned to about that
inline constexpr double kGoesOnPx = 10.0;  // what is kept clear of hidden ends, and a little more

struct TraceFigures {
  std::size_t marks = 0;
  double median_px = 0.0;
  double most_px = 0.0;     // 95 % of the marks are nearer
  double claimed = 0.0;     // part of the visible outline's length
  double false_part = 0.0;  // of the marks
  double normal_rms = 0.0;  // of misses over sd, false ones left out
  double mean_sd_px = 0.0;
};

// Returns the figures of all marks, or of those of one edge. All are 0 where there are no marks.
TraceFigures judged(const MuseumScene& scene, const Trace& trace,
                    std::optional<TracedEdge> only = std::nullopt);

}  // namespace potshadow::testing
