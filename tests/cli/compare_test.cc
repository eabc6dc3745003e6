// SPDX-License-Identifier: MIT
#include "cli/compare_options.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <opencv2/imgcodecs.hpp>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "cli/run_program.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

class CompareCommand : public testing::Test {
 protected:
  CompareCommand() {
    const std::filesystem::path samples = POTSHADOW_SOURCE_DIR "/samples";
    for (const char* name : {"shelf-jar", "my-jar", "low-bowl"}) {
      for (const char* ending : {".potshadow", ".jpg"}) {
        std::filesystem::copy(samples / (std::string(name) + ending), folder_.path());
      }
    }
  }
  Ran run(std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), "compare");
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + (folder_.path() / "data").string()};
    return run_program(folder_.path(), arguments, wishes);
  }
  TemporaryFolder folder_;
};

TEST_F(CompareCommand, HoldsTwoSamplesAgainstEachOther) {
  // The jar is 235 mm high and the bowl 106, by the scenes' truth.
  const Ran ran = run({"shelf-jar.potshadow", "low-bowl.potshadow", "--csv", "gaps.csv"});
  EXPECT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, StartsWith("Low bowl against Shelf jar"));
  EXPECT_THAT(ran.out, HasSubstr("vessels of different kinds"));
  EXPECT_THAT(ran.out, HasSubstr("smaller"));
  EXPECT_TRUE(std::filesystem::exists(folder_.path() / "gaps.csv"));
  EXPECT_THAT(run({"shelf-jar.potshadow", "low-bowl.potshadow", "--json", "-"}).out,
              StartsWith("{"));
  EXPECT_THAT(run({"--help"}).out, HasSubstr("Usage: potshadow compare"));
}

