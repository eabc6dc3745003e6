// SPDX-License-Identifier: MIT
#include "core/printable.h"
#include "core/text.h"
#include "exports/flat_files.h"

namespace potshadow {
namespace {

constexpr double kRoundMm = 5.0;  // white round the pieces
constexpr int kDecimals = 4;

std::string number(double value) { return fixed_text(value, kDecimals); }

std::string escaped(const std::string& words) {
  std::string out;
  for (const char c : printable_text(words)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

class SvgWriter {
 public:
  explicit SvgWriter(const Pattern& sheet) : sheet_(sheet), box_(box_of(sheet)) {}

  std::string write(const FlatWords& words) {
    const double width = box_.width() + 2.0 * kRoundMm;
    const double height = box_.height() + 2.0 * kRoundMm;
    out_ = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    out_ += "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"" + number(width) +
            "mm\" height=\"" + number(height) + "mm\" viewBox=\"0 0 " + number(width) + " " +
            number(height) + "\">\n";
    out_ += "<title>" + escaped(words.title) + "</title>\n";
    out_ += "<desc>" + escaped(words.about) + "</desc>\n";
    layer("mark", "stroke=\"#0000ff\" stroke-width=\"0.18\" fill=\"none\"");
    areas();
    paths(false);
    out_ += "</g>\n";
    layer("text", "fill=\"#000000\" font-family=\"Inter, DejaVu Sans, sans-serif\"");
    texts();
    out_ += "</g>\n";
    // Last, so that a machine that keeps the order cuts when all else is done.
    layer("cut", "stroke=\"#ff0000\" stroke-width=\"0.1\" fill=\"none\"");
    paths(true);
    out_ += "</g>\n</svg>\n";
    return std::move(out_);
  }

 private:
  void layer(const std::string& name, const std::string& style) {
    out_ += "<g id=\"" + name + "\" " + style + ">\n";
  }

  std::string place(const PatternPoint& p) const {
    return number(p.x_mm - box_.left_mm + kRoundMm) + " " + number(box_.top_mm - p.y_mm + kRoundMm);
  }

  void path(const std::vector<PatternPoint>& points, bool closed, const std::string& style) {
    out_ += "<path d=\"M";
    for (std::size_t i = 0; i < points.size(); ++i) {
      out_ += (i == 0 ? "" : i == 1 ? " L" : " ") + place(points[i]);
    }
    out_ += std::string(closed ? " Z" : "") + "\"" + style + "/>\n";
  }

  void areas() {
    for (const PatternArea& area : sheet_.areas) {
      path(area.points, true,
           area.solid ? " fill=\"#000000\" stroke=\"none\"" : " stroke-dasharray=\"1 1\"");
    }
  }

  void paths(bool cut) {
    for (const PatternPath& p : sheet_.paths) {
      if ((p.line == PatternLine::kCut) != cut) continue;
      std::string style;
      if (p.line == PatternLine::kBold) style = " stroke-width=\"0.35\"";
      if (p.line == PatternLine::kDashed) {
        style = " stroke-width=\"0.35\" stroke-dasharray=\"2.4 1.2\"";
      }
      if (p.line == PatternLine::kFaint) style = " stroke-width=\"0.1\"";
      if (p.line == PatternLine::kCentre) style = " stroke-dasharray=\"7 1.4 0.8 1.4\"";
      path(p.points, p.closed, style);
    }
  }

  void texts() {
    for (const PatternText& text : sheet_.texts) {
      std::string style = " font-size=\"" + number(text.size_mm) + "\"";
      if (text.align == PatternAlign::kCentre) style += " text-anchor=\"middle\"";
      if (text.align == PatternAlign::kRight) style += " text-anchor=\"end\"";
      if (text.bold) style += " font-weight=\"bold\"";
      out_ += "<text transform=\"translate(" + place(text.at) + ")" +
              (text.upwards ? " rotate(-90)" : "") + "\"" + style + ">" + escaped(text.words) +
              "</text>\n";
    }
  }

  const Pattern& sheet_;
  PatternBox box_;
  std::string out_;
};

}  // namespace

std::string svg_of(const Pattern& sheet, const FlatWords& words) {
  return SvgWriter(sheet).write(words);
}

}  // namespace potshadow
