// SPDX-License-Identifier: MIT
#include <array>

#include "core/printable.h"
#include "core/text.h"
#include "exports/flat_files.h"

namespace potshadow {
namespace {

constexpr int kDecimals = 4;

std::string ascii_of(const std::string& words) {
  std::string out;
  for (const char32_t c : printable_points(words)) {
    if (c == U'±') {
      out += "%%p";
    } else if (c == U'ø' || c == U'⌀') {
      out += "%%c";
    } else if (c == U'·' || c == U'–') {
      out += "-";
    } else if (c == U'%' && out.ends_with('%')) {
      out += " %";  // two of them would begin a code
    } else if (c < 0x7F) {
      out.push_back(static_cast<char>(c));
    } else if (c > 0xFFFF) {
      out.push_back('?');
    } else {
      constexpr const char* kDigits = "0123456789ABCDEF";
      out += "\\U+";
      for (const unsigned shift : {12U, 8U, 4U, 0U}) out.push_back(kDigits[(c >> shift) & 0xFU]);
    }
  }
  return out;
}

class DxfWriter {
 public:
  explicit DxfWriter(const Pattern& sheet) : sheet_(sheet), box_(box_of(sheet)) {}

  std::string write(const FlatWords& words) {
    put(999, ascii_of(words.title));
    put(999, ascii_of(words.about));
    header();
    tables();
    put(0, "SECTION");
    put(2, "ENTITIES");
    for (const PatternArea& area : sheet_.areas) polyline(area.points, true, "mark");
    for (const PatternPath& path : sheet_.paths) {
      polyline(path.points, path.closed, path.line == PatternLine::kCut ? "cut" : "mark");
    }
    for (const PatternText& text : sheet_.texts) write_text(text);
    put(0, "ENDSEC");
    put(0, "EOF");
    return std::move(out_);
  }

 private:
  void put(int code, const std::string& value) {
    out_ += pad_left(std::to_string(code), 3) + "\n" + value + "\n";
  }
  void put(int code, double value) { put(code, fixed_text(value, kDecimals)); }
  void put_point(int code, const PatternPoint& p) {
    put(code, p.x_mm);
    put(code + 10, p.y_mm);
    put(code + 20, 0.0);
  }

  void header() {
    put(0, "SECTION");
    put(2, "HEADER");
    put(9, "$ACADVER");
    put(1, "AC1009");
    put(9, "$INSUNITS");  // millimetres
    put(70, "4");
    put(9, "$MEASUREMENT");  // metric
    put(70, "1");
    put(9, "$EXTMIN");
    put_point(10, {box_.left_mm, box_.bottom_mm});
    put(9, "$EXTMAX");
    put_point(10, {box_.right_mm, box_.top_mm});
    put(0, "ENDSEC");
  }

  void tables() {
    put(0, "SECTION");
    put(2, "TABLES");
    put(0, "TABLE");
    put(2, "LTYPE");
    put(70, "1");
    put(0, "LTYPE");
    put(2, "CONTINUOUS");
    put(70, "0");
    put(3, "Solid line");
    put(72, "65");
    put(73, "0");
    put(40, 0.0);
    put(0, "ENDTAB");
    struct Layer {
      const char* name;
      const char* colour;
    };
    constexpr std::array<Layer, 3> kLayers{{{"cut", "1"}, {"mark", "5"}, {"text", "7"}}};
    put(0, "TABLE");
    put(2, "LAYER");
    put(70, std::to_string(kLayers.size()));
    for (const Layer& layer : kLayers) {
      put(0, "LAYER");
      put(2, layer.name);
      put(70, "0");
      put(62, layer.colour);
      put(6, "CONTINUOUS");
    }
    put(0, "ENDTAB");
    put(0, "TABLE");
    put(2, "STYLE");
    put(70, "1");
    put(0, "STYLE");
    put(2, "STANDARD");
    put(70, "0");
    put(40, 0.0);
    put(41, 1.0);
    put(50, 0.0);
    put(71, "0");
    put(42, 2.5);
    put(3, "txt");
    put(4, "");
    put(0, "ENDTAB");
    put(0, "ENDSEC");
  }

  void polyline(const std::vector<PatternPoint>& points, bool closed, const std::string& layer) {
    put(0, "POLYLINE");
    put(8, layer);
    put(66, "1");
    put_point(10, {});
    put(70, closed ? "1" : "0");
    for (const PatternPoint& p : points) {
      put(0, "VERTEX");
      put(8, layer);
      put_point(10, p);
    }
    put(0, "SEQEND");
    put(8, layer);
  }

  void write_text(const PatternText& text) {
    if (text.words.empty()) return;
    put(0, "TEXT");
    put(8, "text");
    put_point(10, text.at);
    // Letters are as high as the size of a type says of its capitals, some 0.73 of it.
    constexpr double kCapitals = 0.73;
    put(40, kCapitals * text.size_mm);
    put(1, ascii_of(text.words));
    put(50, text.upwards ? 90.0 : 0.0);
    put(7, "STANDARD");
    if (text.align == PatternAlign::kLeft) return;
    put(72, text.align == PatternAlign::kCentre ? "1" : "2");
    put_point(11, text.at);
  }

  const Pattern& sheet_;
  PatternBox box_;
  std::string out_;
};

}  // namespace

std::string dxf_of(const Pattern& sheet, const FlatWords& words) {
  return DxfWriter(sheet).write(words);
}

}  // namespace potshadow
