// SPDX-License-Identifier: MIT
// What the published examples say of redrawing itself is checked in tests/core/propagation_test.cc.
#include "estimate/monte_carlo.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "estimate/estimate.h"
#include "estimate/scene.h"
#include "estimate/shapes.h"
#include "estimate/synthetic.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;

constexpr double kAFifth = 0.2;  // what the two intervals may differ by before it is told
// The draws' mean lies off the answer by chance by a tenth of a sd with 100 draws, and by what
// first order leaves out.
constexpr double kNearAnswer = 0.35;
// An estimate from nearby follows a change of scale, which no mark holds back, only part of the
// way; what it leaves is added. Not redrawn at all would be 0.9 and more.
constexpr double kMostAddedOfScale = 0.8;

// A jar marked as a careful potter would: 1 px, 78 marks and a card, and out of round by 1 %.
EstimateInput well_marked_jar() {
  EstimateInput input = testing::with_noise(
      testing::synthetic_input(testing::smooth_jar(), testing::SyntheticCamera{}, 20, 10, 25), 1.0,
      1);
  input.out_of_round_percent = 1.0;
  return input;
}

// A barrel with eleven rough marks and a card. Where it is widest may be anywhere up its nearly
// upright wall, and no straight line follows a place that jumps from the rim to the middle.
EstimateInput poorly_marked_barrel() {
  constexpr double kRoughPx = 10.0;
  return testing::noisy_input(testing::load_scene("barrel"), 5, 3, 3, kRoughPx, 1);
}

MonteCarloWishes wishes(int draws, std::uint64_t seed = 1, int jobs = 2) {
  MonteCarloWishes out;
  out.draws = draws;
  out.seed = seed;
  out.jobs = jobs;
  return out;
}

const RedrawnSize* find(const MonteCarlo& found, SizeName name) {
  for (const RedrawnSize& size : found.sizes) {
    if (size.name == name) return &size;
  }
  return nullptr;
}

double width(double low, double high) { return high - low; }

TEST(MonteCarlo, AgreesWithFirstOrderOnAWellMarkedJar) {
  const EstimateInput input = well_marked_jar();
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok());
  constexpr int kDraws = 500;
  const auto found = monte_carlo(input, *first, wishes(kDraws));
  ASSERT_TRUE(found.ok()) << found.problem().what;
  EXPECT_EQ(found->failed, 0);
  EXPECT_EQ(found->draws, kDraws);
  std::size_t ran = 0;
  for (const RedrawnSize& size : found->sizes) {
    const std::string about(size_key(size.name));
    const double ratio =
        width(size.low95, size.high95) / width(size.first.low95, size.first.high95);
    EXPECT_NEAR(ratio, 1.0, kAFifth) << about;
    EXPECT_FALSE(size.differs()) << about;
    EXPECT_EQ(size.draws, kDraws) << about;
    // Most of it is really redrawn; where the widest place lies is half a matter of smoothness.
    constexpr double kMostAdded = 0.4;
    if (size.name != SizeName::kHeightOfMax) {
      EXPECT_LT(size.not_redrawn, kMostAdded) << about;
    }
    // The draws lie about the answer.
    EXPECT_NEAR(size.mean, size.first.value, kAFifth * size.first.sd) << about;
    ++ran;
  }
  EXPECT_EQ(ran, first->sizes.size());
  EXPECT_EQ(ran, 6U);

  Answer answer = *first;
  take_up(*found, answer);
  EXPECT_EQ(answer.notes, first->notes);
  EXPECT_EQ(find_size(answer, SizeName::kHeight)->measured,
            find_size(*first, SizeName::kHeight)->measured);
}

TEST(MonteCarlo, TellsWhereFirstOrderDoesNotHold) {
  const EstimateInput input = poorly_marked_barrel();
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok()) << first.problem().what;
  const auto found = monte_carlo(input, *first, wishes(300));
  ASSERT_TRUE(found.ok()) << found.problem().what;
  const RedrawnSize* place = find(*found, SizeName::kHeightOfMax);
  ASSERT_NE(place, nullptr);
  EXPECT_TRUE(place->differs());
  constexpr double kFarWider = 2.0;
  EXPECT_GT(width(place->low95, place->high95),
            kFarWider * width(place->first.low95, place->first.high95));
  // The truth lies in the interval of the draws, and not in the first one.
  const double truth =
      *testing::load_scene("barrel").truth[static_cast<std::size_t>(SizeName::kHeightOfMax)];
  EXPECT_LT(truth, place->first.low95);
  EXPECT_GT(truth, place->low95);
  EXPECT_LT(truth, place->high95);

  Answer answer = *first;
  take_up(*found, answer);
  const MeasuredSize* taken = find_size(answer, SizeName::kHeightOfMax);
  EXPECT_EQ(taken->measured.value, place->first.value);
  EXPECT_EQ(taken->measured.sd, place->sd);
  EXPECT_EQ(taken->measured.low95, place->low95);
  EXPECT_EQ(taken->measured.high95, place->high95);
  EXPECT_LE(taken->camera_sd, taken->measured.sd);
  ASSERT_GT(answer.notes.size(), first->notes.size());
  const Note& note = answer.notes[first->notes.size()];
  EXPECT_TRUE(note.doubtful);
  EXPECT_THAT(note.text, HasSubstr(std::string(size_words(SizeName::kHeightOfMax))));
  EXPECT_THAT(note.text, HasSubstr("wider"));
  // What agrees is left alone.
  EXPECT_FALSE(find(*found, SizeName::kHeight)->differs());
  EXPECT_EQ(find_size(answer, SizeName::kHeight)->measured,
            find_size(*first, SizeName::kHeight)->measured);
}

