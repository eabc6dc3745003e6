// SPDX-License-Identifier: MIT
// What must hold of any camera, circle, profile, shrinkage and piece, on random ones. Undo and
// saving have theirs in tests/desktop/document/random_commands_test.cc.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "clay/shrinkage.h"
#include "core/random_cases.h"
#include "geometry/camera.h"
#include "geometry/conic.h"
#include "geometry/glass.h"
#include "geometry/plane_pose.h"
#include "sheets/piece_tiles.h"
#include "sheets/tiling.h"
#include "vessel/profile.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

constexpr double kTurn = 6.283185307179586;
constexpr double kRounding = 1e-12;      // relative: some hundred operations, with slack
constexpr double kNoiseFreePose = 1e-5;  // relative: roots of nearly double solutions halve digits
constexpr double kInverseOfLens = 1e-9;  // its fixed-point steps stop there
constexpr double kVolumePart = 1e-3;     // two slicings, each good to 0.02 %, with slack

Eigen::Matrix3d random_turn(double most_rad) {
  const Eigen::Vector3d axis(random_between(-1, 1), random_between(-1, 1), random_between(0.1, 1));
  return Eigen::AngleAxisd(random_between(-most_rad, most_rad), axis.normalized())
      .toRotationMatrix();
}

TEST(Properties, TakingTheLensAwayGivesTheSightLineBack) {
  int cases = 0;
  const std::string wrong = broken(1, [&] {
    ++cases;
    const Lens<double> lens{random_between(500, 9000), random_between(0, 4000),
                            random_between(0, 3000), random_between(-0.05, 0.05),
                            random_between(-0.01, 0.01)};
    const Eigen::Vector3d point(random_between(-400, 400), random_between(-400, 400),
                                random_between(900, 3000));
    const Eigen::Vector2d pixel = project(lens, point);
    const Eigen::Vector2d back = undistorted(lens, {pixel.x(), pixel.y()});
    RC_ASSERT((back - point.head<2>() / point.z()).norm() < kInverseOfLens);
  });
  EXPECT_EQ(wrong, "");
  EXPECT_EQ(cases, kRandomCases);
}

TEST(Properties, APaneBringsThingsNearerAndNeverAsideByMoreThanItIsThick) {
  const std::string wrong = broken(2, [&] {
    const double thickness = random_between(0, 30);
    const double index = random_between(1.0, 1.9);
    const Eigen::Vector3d eye(0, 0, 0);
    const Eigen::Vector3d normal(0, 0, 1);
    const Eigen::Vector3d point(random_between(-800, 800), random_between(-800, 800),
                                random_between(500, 3000));
    const Eigen::Vector3d seen = seen_through_glass(point, eye, normal, thickness, index);
    RC_ASSERT(seen.head<2>() == point.head<2>());
    RC_ASSERT(seen.z() <= point.z() && seen.z() >= point.z() - thickness);
    const double aside =
        lateral_displacement_mm(Mm{thickness}, index, Rad{random_between(0, kTurn / 4.0)});
    RC_ASSERT(aside >= -kRounding && aside <= thickness + kRounding);
    const Eigen::Vector3d bare = seen_through_glass(point, eye, normal, thickness, 1.0);
    RC_ASSERT((bare - point).norm() <= kRounding * point.norm());
  });
  EXPECT_EQ(wrong, "");
}

TEST(Properties, ACardIsFoundWhereItStands) {
  const std::string wrong = broken(3, [&] {
    const double width = random_between(30, 300);
    const double height = random_between(30, 300);
    // The card faces the camera: its y goes up, the camera's down.
    const Eigen::Matrix3d turn = random_turn(0.9) * Eigen::Vector3d(1, -1, -1).asDiagonal();
    const Eigen::Vector3d origin(random_between(-300, 300), random_between(-300, 300),
                                 random_between(700, 2500));
    std::array<Eigen::Vector2d, 4> corners;
    const double xs[] = {0, width, width, 0};
    const double ys[] = {0, 0, height, height};
    for (std::size_t i = 0; i < 4; ++i) {
      const Eigen::Vector3d at = turn * Eigen::Vector3d(xs[i], ys[i], 0) + origin;
      corners[i] = at.head<2>() / at.z();
    }
    const auto poses = rectangle_poses(corners, Mm{width}, Mm{height});
    RC_ASSERT(poses.ok());
    const bool found = std::any_of(poses->begin(), poses->end(), [&](const PlanePose& pose) {
      return (pose.origin_mm - origin).norm() < kNoiseFreePose * origin.norm();
    });
    RC_ASSERT(found);
  });
  EXPECT_EQ(wrong, "");
}

