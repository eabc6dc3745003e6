// SPDX-License-Identifier: MIT
#include "estimate/matching.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "vessel/silhouette.h"

namespace potshadow::internal {
namespace {

constexpr std::size_t kCurveSteps = 112;  // of the contact curve, along the profile
constexpr std::size_t kCircleSteps = 64;  // of the rim and foot circles
constexpr std::size_t kDiscSteps = 40;    // latitude discs for what hides what
constexpr std::size_t kTraceDiscs = 240;  // likewise, where the cuts are to be seen
constexpr int kRefinements = 2;           // each squares the distance along the curve
constexpr double kEyeAzimuth = -std::numbers::pi / 2.0;

// One candidate: a place on the surface and its picture. On the contact curve `at` is s, on a
// circle it is the azimuth.
struct Candidate {
  double at = 0.0;
  Eigen::Vector2d image = Eigen::Vector2d::Zero();
  bool seen = false;
};

enum class Curve { kContact, kRimCircle, kFootCircle };

// The vessel as its eye sees it: contacts, circles, their pictures, and what hides what.
class Surface {
 public:
  Surface(const Setting& setting, const State& state, std::size_t discs)
      : setting_(setting),
        state_(state),
        lens_(lens_of(state.lens.data(), setting.focal_start_px)),
        eye_(0.0, -state.pose[kDistanceMm], state.pose[kEyeHeightMm]),
        pane_normal_(pane_normal(state.pane.data())) {
    for (int axis = 0; axis < 3; ++axis) {
      const Eigen::Vector3d column = setting.camera_from_vessel_start.col(axis);
      Eigen::Vector3d turned;
      ceres::AngleAxisRotatePoint(state.pose.data(), column.data(), turned.data());
      camera_from_vessel_.col(axis) = turned;
    }
    for (std::size_t i = 0; i <= discs; ++i) {
      discs_.push_back(point_at(profile_basis(part(i, discs), state_.control_count())));
    }
    const double s_eye = setting_.glass ? eye_shift() : 0.0;
    // The solver refuses eyes inside the vessel; here they must only do no harm.
    eye_rho_ = std::max(1.0, state_.pose[kDistanceMm] - s_eye);
  }

  static double part(std::size_t i, std::size_t count) {
    return static_cast<double>(i) / static_cast<double>(count);
  }

  ProfilePoint point_at(const ProfileBasis& basis) const { return combined(basis, basis.weight); }

  ProfilePoint combined(const ProfileBasis& basis, const std::array<double, 4>& weight) const {
    ProfilePoint p;
    for (std::size_t j = 0; j < 4; ++j) {
      p.radius_mm += weight[j] * state_.controls[2 * (basis.first + j)];
      p.height_mm += weight[j] * state_.controls[2 * (basis.first + j) + 1];
    }
    return p;
  }

  // How far the pane carries the eye towards the vessel, near enough to place the contact points;
  // the picture of each is then computed in full.
  double eye_shift() const {
    const double fall = state_.pose[kEyeHeightMm] / state_.pose[kDistanceMm];
    return glass_shift_mm(state_.pane[kPaneThicknessMm], setting_.glass_index,
                          1.0 / std::sqrt(1.0 + fall * fall));
  }

  // image_of with everything that does not depend on the point computed once.
  Eigen::Vector2d image(const Eigen::Vector3d& point) const {
    Eigen::Vector3d seen = point;
    if (setting_.glass) {
      seen = seen_through_glass<double>(point, eye_, pane_normal_, state_.pane[kPaneThicknessMm],
                                        setting_.glass_index);
    }
    return project<double>(lens_, camera_from_vessel_ * (seen - eye_));
  }

  // True where the sight line to `point` runs through the inside of one of the discs.
  bool covered(const Eigen::Vector3d& point) const {
    const Eigen::Vector3d eye(0.0, -eye_rho_, state_.pose[kEyeHeightMm]);
    const Eigen::Vector3d ray = point - eye;
    if (std::abs(ray.z()) < 1e-9) return false;
    for (const ProfilePoint& disc : discs_) {
      const double lambda = (disc.height_mm - eye.z()) / ray.z();
      if (!(lambda > 0.0)) continue;
      const double x = eye.x() + lambda * ray.x();
      const double y = eye.y() + lambda * ray.y();
      const double inner = disc.radius_mm * (1.0 + state_.round[kBodyRound]) * 0.997 - 0.02;
      if (inner > 0.0 && x * x + y * y < inner * inner) return true;
    }
    return false;
  }

