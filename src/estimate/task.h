// SPDX-License-Identifier: MIT
// What the joint estimate is solved from: the photographs with their marks, and what is known
// before.
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <vector>

#include "estimate/disc.h"
#include "estimate/flat.h"
#include "estimate/input.h"
#include "estimate/matching.h"
#include "estimate/state.h"

// Internal to `estimate`. A task is the input made ready to solve: one ViewTask a photograph, its
// marks numbered, its references of each kind in lists alike, and every prior with its mean and
// standard deviation. It points into its input and holds no unknowns: those are in state.h.
namespace potshadow::internal {

// Prior means and standard deviations of one photograph; a standard deviation of zero holds the
// unknown fixed.
struct Priors {
  double log_focal = 0.0;  // against Setting::focal_start_px
  double log_focal_sd = 0.02;
  double centre_x_px = 0.0;
  double centre_y_px = 0.0;
  double centre_sd_px = 1.0;
  double k1 = 0.0;
  double k1_sd = 0.02;
  double pane_azimuth_sd_rad = 0.26;
  double pane_thickness_mm = 0.0;
  double pane_thickness_sd_mm = 0.0;
  double tilt_sd_rad = 0.0087;
  double longer_side_px = 1.0;
};

// Returns the priors that the input states or implies (design values; see the function's body), but
// for `log_focal`.
Priors priors_of(const PhotoInput& photo);

// Returns how far the vessel may be out of round, as a part of its radius.
inline double round_sd(const EstimateInput& input) { return input.out_of_round_percent / 100.0; }

// Everything the problem needs of one photograph beside the state.
struct ViewTask {
  const PhotoInput* photo = nullptr;
  Setting setting;
  Priors priors;
  std::vector<MarkRef> marks;
  double rough_px = 0.0;  // while the solution is still rough, marks count as no more precise
  std::vector<LeanDoubt> lean_doubts{};  // one a disc, or none while the solution is still rough
  std::vector<Flat> flats{};             // of the photograph
  std::vector<Seam> seams{};             // likewise
  std::vector<std::vector<MarkRef>> neighbour_marks{};  // one list a neighbour
  std::optional<std::size_t> shared_lens{};             // index into Task::lenses

  double counted_sd(double stated_px) const { return std::max(stated_px, rough_px); }
};

// Returns a view's task, its marks as precise as stated.
ViewTask view_task(const PhotoInput& photo, const Setting& setting);

// The lens of photographs taken with the same camera and zoom.
struct SharedLens {
  double log_focal_35mm = 0.0;
  double log_focal_sd = 0.02;
  double k1 = 0.0;
  double k1_sd = 0.02;
};

// A height that is bounded beforehand: of a hidden foot above the shelf, of where the vessel comes
// into sight above it, or of a hidden rim.
struct EndPrior {
  double mean_mm = 0.0;
  double sd_mm = 1.0;
};

struct Task {
  const EstimateInput* input = nullptr;
  std::vector<ViewTask> views;
  std::vector<KnownSize> sizes{};       // of the vessel, those of all photographs
  std::vector<SharedLens> lenses{};     // those that two photographs or more share
  std::optional<EndPrior> foot{};       // where it is hidden
  std::optional<EndPrior> seen_from{};  // likewise: of the lowest mark on the outline
  std::optional<EndPrior> rim{};        // likewise
  std::vector<bool> left_out{};  // one a vessel mark, or none: marks that bind nothing (wild.h)

  std::size_t mark_count() const;  // on the vessel, in all photographs
};

inline bool is_left_out(const Task& task, std::size_t mark) {
  return mark < task.left_out.size() && task.left_out[mark];
}

// Returns the known sizes of the vessel, of all photographs.
std::vector<KnownSize> known_sizes(const EstimateInput& input);

// Returns which photograph the i-th of them stands with.
std::size_t photo_of_size(const Task& task, std::size_t i);

}  // namespace potshadow::internal
