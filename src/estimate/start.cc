// SPDX-License-Identifier: MIT
#include "estimate/start.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "estimate/disc.h"
#include "estimate/known_size.h"
#include "geometry/conic.h"
#include "geometry/plane_pose.h"

namespace potshadow::internal {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

struct Rays {
  std::vector<Vector3d> rim;
  std::vector<Vector3d> base;
  std::vector<Vector3d> left;
  std::vector<Vector3d> right;
};

std::vector<Vector3d> rays_of(const Lens<double>& lens, const std::vector<PhotoPoint>& marks) {
  std::vector<Vector3d> rays;
  for (const PhotoPoint& mark : marks) rays.push_back(undistorted(lens, mark).homogeneous());
  return rays;
}

// A rim circle in the plane up . X = -1: where its centre is seen, and its radius, both for each
// millimetre that the eye stands above it.
struct RimGuess {
  Vector3d centre;
  double radius = 0.0;
};

std::optional<RimGuess> rim_in_plane(const std::vector<Vector3d>& rays, const Vector3d& up) {
  // Circle fit (Kåsa): |p|^2 = 2 p . c + (R^2 - |c|^2), linear in the unknowns.
  const Vector3d e1 = up.unitOrthogonal();
  const Vector3d e2 = up.cross(e1);
  Eigen::MatrixXd a(rays.size(), 3);
  Eigen::VectorXd b(rays.size());
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const double fall = -up.dot(rays[i]);
    if (!(fall > 1e-3)) return std::nullopt;  // level with the eye or above it
    const Vector3d p = rays[i] / fall;
    const Vector2d flat(e1.dot(p), e2.dot(p));
    const auto row = static_cast<Eigen::Index>(i);
    a.row(row) << 2.0 * flat.x(), 2.0 * flat.y(), 1.0;
    b(row) = flat.squaredNorm();
  }
  const Vector3d x = a.colPivHouseholderQr().solve(b);
  const double squared = x.z() + x.head<2>().squaredNorm();
  if (!(squared > 0.0) || !x.allFinite()) return std::nullopt;
  return RimGuess{x.x() * e1 + x.y() * e2 - up, std::sqrt(squared)};
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// The sine of the angle, seen in plan, between the axis and the outline near the foot.
double foot_angle_sine(const Rays& rays, const Vector3d& up, const Vector3d& towards) {
  const Vector3d aside = towards.cross(up);
  std::vector<double> sines;
  for (const auto* side : {&rays.left, &rays.right}) {
    double lowest = -1e300;
    double sine = 0.0;
    for (const Vector3d& ray : *side) {
      const Vector2d plan(towards.dot(ray), aside.dot(ray));
      const double depression = -up.dot(ray) / plan.norm();
      if (depression > lowest) {
        lowest = depression;
        sine = std::abs(plan.y()) / plan.norm();
      }
    }
    if (!side->empty()) sines.push_back(sine);
  }
  double sum = 0.0;
  for (const double s : sines) sum += s;
  return std::clamp(sum / static_cast<double>(sines.size()), 0.01, 0.9);
}

// Rays that meet the shelf at the foot, and how the foot lies against the rim's centre line: with
// the eye q above the rim plane and H above the shelf, the foot's centre is q c in plan, its radius
// q |c| sin a. One equation for each ray, with the front of the circle chosen.
std::vector<Vector3d> foot_rays(const Rays& rays, const Vector3d& up, bool& tangent) {
  tangent = rays.base.empty();
  if (!tangent) return rays.base;
  std::vector<Vector3d> lowest;
  for (const auto* side : {&rays.left, &rays.right}) {
    if (side->empty()) continue;
    lowest.push_back(
        *std::max_element(side->begin(), side->end(), [&](const Vector3d& a, const Vector3d& b) {
          return -up.dot(a) / a.norm() < -up.dot(b) / b.norm();
        }));
  }
  return lowest;
}

// Returns q / H from each foot ray (see above), or nothing.
std::optional<double> rim_to_shelf_ratio(const Rays& rays, const Vector3d& up,
                                         const Vector3d& centre_plan, double sine) {
  bool tangent = false;
  std::vector<double> ratios;
  const double cos_squared = 1.0 - sine * sine;
  const double c2 = centre_plan.squaredNorm();
  for (const Vector3d& ray : foot_rays(rays, up, tangent)) {
    const double fall = -up.dot(ray);
    if (!(fall > 1e-3)) continue;
    const Vector3d b = ray / fall + up;  // in plan, for each millimetre of H
    if (tangent) {
      ratios.push_back(b.norm() / std::sqrt(c2 * cos_squared));
      continue;
    }
    const double along = b.dot(centre_plan);
    const double root = along * along - b.squaredNorm() * c2 * cos_squared;
    ratios.push_back((along + std::sqrt(std::max(0.0, root))) / (c2 * cos_squared));
  }
  if (ratios.empty()) return std::nullopt;
  return median(ratios);
}

// The profile as the closest approaches of the outline's sight lines to the axis, from foot to rim.
std::vector<ProfilePoint> rough_profile(const Rays& rays, const Eigen::Matrix3d& vessel_from_camera,
                                        const Vector3d& eye, ProfilePoint foot, ProfilePoint rim) {
  std::vector<ProfilePoint> passes;
  for (const auto* side : {&rays.left, &rays.right}) {
    for (const Vector3d& ray : *side) {
      const Vector3d v = vessel_from_camera * ray;
      const double flat = v.head<2>().squaredNorm();
      if (!(flat > 0.0)) continue;
      const Vector3d at = eye - v * (eye.head<2>().dot(v.head<2>()) / flat);
      if (at.z() > 0.02 * rim.height_mm && at.z() < 0.98 * rim.height_mm) {
        passes.push_back({at.head<2>().norm(), at.z()});
      }
    }
  }
  std::sort(passes.begin(), passes.end(),
            [](const ProfilePoint& a, const ProfilePoint& b) { return a.height_mm < b.height_mm; });
  std::vector<ProfilePoint> line = {foot};
  const std::size_t group = std::max<std::size_t>(1, passes.size() / 24);
  for (std::size_t i = 0; i + group <= passes.size(); i += group) {
    ProfilePoint mean;
    for (std::size_t k = i; k < i + group; ++k) {
      mean.radius_mm += passes[k].radius_mm / static_cast<double>(group);
      mean.height_mm += passes[k].height_mm / static_cast<double>(group);
    }
    line.push_back(mean);
  }
  line.push_back(rim);
  return line;
}

// The two poses of a disc, or none. Its face has no "up" of its own: that of the picture is taken,
// which is upright. `origin_mm` is its centre.
std::vector<PlanePose> disc_poses(const Lens<double>& lens, const DiscReference& disc) {
  std::vector<Vector2d> flat;
  for (const PhotoPoint& mark : disc.edge) flat.push_back(undistorted(lens, mark));
  const auto conic = fit_ellipse(flat);
  if (!conic) return {};
  const auto circles = circle_poses(*conic);
  if (!circles) return {};
  std::vector<PlanePose> poses;
  for (const CirclePose& circle : *circles) {
    const Vector3d across = (-Vector3d::UnitY() + circle.normal.y() * circle.normal).normalized();
    if (!across.allFinite()) continue;
    PlanePose pose;
    pose.origin_mm = circle.centre * (disc.diameter_mm / 2.0);
    pose.camera_from_plane << across.cross(circle.normal), across, circle.normal;
    poses.push_back(pose);
  }
  return poses;
}

// A disc turned in its own face so that its "up" is the shelf's, with the origin where it touches
// the shelf if it stands or leans.
PlanePose seated(const DiscReference& disc, PlanePose pose, const Vector3d& up) {
  if (disc.place == Place::kLying) return pose;
  const Vector3d normal = pose.camera_from_plane.col(2);
  const Vector3d across = up - normal.dot(up) * normal;
  if (!(across.norm() > 1e-6)) return pose;
  pose.camera_from_plane.col(1) = across.normalized();
  pose.camera_from_plane.col(0) = pose.camera_from_plane.col(1).cross(normal);
  if (stands_on_edge(disc.place)) {
    pose.origin_mm -= pose.camera_from_plane.col(1) * (disc.diameter_mm / 2.0);
  }
  return pose;
}

// Of two poses of a disc, the one that goes with this "up".
const PlanePose& likelier(const DiscReference& disc, const std::vector<PlanePose>& poses,
                          const Vector3d& up) {
  constexpr double kLean = 0.35;  // rad
  double wanted = 0.0;            // of the normal along up
  if (disc.place == Place::kLying) wanted = 1.0;
  if (disc.place == Place::kLeaning) wanted = std::sin(kLean);
  const auto off = [&](const PlanePose& pose) {
    return std::abs(pose.camera_from_plane.col(2).dot(up) - wanted);
  };
  return *std::min_element(poses.begin(), poses.end(),
                           [&](const PlanePose& a, const PlanePose& b) { return off(a) < off(b); });
}

class Builder {
 public:
  Builder(const EstimateInput& input, const Priors& priors, double focal_px, std::size_t controls)
      : input_(input), priors_(priors), focal_px_(focal_px), controls_(controls) {
    const Lens<double> lens{focal_px, (priors.width_px - 1.0) / 2.0, (priors.height_px - 1.0) / 2.0,
                            0.0, 0.0};
    const Marks& marks = input.photos.front().marks;
    rays_ = {rays_of(lens, marks.rim), rays_of(lens, marks.base), rays_of(lens, marks.left),
             rays_of(lens, marks.right)};
    for (const RectangleReference& reference : input.photos.front().references) {
      std::array<Vector2d, 4> corners;
      for (std::size_t k = 0; k < 4; ++k) corners[k] = undistorted(lens, reference.corners[k]);
      auto found = rectangle_poses(corners, Mm{reference.width_mm}, Mm{reference.height_mm});
      poses_.push_back(found ? std::move(found).value() : std::vector<PlanePose>{});
    }
    for (const DiscReference& disc : input.photos.front().discs)
      poses_.push_back(disc_poses(lens, disc));
  }

