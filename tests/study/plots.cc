// SPDX-License-Identifier: MIT
#include "study/plots.h"

#include <cairo/cairo.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <numbers>
#include <string>

namespace potshadow::study {
namespace {

struct Colour {
  double red;
  double green;
  double blue;
};
// Okabe & Ito 2008.
constexpr Colour kInk{0.15, 0.13, 0.12};
constexpr Colour kPale{0.80, 0.78, 0.75};
constexpr Colour kBand{0.92, 0.96, 0.90};
constexpr Colour kBlue{0.00, 0.45, 0.70};
constexpr Colour kOrange{0.90, 0.62, 0.00};
constexpr Colour kVermilion{0.84, 0.37, 0.00};
constexpr std::array<Colour, 3> kThree = {kBlue, kVermilion, Colour{0.0, 0.62, 0.45}};

// A sheet of pixels with the few strokes the plots need.
class Sheet {
 public:
  Sheet(int width, int height)
      : surface_(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height),
                 cairo_surface_destroy),
        ink_(cairo_create(surface_.get()), cairo_destroy) {
    colour({1.0, 1.0, 1.0});
    cairo_paint(ink_.get());
    cairo_select_font_face(ink_.get(), "sans-serif", CAIRO_FONT_SLANT_NORMAL,
                           CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_line_width(ink_.get(), 1.5);
  }
  void colour(const Colour& c) { cairo_set_source_rgb(ink_.get(), c.red, c.green, c.blue); }
  void line(double x0, double y0, double x1, double y1) {
    cairo_move_to(ink_.get(), x0, y0);
    cairo_line_to(ink_.get(), x1, y1);
    cairo_stroke(ink_.get());
  }
  void box(double x, double y, double width, double height) {
    cairo_rectangle(ink_.get(), x, y, width, height);
    cairo_fill(ink_.get());
  }
  void dot(double x, double y, double radius) {
    cairo_arc(ink_.get(), x, y, radius, 0.0, 2.0 * std::numbers::pi);
    cairo_fill(ink_.get());
  }
  void curve(const std::vector<std::pair<double, double>>& points) {
    for (const auto& [x, y] : points) cairo_line_to(ink_.get(), x, y);
    cairo_stroke(ink_.get());
  }
  // `align` 0 starts at x, 0.5 is centred, 1 ends at x.
  void text(double x, double y, double align, const std::string& words, double size = 13.0) {
    cairo_set_font_size(ink_.get(), size);
    cairo_text_extents_t extents;
    cairo_text_extents(ink_.get(), words.c_str(), &extents);
    cairo_move_to(ink_.get(), x - align * extents.x_advance, y);
    cairo_show_text(ink_.get(), words.c_str());
  }
  bool save(const std::filesystem::path& file) {
    return cairo_surface_write_to_png(surface_.get(), file.c_str()) == CAIRO_STATUS_SUCCESS;
  }

 private:
  std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface_;
  std::unique_ptr<cairo_t, decltype(&cairo_destroy)> ink_;
};

std::string short_number(double value, const char* form) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), form, value);
  return text.data();
}

// A level axis with grid lines and their values.
struct Axis {
  double left;
  double right;
  double low;
  double high;
  double at(double value) const {
    return left + (right - left) * (std::clamp(value, low, high) - low) / (high - low);
  }
};

void draw_axis(Sheet& sheet, const Axis& axis, double top, double bottom, double step,
               const char* form) {
  for (double v = axis.low; v <= axis.high + 1e-9; v += step) {
    sheet.colour(kPale);
    sheet.line(axis.at(v), top, axis.at(v), bottom);
    sheet.colour(kInk);
    sheet.text(axis.at(v), bottom + 18.0, 0.5, short_number(v, form));
  }
}

constexpr double kRow = 34.0;
constexpr double kTop = 56.0;
constexpr double kNames = 190.0;

