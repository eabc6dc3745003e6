// SPDX-License-Identifier: MIT
#include "photo/exif.h"

#include <gtest/gtest.h>

#include <random>

#include "photo/picture_maker.h"

namespace potshadow {
namespace {

using testing::exif_block;
using testing::ExifWish;

ExifWish full_wish(bool big_endian) {
  ExifWish wish;
  wish.orientation = 6;
  wish.focal_35mm = 26;
  wish.focal_um = 6860;
  wish.subject_mm = 800;
  wish.zoom_hundredths = 150;
  wish.pixel_width = 4032;
  wish.pixel_height = 3024;
  wish.plane_per_unit = 10000;
  wish.make = "Larkmoor";
  wish.big_endian = big_endian;
  return wish;
}

// Thousandths in EXIF's fractions are exact to double rounding.
constexpr double kExact = 1e-9;

TEST(Exif, ReadsBothByteOrders) {
  int cases = 0;
  for (const bool big : {true, false}) {
    const ExifFacts facts = read_exif(exif_block(full_wish(big)));
    EXPECT_EQ(facts.orientation, 6);
    EXPECT_EQ(facts.focal_35mm, 26.0);
    ASSERT_TRUE(facts.focal_length && facts.subject_distance && facts.digital_zoom);
    EXPECT_NEAR(facts.focal_length->value, 6.86, kExact);
    EXPECT_NEAR(facts.subject_distance->value, 800.0, kExact);
    EXPECT_NEAR(*facts.digital_zoom, 1.5, kExact);
    EXPECT_EQ(facts.pixel_width, 4032);
    EXPECT_EQ(facts.pixel_height, 3024);
    EXPECT_EQ(facts.make, "Larkmoor");
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

// EXIF 2.32: 0 means unknown for the 35 mm field and the subject distance; orientation is 1-8.
TEST(Exif, SenselessFiguresAreLeftOut) {
  ExifWish wish;
  wish.orientation = 9;
  wish.focal_35mm = 0;
  wish.subject_mm = 0;
  wish.zoom_hundredths = 0;
  wish.focal_um = 0;
  EXPECT_EQ(read_exif(exif_block(wish)), ExifFacts{});
  wish.subject_mm = 0xFFFFFFFF;  // infinitely far
  EXPECT_FALSE(read_exif(exif_block(wish)).subject_distance.has_value());
}

TEST(Exif, TextIsSafeToShow) {
  ExifWish wish;
  wish.make = "  Lark\x1b[31m\xC3\xA9  ";
  EXPECT_EQ(read_exif(exif_block(wish)).make, "Lark?[31m??");
}

TEST(Exif, EmptyAndForeignBlocksGiveNothing) {
  EXPECT_EQ(read_exif(""), ExifFacts{});
  EXPECT_EQ(read_exif("This is no EXIF block at all, only text."), ExifFacts{});
}

TEST(Exif, HostileBlocksNeitherCrashNorTalk) {
  std::mt19937 random(20240501);
  int cases = 0;
  ::testing::internal::CaptureStderr();
  for (int i = 0; i < 500; ++i) {
    std::string block = exif_block(full_wish(i % 2 == 0));
    if (i % 3 == 0) block.resize(random() % block.size());
    for (auto flips = 1 + random() % 6; flips > 0 && !block.empty(); --flips) {
      block[random() % block.size()] = static_cast<char>(random() % 256);
    }
    const ExifFacts facts = read_exif(block);
    EXPECT_GE(facts.orientation, 1);
    EXPECT_LE(facts.orientation, 8);
    if (facts.focal_35mm) {
      EXPECT_GT(*facts.focal_35mm, 0.0);
    }
    ++cases;
  }
  EXPECT_EQ(::testing::internal::GetCapturedStderr(), "");
  EXPECT_EQ(cases, 500);
}

}  // namespace
}  // namespace potshadow
