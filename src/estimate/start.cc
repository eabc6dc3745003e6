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
#include "estimate/flat.h"
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

// Where an outline's sight line passes the axis closest: at this distance and height.
std::optional<ProfilePoint> pass_of(const Vector3d& ray, const Eigen::Matrix3d& vessel_from_camera,
                                    const Vector3d& eye) {
  const Vector3d v = vessel_from_camera * ray;
  const double flat = v.head<2>().squaredNorm();
  if (!(flat > 0.0)) return std::nullopt;
  const Vector3d at = eye - v * (eye.head<2>().dot(v.head<2>()) / flat);
  return ProfilePoint{at.head<2>().norm(), at.z()};
}

ProfilePoint highest_pass(const Rays& rays, const Eigen::Matrix3d& vessel_from_camera,
                          const Vector3d& eye) {
  ProfilePoint highest;
  for (const auto* side : {&rays.left, &rays.right}) {
    for (const Vector3d& ray : *side) {
      const auto pass = pass_of(ray, vessel_from_camera, eye);
      if (pass && pass->height_mm > highest.height_mm) highest = *pass;
    }
  }
  return highest;
}

// The profile as the closest approaches of the outline's sight lines to the axis, from foot to rim.
std::vector<ProfilePoint> rough_profile(const Rays& rays, const Eigen::Matrix3d& vessel_from_camera,
                                        const Vector3d& eye, ProfilePoint foot, ProfilePoint rim) {
  std::vector<ProfilePoint> passes;
  for (const auto* side : {&rays.left, &rays.right}) {
    for (const Vector3d& ray : *side) {
      const auto pass = pass_of(ray, vessel_from_camera, eye);
      if (pass && pass->height_mm > 0.02 * rim.height_mm &&
          pass->height_mm < 0.98 * rim.height_mm) {
        passes.push_back(*pass);
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

// What a vessel's marks say with a given "up", for each millimetre that the eye stands above the
// shelf; see rim_to_shelf_ratio. Without a rim `plan` is a unit vector, and `ratio` the distance.
struct Seen {
  bool has_rim = false;
  RimGuess rim;
  Vector3d plan;
  Vector3d towards;
  double sine = 0.0;
  double ratio = 0.0;
};

// The direction of the axis in plan, from the outlines or else from the foot.
std::optional<Vector3d> axis_direction(const Rays& rays, const Vector3d& up) {
  Vector3d sum = Vector3d::Zero();
  const auto take = [&](const std::vector<Vector3d>& list) {
    Vector3d mean = Vector3d::Zero();
    for (const Vector3d& ray : list) mean += (ray - up.dot(ray) * up).normalized();
    if (!list.empty()) sum += mean.normalized();
  };
  if (!rays.left.empty() && !rays.right.empty()) {
    take(rays.left);
    take(rays.right);
  } else {
    take(rays.base);
  }
  if (!(sum.norm() > 1e-9)) return std::nullopt;
  return sum.normalized();
}

std::optional<Seen> seen_with(const Rays& rays, const Vector3d& up) {
  Seen seen;
  // A rim that is level with the eye or above it is left to the outline.
  const auto rim = rays.rim.empty() ? std::nullopt : rim_in_plane(rays.rim, up);
  if (rim) {
    seen.has_rim = true;
    seen.rim = *rim;
    seen.plan = rim->centre + up;  // the centre's horizontal part
    if (!(seen.plan.norm() > 1e-6)) return std::nullopt;
    seen.towards = seen.plan.normalized();
  } else {
    const auto towards = axis_direction(rays, up);
    if (!towards) return std::nullopt;
    seen.plan = *towards;
    seen.towards = *towards;
  }
  seen.sine = foot_angle_sine(rays, up, seen.towards);
  const auto ratio = rim_to_shelf_ratio(rays, up, seen.plan, seen.sine);
  if (!ratio || !(*ratio > 0.0) || (seen.has_rim && !(*ratio < 0.999))) return std::nullopt;
  seen.ratio = *ratio;
  return seen;
}

// A vessel as the marks have it once the eye's height above its shelf is known.
struct Sketch {
  Eigen::Matrix3d axes;  // vessel's axes in the camera frame: x right, y away, z up
  double distance_mm = 0.0;
  double eye_height_mm = 0.0;
  std::vector<double> controls;
};

std::optional<Sketch> sketched(const Rays& rays, const Seen& seen, const Vector3d& up, double shelf,
                               bool round_base, double hidden_mm, std::size_t control_count) {
  const double q = (shelf - hidden_mm) * seen.ratio;
  if (!(shelf > 0.0) || !(q > 0.0) || !std::isfinite(shelf)) return std::nullopt;
  Sketch sketch;
  sketch.axes << seen.towards.cross(up), seen.towards, up;
  sketch.distance_mm = q * seen.plan.norm();
  sketch.eye_height_mm = shelf;
  const Vector3d eye(0.0, -sketch.distance_mm, shelf);
  ProfilePoint foot{sketch.distance_mm * seen.sine, 0.0};
  // The wall goes on below where it comes into sight.
  if (hidden_mm > 0.0) foot = {0.95 * foot.radius_mm, hidden_mm / 2.0};
  if (round_base) foot.radius_mm = 0.0;
  ProfilePoint top;
  if (seen.has_rim) {
    top = {q * seen.rim.radius, shelf - q};
  } else {
    top = highest_pass(rays, sketch.axes.transpose(), eye);
    if (!(top.height_mm > 0.0)) return std::nullopt;
  }
  const auto profile =
      Profile::through(rough_profile(rays, sketch.axes.transpose(), eye, foot, top), control_count);
  if (!profile) return std::nullopt;
  for (const ProfilePoint& p : profile->controls()) {
    sketch.controls.push_back(std::max(p.radius_mm, 0.1));
    sketch.controls.push_back(p.height_mm);
  }
  sketch.controls[1] = foot.height_mm;
  if (round_base) {
    sketch.controls[0] = 0.0;
    sketch.controls[3] = foot.height_mm;
  }
  return sketch;
}

// The directions of "up" that the ellipse of a rim allows.
std::vector<Vector3d> ups_of_rim(const std::vector<Vector3d>& rim) {
  std::vector<Vector2d> flat;
  for (const Vector3d& ray : rim) flat.push_back(ray.head<2>());
  std::vector<Vector3d> ups;
  const auto conic = fit_ellipse(flat);
  if (!conic) return ups;
  if (const auto circles = circle_poses(*conic)) {
    for (const CirclePose& circle : *circles) ups.push_back(circle.normal);
  }
  return ups;
}

// The photograph is upright: up is towards its top.
Vector3d upwards(const Vector3d& normal) {
  return (normal.y() > 0.0 ? -1.0 : 1.0) * normal.normalized();
}

class Builder {
 public:
  Builder(const StartInput& input, double focal_px, std::size_t controls)
      : input_(input), photo_(*input.photo), focal_px_(focal_px), controls_(controls) {
    const Priors priors = priors_of(photo_);
    lens_ = {focal_px, priors.centre_x_px, priors.centre_y_px, photo_.lens.k1, photo_.lens.k2};
    pane_thickness_mm_ = priors.pane_thickness_mm;
    rays_ = rays_of_marks(photo_.marks);
    flats_ = flats_of(photo_);
    for (const Flat& flat : flats_) poses_.push_back(flat_poses(flat));
    for (const DiscReference& disc : photo_.discs) poses_.push_back(disc_poses(lens_, disc));
    for (const NeighbourReference& neighbour : photo_.neighbours) {
      neighbour_rays_.push_back(rays_of_marks(neighbour.marks));
    }
  }

  std::vector<Start> all() const {
    std::vector<Start> out;
    std::vector<Vector3d> from_rim = ups_of_rim(rays_.rim);
    for (const Rays& rays : neighbour_rays_) {
      for (const Vector3d& up : ups_of_rim(rays.rim)) from_rim.push_back(up);
    }
    bool planar = false;
    for (std::size_t r = 0; r < poses_.size(); ++r) {
      if (r < flats_.size() && flats_[r].kind == FlatKind::kLength) continue;
      planar = true;
      for (const PlanePose& pose : poses_[r]) {
        std::vector<Vector3d> ups = from_rim;
        const Vector3d across = pose.camera_from_plane.col(1);
        const Vector3d outward = pose.camera_from_plane.col(2);
        switch (seat_of(r).place) {
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
        for (const Vector3d& up : ups) {
          if (auto start = build(r, pose, upwards(up))) add(out, std::move(*start));
        }
      }
    }
    // Without a plane in the picture the rims alone say which way is up.
    for (const Vector3d& normal : from_rim) {
      if (planar) break;
      if (auto start = build_without(upwards(normal))) add(out, std::move(*start));
    }
    return out;
  }

 private:
  static void add(std::vector<Start>& starts, Start start) {
    for (const Start& other : starts) {
      const double turn = Eigen::AngleAxisd(start.setting.camera_from_vessel_start.transpose() *
                                            other.setting.camera_from_vessel_start)
                              .angle();
      const double ratio =
          start.state.views.front().pose[kDistanceMm] / other.state.views.front().pose[kDistanceMm];
      if (turn < 0.03 && std::abs(ratio - 1.0) < 0.05 && same_seats(start, other)) return;
    }
    starts.push_back(std::move(start));
  }

  // Whether every reference is turned alike. Of the two poses of a disc or rectangle one is a trap
  // that no small step leads out of, so both must be tried with each direction of up.
  static bool same_seats(const Start& a, const Start& b) {
    constexpr double kAlikeRad = 0.1;
    const View& one = a.state.views.front();
    const View& two = b.state.views.front();
    const auto alike = [](const auto& x, const auto& y) {
      for (std::size_t i = 0; i < x.size(); ++i) {
        const double yaw = std::remainder(x[i][kYawRad] - y[i][kYawRad], 2.0 * std::numbers::pi);
        if (std::hypot(yaw, x[i][kLeanRad] - y[i][kLeanRad]) > kAlikeRad) return false;
      }
      return true;
    };
    return alike(one.flats, two.flats) && alike(one.discs, two.discs);
  }

  Rays rays_of_marks(const Marks& marks) const {
    return {rays_of(lens_, marks.rim), rays_of(lens_, marks.base), rays_of(lens_, marks.left),
            rays_of(lens_, marks.right)};
  }

  // The two poses of a rectangle, or of the block at the beginning of a grid.
  std::vector<PlanePose> flat_poses(const Flat& flat) const {
    if (flat.kind == FlatKind::kLength || flat.points.size() < 4) return {};
    std::array<Vector2d, 4> corners;
    for (std::size_t k = 0; k < 4; ++k) corners[k] = undistorted(lens_, flat.points[k].at);
    const double width = (flat.points[1].across - flat.points[0].across) * flat.width_mm;
    const double height =
        (flat.points[3].up - flat.points[0].up) * (flat.square() ? flat.width_mm : flat.height_mm);
    auto found = rectangle_poses(corners, Mm{width}, Mm{height});
    return found ? std::move(found).value() : std::vector<PlanePose>{};
  }

  const FlatReference& seat_of(std::size_t r) const {
    if (r < flats_.size()) return flats_[r].seat;
    return photo_.discs[r - flats_.size()];
  }

  // The camera and the vessel, with nothing else in the picture yet.
  Start begun(const Sketch& sketch) const {
    Start start;
    Setting& setting = start.setting;
    setting.focal_start_px = focal_px_;
    setting.glass = photo_.glass && photo_.glass->thickness_mm > 0.0;
    setting.glass_index = photo_.glass ? photo_.glass->index : 1.0;
    setting.direction_rad = photo_.direction_deg * std::numbers::pi / 180.0;
    setting.camera_from_vessel_start = sketch.axes;
    start.state.vessel.controls = sketch.controls;
    View view;
    view.pose = {0.0, 0.0, 0.0, sketch.distance_mm, sketch.eye_height_mm};
    view.lens = {0.0, lens_.cx_px, lens_.cy_px, lens_.k1, lens_.k2};
    view.pane = {0.0, pane_thickness_mm_};
    start.state.views.push_back(std::move(view));
    return start;
  }

  std::optional<Sketch> vessel_sketch(const Seen& seen, const Vector3d& up, double shelf) const {
    return sketched(rays_, seen, up, shelf, input_.round_base, input_.hidden_mm, controls_);
  }

  // --- Without a plane: how far the shelf is below the eye, from whatever says so best
  // -------------

  // Where a sight line meets the plane that is `fall` below the eye.
  static Vector3d on_level(const Vector3d& ray, const Vector3d& up, double fall) {
    return ray * (fall / std::max(1e-6, -up.dot(ray)));
  }

  // How far the axis is from the eye in plan, for each millimetre of the eye's height.
  static double axis_reach(const Seen& seen) { return seen.ratio * seen.plan.norm(); }

  // The pane's normal into the case: square to where shelf and pane meet, if that line is marked
  // and not absurd, else along the sight line.
  Vector3d pane_inward(const FlatReference& seat, const Vector3d& up,
                       const Vector3d& towards) const {
    if (!seat.shelf_at_glass) return towards;
    const auto on_shelf = [&](std::size_t k) {
      return on_level(undistorted(lens_, (*seat.shelf_at_glass)[k]).homogeneous(), up, 1.0);
    };
    const Vector3d across = up.cross(on_shelf(1) - on_shelf(0));
    if (!(across.norm() > 0.0)) return towards;
    const Vector3d inward = across.normalized() * (across.dot(towards) < 0.0 ? -1.0 : 1.0);
    return inward.dot(towards) > std::cos(kMostPaneTurnRad) ? inward : towards;
  }

  // How deep in plan the shelf meets the pane, for each millimetre of the eye's height above it.
  double seam_reach(const FlatReference& seat, const Vector3d& up, const Vector3d& inward) const {
    double sum = 0.0;
    for (const PhotoPoint& mark : *seat.shelf_at_glass) {
      sum += inward.dot(on_level(undistorted(lens_, mark).homogeneous(), up, 1.0)) / 2.0;
    }
    return sum;
  }

  // The shelf from how deep in plan the pane is.
  double shelf_from_pane(const FlatReference& seat, const Seen& seen, const Vector3d& up,
                         const Vector3d& inward, double depth) const {
    if (seat.glass_to_axis_mm > 0.0) {
      const double along = inward.dot(seen.towards) * axis_reach(seen);
      return along > 0.0 ? (depth + seat.glass_to_axis_mm) / along + input_.hidden_mm : 0.0;
    }
    if (!seat.shelf_at_glass) return 0.0;
    return depth / seam_reach(seat, up, inward) - seat.riser_mm;
  }

  double shelf_from_length(const Flat& flat, const Seen& seen, const Vector3d& up) const {
    const FlatReference& seat = flat.seat;
    const double mm = std::max(flat.width_mm, flat.height_mm);
    const Vector3d first = undistorted(lens_, flat.points[0].at).homogeneous();
    const Vector3d second = undistorted(lens_, flat.points[1].at).homogeneous();
    if (seat.place == Place::kLying) {
      return mm / (on_level(first, up, 1.0) - on_level(second, up, 1.0)).norm() - seat.riser_mm;
    }
    if (seat.place == Place::kStanding || seat.place == Place::kLeaning) {
      const Vector3d foot = on_level(first, up, 1.0);
      const Vector3d level = second - up.dot(second) * up;
      const Vector3d foot_level = foot + up;
      const double along = level.dot(foot_level) / level.squaredNorm();
      const double high = 1.0 + along * up.dot(second);
      const double lean = seat.place == Place::kLeaning ? std::cos(kLeanMeanRad) : 1.0;
      return high > 1e-6 ? mm * lean / high - seat.riser_mm : 0.0;
    }
    const Vector3d inward =
        seat.place == Place::kOnGlass ? pane_inward(seat, up, seen.towards) : seen.towards;
    const double apart = (first / inward.dot(first) - second / inward.dot(second)).norm();
    const double depth = mm / std::max(1e-9, apart);
    if (seat.place == Place::kOnGlass) return shelf_from_pane(seat, seen, up, inward, depth);
    return (depth - seat.depth_offset_mm) / axis_reach(seen) + input_.hidden_mm;
  }

  // What a known size of a body says of the eye's height above its shelf, from a sketch of it.
  std::optional<double> shelf_from_size(const Rays& rays, bool round_base, const Vector3d& up,
                                        const KnownSize& size) const {
    const auto seen = seen_with(rays, up);
    if (!seen) return std::nullopt;
    const auto sketch = sketched(rays, *seen, up, kAnyMm, round_base, 0.0, controls_);
    if (!sketch) return std::nullopt;
    const auto readings = size_readings({size}, sketch->controls);
    if (!readings) return std::nullopt;
    const double value = size_value(readings->sizes.front(), sketch->controls.data());
    if (!(value > 0.0)) return std::nullopt;
    return kAnyMm * size.value_mm / value;
  }

  std::optional<Start> build_without(const Vector3d& up) const {
    const auto seen = seen_with(rays_, up);
    if (!seen) return std::nullopt;
    double shelf = 0.0;
    double vague = 1e300;  // of the best so far, as a part of itself
    const auto consider = [&](double part, double found) {
      if (!(part < vague) || !(found > 0.0)) return;
      vague = part;
      shelf = found;
    };
    for (const Flat& flat : flats_) {
      const double mm = std::max(flat.width_mm, flat.height_mm);
      const Offset offset = offset_of(flat.seat);
      consider((flat.size_sd_mm + offset.sd_mm) / mm, shelf_from_length(flat, *seen, up));
    }
    for (std::size_t n = 0; n < photo_.neighbours.size(); ++n) {
      const NeighbourReference& of = photo_.neighbours[n];
      const KnownSize size{of.number, of.name, of.value_mm, of.sd_mm, false};
      const auto found = shelf_from_size(neighbour_rays_[n], of.round_base, up, size);
      if (found) consider((of.sd_mm + of.riser_sd_mm) / of.value_mm, *found - of.riser_mm);
    }
    for (const KnownSize& size : input_.sizes) {
      const auto found = shelf_from_size(rays_, input_.round_base, up, size);
      if (found) consider(size.sd_mm / size.value_mm, *found);
    }
    if (!photo_.distances.empty()) {
      if (const auto sketch = vessel_sketch(*seen, up, kAnyMm)) {
        const double half = sketch->controls.back() / 2.0;
        const double length = std::hypot(sketch->distance_mm, kAnyMm - half);
        for (const KnownDistance& distance : photo_.distances) {
          consider(distance.sd_mm / distance.value_mm, kAnyMm * distance.value_mm / length);
        }
      }
    }
    return finished(*seen, up, shelf, std::nullopt, PlanePose{});
  }

  // --- With a plane
  // --------------------------------------------------------------------------------

  std::optional<Start> build(std::size_t r, const PlanePose& pose, const Vector3d& up) const {
    const auto seen = seen_with(rays_, up);
    if (!seen) return std::nullopt;
    const FlatReference& seat = seat_of(r);
    PlanePose at = pose;
    Vector3d anchor = pose.origin_mm;  // a point of it that lies on the shelf, or its middle
    if (r < flats_.size()) {
      const Flat& flat = flats_[r];
      // The pose is that of the first point; the middle of the first four is what counts.
      const FlatPoint& low = flat.points[0];
      const FlatPoint& high = flat.points[2];
      const double height = flat.square() ? flat.width_mm : flat.height_mm;
      const Vector3d u = pose.camera_from_plane.col(0) * (high.across - low.across) * flat.width_mm;
      const Vector3d v = pose.camera_from_plane.col(1) * (high.up - low.up) * height;
      const bool on_edge = seat.place == Place::kStanding || seat.place == Place::kLeaning;
      anchor = pose.origin_mm + (on_edge ? u : u + v) / 2.0;
    } else {
      at = seated(photo_.discs[r - flats_.size()], pose, up);
      anchor = at.origin_mm;
    }
    double shelf = 0.0;  // how far the vessel's shelf is below the eye
    if (seat.place == Place::kOnGlass) {
      Vector3d inward = at.camera_from_plane.col(2);
      if (inward.dot(at.origin_mm) < 0.0) inward = -inward;
      shelf = shelf_from_pane(seat, *seen, up, inward, inward.dot(at.origin_mm));
    } else if (seat.place == Place::kBeside) {
      shelf =
          (seen->towards.dot(anchor) - seat.depth_offset_mm) / axis_reach(*seen) + input_.hidden_mm;
    } else {
      shelf = -up.dot(anchor) - seat.riser_mm;
    }
    return finished(*seen, up, shelf, r, pose);
  }

  // The whole start: the vessel, and every reference in its place.
  std::optional<Start> finished(const Seen& seen, const Vector3d& up, double shelf,
                                std::optional<std::size_t> chosen, const PlanePose& pose) const {
    const auto sketch = vessel_sketch(seen, up, shelf);
    if (!sketch) return std::nullopt;
    Start start = begun(*sketch);
    View& view = start.state.views.front();
    const Eigen::Matrix3d& axes = sketch->axes;
    const Vector3d eye(0.0, -sketch->distance_mm, sketch->eye_height_mm);
    for (std::size_t k = 0; k < poses_.size(); ++k) {
      const bool is_flat = k < flats_.size();
      if (is_flat && flats_[k].kind == FlatKind::kLength) {
        view.flats.push_back(placed_length(flats_[k], axes, eye, view));
        continue;
      }
      if (poses_[k].empty()) return std::nullopt;
      if (is_flat) {
        const Flat& flat = flats_[k];
        const PlanePose& taken = chosen == k ? pose : poses_[k].front();
        auto block = placed(flat.seat, first_to_origin(flat, taken), axes, eye, view);
        block[kWidthMm] = flat.width_mm;
        block[kHeightMm] = flat.height_mm;
        view.flats.push_back(block);
      } else {
        const DiscReference& disc = photo_.discs[k - flats_.size()];
        const PlanePose& taken = chosen == k ? pose : likelier(disc, poses_[k], up);
        auto block = placed(disc, seated(disc, taken, up), axes, eye, view);
        block[kWidthMm] = disc.diameter_mm;
        if (!stands_on_edge(disc.place) && disc.place != Place::kBeside) block[kYawRad] = 0.0;
        if (disc.place != Place::kLeaning) block[kLeanRad] = 0.0;
        view.discs.push_back(block);
      }
    }
    for (const Seam& seam : seams_of(photo_)) {
      view.seams.push_back(
          placed_seam(seam, (seam.of_disc ? view.discs : view.flats)[seam.index], axes, eye, view));
    }
    for (std::size_t n = 0; n < photo_.neighbours.size(); ++n) {
      const NeighbourReference& of = photo_.neighbours[n];
      const auto beside = seen_with(neighbour_rays_[n], up);
      if (!beside) return std::nullopt;
      const auto other = sketched(neighbour_rays_[n], *beside, up, shelf + of.riser_mm,
                                  of.round_base, 0.0, controls_);
      if (!other) return std::nullopt;
      NeighbourState neighbour;
      const Vector3d where = axes.transpose() * beside->towards * other->distance_mm;
      neighbour.place[kBesideMm] = where.x();
      neighbour.place[kBehindMm] = where.y() - sketch->distance_mm;
      neighbour.place[kBelowMm] = of.riser_mm;
      neighbour.body.controls = other->controls;
      view.neighbours.push_back(std::move(neighbour));
    }
    return start;
  }

  // The pose of a flat reference's origin, from that of its first point.
  static PlanePose first_to_origin(const Flat& flat, PlanePose pose) {
    const double height = flat.square() ? flat.width_mm : flat.height_mm;
    pose.origin_mm -= pose.camera_from_plane.col(0) * flat.points[0].across * flat.width_mm +
                      pose.camera_from_plane.col(1) * flat.points[0].up * height;
    return pose;
  }

  static std::array<double, kReferenceSize> placed(const FlatReference& reference,
                                                   const PlanePose& pose,
                                                   const Eigen::Matrix3d& axes, const Vector3d& eye,
                                                   View& view) {
    const Vector3d origin = axes.transpose() * pose.origin_mm + eye;
    const Vector3d u = axes.transpose() * pose.camera_from_plane.col(0);
    const Vector3d v = axes.transpose() * pose.camera_from_plane.col(1);
    std::array<double, kReferenceSize> block{};
    if (reference.place == Place::kOnGlass) {
      const Vector3d normal = axes.transpose() * pose.camera_from_plane.col(2);
      const double side = normal.y() > 0.0 ? 1.0 : -1.0;
      view.pane[kPaneAzimuthRad] = std::clamp(std::atan2(side * normal.x(), side * normal.y()),
                                              -kMostPaneTurnRad, kMostPaneTurnRad);
      const Vector3d inward = pane_normal(view.pane.data());
      const Vector3d along(inward.y(), -inward.x(), 0.0);
      block[kAlongMm] = along.dot(origin);
      block[kAcrossMm] = origin.z();
      block[kYawRad] = std::atan2(u.z(), along.dot(u));
      block[kOffsetMm] =
          reference.glass_to_axis_mm > 0.0 ? reference.glass_to_axis_mm : -inward.dot(origin);
      return block;
    }
    block[kYawRad] = std::atan2(u.y(), u.x());
    block[kAlongMm] = origin.x();
    if (reference.place == Place::kBeside) {
      block[kAcrossMm] = origin.z();
      block[kYawRad] = std::clamp(block[kYawRad], -1.2, 1.2);
      block[kLeanRad] = std::atan2(u.z(), u.head<2>().norm());
      block[kOffsetMm] = reference.depth_offset_mm;
      return block;
    }
    block[kAcrossMm] = origin.y();
    const Vector3d back(-std::sin(block[kYawRad]), std::cos(block[kYawRad]), 0.0);
    block[kLeanRad] = std::clamp(std::atan2(v.dot(back), v.z()), -0.5, 1.2);
    if (reference.place != Place::kLeaning) block[kLeanRad] = 0.0;
    block[kOffsetMm] = reference.riser_mm;
    return block;
  }

  std::array<double, kReferenceSize> placed_length(const Flat& flat, const Eigen::Matrix3d& axes,
                                                   const Vector3d& eye, View& view) const {
    const FlatReference& seat = flat.seat;
    std::array<double, kReferenceSize> block{};
    block[kWidthMm] = flat.width_mm;
    block[kHeightMm] = flat.height_mm;
    std::array<Vector3d, 2> rays;
    for (std::size_t k = 0; k < 2; ++k) {
      rays[k] = axes.transpose() * undistorted(lens_, flat.points[k].at).homogeneous();
    }
    Vector3d inward = Vector3d::UnitY();
    if (seat.place == Place::kOnGlass) {
      inward = axes.transpose() * pane_inward(seat, axes.col(2), axes.col(1));
      view.pane[kPaneAzimuthRad] = std::atan2(inward.x(), inward.y());
    }
    const Vector3d along(inward.y(), -inward.x(), 0.0);
    const auto at_depth = [&](std::size_t k, double depth) -> Vector3d {
      return eye + rays[k] * ((depth - inward.dot(eye)) / std::max(1e-6, inward.dot(rays[k])));
    };
    const auto on_shelf = [&](std::size_t k) -> Vector3d {
      return eye - rays[k] * ((eye.z() + seat.riser_mm) / std::min(-1e-6, rays[k].z()));
    };
    if (seat.place == Place::kOnGlass || seat.place == Place::kBeside) {
      double depth = seat.depth_offset_mm;
      if (seat.place == Place::kOnGlass) {
        block[kOffsetMm] = seat.glass_to_axis_mm;
        if (!(block[kOffsetMm] > 0.0)) {
          const double reach = seam_reach(seat, axes.col(2), axes * inward);
          block[kOffsetMm] = -inward.dot(eye) - reach * (eye.z() + seat.riser_mm);
        }
        depth = -block[kOffsetMm];
      } else {
        block[kOffsetMm] = depth;
      }
      const Vector3d first = at_depth(0, depth);
      const Vector3d second = at_depth(1, depth);
      const double roll = std::atan2(second.z() - first.z(), along.dot(second - first));
      const bool middle = seat.place == Place::kBeside;
      block[middle ? kLeanRad : kYawRad] = roll;
      block[kAlongMm] = along.dot(middle ? Vector3d((first + second) / 2.0) : first);
      block[kAcrossMm] = middle ? (first.z() + second.z()) / 2.0 : first.z();
      return block;
    }
    const Vector3d first = on_shelf(0);
    block[kAlongMm] = first.x();
    block[kAcrossMm] = first.y();
    block[kOffsetMm] = seat.riser_mm;
    if (seat.place == Place::kLying) {
      const Vector3d second = on_shelf(1);
      block[kYawRad] = std::atan2(second.y() - first.y(), second.x() - first.x());
    }
    if (seat.place == Place::kLeaning) block[kLeanRad] = kLeanMeanRad;
    return block;
  }

  std::array<double, kSeamSize> placed_seam(const Seam& seam,
                                            const std::array<double, kReferenceSize>& reference,
                                            const Eigen::Matrix3d& axes, const Vector3d& eye,
                                            const View& view) const {
    const Vector3d normal = pane_normal(view.pane.data());
    const Vector3d along(normal.y(), -normal.x(), 0.0);
    std::array<double, kSeamSize> block{};
    block[kSeamDropMm] = seam.seat.riser_mm;
    for (std::size_t k = 0; k < 2; ++k) {
      const PhotoPoint& mark = (*seam.seat.shelf_at_glass)[k];
      const Vector3d ray = axes.transpose() * undistorted(lens_, mark).homogeneous();
      const double depth = -reference[kOffsetMm] - normal.dot(eye);
      const Vector3d at = eye + ray * (depth / std::max(1e-6, normal.dot(ray)));
      block[k == 0 ? kSeamFirstMm : kSeamSecondMm] = along.dot(at);
    }
    return block;
  }

  static constexpr double kAnyMm = 1000.0;
  static constexpr double kMostPaneTurnRad = 0.7;  // against the sight line

  const StartInput& input_;
  const PhotoInput& photo_;
  double focal_px_;
  std::size_t controls_;
  Lens<double> lens_{};
  double pane_thickness_mm_ = 0.0;
  Rays rays_;
  std::vector<Flat> flats_;
  std::vector<std::vector<PlanePose>> poses_;  // of the flats, then of the discs
  std::vector<Rays> neighbour_rays_;
};

}  // namespace

Result<std::vector<Start>> starts(const StartInput& input, double focal_px,
                                  std::size_t control_count) {
  std::vector<Start> found = Builder(input, focal_px, control_count).all();
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