bool draw_coverage(const std::filesystem::path& file, const Figures& figures) {
  const double bottom = kTop + kRow * static_cast<double>(kSizeCount);
  Sheet sheet(900, static_cast<int>(bottom) + 56);
  const Axis axis{kNames, 780.0, 84.0, 100.0};
  sheet.colour(kBand);
  sheet.box(axis.at(93.0), kTop, axis.at(97.0) - axis.at(93.0), bottom - kTop);
  draw_axis(sheet, axis, kTop, bottom, 2.0, "%.0f");
  sheet.colour(kOrange);
  sheet.line(axis.at(95.0), kTop, axis.at(95.0), bottom);
  sheet.colour(kInk);
  sheet.text(20.0, 30.0, 0.0, "Truth within the 95 % interval, in percent, with 95 % bounds", 16.0);
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    const SizeFigures& f = figures.all.sizes[i];
    const double y = kTop + kRow * (static_cast<double>(i) + 0.5);
    sheet.colour(kInk);
    sheet.text(20.0, y + 5.0, 0.0, std::string(size_words(f.name)));
    sheet.text(880.0, y + 5.0, 1.0,
               std::to_string(f.covered.hits) + "/" + std::to_string(f.covered.of));
    if (f.covered.of == 0) continue;
    sheet.colour(kBlue);
    sheet.line(axis.at(100.0 * f.covered.low()), y, axis.at(100.0 * f.covered.high()), y);
    sheet.dot(axis.at(100.0 * f.covered.part()), y, 5.0);
  }
  return sheet.save(file);
}

bool draw_errors(const std::filesystem::path& file, const std::vector<Trial>& trials) {
  constexpr int kBins = 33;
  constexpr double kReach = 4.125;  // sd; what is farther off stands in the outermost bins
  constexpr double kWide = 300.0;
  constexpr double kHigh = 190.0;
  Sheet sheet(1240, 500);
  sheet.colour(kInk);
  sheet.text(20.0, 28.0, 0.0,
             "Error over its stated standard deviation, and the normal curve (outermost bins: all "
             "beyond 4)",
             16.0);
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    std::array<double, kBins> count{};
    double total = 0.0;
    for (const Trial& trial : trials) {
      if (!trial.answered) continue;
      const SizeResult& size = trial.sizes[i];
      if (!size.both() || !(size.found->sd > 0.0)) continue;
      const double z = (size.found->value - *size.truth) / size.found->sd;
      const double place = (z + kReach) / (2.0 * kReach) * kBins;
      const int bin = static_cast<int>(std::clamp(place, 0.0, kBins - 1.0));
      count[static_cast<std::size_t>(bin)] += 1.0;
      total += 1.0;
    }
    const double left = 30.0 + kWide * static_cast<double>(i % 4);
    const double bottom = 50.0 + kHigh + 215.0 * static_cast<double>(i / 4);
    const Axis axis{left, left + kWide - 40.0, -kReach, kReach};
    const double step = 2.0 * kReach / kBins;
    constexpr double kScale = 270.0;  // pixels for a density of 1
    sheet.colour(kPale);
    if (total > 0.0) {
      for (int b = 0; b < kBins; ++b) {
        const double tall =
            std::min(kHigh - 24.0, kScale * count[static_cast<std::size_t>(b)] / total / step);
        sheet.box(axis.at(-kReach + step * b), bottom - tall,
                  (axis.right - axis.left) / kBins - 1.0, tall);
      }
    }
    std::vector<std::pair<double, double>> curve;
    for (double z = -kReach; z <= kReach; z += 0.05) {
      const double density = std::exp(-z * z / 2.0) / std::sqrt(2.0 * std::numbers::pi);
      curve.emplace_back(axis.at(z), bottom - kScale * density);
    }
    sheet.colour(kBlue);
    sheet.curve(curve);
    sheet.colour(kInk);
    sheet.line(axis.left, bottom, axis.right, bottom);
    for (const double z : {-4.0, -2.0, 0.0, 2.0, 4.0}) {
      sheet.text(axis.at(z), bottom + 15.0, 0.5, short_number(z, "%.0f"), 11.0);
    }
    sheet.text(left, bottom - kHigh + 16.0, 0.0,
               std::string(size_words(static_cast<SizeName>(i))) + " (" +
                   short_number(total, "%.0f") + ")");
  }
  return sheet.save(file);
}