// The jar with a card said to be larger: everything is larger in proportion.
TEST_F(CompareCommand, DrawsBothOnPaperAndOverEachOther) {
  std::string project = content(folder_.path() / "shelf-jar.potshadow");
  const auto replace = [&](const std::string& from, const std::string& to) {
    const std::size_t at = project.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    project.replace(at, from.size(), to);
  };
  replace("\"width_mm\": 120.0", "\"width_mm\": 127.2");
  replace("\"height_mm\": 80.0", "\"height_mm\": 84.8");
  std::ofstream(folder_.path() / "large-jar.potshadow", std::ios::binary) << project;
  const Ran ran = run({"shelf-jar.potshadow", "large-jar.potshadow", "--sheet", "both.pdf",
                       "--paper", "letter", "--over", "both.png", "--drawing", "both.svg"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("is 6.0 % larger"));
  EXPECT_THAT(content(folder_.path() / "both.pdf"), StartsWith("%PDF"));
  EXPECT_THAT(content(folder_.path() / "both.svg"), StartsWith("<?xml"));
  const cv::Mat over = cv::imread((folder_.path() / "both.png").string());
  const Ran wiped =
      run({"shelf-jar.potshadow", "large-jar.potshadow", "--over", "wipe.png", "--wipe"});
  ASSERT_EQ(wiped.exit_code, 0) << wiped.err;
  const cv::Mat wipe = cv::imread((folder_.path() / "wipe.png").string());
  ASSERT_EQ(over.size(), wipe.size());
  // Left of the axis the wipe is the original's photograph, right of it not.
  const cv::Rect left(0, 0, over.cols / 3, over.rows);
  const cv::Rect right(over.cols - over.cols / 3, 0, over.cols / 3, over.rows);
  const Ran own = run({"shelf-jar.potshadow", "low-bowl.potshadow", "--over", "own.png", "--wipe"});
  ASSERT_EQ(own.exit_code, 0) << own.err;
  const cv::Mat other = cv::imread((folder_.path() / "own.png").string());
  EXPECT_EQ(cv::norm(other(left), wipe(left), cv::NORM_L1), 0.0);
  EXPECT_GT(cv::norm(other(right), wipe(right), cv::NORM_L1), 0.0);
  const Ran unlike = run({"shelf-jar.potshadow", "low-bowl.potshadow", "--drawing", "unlike.svg"});
  EXPECT_EQ(unlike.exit_code, 0) << unlike.err;
  EXPECT_THAT(unlike.out, HasSubstr("laid together part by part"));
  EXPECT_EQ(run({"shelf-jar.potshadow", "large-jar.potshadow", "--sheet", "no/such.pdf"}).exit_code,
            2);
}

// The numbers in a text after a word, as "Height    235.2 ± 2.8   223.7 ± 1.8   -11.6 ± 3.3".
std::vector<double> figures_after(const std::string& text, const std::string& word) {
  const std::size_t at = text.find("\n  " + word + " ");
  if (at == std::string::npos) return {};
  std::istringstream line(text.substr(at + 3 + word.size(), text.find('\n', at + 1) - at));
  std::vector<double> out;
  for (std::string token; line >> token && out.size() < 6;) {
    if (token != "±") out.push_back(std::strtod(token.c_str(), nullptr));
  }
  return out;
}

// A replica in the same museum's manner, its truth in samples/scenes: what is said of the two must
// hold what is true of them.
TEST_F(CompareCommand, TheSampleReplicaIsHeldByItsIntervals) {
  const Ran ran = run({"shelf-jar.potshadow", "my-jar.potshadow", "--sheet", "both.pdf", "--over",
                       "both.png", "--drawing", "both.png2.png"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, StartsWith("My jar against Shelf jar"));
  const std::filesystem::path scenes = POTSHADOW_SOURCE_DIR "/samples/scenes";
  const auto truth = [&](const char* name) {
    return nlohmann::json::parse(content(scenes / (std::string("truth-") + name + ".json")))
        .at("sizes_mm");
  };
  const auto original = truth("shelf-jar");
  const auto replica = truth("my-jar");
  int sizes = 0;
  for (const auto& [words, key] : {std::pair{"Height", "height"},
                                   {"Maximum diameter", "max_diameter"},
                                   {"Height of the maximum", "height_of_max"},
                                   {"Neck diameter", "neck_diameter"},
                                   {"Height of the neck", "height_of_neck"},
                                   {"Rim diameter", "rim_diameter"},
                                   {"Base diameter", "base_diameter"}}) {
    const std::vector<double> said = figures_after(ran.out, words);
    ASSERT_EQ(said.size(), 6U) << words;
    const double true_one = original.at(key).get<double>();
    const double true_other = replica.at(key).get<double>();
    EXPECT_NEAR(said[0], true_one, said[1]) << words;
    EXPECT_NEAR(said[2], true_other, said[3]) << words;
    EXPECT_NEAR(said[4], true_other - true_one, said[5]) << words;
    ++sizes;
  }
  EXPECT_EQ(sizes, 7);
  // 223.5 mm against 235, and a rim that is 2 mm wider on a pot that is smaller all over.
  EXPECT_THAT(ran.out, HasSubstr("% smaller than Shelf jar"));
  EXPECT_THAT(ran.out, HasSubstr("Off beyond doubt: the height by"));
  EXPECT_THAT(content(folder_.path() / "both.pdf"), StartsWith("%PDF"));
  const cv::Mat drawing = cv::imread((folder_.path() / "both.png2.png").string());
  EXPECT_EQ(std::max(drawing.cols, drawing.rows), 2400);
}

// The pot in another stage than fired, and both brought there.
TEST_F(CompareCommand, ComparesAtAnotherStage) {
  std::ofstream(folder_.path() / "wet.txt")
      << "name = First\nstage = wet\nshrinkage = 12 ± 1\nheight = 267 ± 1\nmax = 271 ± 1\n";
  const Ran ran = run({"shelf-jar.potshadow", "wet.txt", "--at", "wet"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Sizes, wet"));
  EXPECT_THAT(ran.out, HasSubstr("First was measured wet."));
  const std::vector<double> height = figures_after(ran.out, "Height");
  ASSERT_EQ(height.size(), 6U);
  EXPECT_NEAR(height[0], 235.2 / 0.88, 0.2);  // the original taken back, and the pot as it is
  EXPECT_EQ(height[2], 267.0);
  const Ran series = run({"shelf-jar.potshadow", "wet.txt", "my-jar.potshadow", "--at", "wet",
                          "--drawing", "series.png"});
  ASSERT_EQ(series.exit_code, 0) << series.err;
  EXPECT_THAT(series.out, HasSubstr("Difference from the original, wet"));
  EXPECT_EQ(cv::imread((folder_.path() / "series.png").string()).empty(), false);
}

// What both sides have is compared, and a series says how large to make the next pot.
TEST_F(CompareCommand, TakesTypedSizesAndASeries) {
  std::ofstream(folder_.path() / "first.txt")
      << "name = First\nstage = wet\nheight = 268 ± 1\nmax = 271 ± 1\n"
         "stage = fired\nheight = 236 ± 1\nmax = 239 ± 1\n";
  const Ran pair = run({"shelf-jar.potshadow", "first.txt", "--sheet", "pair.pdf"});
  ASSERT_EQ(pair.exit_code, 0) << pair.err;
  EXPECT_THAT(pair.out, StartsWith("First against Shelf jar"));
  EXPECT_THAT(pair.out, HasSubstr("The outline is known of Shelf jar only"));
  EXPECT_THAT(content(folder_.path() / "pair.pdf"), StartsWith("%PDF"));
  const Ran series = run({"shelf-jar.potshadow", "first.txt", "low-bowl.potshadow", "--sheet",
                          "series.pdf", "--drawing", "series.svg", "--csv", "series.csv"});
  ASSERT_EQ(series.exit_code, 0) << series.err;
  EXPECT_THAT(series.out, StartsWith("A series after Shelf jar"));
  EXPECT_THAT(series.out, HasSubstr("First shrank from wet to fired by 11."));
  EXPECT_THAT(series.out, HasSubstr("Make it, wet:"));
  EXPECT_THAT(content(folder_.path() / "series.pdf"), StartsWith("%PDF"));
  EXPECT_THAT(content(folder_.path() / "series.svg"), StartsWith("<?xml"));
  EXPECT_THAT(content(folder_.path() / "series.csv"), HasSubstr("First,wet,height,268"));
  EXPECT_THAT(run({"shelf-jar.potshadow", "first.txt", "--series"}).out,
              HasSubstr("one pot really did"));
}

TEST_F(CompareCommand, SaysWhatIsWrong) {
  struct Row {
    std::vector<std::string> arguments;
    int exit_code;
    const char* words;
  };
  const std::vector<Row> rows = {
      {{"shelf-jar.potshadow"}, 2, "Two files are needed"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "--wipe"}, 2, "Add --over"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "--stage", "damp"}, 2, "'damp' is no stage"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "--at", "dry"}, 2, "Give --at as wet"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "--stage", "wet,wet"}, 2, "2 stages for 1"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "a.txt", "--over", "o.png"}, 2, "one other"},
      {{"shelf-jar.potshadow", "shelf-jar.potshadow"}, 2, "the same project"},
      {{"shelf-jar.potshadow", "gone.potshadow"}, 2, "gone.potshadow"},
      {{"shelf-jar.potshadow", "low-bowl.jpg"}, 2, "low-bowl.jpg"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "--json", "-", "--csv", "-"},
       2,
       "cannot both"}};
  for (const Row& row : rows) {
    const Ran ran = run(row.arguments);
    EXPECT_EQ(ran.exit_code, row.exit_code) << ran.err;
    EXPECT_THAT(ran.err, HasSubstr(row.words));
    EXPECT_EQ(ran.out, "");
  }
}

}  // namespace
}  // namespace potshadow