  std::vector<Start> all() const {
    std::vector<Start> out;
    std::vector<Vector3d> from_rim;
    std::vector<Vector2d> flat;
    for (const Vector3d& ray : rays_.rim) flat.push_back(ray.head<2>());
    if (const auto conic = fit_ellipse(flat)) {
      if (const auto circles = circle_poses(*conic)) {
        for (const CirclePose& circle : *circles) from_rim.push_back(circle.normal);
      }
    }
    // Without a reference in the picture the rim alone says which way is up.
    for (const Vector3d& normal : from_rim) {
      if (!poses_.empty()) break;
      if (auto start = build_without((normal.y() > 0.0 ? -1.0 : 1.0) * normal.normalized())) {
        add(out, std::move(*start));
      }
    }
    for (std::size_t r = 0; r < poses_.size(); ++r) {
      for (const PlanePose& pose : poses_[r]) {
        std::vector<Vector3d> ups = from_rim;
        const Vector3d across = pose.camera_from_plane.col(1);
        const Vector3d outward = pose.camera_from_plane.col(2);
        switch (place_of(r)) {
          case Place::kLying:
            ups.push_back(outward);
            break;
          case Place::kLeaning:
            for (const double lean : {0.2, 0.45}) {
              ups.push_back(std::cos(lean) * across + std::sin(lean) * outward);
            }
            break;
          case Place::kStanding:
          case Place::kOnGlass:
          case Place::kBeside:
            ups.push_back(across);
            break;
        }
        for (Vector3d up : ups) {
          if (up.y() > 0.0) up = -up;  // the photograph is upright: up is towards its top
          if (auto start = build(r, pose, up.normalized())) add(out, std::move(*start));
        }
      }
    }
    return out;
  }