TEST(Properties, ACircleIsAmongTheTwoThatItsEllipseCanBe) {
  const std::string wrong = broken(4, [&] {
    const Eigen::Vector3d centre(random_between(-2, 2), random_between(-2, 2),
                                 random_between(6, 30));
    const Eigen::Matrix3d turn = random_turn(1.2);
    std::vector<Eigen::Vector2d> seen;
    constexpr int kPoints = 24;
    for (int i = 0; i < kPoints; ++i) {
      const double angle = kTurn * i / kPoints;
      const Eigen::Vector3d at =
          centre + turn * Eigen::Vector3d(std::cos(angle), std::sin(angle), 0.0);
      seen.emplace_back(at.head<2>() / at.z());
    }
    const auto conic = fit_ellipse(seen);
    RC_ASSERT(conic.ok());
    const auto poses = circle_poses(*conic);
    RC_ASSERT(poses.ok());
    const bool found = std::any_of(poses->begin(), poses->end(), [&](const CirclePose& pose) {
      return (pose.centre - centre).norm() < kNoiseFreePose * centre.norm();
    });
    RC_ASSERT(found);
  });
  EXPECT_EQ(wrong, "");
}

Profile random_profile() {
  std::vector<ProfilePoint> controls;
  const int count = *rc::gen::inRange(4, 16);
  double height = 0.0;
  for (int i = 0; i < count; ++i) {
    controls.push_back({random_between(20, 200), height});
    height += random_between(5, 60);
  }
  const Result<Profile> profile = Profile::from_controls(controls);
  RC_ASSERT(profile.ok());
  return *profile;
}

TEST(Properties, AProfileStaysWithinItsControlPointsAndGrowsAsAWhole) {
  const std::string wrong = broken(5, [&] {
    const Profile profile = random_profile();
    const auto [least, most] =
        std::minmax_element(profile.controls().begin(), profile.controls().end(),
                            [](const auto& a, const auto& b) { return a.radius_mm < b.radius_mm; });
    const double s = random_between(0, 1);
    const ProfileBasis basis = profile_basis(s, profile.controls().size());
    double weights = 0.0;
    double slopes = 0.0;
    for (std::size_t i = 0; i < 4; ++i) {
      RC_ASSERT(basis.weight[i] >= 0.0);
      weights += basis.weight[i];
      slopes += basis.slope[i];
    }
    RC_ASSERT(std::abs(weights - 1.0) < kRounding);
    RC_ASSERT(std::abs(slopes) < kRounding * 100.0);  // slopes are some hundred
    const ProfilePoint at = profile.at(s);
    RC_ASSERT(at.radius_mm >= least->radius_mm * (1.0 - kRounding));
    RC_ASSERT(at.radius_mm <= most->radius_mm * (1.0 + kRounding));

    const Sizes sizes = sizes_of(profile);
    RC_ASSERT(sizes.max_diameter_mm >= sizes.rim_diameter_mm * (1.0 - kRounding));
    RC_ASSERT(sizes.height_of_max_mm >= 0.0 && sizes.height_of_max_mm <= sizes.height_mm);
    if (sizes.neck_diameter_mm) RC_ASSERT(*sizes.neck_diameter_mm < sizes.max_diameter_mm);
    const double factor = random_between(0.5, 2.0);
    const Sizes grown = sizes_of(profile.scaled(factor));
    RC_ASSERT(std::abs(grown.max_diameter_mm / sizes.max_diameter_mm / factor - 1.0) < 1e-9);
    RC_ASSERT(std::abs(grown.height_mm / sizes.height_mm / factor - 1.0) < 1e-9);
    const double room = capacity_ml(profile, Mm{0.0});
    const double grown_room = capacity_ml(profile.scaled(factor), Mm{0.0});
    RC_ASSERT(room > 0.0);
    RC_ASSERT(std::abs(grown_room / room / std::pow(factor, 3.0) - 1.0) < kVolumePart);
    RC_ASSERT(capacity_ml(profile, Mm{random_between(0.5, 8.0)}) < room);
  });
  EXPECT_EQ(wrong, "");
}

