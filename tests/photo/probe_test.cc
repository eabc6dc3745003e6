// SPDX-License-Identifier: MIT
#include "photo/probe.h"

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "photo/picture_maker.h"

namespace potshadow {
namespace {

using namespace testing;

const std::vector<std::pair<std::string, PictureKind>> kKinds{{".jpg", PictureKind::kJpeg},
                                                              {".png", PictureKind::kPng},
                                                              {".webp", PictureKind::kWebp},
                                                              {".tif", PictureKind::kTiff}};

TEST(Probe, GivesUprightSizeKindAndFocalLengthOfEveryKind) {
  int cases = 0;
  for (const auto& [extension, kind] : kKinds) {
    for (int orientation = 1; orientation <= 8; ++orientation) {
      ExifWish wish;
      wish.orientation = orientation;
      wish.focal_35mm = 26;
      const cv::Mat stored = stored_under(four_fields(), orientation);
      const auto facts = probe_bytes(picture_file(extension, stored, wish), "a picture");
      ASSERT_TRUE(facts.ok()) << extension << facts.problem().what << facts.problem().detail;
      EXPECT_EQ(facts->kind, kind);
      EXPECT_EQ(facts->exif.orientation, orientation);
      EXPECT_EQ(facts->width_px, kWide);
      EXPECT_EQ(facts->height_px, kHigh);
      EXPECT_EQ(facts->stored_width_px, stored.cols);
      EXPECT_EQ(facts->stored_height_px, stored.rows);
      ASSERT_TRUE(facts->focal.has_value()) << extension;
      EXPECT_EQ(facts->focal->focal_35mm, 26.0);
      ++cases;
    }
  }
  EXPECT_EQ(cases, 32);
}

// ISO/IEC 23008-12: a HEIC is turned by its own properties, and its EXIF orientation is not
// applied.
TEST(Probe, HeicIsTurnedByItsOwnPropertiesOnly) {
  const auto turned = probe_photo(data_path("turned.heic"));
  ASSERT_TRUE(turned.ok()) << turned.problem().what << turned.problem().detail;
  EXPECT_EQ(turned->kind, PictureKind::kHeif);
  EXPECT_EQ(turned->width_px, 96);
  EXPECT_EQ(turned->height_px, 128);
  EXPECT_EQ(turned->stored_width_px, 128);
  EXPECT_EQ(turned->stored_height_px, 96);
  int cases = 0;
  for (const char* name : {"unturned.heic", "unturned.avif"}) {
    const auto facts = probe_photo(data_path(name));
    ASSERT_TRUE(facts.ok()) << facts.problem().what;
    EXPECT_EQ(facts->width_px, 128);
    EXPECT_EQ(facts->height_px, 96);
    EXPECT_EQ(facts->exif.orientation, 6);
    EXPECT_EQ(facts->exif.make, "Larkmoor");
    ASSERT_TRUE(facts->focal.has_value());
    EXPECT_EQ(facts->focal->focal_35mm, 26.0);
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

// The EXIF block was written by exiftool, a program of its own.
TEST(Probe, TiledHeicGivesSizeAndExif) {
  const auto facts = probe_photo(data_path("tiled.heic"));
  ASSERT_TRUE(facts.ok()) << facts.problem().what << facts.problem().detail;
  EXPECT_EQ(facts->width_px, 80);
  EXPECT_EQ(facts->height_px, 112);
  EXPECT_EQ(facts->stored_width_px, 112);
  EXPECT_EQ(facts->stored_height_px, 80);
  EXPECT_EQ(facts->turn, 1);
  EXPECT_EQ(facts->exif.orientation, 6);
  EXPECT_EQ(facts->exif.make, "Larkmoor");
  EXPECT_EQ(facts->exif.model, "Case 3");
  EXPECT_EQ(facts->exif.lens, "Larkmoor back camera");
  EXPECT_EQ(facts->exif.taken, "2024-05-31 14:05:09");
  EXPECT_EQ(facts->exif.focal_35mm, 26.0);
  ASSERT_TRUE(facts->exif.focal_length.has_value());
  constexpr double kExact = 1e-9;  // 6.86 is a fraction of whole numbers
  EXPECT_NEAR(facts->exif.focal_length->value, 6.86, kExact);
}

TEST(Probe, FingerprintIsOfTheWholeFile) {
  const std::string bytes = encoded(four_fields(), ".png");
  const auto facts = probe_bytes(bytes, "a picture");
  ASSERT_TRUE(facts.ok());
  EXPECT_EQ(facts->bytes, bytes.size());
  EXPECT_EQ(facts->sha256.size(), 64U);
  const auto longer = probe_bytes(bytes + "x", "a picture");
  ASSERT_TRUE(longer.ok());
  EXPECT_NE(longer->sha256, facts->sha256);
}

TEST(Probe, KindIsToldByContentNotByName) {
  const TemporaryFile file("wrong-name.png", encoded(four_fields(), ".jpg"));
  const auto facts = probe_photo(file.path());
  ASSERT_TRUE(facts.ok());
  EXPECT_EQ(facts->kind, PictureKind::kJpeg);
}

TEST(Probe, CroppedPictureIsDoubtful) {
  ExifWish wish;
  wish.pixel_width = 4032;
  wish.pixel_height = 3024;  // 4 : 3, the test picture is 3 : 2
  const auto cropped = probe_bytes(picture_file(".jpg", four_fields(), wish), "a picture");
  ASSERT_TRUE(cropped.ok());
  ASSERT_EQ(cropped.notes().size(), 1U);
  EXPECT_TRUE(cropped.notes()[0].doubtful);
  wish.pixel_width = 6000;
  wish.pixel_height = 4000;  // made smaller, not cropped
  EXPECT_TRUE(probe_bytes(picture_file(".jpg", four_fields(), wish), "a picture").notes().empty());
}

}  // namespace
}  // namespace potshadow