 private:
  static void add(std::vector<Start>& starts, Start start) {
    for (const Start& other : starts) {
      const double turn = Eigen::AngleAxisd(start.setting.camera_from_vessel_start.transpose() *
                                            other.setting.camera_from_vessel_start)
                              .angle();
      const double ratio = start.state.pose[kDistanceMm] / other.state.pose[kDistanceMm];
      if (turn < 0.03 && std::abs(ratio - 1.0) < 0.05) return;
    }
    starts.push_back(std::move(start));
  }

  // What the vessel's marks say with a given "up", for each millimetre that the eye stands above
  // the shelf; see rim_to_shelf_ratio.
  struct Seen {
    RimGuess rim;
    Vector3d plan;
    Vector3d towards;
    double sine = 0.0;
    double ratio = 0.0;
  };

  std::optional<Seen> seen_with(const Vector3d& up) const {
    const auto rim = rim_in_plane(rays_.rim, up);
    if (!rim) return std::nullopt;
    const Vector3d plan = rim->centre + up;  // the centre's horizontal part
    if (!(plan.norm() > 1e-6)) return std::nullopt;
    const Vector3d towards = plan.normalized();
    const double sine = foot_angle_sine(rays_, up, towards);
    const auto ratio = rim_to_shelf_ratio(rays_, up, plan, sine);
    if (!ratio || !(*ratio > 0.0) || !(*ratio < 0.999)) return std::nullopt;
    return Seen{*rim, plan, towards, sine, *ratio};
  }