// Each uncertainty in turn outweighs the rest. If it were not redrawn, nearly all of the size's
// variance would have to be added afterwards.
TEST(MonteCarlo, RedrawsEveryStatedUncertainty) {
  struct Case {
    const char* what;
    SizeName size;
    std::function<void(EstimateInput&)> make;
  };
  const std::vector<Case> cases = {
      {"reference size", SizeName::kHeight,
       [](EstimateInput& input) { input.photos.front().references[0].size_sd_mm = 6.0; }},
      {"riser", SizeName::kHeight,
       [](EstimateInput& input) { input.photos.front().references[0].riser_sd_mm = 15.0; }},
      {"glass to axis", SizeName::kHeight,
       [](EstimateInput& input) {
         DiscReference disc =
             testing::synthetic_disc(testing::SyntheticCamera{}, {}, Place::kOnGlass, 60.0, 16);
         disc.glass_to_axis_sd_mm = 30.0;
         input.photos.front().references.clear();
         input.photos.front().discs = {disc};
       }},
      {"out of round", SizeName::kRimDiameter,
       [](EstimateInput& input) { input.out_of_round_percent = 5.0; }},
      {"wall", SizeName::kCapacity, [](EstimateInput& input) { input.wall_sd_mm = 4.0; }},
      {"known size", SizeName::kHeight,
       [](EstimateInput& input) {
         input.photos.front().references.clear();
         input.photos.front().sizes = {{0, SizeName::kMaxDiameter, 200.0, 10.0, false}};
       }},
  };
  constexpr double kLeastGrowth = 1.3;  // of the sd, so that the uncertainty in question shows
  EstimateInput plain = well_marked_jar();
  plain.out_of_round_percent = 0.0;
  const auto usual = estimate(plain);
  ASSERT_TRUE(usual.ok());
  std::size_t ran = 0;
  for (const Case& test : cases) {
    EstimateInput input = plain;
    test.make(input);
    const auto first = estimate(input);
    ASSERT_TRUE(first.ok()) << test.what << ": " << first.problem().what;
    EXPECT_GT(find_size(*first, test.size)->measured.sd,
              kLeastGrowth * find_size(*usual, test.size)->measured.sd)
        << test.what;
    const auto found = monte_carlo(input, *first, wishes(kFewestDraws));
    ASSERT_TRUE(found.ok()) << test.what << ": " << found.problem().what;
    const RedrawnSize* size = find(*found, test.size);
    ASSERT_NE(size, nullptr) << test.what;
    EXPECT_LT(size->not_redrawn, kMostAddedOfScale) << test.what;
    EXPECT_FALSE(size->differs()) << test.what;
    ++ran;
  }
  EXPECT_EQ(ran, cases.size());
  EXPECT_EQ(ran, 6U);
}

// A cut-out's principal point is off by hundreds of pixels, which no draw should follow.
TEST(MonteCarlo, CroppedPhotographsAgreeToo) {
  EstimateInput input = well_marked_jar();
  input.photos.front().cropped = true;
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok());
  const auto found = monte_carlo(input, *first, wishes(kFewestDraws));
  ASSERT_TRUE(found.ok());
  std::size_t ran = 0;
  for (const RedrawnSize& size : found->sizes) {
    EXPECT_FALSE(size.differs()) << size_key(size.name);
    ++ran;
  }
  EXPECT_EQ(ran, first->sizes.size());
}

