// SPDX-License-Identifier: MIT
#include "outline/refine_reference.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <exception>
#include <numbers>
#include <optional>
#include <utility>

#include "geometry/conic.h"
#include "outline/edge_curve.h"

namespace potshadow {
namespace {

using Eigen::Vector2d;

constexpr double kLeastSizePx = 20.0;
// A search that went further than this to the middle would meet the opposite edge.
constexpr double kReachOfHalf = 0.8;
constexpr int kFineRounds = 2;      // stations are moved onto the edge and measured again
constexpr double kStationPx = 1.5;  // between stations; nearer ones see the same pixels
constexpr std::size_t kMostStations = 400;
constexpr std::size_t kRoughStations = 60;
constexpr double kAgreePx = 2.0;  // places of one edge, before it is measured

Vector2d vector_of(PhotoPoint p) { return {p.x_px, p.y_px}; }
PhotoPoint point_of(const Vector2d& p) { return {p.x(), p.y()}; }
double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

bool in_picture(const Picture& picture, PhotoPoint p) {
  return p.x_px >= -0.5 && p.y_px >= -0.5 && p.x_px <= picture.bgr.cols - 0.5 &&
         p.y_px <= picture.bgr.rows - 0.5;
}

double reach_px(const Picture& picture) {
  return kRoughReach * std::max(picture.bgr.cols, picture.bgr.rows);
}

Problem empty_picture() {
  return {Code::kBadValue, "There is no picture to look for edges in.", "Open a photograph first.",
          ""};
}

Problem outside_picture(const char* what) {
  return {Code::kBadMarks, std::string("A mark of the ") + what + " lies outside the picture.",
          "Move it onto the photograph.", ""};
}

Problem no_edge(const char* what) {
  return {Code::kCannotBeAnswered,
          std::string("No edge of the ") + what + " is clear near the marks.",
          "Move the marks nearer to its edge, or set them by hand under the magnifier.", ""};
}

// --- Card ----------------------------------------------------------------------------------------

// One side: outwards of the chord from a to b by a polynomial in t, -1 at a and 1 at b.
struct Side {
  Vector2d a = Vector2d::Zero();
  Vector2d b = Vector2d::Zero();
  Vector2d outwards = Vector2d::UnitX();
  Eigen::Vector3d bend = Eigen::Vector3d::Zero();
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();
  bool found = false;

