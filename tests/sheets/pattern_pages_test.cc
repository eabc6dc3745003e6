// SPDX-License-Identifier: MIT
#include "sheets/pattern_pages.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <map>
#include <memory>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "patterns/pots.h"
#include "raster.h"
#include "sheets/sheet_set.h"
#include "vessels.h"

// The pages of patterns as they come out of an ordinary PDF renderer (poppler), measured in its
// pixels.
namespace potshadow {
namespace {

using test::beaker;
using test::kPixelMm;
using test::line_near;
using test::pixel;
using test::Raster;
using test::rasterised_page;
using test::run_through;
using testing::HasSubstr;

constexpr double kPaperMm = 0.1;  // what the printed page promises
constexpr double kSearchMm = 1.5;

SheetSetRequest set_of(const PatternVessel& vessel, std::vector<PatternKind> kinds, Paper paper) {
  SheetSetRequest request{
      .facts = test::request_for(test::jar(), paper), .vessel = vessel, .choices = {}};
  request.kinds = std::move(kinds);
  return request;
}

class PatternPages : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::path(testing::TempDir()) /
              ("potshadow-pieces-" + std::to_string(getpid()));
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }

  std::vector<TemplatePage> save(const SheetSetRequest& request) {
    const auto pages = sheet_set_pages(request);
    EXPECT_TRUE(pages.ok()) << (pages.ok() ? "" : pages.problem().what);
    const auto pdf = sheet_set(request);
    EXPECT_TRUE(pdf.ok());
    if (!pages.ok() || !pdf.ok()) return {};
    EXPECT_EQ(static_cast<std::size_t>(pdf->pages), pages->size());
    std::ofstream(folder_ / "sheet.pdf", std::ios::binary) << pdf->bytes;
    return *pages;
  }
  Raster page(std::size_t index) {
    return rasterised_page(folder_ / "sheet.pdf", static_cast<int>(index) + 1);
  }
  std::string text() {
    const std::string out = (folder_ / "out.txt").string();
    const std::string command =
        "pdftotext -layout '" + (folder_ / "sheet.pdf").string() + "' '" + out + "'";
    EXPECT_EQ(std::system(command.c_str()), 0);
    std::stringstream words;
    words << std::ifstream(out, std::ios::binary).rdbuf();
    return words.str();
  }

  std::filesystem::path folder_;
};

void expect_true_bars(const Raster& raster, const TemplatePage& page) {
  EXPECT_EQ(page.bars.size(), 4U);
  for (const CheckBar& bar : page.bars) {
    // Off the bar's own words and marks.
    const PagePoint at = bar.standing ? PagePoint{bar.box.left_mm + 0.6, bar.box.top_mm + 2.0}
                                      : PagePoint{bar.box.left_mm + 2.0, bar.box.top_mm + 0.6};
    EXPECT_NEAR(run_through(raster, at, bar.standing), bar.length_mm, kPaperMm);
  }
}

// Those with the gauge's table of sizes beside it are laid out elsewhere than all others.
TEST_F(PatternPages, LieAsTheyAreAskedTo) {
  int checked = 0;
  for (const PageWay way : {PageWay::kUpright, PageWay::kLying}) {
    SheetSetRequest request = set_of(
        beaker(), {PatternKind::kProfile, PatternKind::kRings, PatternKind::kStick}, Paper::kA4);
    request.facts.page_way = way;
    const auto pages = sheet_set_pages(request);
    ASSERT_TRUE(pages.ok());
    for (const TemplatePage& page : *pages) {
      const bool lying = page.drawing.width_mm > page.drawing.height_mm;
      EXPECT_EQ(lying, way == PageWay::kLying) << page.title;
      EXPECT_NE(page.title, "");
      ++checked;
    }
  }
  EXPECT_GE(checked, 6);
}

TEST_F(PatternPages, RingsMeasureTrueOnBothPapers) {
  int rings = 0;
  for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
    // Rings of 35 mm, so that two halves fit a page.
    PatternVessel vessel = beaker();
    vessel.features.resize(1);
    vessel.features[0].diameter = normal_measured(70.0, 0.0);
    const std::vector<TemplatePage> pages = save(set_of(vessel, {PatternKind::kRings}, paper));
    for (std::size_t i = 0; i < pages.size(); ++i) {
      const Raster raster = page(i);
      expect_true_bars(raster, pages[i]);
      for (const PlacedPiece& piece : pages[i].pieces) {
        // The inner edge, on a line 5 mm above the half ring's ends.
        const double half = std::sqrt(35.0 * 35.0 - 25.0);
        const double y = piece.origin.y_mm - 5.0;
        const auto left = line_near(raster, {piece.origin.x_mm - half, y}, kSearchMm, false);
        const auto right = line_near(raster, {piece.origin.x_mm + half, y}, kSearchMm, false);
        ASSERT_TRUE(left && right);
        EXPECT_NEAR(*right - *left, 2.0 * half, kPaperMm);
        ++rings;
      }
    }
  }
  EXPECT_EQ(rings, 4);
}

