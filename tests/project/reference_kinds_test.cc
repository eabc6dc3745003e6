// SPDX-License-Identifier: MIT
// Every kind of reference, and what several photographs and hidden parts add, in the project file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "project/project.h"

namespace potshadow {
namespace {

namespace gen = rc::gen;
using testing::HasSubstr;
using Json = nlohmann::json;

std::string in_project(const std::string& reference_keys) {
  return R"({"potshadow": 1, "photos": [{"file": "a.jpg", "references": [{)" + reference_keys +
         "}]}]}";
}

ProjectReference read_one(const std::string& reference_keys) {
  const Result<Project> project = parse_project(in_project(reference_keys), "jar.potshadow");
  EXPECT_TRUE(project.ok()) << project.problem().what;
  return project.ok() ? project->photos.at(0).references.at(0) : ProjectReference();
}

Json written(const ProjectReference& reference) {
  Project project;
  project.photos.resize(1);
  project.photos[0].references = {reference};
  return Json::parse(project_text(project))["photos"][0]["references"][0];
}

// Each kind with every key it has, and one key of a later version.
const std::string kLength = R"("kind": "length", "length_mm": 100, "size_sd_mm": 0.2,
    "object": "photo-scale", "place": "on-glass", "behind_glass": false, "riser_mm": 20,
    "riser_sd_mm": 1.0, "shelf_at_glass_px": [[10, 1400.5], [1800, 1410]],
    "ends_px": [[300, 1300], [640.25, 1310]], "engraved": "10 cm")";
const std::string kGrid = R"("kind": "grid", "pitch_mm": 150, "size_sd_mm": 0.5, "columns": 3,
    "rows": 2.0, "place": "lying", "corners_px": [[1, 2], [3, 4], [5, 6], [7, 8.5]],
    "crossings_px": [[9, 10.25, 4, -1], [11, 12, 0, 1]], "colour": "red")";
const std::string kNeighbour = R"("kind": "neighbour", "max_diameter_mm": 180, "sd_mm": 3,
    "riser_mm": -12, "riser_sd_mm": 1, "base": "round", "catalogue": "L. 17",
    "marks": {"rim_px": [[1, 2]], "base_px": [[3, 4]], "left_px": [[5, 6]], "right_px": [[7, 8]],
              "traced_by": "hand"})";
const std::string kBeside = R"("kind": "rectangle", "width_mm": 210, "height_mm": 297,
    "place": "beside", "depth_offset_mm": -30, "depth_offset_sd_mm": 15,
    "corners_px": [[1, 2], [3, 4]])";

TEST(ReferenceKinds, AreReadWithAllTheirKeys) {
  const ProjectReference length = read_one(kLength);
  EXPECT_EQ(length.kind, "length");
  EXPECT_EQ(length.length_mm, 100.0);
  EXPECT_EQ(length.size_sd_mm, 0.2);
  EXPECT_EQ(length.object, "photo-scale");
  EXPECT_EQ(length.place, "on-glass");
  EXPECT_FALSE(length.behind_glass);
  EXPECT_EQ(length.riser_mm, 20.0);
  EXPECT_EQ(length.riser_sd_mm, 1.0);
  ASSERT_TRUE(length.shelf_at_glass.has_value());
  EXPECT_EQ(length.shelf_at_glass->front(), (PhotoPoint{10.0, 1400.5}));
  EXPECT_EQ(length.shelf_at_glass->back(), (PhotoPoint{1800.0, 1410.0}));
  EXPECT_EQ(length.ends, (std::vector<PhotoPoint>{{300.0, 1300.0}, {640.25, 1310.0}}));

  const ProjectReference grid = read_one(kGrid);
  EXPECT_EQ(grid.pitch_mm, 150.0);
  EXPECT_EQ(grid.size_sd_mm, 0.5);
  EXPECT_EQ(grid.columns, 3);
  EXPECT_EQ(grid.rows, 2);
  ASSERT_EQ(grid.corners.size(), 4U);
  EXPECT_EQ(grid.corners[3], (PhotoPoint{7.0, 8.5}));
  EXPECT_EQ(grid.crossings,
            (std::vector<ProjectReference::Crossing>{{{9.0, 10.25}, 4, -1}, {{11.0, 12.0}, 0, 1}}));

  const ProjectReference neighbour = read_one(kNeighbour);
  EXPECT_EQ(neighbour.size, "max_diameter");
  EXPECT_EQ(neighbour.value_mm, 180.0);
  EXPECT_EQ(neighbour.sd_mm, 3.0);
  EXPECT_EQ(neighbour.riser_mm, -12.0);
  EXPECT_EQ(neighbour.riser_sd_mm, 1.0);
  EXPECT_TRUE(neighbour.round_base);
  EXPECT_EQ(neighbour.marks.rim, (std::vector<PhotoPoint>{{1.0, 2.0}}));
  EXPECT_EQ(neighbour.marks.base, (std::vector<PhotoPoint>{{3.0, 4.0}}));
  EXPECT_EQ(neighbour.marks.left, (std::vector<PhotoPoint>{{5.0, 6.0}}));
  EXPECT_EQ(neighbour.marks.right, (std::vector<PhotoPoint>{{7.0, 8.0}}));

  const ProjectReference beside = read_one(kBeside);
  EXPECT_EQ(beside.depth_offset_mm, -30.0);
  EXPECT_EQ(beside.depth_offset_sd_mm, 15.0);
  EXPECT_FALSE(beside.shelf_at_glass.has_value());
}

