// SPDX-License-Identifier: MIT
#include "sheets/template_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "core/files.h"
#include "patterns/gauge.h"
#include "raster.h"
#include "sheets/template_layout.h"
#include "vessels.h"

// The pages as they come out of an ordinary PDF renderer (poppler), measured in its pixels.
namespace potshadow {
namespace {

using test::kEnlargement;
using test::kPixelMm;
using test::line_near;
using test::pixel;
using test::Raster;
using test::rasterised_page;
using test::request_for;
using test::run_through;
using test::Vessel;

// What the printed page promises.
constexpr double kPaperMm = 0.1;
class Sheets : public ::testing::Test {
 protected:
  void SetUp() override {
    for (const char* tool : {"pdftoppm", "pdftotext", "pdffonts", "pdfinfo"}) {
      const std::string command = std::string("command -v ") + tool + " > /dev/null 2>&1";
      ASSERT_EQ(std::system(command.c_str()), 0)
          << tool << " is missing: install the package poppler-utils";
    }
    folder_ = std::filesystem::path(testing::TempDir()) /
              ("potshadow-sheets-" + std::to_string(getpid()));
    std::filesystem::create_directories(folder_);
  }

  void TearDown() override {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }

  SheetPdf save(const TemplateRequest& request) {
    const auto pdf = template_sheet(request);
    EXPECT_TRUE(pdf.ok());
    std::ofstream(folder_ / "sheet.pdf", std::ios::binary) << pdf->bytes;
    return *pdf;
  }

  // What a tool of poppler prints about the saved sheet.
  std::string told(const std::string& tool, const std::string& options = "") {
    const std::string out = (folder_ / "out.txt").string();
    const std::string target = tool == "pdftotext" ? " '" + out + "'" : " > '" + out + "'";
    const std::string command =
        tool + " " + options + " '" + (folder_ / "sheet.pdf").string() + "'" + target;
    EXPECT_EQ(std::system(command.c_str()), 0) << command;
    std::stringstream text;
    text << std::ifstream(out, std::ios::binary).rdbuf();
    return text.str();
  }

  // The page, counted from 1, at 600 dots an inch.
  Raster rasterised(int page) { return rasterised_page(folder_ / "sheet.pdf", page); }

  // Middle of a registration mark: where its arms lie beyond the circle.
  static PagePoint mark_centre(const Raster& raster, PagePoint expected) {
    PagePoint sum;
    int x_found = 0;
    int y_found = 0;
    for (const double off : {-3.6, -3.2, 3.2, 3.6}) {
      if (const auto x =
              line_near(raster, {expected.x_mm, expected.y_mm + off}, kSearchMm, false)) {
        sum.x_mm += *x;
        ++x_found;
      }
      if (const auto y = line_near(raster, {expected.x_mm + off, expected.y_mm}, kSearchMm, true)) {
        sum.y_mm += *y;
        ++y_found;
      }
    }
    EXPECT_EQ(x_found, 4);
    EXPECT_EQ(y_found, 4);
    return {sum.x_mm / x_found, sum.y_mm / y_found};
  }

  // Where the centre line stands. It is dashed and gives way to words, so this takes the lowest
  // place where a thin line runs straight for the length of half a dash.
  static double centre_line(const Raster& raster, PagePoint origin) {
    constexpr int kRows = 7;
    constexpr double kRowMm = 0.5;
    constexpr double kStraightMm = 0.02;
    constexpr double kThinMm = 0.3;
    for (double up = 1.0; up < 250.0; up += 0.5) {
      double least = 1e9;
      double most = -1e9;
      int found = 0;
      for (int row = 0; row < kRows; ++row) {
        const PagePoint at{origin.x_mm, origin.y_mm - up - row * kRowMm};
        const auto x = line_near(raster, at, kSearchMm, false, kThinMm);
        if (!x) break;
        least = std::min(least, *x);
        most = std::max(most, *x);
        ++found;
      }
      if (found == kRows && most - least < kStraightMm) return (least + most) / 2.0;
    }
    ADD_FAILURE() << "no centre line found";
    return 0.0;
  }

