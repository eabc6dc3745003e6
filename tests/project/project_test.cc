// SPDX-License-Identifier: MIT
#include "project/project.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>

#include "core/files.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::EndsWith;
using testing::HasSubstr;
using Json = nlohmann::json;

const std::filesystem::path kData = POTSHADOW_SOURCE_DIR "/tests/project/data";

std::string content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

void put(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

std::string fixture() { return content(kData / "version-1.potshadow"); }

// Returns `text` with the first `old_part` replaced; the part must be there.
std::string with(std::string text, const std::string& old_part, const std::string& new_part) {
  const std::size_t at = text.find(old_part);
  EXPECT_NE(at, std::string::npos) << old_part;
  return at == std::string::npos ? text : text.replace(at, old_part.size(), new_part);
}

Problem problem_of(const std::string& text) {
  const Result<Project> project = parse_project(text, "jar.potshadow");
  EXPECT_FALSE(project.ok()) << text.substr(0, 200);
  return project.ok() ? Problem{} : project.problem();
}

// One sentence: ends in a full stop and has no other inside.
void expect_sentence(const std::string& text) {
  EXPECT_THAT(text, EndsWith("."));
  EXPECT_EQ(text.find(". "), std::string::npos) << text;
  EXPECT_EQ(text.find('\n'), std::string::npos) << text;
}

TEST(ProjectFile, VersionOneKeepsLoading) {
  const Result<Project> loaded = load_project(kData / "version-1.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  const Project& project = *loaded;
  EXPECT_EQ(project.name, "Shelf jar");
  EXPECT_EQ(project.notes, "Larkmoor Museum, case 3 – “upper shelf”");
  EXPECT_EQ(project.out_of_round_percent, 0.5);
  EXPECT_TRUE(project.round_base);
  EXPECT_EQ(project.wall.value_mm, 7.0);
  EXPECT_EQ(project.wall.sd_mm, 1.5);
  ASSERT_TRUE(project.clay.has_value());
  EXPECT_EQ(project.clay->record, "buff-mix");
  EXPECT_EQ(project.clay->name, "Buff mix");
  EXPECT_EQ(project.clay->shrinkage_percent, 12.5);
  EXPECT_EQ(project.clay->shrinkage_sd_percent, 0.3);
  EXPECT_EQ(project.clay->stage, "wet");

  ASSERT_EQ(project.photos.size(), 1U);
  const ProjectPhoto& photo = project.photos[0];
  EXPECT_EQ(photo.file, "grey.jpg");
  EXPECT_EQ(photo.record.width_px, 2016);
  EXPECT_EQ(photo.record.height_px, 1512);
  EXPECT_EQ(photo.record.bytes, 12281U);
  EXPECT_EQ(photo.record.sha256, std::string(64, '0'));
  EXPECT_EQ(photo.focal_35mm, 56.0);
  EXPECT_EQ(photo.focal_sd_percent, 1.5);
  EXPECT_TRUE(photo.cropped);
  ASSERT_TRUE(photo.glass.has_value());
  EXPECT_EQ(photo.glass->thickness_mm, 10.0);
  EXPECT_EQ(photo.glass->thickness_sd_mm, 0.5);
  EXPECT_EQ(photo.glass->index, 1.53);

  ASSERT_EQ(photo.references.size(), 2U);
  const ProjectReference& card = photo.references[0];
  EXPECT_EQ(card.kind, "rectangle");
  EXPECT_EQ(card.place, "on-glass");
  EXPECT_EQ(card.width_mm, 120.0);
  EXPECT_EQ(card.height_mm, 80.0);
  EXPECT_EQ(card.size_sd_mm, 0.4);
  EXPECT_FALSE(card.behind_glass);
  EXPECT_EQ(card.glass_to_axis_mm, 230.0);
  EXPECT_EQ(card.glass_to_axis_sd_mm, 4.0);
  EXPECT_EQ(card.riser_mm, 20.0);
  EXPECT_EQ(card.riser_sd_mm, 1.0);
  ASSERT_EQ(card.corners.size(), 4U);
  EXPECT_EQ(card.corners[1], (PhotoPoint{500.25, 905.0}));
  EXPECT_EQ(card.object, "");
  const ProjectReference& disc = photo.references[1];
  EXPECT_EQ(disc.kind, "disc");
  EXPECT_EQ(disc.diameter_mm, 23.25);
  EXPECT_EQ(disc.place, "lying");
  EXPECT_EQ(disc.size_sd_mm, 0.3);
  EXPECT_TRUE(disc.behind_glass);
  EXPECT_EQ(disc.edge, (std::vector<PhotoPoint>{{1.0, 2.0}}));
  EXPECT_EQ(photo.quarter_turns, 0);

  EXPECT_EQ(photo.marks.rim.size(), 2U);
  EXPECT_EQ(photo.marks.rim[1], (PhotoPoint{900.5, 290.25}));
  EXPECT_EQ(photo.marks.base.size(), 1U);
  EXPECT_EQ(photo.marks.left.size(), 1U);
  EXPECT_EQ(photo.marks.right[0], (PhotoPoint{1100.0, 700.0}));
  EXPECT_EQ(photo.marks.sd_px, 0.8);
}

TEST(ProjectFile, SavingLosesNothingAtAnyLevel) {
  const Result<Project> loaded = parse_project(fixture(), "jar.potshadow");
  ASSERT_TRUE(loaded.ok());
  const std::string saved = project_text(*loaded);
  EXPECT_EQ(Json::parse(saved), Json::parse(fixture()));
  EXPECT_THAT(saved, EndsWith("}\n"));
  // Again: nothing changes any more, not even a space.
  const Result<Project> again = parse_project(saved, "jar.potshadow");
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(*again, *loaded);
  EXPECT_EQ(project_text(*again), saved);
}

TEST(ProjectFile, KeysKeepTheirOrderAndWholeNumbersTheirSpelling) {
  const std::string text =
      "{\"zeta\": 1, \"photos\": [{\"marks\": {\"sd_px\": 1}, \"later\": 7, \"file\": \"a.jpg\"}], "
      "\"potshadow\": 1, \"alpha\": 2}";
  const Result<Project> loaded = parse_project(text, "jar.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  const std::string saved = project_text(*loaded);
  const auto zeta = saved.find("\"zeta\"");
  const auto photos = saved.find("\"photos\"");
  const auto alpha = saved.find("\"alpha\"");
  ASSERT_NE(alpha, std::string::npos);
  EXPECT_LT(zeta, photos);
  EXPECT_LT(photos, alpha);
  EXPECT_THAT(saved, HasSubstr("\"sd_px\": 1 }"));
  // What was never there and is as it would be anyway is not added.
  EXPECT_EQ(Json::parse(saved), Json::parse(text));
}

TEST(ProjectFile, ChangedValuesAreWrittenAndTheRestStays) {
  Result<Project> loaded = parse_project(fixture(), "jar.potshadow");
  ASSERT_TRUE(loaded.ok());
  Project project = std::move(loaded).value();
  project.name = "Low bowl";
  project.round_base = false;
  project.out_of_round_percent = 0.0;
  project.wall.value_mm = 9.0;
  project.clay->shrinkage_percent.reset();
  ProjectPhoto& photo = project.photos[0];
  photo.focal_35mm.reset();
  photo.glass.reset();
  photo.marks.base.clear();
  photo.marks.left.push_back({610.0, 720.0});
  photo.references.erase(photo.references.begin());

  Json expected = Json::parse(fixture());
  expected["name"] = "Low bowl";
  expected["base"] = "flat";
  expected["out_of_round_percent"] = 0.0;
  expected["wall_mm"]["value"] = 9.0;
  expected["clay"].erase("shrinkage_percent");
  Json& expected_photo = expected["photos"][0];
  expected_photo.erase("focal_35mm");
  expected_photo.erase("glass");
  expected_photo["marks"]["base_px"] = Json::array();
  expected_photo["marks"]["left_px"].push_back({610.0, 720.0});
  expected_photo["references"].erase(0);
  EXPECT_EQ(Json::parse(project_text(project)), expected);
}

TEST(ProjectFile, UnknownKeysFollowTheirPhotograph) {
  Result<Project> loaded = parse_project(fixture(), "jar.potshadow");
  ASSERT_TRUE(loaded.ok());
  Project project = std::move(loaded).value();
  ProjectPhoto first;
  first.file = "first.jpg";
  project.photos.insert(project.photos.begin(), first);
  const Json saved = Json::parse(project_text(project));
  ASSERT_EQ(saved["photos"].size(), 2U);
  EXPECT_EQ(saved["photos"][0]["file"], "first.jpg");
  EXPECT_FALSE(saved["photos"][0].contains("brightness"));
  EXPECT_EQ(saved["photos"][1], Json::parse(fixture())["photos"][0]);
}

TEST(ProjectFile, NewProjectComesBackTheSame) {
  Project project;
  project.name = "Low bowl";
  project.photos.resize(1);
  project.photos[0].file = "bowl.jpg";
  project.photos[0].references.resize(1);
  project.photos[0].references[0].kind = "rectangle";
  project.photos[0].references[0].width_mm = 85.6;
  project.photos[0].marks.rim = {{1.0 / 3.0, 2e-9}, {1234.5678901234567, 0.1}};
  project.clay = ProjectClay{};
  project.clay->shrinkage_percent = 11.1;
  const Result<Project> back = parse_project(project_text(project), "jar.potshadow");
  ASSERT_TRUE(back.ok()) << back.problem().what;
  EXPECT_EQ(back->name, project.name);
  EXPECT_EQ(back->photos[0].marks.rim, project.photos[0].marks.rim);  // to the last bit
  EXPECT_EQ(back->photos[0].references[0].width_mm, 85.6);
  EXPECT_EQ(back->clay->shrinkage_percent, 11.1);
  EXPECT_EQ(project_text(*back), project_text(project));
}

TEST(ProjectFile, NewDiscAndTurnedPhotographComeBackTheSame) {
  Project project;
  project.photos.resize(1);
  ProjectPhoto& photo = project.photos[0];
  photo.file = "bowl.jpg";
  photo.quarter_turns = 3;
  photo.references.resize(2);
  ProjectReference& coin = photo.references[0];
  coin.kind = "disc";
  coin.place = "standing";
  coin.object = "eur-1";
  coin.diameter_mm = 23.25;
  coin.size_sd_mm = 0.05;
  coin.behind_glass = false;
  coin.riser_mm = -12.0;
  coin.riser_sd_mm = 0.5;
  coin.glass_to_axis_mm = 200.0;
  coin.glass_to_axis_sd_mm = 2.0;
  coin.edge = {{1.0 / 3.0, 2.0}, {3.0, 4.5}};
  ProjectReference& card = photo.references[1];
  card.kind = "rectangle";
  card.object = "iso-id1-card";
  card.width_mm = 85.6;
  const std::string text = project_text(project);
  EXPECT_EQ(Json::parse(text)["photos"][0]["quarter_turns"], 3);
  EXPECT_FALSE(Json::parse(text)["photos"][0]["references"][0].contains("corners_px"));
  const Result<Project> loaded = parse_project(text, "jar.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  Project back = *loaded;
  ASSERT_EQ(back.photos.at(0).references.size(), 2U);
  for (ProjectReference& reference : back.photos[0].references) reference.kept = {};
  EXPECT_EQ(back.photos[0].references, photo.references);
  EXPECT_EQ(back.photos[0].quarter_turns, 3);
  EXPECT_EQ(project_text(*loaded), text);
}

TEST(ProjectFile, SizesOfTheVesselAndDistancesComeBackTheSame) {
  Project project;
  project.photos.resize(1);
  ProjectPhoto& photo = project.photos[0];
  photo.file = "bowl.jpg";
  photo.references.resize(2);
  ProjectReference& height = photo.references[0];
  height.kind = "size";
  height.size = "height";
  height.value_mm = 260.0;
  height.sd_mm = 1.0 / 3.0;
  height.guess = true;
  ProjectReference& tape = photo.references[1];
  tape.kind = "distance";
  tape.value_mm = 900.0;
  const std::string text = project_text(project);
  EXPECT_EQ(Json::parse(text)["photos"][0]["references"],
            Json::parse(R"([{"kind": "size", "size": "height", "value_mm": 260.0,
                             "sd_mm": 0.3333333333333333, "guess": true},
                            {"kind": "distance", "value_mm": 900.0}])"));
  const Result<Project> loaded = parse_project(text, "jar.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  Project back = *loaded;
  ASSERT_EQ(back.photos.at(0).references.size(), 2U);
  for (ProjectReference& reference : back.photos[0].references) reference.kept = {};
  EXPECT_EQ(back.photos[0].references, photo.references);
  EXPECT_EQ(project_text(*loaded), text);
}

TEST(ProjectFile, AReferenceOfAKnownSizeKeepsWhatItDoesNotUse) {
  const std::string text = R"({"potshadow": 1, "photos": [{"file": "a.jpg", "references": [
      {"source": "catalogue 12", "kind": "size", "size": "height", "value_mm": 260,
       "place": "lying", "width_mm": "wide"}]}]})";
  const Result<Project> loaded = parse_project(text, "jar.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  EXPECT_EQ(Json::parse(project_text(*loaded)), Json::parse(text));
  EXPECT_FALSE(loaded->photos[0].references[0].guess);
}

