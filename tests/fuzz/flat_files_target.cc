// SPDX-License-Identifier: MIT
// SVG and DXF of patterns with hostile names and texts, read back by small strict readers.
#include <algorithm>
#include <cctype>
#include <vector>

#include "core/printable.h"
#include "exports/flat_files.h"
#include "fuzz/must.h"

namespace {

using namespace potshadow;
using fuzz::must;

// Takes a tag that begins after '<' off the text, and keeps the list of those that are open.
void read_tag(std::string_view& text, std::vector<std::string>& open) {
  const bool closes = text.starts_with('/');
  if (closes) text.remove_prefix(1);
  std::size_t end = 0;
  while (end < text.size() && (std::isalnum(static_cast<unsigned char>(text[end])) != 0 ||
                               text[end] == ':' || text[end] == '-')) {
    ++end;
  }
  must(end > 0, "a tag of the SVG has a name");
  const std::string name(text.substr(0, end));
  text.remove_prefix(end);
  while (true) {
    must(!text.empty(), "a tag of the SVG ends");
    if (text.starts_with("/>")) {
      text.remove_prefix(2);
      return;
    }
    const char letter = text.front();
    text.remove_prefix(1);
    if (letter == '>') break;
    must(letter != '<', "no tag of the SVG begins in another");
    if (letter != '"') continue;
    const std::size_t close = text.find('"');
    must(close != std::string_view::npos, "an attribute of the SVG ends");
    must(text.substr(0, close).find('<') == std::string_view::npos, "an attribute holds no tag");
    text.remove_prefix(close + 1);
  }
  if (!closes) {
    open.push_back(name);
    return;
  }
  must(!open.empty() && open.back() == name, "tags of the SVG close in their order");
  open.pop_back();
}

void read_svg(std::string_view text) {
  must(printable_text(text).find('?') == std::string::npos ||
           std::count(text.begin(), text.end(), '?') > 0,
       "the SVG is UTF-8");
  for (const char letter : text) {
    must(static_cast<unsigned char>(letter) >= 32 || letter == '\n',
         "the SVG has no control marks");
  }
  if (text.starts_with("<?xml")) text.remove_prefix(text.find("?>") + 2);
  std::vector<std::string> open;
  while (!text.empty()) {
    const char letter = text.front();
    text.remove_prefix(1);
    if (letter == '<') {
      read_tag(text, open);
    } else if (letter == '&') {
      const std::string_view name = text.substr(0, text.find(';'));
      must(name == "amp" || name == "lt" || name == "gt" || name == "quot" || name == "apos",
           "every & of the SVG begins a known name");
    }
  }
  must(open.empty(), "every tag of the SVG is closed");
}

// Pairs of lines: a whole number that says what the next line is.
void read_dxf(std::string_view text) {
  bool is_code = true;
  std::string last;
  std::size_t lines = 0;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    must(end != std::string_view::npos, "the DXF ends with a line's end");
    std::string line(text.substr(0, end));
    text.remove_prefix(end + 1);
    if (line.ends_with('\r')) line.pop_back();
    for (const char letter : line) must(letter >= 32 && letter < 127, "the DXF is plain ASCII");
    constexpr std::size_t kMostLetters = 255;  // of a text in release 12
    must(line.size() <= kMostLetters, "no line of the DXF is too long");
    if (is_code) {
      const std::size_t digit = line.find_first_not_of(' ');
      must(digit != std::string::npos &&
               std::all_of(line.begin() + static_cast<long>(digit), line.end(),
                           [](unsigned char c) { return std::isdigit(c) != 0; }),
           "what stands before a value of the DXF is a number");
    }
    is_code = !is_code;
    last = line;
    ++lines;
  }
  must(lines % 2 == 0 && last == "EOF", "the DXF is whole");
}

Pattern pattern_from(fuzz::Bytes& bytes) {
  Pattern pattern{bytes.text()};
  pattern.paths.push_back({{{0, 0}, {10, 0}, {10, 20}}, PatternLine::kCut, true});
  const unsigned parts = bytes.byte() % 8;
  for (unsigned i = 0; i < parts; ++i) {
    const unsigned kind = bytes.byte();
    if (kind % 3 == 0) {
      PatternPath path{{}, static_cast<PatternLine>(kind / 3 % 6), kind > 127};
      for (unsigned points = 1 + bytes.byte() % 6; points > 0; --points) {
        path.points.push_back({bytes.number(), bytes.number()});
      }
      pattern.paths.push_back(path);
    } else if (kind % 3 == 1) {
      PatternArea area{{}, kind > 127};
      for (unsigned points = 3 + bytes.byte() % 6; points > 0; --points) {
        area.points.push_back({bytes.number(), bytes.number()});
      }
      pattern.areas.push_back(area);
    } else {
      PatternText& text = add_text(pattern, bytes.text(), {bytes.number(), bytes.number()}, 2.8);
      text.bold = kind > 127;
      text.upwards = kind % 2 == 0;
    }
  }
  return pattern;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::Bytes bytes(data, size);
  const FlatWords words{bytes.text(), bytes.text()};
  std::vector<Pattern> pieces{pattern_from(bytes)};
  while (!bytes.empty() && pieces.size() < 4) pieces.push_back(pattern_from(bytes));
  const Pattern sheet = on_one_sheet(pieces);
  read_svg(svg_of(sheet, words));
  read_dxf(dxf_of(sheet, words));
  return 0;
}
