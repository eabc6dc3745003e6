// SPDX-License-Identifier: MIT
#include "project/camera_book.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <optional>
#include <set>
#include <utility>

#include "core/files.h"
#include "core/text.h"
#include "photo/focal.h"
#include "project/book_head.h"
#include "project/join_trace.h"
#include "project/json_text.h"
#include "project/kept_keys.h"
#include "project/private_folder.h"
#include "project/shared_files.h"

namespace potshadow {
namespace {

constexpr BookForm kForm{"potshadow_cameras", "cameras"};
constexpr std::uintmax_t kMostBookBytes = std::uintmax_t{4} << 20U;  // some thousands of cameras

std::filesystem::path file_in(const UserFolders& folders) {
  return folders.config / "cameras.json";
}

struct TextKey {
  const char* key;
  std::string CameraProfile::*member;
};
constexpr std::array kTexts{
    TextKey{"make", &CameraProfile::make}, TextKey{"model", &CameraProfile::model},
    TextKey{"lens", &CameraProfile::lens}, TextKey{"date", &CameraProfile::date}};

// Numbers, and between what they can be.
struct NumberKey {
  const char* key;
  double CameraProfile::*member;
  double least;
  double most;
  bool needed = true;
};
constexpr double kMostFocalMm = 10'000.0;  // no lens is longer
constexpr double kMostBend = 100.0;        // absurd beyond
constexpr double kMostBoardMm = 1e6;
constexpr std::array kNumbers{
    NumberKey{"focal_mm", &CameraProfile::focal_mm, 0.1, kMostFocalMm},
    NumberKey{"digital_zoom", &CameraProfile::digital_zoom, 0.01, 1000.0},
    NumberKey{"focal_35mm", &CameraProfile::focal_35mm, 1.0, kMostFocalMm},
    NumberKey{"focal_35mm_sd", &CameraProfile::focal_35mm_sd, 0.0, kMostFocalMm},
    NumberKey{"offset_x", &CameraProfile::offset_x, -1.0, 1.0},
    NumberKey{"offset_x_sd", &CameraProfile::offset_x_sd, 0.0, 1.0},
    NumberKey{"offset_y", &CameraProfile::offset_y, -2.0, 2.0},
    NumberKey{"offset_y_sd", &CameraProfile::offset_y_sd, 0.0, 2.0},
    NumberKey{"k1", &CameraProfile::k1, -kMostBend, kMostBend},
    NumberKey{"k1_sd", &CameraProfile::k1_sd, 0.0, kMostBend},
    NumberKey{"k2", &CameraProfile::k2, -kMostBend, kMostBend},
    NumberKey{"k2_sd", &CameraProfile::k2_sd, 0.0, kMostBend},
    NumberKey{"board_distance_mm", &CameraProfile::board_distance_mm, 0.0, kMostBoardMm, false}};

struct CountKey {
  const char* key;
  int CameraProfile::*member;
  double least;
  double most;
  bool needed = true;
};
constexpr double kMostCount = 1e6;
constexpr std::array kCounts{CountKey{"width_px", &CameraProfile::width_px, 1.0, kMostCount},
                             CountKey{"height_px", &CameraProfile::height_px, 1.0, kMostCount},
                             CountKey{"pictures", &CameraProfile::pictures, 1.0, kMostCount},
                             CountKey{"orientation", &CameraProfile::orientation, 0.0, 8.0, false}};

Problem damaged(const std::filesystem::path& file, const std::string& what, Code code) {
  return {code, "The book of cameras '" + file.string() + "' " + what + ".",
          "Mend it, or move it away and calibrate your cameras again.", ""};
}

// Returns the profile in `object`, or the key that cannot be used.
std::pair<CameraProfile, std::string> profile_of(const Json& object) {
  CameraProfile profile;
  std::set<std::string> known;
  for (const TextKey& text : kTexts) {
    known.insert(text.key);
    const auto found = object.find(text.key);
    if (found == object.end() || !found->is_string()) return {profile, text.key};
    profile.*text.member = found->get<std::string>();
  }
  for (const NumberKey& number : kNumbers) {
    known.insert(number.key);
    const auto found = object.find(number.key);
    if (found == object.end() && !number.needed) continue;
    if (found == object.end() || !found->is_number()) return {profile, number.key};
    const double value = found->get<double>();
    if (!(value >= number.least && value <= number.most)) return {profile, number.key};
    profile.*number.member = value;
  }
  for (const CountKey& count : kCounts) {
    known.insert(count.key);
    const auto found = object.find(count.key);
    if (found == object.end() && !count.needed) continue;
    if (found == object.end() || !found->is_number_integer()) return {profile, count.key};
    const double value = found->get<double>();
    if (!(value >= count.least && value <= count.most)) return {profile, count.key};
    profile.*count.member = static_cast<int>(value);
  }
  profile.kept = others_in(object, known);
  return {profile, ""};
}

// Whether two pictures' sides are in the same proportion, upright or turned by a quarter.
bool same_proportions(int a_width, int a_height, int b_width, int b_height) {
  constexpr double kSame = 0.005;  // whole pixels and rounding of small copies
  const auto ratio = [](int width, int height) {
    return static_cast<double>(std::max(width, height)) / std::max(1, std::min(width, height));
  };
  return std::abs(ratio(a_width, a_height) / ratio(b_width, b_height) - 1.0) <= kSame;
}

bool same_focal(double a_mm, double b_mm) {
  constexpr double kSame = 0.005;  // EXIF holds fractions, cameras round them
  return std::abs(a_mm / b_mm - 1.0) <= kSame;
}

bool same_zoom(double a, double b) {
  constexpr double kSame = 0.005;
  return std::abs(a - b) <= kSame;
}

bool same_camera(const CameraProfile& profile, const PhotoFacts& facts) {
  return profile.make == facts.exif.make && profile.model == facts.exif.model &&
         profile.lens == facts.exif.lens;
}

bool same_proportions(const CameraProfile& profile, const PhotoFacts& facts) {
  return same_proportions(facts.width_px, facts.height_px, profile.width_px, profile.height_px);
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

Result<CameraBook> load_camera_book(const UserFolders& folders) {
  const std::filesystem::path file = file_in(folders);
  const Result<std::string> bytes = read_file(file, kMostBookBytes);
  if (!bytes) {
    if (bytes.problem().code == Code::kFileMissing) return CameraBook();
    return bytes.problem();
  }
  const Result<Json> json = parse_json(*bytes, file.string(), "book of cameras");
  if (!json) return json.problem();
  const auto bad = [&](const std::string& what, Code code = Code::kBadFormat) {
    return damaged(file, what, code);
  };
  if (const auto trouble = book_trouble(*json, kForm)) return bad(trouble->words, trouble->code);
  CameraBook book;
  book.kept = others_in(*json, {kForm.version_key, kForm.list_key});
  for (const Json& item : json->at(kForm.list_key)) {
    const std::string name = "camera " + std::to_string(book.cameras.size() + 1);
    if (!item.is_object()) return bad("has a wrong entry for " + name);
    auto [profile, wrong] = profile_of(item);
    if (!wrong.empty()) {
      return bad("has no usable '" + wrong + "' for " + name, Code::kBadValue);
    }
    book.cameras.push_back(std::move(profile));
  }
  return book;
}

Result<FileLock> lock_camera_book(const UserFolders& folders) {
  return lock_book(file_in(folders));
}

Result<Done> save_camera_book(const CameraBook& book, const UserFolders& folders) {
  Json list = Json::array();
  for (const CameraProfile& profile : book.cameras) {
    Json item = Json::object();
    for (const TextKey& text : kTexts) item[text.key] = profile.*text.member;
    for (const CountKey& count : kCounts) item[count.key] = profile.*count.member;
    for (const NumberKey& number : kNumbers) item[number.key] = profile.*number.member;
    add_kept(profile.kept, item);
    list.push_back(std::move(item));
  }
  Json json = Json::object();
  json[kForm.version_key] = kForm.version;
  json[kForm.list_key] = std::move(list);
  add_kept(book.kept, json);
  const Result<Done> made = make_private_folder(folders.config);
  if (!made) return made.problem();
  return write_file_whole(file_in(folders), json_text(json));
}

CameraBook with_camera(CameraBook book, const CameraProfile& profile) {
  const auto same = [&](const CameraProfile& other) {
    return other.make == profile.make && other.model == profile.model &&
           other.lens == profile.lens && same_focal(other.focal_mm, profile.focal_mm) &&
           same_zoom(other.digital_zoom, profile.digital_zoom) &&
           same_proportions(other.width_px, other.height_px, profile.width_px, profile.height_px);
  };
  auto& cameras = book.cameras;
  cameras.erase(std::remove_if(cameras.begin(), cameras.end(), same), cameras.end());
  cameras.push_back(profile);
  return book;
}

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

Result<CameraProfile> camera_profile(const LensCalibration& calibration, const PhotoFacts& facts,
                                     std::size_t pictures, const std::string& date) {
  if (facts.exif.model.empty() || !facts.exif.focal_length) {
    return Problem{Code::kCannotBeAnswered,
                   "The pictures do not say which camera took them at which focal length, so that "
                   "later photographs could not be told to be its own.",
                   "Use the files as the camera wrote them, or type the focal length into the "
                   "project ('focal_35mm').",
                   ""};
  }
  CameraProfile profile;
  profile.make = facts.exif.make;
  profile.model = facts.exif.model;
  profile.lens = facts.exif.lens;
  profile.focal_mm = facts.exif.focal_length->value;
  profile.digital_zoom = facts.exif.digital_zoom.value_or(1.0);
  profile.width_px = calibration.width_px;
  profile.height_px = calibration.height_px;
  profile.focal_35mm =
      focal_35mm_from_px(calibration.focal_px.value, calibration.width_px, calibration.height_px);
  const double relative_sd = calibration.focal_px.sd / calibration.focal_px.value;
  profile.focal_35mm_sd = relative_sd * profile.focal_35mm;
  const double width = calibration.width_px;
  profile.offset_x = (calibration.cx_px.value - (calibration.width_px - 1) / 2.0) / width;
  profile.offset_x_sd = calibration.cx_px.sd / width;
  profile.offset_y = (calibration.cy_px.value - (calibration.height_px - 1) / 2.0) / width;
  profile.offset_y_sd = calibration.cy_px.sd / width;
  profile.k1 = calibration.k1.value;
  profile.k1_sd = calibration.k1.sd;
  profile.k2 = calibration.k2.value;
  profile.k2_sd = calibration.k2.sd;
  profile.orientation = facts.exif.orientation;
  if (!calibration.board_distance_mm.empty()) {
    std::vector<double> away = calibration.board_distance_mm;
    std::sort(away.begin(), away.end());
    profile.board_distance_mm = away[away.size() / 2];
  }
  profile.date = date;
  profile.pictures = static_cast<int>(pictures);
  return profile;
}

std::string camera_words(const CameraProfile& profile) {
  if (profile.make.empty() || profile.model.starts_with(profile.make)) return profile.model;
  return profile.make + " " + profile.model;
}

}  // namespace potshadow