TEST(ProjectFile, WrongSizesOfTheVesselNameThePlace) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {R"("kind": "size", "size": 3)", "'size' should be text, but it is a number."},
      {R"("kind": "size", "value_mm": "tall")", "'value_mm' should be a number, but it is text."},
      {R"("kind": "size", "guess": 1)", "'guess' should be true or false, but it is a number."},
      {R"("kind": "size", "value_mm": -4)", "'value_mm' is -4.0"},
      {R"("kind": "distance", "value_mm": 900, "sd_mm": -1)", "'sd_mm' is -1.0"}};
  std::size_t ran = 0;
  for (const auto& [keys, message] : cases) {
    const Result<Project> project = parse_project(
        R"({"potshadow": 1, "photos": [{"file": "a.jpg", "references": [{)" + keys + "}]}]}",
        "jar.potshadow");
    ASSERT_FALSE(project.ok()) << keys;
    EXPECT_THAT(project.problem().what,
                HasSubstr("In photo 1, reference 1 of 'jar.potshadow', " + message));
    ++ran;
  }
  EXPECT_EQ(ran, 5U);
}

// What an earlier version wrote says nothing of turns and common objects, and keeps silent.
TEST(ProjectFile, KeysThatCameLaterAreNotAddedToOldFiles) {
  const std::string old = content(POTSHADOW_SOURCE_DIR "/samples/shelf-jar.potshadow");
  const Result<Project> loaded = parse_project(old, "jar.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  EXPECT_EQ(Json::parse(project_text(*loaded)), Json::parse(old));
  const std::string once = project_text(*loaded);
  EXPECT_THAT(once, testing::Not(HasSubstr("quarter_turns")));
  EXPECT_THAT(once, testing::Not(HasSubstr("\"object\"")));
  Result<Project> again = parse_project(once, "jar.potshadow");
  ASSERT_TRUE(again.ok());
  Project turned = std::move(again).value();
  turned.photos.at(0).quarter_turns = 1;
  Json expected = Json::parse(old);
  expected["photos"][0]["quarter_turns"] = 1;
  EXPECT_EQ(Json::parse(project_text(turned)), expected);
}

TEST(ProjectFile, NullStandsForTheDefault) {
  const Result<Project> project = parse_project(
      R"({"potshadow": 1, "name": null, "clay": null, "wall_mm": null,
          "photos": [{"file": "a.jpg", "glass": null, "focal_35mm": null, "marks": null}]})",
      "jar.potshadow");
  ASSERT_TRUE(project.ok()) << project.problem().what;
  EXPECT_EQ(project->name, "");
  EXPECT_FALSE(project->clay.has_value());
  EXPECT_EQ(project->wall.value_mm, 6.0);
  EXPECT_FALSE(project->photos[0].glass.has_value());
  EXPECT_FALSE(project->photos[0].focal_35mm.has_value());
  // And gives way to a value.
  Project typed = *project;
  typed.photos[0].focal_35mm = 28.0;
  EXPECT_EQ(Json::parse(project_text(typed))["photos"][0]["focal_35mm"], 28.0);
}