// The jar from two places with one lens; the scale is a card in one photograph and, further back, a
// smaller jar of known width.
EstimateInput two_photographs_and_a_neighbour() {
  const std::vector<ProfilePoint> jar = testing::smooth_jar();
  testing::SyntheticCamera far;
  far.distance_mm = 1200.0;
  far.eye_height_mm = 600.0;
  EstimateInput input = testing::synthetic_input(jar, testing::SyntheticCamera{}, 16, 8, 30);
  input.photos.push_back(testing::synthetic_input(jar, far, 16, 8, 30).photos.front());
  input.photos.back().references.clear();
  std::vector<ProfilePoint> small = jar;
  double widest = 0.0;
  for (ProfilePoint& p : small) {
    p = {0.6 * p.radius_mm, 0.7 * p.height_mm};
    widest = std::max(widest, p.radius_mm);
  }
  NeighbourReference neighbour;
  neighbour.number = 1;
  neighbour.name = SizeName::kMaxDiameter;
  neighbour.value_mm = 2.0 * widest;
  neighbour.sd_mm = 0.5;
  neighbour.marks =
      testing::synthetic_marks(small, testing::SyntheticCamera{}, 190.0, 40.0, 16, 8, 30);
  input.photos.front().neighbours = {neighbour};
  for (PhotoInput& photo : input.photos) photo.same_lens = 1;
  input = testing::with_noise(input, 1.0, 1);
  input.out_of_round_percent = 1.0;
  return input;
}

TEST(MonteCarlo, TwoPhotographsAndANeighbourAgreeToo) {
  const EstimateInput input = two_photographs_and_a_neighbour();
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok()) << first.problem().what;
  const auto found = monte_carlo(input, *first, wishes(kFewestDraws));
  ASSERT_TRUE(found.ok()) << found.problem().what;
  EXPECT_EQ(found->failed, 0);
  std::size_t ran = 0;
  for (const RedrawnSize& size : found->sizes) {
    EXPECT_FALSE(size.differs()) << size_key(size.name);
    EXPECT_NEAR(size.mean, size.first.value, kNearAnswer * size.first.sd) << size_key(size.name);
    ++ran;
  }
  EXPECT_EQ(ran, first->sizes.size());
  EXPECT_EQ(ran, 6U);
  // The scale is redrawn in whatever it hangs on: here in a neighbour that is hardly known.
  EstimateInput loose = input;
  loose.photos.front().references.clear();
  loose.photos.front().neighbours.front().sd_mm = 6.0;
  const auto wide = estimate(loose);
  ASSERT_TRUE(wide.ok()) << wide.problem().what;
  EXPECT_GT(find_size(*wide, SizeName::kHeight)->measured.sd,
            2.0 * find_size(*first, SizeName::kHeight)->measured.sd);
  const auto spread = monte_carlo(loose, *wide, wishes(kFewestDraws));
  ASSERT_TRUE(spread.ok()) << spread.problem().what;
  const RedrawnSize* height = find(*spread, SizeName::kHeight);
  ASSERT_NE(height, nullptr);
  EXPECT_FALSE(height->differs());
  EXPECT_LT(height->not_redrawn, kMostAddedOfScale);
}

// A bottle's narrow neck lets some draws fall into another vessel if they start from the first: one
// in thirty, with a rim half as wide again.
TEST(MonteCarlo, DrawsThatFallIntoAVesselThatDoesNotFitAreEstimatedFromTheStart) {
  const EstimateInput input =
      testing::noisy_input(testing::load_scene("bottle"), 24, 12, 75, 1.0, 1);
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok()) << first.problem().what;
  const auto found = monte_carlo(input, *first, wishes(kFewestDraws));
  ASSERT_TRUE(found.ok()) << found.problem().what;
  EXPECT_EQ(found->failed, 0);
  const RedrawnSize* rim = find(*found, SizeName::kRimDiameter);
  ASSERT_NE(rim, nullptr);
  EXPECT_FALSE(rim->differs());
  EXPECT_NEAR(rim->mean, rim->first.value, kNearAnswer * rim->first.sd);
}

TEST(MonteCarlo, WithoutASizeNothingIsRedrawn) {
  EstimateInput input = well_marked_jar();
  input.photos.front().references.clear();
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok()) << first.problem().what;
  ASSERT_TRUE(first->sizes.empty());
  MonteCarloWishes asked = wishes(kMostDraws);
  int calls = 0;
  asked.progress = [&](int, int) { ++calls; };
  const auto found = monte_carlo(input, *first, asked);
  ASSERT_TRUE(found.ok()) << found.problem().what;
  EXPECT_TRUE(found->sizes.empty());
  EXPECT_EQ(found->failed, 0);
  EXPECT_EQ(calls, 0);
}

