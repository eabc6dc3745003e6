// SPDX-License-Identifier: MIT
// Makes small picture files for the tests: known colours, hand-built EXIF, any orientation.
#pragma once

#include <cstdint>
#include <filesystem>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <string_view>

namespace potshadow::testing {

// Sides of the upright test picture: red, green above blue, grey; not square, so that a quarter
// turn shows in the sides.
inline constexpr int kWide = 48;
inline constexpr int kHigh = 32;

cv::Mat four_fields();

// Returns the colours of the middles of the four fields, row by row: "RGBy" for an upright picture,
// '?' for any other colour.
std::string fields_of(const cv::Mat& bgr);

// Returns the picture as a camera stores it under an EXIF orientation.
cv::Mat stored_under(const cv::Mat& upright, int orientation);

// Returns `picture` encoded by OpenCV; `extension` is ".jpg", ".png", ".webp" or ".tif".
std::string encoded(const cv::Mat& picture, const std::string& extension);

struct ExifWish {
  int orientation = 1;
  std::optional<std::uint16_t> focal_35mm;
  std::optional<std::uint32_t> focal_um;        // FocalLength, thousandths of a millimetre
  std::optional<std::uint32_t> plane_per_unit;  // both focal-plane resolutions
  std::uint16_t plane_unit = 2;                 // 2 inch, 3 cm
  std::optional<std::uint32_t> subject_mm;
  std::optional<std::uint32_t> zoom_hundredths;
  std::optional<std::uint32_t> pixel_width;
  std::optional<std::uint32_t> pixel_height;
  std::string make;
  bool big_endian = true;
};

// Returns an EXIF block from its TIFF header on.
std::string exif_block(const ExifWish& wish);

// Each returns the file with the block where its kind keeps EXIF.
std::string jpeg_with_exif(const std::string& jpeg, const std::string& block);
std::string png_with_exif(const std::string& png, const std::string& block);
// Requires a simple lossy file ("VP8 ") or a lossless one ("VP8L") of that size.
std::string webp_with_exif(const std::string& webp, const std::string& block, int width,
                           int height);
// Returns an uncompressed 8-bit RGB TIFF with that orientation and 35 mm focal length.
std::string tiff_with_exif(const cv::Mat& bgr, int orientation, std::uint16_t focal_35mm);

// Returns a PNG that has only a header of that size, and no pixels.
std::string png_header_only(std::uint32_t width, std::uint32_t height);

// Returns a stored picture file of `kind` (as `encoded` takes) with EXIF `wish` inside.
std::string picture_file(const std::string& extension, const cv::Mat& stored, const ExifWish& wish);

std::filesystem::path data_path(const std::string& name);
std::string file_bytes(const std::filesystem::path& path);

// A file of that content in the tests' temporary folder, removed at the end.
class TemporaryFile {
 public:
  TemporaryFile(const std::string& name, std::string_view bytes);
  ~TemporaryFile();
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

}  // namespace potshadow::testing