  // The vessel and the camera, with the vessel's shelf `shelf` below the eye.
  std::optional<Start> vessel_start(const Seen& seen, const Vector3d& up, double shelf) const {
    const double q = shelf * seen.ratio;
    if (!(shelf > 0.0) || !(q > 0.0) || !std::isfinite(shelf)) return std::nullopt;

    Start start;
    start.setting.focal_start_px = focal_px_;
    start.setting.glass =
        input_.photos.front().glass && input_.photos.front().glass->thickness_mm > 0.0;
    start.setting.glass_index =
        input_.photos.front().glass ? input_.photos.front().glass->index : 1.0;
    Eigen::Matrix3d axes;  // vessel's axes in the camera frame: x right, y away, z up
    axes << seen.towards.cross(up), seen.towards, up;
    start.setting.camera_from_vessel_start = axes;
    State& state = start.state;
    state.camera_from_vessel_start = axes;
    state.focal_start_px = focal_px_;
    const double distance = q * seen.plan.norm();
    state.pose = {0.0, 0.0, 0.0, distance, shelf};
    state.lens = {0.0, (priors_.width_px - 1.0) / 2.0, (priors_.height_px - 1.0) / 2.0, 0.0, 0.0};
    state.pane = {0.0, priors_.pane_thickness_mm};
    const Vector3d eye(0.0, -distance, shelf);

    ProfilePoint foot{distance * seen.sine, 0.0};
    if (input_.round_base) foot.radius_mm = 0.0;
    const ProfilePoint top{q * seen.rim.radius, shelf - q};
    const auto profile =
        Profile::through(rough_profile(rays_, axes.transpose(), eye, foot, top), controls_);
    if (!profile) return std::nullopt;
    for (const ProfilePoint& p : profile->controls()) {
      state.controls.push_back(std::max(p.radius_mm, 0.1));
      state.controls.push_back(p.height_mm);
    }
    state.controls[1] = 0.0;
    if (input_.round_base) {
      state.controls[0] = 0.0;
      state.controls[3] = 0.0;
    }

    return start;
  }

  // Without a reference in the picture: the marks give the shape, and the scale follows from the
  // best known size or distance.
  std::optional<Start> build_without(const Vector3d& up) const {
    const auto seen = seen_with(up);
    if (!seen) return std::nullopt;
    constexpr double kAnyMm = 1000.0;
    const auto sketch = vessel_start(*seen, up, kAnyMm);
    if (!sketch) return std::nullopt;
    const State& state = sketch->state;
    const auto found = size_readings(input_.photos.front(), state.controls);
    if (!found) return std::nullopt;
    const SizeReadings& readings = *found;
    double factor = 0.0;
    double vague = 1e300;  // of the best so far, as a part of itself
    const auto consider = [&](double known_mm, double sd_mm, double sketched_mm) {
      if (!(sd_mm / known_mm < vague) || !(sketched_mm > 0.0)) return;
      vague = sd_mm / known_mm;
      factor = known_mm / sketched_mm;
    };
    for (std::size_t i = 0; i < input_.photos.front().sizes.size(); ++i) {
      const KnownSize& size = input_.photos.front().sizes[i];
      consider(size.value_mm, size.sd_mm, size_value(readings.sizes[i], state.controls.data()));
    }
    for (const KnownDistance& distance : input_.photos.front().distances) {
      consider(distance.value_mm, distance.sd_mm,
               distance_value(readings.height, state.pose.data(), state.controls.data()));
    }
    return vessel_start(*seen, up, kAnyMm * factor);
  }