TEST(ProjectFile, WrongTypesNameThePlace) {
  struct Case {
    std::string old_part;
    std::string new_part;
    std::string message;
  };
  const std::string in_card = "In photo 1, reference 1 of 'jar.potshadow', ";
  const std::string in_coin = "In photo 1, reference 2 of 'jar.potshadow', ";
  const std::string in_marks = "In photo 1, 'marks' of 'jar.potshadow', ";
  const std::string in_photo = "In photo 1 of 'jar.potshadow', ";
  const std::string in_file = "In 'jar.potshadow', ";
  const std::vector<Case> cases{
      {"\"width_mm\": 120.0", "\"width_mm\": \"120\"",
       in_card + "'width_mm' should be a number, but it is text."},
      {"\"behind_glass\": false", "\"behind_glass\": 0",
       in_card + "'behind_glass' should be true or false, but it is a number."},
      {"\"kind\": \"rectangle\"", "\"kind\": [\"rectangle\"]",
       in_card + "'kind' should be text, but it is a list."},
      {"\"kind\": \"rectangle\",", "", in_card + "'kind' is missing."},
      {"[100.5, 900]", "[100.5]",
       in_card + "point 1 of 'corners_px' should be a pair of numbers [x, y]."},
      {"[102, 640]]", "[102, 640], [1, 1]]",
       in_card + "'corners_px' holds 5 entries, and at most 4 are read."},
      {"[900.5, 290.25]", "[900.5, true]",
       in_marks + "point 2 of 'rim_px' should be a pair of numbers [x, y]."},
      {"\"base_px\": [[720, 1200]]", "\"base_px\": 5",
       in_marks + "'base_px' should be a list of [x, y] pairs, but it is a number."},
      {"\"sd_px\": 0.8", "\"sd_px\": {}",
       in_marks + "'sd_px' should be a number, but it is a group of keys."},
      {"\"width_px\": 2016", "\"width_px\": 2016.5",
       in_photo + "'width_px' should be a whole number."},
      {"\"cropped\": true", "\"cropped\": true, \"quarter_turns\": 4",
       in_photo + "'quarter_turns' should be 0, 1, 2 or 3."},
      {"\"cropped\": true", "\"cropped\": true, \"quarter_turns\": -1",
       in_photo + "'quarter_turns' should be 0, 1, 2 or 3."},
      {"\"cropped\": true", "\"cropped\": true, \"quarter_turns\": 0.5",
       in_photo + "'quarter_turns' should be a whole number."},
      {"\"diameter_mm\": 23.25", "\"diameter_mm\": \"one euro\"",
       in_coin + "'diameter_mm' should be a number, but it is text."},
      {"\"diameter_mm\": 23.25", "\"diameter_mm\": 23.25, \"object\": 1",
       in_coin + "'object' should be text, but it is a number."},
      {"\"edge_px\": [[1.0, 2.0]]", "\"edge_px\": [[1.0, 2.0], 3]",
       in_coin + "point 2 of 'edge_px' should be a pair of numbers [x, y]."},
      {"\"bytes\": 12281", "\"bytes\": -1", in_photo + "'bytes' should not be negative."},
      {"\"index\": 1.53", "\"index\": \"float\"",
       "In photo 1, 'glass' of 'jar.potshadow', 'index' should be a number, but it is text."},
      {"\"name\": \"Shelf jar\"", "\"name\": 7",
       in_file + "'name' should be text, but it is a number."},
      {"\"base\": \"round\"", "\"base\": \"pointed\"",
       in_file + "'base' should be \"flat\" or \"round\"."},
      {"{ \"value\": 7.0, \"sd\": 1.5, \"from\": \"a sherd\" }", "7",
       in_file + "'wall_mm' should be a group of keys in braces, but it is a number."},
      {"{ \"kind\": \"disc\"", "3, { \"kind\": \"disc\"",
       "In photo 1 of 'jar.potshadow', reference 2 should be a group of keys in "
       "braces, but it is a number."},
  };
  std::size_t ran = 0;
  for (const Case& test : cases) {
    const Problem problem = problem_of(with(fixture(), test.old_part, test.new_part));
    EXPECT_EQ(problem.what, test.message);
    expect_sentence(problem.next);
    ++ran;
  }
  EXPECT_EQ(ran, 22U);
}

