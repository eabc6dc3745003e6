// SPDX-License-Identifier: MIT
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
using testing::Not;
using testing::StartsWith;

// 'unroll', on the sample jar.
class UnrollCommand : public testing::Test {
 protected:
  UnrollCommand() {
    for (const std::string name : {"shelf-jar.potshadow", "shelf-jar.jpg"}) {
      put(name, content(POTSHADOW_SOURCE_DIR "/samples/" + name));
    }
  }
  Ran run(const std::vector<std::string>& arguments, unsigned long most_file_bytes = 0) const {
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + (folder_.path() / "data").string(),
                          "XDG_CONFIG_HOME=" + (folder_.path() / "config").string(),
                          "SOURCE_DATE_EPOCH=1795600000"};
    wishes.most_file_bytes = most_file_bytes;
    return run_program(folder_.path(), arguments, wishes);
  }
  std::string made(const std::string& name) const { return content(folder_.path() / name); }
  bool there(const std::string& name) const {
    return std::filesystem::exists(folder_.path() / name);
  }
  void put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_.path() / name, std::ios::binary) << bytes;
  }
  cv::Mat picture(const std::string& name) const {
    return cv::imread((folder_.path() / name).string(), cv::IMREAD_UNCHANGED);
  }

 private:
  TemporaryFolder folder_;
};

TEST_F(UnrollCommand, APictureIsAsLargeAsTheWallItShows) {
  const Ran done =
      run({"unroll", "shelf-jar.potshadow", "--output", "a.png", "--all-round", "--pixels", "2"});
  ASSERT_EQ(done.exit_code, 0) << done.err;
  EXPECT_THAT(done.out, HasSubstr("wet size, enlarged for 12.0 % shrinkage"));
  const cv::Mat picture = this->picture("a.png");
  ASSERT_EQ(picture.channels(), 4);
  // The jar's girth: its maximum diameter of 238 mm as measured, enlarged, times pi.
  constexpr double kWetGirthMm = 238.0 / 0.88 * 3.14159;
  constexpr double kOffMm = 12.0;  // the interval of the diameter, and rounding
  EXPECT_NEAR(picture.cols / 2.0, kWetGirthMm, kOffMm);
  // The size is in the file: 2 pixels to the millimetre are 2000 to the metre, in big-endian bytes.
  const std::string bytes = made("a.png");
  const std::size_t at = bytes.find("pHYs");
  ASSERT_NE(at, std::string::npos);
  EXPECT_EQ(bytes.substr(at + 4, 4), std::string("\0\0\x07\xD0", 4));
  // Only as far round as is seen it is less than half as wide.
  const Ran seen = run({"unroll", "shelf-jar.potshadow", "--output", "b.png", "--pixels", "2"});
  ASSERT_EQ(seen.exit_code, 0) << seen.err;
  EXPECT_LT(this->picture("b.png").cols, 0.55 * picture.cols);
}

TEST_F(UnrollCommand, StripsAreNumberedFilesOrOnePdf) {
  const Ran strips = run({"unroll", "shelf-jar.potshadow", "--output", "s.png", "--strip",
                          "60,80,90,110", "--pixels", "2"});
  ASSERT_EQ(strips.exit_code, 0) << strips.err;
  EXPECT_TRUE(there("s-1.png") && there("s-2.png"));
  EXPECT_FALSE(there("s.png") || there("s-3.png"));
  const Ran pdf = run({"unroll", "shelf-jar.potshadow", "--output", "s.pdf", "--strips",
                       "--repeats", "12", "--pixels", "2", "--paper", "letter"});
  ASSERT_EQ(pdf.exit_code, 0) << pdf.err;
  EXPECT_THAT(made("s.pdf"), StartsWith("%PDF"));
  EXPECT_THAT(pdf.out, HasSubstr("Strip 1: "));
  EXPECT_THAT(pdf.out, HasSubstr("at true size"));
}

