// SPDX-License-Identifier: MIT
// The matrix of the normal equations.
#pragma once

#include <Eigen/Core>
#include <vector>

// Internal to `estimate`. A mark's row holds a quarter of all unknowns, a prior's one or two: what
// is zero is passed over.
namespace potshadow::internal {

// Returns J^T J.
inline Eigen::MatrixXd normal_matrix(const Eigen::MatrixXd& jacobian) {
  const Eigen::Index unknowns = jacobian.cols();
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(unknowns, unknowns);
  std::vector<Eigen::Index> columns;
  for (Eigen::Index row = 0; row < jacobian.rows(); ++row) {
    columns.clear();
    for (Eigen::Index i = 0; i < unknowns; ++i) {
      if (jacobian(row, i) != 0.0) columns.push_back(i);
    }
    for (auto i = columns.begin(); i != columns.end(); ++i) {
      const double factor = jacobian(row, *i);
      for (auto j = i; j != columns.end(); ++j) normal(*j, *i) += factor * jacobian(row, *j);
    }
  }
  normal.triangularView<Eigen::StrictlyUpper>() = normal.transpose();
  return normal;
}

}  // namespace potshadow::internal
