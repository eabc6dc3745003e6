// SPDX-License-Identifier: MIT
#include "photo/header.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <initializer_list>
#include <optional>
#include <utility>
#include <vector>

#include "photo/bytes.h"
#include "photo/heif_handles.h"
#include "photo/tiff.h"

namespace potshadow {
namespace {

// What the walk through a file brought to light, before any judgement.
struct Walked {
  std::int64_t width = -1;  // -1 where the file never says
  std::int64_t height = -1;
  bool whole = false;  // the end mark was reached
  bool animated = false;
  bool camera_raw = false;
  std::string exif_block;
  // HEIC only; see PictureHeader.
  std::optional<std::pair<int, int>> decoded;
};

std::string quoted(const std::filesystem::path& path) { return "'" + path.string() + "'"; }

// Returns the block without a leading "Exif\0\0", which some writers keep where it does not belong.
std::string_view without_exif_mark(std::string_view block) {
  constexpr std::string_view kMark("Exif\0\0", 6);
  return block.starts_with(kMark) ? block.substr(kMark.size()) : block;
}

// JPEG ---------------------------------------------------------------------------------------

// Returns where the marker after the coded pixels from `at` on begins, or the end of the file.
std::size_t skip_coded_pixels(std::string_view bytes, std::size_t at) {
  while (true) {
    at = bytes.find('\xFF', at);
    if (at == std::string_view::npos || at + 1 >= bytes.size()) return bytes.size();
    const auto next = static_cast<unsigned char>(bytes[at + 1]);
    const bool restart = next >= 0xD0 && next <= 0xD7;
    if (next != 0x00 && !restart && next != 0xFF) return at;
    at += next == 0xFF ? 1 : 2;
  }
}

bool is_frame_marker(unsigned marker) {  // SOF0-SOF15 but DHT, JPG and DAC
  return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

Walked walk_jpeg(std::string_view bytes) {
  const ByteReader reader(bytes, ByteOrder::kBigEndian);
  Walked walked;
  bool pixels_seen = false;
  std::size_t at = 2;
  while (true) {
    at = bytes.find('\xFF', at);
    if (at == std::string_view::npos) return walked;
    const auto marker = reader.u8(at + 1);
    if (!marker) return walked;
    if (*marker == 0xFF) {  // fill byte
      ++at;
      continue;
    }
    at += 2;
    if (*marker == 0xD9) {
      walked.whole = pixels_seen;
      return walked;
    }
    const bool no_length = *marker <= 0x01 || (*marker >= 0xD0 && *marker <= 0xD8);
    if (no_length) continue;
    const auto length = reader.u16(at);
    if (!length || *length < 2 || !reader.holds(at, *length)) return walked;
    if (is_frame_marker(*marker) && walked.width < 0 && *length >= 7) {
      walked.height = *reader.u16(at + 3);
      walked.width = *reader.u16(at + 5);
    }
    const std::string_view segment = bytes.substr(at + 2, *length - 2U);
    if (*marker == 0xE1 && walked.exif_block.empty() &&
        segment.starts_with(std::string_view("Exif\0\0", 6))) {
      walked.exif_block = without_exif_mark(segment);
    }
    at += *length;
    if (*marker == 0xDA) {
      pixels_seen = true;
      at = skip_coded_pixels(bytes, at);
    }
  }
}

// PNG ----------------------------------------------------------------------------------------

Walked walk_png(std::string_view bytes) {
  const ByteReader reader(bytes, ByteOrder::kBigEndian);
  Walked walked;
  std::uint64_t at = 8;
  while (true) {
    const auto length = reader.u32(at);
    if (!length || !reader.holds(at, std::uint64_t{*length} + 12)) return walked;
    const std::string_view type = reader.text(at + 4, 4);
    const std::string_view data = reader.text(at + 8, *length);
    if (type == "IHDR" && walked.width < 0 && data.size() >= 8) {
      walked.width = *reader.u32(at + 8);
      walked.height = *reader.u32(at + 12);
    } else if (type == "eXIf" && walked.exif_block.empty()) {
      walked.exif_block = without_exif_mark(data);
    } else if (type == "IEND") {
      walked.whole = true;
      return walked;
    }
    at += std::uint64_t{*length} + 12;
  }
}

// WebP ---------------------------------------------------------------------------------------

// Reads the size out of a lossy or lossless picture chunk whose data begins at `at`.
void read_webp_frame(const ByteReader& reader, std::string_view type, std::uint64_t at,
                     Walked& walked) {
  if (type == "VP8 " && reader.text(at + 3, 3) == "\x9D\x01\x2A" && reader.holds(at, 10)) {
    walked.width = *reader.u16(at + 6) & 0x3FFFU;
    walked.height = *reader.u16(at + 8) & 0x3FFFU;
  }
  if (type == "VP8L" && reader.u8(at) == 0x2FU && reader.holds(at, 5)) {
    const std::uint32_t packed = *reader.u32(at + 1);
    walked.width = (packed & 0x3FFFU) + 1;
    walked.height = ((packed >> 14U) & 0x3FFFU) + 1;
  }
}

Walked walk_webp(std::string_view bytes) {
  const ByteReader whole_file(bytes, ByteOrder::kLittleEndian);
  Walked walked;
  const std::uint64_t end = std::uint64_t{whole_file.u32(4).value_or(0)} + 8;
  const ByteReader reader(bytes.substr(0, std::min<std::uint64_t>(bytes.size(), end)),
                          ByteOrder::kLittleEndian);
  bool pixels_seen = false;
  std::uint64_t at = 12;
  while (reader.holds(at, 8)) {
    const std::string_view type = reader.text(at, 4);
    const std::uint64_t length = *reader.u32(at + 4);
    const std::uint64_t data_at = at + 8;
    if (!reader.holds(data_at, length)) break;
    if (type == "VP8X" && length >= 10) {
      walked.animated = (*reader.u8(data_at) & 0x02U) != 0;
      walked.width = std::int64_t{*reader.u24(data_at + 4)} + 1;
      walked.height = std::int64_t{*reader.u24(data_at + 7)} + 1;
    } else if (type == "EXIF") {
      walked.exif_block = without_exif_mark(reader.text(data_at, length));
    } else if (type == "VP8 " || type == "VP8L") {
      pixels_seen = true;
      if (walked.width < 0) read_webp_frame(reader, type, data_at, walked);
    }
    at = data_at + length + length % 2;
  }
  walked.whole = end <= bytes.size() && at >= reader.size() && (pixels_seen || walked.animated);
  return walked;
}

// HEIC and AVIF ------------------------------------------------------------------------------

bool is_known_box(std::string_view type) {
  constexpr std::array<std::string_view, 7> kKnown{"ftyp", "meta", "mdat", "free",
                                                   "skip", "moov", "uuid"};
  return std::find(kKnown.begin(), kKnown.end(), type) != kKnown.end();
}

// Returns whether no box of the file reaches beyond its end. Unknown boxes end the walk: some
// phones append notes of their own.
bool boxes_lie_inside(std::string_view bytes) {
  const ByteReader reader(bytes, ByteOrder::kBigEndian);
  std::uint64_t at = 0;
  bool meta_seen = false;
  while (reader.holds(at, 8)) {
    const std::string_view type = reader.text(at + 4, 4);
    if (!is_known_box(type)) return meta_seen;
    meta_seen = meta_seen || type == "meta";
    std::uint64_t length = *reader.u32(at);
    if (length == 0) return meta_seen;  // to the end of the file
    if (length == 1) {
      if (!reader.holds(at, 16)) return false;
      length = (std::uint64_t{*reader.u32(at + 8)} << 32U) | *reader.u32(at + 12);
      if (length < 16) return false;
    }
    if (length < 8 || !reader.holds(at, length)) return false;
    at += length;
  }
  return meta_seen;
}

std::string heif_exif_block(const heif_image_handle* picture) {
  heif_item_id id = 0;
  if (heif_image_handle_get_list_of_metadata_block_IDs(picture, "Exif", &id, 1) < 1) return {};
  const std::size_t size = heif_image_handle_get_metadata_size(picture, id);
  if (size < 4) return {};
  std::string block(size, '\0');
  if (heif_image_handle_get_metadata(picture, id, block.data()).code != heif_error_Ok) return {};
  // Four bytes say how far behind them the TIFF header begins.
  const ByteReader reader(block, ByteOrder::kBigEndian);
  const std::uint64_t start = std::uint64_t{4} + *reader.u32(0);
  return std::string(without_exif_mark(reader.text(start, size)));
}

Walked walk_heif(std::string_view bytes) {
  Walked walked;
  walked.whole = boxes_lie_inside(bytes);
  if (!walked.whole) return walked;
  const OpenedHeif file = open_heif(bytes);
  if (!file.picture) return walked;
  const heif_image_handle* picture = file.picture.get();
  walked.width = heif_image_handle_get_ispe_width(picture);
  walked.height = heif_image_handle_get_ispe_height(picture);
  walked.decoded.emplace(heif_image_handle_get_width(picture),
                         heif_image_handle_get_height(picture));
  walked.exif_block = heif_exif_block(picture);
  return walked;
}

// Kinds --------------------------------------------------------------------------------------

// Returns whether an ISO box file names one of `brands` as what it is or is readable as.
bool has_brand(std::string_view bytes, std::initializer_list<std::string_view> brands) {
  const ByteReader reader(bytes, ByteOrder::kBigEndian);
  if (reader.text(4, 4) != "ftyp") return false;
  const std::uint64_t end = std::min<std::uint64_t>(reader.u32(0).value_or(0), 4096);
  for (std::uint64_t at = 8; at + 4 <= end; at += 4) {
    if (at == 12) continue;  // the version number
    const std::string_view brand = reader.text(at, 4);
    if (std::find(brands.begin(), brands.end(), brand) != brands.end()) return true;
  }
  return false;
}

std::optional<PictureKind> kind_of(std::string_view bytes) {
  if (bytes.starts_with("\xFF\xD8\xFF")) return PictureKind::kJpeg;
  if (bytes.starts_with("\x89PNG\r\n\x1A\n")) return PictureKind::kPng;
  if (bytes.starts_with(std::string_view("II*\0", 4)) ||
      bytes.starts_with(std::string_view("MM\0*", 4))) {
    return PictureKind::kTiff;
  }
  if (bytes.starts_with("RIFF") &&
      bytes.substr(std::min<std::size_t>(8, bytes.size()), 4) == "WEBP") {
    return PictureKind::kWebp;
  }
  if (has_brand(bytes, {"heic", "heix", "heim", "heis", "mif1", "avif"})) return PictureKind::kHeif;
  return std::nullopt;
}

// Returns what a file of a kind that is not read is called: "a GIF picture", or nothing.
std::string_view other_kind(std::string_view bytes) {
  using namespace std::string_view_literals;
  if (bytes.starts_with("GIF8")) return "a GIF picture";
  if (bytes.starts_with("BM")) return "a BMP picture";
  if (bytes.starts_with("%PDF")) return "a PDF document";
  if (bytes.starts_with("\xFF\x0A") || bytes.starts_with("\0\0\0\x0CJXL "sv)) {
    return "a JPEG XL picture";
  }
  if (bytes.starts_with("\0\0\0\x0CjP  "sv) || bytes.starts_with("\xFF\x4F\xFF\x51")) {
    return "a JPEG 2000 picture";
  }
  if (bytes.starts_with("II+\0"sv) || bytes.starts_with("MM\0+"sv)) return "a BigTIFF picture";
  if (bytes.starts_with("IIU\0"sv) || bytes.starts_with("IIRO") || bytes.starts_with("IIRS") ||
      bytes.starts_with("FUJIFILMCCD-RAW") || has_brand(bytes, {"crx "})) {
    return "a camera's raw file";
  }
  if (has_brand(bytes, {"qt  ", "isom", "iso2", "mp41", "mp42", "M4V ", "3gp4", "3gp5"})) {
    return "a video";
  }
  return {};
}

constexpr std::string_view kSaveAs = "Save it as JPEG, PNG, TIFF, WebP or HEIC and use that copy.";
constexpr std::string_view kCopyAgain = "Copy the file again from the camera or phone.";

Problem not_read(const std::filesystem::path& path, std::string_view kind) {
  return {Code::kFileUnreadable,
          "The file " + quoted(path) + " is " + std::string(kind) +
              ", which this program does not read.",
          std::string(kSaveAs), ""};
}

Walked walk(PictureKind kind, std::string_view bytes) {
  switch (kind) {
    case PictureKind::kJpeg:
      return walk_jpeg(bytes);
    case PictureKind::kPng:
      return walk_png(bytes);
    case PictureKind::kWebp:
      return walk_webp(bytes);
    case PictureKind::kHeif:
      return walk_heif(bytes);
    case PictureKind::kTiff:
      break;
  }
  Walked walked;
  if (auto tiff = read_tiff_header(bytes)) {
    walked.whole = tiff->whole;
    walked.camera_raw = tiff->camera_raw;
    if (tiff->whole) {
      walked.width = tiff->width;
      walked.height = tiff->height;
    }
    walked.exif_block = std::move(tiff->exif_block);
  }
  return walked;
}

std::string size_text(std::int64_t width, std::int64_t height) {
  return std::to_string(width) + " × " + std::to_string(height) + " pixels";
}

bool too_large(std::int64_t width, std::int64_t height) {
  return width > kMostPixelsAlongASide || height > kMostPixelsAlongASide ||
         width * height > kMostPixels;
}

Result<PictureHeader> judged(PictureKind kind, Walked walked, const std::filesystem::path& path) {
  if (walked.camera_raw) return not_read(path, "a camera's raw file");
  if (walked.animated) return not_read(path, "a moving picture");
  if (walked.width == 0 || walked.height == 0) {
    return Problem{Code::kFileUnreadable,
                   "The picture " + quoted(path) + " is empty: its size is given as " +
                       size_text(walked.width, walked.height) + ".",
                   std::string(kCopyAgain), ""};
  }
  const bool size_known = walked.width > 0 && walked.height > 0;
  const auto decoded = walked.decoded.value_or(std::pair<int, int>(0, 0));
  if (size_known &&
      (too_large(walked.width, walked.height) || too_large(decoded.first, decoded.second))) {
    return Problem{Code::kFileTooLarge,
                   "The picture " + quoted(path) + " has " +
                       size_text(walked.width, walked.height) +
                       "; this program opens at most 120 megapixels and 30,000 pixels a side.",
                   "Save a smaller copy of the whole picture, not a part of it, and use that.", ""};
  }
  if (!walked.whole) {
    return Problem{Code::kFileUnreadable,
                   "The picture " + quoted(path) + " is cut short: its end is missing.",
                   std::string(kCopyAgain), ""};
  }
  if (!size_known) return damaged_picture(path, "no size in the header");
  if (walked.decoded && (decoded.first <= 0 || decoded.second <= 0)) {
    return damaged_picture(path, "no size after turning and cropping");
  }
  PictureHeader header;
  header.kind = kind;
  header.stored_width = static_cast<int>(walked.width);
  header.stored_height = static_cast<int>(walked.height);
  header.decoded_width = walked.decoded ? decoded.first : header.stored_width;
  header.decoded_height = walked.decoded ? decoded.second : header.stored_height;
  header.exif_block = std::move(walked.exif_block);
  return header;
}

}  // namespace

std::string_view kind_name(PictureKind kind) {
  switch (kind) {
    case PictureKind::kJpeg:
      return "JPEG";
    case PictureKind::kPng:
      return "PNG";
    case PictureKind::kTiff:
      return "TIFF";
    case PictureKind::kWebp:
      return "WebP";
    case PictureKind::kHeif:
      break;
  }
  return "HEIC";
}

Problem damaged_picture(const std::filesystem::path& path, std::string detail) {
  return {Code::kFileUnreadable,
          "The picture " + quoted(path) + " is damaged, or of a rare kind that cannot be opened.",
          "Copy the file again, or open it in another program and save it afresh as JPEG.",
          std::move(detail)};
}

Result<PictureHeader> read_picture_header(std::string_view bytes,
                                          const std::filesystem::path& path) {
  if (bytes.empty()) {
    return Problem{Code::kFileUnreadable, "The file " + quoted(path) + " is empty.",
                   std::string(kCopyAgain), ""};
  }
  const auto kind = kind_of(bytes);
  if (!kind) {
    if (const std::string_view other = other_kind(bytes); !other.empty()) {
      return not_read(path, other);
    }
    return Problem{Code::kFileUnreadable, "The file " + quoted(path) + " is not a picture.",
                   "Choose a JPEG, PNG, TIFF, WebP or HEIC picture.", ""};
  }
  try {
    return judged(*kind, walk(*kind, bytes), path);
  } catch (const std::exception& error) {
    return damaged_picture(path, error.what());
  }
}

}  // namespace potshadow
