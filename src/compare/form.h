// SPDX-License-Identifier: MIT
// A vessel's outer profile with its uncertainty, as the comparison takes it.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "vessel/profile.h"

// Model: rows along the profile, base first, in the vessel frame (millimetres, base at height 0).
// Each may be off along its outward normal, and what one row is off hangs together with what the
// others are: a scale that is 1 % too large moves them all. `covariance` says how.
namespace potshadow {

struct Form {
  std::vector<ProfilePoint> rows;  // at least 3, evenly along the profile
  Eigen::MatrixXd covariance;      // rows x rows, mm^2, of what each is off along its normal
};

// Returns the form made `factor` > 0 times as large, the factor itself known to a part `factor_sd`
// of itself.
Form enlarged(const Form& form, double factor, double factor_sd);
// The same with a factor for widths and one for heights, not far apart.
Form enlarged(const Form& form, double across, double upright, double factor_sd);

// Returns the unit normal of the polyline at a row, away from the axis.
Eigen::Vector2d normal_of(const std::vector<ProfilePoint>& rows, std::size_t i);

}  // namespace potshadow
