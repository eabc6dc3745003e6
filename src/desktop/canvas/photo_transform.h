// SPDX-License-Identifier: MIT
// Where the photograph lies in the window: zoom, pan, and the way between pixels of both.
#pragma once

#include "core/units.h"

// A photo point p shows at window place origin + scale * p, in window pixels from the window's top
// left corner. Photo points count from the centre of the top left pixel, so the picture itself
// reaches from -0.5 to width - 0.5. Scale 1 shows one photo pixel on one window pixel.
namespace potshadow {

struct ScreenPoint {
  double x = 0.0;
  double y = 0.0;
  friend bool operator==(const ScreenPoint&, const ScreenPoint&) = default;
};

struct ScreenBox {
  double left = 0.0;
  double top = 0.0;
  double width = 0.0;
  double height = 0.0;
  bool holds(ScreenPoint p) const {
    return p.x >= left && p.y >= top && p.x < left + width && p.y < top + height;
  }
  friend bool operator==(const ScreenBox&, const ScreenBox&) = default;
};

struct PictureSize {
  int width_px = 0;
  int height_px = 0;
  friend bool operator==(const PictureSize&, const PictureSize&) = default;
};

inline constexpr double kLargestZoom = 32.0;

class PhotoTransform {
 public:
  PhotoTransform() = default;
  // Shows the point at a place, at that scale. Requires scale > 0.
  static PhotoTransform centred(double scale, PhotoPoint point, ScreenPoint place) {
    PhotoTransform transform;
    transform.scale_ = scale;
    transform.origin_ = {place.x - scale * point.x_px, place.y - scale * point.y_px};
    return transform;
  }

  double scale() const { return scale_; }
  ScreenPoint to_screen(PhotoPoint p) const {
    return {origin_.x + scale_ * p.x_px, origin_.y + scale_ * p.y_px};
  }
  PhotoPoint to_photo(ScreenPoint p) const {
    return {(p.x - origin_.x) / scale_, (p.y - origin_.y) / scale_};
  }

  // Shows the whole picture in the middle of the box, with a margin. Requires a picture and a box
  // of some size.
  void fit(PictureSize picture, ScreenBox box, double margin);
  // Multiplies the scale, keeping the place under `about` where it is; the scale stays between a
  // quarter of what fits and kLargestZoom.
  void zoom(double factor, ScreenPoint about, PictureSize picture, ScreenBox box);
  // Sets the scale, keeping the middle of the box.
  void set_scale(double scale, PictureSize picture, ScreenBox box);
  // Moves the picture, but never out of the box altogether.
  void pan(double dx, double dy, PictureSize picture, ScreenBox box);
  // Moves the picture as little as needed for a point to lie at least `margin` inside the box.
  void reveal(PhotoPoint point, ScreenBox box, double margin);

  friend bool operator==(const PhotoTransform&, const PhotoTransform&) = default;

 private:
  void keep_in_sight(PictureSize picture, ScreenBox box);
  double scale_ = 1.0;
  ScreenPoint origin_;
};

// Returns the point moved into the picture, at most half a pixel outside the outer pixels' centres.
PhotoPoint inside_picture(PhotoPoint point, PictureSize picture);

}  // namespace potshadow
