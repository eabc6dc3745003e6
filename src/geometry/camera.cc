// SPDX-License-Identifier: MIT
#include "geometry/camera.h"

namespace potshadow {

Eigen::Vector2d undistorted(const Lens<double>& lens, const PhotoPoint& pixel) {
  const Eigen::Vector2d bent((pixel.x_px - lens.cx_px) / lens.focal_px,
                             (pixel.y_px - lens.cy_px) / lens.focal_px);
  constexpr int kSteps = 30;  // each gains at least half a digit for any lens in the model's range
  Eigen::Vector2d flat = bent;
  for (int i = 0; i < kSteps; ++i) {
    const double q = flat.squaredNorm();
    flat = bent / (1.0 + q * (lens.k1 + q * lens.k2));
  }
  return flat;
}

}  // namespace potshadow