TEST(ReferenceKinds, SavingKeepsEveryKeyAndSpelling) {
  std::size_t ran = 0;
  for (const std::string& keys : {kLength, kGrid, kNeighbour, kBeside}) {
    const Json saved = written(read_one(keys));
    EXPECT_EQ(saved, Json::parse("{" + keys + "}"));
    // Whole numbers stay whole: 2.0 and 2 are equal as JSON values, not as text.
    EXPECT_EQ(saved.dump(), Json::parse("{" + keys + "}").dump());
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
}

TEST(ReferenceKinds, MissingKeysStandForTheirDefaults) {
  const ProjectReference grid = read_one(R"("kind": "grid", "place": "lying")");
  EXPECT_EQ(grid.columns, 1);
  EXPECT_EQ(grid.rows, 1);
  EXPECT_FALSE(grid.pitch_mm.has_value());
  EXPECT_EQ(grid.depth_offset_sd_mm, kDefaultDepthSdMm);
  EXPECT_EQ(written(grid), Json::parse(R"({"kind": "grid", "place": "lying"})"));
  const ProjectReference neighbour = read_one(R"("kind": "neighbour")");
  EXPECT_EQ(neighbour.size, "");
  EXPECT_FALSE(neighbour.value_mm.has_value());
  EXPECT_FALSE(neighbour.round_base);
  EXPECT_EQ(written(neighbour), Json::parse(R"({"kind": "neighbour"})"));
}

TEST(ReferenceKinds, ANeighboursSizeIsWrittenUnderItsOwnKey) {
  ProjectReference neighbour;
  neighbour.kind = "neighbour";
  neighbour.size = "height";
  neighbour.value_mm = 210.0;
  Json json = written(neighbour);
  EXPECT_EQ(json["height_mm"], 210.0);
  EXPECT_FALSE(json.contains("max_diameter_mm"));
  EXPECT_FALSE(json.contains("value_mm"));
  EXPECT_FALSE(json.contains("place"));
  EXPECT_FALSE(json["marks"].contains("sd_px"));
  // Another size in place of the one that was read.
  neighbour = read_one(kNeighbour);
  neighbour.size = "rim_diameter";
  neighbour.value_mm = 150.0;
  json = written(neighbour);
  EXPECT_EQ(json["rim_diameter_mm"], 150.0);
  EXPECT_FALSE(json.contains("max_diameter_mm"));
  EXPECT_EQ(json["catalogue"], "L. 17");
  // Chosen, but not known yet.
  neighbour.value_mm.reset();
  json = written(neighbour);
  EXPECT_TRUE(json.at("rim_diameter_mm").is_null());
  neighbour = read_one(R"("kind": "neighbour", "rim_diameter_mm": null)");
  EXPECT_EQ(neighbour.size, "rim_diameter");
  EXPECT_FALSE(neighbour.value_mm.has_value());
  neighbour.size = "height";
  EXPECT_EQ(written(neighbour), Json::parse(R"({"kind": "neighbour", "height_mm": null})"));
}

TEST(ReferenceKinds, WhatCannotBeNamesThePlace) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {R"("kind": "length", "length_mm": "a cubit")",
       "'length_mm' should be a number, but it is text."},
      {R"("kind": "length", "length_mm": 0)", "'length_mm' is 0.0"},
      {R"("kind": "length", "ends_px": [[1, 2], [3, 4], [5, 6]])",
       "'ends_px' holds 3 entries, and at most 2 are read."},
      {R"("kind": "length", "shelf_at_glass_px": [[1, 2]])",
       "'shelf_at_glass_px' should hold two points."},
      {R"("kind": "length", "shelf_at_glass_px": [[1, 2], [3, 1e9]])",
       "point 2 of 'shelf_at_glass_px' lies far outside any photograph."},
      {R"("kind": "length", "ends_px": [[1e9, 2]])",
       "point 1 of 'ends_px' lies far outside any photograph."},
      {R"("kind": "disc", "depth_offset_mm": true)",
       "'depth_offset_mm' should be a number, but it is true or false."},
      {R"("kind": "disc", "depth_offset_sd_mm": -1)", "'depth_offset_sd_mm' is -1.0"},
      {R"("kind": "grid", "pitch_mm": -3)", "'pitch_mm' is -3.0"},
      {R"("kind": "grid", "columns": 0)", "'columns' should be between 1 and 10000."},
      {R"("kind": "grid", "rows": 1.5)", "'rows' should be a whole number."},
      {R"("kind": "grid", "crossings_px": [[1, 2, 3, 4], [1, 2, 3]])",
       "point 2 of 'crossings_px' should be [x, y, column, row], the last two whole numbers up to "
       "10000."},
      {R"("kind": "grid", "crossings_px": [[1, 2, 0.5, 4]])",
       "point 1 of 'crossings_px' should be [x, y, column, row]"},
      {R"("kind": "grid", "crossings_px": [[1, 2, 3, 1e6]])",
       "point 1 of 'crossings_px' should be [x, y, column, row]"},
      {R"("kind": "grid", "crossings_px": [[1, 1e9, 3, 4]])",
       "point 1 of 'crossings_px' lies far outside any photograph."},
      {R"("kind": "neighbour", "height_mm": "tall")",
       "'height_mm' should be a number, but it is text."},
      {R"("kind": "neighbour", "height_mm": 210, "rim_diameter_mm": 120)",
       "both 'height_mm' and 'rim_diameter_mm' are given."},
      {R"("kind": "neighbour", "rim_diameter_mm": -120)", "'rim_diameter_mm' is -120.0"},
      {R"("kind": "neighbour", "sd_mm": -1)", "'sd_mm' is -1.0"},
      {R"("kind": "neighbour", "base": "pointed")", "'base' should be \"flat\" or \"round\"."}};
  std::size_t ran = 0;
  for (const auto& [keys, message] : cases) {
    const Result<Project> project = parse_project(in_project(keys), "jar.potshadow");
    ASSERT_FALSE(project.ok()) << keys;
    EXPECT_THAT(project.problem().what,
                HasSubstr("In photo 1, reference 1 of 'jar.potshadow', " + message));
    ++ran;
  }
  EXPECT_EQ(ran, 20U);
  // Marks of a neighbour are a place of their own.
  const Result<Project> marks = parse_project(
      in_project(R"("kind": "neighbour", "marks": {"left_px": [[1, 2], [3]]})"), "jar.potshadow");
  ASSERT_FALSE(marks.ok());
  EXPECT_EQ(marks.problem().what,
            "In photo 1, reference 1, 'marks' of 'jar.potshadow', point 2 of 'left_px' should be a "
            "pair of numbers [x, y].");
  const Result<Project> far = parse_project(
      in_project(R"("kind": "neighbour", "marks": {"left_px": [[1, 2e9]]})"), "jar.potshadow");
  ASSERT_FALSE(far.ok());
  EXPECT_THAT(far.problem().what, HasSubstr("In photo 1, reference 1, 'marks' of 'jar.potshadow'"));
}

