// SPDX-License-Identifier: MIT
#include "estimate/vessel_curves.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "estimate/seen_surface.h"

namespace potshadow::internal {
namespace {

constexpr std::size_t kTraceDiscs = 240;  // latitude discs for where the cuts are

// Walks along the vessel's curves and cuts them where they begin or end to be hidden.
class CurveWalk final : public SeenSurface {
 public:
  CurveWalk(const Sight& sight, const Body& body) : SeenSurface(sight, body, kTraceDiscs) {}

  VesselCurves curves(std::size_t outline_steps, std::size_t circle_steps) const {
    VesselCurves out;
    std::vector<double> stops;
    for (std::size_t i = 0; i <= outline_steps; ++i) stops.push_back(part(i, outline_steps));
    out.right = runs(stops, [this](double s) { return contact_place(s); });
    // The two sides mirror each other in the plane through the axis and the eye.
    out.left = out.right;
    for (CurveRun& run : out.left) {
      for (CurvePoint& point : run.points) {
        point.match.azimuth_rad = 2.0 * kEyeAzimuth - point.match.azimuth_rad;
      }
    }
    for (std::vector<CurveRun>* side : {&out.left, &out.right}) show(*side);
    out.rim = circle_runs(1.0, circle_steps);
    out.foot = circle_runs(0.0, circle_steps);
    return out;
  }

 private:
  struct Place {
    Match match;
    bool there = false;
    bool hidden = false;
  };

  // True where the sight line enters the vessel before it gets to `point`.
  bool hidden(const Eigen::Vector3d& point) const {
    constexpr double kBefore = 1.0 - 1e-9;  // not the point's own latitude
    constexpr double kInside = 0.9995;      // of a radius: grazing is not hiding
    const Eigen::Vector3d eye(0.0, -eye_rho_, sight_.pose[kEyeHeightMm]);
    const Eigen::Vector3d ray = point - eye;
    for (const ProfilePoint& disc : discs_) {
      const double along = (disc.height_mm - eye.z()) / ray.z();
      if (!(along > 0.0) || !(along < kBefore)) continue;
      const Eigen::Vector2d at = eye.head<2>() + along * ray.head<2>();
      const double inner = disc.radius_mm * (1.0 + growth(at.x(), at.y())) * kInside;
      if (inner > 0.0 && at.squaredNorm() < inner * inner) return true;
    }
    return false;
  }

  Place contact_place(double s) const {
    Place place;
    const auto found = contact(s, 1.0);
    if (!found) return place;
    place.there = true;
    place.match.s = s;
    place.match.basis = found->basis;
    place.match.azimuth_rad = found->azimuth();
    on_body(place.match);
    place.hidden = !found->from_outside || hidden(found->point);
    return place;
  }

  std::vector<CurveRun> circle_runs(double s, std::size_t steps) const {
    const ProfilePoint p = point_at(profile_basis(s, body_.control_count()));
    if (!(p.radius_mm > 0.0)) return {};
    // Front and back part where the sight lines touch the circle.
    const double reach = std::acos(std::clamp(p.radius_mm / eye_rho_, -1.0, 1.0));
    const std::size_t half = std::max<std::size_t>(2, steps / 2);
    std::vector<CurveRun> out;
    const std::array<double, 3> ends = {kEyeAzimuth - reach, kEyeAzimuth + reach,
                                        kEyeAzimuth - reach + 2.0 * std::numbers::pi};
    for (std::size_t k = 0; k < 2; ++k) {
      std::vector<double> stops;
      for (std::size_t i = 0; i <= half; ++i) {
        stops.push_back(ends[k] + part(i, half) * (ends[k + 1] - ends[k]));
      }
      for (CurveRun& run : runs(stops, [this, s](double azimuth) {
             Place place{circle_point(azimuth, s), true, false};
             place.hidden = hidden(surface_point(place.match, body_));
             return place;
           })) {
        out.push_back(std::move(run));
      }
    }
    show(out);
    return out;
  }

  void show(std::vector<CurveRun>& runs) const {
    for (CurveRun& run : runs) {
      for (CurvePoint& point : run.points) point.image = image(point.match);
    }
  }

  // The places at the stops in runs that are wholly seen or wholly hidden; each change between two
  // stops is narrowed down by halving.
  template <class PlaceAt>
  static std::vector<CurveRun> runs(const std::vector<double>& stops, const PlaceAt& place_at) {
    constexpr int kHalvings = 7;
    std::vector<CurveRun> out;
    CurveRun run;
    const auto add = [&run](const Place& place) {
      run.points.push_back({place.match, Eigen::Vector2d::Zero()});
    };
    const auto close = [&] {
      if (run.points.size() > 1) out.push_back(run);
      run.points.clear();
    };
    const auto alike = [](const Place& a, const Place& b) {
      return a.there == b.there && (!a.there || a.hidden == b.hidden);
    };
    Place last = place_at(stops.front());
    if (last.there) {
      run.hidden = last.hidden;
      add(last);
    }
    for (std::size_t i = 1; i < stops.size(); ++i) {
      const Place next = place_at(stops[i]);
      if (!alike(last, next)) {
        double low = stops[i - 1];
        double high = stops[i];
        Place before = last;
        Place after = next;
        for (int k = 0; k < kHalvings; ++k) {
          const double middle = (low + high) / 2.0;
          const Place there = place_at(middle);
          if (alike(last, there)) {
            low = middle;
            before = there;
          } else {
            high = middle;
            after = there;
          }
        }
        if (before.there && low > stops[i - 1]) add(before);
        close();
        // After a change from seen to hidden the new run starts where the old one ended.
        if (before.there && after.there) add(before);
        if (after.there) {
          run.hidden = after.hidden;
          if (high < stops[i]) add(after);
        }
      }
      if (next.there) {
        if (run.points.empty()) run.hidden = next.hidden;
        if (!run.points.empty() && run.hidden != next.hidden) close();
        run.hidden = next.hidden;
        add(next);
      }
      last = next;
    }
    close();
    return out;
  }
};

}  // namespace

VesselCurves vessel_curves(const Sight& sight, const Body& body, std::size_t outline_steps,
                           std::size_t circle_steps) {
  return CurveWalk(sight, body).curves(outline_steps, circle_steps);
}

}  // namespace potshadow::internal