  // The contact at `s` on one side (-1 left, +1 right as seen), or nothing.
  struct Contact {
    ProfileBasis basis;
    double azimuth = 0.0;
    Eigen::Vector3d point = Eigen::Vector3d::Zero();
  };
  std::optional<Contact> contact(double s, double side) const {
    Contact c;
    c.basis = profile_basis(s, state_.control_count());
    ProfilePoint p = point_at(c.basis);
    const ProfilePoint slope = combined(c.basis, c.basis.slope);
    const double size = std::hypot(slope.radius_mm, slope.height_mm);
    if (!(size > 0.0)) return std::nullopt;
    const ProfilePoint normal{slope.height_mm / size, -slope.radius_mm / size};
    p.radius_mm *= 1.0 + state_.round[kBodyRound];
    const auto angle = contact_angle(p, normal, Mm{eye_rho_}, Mm{state_.pose[kEyeHeightMm]});
    if (!angle) return std::nullopt;
    c.azimuth = kEyeAzimuth + side * angle->value;
    c.point = {p.radius_mm * std::cos(c.azimuth), p.radius_mm * std::sin(c.azimuth), p.height_mm};
    return c;
  }

  Match circle_point(double azimuth, double s) const {
    Match match;
    match.s = s;
    match.basis = profile_basis(s, state_.control_count());
    match.azimuth_rad = azimuth;
    if (s > 0.5) {
      match.round_weight[kRimCos2] = std::cos(2.0 * azimuth);
      match.round_weight[kRimSin2] = std::sin(2.0 * azimuth);
    } else {
      match.round_weight[kFootRound] = 1.0;
    }
    return match;
  }

  Eigen::Vector2d image(const Match& match) const {
    const ProfilePoint p = point_at(match.basis);
    return image(surface_point(match, p.radius_mm, p.height_mm, state_.round.data()));
  }

 protected:
  const Setting& setting_;
  const State& state_;
  Lens<double> lens_;
  Eigen::Vector3d eye_;
  Eigen::Vector3d pane_normal_;
  Eigen::Matrix3d camera_from_vessel_;
  double eye_rho_ = 0.0;
  std::vector<ProfilePoint> discs_;
};

class Matcher final : public Surface {
 public:
  Matcher(const Setting& setting, const State& state) : Surface(setting, state, kDiscSteps) {
    contact_curves();
    rim_ = circle(1.0);
    foot_ = circle(0.0);
    rim_halves_ = {half(rim_, -1.0), half(rim_, 1.0)};
    foot_halves_ = {half(foot_, -1.0), half(foot_, 1.0)};
  }

  Match match(const MarkRef& mark) const {
    const Eigen::Vector2d pixel(mark.at.x_px, mark.at.y_px);
    if (mark.kind == MarkKind::kRim) return on_circle(pixel, Curve::kRimCircle);
    if (mark.kind == MarkKind::kBase) return on_circle(pixel, Curve::kFootCircle);
    const double side = mark.kind == MarkKind::kLeft ? -1.0 : 1.0;
    double best = std::numeric_limits<double>::max();
    Curve curve = Curve::kContact;
    double at = 0.5;
    const auto search = [&](const std::vector<Candidate>& candidates, Curve kind) {
      const auto found = nearest(candidates, pixel, true);
      if (found && found->distance < best) {
        best = found->distance;
        curve = kind;
        at = found->at;
      }
    };
    search(side < 0.0 ? left_ : right_, Curve::kContact);
    const std::size_t half = side < 0.0 ? 0 : 1;
    search(rim_halves_[half], Curve::kRimCircle);
    search(foot_halves_[half], Curve::kFootCircle);
    if (curve != Curve::kContact) return circle_match(pixel, curve, at);
    return contact_match(pixel, side, at);
  }

  bool seen(double s) const {
    for (const double side : {-1.0, 1.0}) {
      const auto found = contact(s, side);
      if (found && !covered(found->point)) return true;
    }
    return false;
  }

 private:
  struct Nearest {
    double distance = 0.0;  // squared
    double at = 0.0;
  };

  // Both sides at once: they mirror each other in the plane through the axis and the eye.
  void contact_curves() {
    for (std::size_t i = 0; i <= kCurveSteps; ++i) {
      Candidate right;
      right.at = part(i, kCurveSteps);
      Candidate left = right;
      if (const auto c = contact(right.at, 1.0)) {
        right.image = image(c->point);
        right.seen = !covered(c->point);
        left.image = image(Eigen::Vector3d(-c->point.x(), c->point.y(), c->point.z()));
        left.seen = right.seen;
      }
      right_.push_back(right);
      left_.push_back(left);
    }
  }

