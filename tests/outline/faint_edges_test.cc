// SPDX-License-Identifier: MIT
#include "outline/faint_edges.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <numbers>
#include <opencv2/core.hpp>
#include <vector>

#include "outline/drawn_vessel.h"

namespace potshadow {
namespace {

constexpr double kRadiusPx = 180.0;
constexpr double kStepPx = 3.0;
const cv::Point2d kCentre(300.0, 250.0);

// A disc hardly darker than what is round it.
cv::Mat faint_disc(std::uint64_t seed, double apart) {
  testing::DrawnPicture wanted;
  wanted.distance = [](double x, double y) {
    return std::hypot(x - kCentre.x, y - kCentre.y) - kRadiusPx;
  };
  wanted.vessel = [](double, double) { return testing::Ink{0.20, 0.20, 0.20}; };
  wanted.surroundings = [=](double, double) {
    return testing::Ink{0.20 + apart, 0.20 + apart, 0.20 + apart};
  };
  wanted.noise = 4.0;
  wanted.seed = seed;
  return testing::drawn(wanted).bgr;
}

// Three quarters of the circle, as it is predicted: `off` too large. With nodes on it.
struct Arc {
  SearchLine line;
  std::vector<EdgeNode> nodes;
};

Arc predicted_arc(double off) {
  Arc arc;
  const double radius = kRadiusPx + off;
  for (double angle = 0.0; angle < 1.5 * std::numbers::pi; angle += kStepPx / radius) {
    const cv::Point2d outward(std::cos(angle), std::sin(angle));
    arc.line.at.push_back(kCentre + radius * outward);
    arc.line.outward.push_back(outward);
    if (arc.line.at.size() % 5 != 0) continue;
    EdgeNode node;
    node.at = arc.line.at.back();
    node.outward = outward;
    node.doubt = "the edge is too faint here";
    arc.nodes.push_back(node);
  }
  return arc;
}

MarkPlan plan() {
  MarkPlan plan;
  plan.noise = 4.0;
  plan.spacing_px = 15.0;
  plan.half_along_px = 10.0;
  return plan;
}

TEST(FaintEdges, AreFoundOverALongerStretchWithTheirUncertainty) {
  // Where the line ends a long window does not fit any more.
  constexpr std::size_t kLeast = 40;
  // Windows overlap, so that misses come in runs: their mean square scatters more.
  constexpr double kMostRms = 1.5;
  std::size_t cases = 0;
  for (const double off : {-1.0, 0.0, 1.0}) {
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
      Arc arc = predicted_arc(off);
      fit_faint(faint_disc(seed, 0.03), arc.line, kStepPx, plan(), arc.nodes);
      std::size_t good = 0;
      double squares = 0.0;
      for (const EdgeNode& node : arc.nodes) {
        if (node.doubt != nullptr) continue;
        const double miss = cv::norm(node.at - kCentre) - kRadiusPx;
        squares += std::pow(miss / node.fit.sd_px, 2);
        ++good;
      }
      EXPECT_GE(good, kLeast) << off << ", " << seed;
      EXPECT_LT(std::sqrt(squares / static_cast<double>(std::max<std::size_t>(1, good))), kMostRms)
          << off << ", " << seed;
      ++cases;
    }
  }
  EXPECT_EQ(cases, 9U);
}

TEST(FaintEdges, AreNotMadeOfNoise) {
  std::size_t good = 0;
  std::size_t all = 0;
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    Arc arc = predicted_arc(0.0);
    fit_faint(faint_disc(seed, 0.0), arc.line, kStepPx, plan(), arc.nodes);
    for (const EdgeNode& node : arc.nodes) good += node.doubt == nullptr ? 1 : 0;
    all += arc.nodes.size();
  }
  EXPECT_GE(all, 150U);
  EXPECT_LE(good, all / 50);
}

}  // namespace
}  // namespace potshadow
