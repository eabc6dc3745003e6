// SPDX-License-Identifier: MIT
// Pixels of a photograph: upright, 8 bits, blue-green-red, whatever kind of file they came from.
#pragma once

#include <filesystem>
#include <opencv2/core/mat.hpp>
#include <string_view>

#include "core/result.h"
#include "photo/probe.h"

// In a library of its own (potshadow_pictures), because OpenCV's picture codecs take 0.05-0.1 s to
// load: commands that need no pixels link potshadow_photo alone.
//
// The picture is turned upright by the file's own orientation (EXIF 1-8, in JPEG, PNG, TIFF and
// WebP; HEIC turns by its own means). Grey becomes three equal channels, 16 bits are scaled to 8,
// CMYK is converted, and what is see-through is laid on white. Colours are taken as they are: a
// wide-gamut profile is not applied, since no measurement depends on it.
namespace potshadow {

struct Picture {
  cv::Mat bgr;       // CV_8UC3, facts.height_px rows of facts.width_px pixels
  PhotoFacts facts;  // as probe_photo gives them
};

// Returns the picture and the notes of probe_photo. Fails as probe_photo does, before anything is
// decoded, and with kFileUnreadable where the pixels cannot be decoded, kFileTooLarge where memory
// runs out. Slow: 0.1-1 s for 12 megapixels.
Result<Picture> decode_photo(const std::filesystem::path& path);

// As decode_photo, of a file read before; `path` only goes into messages.
Result<Picture> decode_bytes(std::string_view bytes, const std::filesystem::path& path);

}  // namespace potshadow
