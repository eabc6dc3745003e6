// SPDX-License-Identifier: MIT
// Finds an edge of known shape near a rough place, and fits it with its uncertainty.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <vector>

#include "photo/decode.h"

// Model: the edge lies, at each station, some offset outwards of it, and the offsets are a linear
// combination of a few given shapes: 1 and t for a straight line, harmonics for an ellipse.
// Pixels, (0, 0) at the centre of the top-left one. See refine_reference.h for method and sources.
namespace potshadow {

struct EdgeStation {
  Eigen::Vector2d at = Eigen::Vector2d::Zero();
  Eigen::Vector2d outwards = Eigen::Vector2d::UnitX();  // unit length
  Eigen::VectorXd shapes;  // what each coefficient adds to the offset here
};

struct EdgeCurve {
  Eigen::VectorXd coefficients;
  Eigen::MatrixXd covariance;         // of the coefficients
  double scatter_px = 0.0;            // standard deviation of one station about the curve
  double alike = 1.0;                 // variance of a mean, over what it were by chance alone
  std::vector<std::size_t> stations;  // those that agree, in order
  std::vector<double> offsets_px;     // what was measured at each of them
};

// Returns the colour most of the picture has within the polygon's middle: the median of each
// channel, blue-green-red. Requires a polygon inside the picture.
Eigen::Vector3d middle_colour(const Picture& picture, const std::vector<Eigen::Vector2d>& polygon);

// Returns the coefficients of the curve that most edges within `reach_px` agree on, to `agree_px`;
// nothing where fewer than half of the stations do. `inner_colour` is what is expected inwards of
// it. Requires more stations than coefficients. The same picture gives the same answer.
std::optional<Eigen::VectorXd> rough_curve(const Picture& picture,
                                           const std::vector<EdgeStation>& stations,
                                           double reach_px, double agree_px,
                                           const Eigen::Vector3d& inner_colour);

// Returns the curve through the edge, which is less than some 4 px from the stations; nothing
// where it is not clear. Requires more stations than coefficients.
std::optional<EdgeCurve> fine_curve(const Picture& picture,
                                    const std::vector<EdgeStation>& stations);

}  // namespace potshadow
