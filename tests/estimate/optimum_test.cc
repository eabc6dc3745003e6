// SPDX-License-Identifier: MIT
// That the estimate comes to rest at the best optimum: of low bowls seen from above, of which
// little in the picture tells the height from the eye's, and of rims that are seen nearly level.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "estimate/estimate.h"
#include "estimate/shapes.h"
#include "estimate/synthetic.h"

namespace potshadow {
namespace {

using testing::synthetic_input;
using testing::SyntheticCamera;
using testing::with_noise;

constexpr double kHeightMm = 62.0;
constexpr double kRimRadiusMm = 105.0;
constexpr double kFootRadiusMm = 42.0;
// The shape is sought alike whatever is known; only the last steps differ. They come to rest up to
// a quarter of a standard uncertainty apart, where a mark lies between two parts of the outline.
constexpr double kSameValue = 0.3;  // of the standard uncertainty
constexpr double kSameSd = 0.05;    // of itself

// The wall leaves the foot at a slant and stands nearly upright at the rim.
std::vector<ProfilePoint> low_bowl() {
  std::vector<ProfilePoint> profile;
  constexpr int kSteps = 400;
  for (int i = 0; i <= kSteps; ++i) {
    const double t = static_cast<double>(i) / kSteps;
    profile.push_back(
        {kFootRadiusMm + (kRimRadiusMm - kFootRadiusMm) * std::sin(1.4 * t) / std::sin(1.4),
         kHeightMm * t});
  }
  return profile;
}

SyntheticCamera from_above(double elevation_deg) {
  SyntheticCamera camera;
  const double elevation = elevation_deg * std::numbers::pi / 180.0;
  constexpr double kReachMm = 620.0;
  camera.distance_mm = kReachMm * std::cos(elevation);
  camera.eye_height_mm = kHeightMm / 2.0 + kReachMm * std::sin(elevation);
  camera.look_at_mm = kHeightMm / 2.0;
  return camera;
}

TEST(LowBowl, ProportionsHangOnNoKnownSize) {
  struct Known {
    const char* what;
    std::vector<KnownSize> sizes;
  };
  const std::vector<Known> ways = {
      {"nothing", {}},
      {"rim", {{0, SizeName::kRimDiameter, 2.0 * kRimRadiusMm, 2.9, false}}},
      {"height", {{0, SizeName::kHeight, kHeightMm, 0.3, false}}},
      {"height to a centimetre", {{0, SizeName::kHeight, kHeightMm, 2.9, false}}}};
  int ran = 0;
  for (const double elevation : {25.0, 35.0, 45.0}) {
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
      SCOPED_TRACE("elevation " + std::to_string(elevation) + ", seed " + std::to_string(seed));
      EstimateInput input = synthetic_input(low_bowl(), from_above(elevation), 24, 12, 8);
      input.photos.front().references.clear();
      input = with_noise(std::move(input), 1.0, seed);
      std::vector<Proportion> first;
      for (const Known& known : ways) {
        SCOPED_TRACE(known.what);
        input.photos.front().sizes = known.sizes;
        const auto answer = estimate(input);
        ASSERT_TRUE(answer.ok()) << answer.problem().what;
        ASSERT_FALSE(answer->proportions.empty());
        if (first.empty()) first = answer->proportions;
        ASSERT_EQ(answer->proportions.size(), first.size());
        for (std::size_t i = 0; i < first.size(); ++i) {
          const Measured& here = answer->proportions[i].measured;
          EXPECT_NEAR(here.value, first[i].measured.value, kSameValue * first[i].measured.sd)
              << first[i].key;
          EXPECT_NEAR(here.sd, first[i].measured.sd, kSameSd * first[i].measured.sd)
              << first[i].key;
        }
        ++ran;
      }
    }
  }
  EXPECT_EQ(ran, 48);
}

// From below only the front of a rim is seen, and it bends as the back does from above.
TEST(NearlyLevelRim, IsToldFromBelowAndFromAbove) {
  constexpr double kRimHeightMm = 190.0;  // of the smooth jar
  constexpr double kMostSds = 4.0;        // about 1 in 16,000 by chance
  constexpr double kNoisePx = 0.3;        // with a pixel either side fits alike
  int ran = 0;
  for (const double above : {-32.0, -24.0, 24.0, 32.0}) {
    SyntheticCamera camera;
    camera.eye_height_mm = kRimHeightMm + above;
    EstimateInput exact = synthetic_input(testing::smooth_jar(), camera, 24, 12, 10);
    PhotoInput& photo = exact.photos.front();
    photo.references.clear();
    photo.sizes = {
        {0, SizeName::kRimDiameter, 2.0 * testing::smooth_jar().back().radius_mm, 0.3, false}};
    // The nearer half of the rim: from below it is the upper one.
    double middle = 0.0;
    for (const PhotoPoint& mark : photo.marks.rim) {
      middle += mark.y_px / static_cast<double>(photo.marks.rim.size());
    }
    std::erase_if(photo.marks.rim, [&](const PhotoPoint& mark) {
      return above < 0.0 ? mark.y_px > middle : mark.y_px < middle;
    });
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
      SCOPED_TRACE("eye " + std::to_string(above) + " mm above the rim, seed " +
                   std::to_string(seed));
      const auto answer = estimate(with_noise(exact, kNoisePx, seed));
      ASSERT_TRUE(answer.ok()) << answer.problem().what;
      const Measured& height = find_size(*answer, SizeName::kHeight)->measured;
      EXPECT_NEAR(height.value, kRimHeightMm, kMostSds * height.sd);
      const CameraAnswer& seen = answer->photos.front().camera;
      const double elevation =
          std::atan2(kRimHeightMm / 2.0 + above, camera.distance_mm) * 180.0 / std::numbers::pi;
      EXPECT_NEAR(seen.elevation_deg, elevation, kMostSds * seen.elevation_sd_deg);
      ++ran;
    }
  }
  EXPECT_EQ(ran, 20);
}

}  // namespace
}  // namespace potshadow