  std::optional<Start> build(std::size_t r, const PlanePose& pose, const Vector3d& up) const {
    const auto seen = seen_with(up);
    if (!seen) return std::nullopt;
    const std::size_t rectangles = input_.photos.front().references.size();
    const auto shelf_from = [&](const auto& reference, const PlanePose& seat,
                                const Vector3d& on_shelf) {
      if (reference.place != Place::kOnGlass) return -up.dot(on_shelf) - reference.riser_mm;
      Vector3d inward = seat.camera_from_plane.col(2);
      if (inward.dot(seat.origin_mm) < 0.0) inward = -inward;
      const double to_axis = inward.dot(seat.origin_mm) + reference.glass_to_axis_mm;
      const double along = inward.dot(seen->rim.centre);
      return along > 0.0 ? to_axis / along / seen->ratio : 0.0;
    };
    double shelf = 0.0;  // how far the vessel's shelf is below the eye
    if (r < rectangles) {
      const RectangleReference& reference = input_.photos.front().references[r];
      const Vector3d u = pose.camera_from_plane.col(0) * reference.width_mm;
      const Vector3d v = pose.camera_from_plane.col(1) * reference.height_mm;
      const bool lying = reference.place == Place::kLying;
      shelf = shelf_from(reference, pose, pose.origin_mm + (lying ? u + v : u) / 2.0);
    } else {
      const DiscReference& disc = input_.photos.front().discs[r - rectangles];
      const PlanePose seat = seated(disc, pose, up);
      shelf = shelf_from(disc, seat, seat.origin_mm);
    }
    auto start = vessel_start(*seen, up, shelf);
    if (!start) return std::nullopt;
    State& state = start->state;
    const Eigen::Matrix3d& axes = state.camera_from_vessel_start;
    const Vector3d eye(0.0, -state.pose[kDistanceMm], state.pose[kEyeHeightMm]);
    for (std::size_t k = 0; k < poses_.size(); ++k) {
      if (poses_[k].empty()) return std::nullopt;
      if (k < rectangles) {
        const RectangleReference& reference = input_.photos.front().references[k];
        const PlanePose& chosen = k == r ? pose : poses_[k].front();
        auto block = placed(reference, chosen, axes, eye, state);
        block[kWidthMm] = reference.width_mm;
        block[kHeightMm] = reference.height_mm;
        state.references.push_back(block);
      } else {
        const DiscReference& disc = input_.photos.front().discs[k - rectangles];
        const PlanePose& chosen = k == r ? pose : likelier(disc, poses_[k], up);
        auto block = placed(disc, seated(disc, chosen, up), axes, eye, state);
        block[kWidthMm] = disc.diameter_mm;
        if (!stands_on_edge(disc.place)) block[kYawRad] = 0.0;
        state.discs.push_back(block);
      }
    }
    return start;
  }

  Place place_of(std::size_t r) const {
    const std::size_t rectangles = input_.photos.front().references.size();
    return r < rectangles ? input_.photos.front().references[r].place
                          : input_.photos.front().discs[r - rectangles].place;
  }

  template <class Reference>
  static std::array<double, kReferenceSize> placed(const Reference& reference,
                                                   const PlanePose& pose,
                                                   const Eigen::Matrix3d& axes, const Vector3d& eye,
                                                   State& state) {
    const Vector3d origin = axes.transpose() * pose.origin_mm + eye;
    const Vector3d u = axes.transpose() * pose.camera_from_plane.col(0);
    const Vector3d v = axes.transpose() * pose.camera_from_plane.col(1);
    std::array<double, kReferenceSize> block{};
    if (reference.place == Place::kOnGlass) {
      const Vector3d normal = axes.transpose() * pose.camera_from_plane.col(2);
      const double side = normal.y() > 0.0 ? 1.0 : -1.0;
      state.pane[kPaneAzimuthRad] =
          std::clamp(std::atan2(side * normal.x(), side * normal.y()), -0.7, 0.7);
      const Vector3d inward = pane_normal(state.pane.data());
      const Vector3d along(inward.y(), -inward.x(), 0.0);
      block[kAlongMm] = along.dot(origin);
      block[kAcrossMm] = origin.z();
      block[kYawRad] = std::atan2(u.z(), along.dot(u));
      block[kOffsetMm] = reference.glass_to_axis_mm;
      return block;
    }
    block[kAlongMm] = origin.x();
    block[kAcrossMm] = origin.y();
    block[kYawRad] = std::atan2(u.y(), u.x());
    const Vector3d back(-std::sin(block[kYawRad]), std::cos(block[kYawRad]), 0.0);
    block[kLeanRad] = std::clamp(std::atan2(v.dot(back), v.z()), -0.5, 1.2);
    if (reference.place != Place::kLeaning) block[kLeanRad] = 0.0;
    block[kOffsetMm] = reference.riser_mm;
    return block;
  }

  const EstimateInput& input_;
  const Priors& priors_;
  double focal_px_;
  std::size_t controls_;
  Rays rays_;
  std::vector<std::vector<PlanePose>> poses_;
};

}  // namespace

Result<std::vector<Start>> starts(const EstimateInput& input, const Priors& priors, double focal_px,
                                  std::size_t control_count) {
  std::vector<Start> found = Builder(input, priors, focal_px, control_count).all();
  if (found.empty()) {
    return Problem{Code::kCannotBeAnswered,
                   "The reference, the rim and the foot do not fit together in one picture.",
                   "Check the reference's place and its marks, and that rim and foot marks lie on "
                   "the rim and the foot.",
                   "no start"};
  }
  return found;
}

}  // namespace potshadow::internal
