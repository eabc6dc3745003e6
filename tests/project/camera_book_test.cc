// SPDX-License-Identifier: MIT
#include "project/camera_book.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

CameraProfile case_camera() {
  CameraProfile profile;
  profile.make = "Larkmoor";
  profile.model = "Larkmoor Two";
  profile.lens = "35 mm";
  profile.focal_mm = 23.3;
  profile.width_px = 4000;
  profile.height_px = 3000;
  profile.focal_35mm = 35.25;
  profile.focal_35mm_sd = 0.12;
  profile.offset_x = 0.004;
  profile.offset_x_sd = 0.001;
  profile.offset_y = -0.002;
  profile.offset_y_sd = 0.001;
  profile.k1 = -0.05;
  profile.k1_sd = 0.002;
  profile.k2 = 0.02;
  profile.k2_sd = 0.01;
  profile.date = "2026-11-25";
  profile.pictures = 14;
  return profile;
}

PhotoFacts photo_by_case_camera() {
  PhotoFacts facts;
  facts.width_px = 4000;
  facts.height_px = 3000;
  facts.exif.make = "Larkmoor";
  facts.exif.model = "Larkmoor Two";
  facts.exif.lens = "35 mm";
  facts.exif.focal_length = Mm{23.3};
  facts.focal = FocalFromExif{35.0, 2.2, true, 1.0};
  return facts;
}

class Book : public testing::Test {
 protected:
  UserFolders folders() const { return {folder_.path() / "config", folder_.path() / "state"}; }
  std::filesystem::path file() const { return folders().config / "cameras.json"; }
  void put(const std::string& text) const {
    std::filesystem::create_directories(folders().config);
    std::ofstream(file(), std::ios::binary) << text;
  }
  std::string content() const {
    std::ifstream stream(file(), std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  }

 private:
  TemporaryFolder folder_;
};

TEST_F(Book, ComesBackAsItWasSaved) {
  const auto none = load_camera_book(folders());
  ASSERT_TRUE(none.ok());
  EXPECT_TRUE(none->cameras.empty());
  CameraProfile zoomed = case_camera();
  zoomed.focal_mm = 50.0;
  const CameraBook book = with_camera(with_camera({}, case_camera()), zoomed);
  ASSERT_EQ(book.cameras.size(), 2U);
  ASSERT_TRUE(save_camera_book(book, folders()).ok());
  const auto back = load_camera_book(folders());
  ASSERT_TRUE(back.ok()) << back.problem().what;
  EXPECT_EQ(*back, book);
}

TEST_F(Book, KeysOfOthersAreKept) {
  ASSERT_TRUE(save_camera_book(with_camera({}, case_camera()), folders()).ok());
  std::string text = content();
  text.insert(text.find("\"make\""), "\"strap\": \"red\", ");
  text.insert(text.find("\"cameras\""), "\"owner\": [1, 2], ");
  put(text);
  const auto book = load_camera_book(folders());
  ASSERT_TRUE(book.ok()) << book.problem().what;
  ASSERT_TRUE(save_camera_book(*book, folders()).ok());
  EXPECT_THAT(content(), HasSubstr("\"strap\": \"red\""));
  EXPECT_THAT(content(), HasSubstr("\"owner\": [1, 2]"));
}

TEST_F(Book, ABrokenBookIsToldByItsNameAndLeftAlone) {
  ASSERT_TRUE(save_camera_book(with_camera({}, case_camera()), folders()).ok());
  const std::string sound = content();
  const auto changed = [&](const std::string& from, const std::string& to) {
    std::string text = sound;
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
  };
  struct Case {
    std::string text;
    Code code;
  };
  const std::vector<Case> cases{
      {"", Code::kFileUnreadable},
      {"{", Code::kBadFormat},
      {"[]", Code::kBadFormat},
      {"{\"cameras\": []}", Code::kBadFormat},
      {changed("\"potshadow_cameras\": 1", "\"potshadow_cameras\": 2"), Code::kNewerVersion},
      {changed("35.25", "-1"), Code::kBadValue},
      {changed("35.25", "\"35\""), Code::kBadValue},
      {changed("\"pictures\": 14", "\"pictures\": 0"), Code::kBadValue},
      {changed("\"model\"", "\"modell\""), Code::kBadValue},
      {"{\"potshadow_cameras\": 1, \"cameras\": [3]}", Code::kBadFormat}};
  int ran = 0;
  for (const Case& wrong : cases) {
    put(wrong.text);
    const auto book = load_camera_book(folders());
    ASSERT_FALSE(book.ok()) << wrong.text;
    if (!wrong.text.empty()) {
      EXPECT_EQ(book.problem().code, wrong.code) << wrong.text;
    }
    EXPECT_THAT(book.problem().what, HasSubstr("cameras.json"));
    EXPECT_EQ(content(), wrong.text);
    ++ran;
  }
  EXPECT_EQ(ran, 10);
}

TEST_F(Book, ANewCalibrationReplacesTheOldOne) {
  CameraProfile later = case_camera();
  later.focal_35mm = 35.4;
  later.width_px = 2000;  // a smaller copy
  later.height_px = 1500;
  const CameraBook book = with_camera(with_camera({}, case_camera()), later);
  ASSERT_EQ(book.cameras.size(), 1U);
  EXPECT_EQ(book.cameras.front(), later);
}

TEST_F(Book, OnlyTheSameCameraLensZoomAndProportionsMatch) {
  const CameraBook book = with_camera({}, case_camera());
  EXPECT_EQ(camera_for(book, photo_by_case_camera()), &book.cameras.front());
  PhotoFacts turned = photo_by_case_camera();
  turned.width_px = 1500;
  turned.height_px = 2000;
  EXPECT_NE(camera_for(book, turned), nullptr);
  std::vector<PhotoFacts> others(7, photo_by_case_camera());
  others[0].exif.make = "Other";
  others[1].exif.model = "Larkmoor Three";
  others[2].exif.lens = "";
  others[3].exif.focal_length = Mm{24.0};
  others[4].exif.focal_length = std::nullopt;
  others[5].height_px = 2250;
  others[6].exif.digital_zoom = 2.0;
  int ran = 0;
  for (const PhotoFacts& other : others) {
    EXPECT_EQ(camera_for(book, other), nullptr) << ran;
    ++ran;
  }
  EXPECT_EQ(ran, 7);
}

TEST_F(Book, AProfileIsTheCalibrationInPartsOfThePicture) {
  constexpr double kRounding = 1e-9;
  LensCalibration found;
  found.width_px = 4000;
  found.height_px = 3000;
  // A 4:3 picture of 5000 px across its diagonal; the film's is 43.2666 mm.
  found.focal_px = normal_measured(5000.0, 10.0);
  found.cx_px = normal_measured(1999.5 + 40.0, 4.0);
  found.cy_px = normal_measured(1499.5 - 20.0, 4.0);
  found.k1 = normal_measured(0.01, 0.002);
  const auto profile = camera_profile(found, photo_by_case_camera(), 12, "2026-11-25");
  ASSERT_TRUE(profile.ok());
  EXPECT_NEAR(profile->focal_35mm, 43.266615305567875, kRounding);
  EXPECT_NEAR(profile->focal_35mm_sd, 0.08653323061113575, kRounding);
  EXPECT_NEAR(profile->offset_x, 0.01, kRounding);
  EXPECT_NEAR(profile->offset_y, -0.005, kRounding);
  EXPECT_NEAR(profile->offset_x_sd, 0.001, kRounding);
  EXPECT_EQ(profile->k1_sd, 0.002);
  EXPECT_EQ(profile->pictures, 12);
  // 0.2 % and 0.7 % in squares.
  EXPECT_NEAR(focal_sd_percent(*profile), std::sqrt(0.04 + 0.49), kRounding);

  PhotoFacts nameless = photo_by_case_camera();
  nameless.exif.model.clear();
  const auto refused = camera_profile(found, nameless, 12, "2026-11-25");
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.problem().code, Code::kCannotBeAnswered);
}

