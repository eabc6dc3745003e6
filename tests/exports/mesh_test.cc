// SPDX-License-Identifier: MIT
#include "exports/mesh.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <numbers>
#include <sstream>
#include <string>
#include <utility>

#include "exports/mesh_files.h"
#include "exports/solids.h"
#include "patterns/pots.h"

namespace potshadow {
namespace {

using test::beaker;
using test::necked_jar;
using testing::HasSubstr;

constexpr double kPi = std::numbers::pi;
constexpr double kVolumePart = 1e-3;  // what is promised of a volume

// Every directed edge once, and its opposite once.
void expect_watertight(const Mesh& mesh) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
  for (const auto& facet : mesh.facets) {
    for (std::size_t i = 0; i < 3; ++i) ++edges[{facet.at(i), facet.at((i + 1) % 3)}];
  }
  EXPECT_FALSE(edges.empty());
  int wrong = 0;
  for (const auto& [edge, count] : edges) {
    const auto opposite = edges.find({edge.second, edge.first});
    if (count != 1 || opposite == edges.end()) ++wrong;
  }
  EXPECT_EQ(wrong, 0);
}

double frustum(double a, double b, double h) { return kPi * h * (a * a + a * b + b * b) / 3.0; }

TEST(Mesh, BallHasItsVolumeAndKeepsWithinTheTolerance) {
  for (const double tolerance : {0.5, 0.05}) {
    std::vector<ProfilePoint> half;
    constexpr int kSteps = 800;
    for (int i = 0; i <= kSteps; ++i) {
      const double angle = kPi * i / kSteps - kPi / 2.0;
      half.push_back({100.0 * std::cos(angle), 100.0 * std::sin(angle)});
    }
    const Result<Mesh> mesh = turned_solid(half, tolerance);
    ASSERT_TRUE(mesh.ok());
    const double ball = 4.0 / 3.0 * kPi * 1e6;
    // The half circle's own pieces take a few millionths away.
    EXPECT_NEAR(volume_mm3(*mesh) / ball, 1.0, 1e-5);
    double farthest = 0.0;
    for (const VesselPoint& p : mesh->points) {
      farthest = std::max(farthest, std::abs(std::hypot(p.x_mm, p.y_mm, p.z_mm) - 100.0));
    }
    for (const auto& facet : mesh->facets) {
      const auto mean = [&](auto of) {
        return (of(mesh->points[facet[0]]) + of(mesh->points[facet[1]]) +
                of(mesh->points[facet[2]])) /
               3.0;
      };
      const double x = mean([](const auto& p) { return p.x_mm; });
      const double y = mean([](const auto& p) { return p.y_mm; });
      const double z = mean([](const auto& p) { return p.z_mm; });
      farthest = std::max(farthest, std::abs(std::hypot(x, y, z) - 100.0));
    }
    EXPECT_LE(farthest, tolerance);
    EXPECT_GT(farthest, 0.05 * tolerance);  // no finer than it need be
    expect_watertight(*mesh);
  }
}

TEST(Solids, VolumesAreThoseOfStraightWalls) {
  const PatternVessel vessel = beaker();
  PatternChoices choices;
  choices.cradle_mm = 40.0;
  const double outside = frustum(50.0, 80.0, 120.0);
  // The wall, cut square to itself at the lip: the outer frustum less the inner, from the floor's
  // upper side to the lip's inner edge, more the ring that the lip stands above the rim.
  const double length = std::hypot(30.0, 120.0);
  const double dx = 6.0 * 120.0 / length;
  const double dy = 6.0 * 30.0 / length;
  const double at_floor = 50.0 - dx + (6.0 - dy) * 0.25;
  const double room = frustum(at_floor, 80.0 - dx, 120.0 + dy - 6.0);
  // Between the rim's height and the lip's inner edge: the solid under the lip's slope.
  const double under_lip = frustum(80.0, 80.0 - dx, dy);
  struct Case {
    SolidKind kind;
    double volume;
  };
  const double mouth = 50.0 + 40.0 * 0.25;
  const double block = kPi * (mouth + 25.0) * (mouth + 25.0) * 60.0;
  for (const Case& test : {Case{SolidKind::kOutside, outside},
                           {SolidKind::kVessel, outside + under_lip - room},
                           {SolidKind::kCradle, block - frustum(50.0, mouth, 40.0)}}) {
    const Result<Mesh> mesh = solid_of(test.kind, vessel, choices, {});
    ASSERT_TRUE(mesh.ok()) << mesh.problem().what;
    EXPECT_NEAR(volume_mm3(*mesh) / test.volume, 1.0, kVolumePart);
    expect_watertight(*mesh);
  }
}

TEST(Solids, PlatesHaveTheAreaOfTheirPiece) {
  for (const SolidKind kind : {SolidKind::kRib, SolidKind::kProfile}) {
    for (const PatternVessel& vessel : {beaker(12.0), necked_jar(12.0)}) {
      const PatternKind pattern =
          kind == SolidKind::kRib ? PatternKind::kRib : PatternKind::kProfile;
      const Result<std::vector<Pattern>> pieces = patterns_of(pattern, vessel, {});
      ASSERT_TRUE(pieces.ok());
      double area = 0.0;
      for (const PatternPath& path : pieces->front().paths) {
        if (path.line != PatternLine::kCut) continue;
        double twice = 0.0;
        for (std::size_t i = 0; i < path.points.size(); ++i) {
          const PatternPoint& a = path.points[i];
          const PatternPoint& b = path.points[(i + 1) % path.points.size()];
          twice += a.x_mm * b.y_mm - b.x_mm * a.y_mm;
        }
        area += (area == 0.0 ? 1.0 : -1.0) * std::abs(twice) / 2.0;  // then the hole
      }
      SolidChoices choices;
      choices.plate_mm = 4.0;
      const Result<Mesh> mesh = solid_of(kind, vessel, {}, choices);
      ASSERT_TRUE(mesh.ok()) << mesh.problem().what;
      EXPECT_NEAR(volume_mm3(*mesh) / (4.0 * area), 1.0, 1e-4);
      expect_watertight(*mesh);
    }
  }
}

TEST(Solids, CrossedOutlinesAndAbsurdWishesAreRefused) {
  EXPECT_FALSE(plate({{0, 0}, {10, 10}, {10, 0}, {0, 10}}, {}, 1.0).ok());
  SolidChoices choices;
  choices.tolerance_mm = 0.0;
  EXPECT_THAT(solid_of(SolidKind::kVessel, necked_jar(), {}, choices).problem().what,
              HasSubstr("cannot keep within"));
  choices = {};
  choices.plate_mm = -1.0;
  EXPECT_FALSE(solid_of(SolidKind::kRib, necked_jar(), {}, choices).ok());
  std::vector<ProfilePoint> fine;
  for (int i = 0; i < 100000; ++i) fine.push_back({1000.0 + i % 2, 0.01 * i});
  fine.push_back({0.0, 1000.0});
  EXPECT_THAT(turned_solid(fine, 0.001).problem().what, HasSubstr("million facets"));
}

// Read by an independent program.
class StlFiles : public ::testing::Test {
 protected:
  void SetUp() override {
    ASSERT_EQ(std::system("command -v admesh > /dev/null 2>&1"), 0)
        << "admesh is missing: install the package of that name";
    folder_ =
        std::filesystem::path(testing::TempDir()) / ("potshadow-stl-" + std::to_string(getpid()));
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }

