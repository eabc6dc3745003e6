// SPDX-License-Identifier: MIT
#include "compare/shape_difference.h"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace potshadow {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t kRows = 61;
constexpr double kHeightMm = 200.0;

// A jar: foot, belly, neck and a flared rim; `belly_down_mm`, `neck_out_mm` and `rim_out_mm` change
// it there.
struct Changes {
  double scale = 1.0;
  double belly_down_mm = 0.0;
  double neck_out_mm = 0.0;
  double rim_out_mm = 0.0;
};

double bump(double z, double at, double width) {
  return std::exp(-(z - at) * (z - at) / (2.0 * width * width));
}

double radius(double z, const Changes& c) {
  const double belly = 80.0 - c.belly_down_mm;
  return 40.0 + 55.0 * bump(z, belly, 48.0) + 22.0 * bump(z, 215.0, 18.0) +
         c.neck_out_mm * bump(z, 165.0, 12.0) + c.rim_out_mm * bump(z, 200.0, 8.0);
}

std::vector<ProfilePoint> jar(const Changes& c) {
  std::vector<ProfilePoint> rows;
  for (std::size_t i = 0; i < kRows; ++i) {
    const double z = kHeightMm * static_cast<double>(i) / (kRows - 1);
    rows.push_back({c.scale * radius(z, c), c.scale * z});
  }
  return rows;
}

// Rows that are off by a common scale, and by what hangs together over `reach_mm` of height.
Form form_of(const std::vector<ProfilePoint>& rows, double scale_sd, double local_mm,
             double reach_mm = 25.0) {
  const auto n = static_cast<Index>(rows.size());
  Form form{rows, MatrixXd::Zero(n, n)};
  for (Index i = 0; i < n; ++i) {
    for (Index j = 0; j < n; ++j) {
      const double apart =
          rows[static_cast<std::size_t>(i)].height_mm - rows[static_cast<std::size_t>(j)].height_mm;
      form.covariance(i, j) =
          local_mm * local_mm * std::exp(-apart * apart / (2.0 * reach_mm * reach_mm));
    }
  }
  return enlarged(form, 1.0, scale_sd);
}

// The rows as they might have been measured.
Form drawn(const std::vector<ProfilePoint>& rows, double scale_sd, double local_mm,
           std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  Form form = form_of(rows, scale_sd, local_mm);
  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(form.covariance);
  VectorXd draw(form.covariance.rows());
  for (double& x : draw) x = normal(random);
  const VectorXd off = eigen.eigenvectors() *
                       (eigen.eigenvalues().cwiseMax(0.0).cwiseSqrt().cwiseProduct(draw)).eval();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Eigen::Vector2d moved = off(static_cast<Index>(i)) * normal_of(rows, i);
    form.rows[i].radius_mm += moved.x();
    form.rows[i].height_mm += moved.y();
  }
  return form;
}

TEST(ShapeDifference, ConcentricCirclesAreAsFarApartAsTheirRadii) {
  // Geometry: along a common normal two circles about one centre are R - r apart, everywhere.
  const auto arc = [](double r) {
    std::vector<ProfilePoint> rows;
    for (std::size_t i = 0; i < kRows; ++i) {
      const double a = 0.9 * std::numbers::pi * (static_cast<double>(i) / (kRows - 1) - 0.5);
      rows.push_back({r * std::cos(a), 120.0 + r * std::sin(a)});
    }
    return rows;
  };
  constexpr double kChord = 0.03;  // between 61 rows, at 110 mm: R (1 - cos(half a step))
  const auto difference =
      shape_difference({form_of(arc(100.0), 0.01, 0.1), form_of(arc(103.0), 0.01, 0.1)});
  ASSERT_TRUE(difference.ok()) << difference.problem().what;
  ASSERT_GT(difference->as_made.size(), 50U);
  for (std::size_t i = 1; i + 1 < difference->as_made.size(); ++i) {
    EXPECT_NEAR(difference->as_made[i].gap_mm.value, 3.0, kChord);
  }
}

