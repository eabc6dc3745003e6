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

#include "project/photo_lens.h"
#include "project/user_file.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;

CameraProfile case_camera() {
  CameraProfile profile;
  profile.make = "Larkmoor";
  profile.model = "Larkmoor Two";
  profile.lens = "35 mm";
  profile.focal_mm = 23.3;
  profile.width_px = 3000;
  profile.height_px = 4000;
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
  profile.orientation = 6;
  profile.board_distance_mm = 2400.0;
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
  facts.exif.orientation = 1;
  facts.focal = FocalFromExif{35.0, 2.2, true, 1.0};
  return facts;
}

class Book : public testing::UserFile {
 public:
  std::filesystem::path file() const override { return folders().config / "cameras.json"; }
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
      {changed("\"orientation\": 6", "\"orientation\": 9"), Code::kBadValue},
      {changed("\"board_distance_mm\": 2400.0", "\"board_distance_mm\": -1"), Code::kBadValue},
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
  EXPECT_EQ(ran, 12);
}

TEST_F(Book, AnEarlierBookWithoutDistanceAndTurnIsRead) {
  ASSERT_TRUE(save_camera_book(with_camera({}, case_camera()), folders()).ok());
  std::string text = content();
  for (const std::string& part : {std::string("\"orientation\": 6,"),
                                  std::string(",\n      \"board_distance_mm\": 2400.0")}) {
    ASSERT_NE(text.find(part), std::string::npos) << part << text;
    text.erase(text.find(part), part.size());
  }
  put(text);
  const auto book = load_camera_book(folders());
  ASSERT_TRUE(book.ok()) << book.problem().what;
  CameraProfile earlier = case_camera();
  earlier.orientation = 0;
  earlier.board_distance_mm = 0.0;
  ASSERT_EQ(book->cameras.size(), 1U);
  EXPECT_EQ(book->cameras.front(), earlier);
}

TEST_F(Book, ANewCalibrationReplacesTheOldOne) {
  CameraProfile later = case_camera();
  later.focal_35mm = 35.4;
  later.width_px = 1500;  // a smaller copy
  later.height_px = 2000;
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
  found.board_distance_mm = {1900.0, 2400.0, 2000.0};
  const auto profile = camera_profile(found, photo_by_case_camera(), 12, "2026-11-25");
  ASSERT_TRUE(profile.ok());
  EXPECT_NEAR(profile->focal_35mm, 43.266615305567875, kRounding);
  EXPECT_NEAR(profile->focal_35mm_sd, 0.08653323061113575, kRounding);
  EXPECT_NEAR(profile->offset_x, 0.01, kRounding);
  EXPECT_NEAR(profile->offset_y, -0.005, kRounding);
  EXPECT_NEAR(profile->offset_x_sd, 0.001, kRounding);
  EXPECT_EQ(profile->k1_sd, 0.002);
  EXPECT_EQ(profile->pictures, 12);
  EXPECT_EQ(profile->orientation, 1);
  EXPECT_EQ(profile->board_distance_mm, 2000.0);
  // 0.2 % and 0.7 % in squares: 23.3 mm over 2000 mm over the square root of 3 is 0.67 %.
  EXPECT_NEAR(focal_sd_percent(*profile), std::sqrt(0.04 + 0.49), kRounding);

  PhotoFacts nameless = photo_by_case_camera();
  nameless.exif.model.clear();
  const auto refused = camera_profile(found, nameless, 12, "2026-11-25");
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.problem().code, Code::kCannotBeAnswered);
}

TEST_F(Book, FocusingAddsWhatTheThinLensSays) {
  constexpr double kRounding = 1e-9;
  CameraProfile profile = case_camera();
  profile.focal_35mm = 28.0;
  profile.focal_35mm_sd = 0.0;
  struct Case {
    double focal_mm;
    double board_mm;
    double percent;
  };
  // 1 / 0.4 m of an image distance of 5.6 mm is 1.4 %, and a rectangle's standard deviation is its
  // half width over the square root of 3; never below 0.7 nor above 2 %.
  const std::vector<Case> cases{{5.6, 400.0, 0.80829037686547611},
                                {5.6, 2000.0, 0.7},
                                {50.0, 1000.0, 2.0},
                                {24.0, 1200.0, 1.1547005383792515},
                                {24.0, 0.0, 0.7}};
  int ran = 0;
  for (const Case& each : cases) {
    profile.focal_mm = each.focal_mm;
    profile.board_distance_mm = each.board_mm;
    EXPECT_NEAR(focal_sd_percent(profile), each.percent, kRounding) << ran;
    ++ran;
  }
  EXPECT_EQ(ran, 5);
}

