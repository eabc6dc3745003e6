// SPDX-License-Identifier: MIT
#include "estimate/matching.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "estimate/polyline.h"
#include "estimate/seen_surface.h"

namespace potshadow::internal {
namespace {

constexpr std::size_t kCurveSteps = 112;  // of the contact curve, along the profile
constexpr std::size_t kCircleSteps = 64;  // of the rim and foot circles
constexpr std::size_t kDiscSteps = 40;    // latitude discs for what hides what
constexpr int kRefinements = 2;           // each squares the distance along the curve

enum class Curve { kContact, kRimCircle, kFootCircle };

// Finds the place of each mark on its own curve.
class Matcher final : public SeenSurface {
 public:
  Matcher(const Sight& sight, const Body& body) : SeenSurface(sight, body, kDiscSteps) {
    contact_curves();
    const std::vector<CurveCandidate> rim = circle(1.0);
    const std::vector<CurveCandidate> foot = circle(0.0);
    rim_open_ = Polyline(open_part(rim, 1.0), false);
    foot_open_ = Polyline(open_part(foot, 0.0), false);
    rim_halves_ = {outline_half(rim, 1.0, -1.0), outline_half(rim, 1.0, 1.0)};
    foot_halves_ = {outline_half(foot, 0.0, -1.0), outline_half(foot, 0.0, 1.0)};
  }

  Match match(const MarkRef& mark) const {
    const Eigen::Vector2d pixel(mark.at.x_px, mark.at.y_px);
    if (mark.kind == MarkKind::kRim) return on_circle(pixel, Curve::kRimCircle);
    if (mark.kind == MarkKind::kBase) return on_circle(pixel, Curve::kFootCircle);
    const double side = mark.kind == MarkKind::kLeft ? -1.0 : 1.0;
    const std::size_t half = side < 0.0 ? 0 : 1;
    Curve curve = Curve::kContact;
    Polyline::Nearest best;
    best.at = 0.5;
    contacts_[half].nearer(pixel, best);
    if (rim_halves_[half].nearer(pixel, best)) curve = Curve::kRimCircle;
    if (foot_halves_[half].nearer(pixel, best)) curve = Curve::kFootCircle;
    if (curve != Curve::kContact) return circle_match(pixel, curve, best.at);
    return contact_match(pixel, side, best.at);
  }

  bool seen(double s) const {
    for (const double side : {-1.0, 1.0}) {
      const auto found = contact(s, side);
      if (found && found->from_outside && !covered(found->point)) return true;
    }
    return false;
  }

 private:
  // Both sides at once: they mirror each other in the plane through the axis and the eye.
  void contact_curves() {
    std::array<std::vector<CurveCandidate>, 2> sides;
    for (std::size_t i = 0; i <= kCurveSteps; ++i) {
      CurveCandidate right;
      right.at = part(i, kCurveSteps);
      CurveCandidate left = right;
      if (const auto c = contact(right.at, 1.0)) {
        right.image = image(c->point);
        right.seen = c->from_outside && !covered(c->point);
        left.image = image(Eigen::Vector3d(-c->point.x(), c->point.y(), c->point.z()));
        left.seen = right.seen;
      }
      sides[0].push_back(left);
      sides[1].push_back(right);
    }
    contacts_ = {Polyline(std::move(sides[0]), true), Polyline(std::move(sides[1]), true)};
  }

  std::vector<CurveCandidate> circle(double s) const {
    std::vector<CurveCandidate> points;
    for (std::size_t i = 0; i <= kCircleSteps; ++i) {
      CurveCandidate candidate;
      candidate.at = kEyeAzimuth + 2.0 * std::numbers::pi * part(i, kCircleSteps);
      const Match match = circle_point(candidate.at, s);
      const Eigen::Vector3d point = surface_point(match, body_);
      candidate.image = image(point);
      candidate.seen = !covered(point);
      points.push_back(candidate);
    }
    return points;
  }

  // The part of the rim or foot circle that can be seen of a vessel that lets no light through: all
  // of it from the open side (above the rim, below the foot), and from the other only what is
  // before the points where sight lines touch it. Level with the eye the two halves meet.
  std::vector<CurveCandidate> open_part(const std::vector<CurveCandidate>& circle, double s) const {
    const ProfilePoint p = point_at(profile_basis(s, body_.control_count()));
    const double above = eye_.z() - p.height_mm;
    if (s > 0.5 ? above >= 0.0 : above <= 0.0) return circle;
    // The circle begins and ends nearest to the eye; the part is to go from left to right.
    const double touched = p.radius_mm / eye_rho_;
    const auto before = [&](const CurveCandidate& c) {
      return std::cos(c.at - kEyeAzimuth) >= touched;
    };
    const auto turn = std::find_if_not(circle.begin(), circle.end(), before);
    const auto back = std::find_if(turn, circle.end(), before);
    std::vector<CurveCandidate> part(back, circle.end());
    for (CurveCandidate& c : part) c.at -= 2.0 * std::numbers::pi;
    if (!part.empty()) part.pop_back();  // the same place as the first
    part.insert(part.end(), circle.begin(), turn);
    return part.size() > 1 ? part : circle;
  }