TEST_F(PatternPages, RibProfileMeasuresTrue) {
  for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
    PatternVessel vessel = beaker();
    const std::vector<TemplatePage> pages = save(set_of(vessel, {PatternKind::kRib}, paper));
    ASSERT_EQ(pages.size(), 1U);
    const Raster raster = page(0);
    const PagePoint origin = pages[0].pieces.at(0).origin;
    const double length = std::hypot(30.0, 120.0);
    int looked = 0;
    for (double height = 20.0; height < 110.0; height += 10.0) {
      // On the inner face, 6 mm inside the line from (50, 0) to (80, 120).
      const double radius = 50.0 + 30.0 * height / 120.0 - 6.0 * length / 120.0;
      const auto found =
          line_near(raster, {origin.x_mm + radius, origin.y_mm - height}, kSearchMm, false);
      ASSERT_TRUE(found) << height;
      EXPECT_NEAR(*found - origin.x_mm, radius, kPaperMm) << height;
      ++looked;
    }
    EXPECT_EQ(looked, 9);
  }
}

// Where a mark's cross stands, seen beyond its circle.
PagePoint mark_at(const Raster& raster, PagePoint expected) {
  PagePoint sum;
  int found = 0;
  for (const double off : {-3.4, 3.4}) {
    const auto x = line_near(raster, {expected.x_mm, expected.y_mm + off}, 0.6, false, 0.6);
    const auto y = line_near(raster, {expected.x_mm + off, expected.y_mm}, 0.6, true, 0.6);
    if (!x || !y) continue;
    sum.x_mm += *x;
    sum.y_mm += *y;
    ++found;
  }
  EXPECT_GT(found, 0);
  return {sum.x_mm / found, sum.y_mm / found};
}

TEST_F(PatternPages, JoinedByTheirMarksTilesGiveTheWhole) {
  for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
    // One ring of 320 mm, whole: four windows or more.
    PatternVessel vessel = beaker();
    vessel.features.resize(1);
    vessel.features[0].diameter = normal_measured(320.0, 0.0);
    SheetSetRequest request = set_of(vessel, {PatternKind::kRings}, paper);
    request.choices.whole = true;
    const std::vector<TemplatePage> pages = save(request);
    ASSERT_GE(pages.size(), 4U);
    std::map<std::string, std::vector<std::size_t>> letters;
    std::vector<Raster> rasters;
    for (std::size_t i = 0; i < pages.size(); ++i) {
      rasters.push_back(page(i));
      expect_true_bars(rasters.back(), pages[i]);
      for (const RegistrationMark& mark : pages[i].marks) letters[mark.letter].push_back(i);
    }
    ASSERT_GE(letters.size(), 8U);
    // Laid so that the marks meet, page by page from the first on.
    std::vector<PagePoint> shift(pages.size());
    std::set<std::size_t> laid{0};
    for (std::size_t round = 0; round < pages.size(); ++round) {
      for (const auto& [letter, on] : letters) {
        ASSERT_EQ(on.size(), 2U) << letter;
        for (const auto& [a, b] : {std::pair{on[0], on[1]}, {on[1], on[0]}}) {
          if (!laid.contains(a) || laid.contains(b)) continue;
          const auto place = [&, wanted = letter](std::size_t i) {
            for (const RegistrationMark& mark : pages[i].marks) {
              if (mark.letter == wanted) return mark_at(rasters[i], mark.at);
            }
            return PagePoint{};
          };
          const PagePoint from = place(a);
          const PagePoint to = place(b);
          shift[b] = {shift[a].x_mm + from.x_mm - to.x_mm, shift[a].y_mm + from.y_mm - to.y_mm};
          laid.insert(b);
        }
      }
    }
    EXPECT_EQ(laid.size(), pages.size());
    // The inner circle at many angles, wherever a page shows it: all on one circle.
    const PagePoint centre = pages[0].pieces[0].origin;
    int looked = 0;
    for (double deg = 3.0; deg < 360.0; deg += 7.0) {
      const double angle = deg * M_PI / 180.0;
      const bool down = std::abs(std::sin(angle)) > std::abs(std::cos(angle));
      for (std::size_t i = 0; i < pages.size(); ++i) {
        const PagePoint at{centre.x_mm + 160.0 * std::cos(angle) - shift[i].x_mm,
                           centre.y_mm - 160.0 * std::sin(angle) - shift[i].y_mm};
        const PageBox& window = pages[i].pieces[0].window;
        if (at.x_mm < window.left_mm + 2.0 || at.x_mm > window.right_mm - 2.0 ||
            at.y_mm < window.top_mm + 2.0 || at.y_mm > window.bottom_mm - 2.0) {
          continue;
        }
        const bool beside_mark = std::any_of(
            pages[i].marks.begin(), pages[i].marks.end(), [&](const RegistrationMark& mark) {
              return std::hypot(mark.at.x_mm - at.x_mm, mark.at.y_mm - at.y_mm) < 8.0;
            });
        if (beside_mark) continue;
        const auto found = line_near(rasters[i], at, kSearchMm, down, 1.0);
        if (!found) continue;  // a dotted line or a tick crosses it
        const PagePoint p = down ? PagePoint{at.x_mm, *found} : PagePoint{*found, at.y_mm};
        const double radius =
            std::hypot(p.x_mm + shift[i].x_mm - centre.x_mm, p.y_mm + shift[i].y_mm - centre.y_mm);
        EXPECT_NEAR(radius, 160.0, kPaperMm) << deg;
        ++looked;
      }
    }
    EXPECT_GT(looked, 40);
  }
}