TEST(ShapeDifference, ABowlAndABottleAreLaidTogetherPartByPart) {
  // A cone that opens from 40 to 140 mm over 90 mm, and a bottle of 260 mm with a neck of 30.
  const std::vector<ProfilePoint> bowl_turns{{40.0, 0.0}, {140.0, 90.0}};
  const std::vector<ProfilePoint> bottle_turns{
      {45.0, 0.0}, {60.0, 130.0}, {15.0, 180.0}, {15.0, 260.0}};
  const auto rows = [](const std::vector<ProfilePoint>& turns) {
    std::vector<ProfilePoint> out;
    for (std::size_t i = 0; i < kRows; ++i) {
      const double at =
          static_cast<double>(i) / (kRows - 1) * static_cast<double>(turns.size() - 1);
      const std::size_t k = std::min(static_cast<std::size_t>(at), turns.size() - 2);
      const double part = at - static_cast<double>(k);
      out.push_back({turns[k].radius_mm + part * (turns[k + 1].radius_mm - turns[k].radius_mm),
                     turns[k].height_mm + part * (turns[k + 1].height_mm - turns[k].height_mm)});
    }
    return out;
  };
  const auto found = shape_difference({.original = form_of(rows(bottle_turns), 0.01, 0.3),
                                       .replica = form_of(rows(bowl_turns), 0.01, 0.3)});
  ASSERT_TRUE(found.ok());
  EXPECT_TRUE(found->by_parts);
  EXPECT_EQ(found->scaled.size(), kRows);
  EXPECT_GT(found->scale.value, 0.1);
  EXPECT_LT(found->scale.value, 10.0);
  for (const GapRow& row : found->scaled) EXPECT_TRUE(std::isfinite(row.gap_mm.value));
  // The bowl's rim is far outside the bottle's.
  EXPECT_GT(found->scaled.back().gap_mm.value, 0.0);
  EXPECT_TRUE(found->scaled.back().differs);
  // Of one kind they are laid together along normals.
  const auto alike = shape_difference({.original = form_of(jar({}), 0.01, 0.3),
                                       .replica = form_of(jar({.scale = 1.2}), 0.01, 0.3)});
  ASSERT_TRUE(alike.ok());
  EXPECT_FALSE(alike->by_parts);
}

TEST(ShapeDifference, LineAndOffsetLineByHand) {
  const std::vector<ProfilePoint> line = {{0.0, 0.0}, {30.0, 40.0}};
  // The normal of (3, 4) / 5 is (4, -3) / 5; from (27, 11), 15 mm out of (15, 20), it leads back.
  const auto way = way_to(line, {15.0 + 12.0, 20.0 - 9.0}, {-0.8, 0.6}, 100.0);
  ASSERT_TRUE(way);
  EXPECT_NEAR(*way, 15.0, 1e-12);
  EXPECT_FALSE(way_to(line, {27.0, 11.0}, {-0.8, 0.6}, 14.0));
}

TEST(ShapeDifference, AnEnlargedCopyHasNoOtherShape) {
  Changes larger;
  larger.scale = 1.06;
  const auto difference =
      shape_difference({form_of(jar({}), 0.005, 0.2), form_of(jar(larger), 0.005, 0.2)});
  ASSERT_TRUE(difference.ok()) << difference.problem().what;
  constexpr double kExact = 1e-4;
  EXPECT_NEAR(difference->scale.value, 1.06, kExact);
  EXPECT_NEAR(difference->upright_scale.value, 1.06, kExact);
  EXPECT_NEAR(difference->across_scale.value, 1.06, kExact);
  EXPECT_LT(difference->rms_mm, 0.01);
  EXPECT_TRUE(difference->places.empty());
  // Both scales at half a percent.
  EXPECT_NEAR(difference->scale.sd, 1.06 * 0.005 * std::numbers::sqrt2, 0.002);
}

