// SPDX-License-Identifier: MIT
// The facts of a picture's EXIF block that help to know the camera: focal length, lens, distance.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/units.h"

// Only what the block really says is handed on: nothing is filled in from a default, and a figure
// that is 0 where EXIF means "unknown", infinite, negative or absurd is left out. Text is plain
// ASCII as EXIF asks for; any other byte becomes '?', so that it is safe on a terminal and in JSON.
//
// The focal-plane resolution gives the sensor: `focal_plane_x_per_mm` pixels of a picture
// `pixel_width` wide lie on one millimetre of it.
//
// Source: CIPA DC-008 / JEITA CP-3451 (EXIF 2.32), sections 4.6.4 to 4.6.6.
namespace potshadow {

struct ExifFacts {
  std::optional<double> focal_35mm;            // FocalLengthIn35mmFilm, whole millimetres
  std::optional<Mm> focal_length;              // FocalLength, of the real lens
  std::optional<double> focal_plane_x_per_mm;  // FocalPlaneXResolution, pixels a millimetre
  std::optional<double> focal_plane_y_per_mm;
  std::optional<Mm> subject_distance;  // SubjectDistance
  std::optional<double> digital_zoom;  // DigitalZoomRatio, where digital zoom was used
  std::optional<int> pixel_width;      // PixelXDimension: sides as the camera recorded them,
  std::optional<int> pixel_height;     // before any turning
  int orientation = 1;                 // 1-8; 1 = already upright
  std::string make;                    // maker of the camera
  std::string model;                   // camera
  std::string lens;                    // LensModel
  std::string taken;                   // DateTimeOriginal as "2024-05-31 14:05:09"
  friend bool operator==(const ExifFacts&, const ExifFacts&) = default;
};

// Returns what the EXIF block says; `block` begins with its TIFF header ("II" or "MM", without
// "Exif\0\0"). Never fails: from a block that is empty or broken, what cannot be read is left out.
ExifFacts read_exif(std::string_view block);

// Returns whether a picture of this EXIF orientation (1-8) has to be turned by a quarter, so that
// width and height change places.
bool swaps_sides(int orientation);

}  // namespace potshadow