// Black bars 10 mm wide, every 50 mm of a picture too wide for one page.
TEST_F(PatternPages, APictureLiesTrueOnEveryTile) {
  constexpr int kWidthMm = 420;
  constexpr int kHeightMm = 60;
  constexpr int kPxPerMm = 10;
  constexpr int kEveryMm = 50;
  constexpr int kBarMm = 10;
  PatternPixels pixels{kWidthMm * kPxPerMm, kHeightMm * kPxPerMm, {}};
  for (int y = 0; y < pixels.height_px; ++y) {
    for (int x = 0; x < pixels.width_px; ++x) {
      const bool bar = x / kPxPerMm % kEveryMm < kBarMm;
      for (const int byte : {0, 0, 0, bar ? 255 : 0}) {
        pixels.bgra.push_back(static_cast<std::uint8_t>(byte));
      }
    }
  }
  Pattern piece;
  piece.name = "Bars";
  piece.pictures.push_back(
      {std::make_shared<const PatternPixels>(pixels), {0.0, 0.0, kWidthMm, kHeightMm}});
  add_line(piece, {0.0, 0.0}, {kWidthMm, 0.0}, PatternLine::kCut);
  // A text that reads upwards keeps the piece from being turned.
  add_text(piece, "bars", {20.0, 10.0}, 2.0).upwards = true;
  PatternSheet sheet;
  sheet.title = "Bars";
  sheet.pieces = {piece};
  int edges = 0;
  for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
    const TemplateRequest facts = test::request_for(test::jar(), paper);
    const auto pages = pattern_pages(sheet, facts, PageCount());
    const auto pdf = pattern_sheet_set({sheet}, facts);
    ASSERT_TRUE(pages.ok() && pdf.ok());
    ASSERT_GE(pages->size(), 2U);
    std::ofstream(folder_ / "sheet.pdf", std::ios::binary) << pdf->bytes;
    for (std::size_t i = 0; i < pages->size(); ++i) {
      const Raster raster = page(i);
      const PlacedPiece& placed = (*pages)[i].pieces.at(0);
      const double y = placed.origin.y_mm - kHeightMm / 2.0 - 7.0;
      for (int bar = 0; bar < kWidthMm; bar += kEveryMm) {
        const double left = placed.origin.x_mm + bar;
        // Bars that the window shows whole, away from the marks at its ends.
        if (left < placed.window.left_mm + kBarMm || left + 2.0 * kBarMm > placed.window.right_mm) {
          continue;
        }
        const auto dark_from = [&](double mm, bool dark) {
          int at = pixel(mm - 3.0);
          while ((raster.darkness(at, pixel(y)) >= 0.5) != dark && at < pixel(mm + 3.0)) ++at;
          return at * kPixelMm;
        };
        EXPECT_NEAR(dark_from(left, true), left, kPaperMm) << bar;
        EXPECT_NEAR(dark_from(left + kBarMm, false), left + kBarMm, kPaperMm) << bar;
        ++edges;
      }
    }
  }
  EXPECT_GE(edges, 10);
}

