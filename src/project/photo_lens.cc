// SPDX-License-Identifier: MIT
#include "project/photo_lens.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <limits>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "core/text.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

bool same_camera(const CameraProfile& profile, const PhotoFacts& facts) {
  return profile.make == facts.exif.make && profile.model == facts.exif.model &&
         profile.lens == facts.exif.lens;
}

bool same_proportions(const CameraProfile& profile, const PhotoFacts& facts) {
  return potshadow::same_proportions(facts.width_px, facts.height_px, profile.width_px,
                                     profile.height_px);
}

// Returns the profile whose camera, lens and zoom are a photograph's, or null; `wanted` picks among
// several.
template <class Wanted>
const CameraProfile* nearest_profile(const CameraBook& book, const PhotoFacts& facts,
                                     const Wanted& wanted) {
  if (!facts.exif.focal_length) return nullptr;
  const double focal_mm = facts.exif.focal_length->value;
  const CameraProfile* nearest = nullptr;
  double least = std::numeric_limits<double>::infinity();
  for (const CameraProfile& profile : book.cameras) {
    if (!same_camera(profile, facts) || !same_focal(focal_mm, profile.focal_mm) ||
        !same_zoom(facts.exif.digital_zoom.value_or(1.0), profile.digital_zoom) ||
        !wanted(profile)) {
      continue;
    }
    const double off = std::abs(focal_mm - profile.focal_mm);
    if (off >= least) continue;
    least = off;
    nearest = &profile;
  }
  return nearest;
}

// A direction in a picture: parts to the right and down.
struct Shift {
  double right = 0.0;
  double down = 0.0;
};

// Returns a direction of the picture as it lies in the file in the upright picture.
// Source: CIPA DC-008, "Orientation".
Shift upright(Shift stored, int orientation) {
  const auto [x, y] = stored;
  switch (orientation) {
    case 2:
      return {-x, y};
    case 3:
      return {-x, -y};
    case 4:
      return {x, -y};
    case 5:
      return {y, x};
    case 6:
      return {-y, x};
    case 7:
      return {-y, -x};
    case 8:
      return {y, -x};
    default:
      return stored;
  }
}

// The inverse: all but the quarter turns undo themselves.
Shift stored(Shift shift, int orientation) {
  if (orientation == 6) return upright(shift, 8);
  if (orientation == 8) return upright(shift, 6);
  return upright(shift, orientation);
}

// Returns whether upright pictures of these orientations are both what the sensor saw, turned as
// EXIF says, so that a direction in one is known in the other.
bool turns_are_known(const CameraProfile& profile, const PhotoFacts& facts) {
  if (profile.orientation == 0) return false;
  const bool profile_stored_wide =
      (profile.width_px >= profile.height_px) != swaps_sides(profile.orientation);
  const bool photo_stored_wide =
      (facts.width_px >= facts.height_px) != swaps_sides(facts.exif.orientation);
  return profile_stored_wide == photo_stored_wide;
}

// Returns the photograph of `project` that lies at `path`, whatever folder it counts from; those
// that are measured first.
const ProjectPhoto* photo_at(const Project& project, const std::filesystem::path& path) {
  const std::string whole = path.lexically_normal().generic_string();
  const ProjectPhoto* found = nullptr;
  for (const ProjectPhoto& photo : project.photos) {
    if (photo.file.empty()) continue;
    const std::string file = std::filesystem::path(photo.file).lexically_normal().generic_string();
    if (whole != file && !whole.ends_with("/" + file)) continue;
    if (found == nullptr || (!has_marks(*found) && has_marks(photo))) {
      found = &photo;
    }
  }
  return found;
}

std::string zoom_words(double focal_mm, double digital_zoom) {
  std::string words = fixed_text(focal_mm, 1) + " mm";
  if (!same_zoom(digital_zoom, 1.0)) words += " and digital zoom " + fixed_text(digital_zoom, 2);
  return words;
}

// Says why a camera that is in the book does not serve this photograph; empty where it is not in
// it.
std::string why_not(const CameraBook& book, const PhotoFacts& facts) {
  const auto known =
      std::find_if(book.cameras.begin(), book.cameras.end(),
                   [&](const CameraProfile& profile) { return same_camera(profile, facts); });
  if (known == book.cameras.end() || known->model.empty()) return "";
  const std::string camera = "The camera '" + camera_words(*known) + "' is calibrated, but ";
  const std::string so = ", so the calibration was not used.";
  if (!facts.exif.focal_length) {
    return camera + "this photograph does not say at which focal length it was taken" + so;
  }
  const auto any = [](const CameraProfile&) { return true; };
  if (const CameraProfile* const same_zoomed = nearest_profile(book, facts, any)) {
    return camera + "with pictures of other proportions (" + std::to_string(same_zoomed->width_px) +
           " x " + std::to_string(same_zoomed->height_px) + ") than this photograph's (" +
           std::to_string(facts.width_px) + " x " + std::to_string(facts.height_px) + ")" + so;
  }
  return camera + "at another zoom (" + zoom_words(known->focal_mm, known->digital_zoom) +
         ") than this photograph's (" +
         zoom_words(facts.exif.focal_length->value, facts.exif.digital_zoom.value_or(1.0)) + ")" +
         so;
}

}  // namespace

