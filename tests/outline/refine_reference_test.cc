// SPDX-License-Identifier: MIT
#include "outline/refine_reference.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <random>
#include <string>
#include <utility>

namespace potshadow {
namespace {

using Eigen::Vector2d;

constexpr int kWidth = 1200;
constexpr int kHeight = 900;
constexpr double kPaper = 0.7;  // in light
constexpr double kShelf = 0.2;
constexpr double kBlurPx = 0.9;
constexpr double kNoise = 0.03;  // a phone's at ISO 800, not smoothed

double srgb(double light) {
  const double v = std::clamp(light, 0.0, 1.0);
  return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1.0 / 2.4) - 0.055;
}

// A picture of light from a function that gives it at every place, as a lens and a sensor see it.
// Pixels are means over 6 x 6 places where `near_edge` says so.
Picture photographed(const std::function<double(Vector2d)>& light,
                     const std::function<bool(Vector2d)>& near_edge, std::uint64_t seed) {
  constexpr int kFine = 6;
  cv::Mat linear(kHeight, kWidth, CV_32F);
  for (int y = 0; y < kHeight; ++y) {
    for (int x = 0; x < kWidth; ++x) {
      const Vector2d middle(x, y);
      double sum = light(middle);
      if (near_edge(middle)) {
        sum = 0.0;
        for (int k = 0; k < kFine * kFine; ++k) {
          sum += light(middle +
                       Vector2d((k % kFine + 0.5) / kFine - 0.5, (k / kFine + 0.5) / kFine - 0.5));
        }
        sum /= kFine * kFine;
      }
      linear.at<float>(y, x) = static_cast<float>(sum);
    }
  }
  cv::GaussianBlur(linear, linear, cv::Size(), kBlurPx);
  cv::RNG random(seed);
  Picture picture;
  picture.facts.width_px = kWidth;
  picture.facts.height_px = kHeight;
  picture.bgr.create(kHeight, kWidth, CV_8UC3);
  for (int y = 0; y < kHeight; ++y) {
    for (int x = 0; x < kWidth; ++x) {
      for (int k = 0; k < 3; ++k) {
        const double v = static_cast<double>(linear.at<float>(y, x)) + random.gaussian(kNoise);
        picture.bgr.at<cv::Vec3b>(y, x)[k] = cv::saturate_cast<unsigned char>(255.0 * srgb(v));
      }
    }
  }
  return picture;
}

// A card of 85.6 x 53.98 mm, its corners rounded by 3.18 mm (ISO/IEC 7810), seen aslant, with lines
// of print on it.
struct Card {
  static constexpr double kWide = 85.6;
  static constexpr double kHigh = 53.98;
  static constexpr double kRound = 3.18;
  std::array<Vector2d, 4> corners;  // in the picture, lower left first
  Eigen::Matrix3d card_from_picture;

  explicit Card(const std::array<Vector2d, 4>& in_picture) : corners(in_picture) {
    Eigen::Matrix<double, 8, 8> rows;
    Eigen::Matrix<double, 8, 1> right;
    const std::array<Vector2d, 4> flat = {Vector2d(0, 0), Vector2d(kWide, 0),
                                          Vector2d(kWide, kHigh), Vector2d(0, kHigh)};
    for (int i = 0; i < 4; ++i) {
      const Vector2d p = corners[static_cast<std::size_t>(i)];
      const Vector2d q = flat[static_cast<std::size_t>(i)];
      rows.row(2 * i) << p.x(), p.y(), 1, 0, 0, 0, -q.x() * p.x(), -q.x() * p.y();
      rows.row(2 * i + 1) << 0, 0, 0, p.x(), p.y(), 1, -q.y() * p.x(), -q.y() * p.y();
      right.segment<2>(2 * i) = q;
    }
    const Eigen::Matrix<double, 8, 1> h = rows.partialPivLu().solve(right);
    card_from_picture << h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0;
  }

  Vector2d on_card(Vector2d p) const { return (card_from_picture * p.homogeneous()).hnormalized(); }

  // Millimetres outside the card's rounded outline, below 0 within.
  double outside_mm(Vector2d p) const {
    const Vector2d half(kWide / 2.0, kHigh / 2.0);
    const Vector2d q = (on_card(p) - half).cwiseAbs() - half + Vector2d::Constant(kRound);
    return q.cwiseMax(0.0).norm() + std::min(q.maxCoeff(), 0.0) - kRound;
  }