TEST(ProjectFile, NumbersThatCannotBeNameThePlace) {
  struct Case {
    std::string old_part;
    std::string new_part;
    std::string place;
  };
  const std::vector<Case> cases{
      {"\"width_mm\": 120.0", "\"width_mm\": -120.0", "In photo 1, reference 1 of "},
      {"\"width_mm\": 120.0", "\"width_mm\": 0", "In photo 1, reference 1 of "},
      {"\"height_mm\": 80.0", "\"height_mm\": 1e300", "In photo 1, reference 1 of "},
      {"\"size_sd_mm\": 0.4", "\"size_sd_mm\": -0.4", "In photo 1, reference 1 of "},
      {"\"glass_to_axis_mm\": 230.0", "\"glass_to_axis_mm\": -1", "In photo 1, reference 1 of "},
      {"\"diameter_mm\": 23.25", "\"diameter_mm\": 0", "In photo 1, reference 2 of "},
      {"[[1.0, 2.0]]", "[[1.0, 2e8]]", "In photo 1, reference 2 of "},
      {"[500.25, 905]", "[500.25, 9e99]", "In photo 1, reference 1 of "},
      {"\"focal_35mm\": 56.0", "\"focal_35mm\": 0", "In photo 1 of "},
      {"\"focal_sd_percent\": 1.5", "\"focal_sd_percent\": -1", "In photo 1 of "},
      {"\"thickness_mm\": 10", "\"thickness_mm\": -10", "In photo 1, 'glass' of "},
      {"\"index\": 1.53", "\"index\": 0.5", "In photo 1, 'glass' of "},
      {"\"sd_px\": 0.8", "\"sd_px\": 0", "In photo 1, 'marks' of "},
      {"[720, 1200]", "[720, -1e12]", "In photo 1, 'marks' of "},
      {"\"width_px\": 2016", "\"width_px\": 0", "In photo 1 of "},
      {"\"out_of_round_percent\": 0.5", "\"out_of_round_percent\": -0.5", "In 'jar.potshadow', "},
      {"\"value\": 7.0", "\"value\": -7.0", "In 'wall_mm' of "},
      {"\"shrinkage_percent\": 12.5", "\"shrinkage_percent\": 31", "In 'clay' of "},
      {"\"shrinkage_percent\": 12.5", "\"shrinkage_percent\": -1", "In 'clay' of "},
      {"\"shrinkage_sd_percent\": 0.3", "\"shrinkage_sd_percent\": 11", "In 'clay' of "},
  };
  std::size_t ran = 0;
  for (const Case& test : cases) {
    const Problem problem = problem_of(with(fixture(), test.old_part, test.new_part));
    EXPECT_THAT(problem.what, testing::StartsWith(test.place)) << test.new_part;
    const std::string key = test.new_part.substr(0, test.new_part.find(':'));
    if (key.front() == '"') {
      EXPECT_THAT(problem.what, HasSubstr("'" + key.substr(1, key.size() - 2) + "'"));
    }
    EXPECT_THAT(problem.what, EndsWith("."));
    expect_sentence(problem.next);
    ++ran;
  }
  EXPECT_EQ(ran, 20U);
}

