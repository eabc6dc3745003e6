// SPDX-License-Identifier: MIT
// Every kind of reference in every place, on ray-traced pictures: errors and intervals in a table.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <string_view>

#include "estimate/estimate.h"
#include "estimate/scene.h"

namespace potshadow {
namespace {

using testing::FurnishedScene;
using testing::load_furnished;
using testing::noisy_case;
using testing::ScaleCase;

// Careful clicks on a picture 2016 px wide, shown enlarged.
constexpr double kClickPx = 0.7;
constexpr std::size_t kRim = 40;
constexpr std::size_t kBase = 20;
constexpr std::size_t kSide = 40;
constexpr std::uint64_t kSeeds = 8;
constexpr std::size_t kCases = 45;  // of both scenes together

constexpr std::array<SizeName, 5> kTabled = {SizeName::kHeight, SizeName::kMaxDiameter,
                                             SizeName::kRimDiameter, SizeName::kBaseDiameter,
                                             SizeName::kCapacity};
// Sizes that every view shows well. The foot is seen from above, one pixel being 1 % of it.
constexpr std::array<SizeName, 3> kJudged = {SizeName::kHeight, SizeName::kMaxDiameter,
                                             SizeName::kRimDiameter};

// The root of the mean square error of a judged size, and the mean half of its 95 % interval, that
// a kind of reference must keep below, in percent; with 0.7 px clicks and eight drawings.
struct Limit {
  std::string_view name;  // how the case's name begins; the first that fits holds
  double error_percent;
  double half_percent;
};
constexpr std::array<Limit, 10> kLimits = {{
    // Sides of 54 to 120 mm known to 0.3 mm, corners clicked to 0.7 px of 120 to 220: half a
    // percent each. On the glass, nearer than the vessel, a quarter of the focal length's 2 % comes
    // in.
    {"rectangle", 1.5, 3.0},
    // 60 to 80 mm across, as for the card; lying, the ellipse is flat and its slope uncertain.
    {"disc", 1.5, 3.5},
    // How far a leaning stick comes towards the viewer cannot be seen from its two ends.
    {"length leaning", 25.0, 60.0},
    // Two points do not show how the pane is turned, but its line along the shelf does.
    {"length on the glass, by", 2.0, 4.0},
    {"length on the glass", 10.0, 15.0},
    // Two clicks only, and nothing that shows how the shelf lies: the vessel's ellipses must.
    {"length", 2.0, 4.0},
    // Sixteen crossings over half the picture; the tile is known to 0.17 %.
    {"tiled floor", 0.8, 1.5},
    // A vessel of 118 to 205 mm known to half a millimetre, its marks as uncertain as the vessel's
    // own; of its rim the ellipse is seen almost from the side.
    {"neighbour", 2.0, 3.0},
    // A size of the vessel itself to half a millimetre of 126 to 234; the rest are proportions.
    {"catalogued", 0.8, 1.5},
    // 5 mm of 900 is 0.6 %, but the size seen at that distance hangs on the focal length's 2 %.
    {"measured distance", 3.4, 5.0},
}};
// What the potter bets on: 5 %. Of eight drawings the root mean square stays below 1.7 times that
// in all but one of ten thousand cases (chi-square, 8 degrees).
constexpr Limit kGuessLimit = {"guessed", 8.5, 11.0};
// A guess alone sets the scale, so the answer is the guess but for what the marks' scatter does to
// the proportions: a tenth of its own doubt, in percent.
constexpr double kGuessFollowedPercent = 0.5;

const Limit& limit_of(const ScaleCase& scale) {
  const auto found = std::find_if(kLimits.begin(), kLimits.end(), [&](const Limit& limit) {
    return scale.name.starts_with(limit.name);
  });
  return found == kLimits.end() ? kGuessLimit : *found;
}

struct Column {
  double squares = 0.0;  // of the errors, percent
  double halves = 0.0;   // of the intervals, percent
  int stated = 0;
  int held = 0;  // intervals that held the truth

