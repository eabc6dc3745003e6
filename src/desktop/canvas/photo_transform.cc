// SPDX-License-Identifier: MIT
#include "desktop/canvas/photo_transform.h"

#include <algorithm>

namespace potshadow {
namespace {

double fitting_scale(PictureSize picture, ScreenBox box, double margin) {
  const double wide = std::max(1.0, box.width - 2.0 * margin) / picture.width_px;
  const double high = std::max(1.0, box.height - 2.0 * margin) / picture.height_px;
  return std::min({wide, high, kLargestZoom});
}

}  // namespace

void PhotoTransform::fit(PictureSize picture, ScreenBox box, double margin) {
  scale_ = fitting_scale(picture, box, margin);
  origin_.x = box.left + 0.5 * box.width - scale_ * 0.5 * (picture.width_px - 1);
  origin_.y = box.top + 0.5 * box.height - scale_ * 0.5 * (picture.height_px - 1);
}

void PhotoTransform::zoom(double factor, ScreenPoint about, PictureSize picture, ScreenBox box) {
  constexpr double kSmallest = 0.25;  // of the scale that fits
  const PhotoPoint kept = to_photo(about);
  const double least = std::min(1.0, kSmallest * fitting_scale(picture, box, 0.0));
  scale_ = std::clamp(scale_ * factor, least, kLargestZoom);
  origin_.x = about.x - scale_ * kept.x_px;
  origin_.y = about.y - scale_ * kept.y_px;
  keep_in_sight(picture, box);
}

void PhotoTransform::set_scale(double scale, PictureSize picture, ScreenBox box) {
  zoom(scale / scale_, {box.left + 0.5 * box.width, box.top + 0.5 * box.height}, picture, box);
}

void PhotoTransform::pan(double dx, double dy, PictureSize picture, ScreenBox box) {
  origin_.x += dx;
  origin_.y += dy;
  keep_in_sight(picture, box);
}

void PhotoTransform::reveal(PhotoPoint point, ScreenBox box, double margin) {
  const ScreenPoint at = to_screen(point);
  const double across = std::min(margin, 0.4 * box.width);
  const double down = std::min(margin, 0.4 * box.height);
  origin_.x += std::clamp(at.x, box.left + across, box.left + box.width - across) - at.x;
  origin_.y += std::clamp(at.y, box.top + down, box.top + box.height - down) - at.y;
}

void PhotoTransform::keep_in_sight(PictureSize picture, ScreenBox box) {
  // The middle of the box always lies on the picture.
  const double x = box.left + 0.5 * box.width;
  const double y = box.top + 0.5 * box.height;
  origin_.x = std::clamp(origin_.x, x - scale_ * (picture.width_px - 0.5), x + 0.5 * scale_);
  origin_.y = std::clamp(origin_.y, y - scale_ * (picture.height_px - 0.5), y + 0.5 * scale_);
}

PhotoPoint inside_picture(PhotoPoint point, PictureSize picture) {
  return {std::clamp(point.x_px, -0.5, picture.width_px - 0.5),
          std::clamp(point.y_px, -0.5, picture.height_px - 0.5)};
}

}  // namespace potshadow