  double light(Vector2d p) const {
    if (outside_mm(p) > 0.0) return kShelf * (1.0 + 0.2 * p.x() / kWidth);
    const Vector2d q = on_card(p);
    const bool ink = q.x() > 10 && q.x() < 60 && std::fmod(q.y(), 12.0) > 8.0;
    return ink ? 0.08 : kPaper * (0.9 + 0.2 * p.y() / kHeight);
  }
};

Card random_card(std::mt19937_64& random) {
  std::uniform_real_distribution<double> off(-60.0, 60.0);
  const auto moved = [&](double x, double y) { return Vector2d(x + off(random), y + off(random)); };
  return Card({moved(330, 640), moved(860, 660), moved(830, 310), moved(350, 290)});
}

Picture picture_of(const Card& card, std::uint64_t seed) {
  return photographed([&](Vector2d p) { return card.light(p); },
                      [&](Vector2d p) { return std::abs(card.outside_mm(p)) < 1.0; }, seed);
}

std::array<PhotoPoint, 4> clicked(const std::array<Vector2d, 4>& corners, double reach,
                                  std::mt19937_64& random) {
  std::uniform_real_distribution<double> angle(0.0, 2.0 * std::numbers::pi);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  std::array<PhotoPoint, 4> clicks;
  for (std::size_t i = 0; i < 4; ++i) {
    const double a = angle(random);
    const double r = reach * share(random);
    clicks[i] = {corners[i].x() + r * std::cos(a), corners[i].y() + r * std::sin(a)};
  }
  return clicks;
}

constexpr double kReachPx = kRoughReach * kWidth;
// What is promised of a card's corner at this size: a tenth of a pixel.
constexpr double kCornerPx = 0.1;
// Root mean square of errors over their sd, of some hundred values: 1 but for chance (0.07) and the
// allowance for what an edge is off as a whole, which these pictures do not need.
constexpr double kLeastNormal = 0.5;
constexpr double kMostNormal = 1.25;

TEST(RefineCard, CornersLieWhereTheEdgesMeet) {
  constexpr int kCards = 12;
  double squares = 0.0;
  int values = 0;
  for (std::uint64_t seed = 0; seed < kCards; ++seed) {
    std::mt19937_64 random(seed);
    const Card card = random_card(random);
    const auto refined =
        refine_card(picture_of(card, seed + 1), clicked(card.corners, kReachPx, random));
    ASSERT_TRUE(refined.ok()) << seed << refined.problem().what;
    EXPECT_TRUE(refined.notes().empty()) << seed;
    for (std::size_t i = 0; i < 4; ++i) {
      const RefinedPoint& corner = refined->corners[i];
      ASSERT_TRUE(corner.refined) << seed << " corner " << i;
      const Vector2d miss = Vector2d(corner.at.x_px, corner.at.y_px) - card.corners[i];
      EXPECT_LT(miss.norm(), kCornerPx) << seed << " corner " << i;
      EXPECT_GT(corner.sd_px, 0.0);
      squares += miss.squaredNorm() / (corner.sd_px * corner.sd_px);
      values += 2;
    }
  }
  EXPECT_EQ(values, 2 * 4 * kCards);
  EXPECT_GT(std::sqrt(squares / values), kLeastNormal);
  EXPECT_LT(std::sqrt(squares / values), kMostNormal);
}

TEST(RefineCard, ASideWithoutAnEdgeKeepsItsCorners) {
  std::mt19937_64 random(3);
  const Card card = random_card(random);
  // A white cloth under the right half of the card: its right edge is not seen, and only the left
  // halves of the two edges beside it.
  const auto light = [&](Vector2d p) {
    const Vector2d q = card.on_card(p);
    return q.x() > 0.7 * Card::kWide && q.y() > -40 && q.y() < 95 ? kPaper : card.light(p);
  };
  const Picture picture = photographed(
      light, [&](Vector2d p) { return std::abs(card.outside_mm(p)) < 1.0; }, 9);
  const auto clicks = clicked(card.corners, 4.0, random);
  const auto refined = refine_card(picture, clicks);
  ASSERT_TRUE(refined.ok()) << refined.problem().what;
  for (const std::size_t i : {1U, 2U}) {
    EXPECT_FALSE(refined->corners[i].refined);
    EXPECT_EQ(refined->corners[i].at, clicks[i]);
  }
  const auto noted = [&](const std::string& words) {
    return std::any_of(refined.notes().begin(), refined.notes().end(), [&](const Note& n) {
      return n.doubtful && n.text.find(words) != std::string::npos;
    });
  };
  EXPECT_TRUE(noted("second and third"));
  EXPECT_FALSE(noted("fourth and first"));
}

TEST(RefineCard, WhatCannotBeIsAProblem) {
  std::mt19937_64 random(5);
  const Card card = random_card(random);
  const Picture picture = picture_of(card, 1);
  const auto right = clicked(card.corners, 5.0, random);
  const auto code = [&](const Picture& p, const std::array<PhotoPoint, 4>& clicks) {
    return refine_card(p, clicks).problem().code;
  };
  auto crossed = right;
  std::swap(crossed[0], crossed[1]);
  EXPECT_EQ(code(picture, crossed), Code::kBadMarks);
  auto outside = right;
  outside[2] = {kWidth + 5.0, 100.0};
  EXPECT_EQ(code(picture, outside), Code::kBadMarks);
  auto endless = right;
  endless[2].x_px = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(code(picture, endless), Code::kBadMarks);
  auto same = right;
  same[1] = same[0];
  EXPECT_EQ(code(picture, same), Code::kBadMarks);
  EXPECT_EQ(code(Picture{}, right), Code::kBadValue);
  const Picture flat =
      photographed([](Vector2d) { return 0.4; }, [](Vector2d) { return false; }, 4);
  EXPECT_EQ(code(flat, right), Code::kCannotBeAnswered);
  // Clicks in the other direction round the card are as good.
  auto turned = right;
  std::reverse(turned.begin(), turned.end());
  EXPECT_TRUE(refine_card(picture, turned).ok());
}

// A disc seen aslant: an ellipse, and a darker ring printed on it.
struct Disc {
  Vector2d centre;
  double major;
  double minor;
  double angle;