  void count(const Measured& measured, double truth) {
    squares += std::pow(100.0 * (measured.value / truth - 1.0), 2);
    halves += 100.0 * (measured.high95 - measured.low95) / 2.0 / truth;
    ++stated;
    held += truth >= measured.low95 && truth <= measured.high95 ? 1 : 0;
  }
  double error() const { return std::sqrt(squares / stated); }
  double half() const { return halves / stated; }
};
using Columns = std::array<Column, kSizeCount>;
// Judged alone as well: the other sizes do not hang on a wall that no photograph shows.
constexpr auto kCapacityColumn = static_cast<std::size_t>(SizeName::kCapacity);

// The renderer's lens is ideal and its shelf square to the axis, while the intervals allow for both
// being off: rather more than 95 % hold the truth.
// The part of `trials` intervals that must hold the truth: 95 % less four standard deviations of a
// binomial count. All sizes of one answer share its scale, so an answer counts as one trial.
double least_part(std::size_t trials) {
  return 0.95 - 4.0 * std::sqrt(0.95 * 0.05 / static_cast<double>(trials));
}

void print_head(const std::string& scene) {
  std::printf("%-64s", (scene + ": error ± half of the 95 % interval, both in percent").c_str());
  for (const SizeName size : kTabled) std::printf("  %-13s", std::string(size_key(size)).c_str());
  std::printf("  held\n");
}

void print_row(const std::string& name, const Columns& columns, int held, int stated) {
  std::printf("  %-60s", name.c_str());
  for (const SizeName size : kTabled) {
    const Column& c = columns[static_cast<std::size_t>(size)];
    std::printf("  %5.2f ± %5.2f", c.error(), c.half());
  }
  std::printf("  %d of %d\n", held, stated);
}

TEST(Places, EachKindAndPlaceIsMeasuredWithinItsInterval) {
  std::size_t cases = 0;
  for (const char* name : testing::kFurnishedNames) {
    const FurnishedScene scene = load_furnished(name);
    print_head(name);
    int all_stated = 0;
    int all_held = 0;
    int capacity_stated = 0;
    int capacity_held = 0;
    for (const ScaleCase& scale : scene.cases) {
      SCOPED_TRACE(std::string(name) + ", " + scale.name);
      Columns columns{};
      for (std::uint64_t seed = 0; seed < kSeeds; ++seed) {
        const auto answer = estimate(noisy_case(scale, kRim, kBase, kSide, kClickPx, seed));
        ASSERT_TRUE(answer.ok()) << "seed " << seed << ": " << answer.problem().what;
        EXPECT_EQ(answer->scale,
                  scale.name.starts_with("guessed") ? ScaleSource::kGuess : ScaleSource::kKnown);
        for (const MeasuredSize& size : answer->sizes) {
          const auto i = static_cast<std::size_t>(size.name);
          if (scene.truth[i]) columns[i].count(size.measured, *scene.truth[i]);
        }
      }
      EXPECT_GE(columns[kCapacityColumn].held,
                least_part(kSeeds) * columns[kCapacityColumn].stated);
      capacity_stated += columns[kCapacityColumn].stated;
      capacity_held += columns[kCapacityColumn].held;
      int stated = 0;
      int held = 0;
      for (std::size_t i = 0; i < kSizeCount; ++i) {
        stated += columns[i].stated;
        held += columns[i].held;
      }
      print_row(scale.name, columns, held, stated);
      EXPECT_GE(held, least_part(kSeeds) * stated);
      const Limit& limit = limit_of(scale);
      for (const SizeName size : kJudged) {
        const Column& c = columns[static_cast<std::size_t>(size)];
        ASSERT_EQ(c.stated, static_cast<int>(kSeeds)) << size_key(size);
        EXPECT_LE(c.error(), limit.error_percent) << size_key(size);
        EXPECT_LE(c.half(), limit.half_percent) << size_key(size);
      }
      all_stated += stated;
      all_held += held;
      ++cases;
    }
    std::printf("  %d of %d intervals held the truth\n", all_held, all_stated);
    std::printf("  %d of %d of the capacity alone\n", capacity_held, capacity_stated);
    EXPECT_GE(all_held, least_part(kSeeds * scene.cases.size()) * all_stated);
    EXPECT_EQ(capacity_stated, static_cast<int>(kSeeds * scene.cases.size()));
    EXPECT_GE(capacity_held, least_part(kSeeds * scene.cases.size()) * capacity_stated);
  }
  EXPECT_EQ(cases, kCases);
}

// Whatever is stated, the marks' scatter must not move a scale that nothing but a guess gives.
TEST(Places, AGuessIsFollowed) {
  std::size_t guesses = 0;
  for (const char* name : testing::kFurnishedNames) {
    for (const ScaleCase& scale : load_furnished(name).cases) {
      if (!scale.name.starts_with(kGuessLimit.name)) continue;
      double sum = 0.0;
      for (std::uint64_t seed = 0; seed < kSeeds; ++seed) {
        const EstimateInput input = noisy_case(scale, kRim, kBase, kSide, kClickPx, seed);
        const auto answer = estimate(input);
        ASSERT_TRUE(answer.ok()) << name << " seed " << seed << ": " << answer.problem().what;
        const KnownSize& guess = input.photos.front().sizes.front();
        sum += 100.0 * (find_size(*answer, guess.name)->measured.value / guess.value_mm - 1.0);
        ++guesses;
      }
      EXPECT_NEAR(sum / static_cast<double>(kSeeds), 0.0, kGuessFollowedPercent) << name;
    }
  }
  EXPECT_EQ(guesses, 2 * kSeeds);
}

// All that stands in a scene, one case's reference after the other; each thing once.
ScaleCase all_things(const FurnishedScene& scene) {
  ScaleCase all{"all things", scene.cases.front().input};
  PhotoInput& photo = all.input.photos.front();
  photo.references.clear();
  std::size_t number = 0;
  const auto add = [&](auto& into, const auto& from) {
    for (auto reference : from) {
      reference.number = number++;
      into.push_back(std::move(reference));
    }
  };
  for (const ScaleCase& scale : scene.cases) {
    if (scale.name.ends_with("by the shelf's line")) continue;
    const PhotoInput& from = scale.input.photos.front();
    add(photo.references, from.references);
    add(photo.discs, from.discs);
    add(photo.lengths, from.lengths);
    add(photo.grids, from.grids);
    if (photo.neighbours.empty()) add(photo.neighbours, from.neighbours);
  }
  return all;
}

TEST(Places, AllThingsTogetherNarrowTheInterval) {
  constexpr double kRounding = 1.05;  // the profile's smoothness is chosen anew each time
  constexpr std::size_t kThings = 12 + 11 + 2 * 2;  // of both scenes, with floors and neighbours
  std::size_t things = 0;
  std::size_t judged = 0;
  for (const char* name : testing::kFurnishedNames) {
    const FurnishedScene scene = load_furnished(name);
    const ScaleCase all = all_things(scene);
    const PhotoInput& photo = all.input.photos.front();
    things += photo.references.size() + photo.discs.size() + photo.lengths.size() +
              photo.grids.size() + photo.neighbours.size();
    const auto together = estimate(noisy_case(all, kRim, kBase, kSide, kClickPx, 1));
    ASSERT_TRUE(together.ok()) << name << ": " << together.problem().what;
    for (const Note& note : together->notes) std::printf("  %s: %s\n", name, note.text.c_str());
    double narrowest = 1e9;  // of the things alone: the tiled floor's, by the table above
    for (const ScaleCase& scale : scene.cases) {
      if (!scale.name.starts_with("tiled floor") && !scale.name.starts_with("rectangle lying")) {
        continue;
      }
      const auto alone = estimate(noisy_case(scale, kRim, kBase, kSide, kClickPx, 1));
      ASSERT_TRUE(alone.ok()) << scale.name;
      narrowest = std::min(narrowest, find_size(*alone, SizeName::kMaxDiameter)->measured.sd);
    }
    EXPECT_LE(find_size(*together, SizeName::kMaxDiameter)->measured.sd, kRounding * narrowest);
    EXPECT_LT(narrowest, 1e9);
    for (const SizeName size : kJudged) {
      const Measured& measured = find_size(*together, size)->measured;
      const double truth = *scene.truth[static_cast<std::size_t>(size)];
      std::printf("  %-12s all together: %-15s %7.2f ± %.2f, truth %7.2f\n", name,
                  std::string(size_key(size)).c_str(), measured.value, 1.96 * measured.sd, truth);
      EXPECT_NEAR(measured.value, truth, 4.0 * measured.sd) << size_key(size);
      ++judged;
    }
  }
  EXPECT_EQ(things, kThings);
  EXPECT_EQ(judged, 6U);
}

TEST(Places, WithoutAnyScaleTheProportionsHold) {
  constexpr std::uint64_t kDraws = 12;
  int stated = 0;
  int held = 0;
  for (const char* name : testing::kFurnishedNames) {
    const FurnishedScene scene = load_furnished(name);
    const auto truth = [&](SizeName size) { return *scene.truth[static_cast<std::size_t>(size)]; };
    ScaleCase bare = scene.cases.back();
    bare.name = "no scale";
    bare.input.photos.front().distances.clear();
    for (std::uint64_t seed = 0; seed < kDraws; ++seed) {
      const auto answer = estimate(noisy_case(bare, kRim, kBase, kSide, kClickPx, seed));
      ASSERT_TRUE(answer.ok()) << name << " seed " << seed << ": " << answer.problem().what;
      EXPECT_EQ(answer->scale, ScaleSource::kNone);
      for (const Proportion& proportion : answer->proportions) {
        double part = 0.0;
        if (proportion.key == "height_to_max_diameter") {
          part = truth(SizeName::kHeight) / truth(SizeName::kMaxDiameter);
        } else if (proportion.key == "height_of_max_to_height") {
          part = truth(SizeName::kHeightOfMax) / truth(SizeName::kHeight);
        } else {
          continue;
        }
        ++stated;
        held += part >= proportion.measured.low95 && part <= proportion.measured.high95 ? 1 : 0;
      }
    }
  }
  std::printf("  %d of %d proportions held the truth\n", held, stated);
  EXPECT_EQ(stated, static_cast<int>(2 * 2 * kDraws));
  EXPECT_GE(held, least_part(2 * kDraws) * stated);
}

}  // namespace
}  // namespace potshadow
