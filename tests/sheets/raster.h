// SPDX-License-Identifier: MIT
// A page of a PDF as poppler renders it at 600 dots an inch, and what is measured in its pixels.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>

#include "sheets/drawing.h"

namespace potshadow::test {

inline constexpr double kDpi = 600.0;
inline constexpr double kPixelMm = 25.4 / kDpi;

// A grey page; (0, 0) is the top left corner of the top left pixel.
struct Raster {
  int width = 0;
  int height = 0;
  std::string pixels;

  // 0 white to 1 black.
  double darkness(int x, int y) const {
    if (x < 0 || y < 0 || x >= width || y >= height) return 0.0;
    const auto at =
        static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    return 1.0 - static_cast<unsigned char>(pixels[at]) / 255.0;
  }
};

inline int pixel(double mm) { return static_cast<int>(std::floor(mm / kPixelMm)); }

// Returns the page, counted from 1, at 600 dots an inch; its picture is left beside the PDF.
inline Raster rasterised_page(const std::filesystem::path& pdf, int page) {
  const std::string n = std::to_string(page);
  const std::string stem = (pdf.parent_path() / "page").string();
  const std::string command = "pdftoppm -r 600 -gray -singlefile -f " + n + " -l " + n + " '" +
                              pdf.string() + "' '" + stem + "'";
  EXPECT_EQ(std::system(command.c_str()), 0) << command;
  std::ifstream in(stem + ".pgm", std::ios::binary);
  std::string magic;
  int most = 0;
  Raster raster;
  in >> magic >> raster.width >> raster.height >> most;
  EXPECT_EQ(magic, "P5");
  EXPECT_EQ(most, 255);
  in.get();
  raster.pixels.resize(static_cast<std::size_t>(raster.width) *
                       static_cast<std::size_t>(raster.height));
  in.read(raster.pixels.data(), static_cast<std::streamsize>(raster.pixels.size()));
  EXPECT_TRUE(in.good());
  return raster;
}

// Length of the dark run through a place, along a row or a column, in millimetres.
inline double run_through(const Raster& raster, PagePoint at, bool down) {
  const auto dark = [&](int along) {
    return down ? raster.darkness(pixel(at.x_mm), along) : raster.darkness(along, pixel(at.y_mm));
  };
  const int start = pixel(down ? at.y_mm : at.x_mm);
  int first = start;
  int last = start;
  while (dark(first - 1) > 0.95) --first;
  while (dark(last + 1) > 0.95) ++last;
  // The pixels at both ends are partly covered.
  return (last - first + 1 + dark(first - 1) + dark(last + 1)) * kPixelMm;
}

// Middle of the nearest line within `reach` of a place, looked for along its row or column. Lines
// that cross thicker than `most_width` are something else.
inline std::optional<double> line_near(const Raster& raster, PagePoint at, double reach, bool down,
                                       double most_width = 5.0) {
  constexpr double kLine = 0.5;  // darker than any grey drawn under the lines
  const auto dark = [&](int along) {
    return down ? raster.darkness(pixel(at.x_mm), along) : raster.darkness(along, pixel(at.y_mm));
  };
  const int middle = pixel(down ? at.y_mm : at.x_mm);
  int start = middle;
  for (int off = 0; off <= pixel(reach) && dark(start) < kLine; ++off) {
    start = dark(middle - off) >= kLine ? middle - off : middle + off;
  }
  if (dark(start) < kLine) return std::nullopt;
  int first = start;
  int last = start;
  while (dark(first - 1) >= kLine) --first;
  while (dark(last + 1) >= kLine) ++last;
  if ((last - first + 1) * kPixelMm > most_width) return std::nullopt;
  double weight = 0.0;
  double sum = 0.0;
  for (int along = first - 1; along <= last + 1; ++along) {
    weight += dark(along);
    sum += dark(along) * (along + 0.5) * kPixelMm;
  }
  return sum / weight;
}

}  // namespace potshadow::test
