// SPDX-License-Identifier: MIT
// What the book of cameras knows of the lens that took a photograph.
#pragma once

#include "photo/probe.h"
#include "project/camera_book.h"
#include "project/measure.h"
#include "project/project.h"
#include "project/settings.h"

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

}  // namespace potshadow
