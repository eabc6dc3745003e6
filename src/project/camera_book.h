// SPDX-License-Identifier: MIT
// The book of calibrated cameras: what was found of each, kept for photographs taken later.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

#include "core/result.h"
#include "geometry/calibration.h"
#include "photo/probe.h"
#include "project/measure.h"
#include "project/settings.h"

// Format: UTF-8 JSON, one object with "potshadow_cameras": 1 and "cameras", a list. Keys that this
// version does not know are kept. A camera is told by what EXIF says of it: maker, model, lens and
// focal length of the real lens, so that every zoom has its own entry; and by its picture's sides.
//
// Only the focal length of an entry goes into an estimate so far: the estimate takes the middle of
// the picture for the lens's and an unknown small bending. The focal length scales with the
// picture's diagonal (focal.h), as long as the picture has the proportions of those that
// calibrated it.
namespace potshadow {

// What a focal length changes by between calibrating and photographing a pot, one standard
// deviation: focus breathes, and a zoom does not come back to the same place. Common practice, no
// source.
inline constexpr double kFocusAndZoomSdPercent = 0.7;

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
  std::string date;  // "2026-11-25"
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
// own and kFocusAndZoomSdPercent, added in squares.
double focal_sd_percent(const CameraProfile& profile);

// Returns a probe that hands on what `probe` finds, but for the focal length of photographs by a
// camera in the book: that is the book's, and a note says so. Where the photograph that `project`
// measures has a focal length typed in, or is cropped, it hands on everything as it is.
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
