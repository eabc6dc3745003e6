// SPDX-License-Identifier: MIT
// Broken, foreign and oversized pictures.
#include <gtest/gtest.h>

#include <random>
#include <string>
#include <vector>

#include "photo/decode.h"
#include "photo/picture_maker.h"

namespace potshadow {
namespace {

using namespace testing;

// Both ways of opening must refuse alike, with the code and a sentence that has the words.
void expect_refused(const std::filesystem::path& path, Code code, const std::string& words) {
  const auto probed = probe_photo(path);
  const auto decoded = decode_photo(path);
  ASSERT_FALSE(probed.ok()) << path;
  ASSERT_FALSE(decoded.ok()) << path;
  EXPECT_EQ(probed.problem().code, code) << path << probed.problem().what;
  EXPECT_NE(probed.problem().what.find(words), std::string::npos) << probed.problem().what;
  EXPECT_FALSE(probed.problem().next.empty());
  EXPECT_EQ(decoded.problem().code, code);
  EXPECT_EQ(decoded.problem().what, probed.problem().what);
}

void expect_refused_bytes(const std::string& name, const std::string& bytes, Code code,
                          const std::string& words) {
  const TemporaryFile file(name, bytes);
  expect_refused(file.path(), code, words);
}

// One file of every kind that is read.
std::vector<std::string> one_of_each() {
  ExifWish wish;
  wish.orientation = 6;
  wish.focal_35mm = 26;
  std::vector<std::string> files;
  for (const char* extension : {".jpg", ".png", ".webp", ".tif"}) {
    files.push_back(picture_file(extension, four_fields(), wish));
  }
  for (const char* name : {"turned.heic", "tiled.heic", "unturned.avif"}) {
    files.push_back(file_bytes(data_path(name)));
  }
  return files;
}

TEST(BadPicture, MissingFolderAndEmpty) {
  const std::filesystem::path folder = ::testing::TempDir();
  expect_refused(folder / "no-such-picture.jpg", Code::kFileMissing, "no file");
  expect_refused(folder, Code::kFileUnreadable, "could not be read");
  expect_refused_bytes("empty.jpg", "", Code::kFileUnreadable, "empty");
}

TEST(BadPicture, WrongType) {
  expect_refused_bytes("text.jpg", "Shelf jar, Larkmoor Museum, case 3\n", Code::kFileUnreadable,
                       "not a picture");
  expect_refused_bytes("moving.jpg", "GIF89a and so on", Code::kFileUnreadable, "GIF");
}

TEST(BadPicture, HugeAndZeroSizesAreRefusedBeforeDecoding) {
  expect_refused_bytes("huge.png", png_header_only(30000, 30000), Code::kFileTooLarge,
                       "30000 × 30000");
  expect_refused_bytes("long.png", png_header_only(30001, 10), Code::kFileTooLarge, "30001");
  expect_refused_bytes("widest.png", png_header_only(0x7FFFFFFF, 0x7FFFFFFF), Code::kFileTooLarge,
                       "2147483647");
  expect_refused_bytes("none.png", png_header_only(0, 32), Code::kFileUnreadable, "0 × 32");
}

TEST(BadPicture, EveryKindCutShortIsRefusedWithAdviceToCopyAgain) {
  int cases = 0;
  for (const std::string& whole : one_of_each()) {
    for (const double part : {0.5, 0.9, 0.99}) {
      const auto length = static_cast<std::size_t>(part * static_cast<double>(whole.size()));
      const auto cut = decode_bytes(std::string_view(whole).substr(0, length), "a picture");
      ASSERT_FALSE(cut.ok()) << cases;
      EXPECT_EQ(cut.problem().code, Code::kFileUnreadable);
      EXPECT_NE(cut.problem().next.find("Copy the file again"), std::string::npos)
          << cut.problem().next;
      ++cases;
    }
  }
  EXPECT_EQ(cases, 21);
}

TEST(BadPicture, DataBehindTheEndMarkAreLeftAlone) {
  const std::string jpeg = encoded(four_fields(), ".jpg");
  const auto picture =
      decode_bytes(jpeg + std::string(1000, 'x') + jpeg.substr(0, 50), "a picture");
  ASSERT_TRUE(picture.ok());
  EXPECT_EQ(fields_of(picture->bgr), "RGBy");
}

// Whatever comes back, it is a picture of the size stated or a Problem with advice.
TEST(BadPicture, SeededDamageNeverCrashes) {
  constexpr int kCasesOfEach = 300;
  std::mt19937 random(5);
  int cases = 0;
  int refused = 0;
  for (const std::string& whole : one_of_each()) {
    for (int i = 0; i < kCasesOfEach; ++i) {
      std::string bytes = whole;
      if (i % 3 == 0) bytes.resize(random() % bytes.size());
      if (i % 3 != 0 || i % 2 == 0) {
        for (auto flips = 1 + random() % 8; flips > 0 && !bytes.empty(); --flips) {
          bytes[random() % bytes.size()] = static_cast<char>(random() % 256);
        }
      }
      const auto picture = decode_bytes(bytes, "a picture");
      if (picture.ok()) {
        EXPECT_EQ(picture->bgr.type(), CV_8UC3);
        EXPECT_EQ(picture->bgr.cols, picture->facts.width_px);
        EXPECT_EQ(picture->bgr.rows, picture->facts.height_px);
      } else {
        EXPECT_FALSE(picture.problem().what.empty());
        EXPECT_FALSE(picture.problem().next.empty());
        ++refused;
      }
      ++cases;
    }
  }
  EXPECT_EQ(cases, 7 * kCasesOfEach);
  EXPECT_GT(refused, kCasesOfEach);  // at least every file that was only cut
}

}  // namespace
}  // namespace potshadow
