// SPDX-License-Identifier: MIT
#include "estimate/polyline.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

namespace potshadow::internal {
namespace {

constexpr double kRoundingPx = 1e-9;  // over a dozen operations on numbers of some thousand pixels

// The nearest place, looked for on every segment.
Polyline::Nearest by_looking_everywhere(const std::vector<CurveCandidate>& points, bool only_seen,
                                        const Eigen::Vector2d& pixel) {
  Polyline::Nearest best;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    if (only_seen && !(points[i].seen && points[i + 1].seen)) continue;
    const Eigen::Vector2d step = points[i + 1].image - points[i].image;
    const double t = std::clamp((pixel - points[i].image).dot(step) / step.squaredNorm(), 0.0, 1.0);
    const double distance = (points[i].image + t * step - pixel).squaredNorm();
    if (distance < best.distance) {
      best = {distance, points[i].at + t * (points[i + 1].at - points[i].at)};
    }
  }
  return best;
}

TEST(Polyline, FindsTheSamePlaceAsASearchOfAllSegments) {
  std::mt19937_64 random(20261201);
  std::normal_distribution<double> step_px(0.0, 20.0);
  std::uniform_real_distribution<double> anywhere_px(-500.0, 500.0);
  std::bernoulli_distribution seen(0.8);
  int compared = 0;
  for (int curve = 0; curve < 40; ++curve) {
    std::vector<CurveCandidate> points;
    Eigen::Vector2d at(0.0, 0.0);
    for (int i = 0; i < 3 + 5 * curve; ++i) {
      points.push_back({static_cast<double>(i), at, seen(random)});
      at += Eigen::Vector2d(step_px(random), step_px(random));
    }
    for (const bool only_seen : {false, true}) {
      const Polyline line(points, only_seen);
      for (int k = 0; k < 25; ++k) {
        const Eigen::Vector2d pixel(anywhere_px(random), anywhere_px(random));
        const Polyline::Nearest expected = by_looking_everywhere(points, only_seen, pixel);
        Polyline::Nearest found;
        const bool nearer = line.nearer(pixel, found);
        EXPECT_EQ(nearer, expected.distance < Polyline::Nearest{}.distance);
        EXPECT_NEAR(std::sqrt(found.distance), std::sqrt(expected.distance), kRoundingPx);
        if (nearer) {
          EXPECT_NEAR(found.at, expected.at, kRoundingPx);
        }
        ++compared;
      }
    }
  }
  EXPECT_EQ(compared, 40 * 2 * 25);
}

TEST(Polyline, LeavesAPlaceThatIsNearerAlreadyAlone) {
  const Polyline line({{0.0, {0.0, 0.0}, true}, {1.0, {10.0, 0.0}, true}}, true);
  Polyline::Nearest best{4.0, 7.0};
  EXPECT_FALSE(line.nearer({5.0, 3.0}, best));
  EXPECT_EQ(best.distance, 4.0);
  EXPECT_EQ(best.at, 7.0);
  EXPECT_TRUE(line.nearer({5.0, 1.0}, best));
  EXPECT_EQ(best.distance, 1.0);
  EXPECT_EQ(best.at, 0.5);
}

TEST(Polyline, OfNothingIsNowhereNear) {
  Polyline::Nearest best;
  EXPECT_FALSE(Polyline().nearer({0.0, 0.0}, best));
  EXPECT_FALSE(Polyline({{0.0, {0.0, 0.0}, true}}, false).nearer({0.0, 0.0}, best));
}

}  // namespace
}  // namespace potshadow::internal
