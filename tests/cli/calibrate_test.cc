// SPDX-License-Identifier: MIT
// 'potshadow calibrate' as a user runs it: on pictures of the board that it writes itself.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
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

// Returns a JPEG file of the picture that says it was taken by a "Larkmoor Two" at 6 mm, 34 mm on
// film, the camera held the usual way. The block is as CIPA DC-008 gives it, little-endian.
std::string photograph(const cv::Mat& picture) {
  std::vector<unsigned char> jpeg;
  cv::imencode(".jpg", picture, jpeg, {cv::IMWRITE_JPEG_QUALITY, 97});
  const auto number = [](std::uint32_t value, int bytes) {
    std::string text;
    for (int i = 0; i < bytes; ++i) text += static_cast<char>((value >> (8 * i)) & 0xFFU);
    return text;
  };
  const auto entry = [&](std::uint32_t tag, std::uint32_t kind, std::uint32_t count,
                         std::uint32_t value) {
    return number(tag, 2) + number(kind, 2) + number(count, 4) + number(value, 4);
  };
  constexpr std::uint32_t kText = 2;
  constexpr std::uint32_t kShort = 3;
  constexpr std::uint32_t kLong = 4;
  constexpr std::uint32_t kFraction = 5;
  const std::string model("Larkmoor Two\0", 13);
  const std::uint32_t exif_at = 8 + 2 + 3 * 12 + 4;
  const std::uint32_t after = exif_at + 2 + 2 * 12 + 4;
  const std::string block = "II" + number(42, 2) + number(8, 4) + number(3, 2) +
                            entry(0x0110, kText, 13, after) + entry(0x0112, kShort, 1, 1) +
                            entry(0x8769, kLong, 1, exif_at) + number(0, 4) + number(2, 2) +
                            entry(0x920A, kFraction, 1, after + 14) + entry(0xA405, kShort, 1, 34) +
                            number(0, 4) + model + '\0' + number(60, 4) + number(10, 4);
  const std::string body = std::string("Exif\0\0", 6) + block;
  const std::size_t length = body.size() + 2;
  std::string file(jpeg.begin(), jpeg.begin() + 2);
  file += "\xFF\xE1";
  file += static_cast<char>(length >> 8U);
  file += static_cast<char>(length & 0xFFU);
  return file + body + std::string(jpeg.begin() + 2, jpeg.end());
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

TEST_F(Calibrate, PicturesThatDoNotServeAreNamedAndLeftOut) {
  const std::vector<std::string> good = pictures();
  ASSERT_EQ(good.size(), kTurns.size());
  const Ran without = run(good);
  ASSERT_EQ(without.exit_code, 0) << without.err;

  // The odd one first: it is the many that count.
  cv::Mat half;
  cv::resize(board_picture(30.0, 0.0, 5.0), half, cv::Size(kWidth / 2, kHeight / 2));
  cv::imwrite(at("half.png").string(), half);
  cv::imwrite(at("wall.png").string(), cv::Mat(kHeight, kWidth, CV_8UC3, cv::Scalar::all(99)));
  cv::Mat hidden = board_picture(10.0, 10.0, 0.0);
  cv::rectangle(hidden, {0, 0, kWidth / 2, kHeight}, cv::Scalar::all(70), cv::FILLED);
  cv::imwrite(at("hidden.png").string(), hidden);
  cv::imwrite(at("cut.jpg").string(), board_picture(15.0, -20.0, 0.0));
  std::filesystem::resize_file(at("cut.jpg"), std::filesystem::file_size(at("cut.jpg")) / 2);
  std::ofstream(at("words.jpg")) << "no picture";
  std::ofstream(at("empty.jpg"));
  std::filesystem::copy_file(at(good[2]), at("copy.png"));
  struct Case {
    std::string file;
    std::string why;
  };
  const std::vector<Case> cases{
      {"half.png", "its size of 600 x 450 pixels is not that of the others."},
      {"wall.png", "No board of 9 by 6 inner corners is to be seen whole."},
      {"hidden.png", "No board of 9 by 6 inner corners is to be seen whole."},
      {"cut.jpg", "The picture 'cut.jpg' "},
      {"words.jpg", "'words.jpg' "},
      {"empty.jpg", "'empty.jpg' "},
      {"copy.png", "it is the same picture as another."}};
  std::vector<std::string> arguments{"half.png"};
  arguments.insert(arguments.end(), good.begin(), good.end());
  for (const Case& wrong : cases) {
    if (wrong.file != "half.png") arguments.push_back(wrong.file);
  }
  const Ran ran = run(arguments);
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, StartsWith("Board found in 8 of 15 pictures of 1200 x 900 pixels, "));
  int named = 0;
  for (const Case& wrong : cases) {
    const std::size_t line = ran.out.find("! '" + wrong.file + "' was left out: ");
    ASSERT_NE(line, std::string::npos) << wrong.file << "\n" << ran.out;
    EXPECT_THAT(ran.out.substr(line, ran.out.find('\n', line) - line), HasSubstr(wrong.why));
    ++named;
  }
  EXPECT_EQ(named, 7);
  // What was found is what the good ones give.
  const auto table = [](const std::string& out) {
    const std::size_t begin = out.find("  Focal length");
    return out.substr(begin, out.find("The corners lie") - begin);
  };
  EXPECT_EQ(table(ran.out), table(without.out));
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

TEST_F(Calibrate, ASavedCameraServesItsPhotographs) {
  std::vector<std::string> arguments{"--save"};
  for (const auto& [x, y, z] : kTurns) {
    arguments.push_back("board-" + std::to_string(arguments.size()) + ".jpg");
    std::ofstream(at(arguments.back()), std::ios::binary) << photograph(board_picture(x, y, z));
  }
  ASSERT_EQ(arguments.size(), kTurns.size() + 1);
  const Ran saved = run(arguments);
  ASSERT_EQ(saved.exit_code, 0) << saved.err;
  EXPECT_THAT(saved.out, HasSubstr("Saved as 'Larkmoor Two' at 6.0 mm."));
  EXPECT_THAT(saved.out, HasSubstr("middle and bending of the lens."));
  std::ifstream stream(at("config") / "potshadow" / "cameras.json");
  const std::string book{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  EXPECT_THAT(book, HasSubstr("\"orientation\": 1"));
  EXPECT_THAT(book, HasSubstr("\"board_distance_mm\": 4"));  // of the 420 mm it was drawn at

  // The jar, photographed with that camera.
  const std::filesystem::path source = POTSHADOW_SOURCE_DIR;
  std::filesystem::copy_file(source / "tests/cli/data/shelf-jar.potshadow", at("jar.potshadow"));
  std::ofstream(at("grey.jpg"), std::ios::binary)
      << photograph(cv::Mat(1512, 2016, CV_8UC3, cv::Scalar::all(128)));
  RunWishes wishes;
  wishes.environment = {"XDG_CONFIG_HOME=" + at("config").string()};
  const Ran measured = run_program(at("."), {"measure", "jar.potshadow"}, wishes);
  EXPECT_EQ(measured.exit_code, 0) << measured.err;
  std::istringstream wrapped(measured.out);  // as for a terminal
  std::string text;
  for (std::string word; wrapped >> word;) text += word + " ";
  EXPECT_THAT(text, HasSubstr("of the calibrated camera 'Larkmoor Two' at 6.0 mm"));
}

TEST_F(Calibrate, BadPicturesAreToldInTwoSentences) {
  const std::vector<std::string> all = pictures();
  cv::imwrite(at("small.png").string(), cv::Mat(60, 80, CV_8UC3, cv::Scalar::all(99)));
  std::ofstream(at("words.jpg")) << "no picture";
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
      {{all[0], "small.png"}, 1, "'small.png' was left out: its size of 80 x 60 pixels is not"},
      {{all[0], all[0], all[0], all[0]}, 1, "The board is in 1 picture"},
      {{"words.jpg"}, 2, "words.jpg"},
      {{all[0], "words.jpg"}, 1, "'words.jpg' was left out: "},
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
  EXPECT_EQ(ran_cases, 13);
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
