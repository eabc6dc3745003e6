// SPDX-License-Identifier: MIT
// The book of calibrated cameras: what was found of each, kept for photographs taken later.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

#include "core/file_lock.h"
#include "core/result.h"
#include "geometry/calibration.h"
#include "photo/probe.h"
#include "project/measure.h"
#include "project/settings.h"

// Format: UTF-8 JSON, one object with "potshadow_cameras": 1 and "cameras", a list. Keys that this
// version does not know are kept. A camera is told by what EXIF says of it: maker, model, lens and
// focal length of the real lens, so that every zoom has its own entry; and by its picture's sides.
//
// An entry gives the estimate a focal length, the lens's middle and its bending. The focal length
// scales with the picture's diagonal (focal.h), the middle with its sides, as long as the picture
// has the proportions of those that calibrated it; both turn with the way the camera was held,
// which EXIF says. Bending is counted per focal length, so it is the same for every size. Each gets
// an allowance for what changes between calibrating and photographing a pot:
//
// - Focal length: a lens that moves as a whole to focus lies f^2 / s farther from the sensor for a
//   thing at distance s than for one far off (the thin lens equation), f / s in parts of its focal
//   length; other lenses change by about as much either way. So between the board's distance and
//   farther ones anything up to f / s is taken as equally likely: f / s / sqrt(3) as a standard
//   deviation (JCGM 100:2008, 4.3.7). It is never below kFocusAndZoomSdPercent, for a zoom does not
//   come back to quite the same place, nor above what an uncalibrated lens gets.
// - Middle: kStabiliserSdPercent, for a stabiliser shifts lens or sensor to make up for a hand's
//   tremor; some tenths of a degree are that much of the picture. Common practice, no source.
// - Bending: kBendingSd, a quarter of an uncalibrated lens's, for it changes with focus. Common
//   practice, no source.
namespace potshadow {

inline constexpr double kFocusAndZoomSdPercent = 0.7;  // common practice, no source
inline constexpr double kStabiliserSdPercent = 0.3;    // of the longer side
inline constexpr double kBendingSd = 0.005;            // of k1

struct CameraProfile {
  std::string make;
  std::string model;
  std::string lens;           // empty where the camera does not say
  double focal_mm = 0.0;      // of the real lens, as EXIF gives it
  double digital_zoom = 1.0;  // where the camera says it zoomed so
  int width_px = 0;           // of the pictures that calibrated it, upright
  int height_px = 0;
  double focal_35mm = 0.0;  // by the diagonal
  double focal_35mm_sd = 0.0;
  // From the picture's middle to where the lens looks, right and down, as parts of the width.
  double offset_x = 0.0;
  double offset_x_sd = 0.0;
  double offset_y = 0.0;
  double offset_y_sd = 0.0;
  double k1 = 0.0;
  double k1_sd = 0.0;
  double k2 = 0.0;
  double k2_sd = 0.0;
  int orientation = 0;             // of those pictures, by EXIF, 1-8; 0 where not known
  double board_distance_mm = 0.0;  // from the camera; 0 where not known
  std::string date;                // "2026-11-25"
  int pictures = 0;
  std::string kept;  // keys that this version does not know, as JSON text
  friend bool operator==(const CameraProfile&, const CameraProfile&) = default;
};

struct CameraBook {
  std::vector<CameraProfile> cameras;
  std::string kept;
  friend bool operator==(const CameraBook&, const CameraBook&) = default;
};

// Returns the book in `folders.config`/cameras.json; an empty one where there is no such file.
// Fails with kFileUnreadable, kFileTooLarge, kBadFormat, kNewerVersion or kBadValue, naming the
// file.
Result<CameraBook> load_camera_book(const UserFolders& folders);

// Returns the lock of the book: whoever changes the book holds it from before loading until after
// saving. Fails with kFileUnwritable.
Result<FileLock> lock_camera_book(const UserFolders& folders);

// Writes it whole, creating the folder. Fails with kFileUnwritable.
Result<Done> save_camera_book(const CameraBook& book, const UserFolders& folders);

// Returns the book with `profile` added, in place of one for the same camera, lens, focal length
// and proportions.
CameraBook with_camera(CameraBook book, const CameraProfile& profile);

// Returns the profile for a photograph, or null: camera, lens, focal length (within half a percent)
// and digital zoom agree, and the sides are in the same proportion, upright or turned. The pointer
// is into `book`.
const CameraProfile* camera_for(const CameraBook& book, const PhotoFacts& facts);

// Returns the standard deviation in percent to use for a photograph's focal length: the profile's
// own and the allowance above, added in squares.
double focal_sd_percent(const CameraProfile& profile);

// Returns what the profile says of the lens for a photograph like `facts`, allowances added. Where
// the files do not say which way the camera was held, the middle is left at the picture's, as
// uncertain as it is far from there. Requires that camera_for gave the profile for these facts; but
// with `cropped` the proportions do not matter and nothing is said of the middle.
LensFacts lens_facts(const CameraProfile& profile, const PhotoFacts& facts, bool cropped);

// Returns what the estimate starts from for the lens of `photo`: facts.lens in pixels of a picture
// of width_px x height_px, which is the upright one after photo.quarter_turns. What an uncalibrated
// lens gets where facts.lens is empty.
LensPrior lens_for_photo(const PhotoFacts& facts, const ProjectPhoto& photo, int width_px,
                         int height_px);

// Returns a probe that hands on what `probe` finds, but for photographs of `project` by a camera in
// the book: their focal length, unless one is typed in, and what is known of the lens are the
// book's, and a note says so. Of a cropped photograph only the lens's bending is. A note tells too
// where the camera is in the book but its zoom or its picture's proportions are not.
PhotoProbe probe_with_cameras(const CameraBook& book, const Project& project,
                              const PhotoProbe& probe = probe_photo);

// Returns probe_with_cameras of the book in `folders`. Where that cannot be read the photograph is
// taken as it is, with a doubtful note.
PhotoProbe probe_with_own_cameras(const UserFolders& folders, const Project& project,
                                  const PhotoProbe& probe = probe_photo);

// Returns the profile of a calibration from pictures like `facts`. Fails with kCannotBeAnswered
// where those do not say which camera, or at which focal length, took them.
Result<CameraProfile> camera_profile(const LensCalibration& calibration, const PhotoFacts& facts,
                                     std::size_t pictures, const std::string& date);

// Returns "Maker Model", the maker once where the model begins with it.
std::string camera_words(const CameraProfile& profile);

}  // namespace potshadow