TEST(Properties, ShrinkagesMultiplyAndGoBackAndForth) {
  const std::string wrong = broken(6, [&] {
    const LinearShrinkage drying = normal_shrinkage(
        Stage::kWet, Stage::kBoneDry, random_between(0, 0.14), random_between(0, 0.01));
    const LinearShrinkage firing = normal_shrinkage(
        Stage::kBoneDry, Stage::kFired, random_between(-0.01, 0.14), random_between(0, 0.01));
    const LinearShrinkage whole = then(drying, firing);
    RC_ASSERT(std::abs((1 - whole.fraction) - (1 - drying.fraction) * (1 - firing.fraction)) <
              kRounding);
    RC_ASSERT(std::abs(rest_after(whole, drying).fraction - firing.fraction) < kRounding);
    RC_ASSERT(std::abs(rest_before(whole, firing).fraction - drying.fraction) < kRounding);

    const auto total =
        TotalShrinkage::from_percent_of_wet(random_between(0, 30), random_between(0, 3));
    RC_ASSERT(total.ok());
    const Measured fired = normal_measured(random_between(5, 1000), random_between(0, 5));
    const Measured wet = total->wet_length(fired);
    RC_ASSERT(std::abs(total->fired_length(wet).value / fired.value - 1.0) < kRounding);
    RC_ASSERT(wet.value >= fired.value);
    // Not knowing the clay never makes a size surer.
    RC_ASSERT(wet.sd / wet.value >= fired.sd / fired.value - kRounding);
    RC_ASSERT(wet.low95 <= wet.value && wet.value <= wet.high95);
    const Measured volume = total->wet_volume(fired);
    RC_ASSERT(std::abs(volume.value / fired.value - std::pow(total->enlargement(), 3.0)) < 1e-9);
  });
  EXPECT_EQ(wrong, "");
}

TEST(Properties, SheetsShowAllOfAPieceAndJoinWhereTheirMarksMeet) {
  int joined = 0;
  const std::string wrong = broken(7, [&] {
    Pattern piece{"piece"};
    PatternPath path{{}, PatternLine::kCut, false};
    PatternPoint at{random_between(-200, 200), random_between(-200, 200)};
    const int corners = *rc::gen::inRange(2, 12);
    for (int i = 0; i < corners; ++i) {
      path.points.push_back(at);
      at.x_mm += random_between(-300, 300);
      at.y_mm += random_between(-300, 300);
    }
    piece.paths.push_back(path);
    const PageBox window{15, 30, 15 + random_between(100, 270), 30 + random_between(100, 380)};
    const TiledPiece tiled = tiled_piece(piece, box_of(piece), window);
    RC_ASSERT(!tiled.tiles.empty());
    constexpr double kSlackMm = 1e-6;
    // Half of the overlap at each side is cut off or lies on the neighbour's; the rest shows all.
    for (const PieceTile& tile : tiled.tiles) {
      RC_ASSERT(tile.window.right_mm <= window.right_mm + kSlackMm);
      RC_ASSERT(tile.window.bottom_mm <= window.bottom_mm + kSlackMm);
    }
    for (std::size_t i = 0; i + 1 < path.points.size(); ++i) {
      constexpr int kSteps = 50;
      for (int step = 0; step <= kSteps; ++step) {
        const double part = static_cast<double>(step) / kSteps;
        const double x = std::lerp(path.points[i].x_mm, path.points[i + 1].x_mm, part);
        const double y = std::lerp(path.points[i].y_mm, path.points[i + 1].y_mm, part);
        const bool shown =
            std::any_of(tiled.tiles.begin(), tiled.tiles.end(), [&](const PieceTile& tile) {
              return x >= tile.cell.left_mm - kSlackMm && x <= tile.cell.right_mm + kSlackMm &&
                     y >= tile.cell.bottom_mm - kSlackMm && y <= tile.cell.top_mm + kSlackMm;
            });
        RC_ASSERT(shown);
      }
    }
    // A letter stands on two sheets, at one place of the piece.
    struct Place {
      std::string letter;
      double x_mm;
      double y_mm;
    };
    std::vector<Place> places;
    for (const PieceTile& tile : tiled.tiles) {
      for (const RegistrationMark& mark : tile.marks) {
        places.push_back(
            {mark.letter, mark.at.x_mm - tile.origin.x_mm, tile.origin.y_mm - mark.at.y_mm});
        RC_ASSERT(mark.at.x_mm >= tile.window.left_mm && mark.at.x_mm <= tile.window.right_mm);
        RC_ASSERT(mark.at.y_mm >= tile.window.top_mm && mark.at.y_mm <= tile.window.bottom_mm);
      }
    }
    for (const Place& place : places) {
      const auto same = std::count_if(places.begin(), places.end(), [&](const Place& other) {
        return other.letter == place.letter && std::abs(other.x_mm - place.x_mm) < kSlackMm &&
               std::abs(other.y_mm - place.y_mm) < kSlackMm;
      });
      RC_ASSERT(same == 2);
      ++joined;
    }
  });
  EXPECT_EQ(wrong, "");
  EXPECT_GT(joined, kRandomCases);
}

}  // namespace
}  // namespace potshadow
