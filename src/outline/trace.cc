// SPDX-License-Identifier: MIT
#include "outline/trace.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <exception>
#include <opencv2/core.hpp>
#include <utility>

#include "outline/first_pass.h"
#include "outline/painted.h"
#include "outline/second_pass.h"

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

cv::Rect2d grown(const cv::Mat& bgr, const cv::Rect2d& box, double part) {
  const cv::Point2d more(part * box.width, part * box.height);
  const cv::Rect2d wide(box.tl() - more, box.br() + more);
  return wide & cv::Rect2d(-0.5, -0.5, bgr.cols, bgr.rows);
}

// The first pass, and where it finds no rim those of slightly other boxes: where vessel and
// surroundings are nearly of one colour, a line of pixels more or less in what is taken for
// surroundings can decide what is told from them. A rim tells most, then the number of marks.
Result<Trace> first_of_boxes(const cv::Mat& bgr, const cv::Rect2d& box, const TraceRequest& request,
                             const TraceWatch& watch) {
  auto best = first_pass(bgr, box, request, watch);
  const auto told = [](const Result<Trace>& found) {
    if (!found) return std::pair(false, std::size_t{0});
    const Trace& trace = found.value();
    return std::pair(!trace.rim.empty(),
                     trace.left.size() + trace.right.size() + trace.rim.size() + trace.base.size());
  };
  if (!best && best.problem().detail != kNotClear) return best;
  for (const double part : {-0.02, 0.02}) {
    if (told(best).first || watch.stop.stop_requested()) break;
    auto other = first_pass(bgr, grown(bgr, box, part), request, watch);
    if (told(best) < told(other)) best = std::move(other);
  }
  return best;
}

}  // namespace

Result<Trace> trace_vessel(const Picture& picture, const TraceRequest& request,
                           const TraceWatch& watch) {
  const auto box = checked_box(picture, request.box);
  if (!box) return box.problem();
  try {
    auto trace = request.predicted.empty() ? first_of_boxes(picture.bgr, *box, request, watch)
                                           : second_pass(picture.bgr, *box, request, watch);
    if (trace) {
      Trace kept = std::move(trace).value();
      leave_out_painted(picture.bgr, *box, request.strokes, kept);
      return kept;
    }
    return trace;
  } catch (const std::exception& problem) {
    return Problem{Code::kFileTooLarge, "There is not enough memory to trace the vessel.",
                   "Close other programs, or use a smaller photograph.", problem.what()};
  }
}

}  // namespace potshadow