  // A place with the ellipse made a unit circle.
  Vector2d in_circle(Vector2d p) const {
    const Vector2d q = Eigen::Rotation2Dd(-angle) * (p - centre);
    return {q.x() / major, q.y() / minor};
  }
  Vector2d at(double a) const {
    return centre + Eigen::Rotation2Dd(angle) * Vector2d(major * std::cos(a), minor * std::sin(a));
  }
  // Distance from the ellipse, to first order of it.
  double miss(Vector2d p) const {
    const Vector2d q = in_circle(p);
    return (q.squaredNorm() - 1.0) / (2.0 * Vector2d(q.x() / major, q.y() / minor).norm());
  }
  double light(Vector2d p) const {
    const double r = in_circle(p).norm();
    return r > 1.0 ? kShelf : r > 0.75 && r < 0.8 ? 0.15 : kPaper;
  }
};

TEST(RefineDisc, PointsLieOnTheEdge) {
  constexpr int kDiscs = 8;
  int points = 0;
  double squares = 0.0;
  for (std::uint64_t seed = 0; seed < kDiscs; ++seed) {
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> off(-1.0, 1.0);
    const Disc disc{{600 + 80 * off(random), 450 + 80 * off(random)},
                    210 + 40 * off(random),
                    110 + 40 * off(random),
                    off(random)};
    const Picture picture =
        photographed([&](Vector2d p) { return disc.light(p); },
                     [&](Vector2d p) { return std::abs(disc.miss(p)) < 3.0; }, seed + 20);
    std::vector<PhotoPoint> clicks;
    for (int i = 0; i < 7; ++i) {
      const Vector2d p = disc.at(0.9 * i + 0.2 * off(random));
      clicks.push_back(
          {p.x() + 0.6 * kReachPx * off(random), p.y() + 0.6 * kReachPx * off(random)});
    }
    const auto refined = refine_disc(picture, clicks);
    ASSERT_TRUE(refined.ok()) << seed << refined.problem().what;
    EXPECT_GT(refined->edge.size(), 40U);
    for (const RefinedPoint& point : refined->edge) {
      const double miss = disc.miss({point.at.x_px, point.at.y_px});
      // Four deviations of what such a point is believed to: once in 16,000.
      EXPECT_LT(std::abs(miss), 4.0 * point.sd_px) << seed;
      squares += miss * miss / (point.sd_px * point.sd_px);
      ++points;
    }
  }
  EXPECT_GT(points, 40 * kDiscs);
  // The allowance for what all points share is most of their sd.
  EXPECT_LT(std::sqrt(squares / points), kMostNormal);
  EXPECT_GT(std::sqrt(squares / points), 0.1);
}

TEST(RefineDisc, WhatCannotBeIsAProblem) {
  const Picture flat =
      photographed([](Vector2d) { return 0.4; }, [](Vector2d) { return false; }, 4);
  std::vector<PhotoPoint> ring;
  for (int i = 0; i < 8; ++i)
    ring.push_back({600 + 100 * std::cos(i * 0.8), 450 + 80 * std::sin(i * 0.8)});
  EXPECT_EQ(refine_disc(flat, ring).problem().code, Code::kCannotBeAnswered);
  EXPECT_EQ(refine_disc(Picture{}, ring).problem().code, Code::kBadValue);
  EXPECT_EQ(refine_disc(flat, {ring.begin(), ring.begin() + 4}).problem().code, Code::kTooFewMarks);
  std::vector<PhotoPoint> line;
  for (int i = 0; i < 6; ++i) line.push_back({100.0 + 50 * i, 100.0 + 50 * i});
  EXPECT_EQ(refine_disc(flat, line).problem().code, Code::kBadMarks);
  ring[3] = {-30.0, 20.0};
  EXPECT_EQ(refine_disc(flat, ring).problem().code, Code::kBadMarks);
}

}  // namespace
}  // namespace potshadow
