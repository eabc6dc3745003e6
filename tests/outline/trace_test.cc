// SPDX-License-Identifier: MIT
#include "outline/trace.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <limits>
#include <numbers>
#include <opencv2/core.hpp>
#include <random>
#include <stop_token>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "outline/drawn_vessel.h"

namespace potshadow {
namespace {

using testing::drawn;
using testing::DrawnPicture;
using testing::Ink;
using testing::Jar;

constexpr Ink kDark{0.03, 0.04, 0.06};

// The jar with a dark opening, before a wall and on a shelf that differs from it.
DrawnPicture plain_jar(const Jar& jar) {
  DrawnPicture wanted;
  wanted.distance = [=](double x, double y) { return jar.distance(x, y); };
  wanted.vessel = [=](double x, double y) {
    return jar.rim_distance(x, y) < 0.0 ? kDark : testing::kClay;
  };
  wanted.surroundings = [](double, double y) {
    return y < 330.0 ? testing::kWall : Ink{0.25, 0.30, 0.34};
  };
  return wanted;
}

TraceRequest boxed(double left, double top, double right, double bottom) {
  TraceRequest request;
  request.box = {{left, top}, {right, bottom}};
  return request;
}

const TraceRequest kJarBox = boxed(125.0, 60.0, 470.0, 435.0);

struct Errors {
  int marks = 0;
  double worst = 0.0;
  double squares = 0.0;     // in pixels
  double normalised = 0.0;  // squares over the stated variances
};

Errors errors_of(const std::vector<TracedMark>& marks,
                 const std::function<double(double, double)>& distance) {
  Errors errors;
  for (const TracedMark& mark : marks) {
    const double off = distance(mark.at.x_px, mark.at.y_px);
    ++errors.marks;
    errors.worst = std::max(errors.worst, std::abs(off));
    errors.squares += off * off;
    errors.normalised += std::pow(off / mark.sd_px, 2);
  }
  return errors;
}

// All marks of a jar lie on the edges they claim. With the widest blur and the strongest noise here
// a mark is off by 0.15 px as a rule: five deviations.
constexpr double kWorstPx = 0.8;
constexpr double kUsualPx = 0.2;

void expect_jar(const Trace& trace, const Jar& jar, const std::string& which) {
  const auto side = [&](double x, double y) { return jar.side_distance(x, y); };
  const auto rim = [&](double x, double y) { return jar.rim_distance(x, y); };
  const auto foot = [&](double x, double y) { return jar.foot_distance(x, y); };
  int lists = 0;
  for (const auto& [marks, distance, least] :
       {std::tuple(&trace.left, std::function<double(double, double)>(side), 40),
        std::tuple(&trace.right, std::function<double(double, double)>(side), 40),
        std::tuple(&trace.rim, std::function<double(double, double)>(rim), 25),
        std::tuple(&trace.base, std::function<double(double, double)>(foot), 12)}) {
    const Errors errors = errors_of(*marks, distance);
    EXPECT_GE(errors.marks, least) << which << ", list " << lists;
    EXPECT_LT(errors.worst, kWorstPx) << which << ", list " << lists;
    EXPECT_LT(std::sqrt(errors.squares / std::max(1, errors.marks)), kUsualPx)
        << which << ", list " << lists;
    ++lists;
  }
  EXPECT_EQ(lists, 4);
  for (const TracedMark& mark : trace.left) EXPECT_LT(mark.at.x_px, jar.axis_x) << which;
  for (const TracedMark& mark : trace.right) EXPECT_GT(mark.at.x_px, jar.axis_x) << which;
}

TEST(Trace, PlainJarToAFractionOfAPixel) {
  const Jar jar;
  int cases = 0;
  for (const double blur : {0.8, 1.5}) {
    for (const double noise : {1.0, 4.0}) {
      DrawnPicture wanted = plain_jar(jar);
      wanted.blur_px = blur;
      wanted.noise = noise;
      const auto trace = trace_vessel(drawn(wanted), kJarBox);
      ASSERT_TRUE(trace) << trace.problem().what;
      expect_jar(*trace, jar, "blur " + std::to_string(blur) + ", noise " + std::to_string(noise));
      ++cases;
    }
  }
  EXPECT_EQ(cases, 4);
}

// Marks state no less than they are off by, and not many times as much: the shift that neighbours
// share is allowed for although drawn pictures have none.
TEST(Trace, StatedUncertaintyCoversTheErrors) {
  constexpr double kAtMost = 1.3;  // mean square of error over uncertainty
  constexpr double kAtLeast = 0.01;
  const Jar jar;
  double normalised = 0.0;
  int marks = 0;
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    DrawnPicture wanted = plain_jar(jar);
    wanted.seed = seed;
    wanted.noise = 5.0;
    const auto trace = trace_vessel(drawn(wanted), kJarBox);
    ASSERT_TRUE(trace);
    for (const auto* list : {&trace->left, &trace->right}) {
      const Errors errors =
          errors_of(*list, [&](double x, double y) { return jar.side_distance(x, y); });
      normalised += errors.normalised;
      marks += errors.marks;
    }
  }
  ASSERT_GT(marks, 300);
  EXPECT_LT(normalised / marks, kAtMost);
  EXPECT_GT(normalised / marks, kAtLeast);
}

// Painted bands are stronger edges than the vessel's own.
TEST(Trace, PaintedBandsAndTexturedWallsAreNotTheOutline) {
  const Jar jar;
  DrawnPicture wanted = plain_jar(jar);
  wanted.vessel = [=](double x, double y) {
    if (jar.rim_distance(x, y) < 0.0) return kDark;
    const bool band = std::fmod(y + 0.0008 * std::pow(x - 300.0, 2), 60.0) < 14.0;
    const bool dot = std::hypot(std::fmod(x, 40.0) - 20.0, y - 250.0) < 9.0;
    return band || dot ? Ink{0.02, 0.02, 0.03} : testing::kClay;
  };
  wanted.surroundings = [](double x, double y) {
    const double weave = 0.04 * (std::sin(x / 3.0) + std::sin(y / 4.0));
    return Ink{0.40 + weave, 0.42 + weave, 0.40 + weave};
  };
  const auto trace = trace_vessel(drawn(wanted), kJarBox);
  ASSERT_TRUE(trace) << trace.problem().what;
  // The weave itself moves an edge by some of its own contrast.
  constexpr double kWovenPx = 1.5;
  for (const auto* list : {&trace->left, &trace->right}) {
    const Errors errors =
        errors_of(*list, [&](double x, double y) { return jar.side_distance(x, y); });
    EXPECT_GE(errors.marks, 30);
    EXPECT_LT(errors.worst, kWovenPx);
  }
}

// --- Second pass
// ------------------------------------------------------------------------------------

PredictedLine side_line(const Jar& jar, int side, double off, double half_band) {
  PredictedLine line;
  line.edge = side < 0 ? TracedEdge::kLeft : TracedEdge::kRight;
  for (double y = jar.rim_y + 15.0; y < jar.foot_y - 10.0; y += 6.0) {
    const auto at = [&](double more) {
      return PhotoPoint{jar.axis_x + side * (jar.half_at(y) + off + more), y};
    };
    line.middle.push_back(at(0.0));
    line.inner.push_back(at(-half_band));
    line.outer.push_back(at(half_band));
  }
  return line;
}

PredictedLine ellipse_line(const Jar& jar, TracedEdge edge, double from_rad, double to_rad,
                           double half_band) {
  PredictedLine line;
  line.edge = edge;
  const bool rim = edge == TracedEdge::kRim;
  const double half = rim ? jar.rim_half : jar.foot_half;
  for (int i = 0; i <= 80; ++i) {
    const double angle = from_rad + (to_rad - from_rad) * i / 80.0;
    const auto at = [&](double more) {
      return PhotoPoint{
          jar.axis_x + (half + more) * std::cos(angle),
          (rim ? jar.rim_y : jar.foot_y) + (jar.ratio * half + more) * std::sin(angle)};
    };
    line.middle.push_back(at(0.8));
    line.inner.push_back(at(0.8 - half_band));
    line.outer.push_back(at(0.8 + half_band));
  }
  return line;
}

TraceRequest predicted_jar(const Jar& jar, double off, double half_band) {
  using std::numbers::pi;
  TraceRequest request = kJarBox;
  request.predicted = {side_line(jar, -1, off, half_band), side_line(jar, 1, off, half_band),
                       ellipse_line(jar, TracedEdge::kRim, 0.0, 2.0 * pi, half_band),
                       ellipse_line(jar, TracedEdge::kBase, 0.1, pi - 0.1, half_band)};
  return request;
}

TEST(Trace, FindsEdgesWhereTheyArePredicted) {
  const Jar jar;
  const Picture picture = drawn(plain_jar(jar));
  int cases = 0;
  for (const double off : {-2.0, 0.5, 2.0}) {
    const auto trace = trace_vessel(picture, predicted_jar(jar, off, 3.0));
    ASSERT_TRUE(trace) << trace.problem().what;
    expect_jar(*trace, jar, "off by " + std::to_string(off));
    // Both the back and the front of the rim.
    int front = 0;
    for (const TracedMark& mark : trace->rim) front += mark.at.y_px > jar.rim_y + 5.0 ? 1 : 0;
    EXPECT_GT(front, 10);
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

TEST(Trace, LeavesOutWhatIsPredictedElsewhere) {
  const Jar jar;
  TraceRequest request = kJarBox;
  // Surely 30 px off, where there is nothing but wall; the right side as it is.
  request.predicted = {side_line(jar, -1, 30.0, 2.0), side_line(jar, 1, 0.0, 2.0)};
  const auto trace = trace_vessel(drawn(plain_jar(jar)), request);
  ASSERT_TRUE(trace) << trace.problem().what;
  EXPECT_TRUE(trace->left.empty());
  EXPECT_FALSE(trace->right.empty());
  ASSERT_FALSE(trace->doubtful.empty());
  EXPECT_EQ(trace->doubtful.front().edge, TracedEdge::kLeft);
}

TEST(Trace, IgnoresPredictedLinesThatAreNotWhole) {
  const Jar jar;
  TraceRequest request = predicted_jar(jar, 0.0, 3.0);
  request.predicted[0].outer.pop_back();
  request.predicted[1].middle[3].x_px = std::numeric_limits<double>::quiet_NaN();
  const auto trace = trace_vessel(drawn(plain_jar(jar)), request);
  ASSERT_TRUE(trace) << trace.problem().what;
  EXPECT_TRUE(trace->left.empty());
  EXPECT_TRUE(trace->right.empty());
  EXPECT_FALSE(trace->rim.empty());
  EXPECT_FALSE(trace->notes.empty());
  request.predicted.resize(2);
  EXPECT_FALSE(trace_vessel(drawn(plain_jar(jar)), request));
}

// --- Bad input
// --------------------------------------------------------------------------------------

TEST(Trace, RefusesBoxesThatHoldNothing) {
  const Jar jar;
  const Picture picture = drawn(plain_jar(jar));
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  int cases = 0;
  for (const TraceRequest& request :
       {boxed(700, 10, 900, 400), boxed(-300, -200, -10, -10), boxed(100, 100, 110, 300),
        boxed(100, 100, 300, 100), boxed(nan, 0, 100, 100), boxed(0, 0, infinite, 100)}) {
    const auto trace = trace_vessel(picture, request);
    ASSERT_FALSE(trace);
    EXPECT_EQ(trace.problem().code, Code::kBadValue);
    EXPECT_FALSE(trace.problem().what.empty());
    EXPECT_FALSE(trace.problem().next.empty());
    ++cases;
  }
  EXPECT_EQ(cases, 6);
  EXPECT_FALSE(trace_vessel(Picture{}, kJarBox));
}

TEST(Trace, RefusesAnEmptyWall) {
  int cases = 0;
  for (const double noise : {0.0, 2.0, 10.0}) {
    DrawnPicture wanted;
    wanted.distance = [](double, double) { return 100.0; };
    wanted.vessel = [](double, double) { return testing::kClay; };
    wanted.surroundings = [](double x, double) {
      const double light = 0.3 + 0.0002 * x;
      return Ink{light, light, light};
    };
    wanted.noise = noise;
    const auto trace = trace_vessel(drawn(wanted), kJarBox);
    ASSERT_FALSE(trace) << noise;
    EXPECT_EQ(trace.problem().code, Code::kCannotBeAnswered);
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

// A vessel that differs from the wall by less than the noise.
TEST(Trace, ClaimsLittleOfASeeThroughVessel) {
  const Jar jar;
  DrawnPicture wanted = plain_jar(jar);
  wanted.noise = 4.0;
  wanted.surroundings = [](double, double) { return testing::kWall; };
  wanted.vessel = [](double, double) { return Ink{0.395, 0.415, 0.395}; };
  const auto trace = trace_vessel(drawn(wanted), kJarBox);
  if (!trace) {
    EXPECT_EQ(trace.problem().code, Code::kCannotBeAnswered);
    return;
  }
  for (const auto* list : {&trace->left, &trace->right}) {
    EXPECT_LT(errors_of(*list, [&](double x, double y) { return jar.side_distance(x, y); }).worst,
              3.0);
  }
}

// A polished vessel has no colour of its own: it shows the room, squeezed towards its sides. What
// is claimed is its edge, not that of a window or a door in it.
TEST(Trace, ClaimsLittleThatIsFalseOfAMirrorBrightVessel) {
  constexpr double kFalsePx = 3.0;
  constexpr double kMostFalse = 0.05;
  const Jar jar;
  constexpr int kRooms = 4;
  int rooms = 0;
  for (std::uint64_t seed = 1; seed <= kRooms; ++seed) {
    // Doors and windows of random width and light stand side by side, and a floor lies before them.
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> any(0.0, 1.0);
    std::vector<std::pair<double, Ink>> parts;
    for (double x = -900.0; x < 1500.0; x += 40.0 + 160.0 * any(random)) {
      const double light = 0.05 + 0.5 * any(random);
      parts.push_back({x, {light, light * 0.95, light * 0.9}});
    }
    const auto room = [parts](double x, double y) {
      if (y > 300.0) return Ink{0.18, 0.20, 0.22};
      Ink ink = parts.front().second;
      for (const auto& [from, colour] : parts) {
        if (x >= from) ink = colour;
      }
      return ink;
    };
    DrawnPicture wanted = plain_jar(jar);
    wanted.seed = seed;
    wanted.surroundings = room;
    wanted.vessel = [=](double x, double y) {
      const double across = std::clamp((x - jar.axis_x) / jar.half_at(y), -1.0, 1.0);
      // A round mirror turns a sight line by twice the angle of its wall.
      return room(jar.axis_x + 450.0 * std::sin(2.0 * std::asin(across)), y + 20.0);
    };
    const auto trace = trace_vessel(drawn(wanted), kJarBox);
    ++rooms;
    if (!trace) {
      EXPECT_EQ(trace.problem().code, Code::kCannotBeAnswered);
      continue;
    }
    std::size_t marks = 0;
    std::size_t wrong = 0;
    for (const auto* list : {&trace->left, &trace->right, &trace->rim, &trace->base}) {
      for (const TracedMark& mark : *list) {
        ++marks;
        if (std::abs(jar.distance(mark.at.x_px, mark.at.y_px)) > kFalsePx) ++wrong;
      }
    }
    const bool said = std::any_of(trace->notes.begin(), trace->notes.end(), [](const Note& note) {
      return note.doubtful && note.text.find("other things' edges") != std::string::npos;
    });
    EXPECT_TRUE(said || static_cast<double>(wrong) <= kMostFalse * static_cast<double>(marks))
        << "room " << seed << ": " << wrong << " of " << marks;
  }
  EXPECT_EQ(rooms, kRooms);
}

TEST(Trace, TwoVesselsAreNoOne) {
  Jar left;
  left.axis_x = 180.0;
  Jar right;
  right.axis_x = 430.0;
  DrawnPicture wanted = plain_jar(left);
  wanted.width = 640;
  wanted.distance = [=](double x, double y) {
    return std::min(left.distance(x, y), right.distance(x, y));
  };
  wanted.vessel = [](double, double) { return testing::kClay; };
  // They touch: one thing with two tops. With a gap the larger is traced, and a note says so.
  const auto touching = trace_vessel(drawn(wanted), boxed(10.0, 60.0, 610.0, 435.0));
  ASSERT_FALSE(touching);
  EXPECT_EQ(touching.problem().code, Code::kCannotBeAnswered);
  Jar small;
  small.axis_x = 520.0;
  small.rim_half = 50.0;
  small.foot_half = 30.0;
  small.rim_y = 200.0;
  wanted.distance = [=](double x, double y) {
    return std::min(left.distance(x, y), small.distance(x, y));
  };
  const auto apart = trace_vessel(drawn(wanted), boxed(10.0, 60.0, 630.0, 435.0));
  ASSERT_TRUE(apart) << apart.problem().what;
  bool noted = false;
  for (const Note& note : apart->notes) noted |= note.doubtful;
  EXPECT_TRUE(noted);
  const Errors errors =
      errors_of(apart->left, [&](double x, double y) { return left.side_distance(x, y); });
  EXPECT_GT(errors.marks, 30);
  EXPECT_LT(errors.worst, kWorstPx);
}

// The right half is outside the picture: the left outline still serves.
// A low bowl seen steeply, its wall in the dark: all that stands out is its rim, and the lower half
// of that ellipse is neither the sides nor the foot.
TEST(Trace, SteepBowlShowsItsRimAlone) {
  constexpr double kAlong = 170.0;
  constexpr std::size_t kLeastMarks = 100;
  int cases = 0;
  for (const double ratio : {0.6, 0.8}) {
    for (const double lean_deg : {0.0, 18.0}) {
      const double lean = lean_deg * std::numbers::pi / 180.0;
      const auto distance = [=](double x, double y) {
        const double u = ((x - 300.0) * std::cos(lean) + (y - 250.0) * std::sin(lean)) / kAlong;
        const double across = kAlong * ratio;
        const double v = ((y - 250.0) * std::cos(lean) - (x - 300.0) * std::sin(lean)) / across;
        const double slope = 2.0 * std::hypot(u / kAlong, v / across);
        return (u * u + v * v - 1.0) / std::max(slope, 1e-6);
      };
      DrawnPicture wanted;
      wanted.distance = distance;
      wanted.vessel = [](double, double) { return testing::kClay; };
      wanted.surroundings = [](double, double) { return kDark; };
      const auto trace = trace_vessel(drawn(wanted), boxed(105.0, 60.0, 490.0, 445.0));
      ASSERT_TRUE(trace) << ratio << ", " << lean_deg << ": " << trace.problem().what;
      EXPECT_TRUE(trace->left.empty() && trace->right.empty() && trace->base.empty())
          << ratio << ", " << lean_deg;
      const Errors errors = errors_of(trace->rim, distance);
      EXPECT_GE(trace->rim.size(), kLeastMarks) << ratio << ", " << lean_deg;
      EXPECT_LT(errors.worst, kWorstPx) << ratio << ", " << lean_deg;
      bool noted = false;
      for (const Note& note : trace->notes) {
        noted |= note.doubtful && note.text.find("one ellipse") != std::string::npos;
      }
      EXPECT_TRUE(noted) << ratio << ", " << lean_deg;
      ++cases;
    }
  }
  EXPECT_EQ(cases, 4);
}

TEST(Trace, VesselCutByThePictureKeepsItsOtherSide) {
  Jar jar;
  jar.axis_x = 300.0;
  int cases = 0;
  for (const int width : {300, 380}) {
    DrawnPicture wanted = plain_jar(jar);
    wanted.width = width;
    const auto trace = trace_vessel(drawn(wanted), boxed(125.0, 60.0, width, 435.0));
    ASSERT_TRUE(trace) << trace.problem().what;
    const Errors errors =
        errors_of(trace->left, [&](double x, double y) { return jar.side_distance(x, y); });
    EXPECT_GT(errors.marks, 25) << width;
    EXPECT_LT(errors.worst, kWorstPx) << width;
    for (const auto* list : {&trace->left, &trace->right, &trace->rim, &trace->base}) {
      for (const TracedMark& mark : *list) EXPECT_LT(mark.at.x_px, width - 3.0) << width;
    }
    bool noted = false;
    for (const Note& note : trace->notes) noted |= note.text.find("cut off") != std::string::npos;
    EXPECT_TRUE(noted) << width;
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

TEST(Trace, StrokesTellTheVesselApart) {
  const Jar jar;
  DrawnPicture wanted = plain_jar(jar);
  // A stand of the vessel's own colour below it.
  wanted.distance = [=](double x, double y) {
    const double stand = std::max({std::abs(x - 300.0) - 75.0, 405.0 - y, y - 450.0});
    return std::min(jar.distance(x, y), stand);
  };
  wanted.vessel = [=](double x, double y) {
    return jar.distance(x, y) < 0.0 ? testing::kClay : Ink{0.11, 0.15, 0.28};
  };
  TraceRequest request = boxed(125.0, 60.0, 470.0, 470.0);
  request.strokes = {{true, {{300, 200}, {300, 380}}, 20.0},
                     {false, {{232, 430}, {368, 430}}, 40.0},
                     {false, {}, 5.0},
                     {true, {{std::numeric_limits<double>::quiet_NaN(), 3.0}}, -2.0}};
  const auto trace = trace_vessel(drawn(wanted), request);
  ASSERT_TRUE(trace) << trace.problem().what;
  const Errors errors =
      errors_of(trace->left, [&](double x, double y) { return jar.side_distance(x, y); });
  EXPECT_GT(errors.marks, 30);
  EXPECT_LT(errors.worst, kWorstPx);
}

TEST(Trace, TellsHowFarItIsAndStops) {
  const Picture picture = drawn(plain_jar(Jar{}));
  std::vector<double> told;
  TraceWatch watch;
  watch.done = [&](double part) { told.push_back(part); };
  ASSERT_TRUE(trace_vessel(picture, kJarBox, watch));
  ASSERT_GE(told.size(), 3U);
  EXPECT_TRUE(std::is_sorted(told.begin(), told.end()));
  EXPECT_EQ(told.back(), 1.0);
  int cases = 0;
  for (const TraceRequest& request : {kJarBox, predicted_jar(Jar{}, 0.0, 3.0)}) {
    std::stop_source stop;
    watch.stop = stop.get_token();
    watch.done = [&](double) { stop.request_stop(); };
    const auto stopped = trace_vessel(picture, request, watch);
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.problem().code, Code::kCannotBeAnswered);
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

TEST(Trace, SameInputGivesTheSameMarks) {
  const Picture picture = drawn(plain_jar(Jar{}));
  const auto first = trace_vessel(picture, kJarBox);
  const auto second = trace_vessel(picture, kJarBox);
  ASSERT_TRUE(first);
  ASSERT_TRUE(second);
  ASSERT_EQ(first->left.size(), second->left.size());
  for (std::size_t i = 0; i < first->left.size(); ++i) {
    EXPECT_EQ(first->left[i].at, second->left[i].at);
  }
}

}  // namespace
}  // namespace potshadow
