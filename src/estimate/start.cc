// SPDX-License-Identifier: MIT
#include "estimate/start.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "estimate/disc.h"
#include "estimate/flat.h"
#include "estimate/placement.h"
#include "estimate/reference_pose.h"
#include "estimate/shelf.h"
#include "estimate/sketch.h"

namespace potshadow::internal {
namespace {

using Eigen::Vector3d;

class Builder {
 public:
  Builder(const StartInput& input, double focal_px, std::size_t controls)
      : input_(input), photo_(*input.photo), focal_px_(focal_px), controls_(controls) {
    const Priors priors = priors_of(photo_);
    lens_ = {focal_px, priors.centre_x_px, priors.centre_y_px, photo_.lens.k1, photo_.lens.k2};
    pane_thickness_mm_ = priors.pane_thickness_mm;
    rays_ = rays_of(lens_, photo_.marks);
    flats_ = flats_of(photo_);
    for (const Flat& flat : flats_) poses_.push_back(flat_poses(lens_, flat));
    for (const DiscReference& disc : photo_.discs) poses_.push_back(disc_poses(lens_, disc));
    for (const NeighbourReference& neighbour : photo_.neighbours) {
      neighbour_rays_.push_back(rays_of(lens_, neighbour.marks));
    }
  }

  std::vector<Start> all() const {
    std::vector<Start> out;
    std::vector<Vector3d> from_rim = ups_of_rim(rays_.rim);
    for (const SightRays& rays : neighbour_rays_) {
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

  const FlatReference& seat_of(std::size_t r) const {
    if (r < flats_.size()) return flats_[r].seat;
    return photo_.discs[r - flats_.size()];
  }

  // The camera and the vessel, with nothing else in the picture yet.
  Start begun(const VesselSketch& sketch) const {
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

  std::optional<VesselSketch> vessel_sketch(const SeenVessel& seen, const Vector3d& up,
                                            double shelf) const {
    return sketched(rays_, seen, up, shelf, input_.round_base, input_.hidden_mm, controls_);
  }

  ShelfSight shelf_sight() const { return {lens_, input_.hidden_mm}; }

  // Without a plane: the shelf is where the reference or size that is surest of it has it.
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
      consider((flat.size_sd_mm + offset.sd_mm) / mm,
               shelf_from_length(shelf_sight(), flat, *seen, up));
    }
    for (std::size_t n = 0; n < photo_.neighbours.size(); ++n) {
      const NeighbourReference& of = photo_.neighbours[n];
      const KnownSize size{of.number, of.name, of.value_mm, of.sd_mm, false};
      const auto found = shelf_from_size(neighbour_rays_[n], of.round_base, up, size, controls_);
      if (found) consider((of.sd_mm + of.riser_sd_mm) / of.value_mm, *found - of.riser_mm);
    }
    for (const KnownSize& size : input_.sizes) {
      const auto found = shelf_from_size(rays_, input_.round_base, up, size, controls_);
      if (found) consider(size.sd_mm / size.value_mm, *found);
    }
    if (!photo_.distances.empty()) {
      if (const auto sketch = vessel_sketch(*seen, up, kAnyEyeHeightMm)) {
        const double half = sketch->controls.back() / 2.0;
        const double length = std::hypot(sketch->distance_mm, kAnyEyeHeightMm - half);
        for (const KnownDistance& distance : photo_.distances) {
          consider(distance.sd_mm / distance.value_mm,
                   kAnyEyeHeightMm * distance.value_mm / length);
        }
      }
    }
    return finished(*seen, up, shelf, std::nullopt, PlanePose{});
  }

  // With the plane of reference `r` in one of its poses.
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
      shelf = shelf_from_pane(shelf_sight(), seat, *seen, up, inward, inward.dot(at.origin_mm));
    } else if (seat.place == Place::kBeside) {
      shelf =
          (seen->towards.dot(anchor) - seat.depth_offset_mm) / axis_reach(*seen) + input_.hidden_mm;
    } else {
      shelf = -up.dot(anchor) - seat.riser_mm;
    }
    return finished(*seen, up, shelf, r, pose);
  }

  // The whole start: the vessel, and every reference in its place.
  std::optional<Start> finished(const SeenVessel& seen, const Vector3d& up, double shelf,
                                std::optional<std::size_t> chosen, const PlanePose& pose) const {
    const auto sketch = vessel_sketch(seen, up, shelf);
    if (!sketch) return std::nullopt;
    Start start = begun(*sketch);
    View& view = start.state.views.front();
    const Eigen::Matrix3d& axes = sketch->axes;
    const SketchedCamera camera{lens_, axes,
                                Vector3d(0.0, -sketch->distance_mm, sketch->eye_height_mm)};
    for (std::size_t k = 0; k < poses_.size(); ++k) {
      const bool is_flat = k < flats_.size();
      if (is_flat && flats_[k].kind == FlatKind::kLength) {
        view.flats.push_back(placed_length(camera, flats_[k], view));
        continue;
      }
      if (poses_[k].empty()) return std::nullopt;
      if (is_flat) {
        const Flat& flat = flats_[k];
        const PlanePose& taken = chosen == k ? pose : poses_[k].front();
        auto block = placed(camera, flat.seat, first_to_origin(flat, taken), view);
        block[kWidthMm] = flat.width_mm;
        block[kHeightMm] = flat.height_mm;
        view.flats.push_back(block);
      } else {
        const DiscReference& disc = photo_.discs[k - flats_.size()];
        const PlanePose& taken = chosen == k ? pose : likelier(disc, poses_[k], up);
        auto block = placed(camera, disc, seated(disc, taken, up), view);
        block[kWidthMm] = disc.diameter_mm;
        if (!stands_on_edge(disc.place) && disc.place != Place::kBeside) block[kYawRad] = 0.0;
        if (disc.place != Place::kLeaning) block[kLeanRad] = 0.0;
        view.discs.push_back(block);
      }
    }
    for (const Seam& seam : seams_of(photo_)) {
      view.seams.push_back(
          placed_seam(camera, seam, (seam.of_disc ? view.discs : view.flats)[seam.index], view));
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

  const StartInput& input_;
  const PhotoInput& photo_;
  double focal_px_;
  std::size_t controls_;
  Lens<double> lens_{};
  double pane_thickness_mm_ = 0.0;
  SightRays rays_;
  std::vector<Flat> flats_;
  std::vector<std::vector<PlanePose>> poses_;  // of the flats, then of the discs
  std::vector<SightRays> neighbour_rays_;
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
