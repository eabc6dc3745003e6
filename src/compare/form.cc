// SPDX-License-Identifier: MIT
#include "compare/form.h"

#include <algorithm>

namespace potshadow {

Eigen::Vector2d normal_of(const std::vector<ProfilePoint>& rows, std::size_t i) {
  const ProfilePoint& before = rows[i == 0 ? 0 : i - 1];
  const ProfilePoint& after = rows[std::min(i + 1, rows.size() - 1)];
  const Eigen::Vector2d along(after.radius_mm - before.radius_mm,
                              after.height_mm - before.height_mm);
  if (!(along.norm() > 0.0)) return Eigen::Vector2d::UnitX();
  return Eigen::Vector2d(along.y(), -along.x()).normalized();
}

Form enlarged(const Form& form, double factor, double factor_sd) {
  return enlarged(form, factor, factor, factor_sd);
}

Form enlarged(const Form& form, double across, double upright, double factor_sd) {
  Form out = form;
  for (ProfilePoint& row : out.rows) {
    row.radius_mm *= across;
    row.height_mm *= upright;
  }
  Eigen::VectorXd moved(static_cast<Eigen::Index>(out.rows.size()));
  for (std::size_t i = 0; i < out.rows.size(); ++i) {
    const ProfilePoint& row = out.rows[i];
    moved(static_cast<Eigen::Index>(i)) =
        normal_of(out.rows, i).dot(Eigen::Vector2d(row.radius_mm, row.height_mm));
  }
  out.covariance =
      across * upright * form.covariance + factor_sd * factor_sd * (moved * moved.transpose());
  return out;
}

}  // namespace potshadow