TEST_F(UnrollCommand, TheProjectsBandsAreUnrolled) {
  const Ran bands =
      run({"unroll", "shelf-jar.potshadow", "--output", "b.png", "--bands", "--pixels", "2"});
  EXPECT_EQ(bands.exit_code, 0) << bands.err;
  EXPECT_THAT(bands.out, HasSubstr(" % of it is seen."));
  std::string project = made("shelf-jar.potshadow");
  const std::size_t at = project.find("\"bands\"");
  ASSERT_NE(at, std::string::npos);
  project.replace(at, 7, "\"other\"");
  put("plain.potshadow", project);
  const Ran none = run({"unroll", "plain.potshadow", "--output", "c.png", "--bands"});
  EXPECT_EQ(none.exit_code, 1);
  EXPECT_THAT(none.err, HasSubstr("names no painted strip"));
  EXPECT_FALSE(there("c.png"));
}

TEST_F(UnrollCommand, BadInputIsSaidAndNothingIsHalfWritten) {
  struct Row {
    std::vector<std::string> arguments;
    int exit_code;
    std::string says;
  };
  put("old.png", "old");
  put("empty.potshadow", R"({"potshadow": 1, "clay": {"shrinkage_percent": 12},
      "photos": [{"file": "shelf-jar.jpg"}]})");
  const std::string jar = "shelf-jar.potshadow";
  const std::vector<Row> kRows{
      {{jar, "--output", "old.gif"}, 2, "which format"},
      {{jar, "--output", "old.png", "--strip", "40"}, 2, "a lower and an upper height"},
      {{jar, "--output", "old.png", "--strip", "90,40"}, 2, "two lines on the wall"},
      {{jar, "--output", "old.png", "--strips", "--bands"}, 2, "Give one of them"},
      {{jar, "--output", "old.png", "--pixels", "0"}, 2, "not from 1 to 40"},
      {{jar, "--output", "old.png", "--front", "1000"}, 2, "no direction"},
      {{jar, "--output", "no/such/old.png"}, 2, "no/such"},
      {{jar, "--output", "old.pdf", "--most-pages", "1"}, 1, "more than 1 sheets"},
      {{jar, "--output", "shelf-jar.jpg.png/x.png"}, 2, "x.png"},
      {{"empty.potshadow", "--output", "old.png"}, 1, "mark"},
      {{"none.potshadow", "--output", "old.png"}, 2, "none.potshadow"}};
  std::size_t ran = 0;
  for (const Row& row : kRows) {
    std::vector<std::string> arguments{"unroll"};
    arguments.insert(arguments.end(), row.arguments.begin(), row.arguments.end());
    const Ran done = run(arguments);
    EXPECT_EQ(done.exit_code, row.exit_code) << row.says;
    EXPECT_THAT(done.err, HasSubstr(row.says));
    EXPECT_THAT(done.out, Not(HasSubstr("Wrote")));
    ++ran;
  }
  EXPECT_EQ(ran, kRows.size());
  EXPECT_TRUE(made("old.png") == "old");  // not printed where it is not
  EXPECT_FALSE(there("old.pdf"));
}

// A full disk: what was there stays as it was.
TEST_F(UnrollCommand, AFullDiskLeavesWhatWasThere) {
  put("old.png", "old");
  constexpr unsigned long kBytes = 20'000;
  const Ran done = run({"unroll", "shelf-jar.potshadow", "--output", "old.png"}, kBytes);
  EXPECT_EQ(done.exit_code, 2);
  EXPECT_TRUE(made("old.png") == "old");
}

TEST_F(UnrollCommand, WithoutThePhotographItSaysSo) {
  std::string project = made("shelf-jar.potshadow");
  const std::size_t at = project.find("shelf-jar.jpg");
  ASSERT_NE(at, std::string::npos);
  project.replace(at, 13, "other-jar.jpg");
  put("moved.potshadow", project);
  const Ran done = run({"unroll", "moved.potshadow", "--output", "a.png"});
  EXPECT_EQ(done.exit_code, 2);
  EXPECT_THAT(done.err, HasSubstr("other-jar.jpg"));
  EXPECT_FALSE(there("a.png"));
}

}  // namespace
}  // namespace potshadow
