// SPDX-License-Identifier: MIT
#include "clay/bench_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <string>
#include <vector>

#include "bars.h"
#include "clay/bench_reading.h"
#include "core/propagation.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

constexpr double kIdentity = 1e-12;

BodyFigures stated(double percent, double sd_percent) {
  ClayBody body;
  body.record = "stated";
  body.stated.push_back({Stage::kWet, Stage::kFired, percent, sd_percent});
  return *body_figures(body, {}, std::nullopt);
}

BenchPart diameter(const Measured& target, const Measured& measured) {
  return {"maximum diameter", PartKind::kDiameter, target, measured};
}
BenchPart height(const Measured& target, const Measured& measured) {
  return {"height", PartKind::kHeight, target, measured};
}

BenchCheck checked(const BenchRequest& request) {
  const auto check = bench_check(request);
  EXPECT_TRUE(check.ok()) << check.problem().what;
  return *check;
}

// By hand: 210 fired at one eighth is 240 wet; sd 1 % of it is 2.1 fired and 2.4 wet; the clay's
// half point brings 240 / 0.875 x 0.005 = 1.371; 250 was read to 1.
TEST(BenchCheck, TheDifferenceIsThatOfTheHand) {
  const BenchCheck check =
      checked({.stage = Stage::kWet,
               .parts = {diameter(normal_measured(210.0, 2.1), normal_measured(250.0, 1.0))},
               .clay = stated(12.5, 0.5)});
  ASSERT_EQ(check.sizes.size(), 1U);
  const BenchSize& size = check.sizes[0];
  EXPECT_NEAR(size.target.value, 240.0, 240.0 * kIdentity);
  EXPECT_NEAR(size.difference.value, 10.0, 1e-9);
  EXPECT_NEAR(size.difference.sd, std::sqrt(2.4 * 2.4 + 1.0 + std::pow(240.0 / 0.875 * 0.005, 2)),
              1e-9);
  EXPECT_EQ(size.verdict, Verdict::kLarger);
  EXPECT_EQ(check.widening, 1.0);
  EXPECT_EQ(size.together_low95, size.difference.low95);
  EXPECT_NEAR(size.fired.value, 250.0 * 0.875, 1e-9);
  EXPECT_NEAR(size.doubts[0] + size.doubts[1] + size.doubts[2], 1.0, kIdentity);
  EXPECT_EQ(size.greatest, BenchDoubt::kPhotograph);
  EXPECT_EQ(check.first, 0U);
}

// The clay turns the wet pot and the original to one another once: the difference when fired is
// that of the bench on a shorter length, and what the fired pot will be is not counted against a
// target that the same clay made.
TEST(BenchCheck, TheClayCountsOnce) {
  const BodyFigures vague = stated(12.5, 2.0);
  const BenchCheck check =
      checked({.stage = Stage::kWet,
               .parts = {diameter(normal_measured(210.0, 0.0), normal_measured(240.0, 0.0))},
               .clay = vague});
  const BenchSize& size = check.sizes[0];
  // 240 wet at 12.5 +- 2 % fires to 210 +- 4.8: that is all there is to doubt, at either stage.
  EXPECT_NEAR(size.fired.sd, 4.8, 1e-9);
  EXPECT_NEAR(size.fired_difference.sd, 4.8, 1e-9);
  EXPECT_NEAR(size.fired_difference.value, 0.0, 1e-9);
  EXPECT_NEAR(size.doubts[1], 1.0, kIdentity);
  EXPECT_EQ(size.greatest, BenchDoubt::kClay);
  // A fired pot needs no clay.
  const BenchCheck fired =
      checked({.stage = Stage::kFired,
               .parts = {diameter(normal_measured(210.0, 0.0), normal_measured(211.0, 0.5))},
               .clay = vague});
  EXPECT_NEAR(fired.sizes[0].difference.sd, 0.5, kIdentity);
}