TEST(HiddenParts, AndDirectionsComeBackTheSame) {
  const std::string text = R"({"potshadow": 1, "photos": [{"file": "a.jpg", "direction_deg": 60},
      {"file": "b.jpg", "direction_deg": -45.5}, {"file": "c.jpg"}],
      "hidden_foot": {"low_mm": 5, "high_mm": 20, "in": "a ring stand"},
      "hidden_rim": {"high_mm": 300.5}})";
  const Result<Project> loaded = parse_project(text, "jar.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  EXPECT_EQ(loaded->photos[0].direction_deg, 60.0);
  EXPECT_EQ(loaded->photos[1].direction_deg, -45.5);
  EXPECT_FALSE(loaded->photos[2].direction_deg.has_value());
  ASSERT_TRUE(loaded->hidden_foot.has_value());
  EXPECT_EQ(loaded->hidden_foot->low_mm, 5.0);
  EXPECT_EQ(loaded->hidden_foot->high_mm, 20.0);
  ASSERT_TRUE(loaded->hidden_rim.has_value());
  EXPECT_FALSE(loaded->hidden_rim->low_mm.has_value());
  EXPECT_EQ(loaded->hidden_rim->high_mm, 300.5);
  EXPECT_EQ(Json::parse(project_text(*loaded)).dump(), Json::parse(text).dump());

  Project changed = *loaded;
  changed.photos[0].direction_deg.reset();
  changed.hidden_rim.reset();
  changed.hidden_foot->high_mm.reset();
  Json expected = Json::parse(text);
  expected["photos"][0].erase("direction_deg");
  expected.erase("hidden_rim");
  expected["hidden_foot"].erase("high_mm");
  EXPECT_EQ(Json::parse(project_text(changed)), expected);
  // Hidden without bounds is hidden all the same.
  Project open;
  open.hidden_foot = ProjectHidden{};
  const Result<Project> back = parse_project(project_text(open), "jar.potshadow");
  ASSERT_TRUE(back.ok());
  EXPECT_TRUE(back->hidden_foot.has_value());
  EXPECT_FALSE(back->hidden_rim.has_value());
}

