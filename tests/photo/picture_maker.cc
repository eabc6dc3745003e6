// SPDX-License-Identifier: MIT
#include "photo/picture_maker.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <iterator>
#include <opencv2/imgcodecs.hpp>
#include <utility>
#include <vector>

namespace potshadow::testing {
namespace {

std::string number(std::uint64_t value, unsigned bytes, bool big) {
  std::string text;
  for (unsigned i = 0; i < bytes; ++i) {
    const unsigned shift = 8 * (big ? bytes - 1 - i : i);
    text += static_cast<char>((value >> shift) & 0xFFU);
  }
  return text;
}

// One TIFF entry: tag, type, count and the value's bytes.
struct Entry {
  std::uint16_t tag = 0;
  std::uint16_t type = 0;
  std::uint32_t count = 0;
  std::string value;
};

Entry short_entry(std::uint16_t tag, std::uint64_t value, bool big) {
  return {tag, 3, 1, number(value, 2, big)};
}
Entry long_entry(std::uint16_t tag, std::uint64_t value, bool big) {
  return {tag, 4, 1, number(value, 4, big)};
}
Entry ratio_entry(std::uint16_t tag, std::uint64_t over, std::uint64_t under, bool big) {
  return {tag, 5, 1, number(over, 4, big) + number(under, 4, big)};
}

// Returns a directory that begins at `at`, with its longer values behind it.
std::string directory(const std::vector<Entry>& entries, std::size_t at, bool big) {
  std::string table = number(entries.size(), 2, big);
  std::string values;
  const std::size_t values_at = at + 2 + 12 * entries.size() + 4;
  for (const Entry& entry : entries) {
    table += number(entry.tag, 2, big) + number(entry.type, 2, big) + number(entry.count, 4, big);
    if (entry.value.size() <= 4) {
      table += entry.value + std::string(4 - entry.value.size(), '\0');
    } else {
      table += number(values_at + values.size(), 4, big);
      values += entry.value;
      if (values.size() % 2 != 0) values += '\0';
    }
  }
  return table + number(0, 4, big) + values;
}

// The check sum of PNG chunks. Source: PNG, third edition, annex D.
std::uint32_t crc32(std::string_view bytes) {
  std::uint32_t crc = 0xFFFFFFFFU;
  for (const char c : bytes) {
    crc ^= static_cast<unsigned char>(c);
    for (int bit = 0; bit < 8; ++bit) crc = (crc & 1U) != 0 ? 0xEDB88320U ^ (crc >> 1U) : crc >> 1U;
  }
  return ~crc;
}

std::string png_chunk(const std::string& type, const std::string& data) {
  return number(data.size(), 4, true) + type + data + number(crc32(type + data), 4, true);
}

std::string riff_chunk(const std::string& type, const std::string& data) {
  std::string chunk = type + number(data.size(), 4, false) + data;
  if (data.size() % 2 != 0) chunk += '\0';
  return chunk;
}

constexpr std::size_t kPngHeaderEnd = 8 + 25;  // signature and IHDR

}  // namespace

cv::Mat four_fields() {
  cv::Mat picture(kHigh, kWide, CV_8UC3, cv::Scalar(120, 120, 120));
  const int x = kWide / 2;
  const int y = kHigh / 2;
  picture(cv::Rect(0, 0, x, y)).setTo(cv::Scalar(20, 20, 200));
  picture(cv::Rect(x, 0, x, y)).setTo(cv::Scalar(20, 160, 20));
  picture(cv::Rect(0, y, x, y)).setTo(cv::Scalar(200, 30, 30));
  return picture;
}

std::string fields_of(const cv::Mat& bgr) {
  std::string fields;
  for (const int row : {1, 3}) {
    for (const int column : {1, 3}) {
      const auto pixel = bgr.at<cv::Vec3b>(row * bgr.rows / 4, column * bgr.cols / 4);
      const int b = pixel[0];
      const int g = pixel[1];
      const int r = pixel[2];
      // Wide bounds: lossy kinds and CMYK shift colours a little.
      if (r > 150 && g < 90 && b < 90) {
        fields += 'R';
      } else if (g > 120 && r < 90 && b < 90) {
        fields += 'G';
      } else if (b > 150 && r < 90 && g < 90) {
        fields += 'B';
      } else if (std::abs(r - g) < 25 && std::abs(g - b) < 25 && r > 80 && r < 160) {
        fields += 'y';
      } else {
        fields += '?';
      }
    }
  }
  return fields;
}

// EXIF 2.32, tag Orientation: "the 0th row is the visual top, the 0th column the visual left" and
// so on, written out pixel by pixel.
cv::Mat stored_under(const cv::Mat& upright, int orientation) {
  const bool sideways = orientation >= 5;
  const int rows = sideways ? upright.cols : upright.rows;
  const int columns = sideways ? upright.rows : upright.cols;
  const int right = upright.cols - 1;
  const int bottom = upright.rows - 1;
  cv::Mat stored(rows, columns, CV_8UC3);
  for (int r = 0; r < rows; ++r) {
    for (int c = 0; c < columns; ++c) {
      cv::Point from;  // x, y in the upright picture
      switch (orientation) {
        case 1:
          from = {c, r};
          break;  // row 0 top, column 0 left
        case 2:
          from = {right - c, r};
          break;  // top, right
        case 3:
          from = {right - c, bottom - r};
          break;  // bottom, right
        case 4:
          from = {c, bottom - r};
          break;  // bottom, left
        case 5:
          from = {r, c};
          break;  // left, top
        case 6:
          from = {right - r, c};
          break;  // right, top
        case 7:
          from = {right - r, bottom - c};
          break;  // right, bottom
        default:
          from = {r, bottom - c};
          break;  // left, bottom
      }
      stored.at<cv::Vec3b>(r, c) = upright.at<cv::Vec3b>(from);
    }
  }
  return stored;
}

std::string encoded(const cv::Mat& picture, const std::string& extension) {
  std::vector<uchar> bytes;
  std::vector<int> settings;
  if (extension == ".jpg") settings = {cv::IMWRITE_JPEG_QUALITY, 95};
  if (extension == ".webp") settings = {cv::IMWRITE_WEBP_QUALITY, 90};
  EXPECT_TRUE(cv::imencode(extension, picture, bytes, settings));
  return {bytes.begin(), bytes.end()};
}

std::string exif_block(const ExifWish& wish) {
  const bool big = wish.big_endian;
  std::vector<Entry> main;
  if (!wish.make.empty()) {
    main.push_back({0x010F, 2, static_cast<std::uint32_t>(wish.make.size() + 1), wish.make + '\0'});
  }
  main.push_back(short_entry(0x0112, static_cast<std::uint64_t>(wish.orientation), big));
  std::vector<Entry> exif;
  if (wish.subject_mm) exif.push_back(ratio_entry(0x9206, *wish.subject_mm, 1000, big));
  if (wish.focal_um) exif.push_back(ratio_entry(0x920A, *wish.focal_um, 1000, big));
  if (wish.pixel_width) exif.push_back(long_entry(0xA002, *wish.pixel_width, big));
  if (wish.pixel_height) exif.push_back(long_entry(0xA003, *wish.pixel_height, big));
  if (wish.plane_per_unit) {
    exif.push_back(ratio_entry(0xA20E, *wish.plane_per_unit, 1, big));
    exif.push_back(ratio_entry(0xA20F, *wish.plane_per_unit, 1, big));
    exif.push_back(short_entry(0xA210, wish.plane_unit, big));
  }
  if (wish.zoom_hundredths) exif.push_back(ratio_entry(0xA404, *wish.zoom_hundredths, 100, big));
  if (wish.focal_35mm) exif.push_back(short_entry(0xA405, *wish.focal_35mm, big));
  main.push_back(long_entry(0x8769, 0, big));
  const std::size_t exif_at = 8 + directory(main, 8, big).size();
  main.back() = long_entry(0x8769, exif_at, big);
  std::string block = big ? "MM" : "II";
  block += number(42, 2, big) + number(8, 4, big);
  return block + directory(main, 8, big) + directory(exif, exif_at, big);
}

std::string jpeg_with_exif(const std::string& jpeg, const std::string& block) {
  const std::string content = std::string("Exif\0\0", 6) + block;
  return jpeg.substr(0, 2) + "\xFF\xE1" + number(content.size() + 2, 2, true) + content +
         jpeg.substr(2);
}

std::string png_with_exif(const std::string& png, const std::string& block) {
  return png.substr(0, kPngHeaderEnd) + png_chunk("eXIf", block) + png.substr(kPngHeaderEnd);
}

std::string webp_with_exif(const std::string& webp, const std::string& block, int width,
                           int height) {
  constexpr unsigned kHasExif = 0x08;
  const std::string extended = number(kHasExif, 4, false) +
                               number(static_cast<std::uint64_t>(width - 1), 3, false) +
                               number(static_cast<std::uint64_t>(height - 1), 3, false);
  const std::string body =
      "WEBP" + riff_chunk("VP8X", extended) + webp.substr(12) + riff_chunk("EXIF", block);
  return "RIFF" + number(body.size(), 4, false) + body;
}

std::string tiff_with_exif(const cv::Mat& bgr, int orientation, std::uint16_t focal_35mm) {
  std::string pixels;
  for (int row = 0; row < bgr.rows; ++row) {
    for (int column = 0; column < bgr.cols; ++column) {
      const auto& pixel = bgr.at<cv::Vec3b>(row, column);
      for (const int channel : {2, 1, 0}) pixels += static_cast<char>(pixel[channel]);
    }
  }
  // The directories stand behind the pixels, as most programs write them.
  const bool big = false;
  const std::size_t main_at = 8 + pixels.size();
  std::string bits;
  for (int i = 0; i < 3; ++i) bits += number(8, 2, big);
  std::vector<Entry> main{
      long_entry(0x0100, static_cast<std::uint64_t>(bgr.cols), big),
      long_entry(0x0101, static_cast<std::uint64_t>(bgr.rows), big),
      Entry{0x0102, 3, 3, bits},
      short_entry(0x0103, 1, big),  // no compression
      short_entry(0x0106, 2, big),  // RGB
      long_entry(0x0111, 8, big),
      short_entry(0x0112, static_cast<std::uint64_t>(orientation), big),
      short_entry(0x0115, 3, big),
      long_entry(0x0116, static_cast<std::uint64_t>(bgr.rows), big),
      long_entry(0x0117, pixels.size(), big),
      long_entry(0x8769, 0, big),
  };
  const std::size_t exif_at = main_at + directory(main, main_at, big).size();
  main.back() = long_entry(0x8769, exif_at, big);
  const std::vector<Entry> exif{short_entry(0xA405, focal_35mm, big)};
  return "II" + number(42, 2, big) + number(main_at, 4, big) + pixels +
         directory(main, main_at, big) + directory(exif, exif_at, big);
}

std::string png_header_only(std::uint32_t width, std::uint32_t height) {
  const std::string header =
      number(width, 4, true) + number(height, 4, true) + std::string("\x08\x02\0\0\0", 5);
  return "\x89PNG\r\n\x1a\n" + png_chunk("IHDR", header) + png_chunk("IDAT", "") +
         png_chunk("IEND", "");
}

std::string picture_file(const std::string& extension, const cv::Mat& stored,
                         const ExifWish& wish) {
  if (extension == ".tif") {
    return tiff_with_exif(stored, wish.orientation, wish.focal_35mm.value_or(0));
  }
  const std::string plain = encoded(stored, extension);
  const std::string block = exif_block(wish);
  if (extension == ".jpg") return jpeg_with_exif(plain, block);
  if (extension == ".png") return png_with_exif(plain, block);
  return webp_with_exif(plain, block, stored.cols, stored.rows);
}

std::filesystem::path data_path(const std::string& name) {
  return std::filesystem::path(POTSHADOW_SOURCE_DIR) / "tests" / "photo" / "data" / name;
}

std::string file_bytes(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  EXPECT_TRUE(file.good()) << path;
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

TemporaryFile::TemporaryFile(const std::string& name, std::string_view bytes)
    : path_(std::filesystem::path(::testing::TempDir()) /
            (std::to_string(::getpid()) + "-" + name)) {
  std::ofstream(path_, std::ios::binary)
      .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

TemporaryFile::~TemporaryFile() {
  std::error_code ignored;
  std::filesystem::remove(path_, ignored);
}

}  // namespace potshadow::testing
