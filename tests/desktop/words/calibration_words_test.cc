// SPDX-License-Identifier: MIT
#include "desktop/words/calibration_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace potshadow {
namespace {

using testing::HasSubstr;

// 4000 x 3000 pixels have a diagonal of 5000; that of 35 mm film is 43.27 mm. So 3000 px are
// 3000 / 5000 * 43.27 = 25.96 mm.
LensCalibration found_lens() {
  LensCalibration found;
  found.width_px = 4000;
  found.height_px = 3000;
  found.focal_px = normal_measured(3000.0, 10.0);
  found.rms_px = 0.31;
  found.picture_rms_px = {0.30, 0.32, 0.31, 1.20};
  return found;
}

TEST(CalibrationSentence, GivesTheLensAndHowWellItFits) {
  LensCalibration found = found_lens();
  // 1.96 * 10 px are 0.17 mm.
  EXPECT_EQ(calibration_sentence(found),
            "A lens like 25.96 ± 0.17 mm on 35 mm film. The board's corners lie 0.31 pixels from "
            "where this lens puts them, which is good.");
  found.rms_px = 1.0;
  EXPECT_THAT(calibration_sentence(found), HasSubstr("which will do."));
  found.rms_px = 2.0;
  EXPECT_THAT(calibration_sentence(found), HasSubstr("look whether the board lay flat"));
}

TEST(CalibrationNotes, NameThePicturesThatDidNotServe) {
  BoardPictures pictures;
  pictures.given = 6;
  pictures.corners.resize(4);
  pictures.files = {"/b/1.jpg", "/b/2.jpg", "/b/3.jpg", "/b/4.jpg"};
  pictures.left_out = {{"/b/wall.jpg", "No board of 9 by 6 inner corners is to be seen whole."},
                       {"/b/copy.jpg", "it is the same picture as another."}};
  const std::vector<Note> notes = calibration_notes(found_lens(), pictures);
  ASSERT_EQ(notes.size(), 4u);
  EXPECT_EQ(notes[0].text, "The board was found in 4 of 6 pictures.");
  EXPECT_FALSE(notes[0].doubtful);
  EXPECT_EQ(notes[1].text,
            "'wall.jpg' was left out: no board of 9 by 6 inner corners is to be seen whole.");
  EXPECT_TRUE(notes[1].doubtful);
  EXPECT_EQ(notes[2].text, "'copy.jpg' was left out: it is the same picture as another.");
  EXPECT_THAT(notes[3].text, HasSubstr("'4.jpg' fits far worse than the others."));
}

TEST(KnownCameraWords, SayWhatTheBookKnows) {
  CameraProfile profile;
  profile.make = "Larkmoor";
  profile.model = "Larkmoor P1";
  profile.focal_mm = 5.4;
  profile.focal_35mm = 26.0;
  profile.focal_35mm_sd = 0.05;
  profile.date = "2026-11-25";
  profile.pictures = 12;
  const std::string words = known_camera_words(profile);
  EXPECT_THAT(words, HasSubstr("Larkmoor P1 at 5.4 mm, measured on 2026-11-25 from 12 pictures: "
                               "like 26.0"));
  EXPECT_THAT(words, HasSubstr("with what focus and zoom may change."));
}

}  // namespace
}  // namespace potshadow
