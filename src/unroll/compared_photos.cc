// SPDX-License-Identifier: MIT
#include "unroll/compared_photos.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>
#include <vector>

#include "unroll/photo_over.h"

namespace potshadow {
namespace {

// The vessel's box in its photograph, with some room round it.
cv::Rect box_of(const ComparedPhoto& side) {
  double left = side.photo.bgr.cols;
  double top = side.photo.bgr.rows;
  double right = 0.0;
  double bottom = 0.0;
  const auto take = [&](const std::vector<PhotoPoint>& points) {
    for (const PhotoPoint& p : points) {
      left = std::min(left, p.x_px);
      right = std::max(right, p.x_px);
      top = std::min(top, p.y_px);
      bottom = std::max(bottom, p.y_px);
    }
  };
  const Overlay& overlay = side.overlay;
  for (const OutlineBand& run : overlay.outline) take(run.middle);
  for (const OverlayLine& run : overlay.rim) take(run.points);
  for (const OverlayLine& run : overlay.foot) take(run.points);
  constexpr double kRoom = 0.08;
  const double room = kRoom * std::max(right - left, bottom - top);
  const cv::Rect box(cv::Point(cvFloor(left - room), cvFloor(top - room)),
                     cv::Point(cvCeil(right + room), cvCeil(bottom + room)));
  return box & cv::Rect(0, 0, side.photo.bgr.cols, side.photo.bgr.rows);
}

// The photograph about the vessel, its outline drawn in white and black so that it shows on any
// ground; dashes where the vessel hides it are left out.
cv::Mat outlined_crop(const ComparedPhoto& side, const cv::Rect& box) {
  cv::Mat crop = side.photo.bgr(box).clone();
  const int thin = std::max(1, box.width / 500);
  const Overlay& overlay = side.overlay;
  const auto draw = [&](const std::vector<PhotoPoint>& points, const cv::Scalar& colour,
                        int width) {
    std::vector<cv::Point> line;
    for (const PhotoPoint& p : points) {
      line.emplace_back(cvRound(p.x_px) - box.x, cvRound(p.y_px) - box.y);
    }
    cv::polylines(crop, std::vector<std::vector<cv::Point>>{line}, false, colour, width,
                  cv::LINE_AA);
  };
  for (const auto& [colour, width] :
       {std::pair{cv::Scalar::all(255), 3 * thin}, std::pair{cv::Scalar::all(0), thin}}) {
    for (const OutlineBand& run : overlay.outline) {
      if (!run.hidden) draw(run.middle, colour, width);
    }
    for (const OverlayLine& run : overlay.rim) {
      if (!run.hidden) draw(run.points, colour, width);
    }
    for (const OverlayLine& run : overlay.foot) {
      if (!run.hidden) draw(run.points, colour, width);
    }
  }
  return crop;
}

// Millimetres, fired, that a pixel covers at the vessel's axis.
double mm_of_pixel(const ComparedPhoto& side) {
  const SolvedView& view = side.photo.view;
  const double middle = side.height_mm / 2.0;
  return side.factor * (view.eye_mm - Eigen::Vector3d(0.0, 0.0, middle)).norm() /
         view.lens.focal_px;
}

std::shared_ptr<const PatternPixels> pixels_of(const cv::Mat& bgr) {
  cv::Mat bgra;
  cv::cvtColor(bgr, bgra, cv::COLOR_BGR2BGRA);
  PatternPixels pixels{bgra.cols, bgra.rows, {}};
  pixels.bgra.assign(bgra.data, bgra.data + bgra.total() * bgra.elemSize());
  return std::make_shared<const PatternPixels>(std::move(pixels));
}

}  // namespace

Pattern photos_side_by_side(const ComparedPhoto& original, const ComparedPhoto& replica) {
  constexpr double kWidthMm = 160.0;  // both together
  constexpr double kBetweenMm = 6.0;
  constexpr double kPaperPxPerMm = 8.0;
  const cv::Rect one = box_of(original);
  const cv::Rect other = box_of(replica);
  const double wide = one.width * mm_of_pixel(original) + other.width * mm_of_pixel(replica);
  const double scale = (kWidthMm - kBetweenMm) / wide;
  Pattern piece;
  piece.name = "Photographs";
  double x = 0.0;
  for (const auto& [side, box] : {std::pair{&original, one}, std::pair{&replica, other}}) {
    const double mm = scale * mm_of_pixel(*side);
    cv::Mat crop = outlined_crop(*side, box);
    const double shrink = mm * kPaperPxPerMm;
    if (shrink < 1.0) cv::resize(crop, crop, {}, shrink, shrink, cv::INTER_AREA);
    piece.pictures.push_back({pixels_of(crop), {x, 0.0, x + box.width * mm, box.height * mm}});
    constexpr double kTextMm = 2.8;
    add_text(piece, side->title, {x, -1.5 * kTextMm}, kTextMm);
    x += box.width * mm + kBetweenMm;
  }
  // A text that reads upwards keeps the photographs from being turned.
  add_text(piece, "both at one scale, as far off as their axes", {kWidthMm + 4.0, 0.0}, 2.4)
      .upwards = true;
  return piece;
}

std::string photo_over_png(const ComparedPhoto& original, const ComparedPhoto& replica, bool wipe) {
  const cv::Rect box = box_of(original);
  const cv::Mat over =
      seen_as(original.photo.view, box, replica.face, replica.factor, replica.photo);
  cv::Mat picture = original.photo.bgr(box).clone();
  const std::optional<PhotoPoint> axis =
      original.photo.view.pixel(Eigen::Vector3d(0.0, 0.0, original.height_mm / 2.0));
  const int middle = axis ? cvRound(axis->x_px) - box.x : picture.cols / 2;
  for (int y = 0; y < picture.rows; ++y) {
    for (int x = wipe ? std::clamp(middle, 0, picture.cols) : 0; x < picture.cols; ++x) {
      const cv::Vec4b& from = over.at<cv::Vec4b>(y, x);
      const double share = (wipe ? 1.0 : 0.5) * from[3] / 255.0;
      cv::Vec3b& to = picture.at<cv::Vec3b>(y, x);
      for (int c = 0; c < 3; ++c) {
        to[c] = cv::saturate_cast<uchar>((1.0 - share) * to[c] + share * from[c]);
      }
    }
  }
  std::vector<unsigned char> bytes;
  cv::imencode(".png", picture, bytes);
  return {bytes.begin(), bytes.end()};
}

}  // namespace potshadow
