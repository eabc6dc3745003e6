// SPDX-License-Identifier: MIT
// A wide bowl on a narrow foot from above, whose marks a wider foot would fit nearly as well.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "estimate/estimate.h"
#include "estimate/scene.h"

namespace potshadow {
namespace {

// The rendered bowl of tests/scenes/museum, with its true outline as marks.
struct CrowdedBowl {
  nlohmann::json truth;

  CrowdedBowl() {
    std::ifstream(POTSHADOW_SOURCE_DIR "/tests/scenes/museum/crowded-bowl.json") >> truth;
  }

  std::vector<PhotoPoint> picked(std::string_view edge, std::size_t count) const {
    std::vector<PhotoPoint> all;
    for (const nlohmann::json& stretch : truth.at("outline")) {
      if (stretch.at("edge") != edge) continue;
      for (const nlohmann::json& p : stretch.at("points_px")) all.push_back({p[0], p[1]});
    }
    std::vector<PhotoPoint> some;
    for (std::size_t i = 0; i < count; ++i)
      some.push_back(all.at((2 * i + 1) * all.size() / (2 * count)));
    return some;
  }

  // With some sixty marks, or `times` as many.
  EstimateInput marked(std::size_t times, double sd_px) const {
    EstimateInput input;
    PhotoInput& photo = input.photos.front();
    photo.width_px = truth.at("width_px");
    photo.height_px = truth.at("height_px");
    photo.focal = FocalPrior{truth.at("focal_35mm"), 2.0};
    photo.glass = GlassPane{truth.at("pane").at("thickness_mm"), 1.0, 1.52};
    const nlohmann::json& label = truth.at("reference");
    RectangleReference reference;
    reference.place = Place::kLying;
    reference.behind_glass = true;
    reference.width_mm = label.at("width_mm");
    reference.height_mm = label.at("height_mm");
    for (std::size_t i = 0; i < 4; ++i) {
      reference.corners[i] = {label.at("corners_px")[i][0], label.at("corners_px")[i][1]};
    }
    reference.marks_sd_px = 0.3;
    photo.references.push_back(reference);
    photo.marks.rim = picked("rim", 16 * times);
    photo.marks.base = picked("base", 8 * times);
    photo.marks.left = picked("left", 18 * times);
    photo.marks.right = picked("right", 18 * times);
    photo.marks.sd_px = sd_px;
    return input;
  }
};

bool warned(const Answer& answer) {
  return std::any_of(answer.notes.begin(), answer.notes.end(), [](const Note& note) {
    return note.text.find("would fit these marks nearly as well") != std::string::npos;
  });
}

void expect_held(const Answer& answer, SizeName name, double truth) {
  const MeasuredSize* size = find_size(answer, name);
  ASSERT_NE(size, nullptr) << size_key(name);
  EXPECT_LE(size->measured.low95, truth) << size_key(name);
  EXPECT_GE(size->measured.high95, truth) << size_key(name);
}

// Without the rival the foot came out as 159 +- 48 and the height as 101 +- 8.
TEST(Rival, TheIntervalReachesToTheOtherFoot) {
  const CrowdedBowl bowl;
  const auto answer = estimate(bowl.marked(1, 1.0));
  ASSERT_TRUE(answer.ok()) << answer.problem().what;
  EXPECT_TRUE(warned(*answer));
  const nlohmann::json& sizes = bowl.truth.at("sizes_mm");
  expect_held(*answer, SizeName::kBaseDiameter, sizes.at("base_diameter"));
  expect_held(*answer, SizeName::kHeight, sizes.at("height"));
  expect_held(*answer, SizeName::kMaxDiameter, sizes.at("max_diameter"));
}

// Then no other foot fits, and the interval is a third as wide at most.
TEST(Rival, AKnownFootHasNone) {
  const CrowdedBowl bowl;
  EstimateInput input = bowl.marked(1, 1.0);
  const double base = bowl.truth.at("sizes_mm").at("base_diameter");
  const auto open = estimate(input);
  ASSERT_TRUE(open.ok()) << open.problem().what;
  input.photos.front().sizes.push_back({1, SizeName::kBaseDiameter, base, 1.0, false});
  const auto known = estimate(input);
  ASSERT_TRUE(known.ok()) << known.problem().what;
  EXPECT_FALSE(warned(*known));
  expect_held(*known, SizeName::kHeight, bowl.truth.at("sizes_mm").at("height"));
  EXPECT_LT(find_size(*known, SizeName::kHeight)->measured.sd,
            find_size(*open, SizeName::kHeight)->measured.sd / 3.0);
}

// A foot that is well seen is not doubted.
TEST(Rival, ABottleHasNone) {
  const testing::Scene bottle = testing::load_scene("bottle");
  const auto answer = estimate(testing::noisy_input(bottle, 20, 10, 25, 0.5, 1));
  ASSERT_TRUE(answer.ok()) << answer.problem().what;
  EXPECT_FALSE(warned(*answer));
}

}  // namespace
}  // namespace potshadow
