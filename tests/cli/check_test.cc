// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "cli/run_program.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

// The jar of the samples, of a clay that the book knows by four bars: 12 % in all.
class CheckCommand : public testing::Test {
 protected:
  CheckCommand() {
    std::string project = content(POTSHADOW_SOURCE_DIR "/tests/cli/data/shelf-jar.potshadow");
    const std::string clay = R"("clay": {)";
    const std::size_t at = project.find(clay);
    put("stated.potshadow", project);
    const std::size_t end = project.find('}', at);
    project.replace(at, end + 1 - at, R"("clay": { "record": "buff-mix" })");
    put("jar.potshadow", project);
    put("grey.jpg", content(POTSHADOW_SOURCE_DIR "/tests/project/data/grey.jpg"));
    put("clays.json", R"({ "potshadow_clays": 1, "clays": [ { "record": "buff-mix", "firing_c": 950,
      "bars": [ { "wet_mm": 100, "dry_mm": 94, "fired_mm": 88.0, "firing_c": 950 },
                { "wet_mm": 100, "dry_mm": 94.1, "fired_mm": 88.3, "firing_c": 950 },
                { "wet_mm": 100, "dry_mm": 93.9, "fired_mm": 87.7, "firing_c": 950 },
                { "wet_mm": 100, "dry_mm": 94, "fired_mm": 88.0, "firing_c": 950 } ] } ] })");
    std::filesystem::create_directories(folder_.path() / "data/potshadow");
    std::filesystem::rename(folder_.path() / "clays.json",
                            folder_.path() / "data/potshadow/clays.json");
  }
  Ran run(const std::string& command, std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), command);
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + (folder_.path() / "data").string(),
                          "SOURCE_DATE_EPOCH=1764028800"};
    return run_program(folder_.path(), arguments, wishes);
  }
  Ran check(const std::vector<std::string>& arguments) const { return run("check", arguments); }
  std::string project() const { return content(folder_.path() / "jar.potshadow"); }
  void put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_.path() / name, std::ios::binary) << bytes;
  }

 private:
  TemporaryFolder folder_;
};

TEST_F(CheckCommand, OneTypedDiameterIsEnough) {
  const Ran right = check({"jar.potshadow", "--stage", "wet", "girth:max=851"});
  EXPECT_EQ(right.exit_code, 0) << right.err;
  EXPECT_THAT(right.out, HasSubstr("the pot on the bench, wet"));
  EXPECT_THAT(right.out, HasSubstr("right"));
  const Ran large = check({"jar.potshadow", "--stage", "wet", "girth:max=930"});
  EXPECT_THAT(large.out, HasSubstr("Correct first the maximum diameter: it is larger by"));
  const Ran inches =
      check({"jar.potshadow", "--stage", "wet", "girth:max=33 1/2", "--units", "in"});
  EXPECT_THAT(inches.out, HasSubstr("right"));
  EXPECT_THAT(check({"stated.potshadow", "--stage", "wet", "max=271", "--json", "-"}).out,
              StartsWith("{"));
  EXPECT_THAT(check({"jar.potshadow", "--stage", "wet", "max=271", "--csv", "-"}).out,
              StartsWith("project,stage,size"));
  EXPECT_THAT(check({"--help"}).out, HasSubstr("Usage: potshadow check"));
  // Nothing was asked to be kept.
  EXPECT_THAT(project(), Not(HasSubstr("bench")));
}

TEST_F(CheckCommand, ABenchPhotographIsMeasuredLikeAnyOther) {
  // The original's own photograph, as if its pot were the fired one.
  const Ran ran =
      check({"jar.potshadow", "--stage", "fired", "--photo", "stated.potshadow", "rim=162"});
  EXPECT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Height"));
  EXPECT_THAT(ran.out, HasSubstr("Rim diameter"));
  EXPECT_THAT(ran.out, Not(HasSubstr("larger")));
}

