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
#include "project/settings.h"

// Format: UTF-8 JSON, one object with "potshadow_cameras": 1 and "cameras", a list. Keys that this
// version does not know are kept. A camera is told by what EXIF says of it: maker, model, lens and
// focal length of the real lens, so that every zoom has its own entry; and by its picture's sides.
// What an entry gives a photograph: photo_lens.h.
namespace potshadow {

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

// Whether two focal lengths, zooms or pairs of a picture's sides count as the same; sides upright
// or turned by a quarter.
bool same_focal(double a_mm, double b_mm);
bool same_zoom(double a, double b);
bool same_proportions(int a_width, int a_height, int b_width, int b_height);

// Returns the profile of a calibration from pictures like `facts`. Fails with kCannotBeAnswered
// where those do not say which camera, or at which focal length, took them.
Result<CameraProfile> camera_profile(const LensCalibration& calibration, const PhotoFacts& facts,
                                     std::size_t pictures, const std::string& date);

// Returns "Maker Model", the maker once where the model begins with it.
std::string camera_words(const CameraProfile& profile);

}  // namespace potshadow