TEST(ProjectFile, NotANumberAndInfinityAreRefusedWithLineAndColumn) {
  std::size_t ran = 0;
  for (const std::string bad : {"NaN", "Infinity", "-Infinity", "1e999", "-1e999", "0x10", ".5"}) {
    const std::string text = "{\"potshadow\": 1,\n \"out_of_round_percent\": " + bad + "}";
    const Problem problem = problem_of(text);
    EXPECT_EQ(problem.code, Code::kBadFormat) << bad;
    EXPECT_THAT(problem.what, HasSubstr("at line 2, column 2")) << bad;  // 25 to 31
    expect_sentence(problem.next);
    ++ran;
  }
  EXPECT_EQ(ran, 7U);
}

TEST(ProjectFile, BrokenJsonNamesLineAndColumn) {
  struct Case {
    std::string text;
    std::string place;
  };
  const std::vector<Case> cases{
      {"{\n  \"potshadow\": 1,\n  \"name\": \"a\",\n}", "line 4, column 1"},
      {"{\"potshadow\": 1 \"name\": 2}", "line 1, column 22"},  // where "name" ends
      {"{\"potshadow\": 1}x", "line 1, column 17"},
      {"[1, 2", "line 1, column 6"},
      {"{\"name\": \"ü\", !}", "line 1, column 15"},  // counted in characters
      {"\xFF\xFE", "line 1, column 1"},
      {"{\"name\": \"\xC3\x28\"}", "line 1, column 12"},  // where the second byte is missed
      {"{'potshadow': 1}", "line 1, column 2"},
      {"{\"potshadow\": 1 // one\n}", "line 1, column 17"},
      {"{\"a\": 1,\n \"a\": 2}", "line 2, column 4"},
      {"{\"b\": {\"a\": 1, \"a\": 2}}", "line 1, column 18"},
  };
  std::size_t ran = 0;
  for (const Case& test : cases) {
    const Problem problem = problem_of(test.text);
    EXPECT_EQ(problem.code, Code::kBadFormat) << test.text;
    EXPECT_THAT(problem.what, HasSubstr("'jar.potshadow'"));
    EXPECT_THAT(problem.what, EndsWith("at " + test.place + ".")) << test.text;
    expect_sentence(problem.next);
    ++ran;
  }
  EXPECT_EQ(ran, 11U);
}