TEST(BenchCheck, CannotTellWhereTheIntervalIsWide) {
  BenchRequest request{
      .stage = Stage::kWet,
      .parts = {diameter(normal_measured(200.0, 10.0), normal_measured(230.0, 0.5))},
      .clay = stated(12.5, 0.5)};
  EXPECT_EQ(checked(request).sizes[0].verdict, Verdict::kCannotTell);
  request.right_percent = 20.0;
  EXPECT_EQ(checked(request).sizes[0].verdict, Verdict::kRight);
  request.parts[0].target = normal_measured(200.0, 1.0);
  request.right_percent = kRightPercent;
  EXPECT_EQ(checked(request).sizes[0].verdict, Verdict::kRight);
  EXPECT_FALSE(checked(request).first.has_value());
}

// A place is judged by the height: 5 % of a belly low down would ask for more than eyes see.
TEST(BenchCheck, APlaceIsJudgedByTheHeight) {
  BenchPart place{"height of the maximum", PartKind::kPlace, normal_measured(60.0, 2.0),
                  normal_measured(60.0, 1.0), 240.0};
  const auto now = [&] {
    return checked({.stage = Stage::kFired, .parts = {place}, .clay = stated(10.0, 0.5)}).sizes[0];
  };
  EXPECT_EQ(now().right_within, 12.0);
  EXPECT_EQ(now().verdict, Verdict::kRight);
  place.whole = 0.0;
  EXPECT_EQ(now().verdict, Verdict::kCannotTell);
}

TEST(BenchCheck, TheWorstThatCanStillBeCorrectedComesFirst) {
  const Measured sure = normal_measured(100.0, 0.1);
  const auto read = [](double mm) { return normal_measured(mm, 0.2); };
  BenchRequest request{.stage = Stage::kFired, .parts = {}, .clay = stated(0.0, 0.0)};
  request.parts = {diameter(sure, read(103.0)),
                   height(sure, read(94.0)),
                   {"capacity to the brim", PartKind::kCapacity, sure, read(130.0)}};
  EXPECT_FALSE(checked(request).first.has_value());
  request.stage = Stage::kWet;
  EXPECT_EQ(checked(request).first, 1U);
  // Leather-hard the height cannot grow any more; the diameter can be pared.
  request.stage = Stage::kLeatherHard;
  EXPECT_EQ(checked(request).sizes[1].correction, Correction::kNothing);
  EXPECT_EQ(checked(request).first, 0U);
  request.stage = Stage::kBoneDry;
  EXPECT_FALSE(checked(request).first.has_value());
}

TEST(BenchCheck, SharedDoubtsWidenLess) {
  const auto widening = [](double photo_sd, double clay_sd,
                           const std::vector<std::vector<double>>& correlation) {
    BenchRequest request{.stage = Stage::kWet, .parts = {}, .clay = stated(12.0, clay_sd)};
    for (int i = 0; i < 4; ++i) {
      request.parts.push_back(
          diameter(normal_measured(200.0, photo_sd), normal_measured(200.0 / 0.88, 0.01)));
    }
    request.target_correlation = correlation;
    return checked(request).widening;
  };
  // Four independent normals: the two-sided point of 0.95^(1/4), 2.4909 (Sidak 1967, JASA 62; the
  // point by student_t with infinite freedom), over 1.96.
  constexpr double kScatter = 0.06;  // of 4000 draws: three standard deviations
  EXPECT_NEAR(widening(2.0, 0.0, {}), 2.4909 / 1.95996, kScatter);
  const std::vector<std::vector<double>> one(4, std::vector<double>(4, 1.0));
  EXPECT_NEAR(widening(2.0, 0.0, one), 1.0, kScatter);
  EXPECT_NEAR(widening(0.001, 1.0, {}), 1.0, kScatter);
  const double between = widening(2.0, 1.0, {});
  EXPECT_GT(between, 1.05);
  EXPECT_LT(between, 1.25);
}