  std::vector<Candidate> circle(double s) const {
    std::vector<Candidate> points;
    for (std::size_t i = 0; i <= kCircleSteps; ++i) {
      Candidate candidate;
      candidate.at = kEyeAzimuth + 2.0 * std::numbers::pi * part(i, kCircleSteps);
      const Match match = circle_point(candidate.at, s);
      const ProfilePoint p = point_at(match.basis);
      const Eigen::Vector3d point =
          surface_point(match, p.radius_mm, p.height_mm, state_.round.data());
      candidate.image = image(point);
      candidate.seen = !covered(point);
      points.push_back(candidate);
    }
    return points;
  }

  // The half of a circle to the left or right of the axis: azimuths from -90 degrees on grow to the
  // right of the picture.
  static std::vector<Candidate> half(const std::vector<Candidate>& circle, double side) {
    const auto middle = static_cast<std::ptrdiff_t>(kCircleSteps / 2);
    if (side > 0.0) return {circle.begin(), circle.begin() + middle + 1};
    return {circle.begin() + middle, circle.end()};
  }

  // The nearest point of a polyline of candidates; only its seen parts where asked. Where nothing
  // is seen, nothing is found.
  static std::optional<Nearest> nearest(const std::vector<Candidate>& curve,
                                        const Eigen::Vector2d& pixel, bool only_seen) {
    std::optional<Nearest> best;
    for (std::size_t i = 0; i + 1 < curve.size(); ++i) {
      if (only_seen && !(curve[i].seen && curve[i + 1].seen)) continue;
      const Eigen::Vector2d step = curve[i + 1].image - curve[i].image;
      const double length = step.squaredNorm();
      const double t =
          length > 0.0 ? std::clamp((pixel - curve[i].image).dot(step) / length, 0.0, 1.0) : 0.0;
      const double distance = (curve[i].image + t * step - pixel).squaredNorm();
      if (!best || distance < best->distance) {
        best = Nearest{distance, curve[i].at + t * (curve[i + 1].at - curve[i].at)};
      }
    }
    return best;
  }

  Match on_circle(const Eigen::Vector2d& pixel, Curve curve) const {
    const auto& points = curve == Curve::kRimCircle ? rim_ : foot_;
    const auto found = nearest(points, pixel, false);
    return circle_match(pixel, curve, found ? found->at : kEyeAzimuth);
  }

  Match circle_match(const Eigen::Vector2d& pixel, Curve curve, double azimuth) const {
    const double s = curve == Curve::kRimCircle ? 1.0 : 0.0;
    constexpr double kStep = 1e-4;
    Eigen::Vector2d tangent = Eigen::Vector2d::UnitX();
    for (int i = 0; i < kRefinements; ++i) {
      const Eigen::Vector2d here = image(circle_point(azimuth, s));
      tangent =
          (image(circle_point(azimuth + kStep, s)) - image(circle_point(azimuth - kStep, s))) /
          (2.0 * kStep);
      if (!(tangent.squaredNorm() > 0.0)) break;
      azimuth += std::clamp((pixel - here).dot(tangent) / tangent.squaredNorm(), -0.05, 0.05);
    }
    Match match = circle_point(azimuth, s);
    match.normal = across(tangent);
    return match;
  }

  Match contact_match(const Eigen::Vector2d& pixel, double side, double s) const {
    constexpr double kStep = 1e-4;
    constexpr double kReach = 1.0 / static_cast<double>(kCurveSteps);
    Eigen::Vector2d tangent = Eigen::Vector2d::UnitY();
    double best = s;
    for (int i = 0; i < kRefinements; ++i) {
      const double low = std::max(0.0, best - kStep);
      const double high = std::min(1.0, best + kStep);
      const auto here = contact(best, side);
      const auto before = contact(low, side);
      const auto after = contact(high, side);
      if (!here || !before || !after) break;
      const Eigen::Vector2d slope = (image(after->point) - image(before->point)) / (high - low);
      if (!(slope.squaredNorm() > 0.0)) break;
      tangent = slope;
      const double move = (pixel - image(here->point)).dot(slope) / slope.squaredNorm();
      best = std::clamp(best + std::clamp(move, -kReach, kReach), 0.0, 1.0);
    }
    auto found = contact(best, side);
    if (!found) found = contact(s, side);
    Match match;
    match.s = best;
    match.basis = found ? found->basis : profile_basis(s, state_.control_count());
    match.azimuth_rad = found ? found->azimuth : kEyeAzimuth + side * std::numbers::pi / 2.0;
    match.round_weight[kBodyRound] = 1.0;
    match.normal = across(tangent);
    return match;
  }

  static Eigen::Vector2d across(const Eigen::Vector2d& tangent) {
    return Eigen::Vector2d(tangent.y(), -tangent.x()).normalized();
  }