TEST_F(PatternPages, APrinterIsMadeUpFor) {
  SheetSetRequest request = set_of(beaker(), {PatternKind::kStick}, Paper::kA4);
  request.facts.printer = {0.98, 1.01};
  request.facts.printer_name = "studio";
  const std::vector<TemplatePage> pages = save(request);
  ASSERT_EQ(pages.size(), 1U);
  const PageDrawing& drawing = pages[0].drawing;
  const bool lying = drawing.width_mm > drawing.height_mm;
  const double x = lying ? 1.01 : 0.98;
  const double y = lying ? 0.98 : 1.01;
  const Raster raster = page(0);
  // The PDF's page is the paper's own size, and what the printer makes of its bars is 100 mm.
  EXPECT_NEAR(raster.width * kPixelMm, lying ? 297.0 : 210.0, kPaperMm);
  int lengths = 0;
  for (const CheckBar& bar : pages[0].bars) {
    const PagePoint at = bar.standing
                             ? PagePoint{(bar.box.left_mm + 0.6) / x, (bar.box.top_mm + 2.0) / y}
                             : PagePoint{(bar.box.left_mm + 2.0) / x, (bar.box.top_mm + 0.6) / y};
    const double in_pdf = run_through(raster, at, bar.standing);
    EXPECT_NEAR(in_pdf * (bar.standing ? y : x), bar.length_mm, kPaperMm);
    ++lengths;
  }
  EXPECT_EQ(lengths, 4);
  EXPECT_THAT(text(), HasSubstr("prints 100 mm as 98.0 across and 101.0 along"));
}

TEST_F(PatternPages, EverySheetNamesWhatItIs) {
  SheetSetRequest request =
      set_of(beaker(12.0),
             {PatternKind::kProfile, PatternKind::kRib, PatternKind::kRings, PatternKind::kStick,
              PatternKind::kCradle, PatternKind::kLid, PatternKind::kSection},
             Paper::kLetter);
  request.facts.stage = Stage::kLeatherHard;
  const std::vector<TemplatePage> pages = save(request);
  ASSERT_GE(pages.size(), 7U);
  const std::string all = text();
  std::vector<std::string> texts{""};
  for (const char c : all) {
    if (c == '\f') {
      texts.emplace_back();
    } else {
      texts.back().push_back(c);
    }
  }
  ASSERT_GE(texts.size(), pages.size());
  for (std::size_t i = 0; i < pages.size(); ++i) {
    EXPECT_THAT(texts[i], HasSubstr("Shelf jar"));
    EXPECT_THAT(texts[i], HasSubstr("Buff mix"));
    EXPECT_THAT(texts[i], HasSubstr("hrinkage: 12.0 %"));
    EXPECT_THAT(texts[i], HasSubstr("Letter"));
    EXPECT_THAT(texts[i], HasSubstr("25 November 2026"));
    EXPECT_THAT(texts[i], HasSubstr("Measure this bar before cutting"));
    EXPECT_THAT(texts[i],
                HasSubstr("age " + std::to_string(i + 1) + " of " + std::to_string(pages.size())));
    EXPECT_THAT(texts[i], testing::AnyOf(HasSubstr("eather-hard size, scale 1:1"),
                                         HasSubstr("The original's size, scale 1:")));
  }
}

TEST_F(PatternPages, EveryPaperHoldsItsPagesWithinItsMargins) {
  int looked = 0;
  for (const Paper paper : kPapers) {
    const std::vector<TemplatePage> pages =
        save(set_of(beaker(12.0), {PatternKind::kRings, PatternKind::kStick}, paper));
    const PaperSize size = paper_size(paper);
    for (const TemplatePage& page : pages) {
      const double least = std::min(page.drawing.width_mm, page.drawing.height_mm);
      EXPECT_NEAR(least, size.width_mm, 1e-9);
      for (const PlacedPiece& piece : page.pieces) {
        EXPECT_GE(piece.window.left_mm, kPageMarginMm);
        EXPECT_GE(piece.window.top_mm, kPageMarginMm);
        EXPECT_LE(piece.window.right_mm, page.drawing.width_mm - kPageMarginMm + 1e-9);
        EXPECT_LE(piece.window.bottom_mm, page.drawing.height_mm - kPageMarginMm + 1e-9);
        for (const PlacedPiece& other : page.pieces) {
          if (&other == &piece) continue;
          const bool apart = other.window.left_mm > piece.window.right_mm ||
                             piece.window.left_mm > other.window.right_mm ||
                             other.window.top_mm > piece.window.bottom_mm ||
                             piece.window.top_mm > other.window.bottom_mm;
          EXPECT_TRUE(apart);
        }
        ++looked;
      }
    }
  }
  EXPECT_GE(looked, 25);
}

TEST(BadPatternPages, TooManySheetsAndOddPrintersAreRefused) {
  SheetSetRequest request = set_of(beaker(), {PatternKind::kRings}, Paper::kA4);
  request.vessel.features[1].diameter = normal_measured(9000.0, 0.0);
  EXPECT_THAT(sheet_set_pages(request).problem().what, HasSubstr("more than 60 sheets"));
  request = set_of(beaker(), {PatternKind::kRings}, Paper::kA4);
  for (const double odd : {0.0, -1.0, 0.5, 2.0, std::nan("")}) {
    request.facts.printer = {1.0, odd};
    EXPECT_THAT(sheet_set_pages(request).problem().what, HasSubstr("No printer"));
  }
}

}  // namespace
}  // namespace potshadow
