// SPDX-License-Identifier: MIT
#include "desktop/words/photo_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "desktop/words/sample.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

FactRow row(const std::vector<FactRow>& rows, const std::string& label) {
  const auto found = std::find_if(rows.begin(), rows.end(),
                                  [&](const FactRow& fact) { return fact.label == label; });
  return found == rows.end() ? FactRow{} : *found;
}

PhotoFacts bare_facts() {
  PhotoFacts facts;
  facts.kind = PictureKind::kPng;
  facts.width_px = 1600;
  facts.height_px = 1200;
  facts.bytes = 2'345'678;
  return facts;
}

TEST(FoundRows, TellTheSample) {
  const std::vector<FactRow> rows = found_rows(sample_facts(), sample_document().photos[0]);
  EXPECT_EQ(row(rows, "Focal length").value, "like 52 mm on 35 mm film");
  EXPECT_EQ(row(rows, "Focal length").note, "± 4 %, as the file says it; yours is used instead");
  EXPECT_EQ(row(rows, "Size").value, "4032 × 3024 pixels");
  EXPECT_EQ(row(rows, "Size").note, "12.2 megapixels");
  EXPECT_EQ(row(rows, "File").value, "JPEG, 0.6 MB");
}

TEST(FoundRows, TellCameraLensAndDate) {
  PhotoFacts facts = bare_facts();
  facts.exif.make = "Larkmoor";
  facts.exif.model = "Larkmoor One";
  facts.exif.lens = "35 mm f/2";
  facts.exif.taken = "2024-05-31 14:05:09";
  facts.focal = FocalFromExif{28.0, 2.3, false, 1.0};
  std::vector<FactRow> rows = found_rows(facts, {});
  EXPECT_EQ(row(rows, "Camera").value, "Larkmoor One");
  EXPECT_EQ(row(rows, "Lens").value, "35 mm f/2");
  EXPECT_EQ(row(rows, "Taken").value, "31 May 2024, 14:05");
  // 1.96 times 2.3 % is 4.5 %.
  EXPECT_EQ(row(rows, "Focal length").note, "± 5 %, worked out from the lens and the sensor");
  facts.exif.model = "Two";
  facts.exif.taken = "some day";
  rows = found_rows(facts, {});
  EXPECT_EQ(row(rows, "Camera").value, "Larkmoor Two");
  EXPECT_EQ(row(rows, "Taken").value, "some day");
}

TEST(FoundRows, SayWhatTheFileDoesNot) {
  const std::vector<FactRow> rows = found_rows(bare_facts(), {});
  EXPECT_EQ(row(rows, "Camera").value, "");
  EXPECT_EQ(row(rows, "Focal length").value, "–");
  EXPECT_TRUE(row(rows, "Focal length").doubtful);
  EXPECT_EQ(row(rows, "Taken").value, "–");
  EXPECT_EQ(row(rows, "File").value, "PNG, 2.3 MB");
}

TEST(FoundRows, TurnTheSizeWithThePicture) {
  ProjectPhoto photo;
  photo.quarter_turns = 3;
  EXPECT_EQ(row(found_rows(bare_facts(), photo), "Size").value, "1200 × 1600 pixels");
}

TEST(AssumedRows, TellWhatIsTakenForGranted) {
  const PhotoFacts facts = sample_facts();
  const std::vector<FactRow> rows = assumed_rows(&facts, sample_document().photos[0]);
  EXPECT_EQ(row(rows, "Focal length").note, "± 4 %, as you gave it");
  EXPECT_EQ(row(rows, "Middle of the frame").value, "the middle of the picture");
  EXPECT_EQ(row(rows, "Lens").value, "draws straight lines straight");
  // A standard uncertainty of 2 mm is 1.96 times 2 = 3.9 mm at 95 %.
  EXPECT_EQ(row(rows, "Pane").value, "8.0 ± 3.9 mm thick");
  EXPECT_EQ(row(rows, "Marks").value, "each within 1.5 px");
}

TEST(AssumedRows, NameWhatIsLeftOpen) {
  const PhotoFacts facts = bare_facts();
  ProjectPhoto photo;
  photo.cropped = true;
  const std::vector<FactRow> rows = assumed_rows(&facts, photo);
  EXPECT_EQ(row(rows, "Focal length").value, "found from the marks alone");
  EXPECT_TRUE(row(rows, "Focal length").doubtful);
  EXPECT_EQ(row(rows, "Middle of the frame").value, "not known");
  EXPECT_TRUE(row(rows, "Middle of the frame").doubtful);
  EXPECT_EQ(row(rows, "Pane").value, "none");
  // Before the file was read nothing is said of its focal length.
  EXPECT_EQ(row(assumed_rows(nullptr, photo), "Focal length").value, "");
}

TEST(PhotoWarnings, AreNoneForTheSample) {
  const PhotoFacts facts = sample_facts();
  EXPECT_THAT(photo_warnings(&facts, sample_document().photos[0]), IsEmpty());
}

TEST(PhotoWarnings, NameEveryTrouble) {
  PhotoFacts facts = bare_facts();
  facts.width_px = 640;
  facts.height_px = 480;
  ProjectPhoto photo;
  photo.cropped = true;
  const std::vector<Note> notes = photo_warnings(&facts, photo);
  ASSERT_EQ(notes.size(), 4U);
  EXPECT_EQ(notes[0].text,
            "The file holds nothing about its camera, as after editing or sending it. Use the "
            "original file if you have it.");
  EXPECT_THAT(notes[1].text, HasSubstr("focal length is not known"));
  EXPECT_THAT(notes[2].text, HasSubstr("The picture is cropped"));
  EXPECT_THAT(notes[3].text, HasSubstr("640 × 480 pixels"));
  for (const Note& note : notes) EXPECT_TRUE(note.doubtful);
  photo.focal_35mm = 40.0;
  photo.cropped = false;
  EXPECT_EQ(photo_warnings(&facts, photo).size(), 2U);
  EXPECT_THAT(photo_warnings(nullptr, photo), IsEmpty());
}

TEST(Megapixels, AreRounded) {
  EXPECT_EQ(megapixels_text(4032, 3024), "12.2 megapixels");
  EXPECT_EQ(megapixels_text(8000, 6000), "48 megapixels");
  EXPECT_EQ(megapixels_text(640, 480), "0.3 megapixels");
  EXPECT_EQ(megapixels_text(1, 1), "less than 0.1 megapixels");
}

TEST(PhotoLines, SayWhichAreMarkedAndTellNamesakesApart) {
  Document document = sample_document();
  ProjectPhoto side;
  side.file = "/larkmoor/side/shelf-jar.jpg";
  side.direction_deg = 90.0;
  document.photos.push_back(side);
  document.photos.push_back({});
  const std::vector<PhotoLine> lines = photo_lines(document);
  ASSERT_EQ(lines.size(), 3u);
  EXPECT_EQ(lines[0].name, "shelf-jar in samples");
  EXPECT_TRUE(lines[0].marked);
  EXPECT_THAT(lines[0].words, testing::HasSubstr("marks on the vessel, 1 reference"));
  EXPECT_EQ(lines[1].name, "shelf-jar in side");
  EXPECT_EQ(
      lines[1].words,
      "/larkmoor/side/shelf-jar.jpg: no marks yet, so it is left out, no reference, seen from 90°");
  EXPECT_FALSE(lines[1].marked);
  EXPECT_EQ(lines[2].name, "no file");
  document.photos.resize(1);
  EXPECT_EQ(photo_lines(document).at(0).name, "shelf-jar");
}

}  // namespace
}  // namespace potshadow
