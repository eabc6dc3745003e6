// SPDX-License-Identifier: MIT
#include "estimate/matching.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>

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

// A row of candidates as a polyline, with a box about each run of its segments: most of it can be
// passed over when the point nearest to a mark is looked for.
class Polyline {
 public:
  struct Nearest {
    double distance = std::numeric_limits<double>::max();  // squared
    double at = 0.0;
  };

  Polyline() = default;
  // With `only_seen` the segments that are not wholly seen are left out.
  Polyline(std::vector<Candidate> points, bool only_seen)
      : points_(std::move(points)), only_seen_(only_seen) {
    for (std::size_t i = 0; i + 1 < points_.size(); ++i) {
      if (i % kRun == 0) boxes_.emplace_back();
      if (left_out(i)) continue;
      boxes_.back().extend(points_[i].image);
      boxes_.back().extend(points_[i + 1].image);
    }
  }

  // Takes its point nearest to `pixel` into `best`, where that is nearer still, and returns whether
  // it was.
  bool nearer(const Eigen::Vector2d& pixel, Nearest& best) const {
    const double before = best.distance;
    std::size_t likely = 0;
    double least = best.distance;
    for (std::size_t run = 0; run < boxes_.size(); ++run) {
      const double distance = boxes_[run].squaredExteriorDistance(pixel);
      if (!(distance < least)) continue;
      least = distance;
      likely = run;
    }
    if (!(least < best.distance)) return false;
    search(likely, pixel, best);
    for (std::size_t run = 0; run < boxes_.size(); ++run) {
      if (run != likely && boxes_[run].squaredExteriorDistance(pixel) < best.distance) {
        search(run, pixel, best);
      }
    }
    return best.distance < before;
  }

 private:
  static constexpr std::size_t kRun = 8;  // segments

  bool left_out(std::size_t i) const {
    return only_seen_ && !(points_[i].seen && points_[i + 1].seen);
  }

  void search(std::size_t run, const Eigen::Vector2d& pixel, Nearest& best) const {
    const std::size_t end = std::min((run + 1) * kRun, points_.size() - 1);
    for (std::size_t i = run * kRun; i < end; ++i) {
      if (left_out(i)) continue;
      const Eigen::Vector2d step = points_[i + 1].image - points_[i].image;
      const double length = step.squaredNorm();
      const double t =
          length > 0.0 ? std::clamp((pixel - points_[i].image).dot(step) / length, 0.0, 1.0) : 0.0;
      const double distance = (points_[i].image + t * step - pixel).squaredNorm();
      if (distance < best.distance) {
        best = {distance, points_[i].at + t * (points_[i + 1].at - points_[i].at)};
      }
    }
  }

  std::vector<Candidate> points_;
  bool only_seen_ = false;
  std::vector<Eigen::AlignedBox2d> boxes_;  // one a run
};

enum class Curve { kContact, kRimCircle, kFootCircle };

// The vessel as its eye sees it: contacts, circles, their pictures, and what hides what.
class Surface {
 public:
  Surface(const Sight& sight, const Body& body, std::size_t discs)
      : sight_(sight),
        body_(body),
        lens_(lens_of(sight.lens.data(), sight.setting.focal_start_px)),
        eye_(0.0, -sight.pose[kDistanceMm], sight.pose[kEyeHeightMm]),
        pane_normal_(pane_normal(sight.pane.data())) {
    const double c = std::cos(2.0 * sight.setting.direction_rad);
    const double s = std::sin(2.0 * sight.setting.direction_rad);
    const double a = body.round[kBodyCos2];
    const double b = body.round[kBodySin2];
    oval_ = {c * a + s * b, c * b - s * a};
    for (int axis = 0; axis < 3; ++axis) {
      const Eigen::Vector3d column = sight.setting.camera_from_vessel_start.col(axis);
      Eigen::Vector3d turned;
      ceres::AngleAxisRotatePoint(sight.pose.data(), column.data(), turned.data());
      camera_from_vessel_.col(axis) = turned;
    }
    for (std::size_t i = 0; i <= discs; ++i) {
      discs_.push_back(point_at(profile_basis(part(i, discs), body_.control_count())));
    }
    const double s_eye = sight_.setting.glass ? eye_shift() : 0.0;
    // The solver refuses eyes inside the vessel; here they must only do no harm.
    eye_rho_ = std::max(1.0, sight_.pose[kDistanceMm] - s_eye);
  }

  static double part(std::size_t i, std::size_t count) {
    return static_cast<double>(i) / static_cast<double>(count);
  }

  ProfilePoint point_at(const ProfileBasis& basis) const { return combined(basis, basis.weight); }