  double length() const { return (b - a).norm(); }
  double along(const Vector2d& p) const {
    const Vector2d u = (b - a) / length();
    return 2.0 * (p - a).dot(u) / length() - 1.0;
  }
  static Eigen::Vector3d powers(double t) { return {1.0, t, t * t}; }
  Vector2d at(double t) const {
    return 0.5 * ((1.0 - t) * a + (1.0 + t) * b) + bend.dot(powers(t)) * outwards;
  }
  // How far a place lies outwards of the curve, and how that changes with the place.
  std::pair<double, Vector2d> off(const Vector2d& p) const {
    const double t = along(p);
    const Vector2d u = (b - a) / length();
    const double slope = (bend[1] + 2.0 * bend[2] * t) * 2.0 / length();
    return {(p - a).dot(outwards) - bend.dot(powers(t)), outwards - slope * u};
  }
  double variance(double t) const {
    return powers(t).dot(covariance * powers(t)) + kEdgeBiasPx * kEdgeBiasPx;
  }
};

using Corners = std::array<Vector2d, 4>;
using Sides = std::array<Side, 4>;  // the i-th from corner i to the next

Side chord(const Corners& corners, std::size_t i) {
  Side side;
  side.a = corners[i];
  side.b = corners[(i + 1) % 4];
  const Vector2d centre = (corners[0] + corners[1] + corners[2] + corners[3]) / 4.0;
  const Vector2d u = (side.b - side.a).normalized();
  side.outwards = Vector2d(u.y(), -u.x());
  if ((centre - side.a).dot(side.outwards) > 0.0) side.outwards = -side.outwards;
  return side;
}

std::vector<EdgeStation> stations_on(const Side& side, double from, std::size_t count,
                                     Eigen::Index terms) {
  std::vector<EdgeStation> out;
  for (std::size_t i = 0; i < count; ++i) {
    const double t =
        -from + 2.0 * from * (static_cast<double>(i) + 0.5) / static_cast<double>(count);
    out.push_back({side.at(t), side.outwards, Side::powers(t).head(terms)});
  }
  return out;
}

std::optional<Problem> cannot_be(const Picture& picture, const std::array<PhotoPoint, 4>& clicks) {
  for (const PhotoPoint& p : clicks) {
    if (!std::isfinite(p.x_px) || !std::isfinite(p.y_px) || !in_picture(picture, p))
      return outside_picture("card");
  }
  int turns = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Vector2d a = vector_of(clicks[i]);
    const Vector2d b = vector_of(clicks[(i + 1) % 4]);
    const Vector2d c = vector_of(clicks[(i + 2) % 4]);
    if ((b - a).norm() < kLeastSizePx) {
      return Problem{Code::kBadMarks, "Two corners of the card are less than 20 px apart.",
                     "Mark four different corners, on a photograph that shows the card larger.",
                     ""};
    }
    turns += cross(b - a, c - b) > 0.0 ? 1 : -1;
  }
  if (std::abs(turns) != 4) {
    return Problem{Code::kBadMarks, "The card's corners are crossed.",
                   "Mark them one after the other round the card.", ""};
  }
  return std::nullopt;
}

// Where the sides before and after a corner meet; nothing where they are nearly parallel.
std::optional<Vector2d> meeting(const Side& before, const Side& after, Vector2d start) {
  constexpr int kRounds = 20;
  constexpr double kStillPx = 1e-9;
  for (int round = 0; round < kRounds; ++round) {
    const auto [first, first_slope] = before.off(start);
    const auto [second, second_slope] = after.off(start);
    Eigen::Matrix2d slopes;
    slopes << first_slope.transpose(), second_slope.transpose();
    constexpr double kLeastAngle = 0.05;
    if (!(std::abs(slopes.determinant()) > kLeastAngle)) return std::nullopt;
    const Vector2d move = slopes.inverse() * Vector2d(first, second);
    start -= move;
    if (move.norm() < kStillPx) break;
  }
  return start;
}

// The corners anew, each where two found sides meet; the others stay.
Corners met(const Sides& sides, Corners corners) {
  for (std::size_t i = 0; i < 4; ++i) {
    const Side& before = sides[(i + 3) % 4];
    if (!before.found || !sides[i].found) continue;
    if (const auto place = meeting(before, sides[i], corners[i])) corners[i] = *place;
  }
  return corners;
}

// Looks for the line of each side within reach of the clicks.
Sides rough_sides(const Picture& picture, const Corners& clicks) {
  const Eigen::Vector3d paper = middle_colour(picture, {clicks.begin(), clicks.end()});
  const Vector2d centre = (clicks[0] + clicks[1] + clicks[2] + clicks[3]) / 4.0;
  Sides sides;
  for (std::size_t i = 0; i < 4; ++i) {
    Side& side = sides[i];
    side = chord(clicks, i);
    const double reach =
        std::min(reach_px(picture), kReachOfHalf * std::abs((centre - side.a).dot(side.outwards)));
    // Clicks that are off leave the ends of a side beyond its corners.
    constexpr double kFrom = 0.7;
    const auto count =
        std::min(kRoughStations, static_cast<std::size_t>(side.length() * kFrom / 2.0));
    const auto line =
        rough_curve(picture, stations_on(side, kFrom, count, 2), reach, kAgreePx, paper);
    if (!line) continue;
    side.bend << *line, 0.0;
    side.found = true;
  }
  return sides;
}

// Measures a side that lies within some pixels. Its chord runs from corner to corner.
void measure(const Picture& picture, Side& side) {
  // Rounded corners of cards take up to 6 % of their shorter side, and smoothing a little more.
  constexpr double kFrom = 0.80;
  const auto count = std::clamp(static_cast<std::size_t>(side.length() * kFrom / kStationPx),
                                kRoughStations / 4, kMostStations);
  for (int round = 0; round < kFineRounds; ++round) {
    const auto curve = fine_curve(picture, stations_on(side, kFrom, count, 3));
    side.found = curve.has_value();
    if (!curve) return;
    side.bend += curve->coefficients;
    side.covariance = curve->covariance;
  }
}

const char* ordinal(std::size_t i) {
  static constexpr std::array<const char*, 4> kWords = {"first and second", "second and third",
                                                        "third and fourth", "fourth and first"};
  return kWords[i];
}

// --- Disc ----------------------------------------------------------------------------------------

// The ellipse's place at an angle of its own, and what the five ways of changing it add outwards.
EdgeStation on_ellipse(const Ellipse& e, double angle) {
  const Eigen::Rotation2Dd turn(e.angle.value);
  EdgeStation out;
  out.at =
      e.centre + turn * Vector2d(e.semi_major * std::cos(angle), e.semi_minor * std::sin(angle));
  out.outwards = (turn * Vector2d(std::cos(angle) * e.semi_minor, std::sin(angle) * e.semi_major))
                     .normalized();
  // Outwards, a change of the conic counts in inverse proportion to the conic's slope.
  const double slope =
      Vector2d(std::cos(angle) / e.semi_major, std::sin(angle) / e.semi_minor).norm() *
      e.semi_minor;
  out.shapes.resize(5);
  out.shapes << 1.0, std::cos(angle), std::sin(angle), std::cos(2.0 * angle), std::sin(2.0 * angle);
  out.shapes /= slope;
  return out;
}

std::vector<EdgeStation> stations_on(const Ellipse& e, std::size_t count) {
  std::vector<EdgeStation> out;
  for (std::size_t i = 0; i < count; ++i) {
    out.push_back(on_ellipse(
        e, 2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5) / static_cast<double>(count)));
  }
  return out;
}

