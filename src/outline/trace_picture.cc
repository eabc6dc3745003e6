// SPDX-License-Identifier: MIT
#include "outline/trace_picture.h"

#include <algorithm>
#include <cmath>
#include <new>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace potshadow {
namespace {

constexpr int kLongestPx = 2400;

// Okabe & Ito, "Color Universal Design", 2008; blue, green, red.
const cv::Scalar kSkyBlue(233, 180, 86);
const cv::Scalar kBluishGreen(115, 158, 0);
const cv::Scalar kOrange(0, 159, 230);
const cv::Scalar kVermilion(0, 94, 213);
const cv::Scalar kHalo(20, 20, 20);

const cv::Scalar& colour_of(TracedEdge edge) {
  switch (edge) {
    case TracedEdge::kLeft:
      return kOrange;
    case TracedEdge::kRight:
      return kVermilion;
    case TracedEdge::kRim:
      return kSkyBlue;
    case TracedEdge::kBase:
      break;
  }
  return kBluishGreen;
}

class Drawing {
 public:
  explicit Drawing(const cv::Mat& bgr) {
    scale_ = std::min(1.0, static_cast<double>(kLongestPx) / std::max(bgr.cols, bgr.rows));
    cv::resize(bgr, canvas_, {}, scale_, scale_, cv::INTER_AREA);
  }

  void dots(TracedEdge edge, const std::vector<TracedMark>& marks) {
    for (const TracedMark& mark : marks) {
      const cv::Point at = place(mark.at);
      cv::circle(canvas_, at, 4, kHalo, cv::FILLED, cv::LINE_AA);
      cv::circle(canvas_, at, 2, colour_of(edge), cv::FILLED, cv::LINE_AA);
    }
  }

  void dashes(const DoubtfulStretch& stretch) {
    for (std::size_t i = 1; i < stretch.points.size(); i += 2) {
      const cv::Point from = place(stretch.points[i - 1]);
      const cv::Point to = place(stretch.points[i]);
      cv::line(canvas_, from, to, kHalo, 4, cv::LINE_AA);
      cv::line(canvas_, from, to, colour_of(stretch.edge), 2, cv::LINE_AA);
    }
  }

  const cv::Mat& canvas() const { return canvas_; }

 private:
  cv::Point place(const PhotoPoint& point) const {
    return {cvRound((point.x_px + 0.5) * scale_ - 0.5), cvRound((point.y_px + 0.5) * scale_ - 0.5)};
  }

  double scale_ = 1.0;
  cv::Mat canvas_;
};

}  // namespace

Result<std::string> trace_picture_png(const Picture& picture, const Trace& trace) {
  const Problem too_large{Code::kFileTooLarge, "There was not enough memory to draw the picture.",
                          "Close other programs and try again.", ""};
  if (picture.bgr.empty()) {
    return Problem{Code::kBadValue, "The picture has no pixels.", "Choose another photograph.", ""};
  }
  try {
    Drawing drawing(picture.bgr);
    for (const DoubtfulStretch& stretch : trace.doubtful) drawing.dashes(stretch);
    drawing.dots(TracedEdge::kRim, trace.rim);
    drawing.dots(TracedEdge::kBase, trace.base);
    drawing.dots(TracedEdge::kLeft, trace.left);
    drawing.dots(TracedEdge::kRight, trace.right);
    std::vector<unsigned char> png;
    if (!cv::imencode(".png", drawing.canvas(), png)) return too_large;
    return std::string(png.begin(), png.end());
  } catch (const cv::Exception& error) {
    return too_large;
  } catch (const std::bad_alloc&) {
    return too_large;
  }
}

}  // namespace potshadow