  ProfilePoint combined(const ProfileBasis& basis, const std::array<double, 4>& weight) const {
    ProfilePoint p;
    for (std::size_t j = 0; j < 4; ++j) {
      p.radius_mm += weight[j] * body_.controls[2 * (basis.first + j)];
      p.height_mm += weight[j] * body_.controls[2 * (basis.first + j) + 1];
    }
    return p;
  }

  // How far the pane carries the eye towards the vessel, near enough to place the contact points;
  // the picture of each is then computed in full.
  double eye_shift() const {
    const double fall = sight_.pose[kEyeHeightMm] / sight_.pose[kDistanceMm];
    return glass_shift_mm(sight_.pane[kPaneThicknessMm], sight_.setting.glass_index,
                          1.0 / std::sqrt(1.0 + fall * fall));
  }

  // image_of with everything that does not depend on the point computed once.
  Eigen::Vector2d image(const Eigen::Vector3d& point) const {
    Eigen::Vector3d seen = point;
    if (sight_.setting.glass) {
      seen = seen_through_glass<double>(point, eye_, pane_normal_, sight_.pane[kPaneThicknessMm],
                                        sight_.setting.glass_index);
    }
    return project<double>(lens_, camera_from_vessel_ * (seen - eye_));
  }

  // True where the sight line to `point` runs through the inside of one of the discs.
  bool covered(const Eigen::Vector3d& point) const {
    const Eigen::Vector3d eye(0.0, -eye_rho_, sight_.pose[kEyeHeightMm]);
    const Eigen::Vector3d ray = point - eye;
    if (std::abs(ray.z()) < 1e-9) return false;
    for (const ProfilePoint& disc : discs_) {
      const double lambda = (disc.height_mm - eye.z()) / ray.z();
      if (!(lambda > 0.0)) continue;
      const double x = eye.x() + lambda * ray.x();
      const double y = eye.y() + lambda * ray.y();
      const double inner = disc.radius_mm * (1.0 + growth(x, y)) * 0.997 - 0.02;
      if (inner > 0.0 && x * x + y * y < inner * inner) return true;
    }
    return false;
  }

  // The contact at `s` on one side (-1 left, +1 right as seen), or nothing.
  struct Contact {
    ProfileBasis basis;
    double side = 1.0;
    double cosine = 0.0;                 // of its azimuth against the eye's
    Eigen::Vector2d outward{0.0, -1.0};  // the direction of its azimuth
    Eigen::Vector3d point = Eigen::Vector3d::Zero();
    bool from_outside = true;  // see touches_from_outside

    double azimuth() const { return kEyeAzimuth + side * std::acos(cosine); }
  };
  std::optional<Contact> contact(double s, double side) const {
    Contact c;
    c.basis = profile_basis(s, body_.control_count());
    ProfilePoint p = point_at(c.basis);
    const ProfilePoint slope = combined(c.basis, c.basis.slope);
    if (slope.radius_mm == 0.0 && slope.height_mm == 0.0) return std::nullopt;
    const ProfilePoint normal{slope.height_mm, -slope.radius_mm};
    // To first order an oval moves its outline by what its radius grows where a round body would be
    // touched.
    const auto cosine = contact_cosine(p, normal, Mm{eye_rho_}, Mm{sight_.pose[kEyeHeightMm]});
    if (!cosine) return std::nullopt;
    c.side = side;
    c.cosine = *cosine;
    c.outward = {side * std::sqrt(1.0 - *cosine * *cosine), -*cosine};
    c.from_outside = touches_from_outside(c, p, slope);
    p.radius_mm *= 1.0 + growth(c.outward.x(), c.outward.y());
    c.point << p.radius_mm * c.outward, p.height_mm;
    return c;
  }

  Match circle_point(double azimuth, double s) const {
    Match match;
    match.s = s;
    match.basis = profile_basis(s, body_.control_count());
    match.azimuth_rad = azimuth;
    on_body(match);
    const bool rim = s > 0.5;
    match.round_weight[rim ? kRimCos2 : kFootCos2] = match.round_weight[kBodyCos2];
    match.round_weight[rim ? kRimSin2 : kFootSin2] = match.round_weight[kBodySin2];
    return match;
  }

  Eigen::Vector2d image(const Match& match) const { return image(surface_point(match, body_)); }

