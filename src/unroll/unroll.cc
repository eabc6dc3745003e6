// SPDX-License-Identifier: MIT
#include "unroll/unroll.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/core/utility.hpp>
#include <opencv2/imgproc.hpp>

#include "unroll/sampling.h"
#include "unroll/view_grid.h"

namespace potshadow {
namespace {

using internal::FlatGrid;
using internal::Source;
using internal::ViewGrid;

}  // namespace

Development seen_of(const PaintedFace& face, const Development& flat,
                    const std::vector<UnrollPhoto>& photos, const UnrollChoices& choices) {
  constexpr double kLooksPerMm = 0.25;
  const FlatGrid grid(flat, kLooksPerMm);
  if (grid.inside.empty()) return flat;
  double most = 0.0;
  for (const UnrollPhoto& photo : photos) {
    const ViewGrid view = internal::view_grid(face, flat, grid, photo, choices);
    for (int j = 0; j < grid.inside.rows; ++j) {
      for (int i = 0; i < grid.inside.cols; ++i) {
        if (!(view.weight.at<float>(j, i) > 0.0F)) continue;
        const FaceSpot spot = flat.spot(grid.place(i * grid.step_px, j * grid.step_px));
        if (flat.holds(spot)) most = std::max(most, std::abs(spot.azimuth_rad - flat.front_rad));
      }
    }
  }
  Development seen = flat;
  const double look = 1.0 / (kLooksPerMm * std::max(flat.low_radius_mm, flat.high_radius_mm));
  if (most > 0.0) seen.half_turn_rad = std::min(flat.half_turn_rad, most + look);
  return seen;
}

Result<Unrolled> unroll(const PaintedFace& face, const Development& flat,
                        const std::vector<UnrollPhoto>& photos, const UnrollChoices& choices) {
  if (!(choices.px_per_mm > 0.0) || !(choices.full_until_deg > 0.0) ||
      !(choices.full_until_deg < choices.blank_from_deg) || !(choices.blank_from_deg <= 90.0)) {
    return Problem{Code::kBadValue, "The unrolled picture's choices make no sense.",
                   "Give more than 0 pixels to the millimetre.", ""};
  }
  const FlatGrid grid(flat, choices.px_per_mm);
  const double pixels = static_cast<double>(grid.width_px) * grid.height_px;
  if (!(pixels <= kMostUnrolledPixels)) {
    return Problem{Code::kBadValue, "The unrolled picture would be too large.",
                   "Ask for fewer pixels to the millimetre, or for one strip.", ""};
  }
  std::vector<Source> sources;
  for (const UnrollPhoto& photo : photos) {
    ViewGrid view = internal::view_grid(face, flat, grid, photo, choices);
    if (cv::countNonZero(view.weight) == 0) continue;
    sources.push_back(internal::source_of(std::move(view), photo.bgr));
  }
  if (sources.empty()) {
    return Problem{Code::kCannotBeAnswered, "No photograph shows this part of the wall.",
                   "Choose another part, or add a photograph that shows it.", ""};
  }
  internal::match_brightness(sources);

  Unrolled out;
  out.left_mm = grid.left_mm;
  out.top_mm = grid.top_mm;
  out.px_per_mm = choices.px_per_mm;
  out.bgra = internal::painted(sources, grid.step_px, {grid.width_px, grid.height_px});
  // Cut along the development's edge.
  cv::Mat beyond(out.bgra.size(), CV_8U, cv::Scalar(255));
  std::vector<cv::Point> edge;
  constexpr int kFine = 4;  // bits after the point
  for (const FlatPoint& p : flat.outline(0.1 / choices.px_per_mm)) {
    const double x = (p.x_mm - grid.left_mm) * choices.px_per_mm - 0.5;
    const double y = (grid.top_mm - p.y_mm) * choices.px_per_mm - 0.5;
    edge.emplace_back(cvRound(std::ldexp(x, kFine)), cvRound(std::ldexp(y, kFine)));
  }
  cv::fillPoly(beyond, std::vector<std::vector<cv::Point>>{edge}, cv::Scalar(0), cv::LINE_8, kFine);
  out.bgra.setTo(cv::Scalar::all(0), beyond);

  const internal::Seen seen = internal::how_seen(grid, [&] {
    std::vector<const ViewGrid*> grids;
    for (const Source& source : sources) grids.push_back(&source.grid);
    return grids;
  }());
  out.seen_part = seen.part;
  out.finest_mm = seen.finest_mm;
  out.coarsest_mm = seen.coarsest_mm;
  return out;
}

}  // namespace potshadow