bool draw_bound(const std::filesystem::path& file, const Figures& figures) {
  const double bottom = kTop + kRow * static_cast<double>(kSizeCount);
  Sheet sheet(900, static_cast<int>(bottom) + 80);
  const Axis axis{kNames, 780.0, 0.6, 2.0};
  draw_axis(sheet, axis, kTop, bottom, 0.2, "%.1f");
  sheet.colour(kOrange);
  sheet.line(axis.at(1.15), kTop, axis.at(1.15), bottom);
  sheet.colour(kInk);
  sheet.line(axis.at(1.0), kTop, axis.at(1.0), bottom);
  sheet.text(20.0, 30.0, 0.0, "Root-mean-square error over the Cramer-Rao bound", 16.0);
  sheet.text(20.0, bottom + 50.0, 0.0,
             "Filled: plain; ring: robust (1.4826 times the median); orange line: 1.15; at the "
             "right edge: 2 or more");
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    const SizeFigures& f = figures.all.sizes[i];
    const double y = kTop + kRow * (static_cast<double>(i) + 0.5);
    sheet.colour(kInk);
    sheet.text(20.0, y + 5.0, 0.0, std::string(size_words(f.name)));
    if (f.with_bound == 0) continue;
    sheet.text(880.0, y + 5.0, 1.0,
               short_number(f.to_bound, "%.2f") + "; " + short_number(f.to_bound_robust, "%.2f"));
    sheet.colour(kVermilion);
    sheet.dot(axis.at(f.to_bound_robust), y, 6.0);
    sheet.colour({1.0, 1.0, 1.0});
    sheet.dot(axis.at(f.to_bound_robust), y, 4.0);
    sheet.colour(kBlue);
    sheet.dot(axis.at(f.to_bound), y, 4.0);
  }
  return sheet.save(file);
}

bool draw_widths(const std::filesystem::path& file, const Figures& figures) {
  constexpr double kNarrow = 24.0;
  const double bottom = kTop + kNarrow * static_cast<double>(figures.groups.size());
  Sheet sheet(1000, static_cast<int>(bottom) + 80);
  // Even in the logarithm.
  const Axis axis{kNames + 30.0, 960.0, std::log10(0.2), std::log10(50.0)};
  for (const double v : {0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0}) {
    sheet.colour(kPale);
    sheet.line(axis.at(std::log10(v)), kTop, axis.at(std::log10(v)), bottom);
    sheet.colour(kInk);
    sheet.text(axis.at(std::log10(v)), bottom + 18.0, 0.5, short_number(v, "%g"));
  }
  sheet.text(20.0, 30.0, 0.0,
             "Half the 95 % interval, in percent of the size: median by the reference's kind and "
             "place",
             16.0);
  constexpr std::array<SizeName, 3> kNamesShown = {SizeName::kHeight, SizeName::kMaxDiameter,
                                                   SizeName::kRimDiameter};
  for (std::size_t k = 0; k < kNamesShown.size(); ++k) {
    const double x = 60.0 + 240.0 * static_cast<double>(k);
    sheet.colour(kThree[k]);
    sheet.dot(x, bottom + 46.0, 5.0);
    sheet.colour(kInk);
    sheet.text(x + 14.0, bottom + 51.0, 0.0, std::string(size_words(kNamesShown[k])));
  }
  for (std::size_t g = 0; g < figures.groups.size(); ++g) {
    const Group& group = figures.groups[g];
    const double y = kTop + kNarrow * (static_cast<double>(g) + 0.5);
    sheet.colour(kInk);
    sheet.text(20.0, y + 5.0, 0.0,
               group.kind + " " + group.place + " (" + std::to_string(group.scenes) + ")");
    for (std::size_t k = 0; k < kNamesShown.size(); ++k) {
      const SizeFigures& f = group.sizes[static_cast<std::size_t>(kNamesShown[k])];
      if (f.covered.of == 0) continue;
      sheet.colour(kThree[k]);
      sheet.dot(axis.at(std::log10(std::max(f.width_percent, 0.2))), y, 5.0);
    }
  }
  return sheet.save(file);
}

}  // namespace

bool write_plots(const std::filesystem::path& folder, const std::vector<Trial>& trials,
                 const Figures& figures) {
  return draw_coverage(folder / kPlotFiles[0], figures) &&
         draw_errors(folder / kPlotFiles[1], trials) &&
         draw_bound(folder / kPlotFiles[2], figures) &&
         draw_widths(folder / kPlotFiles[3], figures);
}

}  // namespace potshadow::study