Result<Ellipse> ellipse_through(const std::vector<Vector2d>& points) {
  const auto conic = fit_ellipse(points);
  if (!conic) return conic.problem();
  return ellipse_of(*conic);
}

// The ellipse changed by the five coefficients.
Result<Ellipse> changed(const std::vector<EdgeStation>& stations,
                        const Eigen::VectorXd& coefficients) {
  std::vector<Vector2d> places;
  for (const EdgeStation& s : stations)
    places.emplace_back(s.at + s.shapes.dot(coefficients) * s.outwards);
  return ellipse_through(places);
}

constexpr std::size_t kMostDiscPoints = 60;

// Every point is the mean of some neighbouring stations, on the normal of the curve there.
RefinedDisc points_on(const std::vector<EdgeStation>& stations, const EdgeCurve& curve) {
  RefinedDisc disc;
  const std::size_t together = (curve.stations.size() + kMostDiscPoints - 1) / kMostDiscPoints;
  const std::size_t count = curve.stations.size() / together;
  for (std::size_t i = 0; i < count; ++i) {
    double miss = 0.0;
    for (std::size_t k = i * together; k < (i + 1) * together; ++k) {
      miss += curve.offsets_px[k] - stations[curve.stations[k]].shapes.dot(curve.coefficients);
    }
    const EdgeStation& middle = stations[curve.stations[i * together + together / 2]];
    const double offset =
        middle.shapes.dot(curve.coefficients) + miss / static_cast<double>(together);
    // What the whole edge is off by must not be averaged away over the points.
    const double noise =
        curve.scatter_px * curve.scatter_px * curve.alike / static_cast<double>(together);
    const double shared = kEdgeBiasPx * kEdgeBiasPx * static_cast<double>(count);
    disc.edge.push_back(
        {point_of(middle.at + offset * middle.outwards), std::sqrt(noise + shared), true});
  }
  return disc;
}

Result<RefinedDisc> disc_from(const Picture& picture, const std::vector<Vector2d>& clicks) {
  const auto rough = ellipse_through(clicks);
  if (!rough) return rough.problem();
  Ellipse ellipse = *rough;
  if (ellipse.semi_minor < kLeastSizePx / 2.0) {
    return Problem{Code::kBadMarks, "The disc is less than 20 px across.",
                   "Mark it on a photograph that shows it larger.", ""};
  }
  // Between rough points an ellipse is farther off than the points themselves.
  constexpr double kFartherOff = 1.5;
  double reach = std::min(kFartherOff * reach_px(picture), kReachOfHalf * ellipse.semi_minor);
  // Five harmonics describe a small change only, and the ends of a narrow ellipse turn quickly: a
  // first search is content with less, and a second one starts from what it found.
  constexpr double kLooselyOfReach = 0.3;
  for (const double agree : {std::max(kAgreePx, kLooselyOfReach * reach), kAgreePx}) {
    const auto few = stations_on(ellipse, kRoughStations);
    std::vector<Vector2d> outline;
    for (const EdgeStation& s : few) outline.push_back(s.at);
    const auto line = rough_curve(picture, few, reach, agree, middle_colour(picture, outline));
    if (!line) return no_edge("disc");
    const auto near = changed(few, *line);
    if (!near) return no_edge("disc");
    ellipse = *near;
    reach *= 0.5;
  }
  const double round = std::numbers::pi * (ellipse.semi_major + ellipse.semi_minor);
  const auto count = std::clamp(static_cast<std::size_t>(round / kStationPx), kRoughStations / 2,
                                2 * kMostStations);
  for (int i = 0;; ++i) {
    const auto stations = stations_on(ellipse, count);
    const auto curve = fine_curve(picture, stations);
    if (!curve) return no_edge("disc");
    if (i == kFineRounds) return points_on(stations, *curve);
    const auto next = changed(stations, curve->coefficients);
    if (!next) return no_edge("disc");
    ellipse = *next;
  }
}

