// SPDX-License-Identifier: MIT
// 'potshadow calibrate' as a user runs it: on pictures of the board that it writes itself.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cli/options.h"
#include "cli/run_program.h"
#include "core/temporary_folder.h"
#include "sheets/board_sheet.h"
#include "sheets/page_picture.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;

constexpr int kWidth = 1200;
constexpr int kHeight = 900;
constexpr double kFocalPx = 1300.0;

// Returns the printed page as a pinhole of kFocalPx sees it, turned by the angles, on a dark table.
cv::Mat board_picture(double about_x_deg, double about_y_deg, double about_z_deg) {
  constexpr double kScale = 5.0;  // pixels a millimetre
  constexpr double kDegree = std::numbers::pi / 180.0;
  constexpr double kAwayMm = 420.0;
  const auto pixels = page_picture(board_layout(Paper::kA4).page.drawing, kScale);
  if (!pixels) return {};
  cv::Mat page(pixels->height_px, pixels->width_px, CV_8UC4);
  std::copy(pixels->bytes.begin(), pixels->bytes.end(), page.data);
  cv::cvtColor(page, page, cv::COLOR_BGRA2BGR);
  const auto turn = [](double angle, int a, int b) {
    cv::Matx33d matrix = cv::Matx33d::eye();
    matrix(a, a) = matrix(b, b) = std::cos(angle * kDegree);
    matrix(a, b) = -std::sin(angle * kDegree);
    matrix(b, a) = std::sin(angle * kDegree);
    return matrix;
  };
  const cv::Matx33d rotation =
      turn(about_z_deg, 0, 1) * turn(about_y_deg, 0, 2) * turn(about_x_deg, 1, 2);
  // Page pixels to millimetres from its middle, to the camera, to its pixels.
  const cv::Matx33d to_mm(1.0 / kScale, 0.0, -(pixels->width_px - 1) / 2.0 / kScale, 0.0,
                          1.0 / kScale, -(pixels->height_px - 1) / 2.0 / kScale, 0.0, 0.0, 1.0);
  const cv::Matx33d to_camera(rotation(0, 0), rotation(0, 1), 0.0, rotation(1, 0), rotation(1, 1),
                              0.0, rotation(2, 0), rotation(2, 1), kAwayMm);
  const cv::Matx33d camera(kFocalPx, 0.0, (kWidth - 1) / 2.0, 0.0, kFocalPx, (kHeight - 1) / 2.0,
                           0.0, 0.0, 1.0);
  cv::Mat seen;
  cv::warpPerspective(page, seen, camera * to_camera * to_mm, {kWidth, kHeight}, cv::INTER_AREA,
                      cv::BORDER_CONSTANT, cv::Scalar::all(70));
  cv::GaussianBlur(seen, seen, cv::Size(), 0.7);
  return seen;
}

constexpr std::array<std::array<double, 3>, 8> kTurns{{{0, 0, 0},
                                                       {30, 0, 5},
                                                       {-30, 0, -5},
                                                       {0, 32, 0},
                                                       {0, -32, 8},
                                                       {20, 25, 0},
                                                       {-20, 25, -8},
                                                       {20, -25, 4}}};

class Calibrate : public testing::Test {
 protected:
  std::filesystem::path at(const std::string& name) const { return folder_.path() / name; }
  Ran run(std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), "calibrate");
    RunWishes wishes;
    wishes.environment = {"XDG_CONFIG_HOME=" + at("config").string()};
    return run_program(folder_.path(), arguments, wishes);
  }
  std::vector<std::string> pictures() const {
    std::vector<std::string> names;
    for (const auto& [x, y, z] : kTurns) {
      names.push_back("board-" + std::to_string(names.size()) + ".png");
      EXPECT_TRUE(cv::imwrite(at(names.back()).string(), board_picture(x, y, z)));
    }
    return names;
  }

 private:
  TemporaryFolder folder_;
};

TEST_F(Calibrate, FindsTheCameraThatTookThePictures) {
  std::vector<std::string> arguments = pictures();
  ASSERT_EQ(arguments.size(), kTurns.size());
  cv::imwrite(at("wall.png").string(), cv::Mat(kHeight, kWidth, CV_8UC3, cv::Scalar::all(99)));
  arguments.emplace_back("wall.png");
  const Ran ran = run(arguments);
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_EQ(ran.err, "");
  EXPECT_THAT(ran.out, StartsWith("Board found in 8 of 9 pictures of 1200 x 900 pixels, "));
  EXPECT_THAT(ran.out, HasSubstr("! 'wall.png' was left out: No board of 9 by 6"));
  // "  Focal length   1300.1 ± 1.2   px  1298.9 to 1301.3"
  const std::size_t row = ran.out.find("Focal length  ");
  ASSERT_NE(row, std::string::npos) << ran.out;
  std::istringstream line(ran.out.substr(row));
  std::string word;
  double value = 0.0;
  double plus_minus = 0.0;
  line >> word >> word >> value >> word >> plus_minus;
  EXPECT_NEAR(value, kFocalPx, plus_minus) << ran.out;
  // Corners to a twentieth of a pixel, 54 of them in 8 pictures: better than 1 %.
  EXPECT_LT(plus_minus, 0.01 * kFocalPx);
}