TEST(ProjectFile, WhatIsNotAProjectIsSaidSo) {
  std::size_t ran = 0;
  for (const std::string text :
       {"[]", "3", "\"text\"", "{}", "{\"potshadow\": \"1\"}", "{\"potshadow\": 0}",
        "{\"potshadow\": -1}", "{\"potshadow\": 1.5}", "{\"potshadow\": null}", "null"}) {
    const Problem problem = problem_of(text);
    EXPECT_EQ(problem.code, Code::kBadFormat) << text;
    EXPECT_THAT(problem.what, HasSubstr("is not a Potshadow project")) << text;
    ++ran;
  }
  EXPECT_EQ(ran, 10U);
  EXPECT_THAT(problem_of("").what, HasSubstr("is empty"));
  EXPECT_THAT(problem_of(" \n").what, HasSubstr("is empty"));
}

TEST(ProjectFile, NewerVersionIsRefused) {
  const Problem problem = problem_of(with(fixture(), "\"potshadow\": 1", "\"potshadow\": 2"));
  EXPECT_EQ(problem.code, Code::kNewerVersion);
  EXPECT_THAT(problem.what, HasSubstr("newer"));
  EXPECT_EQ(problem_of("{\"potshadow\": 99999999999999999999}").code, Code::kBadFormat);
  EXPECT_EQ(problem_of("{\"potshadow\": 9999999999}").code, Code::kNewerVersion);
}

