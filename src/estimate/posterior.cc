// SPDX-License-Identifier: MIT
#include "estimate/posterior.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace potshadow::internal {
namespace {

// The gradient of the cost by the logarithm of the smoothness's standard deviation is -|r|^2 over
// its rows, and the unknowns follow it by C times 2 J^T r. That logarithm is known to 1 / sqrt(2
// q), with q the freedom that the marks take from these rows; and that of a knot's own relaxation,
// being half the logarithm of a gamma variable of (3 + 2) / 2 (the posterior of a Student-t
// weight), to half the root of trigamma(2.5).
//
// Smoothing also flattens: the posterior allows for it on the average along the wall, but a foot's
// or a belly's bend is never of the other sign. What smoothing took away is about what it would
// take once more from the wall that was found, C times J^T r (J. W. Tukey's "twicing", Exploratory
// Data Analysis, 1977, from memory); all of it counts as doubt.
Eigen::MatrixXd doubt_of_smoothness(const Linear& linear, const Eigen::MatrixXd& inverse_root) {
  constexpr double kKnotSd = 0.35;
  std::vector<Eigen::Index> rows;  // two a knot
  for (std::size_t i = 0; i < linear.rows.size(); ++i) {
    if (linear.rows[i].kind == RowKind::kSmoothness) rows.push_back(static_cast<Eigen::Index>(i));
  }
  const Eigen::MatrixXd own = linear.jacobian(rows, Eigen::all);
  const auto knots = static_cast<Eigen::Index>(rows.size() / 2);
  Eigen::MatrixXd doubt(linear.jacobian.cols(), knots + 1);
  for (Eigen::Index k = 0; k < knots; ++k) {
    doubt.col(k) =
        2.0 * own.middleRows<2>(2 * k).transpose() * linear.residual(rows)(Eigen::seqN(2 * k, 2));
  }
  const double taken = static_cast<double>(rows.size()) - (own * inverse_root).squaredNorm();
  const double scale_variance = 0.5 / std::max(1.0, taken);
  constexpr double kFlattened = 0.5;  // of the columns' sum, which holds J^T r twice
  doubt.col(knots) =
      doubt.leftCols(knots).rowwise().sum() * std::sqrt(scale_variance + kFlattened * kFlattened);
  doubt.leftCols(knots) *= kKnotSd;
  return doubt;
}

}  // namespace

Result<Posterior> Posterior::from(Linear linear, const Gradient& shift) {
  const auto unpinned = [](const std::string& what) {
    return Problem{Code::kCannotBeAnswered, "The photograph does not pin down " + what + ".",
                   "Add marks on the rim, the foot and both outlines, or mark another reference.",
                   "rank-deficient"};
  };
  if (linear.jacobian.rows() == 0 || !linear.jacobian.allFinite()) {
    return unpinned("the vessel's size");
  }
  // Columns of unit length, so that rank does not depend on units.
  const Eigen::Index n = linear.jacobian.cols();
  Eigen::VectorXd scale(n);
  for (Eigen::Index i = 0; i < n; ++i) scale(i) = linear.jacobian.col(i).norm();
  const auto name_of = [&](Eigen::Index column) -> std::string {
    for (const ViewColumns& view : linear.views) {
      for (const int c : view.pose) {
        if (c == column) return "where the camera stood";
      }
      for (const int c : view.lens) {
        if (c == column) return "the lens";
      }
    }
    for (const int c : linear.control_column) {
      if (c == column) return "a part of the profile";
    }
    return "the reference's place";
  };
  for (Eigen::Index i = 0; i < n; ++i) {
    if (!(scale(i) > 0.0)) return unpinned(name_of(i));
  }
  const Eigen::HouseholderQR<Eigen::MatrixXd> qr(linear.jacobian *
                                                 scale.cwiseInverse().asDiagonal());
  const Eigen::MatrixXd r = qr.matrixQR().topRows(n).triangularView<Eigen::Upper>();
  constexpr double kLeastPivot = 1e-9;
  for (Eigen::Index i = 0; i < n; ++i) {
    if (!(std::abs(r(i, i)) > kLeastPivot)) return unpinned(name_of(i));
  }
  Posterior posterior;
  posterior.inverse_root_ =
      scale.cwiseInverse().asDiagonal() *
      Eigen::MatrixXd(r.triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n)));
  posterior.smoothness_doubt_ = doubt_of_smoothness(linear, posterior.inverse_root_);
  if (shift.size() > 0) {
    Eigen::MatrixXd& doubt = posterior.smoothness_doubt_;
    doubt.conservativeResize(Eigen::NoChange, doubt.cols() + 1);
    doubt.rightCols<1>() = linear.jacobian.transpose() * (linear.jacobian * shift);
  }
  posterior.linear_ = std::move(linear);
  return posterior;
}

Eigen::VectorXd Posterior::spread(const Gradient& gradient) const {
  return inverse_root_ * (inverse_root_.transpose() * gradient);
}

void Posterior::add_control(Gradient& gradient, std::size_t coordinate, double amount) const {
  const int column = linear_.control_column[coordinate];
  if (column >= 0) gradient(column) += amount;
}

double Posterior::variance(const Gradient& gradient) const {
  return covariance(gradient, gradient);
}

double Posterior::covariance(const Gradient& a, const Gradient& b) const {
  const Eigen::VectorXd by_a = spread(a);
  return by_a.dot(b) +
         (smoothness_doubt_.transpose() * by_a).dot(smoothness_doubt_.transpose() * spread(b));
}

Eigen::MatrixXd Posterior::covariance_matrix(double inflation) const {
  const Eigen::MatrixXd bare = inverse_root_ * inverse_root_.transpose();
  const Eigen::MatrixXd bent = bare * smoothness_doubt_;
  Eigen::MatrixXd covariance = bare + inflation * inflation * (bent * bent.transpose());
  if (inflation == 1.0) return covariance;
  // The marks' rows bring (J_marks C)^T (J_marks C) of it.
  Eigen::MatrixXd marks(linear_.jacobian.rows(), linear_.jacobian.cols());
  Eigen::Index count = 0;
  for (std::size_t i = 0; i < linear_.rows.size(); ++i) {
    if (linear_.rows[i].source != DoubtSource::kMarks) continue;
    marks.row(count++) = linear_.jacobian.row(static_cast<Eigen::Index>(i));
  }
  const Eigen::MatrixXd spread = marks.topRows(count) * bare;
  covariance += (inflation * inflation - 1.0) * (spread.transpose() * spread);
  return covariance;
}

std::array<double, kDoubtCount> Posterior::shares(const Gradient& gradient) const {
  const Eigen::VectorXd by_gradient = spread(gradient);
  const Eigen::VectorXd by_row = linear_.jacobian * by_gradient;
  std::array<double, kDoubtCount> out{};
  out[static_cast<std::size_t>(DoubtSource::kMarks)] =
      (smoothness_doubt_.transpose() * by_gradient).squaredNorm();
  for (std::size_t i = 0; i < linear_.rows.size(); ++i) {
    const double part = by_row(static_cast<Eigen::Index>(i));
    out[static_cast<std::size_t>(linear_.rows[i].source)] += part * part;
  }
  return out;
}

}  // namespace potshadow::internal