TEST_F(Calibrate, PicturesThatNameNoCameraAreNotSaved) {
  std::vector<std::string> arguments = pictures();
  arguments.emplace_back("--save");
  const Ran ran = run(arguments);
  EXPECT_EQ(ran.exit_code, 1) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Focal length"));
  EXPECT_THAT(ran.err, HasSubstr("do not say which camera took them"));
  EXPECT_FALSE(std::filesystem::exists(at("config")));
}

TEST_F(Calibrate, BadPicturesAreToldInTwoSentences) {
  const std::vector<std::string> all = pictures();
  cv::imwrite(at("small.png").string(), cv::Mat(60, 80, CV_8UC3, cv::Scalar::all(99)));
  std::vector<std::string> square_on;
  for (const double turned : {-8.0, -3.0, 3.0, 6.0, 9.0}) {
    square_on.push_back("flat-" + std::to_string(square_on.size()) + ".png");
    cv::imwrite(at(square_on.back()).string(), board_picture(0.0, 0.0, turned));
  }
  struct Case {
    std::vector<std::string> arguments;
    int exit_code;
    std::string what;
  };
  const std::vector<Case> cases{
      {{all[0]}, 1, "The board is in 1 picture, and a camera takes at least 4"},
      {{"small.png"}, 1, "None of the pictures shows a whole board"},
      {{all[0], "small.png"}, 2, "'small.png' has another size than 'board-0.png'."},
      {{all[0], all[0], all[0], all[0]}, 1, "The board is in 1 picture"},
      {square_on, 1, "seen too nearly square on"},
      {{"nothing.png"}, 2, "nothing.png"},
      {{all[0], "--inner", "9"}, 2, "The value '9' of --inner is not understood."},
      {{all[0], "--square", "0"}, 2, "A square of 0 mm is no board's."},
      {{}, 2, "No picture was named."},
      {{all[0], "--board", "b.pdf"}, 2, "--board writes the board"},
      {{all[0], "--paper", "a4"}, 2, "--paper was given without --board."}};
  int ran_cases = 0;
  for (const Case& wrong : cases) {
    const Ran ran = run(wrong.arguments);
    EXPECT_EQ(ran.exit_code, wrong.exit_code) << wrong.what << ran.out;
    EXPECT_EQ(ran.out, "") << wrong.what;
    EXPECT_THAT(ran.err, StartsWith("potshadow: "));
    EXPECT_THAT(ran.err, HasSubstr(wrong.what));
    ++ran_cases;
  }
  EXPECT_EQ(ran_cases, 11);
}

TEST_F(Calibrate, WritesTheBoard) {
  const Ran ran = run({"--board", "board.pdf", "--paper", "letter"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, StartsWith("Wrote board.pdf: the board on one page at true size.\n"));
  std::ifstream stream(at("board.pdf"), std::ios::binary);
  const std::string bytes{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  EXPECT_THAT(bytes, StartsWith("%PDF-"));
  EXPECT_THAT(bytes, HasSubstr("/MediaBox [ 0 0 792 612 ]"));
}

// The jar's photograph is by no camera of the book.
TEST_F(Calibrate, ABrokenBookIsANoteAndNoFailure) {
  const std::filesystem::path source = POTSHADOW_SOURCE_DIR;
  std::filesystem::copy_file(source / "tests/cli/data/shelf-jar.potshadow", at("jar.potshadow"));
  std::filesystem::copy_file(source / "tests/project/data/grey.jpg", at("grey.jpg"));
  RunWishes wishes;
  wishes.environment = {"XDG_CONFIG_HOME=" + at("config").string()};
  const std::filesystem::path book = at("config") / "potshadow" / "cameras.json";
  std::filesystem::create_directories(book.parent_path());
  const auto measured = [&] { return run_program(at("."), {"measure", "jar.potshadow"}, wishes); };
  const Ran without = measured();
  ASSERT_EQ(without.exit_code, 0) << without.err;
  std::ofstream(book) << "{\"potshadow_cameras\": 1, \"cameras\": []}";
  EXPECT_EQ(measured().out, without.out);
  std::ofstream(book) << "{";
  const Ran broken = measured();
  EXPECT_EQ(broken.exit_code, 0) << broken.err;
  EXPECT_THAT(broken.out, HasSubstr("Calibrated cameras were not used."));
  EXPECT_THAT(broken.out, HasSubstr("Height"));
}

TEST(CalibrateOptions, AreRead) {
  const Command command = parse_arguments(
      {"calibrate", "a.jpg", "--square", "20.5", "--inner", "8x5", "--save", "b.jpg"});
  const auto* options = std::get_if<CalibrateOptions>(&command);
  ASSERT_NE(options, nullptr);
  EXPECT_THAT(options->pictures, ElementsAre("a.jpg", "b.jpg"));
  EXPECT_EQ(options->square_mm, 20.5);
  EXPECT_EQ(options->columns, 8);
  EXPECT_EQ(options->rows, 5);
  EXPECT_TRUE(options->save);
  const Command plain = parse_arguments({"calibrate", "a.jpg"});
  const auto* usual = std::get_if<CalibrateOptions>(&plain);
  ASSERT_NE(usual, nullptr);
  EXPECT_EQ(usual->square_mm, kBoardSquareMm);
  EXPECT_EQ(usual->columns, kBoardColumns);
  EXPECT_EQ(usual->rows, kBoardRows);
  EXPECT_FALSE(usual->save);
}

}  // namespace
}  // namespace potshadow
