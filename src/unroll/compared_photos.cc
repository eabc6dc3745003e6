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

PatternPixels pixels_of(const cv::Mat& picture) {
  cv::Mat bgra = picture;
  if (picture.channels() == 3) cv::cvtColor(picture, bgra, cv::COLOR_BGR2BGRA);
  PatternPixels pixels{bgra.cols, bgra.rows, {}};
  pixels.bgra.assign(bgra.data, bgra.data + bgra.total() * bgra.elemSize());
  return pixels;
}

// The original's photograph about its pot, and the replica over it.
struct OverEachOther {
  cv::Mat original;  // CV_8UC3
  cv::Mat replica;   // CV_8UC4
  double axis_px = 0.0;
};

OverEachOther over_each_other(const ComparedPhoto& original, const ComparedPhoto& replica) {
  const cv::Rect box = box_of(original);
  OverEachOther out;
  out.original = original.photo.bgr(box).clone();
  out.replica = seen_as(original.photo.view, box, replica.face, replica.factor, replica.photo);
  const std::optional<PhotoPoint> axis =
      original.photo.view.pixel(Eigen::Vector3d(0.0, 0.0, original.height_mm / 2.0));
  out.axis_px =
      std::clamp(axis ? axis->x_px - box.x : box.width / 2.0, 0.0, static_cast<double>(box.width));
  return out;
}

}  // namespace

ComparedPhoto compared_photo(const std::string& title, const cv::Mat& bgr, const Answer& answer,
                             double factor) {
  const PhotoAnswer& first = answer.photos.front();
  return {title,
          {bgr, first.view},
          first.overlay,
          PaintedFace(answer.profile, answer.oval),
          answer.rows.back().height_mm,
          factor};
}

OutlinedPhoto outlined_photo(const ComparedPhoto& side, double most_px_per_mm) {
  const cv::Rect box = box_of(side);
  const double mm = mm_of_pixel(side);
  cv::Mat crop = outlined_crop(side, box);
  const double shrink = mm * most_px_per_mm;
  if (shrink < 1.0) cv::resize(crop, crop, {}, shrink, shrink, cv::INTER_AREA);
  return {pixels_of(crop), mm * box.width, mm * box.height};
}

Pattern photos_side_by_side(const ComparedPhoto& original, const ComparedPhoto& replica) {
  constexpr double kWidthMm = 160.0;  // both together
  constexpr double kBetweenMm = 6.0;
  constexpr double kPaperPxPerMm = 8.0;
  const double wide =
      box_of(original).width * mm_of_pixel(original) + box_of(replica).width * mm_of_pixel(replica);
  const double scale = (kWidthMm - kBetweenMm) / wide;
  Pattern piece;
  piece.name = "Photographs";
  double x = 0.0;
  for (const ComparedPhoto* const side : {&original, &replica}) {
    OutlinedPhoto shown = outlined_photo(*side, scale * kPaperPxPerMm);
    const double width = scale * shown.width_mm;
    piece.pictures.push_back({std::make_shared<const PatternPixels>(std::move(shown.pixels)),
                              {x, 0.0, x + width, scale * shown.height_mm}});
    constexpr double kTextMm = 2.8;
    add_text(piece, side->title, {x, -1.5 * kTextMm}, kTextMm);
    x += width + kBetweenMm;
  }
  // A text that reads upwards keeps the photographs from being turned.
  add_text(piece, "both at one scale, as far off as their axes", {kWidthMm + 4.0, 0.0}, 2.4)
      .upwards = true;
  return piece;
}

PhotoLayers photo_layers(const ComparedPhoto& original, const ComparedPhoto& replica, int most_px) {
  OverEachOther both = over_each_other(original, replica);
  const double axis_part = both.axis_px / both.original.cols;
  const double shrink =
      static_cast<double>(most_px) / std::max(both.original.cols, both.original.rows);
  if (shrink < 1.0) {
    cv::resize(both.original, both.original, {}, shrink, shrink, cv::INTER_AREA);
    cv::resize(both.replica, both.replica, both.original.size(), 0.0, 0.0, cv::INTER_AREA);
  }
  PhotoLayers layers{pixels_of(both.original), pixels_of(both.replica), axis_part};
  // What is clear takes the colour below, so that edges that are drawn larger do not darken.
  for (std::size_t i = 0; i < layers.replica.bgra.size(); i += 4) {
    if (layers.replica.bgra[i + 3] > 0) continue;
    for (std::size_t c = 0; c < 3; ++c) layers.replica.bgra[i + c] = layers.original.bgra[i + c];
  }
  return layers;
}

std::string photo_over_png(const ComparedPhoto& original, const ComparedPhoto& replica,
                           const PhotoOver& over) {
  OverEachOther both = over_each_other(original, replica);
  cv::Mat& picture = both.original;
  constexpr double kHalf = 0.5;
  const double shown = over.wipe ? 1.0 : over.part.value_or(kHalf);
  const int from = over.wipe ? cvRound(over.part ? *over.part * picture.cols : both.axis_px) : 0;
  for (int y = 0; y < picture.rows; ++y) {
    for (int x = std::clamp(from, 0, picture.cols); x < picture.cols; ++x) {
      const cv::Vec4b& above = both.replica.at<cv::Vec4b>(y, x);
      const double share = shown * above[3] / 255.0;
      cv::Vec3b& to = picture.at<cv::Vec3b>(y, x);
      for (int c = 0; c < 3; ++c) {
        to[c] = cv::saturate_cast<uchar>((1.0 - share) * to[c] + share * above[c]);
      }
    }
  }
  std::vector<unsigned char> bytes;
  cv::imencode(".png", picture, bytes);
  return {bytes.begin(), bytes.end()};
}

}  // namespace potshadow
