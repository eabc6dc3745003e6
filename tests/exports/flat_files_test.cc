// SPDX-License-Identifier: MIT
#include "exports/flat_files.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "patterns/pattern_kinds.h"
#include "patterns/pots.h"

namespace potshadow {
namespace {

using test::beaker;
using testing::HasSubstr;
using testing::Not;

constexpr double kFileMm = 0.02;  // what is promised of lines in files

std::vector<Pattern> ring_pieces() {
  const Result<std::vector<Pattern>> rings = patterns_of(PatternKind::kRings, beaker(), {});
  EXPECT_TRUE(rings.ok());
  return *rings;
}

TEST(OneSheet, PiecesKeepApart) {
  std::vector<Pattern> pieces;
  for (int i = 0; i < 9; ++i) {
    Pattern piece;
    add_line(piece, {0.0, 0.0}, {150.0, 20.0 + 5.0 * i}, PatternLine::kCut);
    pieces.push_back(piece);
  }
  const Pattern sheet = on_one_sheet(pieces);
  std::vector<PatternBox> boxes;
  for (const PatternPath& path : sheet.paths) {
    if (path.line != PatternLine::kCut) continue;
    Pattern one;
    one.paths.push_back(path);
    boxes.push_back(box_of(one));
  }
  ASSERT_EQ(boxes.size(), 9U);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    EXPECT_GT(boxes[i].bottom_mm, 0.0);  // clear of the line to check by
    for (std::size_t j = 0; j < i; ++j) {
      const bool apart = boxes[i].left_mm > boxes[j].right_mm + 5.0 ||
                         boxes[j].left_mm > boxes[i].right_mm + 5.0 ||
                         boxes[i].bottom_mm > boxes[j].top_mm + 5.0 ||
                         boxes[j].bottom_mm > boxes[i].top_mm + 5.0;
      EXPECT_TRUE(apart) << i << " and " << j;
    }
  }
}

// Read by programs that know nothing of this one.
class FlatFiles : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ =
        std::filesystem::path(testing::TempDir()) / ("potshadow-flat-" + std::to_string(getpid()));
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }

  void save(const std::string& name, const std::string& bytes) {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
  }

  // What a shell command prints; `%` in it stands for the folder.
  std::string told(std::string command) {
    for (std::size_t at = 0; (at = command.find('%', at)) != std::string::npos;) {
      command.replace(at, 1, folder_.string());
    }
    const std::string out = (folder_ / "out.txt").string();
    EXPECT_EQ(std::system((command + " > '" + out + "' 2>&1").c_str()), 0) << command;
    std::stringstream text;
    text << std::ifstream(out).rdbuf();
    return text.str();
  }

  std::filesystem::path folder_;
};

// Prints the audit's faults, units, layers, and for each cut path whether it is closed, its length
// and box.
constexpr const char* kReadDxf = R"(
import math, re, sys, ezdxf
from ezdxf import units
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
print('faults', len(audit.errors) + len(audit.fixes))
print('unit', doc.units == units.MM)
print('layers', ' '.join(sorted(l.dxf.name for l in doc.layers if l.dxf.name in ('cut', 'mark', 'text'))))
space = doc.modelspace()
print('elsewhere', len([e for e in space if e.dxf.layer not in ('cut', 'mark', 'text')]))
for p in space.query('POLYLINE[layer=="cut"]'):
    q = [v.dxf.location for v in p.vertices]
    n = len(q)
    length = sum(math.dist(q[i], q[(i + 1) % n]) for i in range(n))
    xs = [v.x for v in q]
    ys = [v.y for v in q]
    print('cut', p.is_closed, '%.4f' % length, '%.4f' % (max(xs) - min(xs)), '%.4f' % (max(ys) - min(ys)))
for t in space.query('TEXT'):
    print('text', re.sub(r'\\U\+([0-9A-F]{4})', lambda m: chr(int(m[1], 16)), t.plain_text()))
)";

