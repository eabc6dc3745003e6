// SPDX-License-Identifier: MIT
// The colours' contrast, and the way between window and photograph.
#include <gmock/gmock.h>

#include "desktop/canvas/palette.h"
#include "desktop/canvas/photo_transform.h"
#include "desktop/canvas/picking.h"

namespace potshadow {
namespace {

using ::testing::ElementsAre;

constexpr double kRounding = 1e-9;  // of window pixels: some ten operations on numbers near 10^4

// WCAG 2.2, 1.4.3: text 4.5 : 1; 1.4.11: graphics 3 : 1.
constexpr double kTextContrast = 4.5;
constexpr double kGraphicContrast = 3.0;

TEST(Palette, ContrastOfBlackAndWhiteIsTwentyOne) {
  EXPECT_NEAR(contrast_ratio({0, 0, 0}, {255, 255, 255}), 21.0, kRounding);
  // WCAG's own well-known limit: #767676 is the lightest grey with 4.5 : 1 on white.
  EXPECT_GE(contrast_ratio({0x76, 0x76, 0x76}, {255, 255, 255}), kTextContrast);
  EXPECT_LT(contrast_ratio({0x77, 0x77, 0x77}, {255, 255, 255}), kTextContrast);
}

TEST(Palette, EveryTextStandsOutFromEveryGround) {
  int pairs = 0;
  for (const ThemeColours* theme : {&daylight_colours(), &evening_colours()}) {
    for (const Colour ground : {theme->ground, theme->sunk, theme->raised}) {
      for (const Colour text : {theme->text, theme->quiet}) {
        EXPECT_GE(contrast_ratio(text, ground), kTextContrast);
        ++pairs;
      }
    }
    for (const Colour ground : {theme->ground, theme->sunk}) {
      for (const Colour text : {theme->accent, theme->doubt}) {
        EXPECT_GE(contrast_ratio(text, ground), kTextContrast);
        ++pairs;
      }
      EXPECT_GE(contrast_ratio(theme->line, ground), kGraphicContrast);
    }
    EXPECT_GE(contrast_ratio(theme->on_accent, theme->accent), kTextContrast);
    EXPECT_GE(contrast_ratio(theme->on_surround, theme->surround), kTextContrast);
    EXPECT_GE(contrast_ratio(theme->drawing, theme->ground), kTextContrast);
    EXPECT_GE(contrast_ratio(theme->drawing, theme->clay), kGraphicContrast);
  }
  EXPECT_EQ(pairs, 20);
}

TEST(Palette, MarksAreThoseOfOkabeAndIto) {
  // Okabe & Ito 2008, RGB as published.
  EXPECT_EQ(mark_colour(MarkKind::kRim), (Colour{86, 180, 233}));
  EXPECT_EQ(mark_colour(MarkKind::kBase), (Colour{0, 158, 115}));
  EXPECT_EQ(mark_colour(MarkKind::kLeft), (Colour{230, 159, 0}));
  EXPECT_EQ(mark_colour(MarkKind::kRight), (Colour{213, 94, 0}));
  EXPECT_EQ(mark_colour(MarkKind::kReference), (Colour{204, 121, 167}));
  EXPECT_EQ(kFitted, (Colour{240, 228, 66}));
  for (const MarkKind kind :
       {MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft, MarkKind::kRight, MarkKind::kReference}) {
    EXPECT_GE(contrast_ratio(mark_colour(kind), kHalo), kGraphicContrast);
  }
}

constexpr PictureSize kPicture{4000, 3000};
constexpr ScreenBox kBox{208.0, 0.0, 736.0, 800.0};

TEST(PhotoTransform, FitShowsTheWholePictureInTheMiddle) {
  PhotoTransform transform;
  transform.fit(kPicture, kBox, 8.0);
  const ScreenPoint first = transform.to_screen({-0.5, -0.5});
  const ScreenPoint last = transform.to_screen({3999.5, 2999.5});
  EXPECT_NEAR(first.x, 216.0, kRounding);
  EXPECT_NEAR(last.x, 936.0, kRounding);
  EXPECT_NEAR(first.y + last.y, 800.0, kRounding);
}

TEST(PhotoTransform, ZoomKeepsThePlaceUnderThePointer) {
  PhotoTransform transform;
  transform.fit(kPicture, kBox, 8.0);
  const ScreenPoint pointer{500.0, 410.0};
  int steps = 0;
  for (const double factor : {1.25, 3.0, 0.5, 2.0, 1.7}) {
    const PhotoPoint before = transform.to_photo(pointer);
    transform.zoom(factor, pointer, kPicture, kBox);
    const PhotoPoint after = transform.to_photo(pointer);
    EXPECT_NEAR(before.x_px, after.x_px, kRounding);
    EXPECT_NEAR(before.y_px, after.y_px, kRounding);
    ++steps;
  }
  EXPECT_EQ(steps, 5);
}

TEST(PhotoTransform, ZoomEndsAtItsLimits) {
  PhotoTransform transform;
  transform.fit(kPicture, kBox, 0.0);
  for (int i = 0; i < 60; ++i) transform.zoom(2.0, {500.0, 400.0}, kPicture, kBox);
  EXPECT_EQ(transform.scale(), kLargestZoom);
  for (int i = 0; i < 60; ++i) transform.zoom(0.5, {500.0, 400.0}, kPicture, kBox);
  EXPECT_NEAR(transform.scale(), 0.25 * 736.0 / 4000.0, kRounding);
}

TEST(PhotoTransform, ThePictureCannotBePannedOutOfSight) {
  PhotoTransform transform;
  transform.fit(kPicture, kBox, 0.0);
  transform.pan(1e6, -1e6, kPicture, kBox);
  const PhotoPoint middle = transform.to_photo({576.0, 400.0});
  EXPECT_NEAR(middle.x_px, -0.5, kRounding);
  EXPECT_NEAR(middle.y_px, 2999.5, kRounding);
}

TEST(PhotoTransform, RevealBringsAPointIntoTheBox) {
  PhotoTransform transform;
  transform.set_scale(4.0, kPicture, kBox);
  transform.reveal({3900.0, 20.0}, kBox, 40.0);
  const ScreenPoint at = transform.to_screen({3900.0, 20.0});
  EXPECT_GE(at.x, kBox.left + 40.0 - kRounding);
  EXPECT_LE(at.x, kBox.left + kBox.width - 40.0 + kRounding);
  EXPECT_GE(at.y, 40.0 - kRounding);
  const PhotoTransform before = transform;
  transform.reveal({3900.0, 20.0}, kBox, 40.0);
  EXPECT_EQ(before, transform);
}

TEST(PhotoTransform, PointsAreKeptInsideThePicture) {
  EXPECT_EQ(inside_picture({-7.0, 5000.0}, kPicture), (PhotoPoint{-0.5, 2999.5}));
  EXPECT_EQ(inside_picture({12.25, 30.0}, kPicture), (PhotoPoint{12.25, 30.0}));
}

Document marked() {
  Document document;
  document.photos.emplace_back();
  document.photos[0].marks.rim = {{10.0, 10.0}, {20.0, 10.0}};
  document.photos[0].marks.left = {{12.0, 10.0}};
  return document;
}

MarkId id(MarkKind kind, std::size_t number) { return {0, {kind, 0, number}}; }

TEST(Picking, TheNearestMarkWithinReachIsTaken) {
  const PhotoTransform one_to_one;
  const Document document = marked();
  EXPECT_EQ(mark_near(document, 0, one_to_one, {19.0, 11.0}, 5.0, std::nullopt),
            id(MarkKind::kRim, 1));
  EXPECT_EQ(mark_near(document, 0, one_to_one, {11.6, 10.0}, 5.0, std::nullopt),
            id(MarkKind::kLeft, 0));
  EXPECT_EQ(mark_near(document, 0, one_to_one, {11.6, 10.0}, 5.0, MarkKind::kRim),
            id(MarkKind::kRim, 0));
  EXPECT_EQ(mark_near(document, 0, one_to_one, {40.0, 40.0}, 5.0, std::nullopt), std::nullopt);
  EXPECT_EQ(mark_near(document, 3, one_to_one, {10.0, 10.0}, 5.0, std::nullopt), std::nullopt);
}

TEST(Picking, ABoxTakesWhatLiesInIt) {
  const PhotoTransform one_to_one;
  EXPECT_THAT(marks_within(marked(), 0, one_to_one, {15.0, 20.0}, {5.0, 5.0}),
              ElementsAre(id(MarkKind::kRim, 0), id(MarkKind::kLeft, 0)));
}

TEST(Picking, NextGoesRoundBothWays) {
  const Document document = marked();
  EXPECT_EQ(next_mark(document, 0, std::nullopt, false), id(MarkKind::kRim, 0));
  EXPECT_EQ(next_mark(document, 0, id(MarkKind::kRim, 1), false), id(MarkKind::kLeft, 0));
  EXPECT_EQ(next_mark(document, 0, id(MarkKind::kLeft, 0), false), id(MarkKind::kRim, 0));
  EXPECT_EQ(next_mark(document, 0, id(MarkKind::kRim, 0), true), id(MarkKind::kLeft, 0));
  EXPECT_EQ(next_mark({}, 0, std::nullopt, false), std::nullopt);
}

TEST(Picking, SelectionForgetsMarksThatAreGone) {
  EXPECT_THAT(still_there(marked(), {id(MarkKind::kRim, 1), id(MarkKind::kRim, 2)}),
              ElementsAre(id(MarkKind::kRim, 1)));
}

}  // namespace
}  // namespace potshadow