  std::vector<Candidate> left_;
  std::vector<Candidate> right_;
  std::vector<Candidate> rim_;
  std::vector<Candidate> foot_;
  std::array<std::vector<Candidate>, 2> rim_halves_;  // left, right
  std::array<std::vector<Candidate>, 2> foot_halves_;
};

// Walks along the vessel's curves and cuts them where they begin or end to be hidden.
class Tracer final : public Surface {
 public:
  Tracer(const Setting& setting, const State& state) : Surface(setting, state, kTraceDiscs) {}

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
    bool hidden = false;
  };

  // True where the sight line enters the vessel before it gets to `point`.
  bool hidden(const Eigen::Vector3d& point) const {
    constexpr double kBefore = 1.0 - 1e-9;  // not the point's own latitude
    constexpr double kInside = 0.9995;      // of a radius: grazing is not hiding
    const Eigen::Vector3d eye(0.0, -eye_rho_, state_.pose[kEyeHeightMm]);
    const Eigen::Vector3d ray = point - eye;
    for (const ProfilePoint& disc : discs_) {
      const double along = (disc.height_mm - eye.z()) / ray.z();
      if (!(along > 0.0) || !(along < kBefore)) continue;
      const Eigen::Vector2d at = eye.head<2>() + along * ray.head<2>();
      const double inner = disc.radius_mm * (1.0 + state_.round[kBodyRound]) * kInside;
      if (inner > 0.0 && at.squaredNorm() < inner * inner) return true;
    }
    return false;
  }

  std::optional<Place> contact_place(double s) const {
    const auto found = contact(s, 1.0);
    if (!found) return std::nullopt;
    Place place;
    place.match.s = s;
    place.match.basis = found->basis;
    place.match.azimuth_rad = found->azimuth;
    place.match.round_weight[kBodyRound] = 1.0;
    place.hidden = hidden(found->point);
    return place;
  }

  std::vector<CurveRun> circle_runs(double s, std::size_t steps) const {
    const ProfilePoint p = point_at(profile_basis(s, state_.control_count()));
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
             Place place{circle_point(azimuth, s), false};
             const ProfilePoint at = point_at(place.match.basis);
             place.hidden = hidden(
                 surface_point(place.match, at.radius_mm, at.height_mm, state_.round.data()));
             return std::optional<Place>(place);
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
    const auto alike = [](const std::optional<Place>& a, const std::optional<Place>& b) {
      return a.has_value() == b.has_value() && (!a || a->hidden == b->hidden);
    };
    std::optional<Place> last = place_at(stops.front());
    if (last) {
      run.hidden = last->hidden;
      add(*last);
    }
    for (std::size_t i = 1; i < stops.size(); ++i) {
      const std::optional<Place> next = place_at(stops[i]);
      if (!alike(last, next)) {
        double low = stops[i - 1];
        double high = stops[i];
        std::optional<Place> before = last;
        std::optional<Place> after = next;
        for (int k = 0; k < kHalvings; ++k) {
          const double middle = (low + high) / 2.0;
          const std::optional<Place> there = place_at(middle);
          if (alike(last, there)) {
            low = middle;
            before = there;
          } else {
            high = middle;
            after = there;
          }
        }
        if (before && low > stops[i - 1]) add(*before);
        close();
        // After a change from seen to hidden the new run starts where the old one ended.
        if (before && after) add(*before);
        if (after) {
          run.hidden = after->hidden;
          if (high < stops[i]) add(*after);
        }
      }
      if (next) {
        if (run.points.empty()) run.hidden = next->hidden;
        if (!run.points.empty() && run.hidden != next->hidden) close();
        run.hidden = next->hidden;
        add(*next);
      }
      last = next;
    }
    close();
    return out;
  }
};

}  // namespace

std::vector<MarkRef> mark_refs(const Marks& marks) {
  std::vector<MarkRef> refs;
  const auto add = [&](MarkKind kind, const std::vector<PhotoPoint>& points) {
    for (std::size_t i = 0; i < points.size(); ++i) refs.push_back({kind, i, points[i]});
  };
  add(MarkKind::kRim, marks.rim);
  add(MarkKind::kBase, marks.base);
  add(MarkKind::kLeft, marks.left);
  add(MarkKind::kRight, marks.right);
  return refs;
}

std::vector<Match> match_marks(const Setting& setting, const State& state,
                               const std::vector<MarkRef>& marks) {
  const Matcher matcher(setting, state);
  std::vector<Match> matches;
  matches.reserve(marks.size());
  for (const MarkRef& mark : marks) matches.push_back(matcher.match(mark));
  return matches;
}

VesselCurves vessel_curves(const Setting& setting, const State& state, std::size_t outline_steps,
                           std::size_t circle_steps) {
  return Tracer(setting, state).curves(outline_steps, circle_steps);
}

bool outline_seen(const Setting& setting, const State& state, double s) {
  return Matcher(setting, state).seen(s);
}

}  // namespace potshadow::internal
