// SPDX-License-Identifier: MIT
// The covariance of the solved unknowns, and what each group of rows brings of it.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

#include "core/result.h"
#include "estimate/answer.h"
#include "estimate/solve.h"

// Internal to `estimate`. With J the whitened Jacobian, the covariance of the unknowns is
// (J^T J)^-1, by QR. A quantity with gradient g has the variance g^T C g, and each group of rows
// brings |J_group C g|^2 of it: those shares add up to the whole, since J^T J is their sum.
// Source: JCGM 100:2008, 5.1 and 5.2 (first-order propagation).
//
// How smooth the profile is was itself chosen from the marks, and is not known exactly. Where its
// logarithm moves by its standard uncertainty the unknowns move by C times a column of
// `smoothness_doubt`, and the squares of that are added to the variance. Source: Wood, Pya &
// Saefken, J. American Statistical Association 111 (2016), eq. 7.
namespace potshadow::internal {

class Posterior {
 public:
  // A gradient by all free unknowns.
  using Gradient = Eigen::VectorXd;
  // `shift` is by how much all unknowns together are in doubt beside the covariance, or empty.
  // Fails with kCannotBeAnswered where the Jacobian has not full rank, naming what is not pinned
  // down.
  static Result<Posterior> from(Linear linear, const Gradient& shift = {});

  Gradient zero() const { return Eigen::VectorXd::Zero(linear_.jacobian.cols()); }
  // Adds `amount` at a control coordinate (0 = r0, 1 = z0, ...); nothing where it is held fixed.
  void add_control(Gradient& gradient, std::size_t coordinate, double amount) const;

  double variance(const Gradient& gradient) const;
  double covariance(const Gradient& a, const Gradient& b) const;
  // Returns the shares of the variance, adding up to the variance.
  std::array<double, kDoubtCount> shares(const Gradient& gradient) const;

  // Returns the covariance of the free unknowns, in the order of the Jacobian's columns.
  // `inflation` >= 1 multiplies the standard deviations that the marks bring.
  Eigen::MatrixXd covariance_matrix(double inflation) const;

  // Returns what doubt about the smoothness does: a column for each knot's, one for the whole, and
  // one for the shift.
  const Eigen::MatrixXd& smoothness_doubt() const { return smoothness_doubt_; }

  const Linear& linear() const { return linear_; }

 private:
  // C g.
  Eigen::VectorXd spread(const Gradient& gradient) const;

  Linear linear_;
  Eigen::MatrixXd inverse_root_;  // R^-1, so that C = R^-1 R^-T
  Eigen::MatrixXd smoothness_doubt_;
};

}  // namespace potshadow::internal
