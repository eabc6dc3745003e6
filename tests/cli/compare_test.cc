// SPDX-License-Identifier: MIT
#include "cli/compare_options.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <opencv2/imgcodecs.hpp>
#include <string>
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
    for (const char* name : {"shelf-jar", "low-bowl"}) {
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
  std::ofstream(folder_.path() / "my-jar.potshadow", std::ios::binary) << project;
  const Ran ran = run({"shelf-jar.potshadow", "my-jar.potshadow", "--sheet", "both.pdf", "--paper",
                       "letter", "--over", "both.png", "--drawing", "both.svg"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("is 6.0 % larger"));
  EXPECT_THAT(content(folder_.path() / "both.pdf"), StartsWith("%PDF"));
  EXPECT_THAT(content(folder_.path() / "both.svg"), StartsWith("<?xml"));
  const cv::Mat over = cv::imread((folder_.path() / "both.png").string());
  const Ran wiped =
      run({"shelf-jar.potshadow", "my-jar.potshadow", "--over", "wipe.png", "--wipe"});
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
  EXPECT_EQ(run({"shelf-jar.potshadow", "my-jar.potshadow", "--sheet", "no/such.pdf"}).exit_code,
            2);
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
