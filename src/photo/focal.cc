// SPDX-License-Identifier: MIT
#include "photo/focal.h"

#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "core/check.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kRoundingHalfWidthMm = 0.5;
// Sensors of pocket cameras measure 5 mm across, medium format 55 mm; with room on both sides.
constexpr double kLeastSensorMm = 2.0;
constexpr double kMostSensorMm = 100.0;
// The rounding of the field and 2 % each way explain less than this.
constexpr double kContradiction = 0.10;

double percent_of_rounding(double focal_35mm) {
  return 100.0 * kRoundingHalfWidthMm * std::numbers::inv_sqrt3 / focal_35mm;
}

Note digital_zoom_note(double ratio) {
  return {"The camera used digital zoom (" + fixed_text(ratio, 2) +
              "×), and cameras disagree on whether the focal length they state includes it. Check "
              "the focal length, or use a photo without digital zoom.",
          true};
}

Note contradiction_note(double stated, double by_sensor) {
  return {"The photo states a focal length of " + fixed_text(stated, 0) +
              " mm (as on 35 mm film), but its lens and sensor figures give " +
              fixed_text(by_sensor, 0) + " mm. The stated one is used; check it.",
          true};
}

}  // namespace

double focal_px_from_35mm(double focal_35mm, int width_px, int height_px) {
  POTSHADOW_CHECK(focal_35mm > 0.0 && width_px > 0 && height_px > 0);
  return focal_35mm * std::hypot(width_px, height_px) / kFilmDiagonalMm;
}

double focal_35mm_from_px(double focal_px, int width_px, int height_px) {
  POTSHADOW_CHECK(focal_px > 0.0 && width_px > 0 && height_px > 0);
  return focal_px * kFilmDiagonalMm / std::hypot(width_px, height_px);
}

double focal_35mm_from_sensor(Mm focal_length, Mm sensor_diagonal) {
  POTSHADOW_CHECK(focal_length.value > 0.0 && sensor_diagonal.value > 0.0);
  return kFilmDiagonalMm * (focal_length / sensor_diagonal);
}

std::optional<Mm> sensor_diagonal(const ExifFacts& exif, int stored_width, int stored_height) {
  if (!exif.focal_plane_x_per_mm) return std::nullopt;
  const bool recorded = exif.pixel_width && exif.pixel_height;
  const double width = recorded ? *exif.pixel_width : stored_width;
  const double height = recorded ? *exif.pixel_height : stored_height;
  const double x_per_mm = *exif.focal_plane_x_per_mm;
  const double y_per_mm = exif.focal_plane_y_per_mm.value_or(x_per_mm);
  const double diagonal = std::hypot(width / x_per_mm, height / y_per_mm);
  if (!(diagonal >= kLeastSensorMm && diagonal <= kMostSensorMm)) return std::nullopt;
  return Mm{diagonal};
}

Result<std::optional<FocalFromExif>> focal_from_exif(const ExifFacts& exif, int stored_width,
                                                     int stored_height) {
  std::optional<double> by_sensor;
  if (exif.focal_length) {
    if (const auto diagonal = sensor_diagonal(exif, stored_width, stored_height)) {
      by_sensor = focal_35mm_from_sensor(*exif.focal_length, *diagonal);
    }
  }
  if (!exif.focal_35mm && !by_sensor) return std::optional<FocalFromExif>();

  FocalFromExif focal;
  std::vector<Note> notes;
  focal.stated = exif.focal_35mm.has_value();
  if (focal.stated) {
    focal.focal_35mm = *exif.focal_35mm;
    focal.sd_percent = std::hypot(kOpticsSdPercent, percent_of_rounding(focal.focal_35mm));
    if (by_sensor && std::abs(*by_sensor / focal.focal_35mm - 1.0) > kContradiction) {
      notes.push_back(contradiction_note(focal.focal_35mm, *by_sensor));
    }
  } else {
    focal.focal_35mm = *by_sensor;
    focal.sd_percent = kOpticsSdPercent;
  }
  if (exif.digital_zoom) {
    focal.digital_zoom = *exif.digital_zoom;
    notes.push_back(digital_zoom_note(focal.digital_zoom));
  }
  return {std::optional<FocalFromExif>(focal), std::move(notes)};
}

}  // namespace potshadow
