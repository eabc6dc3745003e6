// SPDX-License-Identifier: MIT
#include "sheets/page_picture.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstddef>
#include <limits>
#include <optional>
#include <tuple>

#include "sheets/template_layout.h"
#include "vessels.h"

namespace potshadow {
namespace {

using test::request_for;

// 0 white to 1 black, from all three channels, which are alike on a grey page.
double darkness(const PagePixels& page, int x, int y) {
  const auto at = 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(page.width_px) +
                       static_cast<std::size_t>(x));
  EXPECT_EQ(page.bytes[at], page.bytes[at + 1]);
  EXPECT_EQ(page.bytes[at], page.bytes[at + 2]);
  return 1.0 - page.bytes[at] / 255.0;
}

// First and last place, in pixels from the page's corner, of the dark run through (x, y); pixels
// at its ends count by how dark they are.
struct DarkRun {
  double first = 0.0;
  double last = 0.0;
};

DarkRun run_through(const PagePixels& page, int x, int y, bool down) {
  const int side = down ? page.height_px : page.width_px;
  const auto dark = [&](int along) {
    if (along < 0 || along >= side) return 0.0;
    return down ? darkness(page, x, along) : darkness(page, along, y);
  };
  constexpr double kBlack = 0.95;
  int first = down ? y : x;
  int last = first;
  EXPECT_GT(dark(first), kBlack);
  while (dark(first - 1) > kBlack) --first;
  while (dark(last + 1) > kBlack) ++last;
  return {first - dark(first - 1), last + 1 + dark(last + 1)};
}

TEST(PagePicture, CheckBarsAreWhereMillimetresSay) {
  constexpr double kPixel = 1.0;
  // This deep in a bar there are neither white marks nor letters.
  constexpr double kClear = 0.6;
  const auto middle = [](const PageBox& box) {
    return PagePoint{(box.left_mm + box.right_mm) / 2.0, (box.top_mm + box.bottom_mm) / 2.0};
  };
  int bars = 0;
  const auto layout = template_layout(request_for(test::jar(), Paper::kA4, 0.255));
  ASSERT_TRUE(layout.ok());
  for (const double px_per_mm : {4.0, 7.3, 150.0 / 25.4}) {
    for (const TemplatePage& page : layout->pages) {
      const auto picture = page_picture(page.drawing, px_per_mm);
      ASSERT_TRUE(picture.ok());
      for (const CheckBar& bar : page.bars) {
        const double across = bar.standing ? bar.box.left_mm + kClear : middle(bar.box).x_mm;
        const double down = bar.standing ? middle(bar.box).y_mm : bar.box.top_mm + kClear;
        const int x = static_cast<int>(across * px_per_mm);
        const int y = static_cast<int>(down * px_per_mm);
        const DarkRun run = run_through(*picture, x, y, bar.standing);
        const double first = bar.standing ? bar.box.top_mm : bar.box.left_mm;
        EXPECT_NEAR(run.first, first * px_per_mm, kPixel);
        EXPECT_NEAR(run.last, (first + bar.length_mm) * px_per_mm, kPixel);
        ++bars;
      }
    }
  }
  EXPECT_EQ(bars, 3 * 4 * static_cast<int>(layout->pages.size()));
}

TEST(PagePicture, PaperIsWhiteAndAsLargeAsThePage) {
  // A4 is 210 x 297 mm (ISO 216), US Letter 8.5 x 11 in.
  int cases = 0;
  for (const auto& [paper, width, height] :
       {std::tuple{Paper::kA4, 1050, 1485}, std::tuple{Paper::kLetter, 1080, 1397}}) {
    const auto layout = template_layout(request_for(test::cup(), paper));
    ASSERT_TRUE(layout.ok());
    const auto picture = page_picture(layout->pages.front().drawing, 5.0);
    ASSERT_TRUE(picture.ok());
    EXPECT_EQ(picture->width_px, width);
    EXPECT_EQ(picture->height_px, height);  // 1079.5 and 1397 pixels
    ASSERT_EQ(picture->bytes.size(), 4U * static_cast<unsigned>(width * height));
    int ink = 0;
    for (int y = 0; y < height; ++y) {
      for (int x = 0; x < width; ++x) {
        const double dark = darkness(*picture, x, y);
        if (dark > 0.5) ++ink;
        // Nothing is drawn within 8 mm of the sides, where printers cannot print.
        const bool margin = x < 40 || y < 40 || x >= width - 41 || y >= height - 41;
        if (margin) {
          ASSERT_EQ(dark, 0.0) << x << ", " << y;
        }
      }
    }
    // Lines and letters, but far more paper.
    EXPECT_GT(ink, width * height / 200);
    EXPECT_LT(ink, width * height / 4);
    ++cases;
  }
  EXPECT_EQ(cases, 2);
}

TEST(PagePicture, AreasClipsAndGreysAreExact) {
  PageDrawing page{20.0, 10.0, {}};
  page.groups.push_back({PageBox{2.0, 2.0, 8.0, 5.0}, {filled({0.0, 0.0, 20.0, 10.0}, 0.0)}});
  page.groups.push_back({std::nullopt, {filled({10.0, 1.0, 15.0, 9.0}, 0.6)}});
  const auto picture = page_picture(page, 10.0);
  ASSERT_TRUE(picture.ok());
  ASSERT_EQ(picture->width_px, 200);
  ASSERT_EQ(picture->height_px, 100);
  constexpr double kStep = 0.5 / 255.0 + 1e-9;  // a whole grey level
  int pixels = 0;
  for (int y = 0; y < 100; ++y) {
    for (int x = 0; x < 200; ++x) {
      const bool black = x >= 20 && x < 80 && y >= 20 && y < 50;
      const bool grey = x >= 100 && x < 150 && y >= 10 && y < 90;
      ASSERT_NEAR(darkness(*picture, x, y),
                  black  ? 1.0
                  : grey ? 0.4
                         : 0.0,
                  kStep)
          << x << ", " << y;
      ++pixels;
    }
  }
  EXPECT_EQ(pixels, 20000);
}

// A text is as large in pixels as its millimetres say: the height of a capital of Inter is 0.73 of
// the size, of DejaVu Sans too (both read from the fonts' own tables).
TEST(PagePicture, LettersGrowWithTheScale) {
  constexpr double kCapital = 0.73;
  constexpr double kPixels = 2.0;  // soft edges above and below
  int cases = 0;
  for (const bool upwards : {false, true}) {
    for (const double px_per_mm : {3.0, 10.0}) {
      Label label;
      label.text = "HHH";
      label.at = {25.0, 25.0};
      label.size_mm = 10.0;
      label.upwards = upwards;
      const auto picture = page_picture({50.0, 50.0, {{std::nullopt, {label}}}}, px_per_mm);
      ASSERT_TRUE(picture.ok());
      int least = 10000;
      int most = -1;
      for (int y = 0; y < picture->height_px; ++y) {
        for (int x = 0; x < picture->width_px; ++x) {
          if (darkness(*picture, x, y) < 0.5) continue;
          least = std::min(least, upwards ? x : y);
          most = std::max(most, upwards ? x : y);
        }
      }
      EXPECT_NEAR(most + 1, 25.0 * px_per_mm, kPixels);
      EXPECT_NEAR(most + 1 - least, kCapital * 10.0 * px_per_mm, kPixels);
      ++cases;
    }
  }
  EXPECT_EQ(cases, 4);
}

TEST(PagePicture, ImpossibleSizesAreRefused) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  struct Case {
    double width_mm;
    double height_mm;
    double px_per_mm;
  };
  int refused = 0;
  for (const Case& c :
       {Case{210, 297, 0}, Case{210, 297, -5}, Case{210, 297, nan}, Case{210, 297, infinite},
        Case{0, 297, 5}, Case{210, -1, 5}, Case{nan, 297, 5}, Case{8001, 8000, 1},
        Case{210, 297, 33}, Case{40000, 10, 1}, Case{1e300, 1e300, 1e300}}) {
    const auto picture = page_picture({c.width_mm, c.height_mm, {}}, c.px_per_mm);
    ASSERT_FALSE(picture.ok()) << c.width_mm << " x " << c.height_mm << " at " << c.px_per_mm;
    EXPECT_EQ(picture.problem().code, Code::kBadValue);
    ++refused;
  }
  EXPECT_EQ(refused, 11);
  EXPECT_TRUE(page_picture({8000, 8000, {}}, 1.0).ok());  // 64 megapixels are allowed
  EXPECT_TRUE(page_picture({0.1, 0.1, {}}, 5.0).ok());    // and so is a single pixel
}

}  // namespace
}  // namespace potshadow
