// SPDX-License-Identifier: MIT
#include "project/camera_book.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <set>
#include <utility>

#include "core/files.h"
#include "photo/focal.h"
#include "project/book_head.h"
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
  const char* key = nullptr;
  std::string CameraProfile::*member = nullptr;
};
constexpr std::array kTexts{
    TextKey{"make", &CameraProfile::make}, TextKey{"model", &CameraProfile::model},
    TextKey{"lens", &CameraProfile::lens}, TextKey{"date", &CameraProfile::date}};

// Numbers, and between what they can be.
struct NumberKey {
  const char* key = nullptr;
  double CameraProfile::*member = nullptr;
  double least = 0.0;
  double most = 0.0;
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
  const char* key = nullptr;
  int CameraProfile::*member = nullptr;
  double least = 0.0;
  double most = 0.0;
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

}  // namespace

bool same_focal(double a_mm, double b_mm) {
  constexpr double kSame = 0.005;  // EXIF holds fractions, cameras round them
  return std::abs(a_mm / b_mm - 1.0) <= kSame;
}

bool same_zoom(double a, double b) {
  constexpr double kSame = 0.005;
  return std::abs(a - b) <= kSame;
}

bool same_proportions(int a_width, int a_height, int b_width, int b_height) {
  constexpr double kSame = 0.005;  // whole pixels and rounding of small copies
  const auto ratio = [](int width, int height) {
    return static_cast<double>(std::max(width, height)) / std::max(1, std::min(width, height));
  };
  return std::abs(ratio(a_width, a_height) / ratio(b_width, b_height) - 1.0) <= kSame;
}

Result<CameraBook> load_camera_book(const UserFolders& folders) {
  const std::filesystem::path file = file_in(folders);
  const Result<std::string> bytes = read_file(file, kMostBookBytes);
  if (!bytes) {
    if (bytes.problem().code == Code::kFileMissing) return CameraBook();
    return bytes.problem();
  }
  const Result<Json> json = parse_json(*bytes, {file.string(), "book of cameras"});
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
      return bad("has no usable '" + wrong.append("' for ").append(name), Code::kBadValue);
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
