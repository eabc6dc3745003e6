// SPDX-License-Identifier: MIT
#include "geometry/conic.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace potshadow {
namespace {

Problem no_ellipse(const std::string& detail) {
  return {Code::kBadMarks, "The marks do not lie on an ellipse.",
          "Spread them all round the rim and mark again any that are off it.", detail};
}

}  // namespace

Result<Eigen::Matrix3d> fit_ellipse(const std::vector<Eigen::Vector2d>& points) {
  if (points.size() < 5) {
    return Problem{Code::kTooFewMarks, "An ellipse needs at least five marks.",
                   "Add marks round the rim.", ""};
  }
  // Move and scale to about unit size: the fit is unstable on raw pixels.
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  for (const Eigen::Vector2d& p : points) mean += p / static_cast<double>(points.size());
  double spread = 0.0;
  for (const Eigen::Vector2d& p : points) spread = std::max(spread, (p - mean).norm());
  if (!(spread > 0.0) || !std::isfinite(spread)) return no_ellipse("no extent");

  Eigen::MatrixXd quadratic(points.size(), 3);
  Eigen::MatrixXd linear(points.size(), 3);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Eigen::Vector2d p = (points[i] - mean) / spread;
    const auto row = static_cast<Eigen::Index>(i);
    quadratic.row(row) << p.x() * p.x(), p.x() * p.y(), p.y() * p.y();
    linear.row(row) << p.x(), p.y(), 1.0;
  }
  const Eigen::Matrix3d s1 = quadratic.transpose() * quadratic;
  const Eigen::Matrix3d s2 = quadratic.transpose() * linear;
  const Eigen::Matrix3d s3 = linear.transpose() * linear;
  const Eigen::FullPivLU<Eigen::Matrix3d> lu(s3);
  if (!lu.isInvertible()) return no_ellipse("collinear");
  const Eigen::Matrix3d t = -lu.solve(s2.transpose());
  const Eigen::Matrix3d m = s1 + s2 * t;
  Eigen::Matrix3d reduced;  // inverse of the ellipse constraint 4ac - b^2 times m
  reduced.row(0) = m.row(2) / 2.0;
  reduced.row(1) = -m.row(1);
  reduced.row(2) = m.row(0) / 2.0;
  const Eigen::EigenSolver<Eigen::Matrix3d> solver(reduced);
  if (solver.info() != Eigen::Success) return no_ellipse("eigenvalues");
  for (int i = 0; i < 3; ++i) {
    const Eigen::Vector3d a = solver.eigenvectors().col(i).real();
    if (!(4.0 * a(0) * a(2) - a(1) * a(1) > 0.0)) continue;
    const Eigen::Vector3d b = t * a;
    Eigen::Matrix3d local;
    local << a(0), a(1) / 2, b(0) / 2, a(1) / 2, a(2), b(1) / 2, b(0) / 2, b(1) / 2, b(2);
    Eigen::Matrix3d to_local;
    to_local << 1 / spread, 0, -mean.x() / spread, 0, 1 / spread, -mean.y() / spread, 0, 0, 1;
    const Eigen::Matrix3d conic = to_local.transpose() * local * to_local;
    if (!conic.allFinite()) return no_ellipse("not finite");
    return Eigen::Matrix3d(conic / conic.norm());
  }
  return no_ellipse("no elliptic solution");
}

Result<Ellipse> ellipse_of(const Eigen::Matrix3d& conic) {
  const Eigen::Matrix2d shape = conic.topLeftCorner<2, 2>();
  if (!(shape.determinant() > 0.0)) return no_ellipse("not an ellipse");
  const Eigen::Vector2d centre = -shape.inverse() * conic.topRightCorner<2, 1>();
  const double level = -(conic(2, 2) + conic.topRightCorner<2, 1>().dot(centre));
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(shape / level);
  if (!(axes.eigenvalues()(0) > 0.0)) return no_ellipse("imaginary");
  Ellipse ellipse;
  ellipse.centre = centre;
  ellipse.semi_major = 1.0 / std::sqrt(axes.eigenvalues()(0));
  ellipse.semi_minor = 1.0 / std::sqrt(axes.eigenvalues()(1));
  ellipse.angle = Rad{std::atan2(axes.eigenvectors()(1, 0), axes.eigenvectors()(0, 0))};
  return ellipse;
}

Result<std::array<CirclePose, 2>> circle_poses(const Eigen::Matrix3d& conic) {
  const double sign = conic.determinant() > 0.0 ? -1.0 : 1.0;  // two positive, one negative
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(sign * conic);
  const Eigen::Vector3d& value = solver.eigenvalues();  // ascending: negative, then two positive
  if (!(value(0) < 0.0) || !(value(1) > 0.0)) return no_ellipse("not a cone");
  const double l1 = value(2);
  const double l2 = value(1);
  const double l3 = value(0);
  const Eigen::Vector3d e1 = solver.eigenvectors().col(2);
  const Eigen::Vector3d e3 = solver.eigenvectors().col(0);
  const double a = std::sqrt(std::max(0.0, (l1 - l2) / (l1 - l3)));
  const double b = std::sqrt(std::max(0.0, (l2 - l3) / (l1 - l3)));

  // In the cone's own frame the circle's plane has the normal a e1 + b e3; on a plane at distance d
  // along it the circle has radius d sqrt(-l1 l3) / l2.
  std::array<CirclePose, 2> poses;
  for (int k = 0; k < 2; ++k) {
    const double side = k == 0 ? 1.0 : -1.0;
    Eigen::Vector3d normal = side * a * e1 + b * e3;
    const double d = l2 / std::sqrt(-l1 * l3);
    // Centre: the pole of the plane's horizon in the cone, scaled onto the plane.
    Eigen::Vector3d centre = (sign * conic).inverse() * normal;
    centre *= d / normal.dot(centre);
    if (centre.z() < 0.0) {
      centre = -centre;
      normal = -normal;
    }
    if (normal.dot(centre) > 0.0) normal = -normal;  // towards the camera's side
    poses.at(static_cast<std::size_t>(k)) = {centre, normal.normalized()};
  }
  return poses;
}

}  // namespace potshadow
