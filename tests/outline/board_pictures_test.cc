// SPDX-License-Identifier: MIT
#include "outline/board_pictures.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <fstream>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "core/temporary_folder.h"
#include "outline/turned_board.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;

constexpr int kColumns = testing::kTurnedColumns;
constexpr int kRows = testing::kTurnedRows;
const cv::Size kSize = testing::kTurnedSize;
constexpr double kFocalPx = testing::kTurnedFocalPx;

class BoardPicturesTest : public ::testing::Test {
 protected:
  std::string write(const std::string& name, const cv::Mat& picture) const {
    const std::string file = (folder_.path() / name).string();
    EXPECT_TRUE(cv::imwrite(file, picture));
    return file;
  }
  std::vector<std::string> good() const {
    constexpr std::array<std::array<double, 2>, 6> kTurns{
        {{0, 0}, {30, 0}, {-30, 5}, {5, 30}, {0, -30}, {20, 25}}};
    std::vector<std::string> files;
    for (const auto& [x, y] : kTurns) {
      files.push_back(
          write("board-" + std::to_string(files.size()) + ".png", testing::turned_board(x, y)));
    }
    return files;
  }
  std::filesystem::path folder() const { return folder_.path(); }

 private:
  TemporaryFolder folder_;
};

TEST_F(BoardPicturesTest, GiveTheCameraAndNameWhatDidNotServe) {
  std::vector<std::string> files = good();
  ASSERT_EQ(files.size(), 6u);
  files.push_back(write("wall.png", cv::Mat(kSize, CV_8UC3, cv::Scalar::all(99))));
  files.push_back(write("small.png", cv::Mat(60, 80, CV_8UC3, cv::Scalar::all(99))));
  std::vector<std::size_t> told;
  BoardWatch watch;
  watch.dealt_with = [&](std::size_t done) { told.push_back(done); };
  const auto seen = look_for_board(files, kColumns, kRows, watch);
  ASSERT_TRUE(seen.ok());
  EXPECT_EQ(seen->given, 8u);
  EXPECT_EQ(seen->corners.size(), 6u);
  EXPECT_EQ(seen->files.size(), 6u);
  EXPECT_EQ(told, (std::vector<std::size_t>{1, 2, 3, 4, 5, 6, 7, 8}));
  ASSERT_EQ(seen->left_out.size(), 2u);
  EXPECT_THAT(seen->left_out[0].file, HasSubstr("wall.png"));
  EXPECT_THAT(seen->left_out[0].why, HasSubstr("No board of 9 by 6"));
  EXPECT_THAT(seen->left_out[1].why, HasSubstr("its size of 80 x 60 pixels"));

  const auto found = calibrate_from_board(*seen, {kColumns, kRows, 24.0});
  ASSERT_TRUE(found.ok()) << found.problem().what;
  constexpr double kNear =
      0.01;  // of the focal length: corners to a tenth of a pixel, six pictures
  EXPECT_NEAR(found->focal_px.value, kFocalPx, kNear * kFocalPx);
  EXPECT_TRUE(misfit_pictures(*found).empty());
}

TEST_F(BoardPicturesTest, AreDroppedOnceStopped) {
  const std::vector<std::string> files = good();
  std::stop_source stop;
  int told = 0;
  BoardWatch watch;
  watch.stop = stop.get_token();
  watch.dealt_with = [&](std::size_t) {
    ++told;
    stop.request_stop();
  };
  const auto seen = look_for_board(files, kColumns, kRows, watch);
  EXPECT_TRUE(seen.ok());
  EXPECT_EQ(told, 1);
}

TEST_F(BoardPicturesTest, WithoutABoardGiveAProblem) {
  const std::string wall = write("wall.png", cv::Mat(kSize, CV_8UC3, cv::Scalar::all(99)));
  const auto seen = look_for_board({wall}, kColumns, kRows);
  ASSERT_TRUE(seen.ok());
  const auto found = calibrate_from_board(*seen, {kColumns, kRows, 24.0});
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(found.problem().code, Code::kTooFewMarks);
  const auto missing = look_for_board({(folder() / "gone.png").string()}, kColumns, kRows);
  ASSERT_FALSE(missing.ok());
  EXPECT_EQ(missing.problem().code, Code::kFileMissing);
  std::ofstream(folder() / "words.jpg") << "no picture";
  EXPECT_FALSE(look_for_board({(folder() / "words.jpg").string()}, kColumns, kRows).ok());
}

TEST(MisfitPictures, AreThoseFarOffTheMiddleOne) {
  LensCalibration found;
  EXPECT_TRUE(misfit_pictures(found).empty());
  found.picture_rms_px = {0.3, 0.3, 0.31, 1.2, 0.29};
  EXPECT_EQ(misfit_pictures(found), std::vector<std::size_t>{3});
}

}  // namespace
}  // namespace potshadow
