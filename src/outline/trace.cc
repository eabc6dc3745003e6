// SPDX-License-Identifier: MIT
#include "outline/trace.h"

#include <algorithm>
#include <cmath>
#include <exception>
#include <iterator>
#include <opencv2/core.hpp>

#include "outline/vessel_mask.h"

namespace potshadow {
namespace {

constexpr double kLeastBoxPx = 24.0;

Result<cv::Rect2d> checked_box(const Picture& picture, const TraceBox& box) {
  if (picture.bgr.empty() || picture.bgr.type() != CV_8UC3) {
    return Problem{Code::kBadValue, "The photograph holds no pixels.", "Choose another file.", {}};
  }
  const auto finite = [](PhotoPoint p) { return std::isfinite(p.x_px) && std::isfinite(p.y_px); };
  if (!finite(box.from) || !finite(box.to)) {
    return Problem{Code::kBadValue, "The box round the vessel is not a box.", "Draw it again.", {}};
  }
  const double left = std::max(-0.5, std::min(box.from.x_px, box.to.x_px));
  const double top = std::max(-0.5, std::min(box.from.y_px, box.to.y_px));
  const double right = std::min(picture.bgr.cols - 0.5, std::max(box.from.x_px, box.to.x_px));
  const double bottom = std::min(picture.bgr.rows - 0.5, std::max(box.from.y_px, box.to.y_px));
  if (right <= left || bottom <= top) {
    return Problem{Code::kBadValue,
                   "The box lies outside the photograph.",
                   "Draw it round the vessel, on the photograph.",
                   {}};
  }
  if (right - left < kLeastBoxPx || bottom - top < kLeastBoxPx) {
    return Problem{Code::kBadValue,
                   "The box is too small to tell a vessel in it.",
                   "Draw it round the whole vessel, or take a photograph with more pixels.",
                   {}};
  }
  return cv::Rect2d(left, top, right - left, bottom - top);
}

}  // namespace

Result<Trace> trace_vessel(const Picture& picture, const TraceRequest& request,
                           const TraceWatch& watch) {
  const auto box = checked_box(picture, request.box);
  if (!box) return box.problem();
  try {
    const auto mask = vessel_mask(picture.bgr, *box, request.strokes);
    if (!mask) return mask.problem();
    if (watch.done) watch.done(0.5);
    // To a pixel of the reduced picture: where each row of the mask begins and ends.
    Trace trace;
    const double sd = mask->scale;
    for (int y = 0; y < mask->inside.rows; ++y) {
      const auto* row = mask->inside.ptr<unsigned char>(y);
      const auto* end = row + mask->inside.cols;
      const auto* first = std::find(row, end, 255);
      if (first == end) continue;
      const auto* last =
          std::find(std::make_reverse_iterator(end), std::make_reverse_iterator(row), 255).base() -
          1;
      trace.left.push_back(
          {mask->to_photo({static_cast<double>(first - row) - 0.5, static_cast<double>(y)}), sd});
      trace.right.push_back(
          {mask->to_photo({static_cast<double>(last - row) + 0.5, static_cast<double>(y)}), sd});
    }
    trace.notes.push_back({"The edge is rough: to a pixel of a reduced picture only.", true});
    if (watch.done) watch.done(1.0);
    return trace;
  } catch (const std::exception& problem) {
    return Problem{Code::kFileTooLarge, "There is not enough memory to trace the vessel.",
                   "Close other programs, or use a smaller photograph.", problem.what()};
  }
}

}  // namespace potshadow
