// SPDX-License-Identifier: MIT
// What the estimate starts from: photographs' marks, their references and what is assumed.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "estimate/marks.h"
#include "estimate/reference.h"

// Marks are in pixels of the upright photograph, (0, 0) at the centre of its top-left pixel.
// Lengths in millimetres. Every `_sd` is a standard uncertainty.
namespace potshadow {

struct GlassPane {
  double thickness_mm = 8.0;
  double thickness_sd_mm = 1.0;
  double index = 1.52;
};

// Focal length as the 35 mm equivalent, by the diagonal of the frame.
struct FocalPrior {
  double focal_35mm = 0.0;
  double sd_percent = 2.0;
};

// What is known of a lens beforehand. Distortion as in geometry/camera.h; the principal point
// against the middle of the picture, in pixels of the upright picture.
struct LensPrior {
  double k1 = 0.0;
  double k1_sd = 0.02;
  double k2 = 0.0;  // held fixed
  double centre_x_px = 0.0;
  double centre_y_px = 0.0;
  std::optional<double> centre_sd_px{};  // 0.5 % of the longer side; a quarter of it if cropped
};

struct PhotoInput {
  // What messages call it, from 0, where that is not its place in EstimateInput::photos.
  std::optional<std::size_t> number{};
  int width_px = 0;   // upright
  int height_px = 0;  // upright
  std::optional<FocalPrior> focal;
  bool cropped = false;  // a cut-out of a larger picture: principal point unknown
  LensPrior lens;
  // Photographs of the same number were taken with the same camera and zoom and share focal length
  // and distortion, but for what focusing changes.
  std::optional<int> same_lens{};
  // How far round the vessel it was taken from, seen from above, in degrees from the first
  // photograph. Where no directions are given all count as taken from one side.
  double direction_deg = 0.0;
  std::optional<GlassPane> glass;
  std::vector<RectangleReference> references;
  std::vector<DiscReference> discs;
  std::vector<LengthReference> lengths;
  std::vector<GridReference> grids;
  std::vector<NeighbourReference> neighbours;
  std::vector<KnownSize> sizes;  // of the vessel; it does not matter in which photograph they stand
  std::vector<KnownDistance> distances;
  Marks marks;
};

// What bounds a part that is not seen.
struct HiddenPart {
  std::optional<double> low_mm{};
  std::optional<double> high_mm{};
};

struct EstimateInput {
  std::vector<PhotoInput> photos = std::vector<PhotoInput>(1);  // of the same vessel; at least one
  // How far any one diameter may differ from the mean, as a standard uncertainty in percent: 1 for
  // hand-built ware, 0 for a vessel known to be truly round.
  double out_of_round_percent = 1.0;
  bool round_base = false;  // rests on a rounded bottom, without a foot
  // The foot is hidden in a ring stand or mount. The bounds are how high above the shelf the vessel
  // comes into sight, where the lowest marks of its outline are: the top of the stand.
  std::optional<HiddenPart> hidden_foot{};
  // The rim is broken off or hidden. The bounds are the height that the whole vessel had.
  std::optional<HiddenPart> hidden_rim{};
  double wall_mm = 6.0;  // for the capacity
  double wall_sd_mm = 1.0;
};

}  // namespace potshadow
