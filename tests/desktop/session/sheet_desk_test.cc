// SPDX-License-Identifier: MIT
// Sheets and files of the sample, drawn and written in the background.
#include "desktop/session/sheet_desk.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <map>

#include "core/files.h"
#include "desktop/session/bench.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

constexpr std::uintmax_t kMostBytes = std::uintmax_t{1} << 30U;

SheetWish wish_for(Printed printed) {
  SheetWish wish;
  wish.print.printed = printed;
  return wish;
}

class Sheets : public testing::Test {
 protected:
  void SetUp() override {
    ASSERT_TRUE(session().open_project(bench_.project()).ok());
    ASSERT_TRUE(bench_.until_figures());
  }
  Session& session() { return bench_.session; }
  const SheetView& sheet() { return session().sheet(); }
  bool drawn(const SheetWish& wish) {
    session().want_sheet(wish);
    return bench_.until([&] { return !sheet().busy; }) && sheet().current;
  }
  // Returns why it was not written.
  std::optional<Problem> save(SheetFormat format, const std::filesystem::path& file,
                              std::size_t part = 0) {
    const std::uint64_t before = session().sheet_saving().news;
    const Result<Done> begun = session().save_sheet(format, part, file);
    if (!begun) return begun.problem();
    EXPECT_TRUE(bench_.until([&] { return session().sheet_saving().news != before; }));
    return session().sheet_saving().problem;
  }

  Bench bench_;
};

TEST_F(Sheets, EveryThingIsDrawnAndWrittenAsAllItCanBe) {
  const std::map<SheetFormat, std::string> starts{
      {SheetFormat::kPdf, "%PDF-"}, {SheetFormat::kPng, "\x89PNG"}, {SheetFormat::kSvg, "<?xml"},
      {SheetFormat::kDxf, ""},      {SheetFormat::kStl, ""},        {SheetFormat::kObj, "#"}};
  std::size_t things = 0;
  std::size_t files = 0;
  for (const Printed printed : kPrinted) {
    SCOPED_TRACE(printed_word(printed));
    ASSERT_TRUE(drawn(wish_for(printed))) << (sheet().problem ? sheet().problem->what : "");
    EXPECT_FALSE(sheet().pages.empty());
    EXPECT_EQ(sheet().pages.size(), sheet().places.size());
    for (const SheetPlace& place : sheet().places) EXPECT_NE(place.title, "");
    for (const SheetFormat format : formats_of(printed)) {
      const std::filesystem::path file =
          bench_.work() / ("out" + std::string(format_ending(format)));
      const auto problem = save(format, file);
      ASSERT_FALSE(problem) << problem->what;
      const std::string bytes = read_file(file, kMostBytes).value();
      EXPECT_THAT(bytes, StartsWith(starts.at(format)));
      if (format == SheetFormat::kDxf) {
        EXPECT_THAT(bytes, HasSubstr("SECTION"));
      }
      if (format == SheetFormat::kStl) {  // 84 bytes, and 50 a facet
        std::uint32_t facets = 0;
        ASSERT_GT(bytes.size(), 84U);
        std::memcpy(&facets, bytes.data() + 80, sizeof facets);
        EXPECT_EQ(bytes.size(), 84U + 50U * facets);
      }
      EXPECT_THAT(session().sheet_saving().said, StartsWith("Saved 'out"));
      std::filesystem::remove(file);
      ++files;
    }
    ++things;
  }
  EXPECT_EQ(things, kPrinted.size());
  EXPECT_EQ(files, 39U);
}

TEST_F(Sheets, PagesLieAsAskedAndAsLargeAsThePaper) {
  SheetWish wish;
  wish.print.way = PageWay::kLying;
  ASSERT_TRUE(drawn(wish));
  for (const SheetPlace& place : sheet().places) EXPECT_TRUE(place.lying);
  const PagePixels lying = sheet().pages.at(0);
  wish.print.way = PageWay::kUpright;
  ASSERT_TRUE(drawn(wish));
  const PagePixels& upright = sheet().pages.at(0);
  EXPECT_EQ(upright.width_px < upright.height_px, true);
  EXPECT_EQ(lying.width_px > lying.height_px, true);
  wish = wish_for(Printed::kBench);
  wish.print.way = PageWay::kLying;
  ASSERT_TRUE(drawn(wish));
  EXPECT_FALSE(sheet().places.at(0).lying);
}