  // Whether a place of the rim or foot circle can lie on the outline: of a rim seen from above what
  // lies behind the contacts, of a foot seen from above what lies before them; from below the other
  // part of each. The rest lies within the outline or is hidden by the wall.
  bool on_outline(double azimuth, double s) const {
    const ProfileBasis basis = profile_basis(s, body_.control_count());
    const ProfilePoint p = point_at(basis);
    const ProfilePoint slope = combined(basis, basis.slope);
    const double above = eye_.z() - p.height_mm;
    const double towards = eye_rho_ * std::cos(azimuth - kEyeAzimuth) - p.radius_mm;
    const bool faces_eye = slope.height_mm * towards - slope.radius_mm * above > 0.0;
    return faces_eye == ((s < 0.5) == (above > 0.0));
  }

  // What belongs to the outline of the half of a circle to the left or right of the axis: azimuths
  // from -90 degrees on grow to the right of the picture. It goes on where the contact curve ends.
  Polyline outline_half(const std::vector<CurveCandidate>& circle, double s, double side) const {
    const auto middle = circle.begin() + static_cast<std::ptrdiff_t>(kCircleSteps / 2);
    std::vector<CurveCandidate> half = side > 0.0
                                           ? std::vector<CurveCandidate>(circle.begin(), middle + 1)
                                           : std::vector<CurveCandidate>(middle, circle.end());
    std::optional<CurveCandidate> end;
    if (const auto found = contact(s, side)) {
      end.emplace();
      end->at = found->azimuth() + (side > 0.0 ? 0.0 : 2.0 * std::numbers::pi);
      end->image = image(found->point);
      end->seen = !covered(found->point);
    }
    std::vector<CurveCandidate> part;
    for (std::size_t i = 0; i < half.size(); ++i) {
      half[i].seen = half[i].seen && on_outline(half[i].at, s);
      if (end && i > 0 && half[i - 1].at < end->at && end->at < half[i].at) part.push_back(*end);
      part.push_back(half[i]);
    }
    return Polyline(std::move(part), true);
  }

  Match on_circle(const Eigen::Vector2d& pixel, Curve curve) const {
    Polyline::Nearest best;
    best.at = kEyeAzimuth;
    (curve == Curve::kRimCircle ? rim_open_ : foot_open_).nearer(pixel, best);
    return circle_match(pixel, curve, best.at);
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
    auto here = contact(s, side);
    for (int i = 0; i < kRefinements; ++i) {
      const double low = std::max(0.0, best - kStep);
      const double high = std::min(1.0, best + kStep);
      const auto before = contact(low, side);
      const auto after = contact(high, side);
      if (!here || !before || !after) break;
      const Eigen::Vector2d slope = (image(after->point) - image(before->point)) / (high - low);
      if (!(slope.squaredNorm() > 0.0)) break;
      tangent = slope;
      const double move = (pixel - image(here->point)).dot(slope) / slope.squaredNorm();
      const double next = std::clamp(best + std::clamp(move, -kReach, kReach), 0.0, 1.0);
      const auto there = contact(next, side);
      if (!there || (here->from_outside && !there->from_outside)) break;  // beyond a cusp
      best = next;
      here = there;
    }
    Match match;
    match.s = best;
    match.basis = here ? here->basis : profile_basis(s, body_.control_count());
    match.azimuth_rad = here ? here->azimuth() : kEyeAzimuth + side * std::numbers::pi / 2.0;
    on_body(match);
    match.normal = across(tangent);
    return match;
  }

  static Eigen::Vector2d across(const Eigen::Vector2d& tangent) {
    return Eigen::Vector2d(tangent.y(), -tangent.x()).normalized();
  }

  std::array<Polyline, 2> contacts_;  // left, right
  Polyline rim_open_;
  Polyline foot_open_;
  std::array<Polyline, 2> rim_halves_;  // left, right
  std::array<Polyline, 2> foot_halves_;
};

}  // namespace

std::vector<MarkRef> mark_refs(const Marks& marks) {
  std::vector<MarkRef> refs;
  const auto add = [&](MarkKind kind, const std::vector<PhotoPoint>& points,
                       const std::vector<double>& own_sd_px) {
    for (std::size_t i = 0; i < points.size(); ++i) {
      const bool traced = !own_sd_px.empty() && own_sd_px[i] > 0.0;
      refs.push_back({kind, i, points[i], traced ? own_sd_px[i] : marks.sd_px, traced});
    }
  };
  add(MarkKind::kRim, marks.rim, marks.rim_sd_px);
  add(MarkKind::kBase, marks.base, marks.base_sd_px);
  add(MarkKind::kLeft, marks.left, marks.left_sd_px);
  add(MarkKind::kRight, marks.right, marks.right_sd_px);
  return refs;
}

std::vector<Match> match_marks(const Sight& sight, const Body& body,
                               const std::vector<MarkRef>& marks) {
  const Matcher matcher(sight, body);
  std::vector<Match> matches;
  matches.reserve(marks.size());
  for (const MarkRef& mark : marks) matches.push_back(matcher.match(mark));
  return matches;
}

bool outline_seen(const Sight& sight, const Body& body, double s) {
  return Matcher(sight, body).seen(s);
}

}  // namespace potshadow::internal