const CameraProfile* camera_for(const CameraBook& book, const PhotoFacts& facts) {
  return nearest_profile(
      book, facts, [&](const CameraProfile& profile) { return same_proportions(profile, facts); });
}

double focal_sd_percent(const CameraProfile& profile) {
  double allowance = kFocusAndZoomSdPercent;
  if (profile.board_distance_mm > 0.0) {
    const double most = 100.0 * profile.focal_mm / profile.board_distance_mm;
    allowance =
        std::clamp(most * std::numbers::inv_sqrt3, kFocusAndZoomSdPercent, kOpticsSdPercent);
  }
  return std::hypot(100.0 * profile.focal_35mm_sd / profile.focal_35mm, allowance);
}

LensFacts lens_facts(const CameraProfile& profile, const PhotoFacts& facts, bool cropped) {
  LensFacts lens;
  lens.k1 = profile.k1;
  lens.k1_sd = std::hypot(profile.k1_sd, kBendingSd);
  lens.k2 = profile.k2;
  if (cropped) return lens;
  const double scale =
      static_cast<double>(profile.width_px) / std::max(profile.width_px, profile.height_px);
  Shift shift{scale * profile.offset_x, scale * profile.offset_y};
  const double own_sd = scale * std::max(profile.offset_x_sd, profile.offset_y_sd);
  double sd = std::hypot(own_sd, kStabiliserSdPercent / 100.0);
  if (turns_are_known(profile, facts)) {
    shift = upright(stored(shift, profile.orientation), facts.exif.orientation);
  } else {
    sd = std::hypot(sd, std::hypot(shift.right, shift.down));
    shift = {};
  }
  lens.middle = {shift.right, shift.down, sd};
  return lens;
}

LensPrior lens_for_photo(const PhotoFacts& facts, const ProjectPhoto& photo, int width_px,
                         int height_px) {
  LensPrior prior;
  if (!facts.lens) return prior;
  prior.k1 = facts.lens->k1;
  prior.k1_sd = facts.lens->k1_sd;
  prior.k2 = facts.lens->k2;
  if (photo.cropped || !facts.lens->middle) return prior;
  Shift shift{facts.lens->middle->right, facts.lens->middle->down};
  constexpr int kQuarterClockwise = 6;  // as EXIF counts orientations
  for (int turn = 0; turn < photo.quarter_turns; ++turn) shift = upright(shift, kQuarterClockwise);
  const double longer = std::max(width_px, height_px);
  prior.centre_x_px = longer * shift.right;
  prior.centre_y_px = longer * shift.down;
  prior.centre_sd_px = longer * facts.lens->middle->sd;
  return prior;
}

PhotoProbe probe_with_cameras(const CameraBook& book, const Project& project,
                              const PhotoProbe& probe) {
  if (book.cameras.empty()) return probe;
  return [book, project, probe](const std::filesystem::path& path) -> Result<PhotoFacts> {
    Result<PhotoFacts> plain = probe(path);
    const ProjectPhoto* const photo = photo_at(project, path);
    if (!plain || photo == nullptr) return plain;
    PhotoFacts facts = *plain;
    std::vector<Note> notes = plain.notes();
    const CameraProfile* const profile =
        photo->cropped ? nearest_profile(book, facts, [](const CameraProfile&) { return true; })
                       : camera_for(book, facts);
    if (profile == nullptr) {
      const std::string why = why_not(book, facts);
      if (!why.empty()) notes.push_back({why, false});
      return {std::move(facts), std::move(notes)};
    }
    facts.lens = lens_facts(*profile, *plain, photo->cropped);
    std::string used = "bending";
    if (!photo->cropped) used = "middle and bending";
    std::string focal_words;
    if (!photo->cropped && !photo->focal_35mm) {
      used = "focal length, middle and bending";
      FocalFromExif focal;
      focal.focal_35mm = profile->focal_35mm;
      focal.sd_percent = focal_sd_percent(*profile);
      focal.digital_zoom = profile->digital_zoom;
      facts.focal = focal;
      focal_words = "35 mm equivalent " + fixed_text(profile->focal_35mm, 2) + " mm, ";
    }
    const std::string are = photo->cropped ? " is that" : " are those";
    notes.push_back({"The lens's " + used + are + " of the calibrated camera '" +
                         camera_words(*profile) + "' at " + fixed_text(profile->focal_mm, 1) +
                         " mm (" + focal_words + std::to_string(profile->pictures) +
                         " pictures of " + profile->date + ").",
                     false});
    return {std::move(facts), std::move(notes)};
  };
}

PhotoProbe probe_with_own_cameras(const UserFolders& folders, const Project& project,
                                  const PhotoProbe& probe) {
  const Result<CameraBook> book = load_camera_book(folders);
  if (book) return probe_with_cameras(*book, project, probe);
  const Note note{book.problem().what + " Calibrated cameras were not used.", true};
  return [note, probe](const std::filesystem::path& path) -> Result<PhotoFacts> {
    Result<PhotoFacts> facts = probe(path);
    if (!facts) return facts;
    std::vector<Note> notes = facts.notes();
    notes.push_back(note);
    return {std::move(facts).value(), std::move(notes)};
  };
}

}  // namespace potshadow