TEST_F(FlatFiles, DxfIsReadWithoutAFault) {
  ASSERT_EQ(std::system("/usr/bin/python3 -c 'import ezdxf' > /dev/null 2>&1"), 0)
      << "ezdxf is missing: install the package python3-ezdxf";
  save("read.py", kReadDxf);
  std::vector<Pattern> pieces = ring_pieces();
  add_text(pieces[0], "Töpfchen ± 5 % ø 12 ½ \"<&>\" \xF0\x9F\x8F\xBA", {0.0, 60.0}, 3.0);
  save("a.dxf", dxf_of(on_one_sheet(pieces), {"Rings", "Größe: wet"}));
  std::istringstream lines(told("/usr/bin/python3 '%/read.py' '%/a.dxf'"));
  int rings = 0;
  std::string texts;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream fields(line);
    std::string word;
    fields >> word;
    if (word == "faults" || word == "elsewhere") {
      EXPECT_THAT(line, testing::EndsWith(" 0"));
    } else if (word == "unit") {
      EXPECT_EQ(line, "unit True");
    } else if (word == "layers") {
      EXPECT_EQ(line, "layers cut mark text");
    } else if (word == "cut") {
      std::string closed;
      double length = 0.0;
      double width = 0.0;
      double height = 0.0;
      fields >> closed >> length >> width >> height;
      EXPECT_EQ(closed, "True");
      const double radius = rings < 2 ? 50.0 : 80.0;
      // Two half circles and two straight ends of a ring 22 mm wide.
      EXPECT_NEAR(length, M_PI * (2.0 * radius + 22.0) + 2.0 * 22.0, 0.1);
      EXPECT_NEAR(width, 2.0 * (radius + 22.0), kFileMm);
      EXPECT_NEAR(height, radius + 22.0, kFileMm);
      ++rings;
    } else {
      texts += line + "\n";
    }
  }
  EXPECT_EQ(rings, 4);
  EXPECT_THAT(texts, HasSubstr("5 % Ø 12 ½"));
  EXPECT_THAT(texts, HasSubstr("±"));
  EXPECT_THAT(texts, HasSubstr("T\xC3\xB6pfchen"));
}

TEST_F(FlatFiles, DxfIsPlainAscii) {
  Pattern piece = ring_pieces()[0];
  add_text(piece, "Ünïcödé \n\r 0\nEOF", {0.0, 60.0}, 3.0);
  const std::string dxf = dxf_of(on_one_sheet({piece}), {"Name\n0\nEOF", "ÄÖ"});
  EXPECT_TRUE(std::all_of(dxf.begin(), dxf.end(), [](char c) {
    return c == '\n' || (c >= ' ' && static_cast<unsigned char>(c) < 0x7F);
  }));
  EXPECT_EQ(dxf.find("\nEOF\n"), dxf.size() - 5);
}

TEST_F(FlatFiles, SvgIsDrawnAtItsSizeInItsLayers) {
  ASSERT_EQ(std::system("command -v rsvg-convert > /dev/null 2>&1"), 0)
      << "rsvg-convert is missing: install the package librsvg2-bin";
  Pattern square;
  square.paths.push_back(
      {{{0.0, 0.0}, {60.0, 0.0}, {60.0, 40.0}, {0.0, 40.0}}, PatternLine::kCut, true});
  add_text(square, "a < b & \"c\" \x01 ø", {30.0, 20.0}, 4.0);
  const Pattern sheet = on_one_sheet({square});
  const std::string svg = svg_of(sheet, {"Größe <1>", "wet & \"firm\""});
  for (const char* part : {"<g id=\"cut\"", "<g id=\"mark\"", "<g id=\"text\"",
                           "a &lt; b &amp; &quot;c&quot;", "<title>Größe &lt;1&gt;</title>"}) {
    EXPECT_THAT(svg, HasSubstr(part));
  }
  EXPECT_THAT(svg, Not(HasSubstr("\x01")));
  save("a.svg", svg);
  // 254 dots an inch are 10 a millimetre.
  constexpr double kDotMm = 0.1;
  told("rsvg-convert -d 254 -p 254 -b white '%/a.svg' -o '%/a.png'");
  told(
      "/usr/bin/python3 -c \"import sys; from PIL import Image; "
      "Image.open('%/a.png').convert('RGB').save('%/a.ppm')\"");
  std::ifstream in(folder_ / "a.ppm", std::ios::binary);
  std::string magic;
  int width = 0;
  int height = 0;
  int most = 0;
  in >> magic >> width >> height >> most;
  in.get();
  const PatternBox box = box_of(sheet);
  EXPECT_NEAR(width * kDotMm, box.width() + 10.0, 2.0 * kDotMm);
  EXPECT_NEAR(height * kDotMm, box.height() + 10.0, 2.0 * kDotMm);
  std::string pixels(static_cast<std::size_t>(3 * width * height), '\0');
  in.read(pixels.data(), static_cast<std::streamsize>(pixels.size()));
  // The cut is red: its box, its lines' middles weighed by their colour, is the square's.
  double left = 1e9;
  double right = -1e9;
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      const std::size_t at = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                                  static_cast<std::size_t>(x));
      const auto red = static_cast<unsigned char>(pixels[at]);
      const auto green = static_cast<unsigned char>(pixels[at + 1]);
      if (red < 200 || green > 140) continue;
      left = std::min(left, x * kDotMm);
      right = std::max(right, (x + 1) * kDotMm);
    }
  }
  // The line is as wide as a dot, and covers parts of one more on each side.
  EXPECT_NEAR(right - left, 60.0, 3.0 * kDotMm);
}

}  // namespace
}  // namespace potshadow
