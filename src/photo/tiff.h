// SPDX-License-Identifier: MIT
// The directories of a TIFF file: picture size, EXIF facts gathered small, whole or cut short.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

// Only the first directory and its EXIF directory are read. libexif looks no further than 64 KiB
// into a block, while a TIFF file may keep its directory behind all its pixels; so the facts we
// want are gathered into a small block of their own first. Source: TIFF revision 6.0, section 2.
namespace potshadow {

struct TiffHeader {
  std::uint32_t width = 0;  // pixels as stored; 0 where the file does not say
  std::uint32_t height = 0;
  bool whole = false;       // the directory and every strip or tile lie inside the file
  bool camera_raw = false;  // DNG or another raw kind: the first picture is only a thumbnail
  std::string exif_block;   // a TIFF block of at most 64 KiB, or empty
};

// Returns the header, or nothing where `bytes` does not begin with a classic TIFF header.
std::optional<TiffHeader> read_tiff_header(std::string_view bytes);

}  // namespace potshadow