TEST_F(Sheets, APrinterIsMadeUpForAndOneThatIsGoneIsNamed) {
  SheetWish wish = wish_for(Printed::kStick);
  wish.print.way = PageWay::kUpright;
  ASSERT_TRUE(drawn(wish));
  const PagePixels plain = sheet().pages.at(0);
  ASSERT_TRUE(session().keep_printer("studio", {90.0, 95.0}, "").ok());
  wish.print.printer = "studio";
  ASSERT_TRUE(drawn(wish));
  // The same paper, with another drawing on it.
  EXPECT_EQ(sheet().pages.at(0).width_px, plain.width_px);
  EXPECT_NE(sheet().pages.at(0).bytes, plain.bytes);
  ASSERT_TRUE(session().forget_printer("studio").ok());
  EXPECT_FALSE(drawn(wish));
  ASSERT_TRUE(sheet().problem);
  EXPECT_THAT(sheet().problem->what, HasSubstr("'studio'"));
  wish.print.printer.clear();
  EXPECT_TRUE(drawn(wish));
  EXPECT_FALSE(sheet().problem);
}

TEST_F(Sheets, LaterStagesAreSmaller) {
  const auto kept = [&](Stage stage) {
    SheetWish wish = wish_for(Printed::kWall);
    wish.stage = stage;
    EXPECT_TRUE(drawn(wish));
    return static_cast<double>(sheet().pages.at(0).width_px);
  };
  const double wet = kept(Stage::kWet);
  const double fired = kept(Stage::kFired);
  constexpr double kShrinkage = 0.12;  // the sample's clay
  constexpr double kMargins = 0.02;    // are not shrunk: 16 mm of some 400, and the fineness
  EXPECT_LT(fired, wet * (1.0 - kShrinkage + kMargins));
}

TEST_F(Sheets, WhatIsNotShownIsNotSaved) {
  const auto problem = save(SheetFormat::kPdf, bench_.work() / "early.pdf");
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->code, Code::kCannotBeAnswered);
}

TEST_F(Sheets, APhotographIsNotWrittenOver) {
  ASSERT_TRUE(drawn(wish_for(Printed::kWall)));
  const std::string before = read_file(bench_.photo(), kMostBytes).value();
  std::filesystem::create_symlink(bench_.photo(), bench_.work() / "link.png");
  const auto problem = save(SheetFormat::kPng, bench_.work() / "link.png");
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->code, Code::kFileUnwritable);
  EXPECT_EQ(read_file(bench_.photo(), kMostBytes).value(), before);
  const auto nowhere = save(SheetFormat::kPng, bench_.work() / "no such folder" / "a.png");
  ASSERT_TRUE(nowhere);
  EXPECT_EQ(nowhere->code, Code::kFileUnwritable);
  EXPECT_FALSE(save(SheetFormat::kPng, bench_.work() / "a.png"));
}

TEST_F(Sheets, APaintingNeedsItsPhotographAndBandsTheirLines) {
  std::filesystem::remove(bench_.photo());
  EXPECT_FALSE(drawn(wish_for(Printed::kWall)));
  ASSERT_TRUE(sheet().problem);
  EXPECT_EQ(sheet().problem->code, Code::kFileMissing);
  ASSERT_TRUE(session().perform(SetBands{{}}).ok());
  EXPECT_FALSE(drawn(wish_for(Printed::kBands)));
  ASSERT_TRUE(sheet().problem);
  EXPECT_EQ(sheet().problem->code, Code::kCannotBeAnswered);
  EXPECT_TRUE(drawn(wish_for(Printed::kRings)));  // needs neither
  EXPECT_FALSE(sheet().problem);
}

TEST_F(Sheets, AStoppedDrawingWaitsUntilItIsWantedAgain) {
  const SheetWish wish = wish_for(Printed::kStrips);
  session().want_sheet(wish);
  EXPECT_TRUE(sheet().busy);
  session().stop_sheet();
  EXPECT_FALSE(sheet().busy);
  EXPECT_TRUE(sheet().stopped);
  session().want_sheet(wish);
  EXPECT_FALSE(sheet().busy);
  EXPECT_FALSE(sheet().current);
  session().go_on_with_sheet();
  ASSERT_TRUE(drawn(wish));
  EXPECT_FALSE(sheet().stopped);
  EXPECT_GT(sheet().pages.size(), 1U);
}

// A jar as it would be, were the card beside it twenty times as large.
TEST_F(Sheets, VeryManySheetsAreAskedFirst) {
  Document large = session().document();
  constexpr double kTimes = 20.0;
  for (ProjectReference& reference : large.photos.at(0).references) {
    if (reference.width_mm) reference.width_mm = *reference.width_mm * kTimes;
    if (reference.height_mm) reference.height_mm = *reference.height_mm * kTimes;
  }
  const std::filesystem::path file = bench_.work() / "giant.potshadow";
  ASSERT_TRUE(save_project(large, file).ok());
  ASSERT_TRUE(session().open_project(file).ok());
  ASSERT_TRUE(bench_.until_figures());
  SheetWish wish;
  EXPECT_FALSE(drawn(wish));
  ASSERT_TRUE(sheet().problem);
  EXPECT_THAT(sheet().problem->what, HasSubstr("more than 60"));
  ASSERT_TRUE(sheet().pages_asked);
  const int asked = *sheet().pages_asked;
  EXPECT_GT(asked, kMostPages);
  wish.most_pages = asked;
  ASSERT_TRUE(drawn(wish));
  EXPECT_EQ(sheet().pages.size(), static_cast<std::size_t>(asked));
  EXPECT_FALSE(sheet().pages_asked);
}