TEST(BenchCheck, AsksAboutWhatCannotBeOfThisPot) {
  struct Slip {
    double reading;
    const char* says;
  };
  const auto problem_of = [](const std::vector<BenchPart>& parts) {
    const auto check =
        bench_check({.stage = Stage::kWet, .parts = parts, .clay = stated(12.5, 0.5)});
    EXPECT_FALSE(check.ok());
    EXPECT_EQ(check.problem().code, Code::kBadValue);
    return check.problem().what;
  };
  int asked = 0;
  // 240 mm wet.
  for (const Slip& slip :
       {Slip{9.4, "inches"}, Slip{24.0, "centimetres"}, Slip{2400.0, "taken for"},
        Slip{6100.0, "taken for inches"}, Slip{750.0, "girth"}, Slip{76.0, "taken for a girth"},
        Slip{118.0, "radius"}, Slip{160000.0, "should be 240 mm"}}) {
    EXPECT_THAT(
        problem_of({diameter(normal_measured(210.0, 2.0), normal_measured(slip.reading, 0.1))}),
        HasSubstr(slip.says));
    ++asked;
  }
  EXPECT_EQ(asked, 8);
  EXPECT_THAT(problem_of({diameter(normal_measured(210.0, 2.0), normal_measured(120.0, 1.0)),
                          height(normal_measured(105.0, 2.0), normal_measured(240.0, 1.0))}),
              HasSubstr("look exchanged"));
  EXPECT_THAT(problem_of({}), HasSubstr("Nothing was measured"));
  EXPECT_THAT(problem_of({diameter(normal_measured(210.0, 2.0), normal_measured(0.0, 1.0))}),
              HasSubstr("not above zero"));
}

TEST(BenchCheck, AsksWhetherThePotIsAtAnotherStage) {
  const BenchPart wet_still = diameter(normal_measured(210.0, 1.0), normal_measured(240.5, 0.5));
  const BenchCheck check =
      checked({.stage = Stage::kFired, .parts = {wet_still}, .clay = stated(12.5, 0.5)});
  ASSERT_EQ(check.notes.size(), 1U);
  EXPECT_THAT(check.notes[0].text, HasSubstr("those of a pot that is wet"));
  EXPECT_TRUE(checked({.stage = Stage::kWet, .parts = {wet_still}, .clay = stated(12.5, 0.5)})
                  .notes.empty());
}

// One simulated world: an original, how its photograph errs, a clay and its bars, a potter's tools.
struct World {
  Stage stage;
  std::size_t sizes;
  std::size_t bars;
  double scale_percent;  // of the photograph, common to all sizes
  double own_percent;    // and of each size
};

// A pot, what was measured of it, and what the program is told.
struct Trial {
  BenchRequest request;
  std::vector<double> truth;  // what each size must be at the stage
};

constexpr std::array<double, 4> kFired{235.0, 238.0, 162.0, 104.0};  // the height first
constexpr std::array<double, 4> kBarAtStage{100.0, 97.0, 94.0, 88.0};

// `off` is added to the pot's true sizes.
Trial trial_of(const World& world, DrawRandom& random, const std::vector<double>& off) {
  Trial trial;
  ClayBody body;
  body.record = "drawn";
  body.reading_sd_mm = 0.1;
  for (std::size_t i = 0; i < world.bars; ++i) {
    // Drying and firing scatter from bar to bar by half a point each.
    const double drying = 1.0 + 0.005 * random.normal();
    const double firing = 1.0 + 0.005 * random.normal();
    TestBar bar = test::bar(100.0, kBarAtStage[2] * drying, kBarAtStage[3] * drying * firing);
    bar.leather_mm = kBarAtStage[1] * (1.0 + 0.0025 * random.normal());
    body.bars.push_back(bar);
  }
  trial.request.stage = world.stage;
  trial.request.clay = *body_figures(body, {}, std::nullopt);
  const double scale = random.normal();
  const double all = std::hypot(world.scale_percent, world.own_percent) / 100.0;
  const double common = std::pow(world.scale_percent / 100.0 / all, 2);
  const double enlarged = kBarAtStage[static_cast<std::size_t>(world.stage)] / kBarAtStage[3];
  for (std::size_t i = 0; i < world.sizes; ++i) {
    const double fired = kFired[i];
    const double photograph = fired * (1.0 + world.scale_percent / 100.0 * scale +
                                       world.own_percent / 100.0 * random.normal());
    trial.truth.push_back(fired * enlarged);
    const double pot = trial.truth.back() + (off.empty() ? 0.0 : off[i]);
    const bool upright = i == 0;
    const double oval = upright ? 0.0 : kOneWayPercent / 100.0 * random.normal();
    const BenchTool tool = upright ? BenchTool::kTape : BenchTool::kCaliper;
    const double slip = tolerance_of(tool) * (2.0 * random.uniform() - 1.0);
    const auto measured = measured_size({{tool, pot * (1.0 + oval) + slip, {}}}, !upright);
    trial.request.parts.push_back({"size", upright ? PartKind::kHeight : PartKind::kDiameter,
                                   normal_measured(photograph, fired * all), *measured});
    trial.request.target_correlation.emplace_back(world.sizes, common);
    trial.request.target_correlation.back()[i] = 1.0;
  }
  return trial;
}