TEST(MonteCarlo, IsTheSameForASeedWhateverTheJobs) {
  const EstimateInput input = poorly_marked_barrel();
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok());
  const auto figures = [&](std::uint64_t seed, int jobs) {
    const auto found = monte_carlo(input, *first, wishes(kFewestDraws, seed, jobs));
    EXPECT_TRUE(found.ok());
    std::vector<double> all{static_cast<double>(found->failed)};
    for (const RedrawnSize& size : found->sizes) {
      all.insert(all.end(), {size.mean, size.sd, size.low95, size.high95, size.not_redrawn});
    }
    EXPECT_EQ(found->sizes.size(), first->sizes.size());
    return all;
  };
  const std::vector<double> one = figures(5, 1);
  EXPECT_EQ(figures(5, 3), one);  // to the last bit
  EXPECT_NE(figures(6, 3), one);
}

TEST(MonteCarlo, CountsProgressAndStops) {
  const EstimateInput input = poorly_marked_barrel();
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok());
  MonteCarloWishes asked = wishes(kFewestDraws);
  std::stop_source stop;
  asked.stop = stop.get_token();
  int last = 0;
  int calls = 0;
  asked.progress = [&](int done, int all) {
    EXPECT_EQ(done, last + 1);
    EXPECT_GE(all, kFewestDraws);
    last = done;
    if (++calls == 3) stop.request_stop();
  };
  const auto stopped = monte_carlo(input, *first, asked);
  ASSERT_FALSE(stopped.ok());
  EXPECT_EQ(stopped.problem().code, Code::kCannotBeAnswered);
  EXPECT_THAT(stopped.problem().what, HasSubstr("stopped"));
  EXPECT_LE(calls, 4);  // each of the two threads ends its draw
}

TEST(MonteCarlo, RefusesTooFewAndTooManyDraws) {
  const EstimateInput input = poorly_marked_barrel();
  const auto first = estimate(input);
  ASSERT_TRUE(first.ok());
  std::size_t ran = 0;
  for (const int draws : {-1, 0, kFewestDraws - 1, kMostDraws + 1}) {
    const auto found = monte_carlo(input, *first, wishes(draws));
    ASSERT_FALSE(found.ok()) << draws;
    EXPECT_EQ(found.problem().code, Code::kBadValue);
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
}

TEST(RedrawnSize, DiffersByMoreThanAFifth) {
  RedrawnSize size;
  size.first = normal_measured(100.0, 1.0 / kNormal95);  // 99 to 101
  size.draws = 1000;
  const auto differs = [&](double half_width) {
    size.low95 = 100.5 - half_width;  // where it lies does not matter
    size.high95 = 100.5 + half_width;
    return size.differs();
  };
  EXPECT_FALSE(differs(1.19));
  EXPECT_TRUE(differs(1.21));
  EXPECT_FALSE(differs(0.81));
  EXPECT_TRUE(differs(0.79));
  size.draws = 100;  // a tenth by chance, so that a fifth proves nothing yet
  EXPECT_FALSE(differs(1.21));
  EXPECT_TRUE(differs(1.31));
}

TEST(MonteCarlo, IntervalsAreComparedInWordsThatFitThem) {
  const auto first = estimate(poorly_marked_barrel());
  ASSERT_TRUE(first.ok());
  const Measured stated = find_size(*first, SizeName::kHeight)->measured;
  const auto note = [&](const Measured& usual, double half_width) {
    Answer answer = *first;
    RedrawnSize size{SizeName::kHeight,
                     usual,
                     usual.value,
                     half_width / kNormal95,
                     usual.value - half_width,
                     usual.value + half_width,
                     0.0,
                     1000};
    EXPECT_TRUE(size.differs());
    take_up({1000, 0, 1, {size}}, answer);
    return answer.notes.back().text;
  };
  const double half = stated.high95 - stated.value;
  EXPECT_THAT(note(stated, 1.5 * half), HasSubstr("an interval 50 % wider than the usual one,"));
  EXPECT_THAT(note(stated, 0.5 * half), HasSubstr("an interval 50 % narrower than the usual one,"));
  EXPECT_THAT(note(stated, 20.0 * half),
              HasSubstr("an interval more than ten times as wide as the usual one,"));
  // A usual interval without width has no percent.
  EXPECT_THAT(note({stated.value, 0.0, stated.value, stated.value}, half),
              HasSubstr("an interval where the usual way gives none, so it is used here."));
}

TEST(MonteCarlo, ManyFailedDrawsAreTold) {
  const auto first = estimate(poorly_marked_barrel());
  ASSERT_TRUE(first.ok());
  Answer answer = *first;
  take_up({100, 6, 1, {}}, answer);
  ASSERT_EQ(answer.notes.size(), first->notes.size() + 1);
  EXPECT_THAT(answer.notes.back().text, HasSubstr("6 % of the redrawn estimates gave no answer"));
  answer = *first;
  take_up({100, 5, 1, {}}, answer);
  EXPECT_EQ(answer.notes.size(), first->notes.size());
}

}  // namespace
}  // namespace potshadow
