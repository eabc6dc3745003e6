// SPDX-License-Identifier: MIT
#include "photo/focal.h"

#include <gtest/gtest.h>

#include "photo/picture_maker.h"

namespace potshadow {
namespace {

using testing::exif_block;
using testing::ExifWish;

// The published figures are given to a tenth of a pixel.
constexpr double kPublishedPx = 0.05;
// Identities lose a few digits of rounding.
constexpr double kIdentity = 1e-12;
// Figures worked out by hand to three digits behind the point.
constexpr double kByHand = 5e-4;
// The sensor's sides are given to 1 µm in 22 mm, which is 4 µm in 80 mm.
constexpr double kSensorRounding = 5e-3;

FocalFromExif focal_of(const ExifFacts& facts, int width, int height) {
  const auto focal = focal_from_exif(facts, width, height);
  EXPECT_TRUE(focal.ok());
  EXPECT_TRUE(focal->has_value());
  return focal->value_or(FocalFromExif{});
}

// CIPA DCG-001: equal angle across the diagonal, 43.267 mm on 36 x 24 mm film. The first figure is
// used in an open test file for 26 mm on 5712 x 4284 pixels; the second is the same formula by
// hand.
TEST(FocalPx, FollowsTheDiagonalConvention) {
  EXPECT_NEAR(focal_px_from_35mm(26.0, 5712, 4284), 4290.6, kPublishedPx);
  EXPECT_NEAR(focal_px_from_35mm(26.0, 4032, 3024), 3028.7, kPublishedPx);
  EXPECT_NEAR(focal_px_from_35mm(26.0, 3024, 4032), 3028.7, kPublishedPx);
}

TEST(FocalPx, ComesBackThroughItsInverse) {
  int cases = 0;
  for (const double focal : {13.0, 26.0, 56.0, 300.0}) {
    const double px = focal_px_from_35mm(focal, 4032, 3024);
    EXPECT_NEAR(focal_35mm_from_px(px, 4032, 3024), focal, focal * kIdentity);
    ++cases;
  }
  EXPECT_EQ(cases, 4);
}

// The rounding alone is 0.5 / sqrt(3) / 26 = 1.110 % (JCGM 100:2008, 4.3.7); with the optics' 2 %
// (common practice, no source), in squares, 2.288 %.
TEST(FocalFromExif, The35mmFieldComesFirst) {
  ExifWish wish;
  wish.focal_35mm = 26;
  wish.focal_um = 50000;
  const FocalFromExif focal = focal_of(read_exif(exif_block(wish)), 4032, 3024);
  EXPECT_EQ(focal.focal_35mm, 26.0);
  EXPECT_NEAR(focal.sd_percent, 2.288, kByHand);
  EXPECT_TRUE(focal.stated);
}

// The rounding alone is 0.5 / sqrt(3) / 10 = 2.887 %, with 2 % 3.512 %.
TEST(FocalFromExif, VeryWideLensesAreLessCertain) {
  ExifFacts facts;
  facts.focal_35mm = 10.0;
  EXPECT_NEAR(focal_of(facts, 4032, 3024).sd_percent, 3.512, kByHand);
}

// A 22.3 x 14.9 mm sensor, 26.820 mm across: 5184 x 3456 pixels at 5904 pixels an inch make
// 22.302 x 14.868 mm, 26.804 mm across; a 50 mm lens is then worth 80.710 mm.
TEST(FocalFromExif, FallsBackOnTheSensorSize) {
  ExifWish wish;
  wish.focal_35mm = 0;  // EXIF: unknown
  wish.focal_um = 50000;
  wish.plane_per_unit = 5904;
  wish.pixel_width = 5184;
  wish.pixel_height = 3456;
  const ExifFacts facts = read_exif(exif_block(wish));
  EXPECT_FALSE(facts.focal_35mm.has_value());
  // A smaller copy of the picture does not change what the sensor was.
  int cases = 0;
  for (const int width : {5184, 1296}) {
    const FocalFromExif focal = focal_of(facts, width, width * 2 / 3);
    EXPECT_NEAR(focal.focal_35mm, 80.710, kSensorRounding);
    EXPECT_EQ(focal.sd_percent, 2.0);
    EXPECT_FALSE(focal.stated);
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

TEST(FocalFromExif, ReadsResolutionInCentimetres) {
  ExifWish wish;
  wish.focal_um = 4000;
  wish.plane_per_unit = 8000;  // 4000 x 3000 pixels: 5 x 3.75 mm, 6.25 mm across
  wish.plane_unit = 3;
  const FocalFromExif focal = focal_of(read_exif(exif_block(wish)), 4000, 3000);
  EXPECT_NEAR(focal.focal_35mm, 4.0 * 43.2666153 / 6.25, kByHand);
}

TEST(FocalFromExif, NothingKnownGivesNothing) {
  const auto none = focal_from_exif(ExifFacts{}, 4032, 3024);
  ASSERT_TRUE(none.ok());
  EXPECT_FALSE(none->has_value());
  ExifWish wish;
  wish.focal_um = 6860;  // without the sensor's size of no use
  EXPECT_FALSE(focal_from_exif(read_exif(exif_block(wish)), 4032, 3024)->has_value());
}

TEST(FocalFromExif, DigitalZoomAndContradictionAreDoubtful) {
  ExifWish wish;
  wish.focal_35mm = 52;
  wish.zoom_hundredths = 200;
  const auto zoomed = focal_from_exif(read_exif(exif_block(wish)), 4032, 3024);
  ASSERT_EQ(zoomed.notes().size(), 1U);
  EXPECT_TRUE(zoomed.notes()[0].doubtful);
  EXPECT_EQ((*zoomed)->digital_zoom, 2.0);

  ExifWish against;
  against.focal_35mm = 26;
  against.focal_um = 4000;
  against.plane_per_unit = 8000;
  against.plane_unit = 3;
  const auto contradicted = focal_from_exif(read_exif(exif_block(against)), 6000, 4500);
  ASSERT_EQ(contradicted.notes().size(), 1U);
  EXPECT_TRUE(contradicted.notes()[0].doubtful);
}

}  // namespace
}  // namespace potshadow