TEST(ProjectFile, DeepOrHugeTextIsRefusedAtOnce) {
  const std::string deep(1'000'000, '[');
  EXPECT_THAT(problem_of(deep).what, HasSubstr("nested too deeply"));
  std::string marks = "{\"potshadow\": 1, \"photos\": [{\"marks\": {\"rim_px\": [[1, 1]";
  constexpr int kTooMany = 20'001;
  for (int i = 1; i < kTooMany; ++i) marks += ", [1, 1]";
  const Problem problem = problem_of(marks + "]}}]}");
  EXPECT_EQ(problem.code, Code::kBadValue);
  EXPECT_THAT(problem.what, HasSubstr("'rim_px' holds 20001 entries, and at most 20000 are read"));
}

TEST(ProjectFile, TenThousandMarksOfOneKindAreKept) {
  Project project;
  project.photos.resize(1);
  std::vector<PhotoPoint>& left = project.photos.front().marks.left;
  constexpr int kMarks = 10'000;
  for (int i = 0; i < kMarks; ++i) left.push_back({100.0 + 0.25 * (i % 7), 0.125 * i});
  const Result<Project> read = parse_project(project_text(project), "jar.potshadow");
  ASSERT_TRUE(read.ok()) << read.problem().what;
  ASSERT_EQ(read->photos.size(), 1U);
  EXPECT_EQ(read->photos.front().marks.left, left);
}

TEST(ProjectFile, EveryCutLeavesAProblemAndNoCrash) {
  // A file cut short by a broken copy.
  const std::string whole = fixture();
  std::size_t ran = 0;
  const std::size_t last_brace = whole.rfind('}');
  for (std::size_t length = 0; length <= last_brace; length += 7) {
    const Problem problem = problem_of(whole.substr(0, length));
    EXPECT_EQ(problem.code, Code::kBadFormat) << length;
    ++ran;
  }
  EXPECT_EQ(ran, last_brace / 7 + 1);
  EXPECT_GT(ran, 200U);
}

TEST(ProjectFile, FilesThatCannotBeReadGiveProblems) {
  const TemporaryFolder folder;
  EXPECT_EQ(load_project(folder.path() / "none.potshadow").problem().code, Code::kFileMissing);
  EXPECT_EQ(load_project(folder.path()).problem().code, Code::kFileUnreadable);
  const std::filesystem::path large = folder.path() / "large.potshadow";
  put(large, "{}");
  std::filesystem::resize_file(large, kMostProjectBytes + 1);
  EXPECT_EQ(load_project(large).problem().code, Code::kFileTooLarge);
}

