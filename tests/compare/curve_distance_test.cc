// SPDX-License-Identifier: MIT
// Distances of analytic curves against SciPy (curve_distance.py): gaps, scale and area.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>

#include "compare/shape_difference.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

// Half an ellipse turned: semi-axes across and up, and how high its middle is.
struct Ellipse {
  double a = 0.0;
  double b = 0.0;
  double c = 0.0;
};

constexpr double kLow = -1.2;  // of its parameter, as in the script
constexpr double kHigh = 1.2;
constexpr std::size_t kRows = 401;  // chords then lie within 0.001 mm of the curve

std::vector<ProfilePoint> rows_of(const Ellipse& e, double low, double high) {
  std::vector<ProfilePoint> rows;
  for (std::size_t i = 0; i < kRows; ++i) {
    const double t = low + (high - low) * static_cast<double>(i) / (kRows - 1);
    rows.push_back({e.a * std::cos(t), e.c + e.b * std::sin(t)});
  }
  return rows;
}

Form exact(std::vector<ProfilePoint> rows) {
  const auto n = static_cast<Eigen::Index>(rows.size());
  return {std::move(rows), 1e-6 * Eigen::MatrixXd::Identity(n, n)};
}

// Where a line from a place of the first curve along its normal first meets the second, by our own.
double gap_at(const std::vector<ProfilePoint>& other, const Ellipse& e, double t) {
  const Eigen::Vector2d at(e.a * std::cos(t), e.c + e.b * std::sin(t));
  const Eigen::Vector2d normal = Eigen::Vector2d(e.b * std::cos(t), e.a * std::sin(t)).normalized();
  const auto way = way_to(other, at, normal, 100.0);
  EXPECT_TRUE(way);
  return way.value_or(1e9);
}

TEST(CurveDistance, AgreesWithSciPyOnEllipses) {
  ASSERT_EQ(std::system("/usr/bin/python3 -c 'import scipy' > /dev/null 2>&1"), 0)
      << "SciPy is missing: install the package python3-scipy";
  const std::array<std::array<Ellipse, 2>, 4> pairs{
      {{{{100.0, 110.0, 120.0}, {104.0, 116.0, 122.0}}},
       {{{100.0, 110.0, 120.0}, {96.0, 118.0, 121.0}}},
       {{{80.0, 60.0, 65.0}, {84.0, 58.0, 66.0}}},
       {{{90.0, 150.0, 150.0}, {94.0, 149.0, 154.0}}}}};
  const TemporaryFolder folder;
  {
    std::ofstream in(folder.path() / "pairs.txt");
    in.precision(17);
    for (const auto& [one, other] : pairs) {
      in << one.a << ' ' << one.b << ' ' << one.c << ';' << other.a << ' ' << other.b << ' '
         << other.c << '\n';
    }
  }
  const std::string out = (folder.path() / "said.txt").string();
  ASSERT_EQ(
      std::system(("/usr/bin/python3 " POTSHADOW_SOURCE_DIR "/tests/compare/curve_distance.py < " +
                   (folder.path() / "pairs.txt").string() + " > " + out)
                      .c_str()),
      0);
  std::ifstream said(out);
  int gaps = 0;
  for (const auto& [one, other] : pairs) {
    // The replica's curve goes on beyond the original's ends, as an ellipse does.
    constexpr double kBeyond = 0.15;
    const std::vector<ProfilePoint> rows = rows_of(other, kLow - kBeyond, kHigh + kBeyond);
    const auto found =
        shape_difference({.original = exact(rows_of(one, kLow, kHigh)), .replica = exact(rows)});
    ASSERT_TRUE(found.ok());
    EXPECT_FALSE(found->by_parts);
    std::string word;
    while (said >> word && word != "end") {
      double value = 0.0;
      said >> value;
      if (word == "scale") {
        // Ours takes gaps to fall as the original grows to first order; where the curves meet at an
        // angle, here of up to some 6 degrees, the least is elsewhere by its square's share.
        constexpr double kScale = 3e-4;
        EXPECT_NEAR(found->scale.value, value, kScale);
      } else if (word == "area") {
        // A scale that is 1e-4 elsewhere moves gaps of some 1 mm by 0.01.
        constexpr double kArea = 0.01;  // of it
        EXPECT_NEAR(found->area_mm2, value, kArea * value);
      } else {
        double gap = 0.0;
        said >> gap;
        constexpr double kChord = 0.005;  // mm, of chords and of normals between them
        EXPECT_NEAR(gap_at(rows, one, value), gap, kChord);
        ++gaps;
      }
    }
    EXPECT_EQ(word, "end");
  }
  EXPECT_EQ(gaps, 7 * 4);
}

}  // namespace
}  // namespace potshadow