TEST(HiddenParts, AndDirectionsThatCannotBeNameThePlace) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {R"("photos": [{"direction_deg": 361}])",
       "In photo 1 of 'jar.potshadow', 'direction_deg' is 361.0"},
      {R"("photos": [{"direction_deg": "north"}])",
       "In photo 1 of 'jar.potshadow', 'direction_deg' should be a number, but it is text."},
      {R"("hidden_foot": 5)",
       "In 'jar.potshadow', 'hidden_foot' should be a group of keys in braces"},
      {R"("hidden_foot": {"low_mm": -1})", "In 'hidden_foot' of 'jar.potshadow', 'low_mm' is -1.0"},
      {R"("hidden_rim": {"high_mm": []})",
       "In 'hidden_rim' of 'jar.potshadow', 'high_mm' should be a number, but it is a list."}};
  std::size_t ran = 0;
  for (const auto& [keys, message] : cases) {
    const Result<Project> project =
        parse_project(R"({"potshadow": 1, )" + keys + "}", "jar.potshadow");
    ASSERT_FALSE(project.ok()) << keys;
    EXPECT_THAT(project.problem().what, HasSubstr(message));
    ++ran;
  }
  EXPECT_EQ(ran, 5U);
}

// A file as it was written when all kinds had come in.
TEST(ReferenceKinds, TheFirstFileWithAllOfThemKeepsLoading) {
  const std::filesystem::path file =
      POTSHADOW_SOURCE_DIR "/tests/project/data/version-1-all-kinds.potshadow";
  const Result<Project> loaded = load_project(file);
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  ASSERT_EQ(loaded->photos.size(), 2U);
  EXPECT_EQ(loaded->photos[1].direction_deg, -72.5);
  std::vector<std::string> kinds;
  for (const ProjectReference& reference : loaded->photos[0].references) {
    kinds.push_back(reference.kind);
  }
  EXPECT_THAT(kinds, testing::ElementsAre("rectangle", "disc", "length", "grid", "neighbour",
                                          "size", "distance"));
  EXPECT_EQ(loaded->photos[0].references[2].ends.size(), 2U);
  EXPECT_EQ(loaded->photos[0].references[4].value_mm, 180.0);
  EXPECT_EQ(loaded->hidden_rim->high_mm, 95.5);
  std::ifstream stream(file);
  EXPECT_EQ(Json::parse(project_text(*loaded)).dump(), Json::parse(stream).dump());
}

// --- Whatever is in it ------------------------------------------------------------------------

double number(int least, int most) { return *gen::inRange(least * 8, most * 8) / 8.0 + 0.1; }

std::optional<double> maybe(int least, int most) {
  if (*gen::arbitrary<bool>()) return std::nullopt;
  return number(least, most);
}

PhotoPoint point() { return {number(-50, 4000), number(-50, 3000)}; }

std::vector<PhotoPoint> points(int most) {
  std::vector<PhotoPoint> all(static_cast<std::size_t>(*gen::inRange(0, most + 1)));
  for (PhotoPoint& each : all) each = point();
  return all;
}