TEST_F(Book, ThePhotographTakesTheBooksFocalLengthUnlessTheProjectHasOne) {
  const CameraBook book = with_camera({}, case_camera());
  Project project;
  project.photos.emplace_back();
  project.photos.front().file = "case.jpg";
  project.photos.front().marks.rim = {{10.0, 10.0}};
  const PhotoProbe probe = [](const std::filesystem::path&) -> Result<PhotoFacts> {
    return photo_by_case_camera();
  };
  const auto probed = [&](const CameraBook& from) {
    return probe_with_cameras(from, project, probe)("case.jpg");
  };
  const auto calibrated = probed(book);
  ASSERT_TRUE(calibrated.ok());
  ASSERT_TRUE(calibrated->focal.has_value());
  EXPECT_EQ(calibrated->focal->focal_35mm, 35.25);
  EXPECT_EQ(calibrated->focal->sd_percent, focal_sd_percent(case_camera()));
  EXPECT_LT(calibrated->focal->sd_percent, kOpticsSdPercent);
  ASSERT_EQ(calibrated.notes().size(), 1U);
  EXPECT_THAT(calibrated.notes().front().text, HasSubstr("calibrated camera 'Larkmoor Two'"));
  EXPECT_FALSE(calibrated.notes().front().doubtful);

  const auto expect_plain = [&](const CameraBook& from) {
    const auto plain = probed(from);
    ASSERT_TRUE(plain.ok());
    EXPECT_EQ(*plain, photo_by_case_camera());
    EXPECT_TRUE(plain.notes().empty());
  };
  expect_plain({});
  project.photos.front().focal_35mm = 40.0;
  expect_plain(book);
  project.photos.front().focal_35mm.reset();
  project.photos.front().cropped = true;
  expect_plain(book);
}

}  // namespace
}  // namespace potshadow
