// SPDX-License-Identifier: MIT
// Measuring the camera from pictures of the board, without a window.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdint>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <vector>

#include "core/files.h"
#include "desktop/session/bench.h"
#include "outline/turned_board.h"
#include "sheets/board_sheet.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;
namespace fs = std::filesystem;

const cv::Size kSize = testing::kTurnedSize;
constexpr double kFocalPx = testing::kTurnedFocalPx;
static_assert(kBoardColumns == testing::kTurnedColumns && kBoardRows == testing::kTurnedRows &&
              kBoardSquareMm == testing::kTurnedSquareMm);

void put(std::string& bytes, std::uint32_t value, int count) {
  for (int i = 0; i < count; ++i) bytes += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

// Returns what a camera writes of itself (EXIF 2.32, 4.6.2 and 4.6.5): the model and the focal
// length of 5.4 mm.
std::string exif_of_a_camera() {
  const std::string model = "Larkmoor P1";
  const auto field = [](std::string& to, std::uint32_t tag, std::uint32_t type, std::uint32_t count,
                        std::uint32_t value) {
    put(to, tag, 2);
    put(to, type, 2);
    put(to, count, 4);
    put(to, value, 4);
  };
  const auto length = static_cast<std::uint32_t>(model.size() + 1);
  constexpr std::uint32_t kModelAt = 8 + 2 + 2 * 12 + 4;
  const std::uint32_t exif_at = kModelAt + length;
  std::string block("II*\0", 4);
  put(block, 8, 4);
  put(block, 2, 2);
  field(block, 0x0110, 2, length, kModelAt);
  field(block, 0x8769, 4, 1, exif_at);
  put(block, 0, 4);
  block += model + '\0';
  put(block, 1, 2);
  field(block, 0x920A, 5, 1, exif_at + 2 + 12 + 4);
  put(block, 0, 4);
  put(block, 54, 4);
  put(block, 10, 4);
  return block;
}

class CameraWorks : public ::testing::Test {
 protected:
  fs::path write(const std::string& name, const cv::Mat& picture, const std::string& exif) const {
    std::vector<unsigned char> encoded;
    EXPECT_TRUE(cv::imencode(".jpg", picture, encoded, {cv::IMWRITE_JPEG_QUALITY, 97}));
    std::string bytes(encoded.begin(), encoded.end());
    if (!exif.empty()) {
      const std::string body = std::string("Exif\0\0", 6) + exif;
      const std::size_t length = body.size() + 2;
      std::string segment("\xFF\xE1", 2);
      segment += static_cast<char>(length / 256);
      segment += static_cast<char>(length % 256);
      bytes.insert(2, segment + body);
    }
    const fs::path file = bench_.work() / name;
    EXPECT_TRUE(write_file_whole(file, bytes).ok());
    return file;
  }
  std::vector<std::string> board_pictures(const std::string& exif) const {
    constexpr std::array<std::array<double, 2>, 6> kTurns{
        {{0, 0}, {30, 0}, {-30, 5}, {5, 30}, {0, -30}, {20, 25}}};
    std::vector<std::string> files;
    for (const auto& [x, y] : kTurns) {
      const std::string name = "board-" + std::to_string(files.size()) + ".jpg";
      files.push_back(write(name, testing::turned_board(x, y), exif).string());
    }
    return files;
  }
  bool until_done() {
    return bench_.until([this] { return !bench_.session.camera_work().busy; });
  }
  Session& session() { return bench_.session; }

  Bench bench_;
};

TEST_F(CameraWorks, IsMeasuredKeptAndUsed) {
  const std::vector<std::string> pictures = board_pictures(exif_of_a_camera());
  ASSERT_EQ(pictures.size(), 6u);
  ASSERT_TRUE(session().open_photo(pictures[0]).ok());
  ASSERT_TRUE(bench_.until_shown());
  EXPECT_FALSE(session().photo().camera);
  std::vector<std::string> given = pictures;
  given.push_back(bench_.photo().string());
  session().measure_camera(given);
  ASSERT_TRUE(session().camera_work().busy);
  EXPECT_THAT(session().camera_work().busy->words, HasSubstr("Looking for the board"));
  ASSERT_TRUE(until_done());
  const CameraWork& work = session().camera_work();
  ASSERT_TRUE(work.found) << work.problem->what;
  EXPECT_EQ(work.found->pictures.corners.size(), 6u);
  ASSERT_EQ(work.found->pictures.left_out.size(), 1u);
  EXPECT_THAT(work.found->pictures.left_out[0].file, HasSubstr("shelf-jar.jpg"));
  constexpr double kNear = 0.01;  // corners to a tenth of a pixel in six pictures
  EXPECT_NEAR(work.found->calibration.focal_px.value, kFocalPx, kNear * kFocalPx);
  EXPECT_FALSE(work.kept);
  EXPECT_FALSE(session().photo().camera);

  ASSERT_TRUE(session().keep_camera().ok());
  EXPECT_TRUE(session().camera_work().kept);
  ASSERT_TRUE(session().photo().camera);
  EXPECT_EQ(session().photo().camera->model, "Larkmoor P1");
  EXPECT_EQ(session().photo().camera->focal_mm, 5.4);
  EXPECT_FALSE(session().photo().camera->date.empty());
  // The next session knows it.
  ASSERT_TRUE(session().open_photo(pictures[1]).ok());
  ASSERT_TRUE(bench_.until_shown());
  EXPECT_TRUE(session().photo().camera);
  ASSERT_TRUE(session().open_project(bench_.project()).ok());
  ASSERT_TRUE(bench_.until_shown());
  EXPECT_FALSE(session().photo().camera);
}

TEST_F(CameraWorks, PicturesThatNameNoCameraCannotBeKept) {
  session().measure_camera(board_pictures(""));
  ASSERT_TRUE(until_done());
  ASSERT_TRUE(session().camera_work().found);
  const Result<Done> kept = session().keep_camera();
  ASSERT_FALSE(kept.ok());
  EXPECT_EQ(kept.problem().code, Code::kCannotBeAnswered);
  EXPECT_FALSE(session().camera_work().kept);
  EXPECT_TRUE(session().camera_work().problem);
}

TEST_F(CameraWorks, PicturesWithoutTheBoardGiveAProblemThatNamesThem) {
  EXPECT_FALSE(session().keep_camera().ok());
  session().measure_camera({bench_.photo().string()});
  ASSERT_TRUE(until_done());
  const CameraWork& work = session().camera_work();
  EXPECT_FALSE(work.found);
  ASSERT_TRUE(work.problem);
  EXPECT_EQ(work.problem->code, Code::kTooFewMarks);
  EXPECT_THAT(work.problem->detail, HasSubstr("'shelf-jar.jpg' was left out: "));
}

TEST_F(CameraWorks, CanBeStopped) {
  session().measure_camera(board_pictures(""));
  session().stop_measuring_camera();
  EXPECT_FALSE(session().camera_work().busy);
  // What was stopped never comes; what is asked for next does.
  session().measure_camera({(bench_.work() / "gone.jpg").string()});
  ASSERT_TRUE(until_done());
  EXPECT_FALSE(session().camera_work().found);
  ASSERT_TRUE(session().camera_work().problem);
  EXPECT_EQ(session().camera_work().problem->code, Code::kFileMissing);
}

}  // namespace
}  // namespace potshadow
