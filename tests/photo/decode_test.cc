// SPDX-License-Identifier: MIT
#include "photo/decode.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>

#include "photo/picture_maker.h"
#include "photo/shown_picture.h"

namespace potshadow {
namespace {

using namespace testing;

TEST(Decode, EveryKindStandsUprightFromEveryOrientation) {
  int cases = 0;
  for (const char* extension : {".jpg", ".png", ".webp", ".tif"}) {
    for (int orientation = 1; orientation <= 8; ++orientation) {
      ExifWish wish;
      wish.orientation = orientation;
      const cv::Mat stored = stored_under(four_fields(), orientation);
      const auto picture = decode_bytes(picture_file(extension, stored, wish), "a picture");
      ASSERT_TRUE(picture.ok()) << extension << orientation << picture.problem().what;
      EXPECT_EQ(picture->bgr.type(), CV_8UC3);
      EXPECT_EQ(picture->bgr.cols, kWide);
      EXPECT_EQ(picture->bgr.rows, kHigh);
      EXPECT_EQ(fields_of(picture->bgr), "RGBy") << extension << orientation;
      ++cases;
    }
  }
  EXPECT_EQ(cases, 32);
}

TEST(Decode, HeicAndAvif) {
  const auto turned = decode_photo(data_path("turned.heic"));
  ASSERT_TRUE(turned.ok()) << turned.problem().what;
  EXPECT_EQ(fields_of(turned->bgr), "BRyG");  // a quarter turned clockwise
  EXPECT_EQ(turned->bgr.cols, 96);
  EXPECT_EQ(turned->bgr.rows, 128);
  int cases = 0;
  for (const char* name : {"unturned.heic", "unturned.avif"}) {
    const auto picture = decode_photo(data_path(name));
    ASSERT_TRUE(picture.ok()) << picture.problem().what << picture.problem().detail;
    EXPECT_EQ(fields_of(picture->bgr), "RGBy");
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

// Phones store a grid of tiles that reach beyond the picture, turned a quarter, in wide colours.
TEST(Decode, TiledHeicIsPutTogetherAndTurned) {
  const auto picture = decode_photo(data_path("tiled.heic"));
  ASSERT_TRUE(picture.ok()) << picture.problem().what << picture.problem().detail;
  EXPECT_EQ(picture->bgr.cols, 80);
  EXPECT_EQ(picture->bgr.rows, 112);
  EXPECT_EQ(fields_of(picture->bgr), "BRyG");  // a quarter turned clockwise
}

TEST(Decode, CmykLoadsInItsColours) {
  int cases = 0;
  for (const char* name : {"cmyk.jpg", "cmyk.tif"}) {
    const auto picture = decode_photo(data_path(name));
    ASSERT_TRUE(picture.ok()) << picture.problem().what;
    EXPECT_EQ(picture->bgr.type(), CV_8UC3);
    EXPECT_EQ(fields_of(picture->bgr), "RGBy") << name;
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

TEST(Decode, SixteenBitsAreScaledToEight) {
  int cases = 0;
  for (const char* extension : {".png", ".tif"}) {
    cv::Mat deep;
    four_fields().convertTo(deep, CV_16U, 257.0);  // 255 becomes 65535
    const auto picture = decode_bytes(encoded(deep, extension), "a picture");
    ASSERT_TRUE(picture.ok()) << picture.problem().what;
    EXPECT_EQ(cv::norm(picture->bgr, four_fields(), cv::NORM_INF), 0.0);
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

TEST(Decode, GreyBecomesColour) {
  const cv::Mat grey(kHigh, kWide, CV_8UC1, cv::Scalar(90));
  int cases = 0;
  for (const char* extension : {".jpg", ".png", ".tif"}) {
    const auto picture = decode_bytes(encoded(grey, extension), "a picture");
    ASSERT_TRUE(picture.ok());
    ASSERT_EQ(picture->bgr.type(), CV_8UC3);
    EXPECT_EQ(picture->bgr.at<cv::Vec3b>(5, 5), cv::Vec3b(90, 90, 90)) << extension;
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

TEST(Decode, TransparentPartsShowWhite) {
  cv::Mat picture(kHigh, kWide, CV_8UC4, cv::Scalar(0, 0, 0, 0));
  picture(cv::Rect(0, 0, kWide / 2, kHigh)).setTo(cv::Scalar(0, 0, 200, 255));
  picture(cv::Rect(0, 0, kWide / 4, kHigh)).setTo(cv::Scalar(0, 0, 0, 127));
  const auto flat = decode_bytes(encoded(picture, ".png"), "a picture");
  ASSERT_TRUE(flat.ok());
  EXPECT_EQ(flat->bgr.at<cv::Vec3b>(5, kWide - 3), cv::Vec3b(255, 255, 255));
  EXPECT_EQ(flat->bgr.at<cv::Vec3b>(5, kWide / 2 - 3), cv::Vec3b(0, 0, 200));
  EXPECT_EQ(flat->bgr.at<cv::Vec3b>(5, 3), cv::Vec3b(128, 128, 128));  // half black on white
}

// The file is half-transparent red beside opaque green, made with ImageMagick; half red on white is
// (255, 127, 127) whichever way the file keeps its colours.
TEST(Decode, HalfTransparentTiffIsNotDarkened) {
  constexpr double kRounding = 1.0;  // 8-bit steps, once for the opacity and once for the colour
  int cases = 0;
  for (const char* name : {"half-8bit.tif", "half-16bit.tif"}) {
    const auto flat = decode_photo(data_path(name));
    ASSERT_TRUE(flat.ok()) << flat.problem().what << flat.problem().detail;
    EXPECT_LE(cv::norm(flat->bgr.at<cv::Vec3b>(5, 5), cv::Vec3b(127, 127, 255), cv::NORM_INF),
              kRounding)
        << name;
    EXPECT_EQ(flat->bgr.at<cv::Vec3b>(5, 40), cv::Vec3b(0, 160, 0)) << name;
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

// As the largest cameras take them: read whole, turned as it is stored, and made ready to be shown.
TEST(Decode, AHundredMegapixelsAreRead) {
  const cv::Size large(11600, 8700);
  cv::Mat stored;
  cv::resize(four_fields(), stored, large, 0.0, 0.0, cv::INTER_NEAREST);
  ExifWish wish;
  wish.orientation = 6;  // a quarter turned clockwise
  const auto picture = decode_bytes(picture_file(".jpg", stored, wish), "a picture");
  ASSERT_TRUE(picture.ok()) << picture.problem().what;
  EXPECT_EQ(picture->bgr.cols, large.height);
  EXPECT_EQ(picture->bgr.rows, large.width);
  cv::Mat reduced;
  cv::resize(picture->bgr, reduced, cv::Size(kHigh, kWide), 0.0, 0.0, cv::INTER_AREA);
  EXPECT_EQ(fields_of(reduced), "BRyG");
  const auto shown = ShownPicture::of(*picture, {});
  ASSERT_TRUE(shown.ok()) << shown.problem().what;
  EXPECT_EQ(shown->width_px(), large.height);
  EXPECT_EQ(shown->height_px(), large.width);
}

}  // namespace
}  // namespace potshadow
