// SPDX-License-Identifier: MIT
// Marks that have a precision of their own: traced ones, and those of refined references.
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "estimate/estimate.h"
#include "estimate/monte_carlo.h"
#include "estimate/shapes.h"
#include "estimate/synthetic.h"

namespace potshadow {
namespace {

using testing::expect_problem;
using testing::synthetic_input;
using testing::SyntheticCamera;
using testing::with_noise;

constexpr double kHandPx = 1.0;

EstimateInput jar_input() {
  EstimateInput input = synthetic_input(testing::smooth_jar(), SyntheticCamera(), 24, 8, 12);
  input.photos.front().marks.sd_px = kHandPx;
  return input;
}

void all_traced(double sd_px, Marks& marks) {
  marks.rim_sd_px.assign(marks.rim.size(), sd_px);
  marks.base_sd_px.assign(marks.base.size(), sd_px);
  marks.left_sd_px.assign(marks.left.size(), sd_px);
  marks.right_sd_px.assign(marks.right.size(), sd_px);
}

double height_sd(const EstimateInput& input) {
  const Result<Answer> answer = estimate(input);
  if (!answer) {
    ADD_FAILURE() << answer.problem().what;
    return 0.0;
  }
  return find_size(*answer, SizeName::kHeight)->camera_sd;
}

TEST(OwnPrecision, StatedAloneOrForAllIsTheSame) {
  EstimateInput input = with_noise(jar_input(), kHandPx, 5);
  const Result<Answer> before = estimate(input);
  ASSERT_TRUE(before.ok()) << before.problem().what;
  all_traced(kHandPx, input.photos.front().marks);
  const Result<Answer> after = estimate(input);
  ASSERT_TRUE(after.ok()) << after.problem().what;
  for (std::size_t i = 0; i < before->sizes.size(); ++i) {
    EXPECT_EQ(before->sizes[i].measured.value, after->sizes[i].measured.value);
    EXPECT_EQ(before->sizes[i].measured.sd, after->sizes[i].measured.sd);
  }
}

TEST(OwnPrecision, SharperMarksAndCornersNarrowTheInterval) {
  EstimateInput input = jar_input();
  const double by_hand = height_sd(input);
  all_traced(0.2, input.photos.front().marks);
  const double traced = height_sd(input);
  EXPECT_LT(traced, 0.95 * by_hand);
  input.photos.front().references.front().marks_sd_px = 0.1;
  EXPECT_LT(height_sd(input), 0.8 * traced);
}

TEST(OwnPrecision, RoughMarkPullsAsLittleAsItsWeight) {
  // One side's marks lie 3 px too far out, and say that they are as rough as that.
  EstimateInput input = jar_input();
  Marks& marks = input.photos.front().marks;
  const auto width = [&] {
    const Result<Answer> answer = estimate(input);
    EXPECT_TRUE(answer.ok());
    return answer.ok() ? find_size(*answer, SizeName::kMaxDiameter)->measured.value : 0.0;
  };
  const double truth = width();
  for (PhotoPoint& mark : marks.right) mark.x_px += 3.0;
  const double pulled = width() - truth;
  all_traced(0.2, marks);
  marks.right_sd_px.assign(marks.right.size(), 20.0);
  const double weighed = width() - truth;
  EXPECT_GT(pulled, 0.1);
  EXPECT_LT(std::abs(weighed), 0.2 * pulled);
}

TEST(OwnPrecision, RedrawnIntervalsAgree) {
  EstimateInput input = jar_input();
  all_traced(0.3, input.photos.front().marks);
  input.photos.front().references.front().marks_sd_px = 0.2;
  const Result<Answer> first = estimate(input);
  ASSERT_TRUE(first.ok());
  MonteCarloWishes wishes;
  wishes.draws = 300;
  const Result<MonteCarlo> redrawn = monte_carlo(input, *first, wishes);
  ASSERT_TRUE(redrawn.ok()) << redrawn.problem().what;
  for (const RedrawnSize& size : redrawn->sizes) {
    if (size.name != SizeName::kHeight) continue;
    // An interval of 300 draws is good to 6 %, and first order to a few percent more.
    const double half = (size.high95 - size.low95) / 2.0;
    EXPECT_NEAR(half / (1.96 * find_size(*first, SizeName::kHeight)->measured.sd), 1.0, 0.2);
  }
}

TEST(OwnPrecision, WhatCannotBeIsNamed) {
  EstimateInput input = jar_input();
  input.photos.front().marks.left_sd_px = {0.2};
  expect_problem(input, Code::kBadValue, "precision of a traced mark");
  input = jar_input();
  all_traced(0.2, input.photos.front().marks);
  input.photos.front().marks.rim_sd_px.front() = -1.0;
  expect_problem(input, Code::kBadValue, "precision of a traced mark");
}

}  // namespace
}  // namespace potshadow
