// SPDX-License-Identifier: MIT
#include "photo/decode.h"

#include <cstddef>
#include <cstdint>
#include <exception>
#include <new>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <utility>
#include <vector>

#include "core/files.h"
#include "photo/heif_handles.h"

namespace potshadow {
namespace {

// Colours already multiplied by their opacity, or still whole.
enum class Alpha { kWhole, kMultiplied };

// Returns BGRA laid on white paper.
cv::Mat on_white(const cv::Mat& bgra, Alpha alpha) {
  cv::Mat bgr(bgra.rows, bgra.cols, CV_8UC3);
  for (int y = 0; y < bgra.rows; ++y) {
    const auto* from = bgra.ptr<cv::Vec4b>(y);
    auto* to = bgr.ptr<cv::Vec3b>(y);
    for (int x = 0; x < bgra.cols; ++x) {
      const int opacity = from[x][3];
      for (int channel = 0; channel < 3; ++channel) {
        const int colour = from[x][channel];
        const int ink = alpha == Alpha::kMultiplied ? colour : (colour * opacity + 127) / 255;
        to[x][channel] = cv::saturate_cast<uchar>(ink + 255 - opacity);
      }
    }
  }
  return bgr;
}

// Returns 8-bit BGR of any picture of 8 or 16 bits with 1, 3 or 4 channels, else an empty matrix.
cv::Mat plain_bgr(cv::Mat picture, Alpha alpha) {
  if (picture.depth() == CV_16U) {
    constexpr double kScale = 255.0 / 65535.0;
    picture.convertTo(picture, CV_8U, kScale);
  }
  if (picture.empty() || picture.depth() != CV_8U) return {};
  switch (picture.channels()) {
    case 1:
      cv::cvtColor(picture, picture, cv::COLOR_GRAY2BGR);
      return picture;
    case 3:
      return picture;
    case 4:
      return on_white(picture, alpha);
    default:
      return {};
  }
}

// Returns the picture turned upright from an EXIF orientation.
cv::Mat upright(const cv::Mat& stored, int orientation) {
  constexpr int kTopToBottom = 0;
  constexpr int kLeftToRight = 1;
  constexpr int kBoth = -1;
  cv::Mat turned = stored;
  if (swaps_sides(orientation)) cv::transpose(stored, turned);
  switch (orientation) {
    case 2:
    case 6:
      cv::flip(turned, turned, kLeftToRight);
      break;
    case 3:
    case 7:
      cv::flip(turned, turned, kBoth);
      break;
    case 4:
    case 8:
      cv::flip(turned, turned, kTopToBottom);
      break;
    default:  // 1 is upright, 5 is the transpose alone
      break;
  }
  return turned;
}

cv::Mat decode_by_opencv(std::string_view bytes, const PhotoFacts& facts) {
  // OpenCV only reads the buffer, but has no constant view.
  const cv::Mat buffer(1, static_cast<int>(bytes.size()), CV_8UC1, const_cast<char*>(bytes.data()));
  // "Unchanged" keeps opacity and depth, and leaves turning to us (but for TIFF, see below).
  const cv::Mat stored = cv::imdecode(buffer, cv::IMREAD_UNCHANGED);
  const bool tiff = facts.kind == PictureKind::kTiff;
  // libtiff multiplies colours by their opacity, and OpenCV turns TIFF pictures in every mode.
  const bool multiplied = tiff && stored.depth() == CV_8U;
  const cv::Mat bgr = plain_bgr(stored, multiplied ? Alpha::kMultiplied : Alpha::kWhole);
  return bgr.empty() || tiff ? bgr : upright(bgr, facts.turn);
}

// Returns an empty matrix and libheif's message on failure.
std::pair<cv::Mat, std::string> decode_by_libheif(std::string_view bytes) {
  const OpenedHeif file = open_heif(bytes);
  if (!file.picture) return {cv::Mat(), "libheif: no main picture"};
  heif_context_set_maximum_image_size_limit(file.context.get(),
                                            static_cast<int>(kMostPixelsAlongASide));
  const HeifOptions options(heif_decoding_options_alloc());
  if (!options) throw std::bad_alloc();
  options->convert_hdr_to_8bit = 1;
  const bool has_alpha = heif_image_handle_has_alpha_channel(file.picture.get()) != 0;
  heif_image* decoded = nullptr;
  const heif_error error = heif_decode_image(
      file.picture.get(), &decoded, heif_colorspace_RGB,
      has_alpha ? heif_chroma_interleaved_RGBA : heif_chroma_interleaved_RGB, options.get());
  const HeifImage image(decoded);
  if (error.code != heif_error_Ok || !image) {
    return {cv::Mat(), std::string("libheif: ") + (error.message ? error.message : "")};
  }
  int stride = 0;
  const std::uint8_t* plane =
      heif_image_get_plane_readonly(image.get(), heif_channel_interleaved, &stride);
  const int width = heif_image_get_width(image.get(), heif_channel_interleaved);
  const int height = heif_image_get_height(image.get(), heif_channel_interleaved);
  if (!plane || width <= 0 || height <= 0) return {cv::Mat(), "libheif: no pixels"};
  const cv::Mat rgb(height, width, has_alpha ? CV_8UC4 : CV_8UC3, const_cast<std::uint8_t*>(plane),
                    static_cast<std::size_t>(stride));
  cv::Mat bgr;
  cv::cvtColor(rgb, bgr, has_alpha ? cv::COLOR_RGBA2BGRA : cv::COLOR_RGB2BGR);
  const bool multiplied = heif_image_handle_is_premultiplied_alpha(file.picture.get()) != 0;
  return {plain_bgr(bgr, multiplied ? Alpha::kMultiplied : Alpha::kWhole), ""};
}

Problem out_of_memory(const std::filesystem::path& path) {
  return {Code::kFileTooLarge,
          "There is not enough memory to open the picture '" + path.string() + "'.",
          "Close other programs, or save a smaller copy of the whole picture and use that.", ""};
}

}  // namespace

Result<Picture> decode_bytes(std::string_view bytes, const std::filesystem::path& path) {
  auto facts = probe_bytes(bytes, path);
  if (!facts) return facts.problem();
  std::pair<cv::Mat, std::string> decoded;
  try {
    decoded = facts->kind == PictureKind::kHeif
                  ? decode_by_libheif(bytes)
                  : std::pair(decode_by_opencv(bytes, *facts), std::string());
  } catch (const std::bad_alloc&) {
    return out_of_memory(path);
  } catch (const cv::Exception& error) {
    if (error.code == cv::Error::StsNoMem) return out_of_memory(path);
    return damaged_picture(path, error.what());
  } catch (const std::exception& error) {
    return damaged_picture(path, error.what());
  }
  if (decoded.first.empty()) return damaged_picture(path, decoded.second);
  if (decoded.first.cols != facts->width_px || decoded.first.rows != facts->height_px) {
    return damaged_picture(path, "decoded to another size than the header gives");
  }
  return {Picture{decoded.first, *facts}, facts.notes()};
}

Result<Picture> decode_photo(const std::filesystem::path& path) {
  const auto bytes = read_file(path, kMostPhotoBytes);
  if (!bytes) return bytes.problem();
  return decode_bytes(*bytes, path);
}

}  // namespace potshadow
