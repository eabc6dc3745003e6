// SPDX-License-Identifier: MIT
// Focal length in pixels from a 35 mm equivalent, by the diagonal of the frame; and what EXIF says.
#pragma once

#include <optional>

#include "core/measured.h"
#include "core/result.h"
#include "core/units.h"
#include "photo/exif.h"

// Convention: a lens is equivalent to f mm on 36 x 24 mm film when both see the same angle across
// the DIAGONAL (43.2666 mm). So f_px = f35 * sqrt(W^2 + H^2) / 43.2666 with W, H in pixels.
// Source: CIPA DCG-001.
//
// Uncertainty of an EXIF focal length, one standard deviation:
// - kOpticsSdPercent, 2 %, always: the lens's true focal length changes with focus, and stabilisers
//   crop or shift the frame. Common practice, no source with a figure.
// - the 35 mm field is a whole number, off by up to half a millimetre either way: a rectangle of
//   half-width 0.5 mm, whose standard deviation is 0.5 / sqrt(3) mm (JCGM 100:2008, 4.3.7), 1.1 %
//   at 26 mm. The two are independent, so they add in squares: 2.3 % at 26 mm, 3.5 % at 10 mm.
// Older makers matched the width instead of the diagonal; that cannot be told from the file.
namespace potshadow {

inline constexpr double kFilmDiagonalMm = 43.266615305567875;  // sqrt(36^2 + 24^2)
inline constexpr double kOpticsSdPercent = 2.0;

// Returns the focal length in pixels for a picture of width x height pixels. Requires all > 0.
double focal_px_from_35mm(double focal_35mm, int width_px, int height_px);

// Returns the inverse of the above.
double focal_35mm_from_px(double focal_px, int width_px, int height_px);

// Returns the 35 mm equivalent of a lens before a sensor of that diagonal. Requires both > 0.
double focal_35mm_from_sensor(Mm focal_length, Mm sensor_diagonal);

// A focal length as a prior for the estimate.
struct FocalFromExif {
  double focal_35mm = 0.0;    // > 0
  double sd_percent = 0.0;    // >= kOpticsSdPercent
  bool stated = false;        // true: the 35 mm field; false: from focal length and sensor
  double digital_zoom = 1.0;  // above 1 where the camera says it zoomed digitally
  friend bool operator==(const FocalFromExif&, const FocalFromExif&) = default;
};

// Returns the diagonal of the sensor that the focal-plane resolution describes, or nothing where
// the file does not say or the figure is absurd (outside 2-100 mm). `stored_width` and
// `stored_height` are the picture's own pixels, used where EXIF does not give the recorded ones.
std::optional<Mm> sensor_diagonal(const ExifFacts& exif, int stored_width, int stored_height);

// Returns the focal length that EXIF gives: the 35 mm field, else focal length and sensor, else
// nothing. Doubtful notes: digital zoom was used (cameras disagree whether their focal length
// includes it); the field and the sensor contradict each other by more than 10 %.
// Stored width and height as for sensor_diagonal. Never fails.
Result<std::optional<FocalFromExif>> focal_from_exif(const ExifFacts& exif, int stored_width,
                                                     int stored_height);

}  // namespace potshadow