TEST_F(Book, TheLensKeepsItsPlaceOnTheSensorHoweverTheCameraIsHeld) {
  constexpr double kRounding = 1e-12;
  // Calibrated upright (EXIF 6: the picture lies in the file on its left side), the lens looks 0.4
  // % of the width to the right of the middle and 0.2 % above it: 0.3 and 0.15 % of the longer
  // side.
  const CameraProfile profile = case_camera();
  constexpr double kRight = 0.003;
  constexpr double kUp = 0.0015;
  struct Case {
    int orientation;
    bool wide;
    double right;
    double down;
  };
  // CIPA DC-008, "Orientation": with 6 the file's row 0 is at the picture's right and its column 0
  // at the top, so right and down in the file are down and left in the picture; with 8 they are up
  // and right, with 3 left and up.
  const std::vector<Case> cases{{6, false, kRight, -kUp},
                                {1, true, -kUp, -kRight},
                                {8, false, -kRight, kUp},
                                {3, true, kUp, kRight}};
  int ran = 0;
  for (const Case& held : cases) {
    PhotoFacts facts = photo_by_case_camera();
    facts.exif.orientation = held.orientation;
    if (!held.wide) std::swap(facts.width_px, facts.height_px);
    const LensFacts lens = lens_facts(profile, facts, false);
    ASSERT_TRUE(lens.middle.has_value());
    EXPECT_NEAR(lens.middle->right, held.right, kRounding) << held.orientation;
    EXPECT_NEAR(lens.middle->down, held.down, kRounding) << held.orientation;
    // 0.1 % of the width and 0.3 % of the longer side.
    EXPECT_NEAR(lens.middle->sd, std::hypot(0.00075, 0.003), kRounding);
    EXPECT_EQ(lens.k1, -0.05);
    EXPECT_NEAR(lens.k1_sd, std::hypot(0.002, 0.005), kRounding);
    EXPECT_EQ(lens.k2, 0.02);
    ++ran;
  }
  EXPECT_EQ(ran, 4);
}

TEST_F(Book, WhereTheTurnIsNotKnownTheMiddleIsTheMoreUncertain) {
  constexpr double kRounding = 1e-12;
  // A picture that some program turned: upright though its file says nothing of a turn.
  PhotoFacts turned = photo_by_case_camera();
  std::swap(turned.width_px, turned.height_px);
  CameraProfile earlier = case_camera();
  earlier.orientation = 0;
  const double sd = std::hypot(std::hypot(0.00075, 0.003), std::hypot(0.003, 0.0015));
  for (const LensFacts& lens : {lens_facts(case_camera(), turned, false),
                                lens_facts(earlier, photo_by_case_camera(), false)}) {
    ASSERT_TRUE(lens.middle.has_value());
    EXPECT_EQ(lens.middle->right, 0.0);
    EXPECT_EQ(lens.middle->down, 0.0);
    EXPECT_NEAR(lens.middle->sd, sd, kRounding);
  }
}

TEST_F(Book, TheEstimateGetsTheMiddleInPixelsOfThePictureAsItIsTurned) {
  constexpr double kRounding = 1e-9;
  PhotoFacts facts = photo_by_case_camera();
  ProjectPhoto photo;
  const LensPrior plain = lens_for_photo(facts, photo, 4000, 3000);
  EXPECT_EQ(plain.k1, 0.0);
  EXPECT_EQ(plain.k1_sd, LensPrior().k1_sd);
  EXPECT_FALSE(plain.centre_sd_px.has_value());

  facts.lens = LensFacts{-0.05, 0.006, 0.02, LensFacts::Middle{0.003, -0.001, 0.002}};
  struct Case {
    int quarter_turns;
    double x_px;
    double y_px;
  };
  // Clockwise, what is at the right goes down and what is at the top goes right.
  const std::vector<Case> cases{{0, 12.0, -4.0}, {1, 4.0, 12.0}, {2, -12.0, 4.0}, {3, -4.0, -12.0}};
  int ran = 0;
  for (const Case& turned : cases) {
    photo.quarter_turns = turned.quarter_turns;
    const bool wide = turned.quarter_turns % 2 == 0;
    const LensPrior prior = lens_for_photo(facts, photo, wide ? 4000 : 3000, wide ? 3000 : 4000);
    EXPECT_NEAR(prior.centre_x_px, turned.x_px, kRounding) << ran;
    EXPECT_NEAR(prior.centre_y_px, turned.y_px, kRounding) << ran;
    EXPECT_NEAR(prior.centre_sd_px.value_or(0.0), 8.0, kRounding);
    EXPECT_EQ(prior.k1, -0.05);
    EXPECT_EQ(prior.k1_sd, 0.006);
    EXPECT_EQ(prior.k2, 0.02);
    ++ran;
  }
  EXPECT_EQ(ran, 4);
  // A copy of half the size: half the pixels, the same bending.
  photo.quarter_turns = 0;
  const LensPrior small = lens_for_photo(facts, photo, 2000, 1500);
  EXPECT_NEAR(small.centre_x_px, 6.0, kRounding);
  EXPECT_NEAR(small.centre_sd_px.value_or(0.0), 4.0, kRounding);
  EXPECT_EQ(small.k1, -0.05);
  photo.cropped = true;
  const LensPrior cropped = lens_for_photo(facts, photo, 2000, 1500);
  EXPECT_EQ(cropped.centre_x_px, 0.0);
  EXPECT_FALSE(cropped.centre_sd_px.has_value());
  EXPECT_EQ(cropped.k1, -0.05);
}

