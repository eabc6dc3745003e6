// SPDX-License-Identifier: MIT
#include "estimate/task.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "photo/focal.h"

namespace potshadow::internal {
namespace {

constexpr double kRadPerDeg = std::numbers::pi / 180.0;

}  // namespace

Priors priors_of(const PhotoInput& photo) {
  Priors p;
  p.longer_side_px = std::max(photo.width_px, photo.height_px);
  // With no focal length given, somewhere between a wide phone lens and a short telephoto.
  p.log_focal_sd = photo.focal ? photo.focal->sd_percent / 100.0 : 0.5;
  p.centre_x_px = (photo.width_px - 1.0) / 2.0 + photo.lens.centre_x_px;
  p.centre_y_px = (photo.height_px - 1.0) / 2.0 + photo.lens.centre_y_px;
  p.centre_sd_px =
      photo.lens.centre_sd_px.value_or(p.longer_side_px * (photo.cropped ? 0.25 : 0.005));
  p.k1 = photo.lens.k1;
  p.k1_sd = photo.lens.k1_sd;
  p.pane_azimuth_sd_rad = 15.0 * kRadPerDeg;
  if (photo.glass) {
    p.pane_thickness_mm = photo.glass->thickness_mm;
    p.pane_thickness_sd_mm = photo.glass->thickness_sd_mm;
  }
  p.tilt_sd_rad = 0.5 * kRadPerDeg;
  return p;
}

ViewTask view_task(const PhotoInput& photo, const Setting& setting) {
  ViewTask task{&photo, setting, priors_of(photo), mark_refs(photo.marks)};
  if (photo.focal) {
    const double stated =
        focal_px_from_35mm(photo.focal->focal_35mm, photo.width_px, photo.height_px);
    task.priors.log_focal = std::log(stated / setting.focal_start_px);
  }
  task.flats = flats_of(photo);
  task.seams = seams_of(photo);
  for (const NeighbourReference& neighbour : photo.neighbours) {
    task.neighbour_marks.push_back(mark_refs(neighbour.marks));
  }
  return task;
}

std::size_t Task::mark_count() const {
  std::size_t count = 0;
  for (const ViewTask& view : views) count += view.marks.size();
  return count;
}

std::vector<KnownSize> known_sizes(const EstimateInput& input) {
  std::vector<KnownSize> sizes;
  for (const PhotoInput& photo : input.photos) {
    sizes.insert(sizes.end(), photo.sizes.begin(), photo.sizes.end());
  }
  return sizes;
}

std::size_t photo_of_size(const Task& task, std::size_t i) {
  std::size_t v = 0;
  for (; v + 1 < task.views.size(); ++v) {
    const std::size_t count = task.views[v].photo->sizes.size();
    if (i < count) break;
    i -= count;
  }
  return v;
}

}  // namespace potshadow::internal