// --- The painting
// ---------------------------------------------------------------------------------

class Wall : public Sheets {
 protected:
  SheetOrder order(const SheetWish& wish) {
    return {{session().figures().measurement, bench_.project().string()},
            wish,
            std::make_shared<const Result<ClayBook>>(ClayBook()),
            bench_.now};
  }
  Result<std::shared_ptr<const WallPictures>> wall(const SheetWish& wish) {
    const MadeSize made = made_size(*session().figures().measurement->clay, wish.stage).value();
    return store_.wall(order(wish), made, {[](const std::string&, std::optional<double>) {}, {}});
  }
  WallStore store_;
};

TEST_F(Wall, RepeatsAloneUnrollNothingAgain) {
  SheetWish wish = wish_for(Printed::kBands);
  const auto first = wall(wish);
  ASSERT_TRUE(first.ok());
  ASSERT_EQ((*first)->parts.size(), 2U);  // of the sample's three bands two have two lines
  EXPECT_EQ((*first)->parts[0].name, "Zigzag");
  wish.unroll.repeats = 7;
  EXPECT_EQ(*wall(wish), *first);
  wish.unroll.front_deg = 10.0;
  const auto turned = wall(wish);
  ASSERT_TRUE(turned.ok());
  EXPECT_NE(*turned, *first);
  // A band's own repeats, unless others are asked for: as many borders as that, less those that
  // the photograph does not reach.
  const auto lines = [](const Pattern& piece) { return piece.paths.size(); };
  EXPECT_GT(lines(wall_pieces(**first, 24)[0]), lines(wall_pieces(**first, 0)[0]));
  EXPECT_LT(lines(wall_pieces(**first, 3)[0]), lines(wall_pieces(**first, 0)[0]));
}

TEST_F(Wall, SeveralPhotographsAreBlended) {
  Document document = session().document();
  document.photos.push_back(document.photos[0]);
  const std::filesystem::path second = bench_.work() / "second.jpg";
  // The same picture with a byte more is another file.
  ASSERT_TRUE(write_file_whole(second, read_file(bench_.photo(), kMostBytes).value() + " ").ok());
  document.photos[1].file = second.string();
  document.photos[1].record = {};
  document.photos[1].direction_deg = 0.0;
  const std::filesystem::path file = bench_.work() / "two.potshadow";
  ASSERT_TRUE(save_project(document, file).ok());
  ASSERT_TRUE(session().open_project(file).ok());
  ASSERT_TRUE(bench_.until_figures());
  ASSERT_EQ(session().figures().measurement->photo_indices.size(), 2U);
  const auto blended = wall(wish_for(Printed::kWall));
  ASSERT_TRUE(blended.ok());
  EXPECT_EQ((*blended)->notes.back().text, "Blended from 2 photographs.");
}

double area_of(const std::vector<PatternPoint>& points) {
  double twice = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const PatternPoint& a = points[i];
    const PatternPoint& b = points[(i + 1) % points.size()];
    twice += a.x_mm * b.y_mm - b.x_mm * a.y_mm;
  }
  return 0.5 * std::abs(twice);
}

// A straight strip, and one bent to a ring.
TEST(Stripes, CoverTwoFifthsOfAPartAndKeepWithinIt) {
  std::size_t checked = 0;
  for (const double upper : {100.0, 60.0}) {
    Development flat;
    flat.half_turn_rad = 1.5;
    flat.high_along_mm = flat.slant_mm = 120.0;
    flat.low_radius_mm = 100.0;
    flat.high_radius_mm = upper;
    std::vector<PatternPoint> outline;
    for (const FlatPoint& p : flat.outline(0.01)) outline.push_back({p.x_mm, p.y_mm});
    const Pattern piece = with_stripes({}, flat);
    double striped = 0.0;
    for (const PatternArea& area : piece.areas) {
      striped += area_of(area.points);
      for (const PatternPoint& p : area.points) {
        const FaceSpot spot = flat.spot({p.x_mm, p.y_mm});
        constexpr double kOnTheEdge = 0.2;  // its outline is drawn within 0.1 mm
        EXPECT_GE(spot.along_mm, -kOnTheEdge);
        EXPECT_LE(spot.along_mm, flat.high_along_mm + kOnTheEdge);
        ++checked;
      }
    }
    constexpr double kEnds = 0.03;  // stripes begin and end where they may
    EXPECT_NEAR(striped / area_of(outline), 0.4, kEnds);
  }
  EXPECT_GT(checked, 100U);
}

}  // namespace
}  // namespace potshadow