class BookForAProject : public Book {
 protected:
  BookForAProject() {
    project_.photos.resize(2);
    project_.photos[0].file = "first/case.jpg";
    project_.photos[0].marks.rim = {{10.0, 10.0}};
    project_.photos[1].file = "case.jpg";
    project_.photos[1].marks.rim = {{10.0, 10.0}};
  }
  Result<PhotoFacts> probed(const PhotoFacts& plain,
                            const std::string& path = "at/case.jpg") const {
    const PhotoProbe probe = [&](const std::filesystem::path&) -> Result<PhotoFacts> {
      return plain;
    };
    return probe_with_cameras(with_camera({}, case_camera()), project_, probe)(path);
  }
  Project project_;
};

TEST_F(BookForAProject, APhotographTakesFocalLengthMiddleAndBendingFromTheBook) {
  const PhotoFacts plain = photo_by_case_camera();
  const auto calibrated = probed(plain);
  ASSERT_TRUE(calibrated.ok());
  ASSERT_TRUE(calibrated->focal.has_value());
  EXPECT_EQ(calibrated->focal->focal_35mm, 35.25);
  EXPECT_EQ(calibrated->focal->sd_percent, focal_sd_percent(case_camera()));
  EXPECT_LT(calibrated->focal->sd_percent, kOpticsSdPercent);
  EXPECT_EQ(calibrated->lens, lens_facts(case_camera(), plain, false));
  ASSERT_EQ(calibrated.notes().size(), 1U);
  EXPECT_EQ(calibrated.notes().front().text,
            "The lens's focal length, middle and bending are those of the calibrated camera "
            "'Larkmoor Two' at 23.3 mm (35 mm equivalent 35.25 mm, 14 pictures of 2026-11-25).");
  EXPECT_FALSE(calibrated.notes().front().doubtful);
  EXPECT_EQ(*probe_with_cameras({}, project_, [&](const auto&) { return plain; })("case.jpg"),
            plain);
}

TEST_F(BookForAProject, ATypedFocalLengthStands) {
  const PhotoFacts plain = photo_by_case_camera();
  project_.photos[1].focal_35mm = 40.0;
  const auto typed = probed(plain);
  ASSERT_TRUE(typed.ok());
  EXPECT_EQ(typed->focal, plain.focal);
  EXPECT_EQ(typed->lens, lens_facts(case_camera(), plain, false));
  ASSERT_EQ(typed.notes().size(), 1U);
  EXPECT_THAT(typed.notes().front().text, HasSubstr("The lens's middle and bending are those"));
  // It stands for its own photograph alone.
  EXPECT_EQ(probed(plain, "at/first/case.jpg")->focal->focal_35mm, 35.25);
}

TEST_F(BookForAProject, ACroppedPhotographTakesItsBendingOnly) {
  PhotoFacts plain = photo_by_case_camera();
  plain.width_px = 1700;  // of any proportions
  plain.height_px = 1600;
  project_.photos[1].cropped = true;
  const auto cropped = probed(plain);
  ASSERT_TRUE(cropped.ok());
  EXPECT_EQ(cropped->focal, plain.focal);
  ASSERT_TRUE(cropped->lens.has_value());
  EXPECT_FALSE(cropped->lens->middle.has_value());
  EXPECT_EQ(cropped->lens->k1, -0.05);
  ASSERT_EQ(cropped.notes().size(), 1U);
  EXPECT_THAT(cropped.notes().front().text, HasSubstr("The lens's bending is that of"));
}

TEST_F(BookForAProject, ACalibrationThatDoesNotServeIsSaidNotToBeUsed) {
  std::vector<PhotoFacts> others(4, photo_by_case_camera());
  others[0].exif.focal_length = Mm{50.0};
  others[1].exif.focal_length = std::nullopt;
  others[2].height_px = 2250;
  others[3].exif.digital_zoom = 2.0;
  const std::vector<std::string> words{
      "at another zoom (23.3 mm) than this photograph's (50.0 mm), so the calibration was not "
      "used.",
      "does not say at which focal length it was taken",
      "with pictures of other proportions (3000 x 4000) than this photograph's (4000 x 2250)",
      "at another zoom (23.3 mm) than this photograph's (23.3 mm and digital zoom 2.00)"};
  int ran = 0;
  for (std::size_t i = 0; i < others.size(); ++i) {
    const auto other = probed(others[i]);
    ASSERT_TRUE(other.ok());
    EXPECT_EQ(*other, others[i]) << i;
    ASSERT_EQ(other.notes().size(), 1U) << i;
    EXPECT_THAT(other.notes().front().text, HasSubstr(words.at(i)));
    EXPECT_FALSE(other.notes().front().doubtful);
    ++ran;
  }
  EXPECT_EQ(ran, 4);
  // Of a camera that is not in the book nothing is said.
  PhotoFacts stranger = photo_by_case_camera();
  stranger.exif.model = "Larkmoor Three";
  EXPECT_TRUE(probed(stranger).notes().empty());
  // Nor of a file that the project does not have.
  EXPECT_EQ(*probed(photo_by_case_camera(), "at/other.jpg"), photo_by_case_camera());
}

}  // namespace
}  // namespace potshadow