constexpr std::array<World, 6> kWorlds{{
    {Stage::kWet, 1, 10, 0.6, 0.5},         // one typed diameter... of a height
    {Stage::kWet, 4, 3, 0.6, 0.5},          // few bars: the clay is the greater doubt
    {Stage::kLeatherHard, 4, 5, 1.5, 0.5},  // a poor scale
    {Stage::kBoneDry, 4, 5, 0.2, 0.8},      // hardly anything in common
    {Stage::kFired, 4, 5, 0.6, 0.5},        // no clay
    {Stage::kWet, 4, 10, 0.3, 0.3},         // all well known: the potter's calipers matter
}};
constexpr int kPots = 1000;
constexpr int kCaughtPots = 400;
// Four binomial standard deviations: 4 sqrt(0.05 x 0.95 / 1000).
constexpr double kBinomial = 0.0276;

TEST(BenchVerdicts, AtMostOneOfTwentyRightPotsIsCalledWrong) {
  int worlds = 0;
  for (const World& world : kWorlds) {
    int wrong = 0;
    for (int pot = 0; pot < kPots; ++pot) {
      DrawRandom random(static_cast<std::uint64_t>(worlds), static_cast<std::uint64_t>(pot));
      const BenchCheck check = checked(trial_of(world, random, {}).request);
      bool off = false;
      for (const BenchSize& size : check.sizes) {
        off = off || size.verdict == Verdict::kLarger || size.verdict == Verdict::kSmaller;
      }
      if (off) ++wrong;
    }
    std::printf("world %d: %d of %d right pots called wrong\n", worlds, wrong, kPots);
    EXPECT_LT(static_cast<double>(wrong) / kPots, 0.05 + kBinomial) << "world " << worlds;
    ++worlds;
  }
  EXPECT_EQ(worlds, 6);
}

TEST(BenchVerdicts, NineteenOfTwentyPotsOffByTwiceTheIntervalAreCaught) {
  int worlds = 0;
  for (const World& world : kWorlds) {
    int whole = 0;
    int single = 0;
    for (int pot = 0; pot < kCaughtPots; ++pot) {
      const auto draw = [&] {
        return DrawRandom(100 + static_cast<std::uint64_t>(worlds),
                          static_cast<std::uint64_t>(pot));
      };
      DrawRandom first = draw();
      const BenchCheck right = checked(trial_of(world, first, {}).request);
      std::vector<double> off;
      for (const BenchSize& size : right.sizes) {
        off.push_back(size.together_high95 - size.together_low95);  // twice its half
      }
      // Too large as a whole, and too small in its last part alone.
      DrawRandom second = draw();
      for (const BenchSize& size : checked(trial_of(world, second, off).request).sizes) {
        if (size.verdict != Verdict::kLarger) continue;
        ++whole;
        break;
      }
      std::vector<double> last(off.size(), 0.0);
      last.back() = -off.back();
      DrawRandom third = draw();
      if (checked(trial_of(world, third, last).request).sizes.back().verdict == Verdict::kSmaller) {
        ++single;
      }
    }
    std::printf("world %d: caught %d and %d of %d\n", worlds, whole, single, kCaughtPots);
    EXPECT_GT(static_cast<double>(whole) / kCaughtPots, 0.95) << "world " << worlds;
    EXPECT_GT(static_cast<double>(single) / kCaughtPots, 0.95) << "world " << worlds;
    ++worlds;
  }
  EXPECT_EQ(worlds, 6);
}

}  // namespace
}  // namespace potshadow
