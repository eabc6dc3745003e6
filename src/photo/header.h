// SPDX-License-Identifier: MIT
// What a picture file says of itself before its pixels are read: kind, size, EXIF, whole or cut.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "core/result.h"

// Model: the kind is told by the file's content, never by its name. The file is walked from mark to
// mark (JPEG segments, PNG chunks, RIFF chunks, TIFF directories, ISO boxes) as far as the end, so
// a file cut short by a broken copy is found out without decoding. HEIC and AVIF are read through
// libheif, which looks at the boxes alone here.
//
// Whatever is behind the end mark (a moving picture that some phones append, a second picture) is
// left alone.
//
// Sources: ITU-T T.81 annex B (JPEG); W3C PNG specification, third edition (PNG, eXIf); TIFF
// revision 6.0; RFC 9649 (WebP); ISO/IEC 14496-12 and 23008-12 (boxes, HEIC).
namespace potshadow {

// The largest picture that is opened: 120 megapixels, and 30,000 pixels along either side. At 3
// bytes a pixel that is 360 MB of memory, and above what cameras and phones make.
inline constexpr long long kMostPixels = 120'000'000;
inline constexpr long long kMostPixelsAlongASide = 30'000;

enum class PictureKind { kJpeg, kPng, kTiff, kWebp, kHeif };

// Returns "JPEG", "PNG", "TIFF", "WebP" or "HEIC".
std::string_view kind_name(PictureKind kind);

struct PictureHeader {
  PictureKind kind = PictureKind::kJpeg;
  // Pixels as they lie in the file, 1 up to the limits above. For HEIC the size before libheif
  // turns or crops it.
  int stored_width = 0;
  int stored_height = 0;
  // For HEIC the size as libheif hands the picture out, upright; for other kinds as stored.
  int decoded_width = 0;
  int decoded_height = 0;
  // The EXIF block from its TIFF header on, without "Exif\0\0"; empty where there is none.
  std::string exif_block;
};

// Returns the header of a picture of which `bytes` is the whole file; `path` only goes into
// messages. Fails with kFileUnreadable (empty, cut short, damaged, no picture, a kind that is not
// read) and kFileTooLarge (more pixels than the limits).
Result<PictureHeader> read_picture_header(std::string_view bytes,
                                          const std::filesystem::path& path);

// Returns the Problem (kFileUnreadable) for a picture that breaks off or contradicts itself.
// `detail` is technical and may be empty.
Problem damaged_picture(const std::filesystem::path& path, std::string detail);

}  // namespace potshadow