Problem no_memory(const std::exception& error) {
  return {Code::kCannotBeAnswered, "There is not enough memory to look for edges.",
          "Close other programs and try again.", error.what()};
}

}  // namespace

Result<RefinedCard> refine_card(const Picture& picture, const std::array<PhotoPoint, 4>& clicks) {
  if (picture.bgr.empty()) return empty_picture();
  if (auto problem = cannot_be(picture, clicks)) return *problem;
  try {
    Corners corners;
    std::transform(clicks.begin(), clicks.end(), corners.begin(), vector_of);
    Sides sides = rough_sides(picture, corners);
    const Corners near = met(sides, corners);
    for (std::size_t i = 0; i < 4; ++i) {
      if (!sides[i].found) continue;
      // The chord from corner to corner; at its other end a side without a neighbour keeps its
      // line.
      Side side = chord(near, i);
      if (!sides[(i + 3) % 4].found) side.a = sides[i].at(-1.0);
      if (!sides[(i + 1) % 4].found) side.b = sides[i].at(1.0);
      const Vector2d u = (side.b - side.a).normalized();
      const Vector2d normal(u.y(), -u.x());
      side.outwards = normal.dot(side.outwards) > 0.0 ? normal : Vector2d(-normal);
      measure(picture, side);
      sides[i] = side;
    }
    if (std::none_of(sides.begin(), sides.end(), [](const Side& s) { return s.found; }))
      return no_edge("card");
    RefinedCard card;
    std::vector<Note> notes;
    for (std::size_t i = 0; i < 4; ++i) {
      if (!sides[i].found) {
        notes.push_back({std::string("The card's edge between its ") + ordinal(i) +
                             " corners is not clear: both stay as marked.",
                         true});
      }
      card.corners[i].at = clicks[i];
      const Side& before = sides[(i + 3) % 4];
      const Side& after = sides[i];
      if (!before.found || !after.found) continue;
      const auto place = meeting(before, after, near[i]);
      if (!place || (*place - corners[i]).norm() > 3.0 * reach_px(picture)) {
        notes.push_back(
            {"Two edges of the card meet far from the corner between them: it stays as marked.",
             true});
        continue;
      }
      Eigen::Matrix2d slopes;
      slopes << before.off(*place).second.transpose(), after.off(*place).second.transpose();
      const Eigen::Matrix2d back = slopes.inverse();
      const Vector2d variances(before.variance(before.along(*place)),
                               after.variance(after.along(*place)));
      const Eigen::Matrix2d covariance = back * variances.asDiagonal() * back.transpose();
      card.corners[i] = {point_of(*place), std::sqrt(covariance.trace() / 2.0), true};
    }
    return {card, notes};
  } catch (const std::exception& error) {
    return no_memory(error);
  }
}

Result<RefinedDisc> refine_disc(const Picture& picture, const std::vector<PhotoPoint>& clicks) {
  if (picture.bgr.empty()) return empty_picture();
  std::vector<Vector2d> points;
  for (const PhotoPoint& p : clicks) {
    if (!std::isfinite(p.x_px) || !std::isfinite(p.y_px) || !in_picture(picture, p))
      return outside_picture("disc");
    points.push_back(vector_of(p));
  }
  try {
    return disc_from(picture, points);
  } catch (const std::exception& error) {
    return no_memory(error);
  }
}

}  // namespace potshadow