TEST(ProjectFile, LoadingNeverTouchesTheFile) {
  const TemporaryFolder folder;
  const std::filesystem::path file = folder.path() / "jar.potshadow";
  put(file, fixture());
  const auto time = std::filesystem::last_write_time(file);
  ASSERT_TRUE(load_project(file).ok());
  EXPECT_EQ(content(file), fixture());
  EXPECT_EQ(std::filesystem::last_write_time(file), time);
  EXPECT_EQ(folder.names(), std::vector<std::string>{"jar.potshadow"});
}

TEST(ProjectFile, SavingRecordsThePhotographOnce) {
  const TemporaryFolder folder;
  std::filesystem::copy_file(kData / "grey.jpg", folder.path() / "grey.jpg");
  const std::string photo_bytes = content(kData / "grey.jpg");
  Project project;
  project.photos.resize(2);
  project.photos[0].file = "grey.jpg";
  project.photos[1].file = "gone.jpg";
  const std::filesystem::path file = folder.path() / "jar.potshadow";
  ASSERT_TRUE(save_project(project, file).ok());
  const Result<Project> saved = load_project(file);
  ASSERT_TRUE(saved.ok()) << saved.problem().what;
  EXPECT_EQ(saved->photos[0].record.width_px, 2016);
  EXPECT_EQ(saved->photos[0].record.height_px, 1512);
  EXPECT_EQ(saved->photos[0].record.bytes, photo_bytes.size());
  EXPECT_EQ(saved->photos[0].record.sha256, sha256_hex(photo_bytes));
  EXPECT_EQ(saved->photos[1].record, PhotoRecord());
  // A record that is there is never renewed: it says what was marked.
  put(folder.path() / "grey.jpg", photo_bytes + "more");
  ASSERT_TRUE(save_project(*saved, file).ok());
  const Result<Project> again = load_project(file);
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(again->photos[0].record, saved->photos[0].record);
  EXPECT_EQ(content(folder.path() / "grey.jpg"), photo_bytes + "more");
}

TEST(ProjectFile, WhatCannotBeSavedLeavesTheOldFile) {
  const TemporaryFolder folder;
  const std::filesystem::path file = folder.path() / "jar.potshadow";
  put(file, fixture());
  Project project;
  project.wall.value_mm = std::numeric_limits<double>::quiet_NaN();
  const Result<Done> saved = save_project(project, file);
  ASSERT_FALSE(saved.ok());
  EXPECT_EQ(saved.problem().code, Code::kBadValue);
  EXPECT_THAT(saved.problem().what, HasSubstr("'value' is not a number"));
  EXPECT_EQ(content(file), fixture());
  project = Project();
  project.photos.resize(1);
  project.photos[0].quarter_turns = 4;
  EXPECT_EQ(save_project(project, file).problem().code, Code::kBadValue);
  EXPECT_EQ(content(file), fixture());
  EXPECT_EQ(save_project(Project(), folder.path() / "none" / "jar.potshadow").problem().code,
            Code::kFileUnwritable);
  EXPECT_EQ(folder.names(), std::vector<std::string>{"jar.potshadow"});
}

TEST(Project, KeepsTheChoicesOfThePlan) {
  const std::string text = R"({"potshadow": 1, "plan": {"wall_mm": 8.50, "glaze": "none"}})";
  const Result<Project> read = parse_project(text, "a.potshadow");
  ASSERT_TRUE(read.ok()) << read.problem().what;
  ASSERT_TRUE(read->plan);
  EXPECT_EQ(read->plan->wall_mm, 8.5);
  EXPECT_FALSE(read->plan->coil_mm);
  Project changed = *read;
  changed.plan->coil_mm = 14.0;
  const Result<Project> again = parse_project(project_text(changed), "a.potshadow");
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(again->plan->coil_mm, 14.0);
  EXPECT_NE(project_text(changed).find("glaze"), std::string::npos);
  changed.plan.reset();
  EXPECT_FALSE(parse_project(project_text(changed), "a.potshadow")->plan);
  changed.plan = ProjectPlan{.cradle_mm = -1.0};
  EXPECT_FALSE(check_project(changed, "a.potshadow").ok());
}

}  // namespace
}  // namespace potshadow