  // Both pairs of bars on a page, in the page's pixels.
  static void expect_true_bars(const Raster& raster, const TemplatePage& page) {
    // This deep in a bar there are neither white marks nor letters.
    constexpr double kClear = 0.6;
    int measured = 0;
    for (const CheckBar& bar : page.bars) {
      const PagePoint at =
          bar.standing
              ? PagePoint{bar.box.left_mm + kClear, (bar.box.top_mm + bar.box.bottom_mm) / 2.0}
              : PagePoint{(bar.box.left_mm + bar.box.right_mm) / 2.0, bar.box.top_mm + kClear};
      const double length = run_through(raster, at, bar.standing);
      const double truth = bar.length_mm > 100.5 ? 101.6 : 100.0;
      EXPECT_NEAR(length, truth, kPaperMm);
      ++measured;
    }
    EXPECT_EQ(measured, 4);
  }

  static constexpr double kSearchMm = 1.2;
  std::filesystem::path folder_;
};

// Five heights between the ruler's marks, as parts of the height of the pot.
constexpr std::array<double, 5> kHeights = {0.06, 0.27, 0.49, 0.71, 0.93};

double off_the_ticks(double height_mm) { return std::floor(height_mm / 10.0) * 10.0 + 5.3; }

TEST_F(Sheets, OnePageMeasuresTrueOnBothPapers) {
  struct Case {
    Vessel vessel;
    Paper paper;
  };
  int widths = 0;
  for (const Case& c : {Case{test::jar(), Paper::kA4}, Case{test::cup(), Paper::kLetter}}) {
    const TemplateRequest request = request_for(c.vessel, c.paper);
    const SheetPdf pdf = save(request);
    ASSERT_EQ(pdf.pages, 1);
    const auto layout = template_layout(request);
    ASSERT_TRUE(layout.ok());
    const TemplatePage& page = layout->pages.front();
    const Raster raster = rasterised(1);
    expect_true_bars(raster, page);

    const double axis = centre_line(raster, page.gauge_origin);
    const double back = c.vessel.widest() * kEnlargement + kCardBackMm;
    for (const double part : kHeights) {
      const double height = off_the_ticks(part * c.vessel.height() * kEnlargement);
      const double radius = kEnlargement * c.vessel.radius_at(height / kEnlargement);
      const double y = page.gauge_origin.y_mm - height;
      const auto edge = line_near(raster, {page.gauge_origin.x_mm + radius, y}, kSearchMm, false);
      const auto right = line_near(raster, {page.gauge_origin.x_mm + back, y}, kSearchMm, false);
      ASSERT_TRUE(edge && right) << c.vessel.name << " at " << height;
      EXPECT_NEAR(*right - *edge, back - radius, kPaperMm) << c.vessel.name << " at " << height;
      ++widths;
      EXPECT_NEAR(*edge - axis, radius, kPaperMm) << c.vessel.name << " at " << height;
    }
    // The bench and the rim's height: the card's foot and its top edge.
    const PagePoint inside{page.gauge_origin.x_mm + back - 18.0, page.gauge_origin.y_mm};
    const auto bench = line_near(raster, inside, kSearchMm, true);
    const double top = c.vessel.height() * kEnlargement + kCardAboveRimMm;
    const auto above = line_near(raster, {inside.x_mm, inside.y_mm - top}, kSearchMm, true);
    ASSERT_TRUE(bench && above);
    EXPECT_NEAR(*bench - *above, top, kPaperMm);
  }
  EXPECT_EQ(widths, 10);
}

// A sheet's place in the frame of the first one, found from the pixels of two marks they share.
struct Joined {
  double cosine = 1.0;
  double sine = 0.0;
  PagePoint shift;
  PagePoint operator()(PagePoint p) const {
    return {cosine * p.x_mm - sine * p.y_mm + shift.x_mm,
            sine * p.x_mm + cosine * p.y_mm + shift.y_mm};
  }
};

Joined joined_by(PagePoint a_there, PagePoint b_there, PagePoint a_here, PagePoint b_here) {
  const double angle = std::atan2(b_there.y_mm - a_there.y_mm, b_there.x_mm - a_there.x_mm) -
                       std::atan2(b_here.y_mm - a_here.y_mm, b_here.x_mm - a_here.x_mm);
  Joined j{std::cos(angle), std::sin(angle), {}};
  const PagePoint turned = j(a_here);
  j.shift = {a_there.x_mm - turned.x_mm, a_there.y_mm - turned.y_mm};
  return j;
}

// Sheets are printed, their marks found, laid onto each other and the whole card measured.
TEST_F(Sheets, JoinedSheetsMeasureTrueOnBothPapers) {
  struct Case {
    Vessel vessel;
    Paper paper;
    std::size_t least_sheets;
  };
  int widths = 0;
  for (const Case& c : {Case{test::storage(), Paper::kA4, 3}, Case{test::jar(), Paper::kLetter, 2},
                        Case{test::dish(), Paper::kA4, 2}, Case{test::dish(), Paper::kLetter, 2}}) {
    const TemplateRequest request = request_for(c.vessel, c.paper);
    const auto layout = template_layout(request);
    ASSERT_TRUE(layout.ok());
    ASSERT_EQ(save(request).pages, static_cast<int>(layout->pages.size()));

    struct Sheet {
      const TemplatePage* page;
      Raster raster;
      std::map<std::string, PagePoint> marks;
      std::optional<Joined> joined;
    };
    std::vector<Sheet> sheets;
    for (std::size_t i = 0; i < layout->pages.size(); ++i) {
      Sheet sheet{&layout->pages[i], rasterised(static_cast<int>(i) + 1), {}, {}};
      expect_true_bars(sheet.raster, *sheet.page);
      if (!sheet.page->has_gauge) continue;
      for (const RegistrationMark& mark : sheet.page->marks) {
        sheet.marks[mark.letter] = mark_centre(sheet.raster, mark.at);
      }
      sheets.push_back(std::move(sheet));
    }
    ASSERT_GE(sheets.size(), c.least_sheets);

    // Join each sheet to one that is joined already, by the two marks they share.
    sheets.front().joined = Joined{};
    for (std::size_t round = 0; round < sheets.size(); ++round) {
      for (Sheet& sheet : sheets) {
        for (const Sheet& other : sheets) {
          if (sheet.joined || !other.joined) continue;
          std::vector<std::string> shared;
          for (const auto& [letter, at] : sheet.marks) {
            if (other.marks.count(letter) > 0) shared.push_back(letter);
          }
          if (shared.size() < 2) continue;
          sheet.joined = joined_by((*other.joined)(other.marks.at(shared[0])),
                                   (*other.joined)(other.marks.at(shared[1])),
                                   sheet.marks.at(shared[0]), sheet.marks.at(shared[1]));
        }
      }
    }

    // Finds a place of the gauge on whichever sheet shows it, in the frame of the first sheet.
    const auto found = [&](double radius, double height) -> std::optional<double> {
      for (const Sheet& sheet : sheets) {
        const PagePoint at{sheet.page->gauge_origin.x_mm + radius,
                           sheet.page->gauge_origin.y_mm - height};
        const PageBox& w = sheet.page->window;
        constexpr double kInside = 5.5;  // beyond the seam, so that every sheet gives its own part
        if (at.x_mm < w.left_mm || at.x_mm > w.right_mm || at.y_mm < w.top_mm + kInside ||
            at.y_mm > w.bottom_mm - 0.5) {
          continue;
        }
        const auto x = line_near(sheet.raster, at, kSearchMm, false);
        if (!x || !sheet.joined) return std::nullopt;
        return (*sheet.joined)({*x, at.y_mm}).x_mm;
      }
      return std::nullopt;
    };
    const double back = c.vessel.widest() * kEnlargement + kCardBackMm;
    // One straight back edge for all heights: where it shows at half height.
    const double half = off_the_ticks(0.5 * c.vessel.height() * kEnlargement);
    const auto right = found(back, half);
    ASSERT_TRUE(right) << c.vessel.name;
    for (const double part : kHeights) {
      const double height = off_the_ticks(part * c.vessel.height() * kEnlargement);
      const double radius = kEnlargement * c.vessel.radius_at(height / kEnlargement);
      const auto edge = found(radius, height);
      ASSERT_TRUE(edge) << c.vessel.name << " at " << height;
      EXPECT_NEAR(*right - *edge, back - radius, kPaperMm) << c.vessel.name << " at " << height;
      ++widths;
    }
  }
  EXPECT_EQ(widths, 20);
}

TEST_F(Sheets, EveryFontIsEmbedded) {
  save(request_for(test::jar()));
  std::istringstream fonts(told("pdffonts"));
  std::string row;
  std::getline(fonts, row);
  const std::size_t column = row.find("emb");
  ASSERT_NE(column, std::string::npos) << row;
  std::getline(fonts, row);  // the rule
  int embedded = 0;
  while (std::getline(fonts, row)) {
    EXPECT_EQ(row.substr(column, 3), "yes") << row;
    ++embedded;
  }
  EXPECT_GE(embedded, 2);  // regular and bold
}

TEST_F(Sheets, TextCanBeFound) {
  for (const auto& vessel : {test::jar(), test::storage()}) {
    const SheetPdf pdf = save(request_for(vessel, Paper::kA4, 0.255));
    for (int page = 1; page <= pdf.pages; ++page) {
      const std::string n = std::to_string(page);
      const std::string text = told("pdftotext", "-f " + n + " -l " + n);
      EXPECT_THAT(text, testing::HasSubstr(vessel.name));
      EXPECT_THAT(text, testing::HasSubstr("100 mm"));
      EXPECT_THAT(text, testing::HasSubstr("4 in"));
      EXPECT_THAT(text, testing::HasSubstr("age " + n + " of " + std::to_string(pdf.pages)));
      EXPECT_THAT(text, testing::HasSubstr("Measure this bar before cutting"));
    }
  }
  save(request_for(test::jar(), Paper::kA4, 0.255));
  const std::string text = told("pdftotext");
  EXPECT_THAT(text, testing::HasSubstr("12.0 % ± 0.5 % of the wet length"));
  EXPECT_THAT(text, testing::HasSubstr("267.0"));  // digits set apart are still one number
  EXPECT_THAT(text, testing::HasSubstr("6160"));
}

TEST_F(Sheets, AGuessedScaleCanBeReadOnEveryPage) {
  int pages = 0;
  for (const auto& vessel : {test::cup(), test::jar(), test::storage(), test::vat()}) {
    for (const Paper paper : {Paper::kA4, Paper::kLetter}) {
      TemplateRequest request = request_for(vessel, paper);
      request.guessed_scale = "Scale guessed: height 260 ± 20 mm.";
      const SheetPdf pdf = save(request);
      for (int page = 1; page <= pdf.pages; ++page) {
        const std::string n = std::to_string(page);
        EXPECT_THAT(told("pdftotext", "-f " + n + " -l " + n),
                    testing::HasSubstr("Scale guessed: height 260 ± 20 mm."))
            << vessel.name << ", page " << n;
        ++pages;
      }
    }
  }
  EXPECT_GT(pages, 20);
}

TEST_F(Sheets, SameRequestSameBytes) {
  const TemplateRequest request = request_for(test::storage());
  const SheetPdf first = save(request);
  const SheetPdf second = save(request);
  EXPECT_EQ(sha256_hex(first.bytes), sha256_hex(second.bytes));
  EXPECT_TRUE(first.bytes.starts_with("%PDF-"));
  EXPECT_THAT(told("pdfinfo"), testing::HasSubstr("Nov 25"));
  TemplateRequest later = request;
  later.created_iso = "2027-01-02T03:04:05Z";
  EXPECT_NE(sha256_hex(first.bytes), sha256_hex(save(later).bytes));
  EXPECT_THAT(told("pdfinfo"), testing::HasSubstr("2027"));
}

TEST_F(Sheets, PageHasThePapersSize) {
  // A4 is 595.276 x 841.890 points, US Letter 612 x 792 (1 point = 1/72 in).
  save(request_for(test::cup(), Paper::kA4));
  EXPECT_THAT(told("pdfinfo"), testing::ContainsRegex("595\\.27.* x 841\\.8"));
  save(request_for(test::cup(), Paper::kLetter));
  EXPECT_THAT(told("pdfinfo"), testing::HasSubstr("612 x 792"));
}

// Words of the page with their boxes, in points from the top left corner.
struct WordBox {
  double left;
  double top;
  double right;
  double bottom;
  std::string word;
};

std::vector<WordBox> word_boxes(const std::string& html) {
  std::vector<WordBox> boxes;
  std::istringstream lines(html);
  std::string row;
  while (std::getline(lines, row)) {
    WordBox box{};
    std::array<char, 256> word{};
    if (std::sscanf(row.c_str(),
                    " <word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">%255[^<]",
                    &box.left, &box.top, &box.right, &box.bottom, word.data()) == 5) {
      box.word = word.data();
      boxes.push_back(box);
    }
  }
  return boxes;
}

TEST_F(Sheets, OddNamesDoNotBreakThePage) {
  std::string endless;
  for (int i = 0; i < 60; ++i) endless += "very long name ";
  const std::vector<std::string> names = {
      "壺と茶碗 ✿ 🏺",  // other scripts, a picture
      "\xE2\x80\xAE\xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D\xE2\x80\xAB reversed",  // right to left
      "broken \xFF\xC3( bytes \xED\xA0\x80 \xF8",
      std::string("nul \0 tab \t line\n\r end", 23),
      endless,
      std::string(5000, 'W'),
      "",
      "   "};
  int checked = 0;
  for (const std::string& name : names) {
    TemplateRequest request = request_for(test::jar());
    request.vessel_name = name;
    request.clay_name = name;
    request.date_line = name;
    request.sizes.front().words = name;
    const SheetPdf pdf = save(request);
    EXPECT_EQ(pdf.pages, 1);
    const std::vector<WordBox> words = word_boxes(told("pdftotext", "-bbox"));
    EXPECT_GT(words.size(), 60U);
    constexpr double kMargin = 8.0 * 72.0 / 25.4;
    for (const WordBox& word : words) {
      EXPECT_GT(word.left, kMargin) << word.word;
      EXPECT_LT(word.right, 595.0 - kMargin) << word.word;
      EXPECT_LT(word.bottom, 842.0 - kMargin) << word.word;
    }
    ++checked;
  }
  EXPECT_EQ(checked, 8);
}

TEST_F(Sheets, LongNamesAreCutShort) {
  TemplateRequest request = request_for(test::jar());
  request.vessel_name = "Jar " + std::string(300, 'n');
  save(request);
  const std::string text = told("pdftotext");
  EXPECT_THAT(text, testing::HasSubstr("nnn…"));
  EXPECT_THAT(text, testing::Not(testing::HasSubstr(std::string(200, 'n'))));
}

TEST_F(Sheets, BadDatesAreRefused) {
  int refused = 0;
  for (const char* date : {"", "tomorrow", "2026-13-01", "2026-11-32", "25.11.2026",
                           "2026-11-25T25:00:00Z", "2026-11-25 10:00:00"}) {
    TemplateRequest request = request_for(test::cup());
    request.created_iso = date;
    const auto pdf = template_sheet(request);
    ASSERT_FALSE(pdf.ok()) << date;
    EXPECT_EQ(pdf.problem().code, Code::kBadValue);
    ++refused;
  }
  EXPECT_EQ(refused, 7);
}

}  // namespace
}  // namespace potshadow
