// SPDX-License-Identifier: MIT
#include "vessel/profile.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "core/check.h"

namespace potshadow {
namespace {

constexpr std::size_t kOrder = 4;

// A place on the curve: the span it is in, its parameter u in [0, spans], and the knots that matter
// there, two below the span's beginning to two above its end, of the clamped uniform knot vector
// 0 0 0 0 1 2 ... spans spans spans spans.
struct Place {
  std::size_t span = 0;
  double u = 0.0;
  std::array<double, 6> knots{};
};

Place place_of(double s, std::size_t count) {
  POTSHADOW_CHECK(count >= kOrder);
  const std::size_t spans = count - kOrder + 1;
  Place place;
  place.u = std::clamp(s, 0.0, 1.0) * static_cast<double>(spans);
  place.span = std::min(static_cast<std::size_t>(place.u), spans - 1);
  for (std::size_t i = 0; i < place.knots.size(); ++i) {
    const std::size_t above = place.span + i;  // by two more than the knot
    place.knots[i] = above < 2 ? 0.0 : static_cast<double>(std::min(above - 2, spans));
  }
  return place;
}

using Four = std::array<double, kOrder>;

// One step of de Boor's triangle: from the values of the B-splines of one degree less that are not
// zero at a place to those of `degree`.
inline Four raised(Four value, std::size_t degree, const Place& place) {
  double saved = 0.0;
  for (std::size_t j = 0; j < degree; ++j) {
    const double above = place.knots[j + 3];
    const double below = place.knots[j + 3 - degree];
    const double term = value[j] / (above - below);
    value[j] = saved + (above - place.u) * term;
    saved = (place.u - below) * term;
  }
  value[degree] = saved;
  return value;
}

// One step down in degree turns differences of control points into the derivative's coefficients:
// this carries weights on those of a derivative of one degree less than `degree` back to weights on
// the control points.
inline Four through_difference(const Four& lower, std::size_t degree, const Place& place) {
  Four upper{};
  for (std::size_t j = 0; j < degree; ++j) {
    const double width = place.knots[j + 3] - place.knots[j + 3 - degree];
    const double factor = static_cast<double>(degree) / width * lower[j];
    upper[j + 1] += factor;
    upper[j] -= factor;
  }
  return upper;
}

constexpr Four kDegreeZero{1.0, 0.0, 0.0, 0.0};

bool finite(const ProfilePoint& p) {
  return std::isfinite(p.radius_mm) && std::isfinite(p.height_mm);
}

double distance(const ProfilePoint& a, const ProfilePoint& b) {
  return std::hypot(a.radius_mm - b.radius_mm, a.height_mm - b.height_mm);
}

}  // namespace

ProfileBasis profile_basis(double s, std::size_t count) {
  const Place place = place_of(s, count);
  const Four linear = raised(kDegreeZero, 1, place);
  const Four square = raised(linear, 2, place);
  const double scale = static_cast<double>(count - kOrder + 1);
  ProfileBasis basis;
  basis.first = place.span;
  basis.weight = raised(square, 3, place);
  basis.slope = through_difference(square, 3, place);
  basis.curvature = through_difference(through_difference(linear, 2, place), 3, place);
  for (std::size_t j = 0; j < kOrder; ++j) {
    basis.slope[j] *= scale;
    basis.curvature[j] *= scale * scale;
  }
  return basis;
}

Result<Profile> Profile::from_controls(std::vector<ProfilePoint> controls) {
  if (controls.size() < kOrder) {
    return Problem{Code::kBadValue, "A profile needs at least four control points.",
                   "Give more points along the wall.", ""};
  }
  for (const ProfilePoint& p : controls) {
    if (!finite(p) || p.radius_mm < 0.0) {
      return Problem{Code::kBadValue, "A profile point has a radius below zero or is not a number.",
                     "Check the points of the profile.", ""};
    }
  }
  return Profile(std::move(controls));
}

Result<Profile> Profile::through(const std::vector<ProfilePoint>& polyline, std::size_t count) {
  POTSHADOW_CHECK(count >= kOrder);
  std::vector<double> along;
  double length = 0.0;
  for (std::size_t i = 0; i < polyline.size(); ++i) {
    if (!finite(polyline[i]) || polyline[i].radius_mm < 0.0) {
      return Problem{Code::kBadValue, "A profile point has a radius below zero or is not a number.",
                     "Check the points of the profile.", ""};
    }
    if (i > 0) length += distance(polyline[i - 1], polyline[i]);
    along.push_back(length);
  }
  if (polyline.size() < 2 || !(length > 0.0)) {
    return Problem{Code::kTooFewMarks, "A profile needs at least two different points.",
                   "Give more points along the wall.", ""};
  }

  // Resample evenly by arc length, so that long segments count as much as dense ones; the knots
  // are then uniform in arc length too.
  const auto n = static_cast<Eigen::Index>(count);
  const std::size_t samples = std::max<std::size_t>(8 * count, 2 * polyline.size());
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(n, n);
  Eigen::MatrixXd right = Eigen::MatrixXd::Zero(n, 2);
  std::size_t segment = 1;
  for (std::size_t k = 0; k < samples; ++k) {
    const double s = static_cast<double>(k) / static_cast<double>(samples - 1);
    const double at = s * length;
    while (segment + 1 < polyline.size() && along[segment] < at) ++segment;
    const double step = along[segment] - along[segment - 1];
    const double part = step > 0.0 ? std::clamp((at - along[segment - 1]) / step, 0.0, 1.0) : 0.0;
    const ProfilePoint& a = polyline[segment - 1];
    const ProfilePoint& b = polyline[segment];
    const double radius = a.radius_mm + part * (b.radius_mm - a.radius_mm);
    const double height = a.height_mm + part * (b.height_mm - a.height_mm);
    const ProfileBasis basis = profile_basis(s, count);
    const bool end = k == 0 || k + 1 == samples;
    const double weight = end ? 1e6 : 1.0;  // the ends are met
    for (std::size_t i = 0; i < kOrder; ++i) {
      const auto row = static_cast<Eigen::Index>(basis.first + i);
      for (std::size_t j = 0; j < kOrder; ++j) {
        normal(row, static_cast<Eigen::Index>(basis.first + j)) +=
            weight * basis.weight.at(i) * basis.weight.at(j);
      }
      right(row, 0) += weight * basis.weight.at(i) * radius;
      right(row, 1) += weight * basis.weight.at(i) * height;
    }
  }
  constexpr double kTrace = 1e-6;  // of smoothing, so that the system is never singular
  for (Eigen::Index i = 0; i + 2 < n; ++i) {
    const Eigen::Vector3d second(1.0, -2.0, 1.0);
    normal.block<3, 3>(i, i) += kTrace * second * second.transpose();
  }
  const Eigen::MatrixXd solution = normal.ldlt().solve(right);
  std::vector<ProfilePoint> controls;
  for (Eigen::Index i = 0; i < n; ++i) {
    controls.push_back({std::max(0.0, solution(i, 0)), solution(i, 1)});
  }
  controls.front() = polyline.front();
  controls.back() = polyline.back();
  return Profile(std::move(controls));
}

namespace {

ProfilePoint combine(const std::vector<ProfilePoint>& controls, std::size_t first,
                     const std::array<double, 4>& weight) {
  ProfilePoint sum;
  for (std::size_t j = 0; j < weight.size(); ++j) {
    sum.radius_mm += weight[j] * controls[first + j].radius_mm;
    sum.height_mm += weight[j] * controls[first + j].height_mm;
  }
  return sum;
}

}  // namespace

ProfilePoint Profile::at(double s) const {
  const Place place = place_of(s, controls_.size());
  const Four square = raised(raised(kDegreeZero, 1, place), 2, place);
  return combine(controls_, place.span, raised(square, 3, place));
}

ProfilePoint Profile::slope_at(double s) const {
  const ProfileBasis basis = profile_basis(s, controls_.size());
  return combine(controls_, basis.first, basis.slope);
}

ProfilePoint Profile::normal_at(double s) const {
  const ProfilePoint slope = slope_at(s);
  const double size = std::hypot(slope.radius_mm, slope.height_mm);
  if (!(size > 0.0)) return {1.0, 0.0};
  return {slope.height_mm / size, -slope.radius_mm / size};
}

std::vector<ProfilePoint> Profile::sampled(std::size_t count) const {
  POTSHADOW_CHECK(count >= 2);
  std::vector<ProfilePoint> points;
  points.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    points.push_back(at(static_cast<double>(i) / static_cast<double>(count - 1)));
  }
  return points;
}

Profile Profile::scaled(double factor) const { return scaled(factor, factor); }

Profile Profile::scaled(double across, double upright) const {
  POTSHADOW_CHECK(across > 0.0 && upright > 0.0);
  std::vector<ProfilePoint> controls = controls_;
  for (ProfilePoint& p : controls) {
    p.radius_mm *= across;
    p.height_mm *= upright;
  }
  return Profile(std::move(controls));
}

}  // namespace potshadow