TEST(ShapeDifference, HeightsAndWidthsAreToldApart) {
  std::vector<ProfilePoint> rows = jar({});
  for (ProfilePoint& p : rows) {
    p.radius_mm *= 1.05;
    p.height_mm *= 0.97;
  }
  const auto difference =
      shape_difference({form_of(jar({}), 0.005, 0.2), form_of(rows, 0.005, 0.2)});
  ASSERT_TRUE(difference.ok()) << difference.problem().what;
  constexpr double kExact = 1e-3;  // the rim's end is cut off where the line leads past it
  EXPECT_NEAR(difference->upright_scale.value, 0.97, kExact);
  EXPECT_NEAR(difference->across_scale.value, 1.05, kExact);
}

// What was changed is found, and where: 200 pairs of each, measured to half a percent in scale and
// 0.4 mm in shape.
TEST(ShapeDifference, KnownDifferencesAreFoundInSimulatedPairs) {
  constexpr int kPairs = 200;
  constexpr double kScaleSd = 0.005;
  constexpr double kLocalMm = 0.4;
  constexpr int kFewestFound = kPairs * 85 / 100;  // in the noise some 4 mm at the neck are lost
  struct Case {
    const char* what;
    Changes changes;
    ProfilePart part;
  };
  Changes neck;
  neck.neck_out_mm = 4.0;
  Changes rim;
  rim.rim_out_mm = 5.0;
  rim.scale = 1.06;
  for (const Case& c : {Case{"neck", neck, ProfilePart::kNeck}, {"rim", rim, ProfilePart::kRim}}) {
    std::mt19937_64 random(11);
    int found = 0;
    for (int pair = 0; pair < kPairs; ++pair) {
      const auto difference = shape_difference({drawn(jar({}), kScaleSd, kLocalMm, random),
                                                drawn(jar(c.changes), kScaleSd, kLocalMm, random)});
      ASSERT_TRUE(difference.ok()) << difference.problem().what;
      if (difference->places.empty()) continue;
      found += difference->places.front().part == c.part &&
               difference->scaled[difference->places.front().row].gap_mm.value > 0.0;
    }
    EXPECT_GE(found, kFewestFound) << c.what;
  }
}

TEST(ShapeDifference, IntervalsCoverAndLikeShapesAreSeldomCalledDifferent) {
  constexpr int kPairs = 400;
  constexpr double kScale = 1.06;
  constexpr double kLeastCover = 0.90;
  constexpr double kMostCover = 0.99;
  // Of the outline's places alone, at their nominal 5 %, and three binomial standard deviations. A
  // comparison asks them for more, since it claims other things too (ComparePairs counts whole
  // pairs).
  constexpr int kMostFalse = kPairs * 8 / 100;
  std::mt19937_64 random(5);
  Changes larger;
  larger.scale = kScale;
  int scale = 0;
  int across = 0;
  int told = 0;
  double gaps = 0.0;
  double gaps_of = 0.0;
  for (int pair = 0; pair < kPairs; ++pair) {
    const auto difference = shape_difference(
        {drawn(jar({}), 0.015, 0.6, random), drawn(jar(larger), 0.01, 0.4, random)});
    ASSERT_TRUE(difference.ok()) << difference.problem().what;
    const auto covers = [](const Measured& m, double truth) {
      return m.low95 <= truth && truth <= m.high95;
    };
    scale += covers(difference->scale, kScale);
    across += covers(difference->across_scale, kScale);
    told += !difference->places.empty();
    for (const GapRow& row : difference->scaled) {
      gaps += covers(row.gap_mm, 0.0);
      gaps_of += 1.0;
    }
  }
  EXPECT_GE(scale, kLeastCover * kPairs);
  EXPECT_LE(scale, kMostCover * kPairs);
  EXPECT_GE(across, kLeastCover * kPairs);
  EXPECT_LE(across, kMostCover * kPairs);
  EXPECT_GE(gaps, kLeastCover * gaps_of);
  EXPECT_LE(gaps, kMostCover * gaps_of);
  EXPECT_LT(told, kMostFalse);
}

TEST(ShapeDifference, WhatIsNoProfileIsRefused) {
  const Form good = form_of(jar({}), 0.01, 0.2);
  Form short_one = good;
  short_one.rows.resize(2);
  const auto refused = shape_difference({good, short_one});
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.problem().code, Code::kBadValue);
}

}  // namespace
}  // namespace potshadow
