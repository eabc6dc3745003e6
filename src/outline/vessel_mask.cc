// SPDX-License-Identifier: MIT
#include "outline/vessel_mask.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "outline/edge_maps.h"

namespace potshadow {
namespace {

// A graph cut takes a second a megapixel and gains nothing from more.
constexpr double kMostMaskPixels = 160'000.0;
// How much of the surroundings is looked at on each side, as a part of the box's.
constexpr double kMargin = 0.15;
// Boxes drawn by hand cut into the vessel by so much of their size.
constexpr double kRoughBox = 0.02;
constexpr int kRounds = 4;
// Where two surroundings meet, pixels of both look like the vessel: a line thinner than twice this
// is no part of it. In pixels of the mask.
constexpr int kLeastWidth = 2;
// Less of the box than this is no vessel, more is no background.
constexpr double kLeastPart = 0.05;
constexpr double kMostPart = 0.97;

cv::Rect whole_pixels(const cv::Rect2d& box, cv::Size size) {
  const int left = static_cast<int>(std::floor(box.x));
  const int top = static_cast<int>(std::floor(box.y));
  const int right = static_cast<int>(std::ceil(box.x + box.width));
  const int bottom = static_cast<int>(std::ceil(box.y + box.height));
  return cv::Rect(left, top, right - left, bottom - top) & cv::Rect(cv::Point(0, 0), size);
}

cv::Rect2d grown(const cv::Rect2d& box, double part) {
  return {box.x - part * box.width, box.y - part * box.height, box.width * (1.0 + 2.0 * part),
          box.height * (1.0 + 2.0 * part)};
}

void draw_strokes(const VesselMask& frame, const std::vector<TraceStroke>& strokes,
                  cv::Mat& seeds) {
  for (const TraceStroke& stroke : strokes) {
    const auto label = static_cast<double>(stroke.vessel ? cv::GC_FGD : cv::GC_BGD);
    const int width = std::clamp(static_cast<int>(std::lround(stroke.width_px / frame.scale)), 1,
                                 std::max(1, seeds.cols / 4));
    std::vector<cv::Point> line;
    for (const PhotoPoint& p : stroke.points) {
      if (!std::isfinite(p.x_px) || !std::isfinite(p.y_px)) continue;
      const cv::Point2d q = frame.from_photo(p);
      // Far outside would overflow whole pixels; nothing is drawn there anyway.
      const auto whole = [](double value, int size) {
        return static_cast<int>(std::lround(std::clamp(value, -1.0 * size, 2.0 * size)));
      };
      line.emplace_back(whole(q.x, seeds.cols), whole(q.y, seeds.rows));
    }
    if (line.size() == 1) line.push_back(line.front());
    for (std::size_t i = 1; i < line.size(); ++i) {
      cv::line(seeds, line[i - 1], line[i], cv::Scalar(label), width);
    }
  }
}

// Returns the largest piece with its holes filled, and the next one's area as a part of its.
cv::Mat largest_piece(const cv::Mat& inside, double& second_part) {
  cv::Mat labels;
  cv::Mat stats;
  cv::Mat centres;
  const int count = cv::connectedComponentsWithStats(inside, labels, stats, centres, 4);
  int best = 0;
  for (int i = 1; i < count; ++i) {
    if (best == 0 || stats.at<int>(i, cv::CC_STAT_AREA) > stats.at<int>(best, cv::CC_STAT_AREA)) {
      best = i;
    }
  }
  cv::Mat piece = cv::Mat::zeros(inside.size(), CV_8U);
  if (best == 0) return piece;
  for (int i = 1; i < count; ++i) {
    if (i == best) continue;
    second_part = std::max(second_part, static_cast<double>(stats.at<int>(i, cv::CC_STAT_AREA)) /
                                            stats.at<int>(best, cv::CC_STAT_AREA));
  }
  std::vector<std::vector<cv::Point>> contours;
  const cv::Mat one = labels == best;
  cv::findContours(one, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
  cv::drawContours(piece, contours, -1, cv::Scalar(255), cv::FILLED);
  return piece;
}

Problem nothing_stands_out() {
  return {Code::kCannotBeAnswered,
          "Nothing in the box stands out from what is around it.",
          "Draw the box close round one vessel, or paint a stroke on the vessel and one beside it.",
          {}};
}

}  // namespace

VesselMask reduced_picture(const cv::Mat& bgr, const cv::Rect2d& box) {
  VesselMask mask;
  const cv::Rect region = whole_pixels(grown(box, kMargin), bgr.size());
  mask.origin_px = region.tl();
  mask.scale = std::max(1.0, std::sqrt(region.area() / kMostMaskPixels));
  const cv::Size size(std::max(1, static_cast<int>(std::lround(region.width / mask.scale))),
                      std::max(1, static_cast<int>(std::lround(region.height / mask.scale))));
  cv::resize(bgr(region), mask.bgr, size, 0, 0, cv::INTER_AREA);
  const cv::Point2d from = mask.from_photo({box.x, box.y});
  const cv::Point2d to = mask.from_photo({box.x + box.width, box.y + box.height});
  mask.box = cv::Rect2d(from, to);
  mask.inside = cv::Mat::zeros(size, CV_8U);
  return mask;
}

Result<VesselMask> vessel_mask(const cv::Mat& bgr, const cv::Rect2d& box,
                               const std::vector<TraceStroke>& strokes) {
  VesselMask mask = reduced_picture(bgr, box);
  const cv::Size size = mask.bgr.size();
  cv::Mat seeds(size, CV_8U, cv::Scalar(cv::GC_BGD));
  seeds(whole_pixels(grown(mask.box, kRoughBox), size)).setTo(cv::Scalar(cv::GC_PR_BGD));
  seeds(whole_pixels(mask.box, size)).setTo(cv::Scalar(cv::GC_PR_FGD));
  cv::Mat painted(size, CV_8U, cv::Scalar(cv::GC_PR_FGD));
  draw_strokes(mask, strokes, painted);
  const cv::Mat painted_off = painted == cv::GC_BGD;
  seeds.setTo(cv::Scalar(cv::GC_BGD), painted_off);
  seeds.setTo(cv::Scalar(cv::GC_FGD), painted == cv::GC_FGD);
  cv::Mat known;
  cv::bitwise_and(seeds, cv::Scalar(1), known);
  const int vessel = cv::countNonZero(known);
  if (vessel == 0 || vessel == known.size().area()) return nothing_stands_out();
  cv::Mat background_model;
  cv::Mat vessel_model;
  cv::setRNGSeed(1);
  cv::grabCut(lifted(mask.bgr), seeds, cv::Rect(), background_model, vessel_model, kRounds,
              cv::GC_INIT_WITH_MASK);
  cv::Mat inside;
  cv::bitwise_and(seeds, cv::Scalar(1), inside);
  const cv::Mat round = cv::getStructuringElement(
      cv::MORPH_ELLIPSE, cv::Size(2 * kLeastWidth + 1, 2 * kLeastWidth + 1));
  cv::morphologyEx(inside, inside, cv::MORPH_OPEN, round);
  mask.labels = inside * 255;
  mask.inside = largest_piece(inside, mask.second_part);
  // Holes are filled, but not with what was said not to be vessel.
  mask.inside.setTo(cv::Scalar(0), painted_off);
  mask.inside = largest_piece(mask.inside, mask.second_part);
  const double part = cv::countNonZero(mask.inside) / std::max(1.0, mask.box.area());
  if (part < kLeastPart || part > kMostPart) return nothing_stands_out();
  return mask;
}

}  // namespace potshadow