 protected:
  // Whether a sight line that touches the surface passes it outside, not through it: its normal
  // curvature along the line must be convex. Where the picture of the contact points folds back on
  // itself, the stretch between the two cusps touches from inside; nobody sees it, however little
  // it lies within the outline. Source: J. J. Koenderink, "What does the occluding contour tell us
  // about solid shape?", Perception 13 (1984), from memory.
  bool touches_from_outside(const Contact& c, const ProfilePoint& p,
                            const ProfilePoint& slope) const {
    const ProfilePoint bend = combined(c.basis, c.basis.curvature);
    const double size =
        std::sqrt(slope.radius_mm * slope.radius_mm + slope.height_mm * slope.height_mm);
    if (!(p.radius_mm > 0.0)) return true;
    const double out = slope.height_mm / size;  // of the normal, away from the axis
    const double meridian = (slope.radius_mm * bend.height_mm - slope.height_mm * bend.radius_mm) /
                            (size * size * size);
    const Eigen::Vector3d outward(c.outward.x(), c.outward.y(), 0.0);
    const Eigen::Vector3d round(-outward.y(), outward.x(), 0.0);
    const Eigen::Vector3d ray =
        p.radius_mm * outward +
        (p.height_mm - sight_.pose[kEyeHeightMm]) * Eigen::Vector3d::UnitZ() +
        eye_rho_ * Eigen::Vector3d::UnitY();
    const double along = (slope.radius_mm * ray.dot(outward) + slope.height_mm * ray.z()) / size;
    const double across = ray.dot(round);
    return along * along * meridian + across * across * out / p.radius_mm >= 0.0;
  }

  void on_body(Match& match) const {
    const double twice = 2.0 * (match.azimuth_rad + sight_.setting.direction_rad);
    match.round_weight[kBodyCos2] = std::cos(twice);
    match.round_weight[kBodySin2] = std::sin(twice);
  }

  // What the body's being oval adds to its radius towards a place (x, y), as a part of it.
  double growth(double x, double y) const {
    const double squared = x * x + y * y;
    if (!(squared > 0.0)) return 0.0;
    return (oval_[0] * (x * x - y * y) + oval_[1] * 2.0 * x * y) / squared;
  }

  const Sight& sight_;
  const Body& body_;
  Lens<double> lens_;
  Eigen::Vector3d eye_;
  Eigen::Vector3d pane_normal_;
  Eigen::Matrix3d camera_from_vessel_;
  double eye_rho_ = 0.0;
  std::array<double, 2>
      oval_{};  // of the body, in cos 2a and sin 2a of the azimuths seen from here
  std::vector<ProfilePoint> discs_;
};

class Matcher final : public Surface {
 public:
  Matcher(const Sight& sight, const Body& body) : Surface(sight, body, kDiscSteps) {
    contact_curves();
    const std::vector<Candidate> rim = circle(1.0);
    const std::vector<Candidate> foot = circle(0.0);
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
    std::array<std::vector<Candidate>, 2> sides;
    for (std::size_t i = 0; i <= kCurveSteps; ++i) {
      Candidate right;
      right.at = part(i, kCurveSteps);
      Candidate left = right;
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

  std::vector<Candidate> circle(double s) const {
    std::vector<Candidate> points;
    for (std::size_t i = 0; i <= kCircleSteps; ++i) {
      Candidate candidate;
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
  std::vector<Candidate> open_part(const std::vector<Candidate>& circle, double s) const {
    const ProfilePoint p = point_at(profile_basis(s, body_.control_count()));
    const double above = eye_.z() - p.height_mm;
    if (s > 0.5 ? above >= 0.0 : above <= 0.0) return circle;
    // The circle begins and ends nearest to the eye; the part is to go from left to right.
    const double touched = p.radius_mm / eye_rho_;
    const auto before = [&](const Candidate& c) { return std::cos(c.at - kEyeAzimuth) >= touched; };
    const auto turn = std::find_if_not(circle.begin(), circle.end(), before);
    const auto back = std::find_if(turn, circle.end(), before);
    std::vector<Candidate> part(back, circle.end());
    for (Candidate& c : part) c.at -= 2.0 * std::numbers::pi;
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
  Polyline outline_half(const std::vector<Candidate>& circle, double s, double side) const {
    const auto middle = circle.begin() + static_cast<std::ptrdiff_t>(kCircleSteps / 2);
    std::vector<Candidate> half = side > 0.0 ? std::vector<Candidate>(circle.begin(), middle + 1)
                                             : std::vector<Candidate>(middle, circle.end());
    std::optional<Candidate> end;
    if (const auto found = contact(s, side)) {
      end.emplace();
      end->at = found->azimuth() + (side > 0.0 ? 0.0 : 2.0 * std::numbers::pi);
      end->image = image(found->point);
      end->seen = !covered(found->point);
    }
    std::vector<Candidate> part;
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

// Walks along the vessel's curves and cuts them where they begin or end to be hidden.
class Tracer final : public Surface {
 public:
  Tracer(const Sight& sight, const Body& body) : Surface(sight, body, kTraceDiscs) {}

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

VesselCurves vessel_curves(const Sight& sight, const Body& body, std::size_t outline_steps,
                           std::size_t circle_steps) {
  return Tracer(sight, body).curves(outline_steps, circle_steps);
}

bool outline_seen(const Sight& sight, const Body& body, double s) {
  return Matcher(sight, body).seen(s);
}

}  // namespace potshadow::internal
