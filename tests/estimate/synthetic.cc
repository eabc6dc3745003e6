// SPDX-License-Identifier: MIT
#include "estimate/synthetic.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>

#include "estimate/estimate.h"

namespace potshadow::testing {
namespace {

using Vec = std::array<double, 3>;

double dot(const Vec& a, const Vec& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
Vec minus(const Vec& a, const Vec& b) { return {a[0] - b[0], a[1] - b[1], a[2] - b[2]}; }

class Eye {
 public:
  explicit Eye(const SyntheticCamera& camera) : camera_(camera) {
    centre_ = {0.0, -camera.distance_mm, camera.eye_height_mm};
    const double fall = camera.eye_height_mm - camera.look_at_mm;
    const double length = std::hypot(camera.distance_mm, fall);
    forward_ = {0.0, camera.distance_mm / length, -fall / length};
    down_ = {0.0, -fall / length, -camera.distance_mm / length};
    // Equal angles across the diagonal: 43.2666 mm on film (CIPA DCG-001).
    focal_px_ =
        camera.focal_35mm * std::hypot(camera.width_px, camera.height_px) / std::hypot(36.0, 24.0);
  }
  PhotoPoint see(const Vec& point) const {
    const Vec to = minus(point, centre_);
    const double depth = dot(to, forward_);
    const double x = to[0] / depth;
    const double y = dot(to, down_) / depth;
    const double bend = 1.0 + camera_.k1 * (x * x + y * y);
    return {focal_px_ * x * bend + (camera_.width_px - 1) / 2.0 + camera_.centre_x_px,
            focal_px_ * y * bend + (camera_.height_px - 1) / 2.0 + camera_.centre_y_px};
  }
  // The direction of a pixel's sight line, without distortion.
  Vec ray(const PhotoPoint& pixel) const {
    const double x = (pixel.x_px - (camera_.width_px - 1) / 2.0 - camera_.centre_x_px) / focal_px_;
    const double y = (pixel.y_px - (camera_.height_px - 1) / 2.0 - camera_.centre_y_px) / focal_px_;
    return {x, forward_[1] + y * down_[1], forward_[2] + y * down_[2]};
  }
  const Vec& centre() const { return centre_; }

 private:
  SyntheticCamera camera_;
  Vec centre_{};
  Vec forward_{};
  Vec down_{};
  double focal_px_ = 0.0;
};

Vec on_surface(const ProfilePoint& p, double azimuth) {
  return {p.radius_mm * std::cos(azimuth), p.radius_mm * std::sin(azimuth), p.height_mm};
}

// The azimuth on the right-hand side where the sight line grazes the surface, by bisection.
std::optional<double> grazing(const ProfilePoint& p, const ProfilePoint& slope, const Vec& eye) {
  const auto facing = [&](double azimuth) {
    const Vec normal = {slope.height_mm * std::cos(azimuth), slope.height_mm * std::sin(azimuth),
                        -slope.radius_mm};
    return dot(normal, minus(on_surface(p, azimuth), eye));
  };
  double front = -std::numbers::pi / 2.0;
  double back = std::numbers::pi / 2.0;
  if (facing(front) >= 0.0 || facing(back) <= 0.0) return std::nullopt;
  for (int i = 0; i < 80; ++i) {
    const double middle = (front + back) / 2.0;
    (facing(middle) < 0.0 ? front : back) = middle;
  }
  return front;
}

// Whether the sight line through `point` enters the vessel anywhere.
bool stopped(const std::vector<ProfilePoint>& profile, const Vec& eye, const Vec& point) {
  for (const ProfilePoint& disc : profile) {
    const double rise = point[2] - eye[2];
    if (std::abs(rise) < 1e-9) continue;
    const double along = (disc.height_mm - eye[2]) / rise;
    if (along <= 0.0) continue;
    const double x = eye[0] + along * (point[0] - eye[0]);
    const double y = eye[1] + along * (point[1] - eye[1]);
    if (std::hypot(x, y) < disc.radius_mm - 0.01) return true;
  }
  return false;
}

}  // namespace

SyntheticCamera camera_from_priors(std::mt19937_64& random,
                                   std::normal_distribution<double>& normal) {
  SyntheticCamera camera;
  camera.k1 = 0.02 * normal(random);
  camera.centre_x_px = 0.005 * camera.width_px * normal(random);
  camera.centre_y_px = 0.005 * camera.width_px * normal(random);
  return camera;
}

EstimateInput synthetic_input(const std::vector<ProfilePoint>& profile,
                              const SyntheticCamera& camera, std::size_t rim, std::size_t base,
                              std::size_t stride) {
  const Eye eye(camera);
  EstimateInput input;
  input.out_of_round_percent = 0.0;
  input.wall_sd_mm = 0.0;
  PhotoInput& photo = input.photos.front();
  photo.width_px = camera.width_px;
  photo.height_px = camera.height_px;
  photo.focal = FocalPrior{camera.focal_35mm, 2.0};
  RectangleReference card;
  card.width_mm = 120.0;
  card.height_mm = 80.0;
  card.size_sd_mm = 0.0;
  const double left = profile.front().radius_mm + 60.0;
  card.corners = {eye.see({left, -100.0, 0.0}), eye.see({left + 120.0, -100.0, 0.0}),
                  eye.see({left + 120.0, -20.0, 0.0}), eye.see({left, -20.0, 0.0})};
  photo.references = {card};
  photo.marks = synthetic_marks(profile, camera, 0.0, 0.0, rim, base, stride);
  return input;
}

Marks synthetic_marks(const std::vector<ProfilePoint>& profile, const SyntheticCamera& camera,
                      double x_mm, double y_mm, std::size_t rim, std::size_t base,
                      std::size_t stride) {
  const Eye eye(camera);
  // The vessel's own axes, turned so that the eye is in the plane x = 0 of them.
  const double to_x = x_mm - eye.centre()[0];
  const double to_y = y_mm - eye.centre()[1];
  const double away = std::hypot(to_x, to_y);
  const Vec own_eye = {0.0, -away, eye.centre()[2]};
  const auto see = [&](const Vec& own) {
    return eye.see({x_mm + (own[0] * to_y + own[1] * to_x) / away,
                    y_mm + (-own[0] * to_x + own[1] * to_y) / away, own[2]});
  };
  Marks marks;
  constexpr double kTurn = 2.0 * std::numbers::pi;
  for (std::size_t i = 0; i < rim; ++i) {
    const double azimuth = kTurn * (static_cast<double>(i) + 0.3) / static_cast<double>(rim);
    marks.rim.push_back(see(on_surface(profile.back(), azimuth)));
  }
  for (std::size_t i = 0; i < base; ++i) {
    const double part = (static_cast<double>(i) + 0.5) / static_cast<double>(base);
    const double azimuth = -std::numbers::pi / 2.0 + (part - 0.5) * 1.8;
    marks.base.push_back(see(on_surface(profile.front(), azimuth)));
  }
  for (std::size_t i = 1; i + 1 < profile.size(); i += stride) {
    const ProfilePoint slope{profile[i + 1].radius_mm - profile[i - 1].radius_mm,
                             profile[i + 1].height_mm - profile[i - 1].height_mm};
    const auto azimuth = grazing(profile[i], slope, own_eye);
    if (!azimuth) continue;
    const Vec point = on_surface(profile[i], *azimuth);
    if (stopped(profile, own_eye, point)) continue;
    marks.right.push_back(see(point));
    marks.left.push_back(see({-point[0], point[1], point[2]}));
  }
  return marks;
}

DiscReference synthetic_disc(const SyntheticCamera& camera, const SyntheticShelf& shelf,
                             Place place, double diameter_mm, std::size_t marks) {
  const Eye eye(camera);
  DiscReference disc;
  disc.place = place;
  disc.diameter_mm = diameter_mm;
  disc.size_sd_mm = 0.0;
  const double radius = diameter_mm / 2.0;
  Vec centre = {-180.0, -60.0, 0.0};
  Vec right = {1.0, 0.0, 0.0};
  Vec up = {0.0, 1.0, 0.0};
  if (place == Place::kOnGlass) {
    centre = {-120.0, -200.0, 60.0};
    up = {0.0, 0.0, 1.0};
    disc.glass_to_axis_mm = 200.0;
  } else if (place != Place::kLying) {
    const double turn = place == Place::kStanding ? 0.5 : 0.3;
    const double lean = place == Place::kStanding ? 0.0 : 0.6;
    right = {std::cos(turn), std::sin(turn), 0.0};
    up = {-std::sin(turn) * std::sin(lean), std::cos(turn) * std::sin(lean), std::cos(lean)};
    for (std::size_t k = 0; k < 3; ++k) centre[k] += radius * up[k];
  }
  for (std::size_t i = 0; i < marks; ++i) {
    const double angle =
        2.0 * std::numbers::pi * (static_cast<double>(i) + 0.2) / static_cast<double>(marks);
    Vec p{};
    for (std::size_t k = 0; k < 3; ++k) {
      p[k] = centre[k] + radius * (std::cos(angle) * right[k] + std::sin(angle) * up[k]);
    }
    // Turns this small add up in any order, to a few micrometres.
    const Vec turned = {p[0] + shelf.turn_y_rad * p[2], p[1] - shelf.turn_x_rad * p[2],
                        p[2] + shelf.turn_x_rad * p[1] - shelf.turn_y_rad * p[0]};
    disc.edge.push_back(eye.see(turned));
  }
  return disc;
}

PhotoPoint synthetic_pixel(const SyntheticCamera& camera, const VesselPoint& point) {
  return Eye(camera).see({point.x_mm, point.y_mm, point.z_mm});
}

VesselPoint in_axis_plane(const SyntheticCamera& camera, const PhotoPoint& pixel) {
  const Eye eye(camera);
  const Vec ray = eye.ray(pixel);
  const double along = -eye.centre()[1] / ray[1];
  return {eye.centre()[0] + along * ray[0], 0.0, eye.centre()[2] + along * ray[2]};
}

EstimateInput with_noise(EstimateInput input, double sd_px, std::uint64_t seed) {
  std::seed_seq sequence{seed};
  std::mt19937_64 random(sequence);
  std::normal_distribution<double> normal;
  const auto move = [&](PhotoPoint& p) {
    p.x_px += sd_px * normal(random);
    p.y_px += sd_px * normal(random);
  };
  const auto move_marks = [&](Marks& marks) {
    for (auto* list : {&marks.rim, &marks.base, &marks.left, &marks.right}) {
      for (PhotoPoint& p : *list) move(p);
    }
  };
  for (PhotoInput& photo : input.photos) {
    move_marks(photo.marks);
    for (RectangleReference& reference : photo.references) {
      for (PhotoPoint& p : reference.corners) move(p);
    }
    for (DiscReference& disc : photo.discs) {
      for (PhotoPoint& p : disc.edge) move(p);
    }
    for (LengthReference& length : photo.lengths) {
      for (PhotoPoint& p : length.ends) move(p);
    }
    for (GridReference& grid : photo.grids) {
      for (GridReference::Crossing& crossing : grid.crossings) move(crossing.at);
    }
    for (NeighbourReference& neighbour : photo.neighbours) move_marks(neighbour.marks);
    photo.marks.sd_px = sd_px;
    if (photo.focal)
      photo.focal->focal_35mm *= 1.0 + photo.focal->sd_percent / 100.0 * normal(random);
  }
  return input;
}

void expect_problem(const EstimateInput& input, Code code, const std::string& words) {
  const auto answer = estimate(input);
  ASSERT_FALSE(answer.ok());
  EXPECT_EQ(answer.problem().code, code) << answer.problem().what;
  EXPECT_NE(answer.problem().what.find(words), std::string::npos) << answer.problem().what;
  EXPECT_FALSE(answer.problem().next.empty());
}

}  // namespace potshadow::testing
