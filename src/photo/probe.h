// SPDX-License-Identifier: MIT
// What a picture file is, without decoding its pixels: kind, upright size, fingerprint, EXIF.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "core/result.h"
#include "photo/exif.h"
#include "photo/focal.h"
#include "photo/header.h"

// A probe reads the whole file once and walks through it; it needs no picture decoder, so a command
// that works from marks alone starts quickly. Width and height are those of the upright picture, in
// which all marks are counted; decode_photo (decode.h) gives exactly that size.
namespace potshadow {

// The largest file that is read.
inline constexpr std::uintmax_t kMostPhotoBytes = std::uintmax_t{512} * 1024 * 1024;

// What calibrating a camera found of the lens that took a picture. Bending as in geometry/camera.h.
struct LensFacts {
  // From the picture's middle to where the lens looks, in the upright picture, as parts of its
  // longer side.
  struct Middle {
    double right = 0.0;
    double down = 0.0;
    double sd = 0.0;  // of each
    friend bool operator==(const Middle&, const Middle&) = default;
  };
  double k1 = 0.0;
  double k1_sd = 0.0;
  double k2 = 0.0;
  std::optional<Middle> middle;  // nothing where the picture was cropped
  friend bool operator==(const LensFacts&, const LensFacts&) = default;
};

struct PhotoFacts {
  PictureKind kind = PictureKind::kJpeg;
  int width_px = 0;  // upright
  int height_px = 0;
  int stored_width_px = 0;  // as they lie in the file
  int stored_height_px = 0;
  // EXIF orientation that decoding has to apply, 1-8; 1 for HEIC, which turns itself.
  int turn = 1;
  std::uintmax_t bytes = 0;
  std::string sha256;  // 64 lower-case hexadecimal digits of the whole file
  ExifFacts exif;
  std::optional<FocalFromExif> focal;  // nothing where EXIF does not tell
  std::optional<LensFacts> lens{};     // never from the file alone: project/photo_lens.h
  friend bool operator==(const PhotoFacts&, const PhotoFacts&) = default;
};

// Returns the facts of the picture at `path`. A doubtful note says when the sides are not in the
// proportion the camera recorded, so that the picture must have been cropped and the middle of the
// frame is lost; more as focal_from_exif (focal.h). Fails with kFileMissing; kFileUnreadable (a
// folder, no permission, empty, cut short, damaged, no picture, a kind that is not read);
// kFileTooLarge (above kMostPhotoBytes, or the limits of header.h). Slow for large files: reads
// them whole, about 10 ms for 4 MB.
Result<PhotoFacts> probe_photo(const std::filesystem::path& path);

// As probe_photo, of a file read before; `path` only goes into messages.
Result<PhotoFacts> probe_bytes(std::string_view bytes, const std::filesystem::path& path);

}  // namespace potshadow