// From the wet pot to the fired one, and into the record of the clay.
TEST_F(CheckCommand, TheFiredPotTellsItsClay) {
  const Ran early = check({"jar.potshadow", "--stage", "fired", "girth:max=748", "--evidence"});
  EXPECT_EQ(early.exit_code, 1);
  EXPECT_THAT(early.err, HasSubstr("kept at an earlier stage"));
  EXPECT_THAT(project(), Not(HasSubstr("bench")));

  const Ran wet = check(
      {"jar.potshadow", "--stage", "wet", "height=266±1", "girth:max=851", "rim=184", "--keep"});
  EXPECT_EQ(wet.exit_code, 0) << wet.err;
  EXPECT_THAT(wet.out, HasSubstr("Kept these sizes in jar.potshadow."));
  EXPECT_THAT(project(), HasSubstr("\"date\": \"2025-11-25\""));

  const std::vector<std::string> fired{"jar.potshadow", "--stage",       "fired",
                                       "height=232±1",  "girth:max=742", "rim=160"};
  const Ran offered = check(fired);
  EXPECT_THAT(offered.out, HasSubstr("What this pot shrank by, wet to fired"));
  EXPECT_THAT(offered.out, HasSubstr("add --evidence"));
  EXPECT_THAT(run("clay", {"show", "buff-mix"}).out, Not(HasSubstr("Finished pots")));

  std::vector<std::string> laid = fired;
  laid.emplace_back("--evidence");
  const Ran told = check(laid);
  EXPECT_EQ(told.exit_code, 0) << told.err;
  EXPECT_THAT(told.out, HasSubstr("Without this pot the clay's record says"));
  EXPECT_THAT(told.out, HasSubstr("Laid what this pot shrank by into the record of 'buff-mix'."));
  const std::string clay = run("clay", {"show", "buff-mix"}).out;
  EXPECT_THAT(clay, HasSubstr("Finished pots"));
  EXPECT_THAT(clay, HasSubstr("4 bars and 1 pot"));
  EXPECT_THAT(clay, HasSubstr("Without the pots the total would be"));
  // A total, one of the heights and one of the diameters.
  EXPECT_EQ(run("clay", {"remove", "buff-mix", "--pot", "4"}).exit_code, 2);
  EXPECT_EQ(run("clay", {"remove", "buff-mix", "--pot", "1"}).exit_code, 0);
  EXPECT_THAT(run("clay", {"show", "buff-mix"}).out, Not(HasSubstr("4 bars and 1 pot")));
}

TEST_F(CheckCommand, SaysWhatIsWrong) {
  struct Row {
    std::vector<std::string> arguments;
    int exit_code;
    std::string says;
  };
  const std::vector<Row> kRows{
      {{"jar.potshadow", "max=271"}, 2, "at what stage"},
      {{"jar.potshadow", "--stage", "damp", "max=271"}, 2, "'damp' is not known"},
      {{"jar.potshadow", "--stage", "wet"}, 2, "Nothing was measured"},
      {{"jar.potshadow", "--stage", "wet", "belly=271"}, 2, "'belly' is no size"},
      {{"jar.potshadow", "--stage", "wet", "max=10.7"}, 2, "inches"},
      {{"jar.potshadow", "--stage", "wet", "max=851"}, 2, "girth"},
      {{"jar.potshadow", "--stage", "wet", "max=135"}, 2, "radius"},
      {{"jar.potshadow", "--stage", "wet", "height=171", "rim=267"}, 2, "exchanged"},
      {{"jar.potshadow", "--stage", "wet", "max=271", "--right", "80"}, 2, "80.0 %"},
      {{"jar.potshadow", "--stage", "wet", "max=271", "--photo", "none.potshadow"},
       2,
       "none.potshadow"},
      {{"jar.potshadow", "--stage", "wet", "max=271", "--json", "-", "--csv", "-"},
       2,
       "same place"},
      {{"jar.potshadow", "more.potshadow", "--stage", "wet", "max=271"}, 2, "not expected"},
      {{"--stage", "wet", "max=271"}, 2, "No project was named"}};
  std::size_t checked = 0;
  for (const Row& row : kRows) {
    const Ran ran = check(row.arguments);
    EXPECT_EQ(ran.exit_code, row.exit_code) << row.says << ": " << ran.err;
    EXPECT_THAT(ran.err, HasSubstr(row.says));
    ++checked;
  }
  EXPECT_EQ(checked, 13U);
  // Fired larger than wet: the two were likely exchanged.
  EXPECT_EQ(check({"jar.potshadow", "--stage", "wet", "girth:max=748", "--keep"}).exit_code, 0);
  const Ran grown = check({"jar.potshadow", "--stage", "fired", "girth:max=851"});
  EXPECT_EQ(grown.exit_code, 2);
  EXPECT_THAT(grown.err, HasSubstr("exchanged"));
}

}  // namespace
}  // namespace potshadow