  std::string told(const std::string& stl) {
    const std::string file = (folder_ / "a.stl").string();
    const std::string out = (folder_ / "out.txt").string();
    std::ofstream(file, std::ios::binary) << stl;
    EXPECT_EQ(std::system(("admesh '" + file + "' > '" + out + "' 2>&1").c_str()), 0);
    std::stringstream text;
    text << std::ifstream(out).rdbuf();
    return text.str();
  }

  // The number after "words :", the last one on its line where there are several.
  static double number_after(const std::string& text, const std::string& words) {
    const std::size_t at = text.find(words);
    EXPECT_NE(at, std::string::npos) << words << "\n" << text;
    if (at == std::string::npos) return -1.0;
    const std::size_t colon = text.find(':', at);
    return std::strtod(text.c_str() + colon + 1, nullptr);
  }

  std::filesystem::path folder_;
};

TEST_F(StlFiles, NeedNoRepairAndHaveTheirVolume) {
  int looked = 0;
  for (const SolidKind kind : {SolidKind::kVessel, SolidKind::kOutside, SolidKind::kCradle,
                               SolidKind::kRib, SolidKind::kProfile}) {
    for (const PatternVessel& vessel : {beaker(12.0), necked_jar(12.0)}) {
      const Result<Mesh> mesh = solid_of(kind, vessel, {}, {});
      ASSERT_TRUE(mesh.ok());
      const std::string text = told(stl_of(*mesh, "Größe ± 1"));
      for (const char* repair :
           {"Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges",
            "Normals fixed", "Degenerate facets", "Total disconnected facets"}) {
        EXPECT_EQ(number_after(text, repair), 0.0) << repair << "\n" << text;
      }
      EXPECT_EQ(number_after(text, "Number of parts"), 1.0);
      EXPECT_NEAR(number_after(text, "Volume") / volume_mm3(*mesh), 1.0, kVolumePart);
      ++looked;
    }
  }
  EXPECT_EQ(looked, 10);
}

TEST(ObjFiles, HoldTheSameMesh) {
  const Result<Mesh> mesh = solid_of(SolidKind::kVessel, beaker(), {}, {});
  ASSERT_TRUE(mesh.ok());
  std::istringstream lines(obj_of(*mesh, "Test\npot"));
  Mesh read;
  std::string word;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream fields(line);
    fields >> word;
    if (word == "v") {
      VesselPoint p;
      fields >> p.x_mm >> p.y_mm >> p.z_mm;
      read.points.push_back(p);
    } else if (word == "f") {
      std::array<std::uint32_t, 3> facet{};
      for (std::uint32_t& index : facet) {
        fields >> index;
        --index;
      }
      read.facets.push_back(facet);
    } else {
      EXPECT_TRUE(word == "#" || word == "o") << line;
    }
  }
  EXPECT_EQ(read.facets, mesh->facets);
  EXPECT_NEAR(volume_mm3(read) / volume_mm3(*mesh), 1.0, 1e-6);
}

}  // namespace
}  // namespace potshadow