void set_whereabouts(ProjectReference& made) {
  made.place = *gen::element<std::string>("", "lying", "standing", "leaning", "on-glass", "beside");
  made.size_sd_mm = number(0, 2);
  made.behind_glass = *gen::arbitrary<bool>();
  made.riser_mm = number(-40, 40);
  made.riser_sd_mm = number(0, 4);
  made.glass_to_axis_mm = maybe(1, 400);
  made.glass_to_axis_sd_mm = number(0, 9);
  if (*gen::arbitrary<bool>()) made.shelf_at_glass = {point(), point()};
  made.depth_offset_mm = number(-40, 40);
  made.depth_offset_sd_mm = number(0, 30);
}

ProjectReference any_reference() {
  ProjectReference made;
  made.kind = *gen::element<std::string>("rectangle", "disc", "length", "grid", "neighbour", "size",
                                         "distance");
  if (made.kind == "size" || made.kind == "distance") {
    made.value_mm = maybe(1, 900);
    made.sd_mm = maybe(0, 20);
    if (made.kind == "size") made.size = *gen::element<std::string>("", "height", "neck_diameter");
    if (made.kind == "size") made.guess = *gen::arbitrary<bool>();
    return made;
  }
  if (made.kind == "neighbour") {
    made.size = *gen::element<std::string>("", "height", "max_diameter", "rim_diameter");
    if (!made.size.empty()) made.value_mm = maybe(1, 900);
    made.sd_mm = maybe(0, 20);
    made.riser_mm = number(-40, 40);
    made.riser_sd_mm = number(0, 4);
    made.round_base = *gen::arbitrary<bool>();
    made.marks.rim = points(3);
    made.marks.base = points(3);
    made.marks.left = points(3);
    made.marks.right = points(3);
    return made;
  }
  set_whereabouts(made);
  if (made.kind == "rectangle") {
    made.width_mm = maybe(10, 300);
    made.height_mm = maybe(10, 300);
    made.corners = points(4);
  } else if (made.kind == "disc") {
    made.diameter_mm = maybe(10, 100);
    made.edge = points(8);
  } else if (made.kind == "length") {
    made.length_mm = maybe(10, 300);
    made.ends = points(2);
  } else {
    made.pitch_mm = maybe(10, 300);
    made.columns = *gen::inRange(1, 9);
    made.rows = *gen::inRange(1, 9);
    made.corners = points(4);
    for (const PhotoPoint& at : points(5)) {
      made.crossings.push_back({at, *gen::inRange(-9, 10), *gen::inRange(-9, 10)});
    }
  }
  return made;
}

// Without what was kept of the file, so that only the meaning is compared.
Project plain(Project project) {
  project.kept = project.wall.kept = {};
  if (project.hidden_foot) project.hidden_foot->kept = {};
  for (ProjectPhoto& photo : project.photos) {
    photo.kept = photo.marks.kept = {};
    for (ProjectReference& reference : photo.references) {
      reference.kept = reference.marks.kept = {};
    }
  }
  return project;
}

// One reference of any kind turned into another keeps no more than that one has: what is saved is
// what is loaded, whatever was in the file before.
TEST(ReferenceKinds, WhateverTheyHoldComesBackTheSame) {
  constexpr int kCases = 400;
  rc::detail::TestParams params;
  params.seed = 4;
  params.maxSuccess = kCases;
  int ran = 0;
  const auto property = [&] {
    ++ran;
    Project project;
    project.photos.resize(1);
    project.photos[0].direction_deg = maybe(-180, 180);
    if (*gen::arbitrary<bool>()) project.hidden_foot = ProjectHidden{maybe(0, 9), maybe(9, 90), {}};
    project.photos[0].references = {any_reference(), any_reference()};
    const Result<Project> back = parse_project(project_text(project), "a");
    RC_ASSERT(back.ok());
    RC_ASSERT(plain(*back) == project);
    RC_ASSERT(project_text(*back) == project_text(project));
    // The first is given another's values over what was read.
    Project changed = *back;
    ProjectReference& first = changed.photos[0].references[0];
    ProjectReference other = any_reference();
    other.kept = first.kept;
    other.marks.kept = first.marks.kept;
    first = other;
    const Result<Project> again = parse_project(project_text(changed), "a");
    RC_ASSERT(again.ok());
    RC_ASSERT(plain(*again) == plain(changed));
  };
  const auto result = rc::detail::checkTestable(property, rc::detail::TestMetadata(), params);
  std::ostringstream text;
  rc::detail::printResultMessage(result, text);
  EXPECT_TRUE(result.is<rc::detail::SuccessResult>()) << text.str();
  EXPECT_GE(ran, kCases);
}

}  // namespace
}  // namespace potshadow
