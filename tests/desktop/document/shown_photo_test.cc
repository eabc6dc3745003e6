// SPDX-License-Identifier: MIT
#include "desktop/document/shown_photo.h"

#include <gtest/gtest.h>

#include <array>
#include <utility>

#include "desktop/document/history.h"

namespace potshadow {
namespace {

Document three_photos() {
  Document document;
  for (const char* file : {"/larkmoor/front.jpg", "/larkmoor/side.jpg", "/larkmoor/back.jpg"}) {
    ProjectPhoto photo;
    photo.file = file;
    document.photos.push_back(std::move(photo));
  }
  return document;
}

Document after_command(const Document& document, const Command& command) {
  const Result<Document> changed = apply(document, command);
  EXPECT_TRUE(changed.ok());
  return changed.ok() ? *changed : document;
}

TEST(ShownPhoto, StaysWhereNothingOfAPhotographChanges) {
  const Document before = three_photos();
  int cases = 0;
  for (const std::size_t shown : {0u, 1u, 2u}) {
    EXPECT_EQ(photo_after(before, after_command(before, SetName{"Shelf jar"}), shown), shown);
    EXPECT_EQ(photo_after(before, before, shown), shown);
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

TEST(ShownPhoto, IsTheOneThatChanges) {
  const Document before = three_photos();
  const Document after = after_command(before, AddMark{{2, {MarkKind::kRim, 0, 0}}, {10.0, 20.0}});
  EXPECT_EQ(photo_after(before, after, 0), 2u);
  EXPECT_EQ(photo_after(after, before, 1), 2u);
  EXPECT_EQ(photo_after(before, after, 2), 2u);
}

TEST(ShownPhoto, StaysWhereItChangesWithOthers) {
  const Document before = three_photos();
  Document after = before;
  for (ProjectPhoto& photo : after.photos) photo.cropped = true;
  EXPECT_EQ(photo_after(before, after, 1), 1u);
}

TEST(ShownPhoto, IsTheOneThatComesIn) {
  const Document three = three_photos();
  const Document two = after_command(three, RemovePhoto{1});
  EXPECT_EQ(photo_after(two, three, 0), 1u);
  ProjectPhoto further;
  further.file = "/larkmoor/top.jpg";
  EXPECT_EQ(photo_after(three, after_command(three, AddPhoto{further}), 0), 3u);
}

TEST(ShownPhoto, IsTheNextOneWhereItIsTakenOut) {
  const Document three = three_photos();
  struct Case {
    std::size_t shown;
    std::size_t removed;
    std::size_t after;
  };
  constexpr std::array<Case, 6> kCases{
      {{0, 0, 0}, {1, 1, 1}, {2, 2, 1}, {0, 2, 0}, {2, 0, 1}, {1, 2, 1}}};
  int cases = 0;
  for (const Case& one : kCases) {
    const Document after = after_command(three, RemovePhoto{one.removed});
    EXPECT_EQ(photo_after(three, after, one.shown), one.after);
    ++cases;
  }
  EXPECT_EQ(cases, 6);
  EXPECT_EQ(photo_after(three, Document(), 2), 0u);
}

TEST(ShownPhoto, FindsWhatTheAnswerSaysOfIt) {
  const std::filesystem::path samples = POTSHADOW_SOURCE_DIR "/samples";
  const Result<Project> sample = load_project(samples / "shelf-jar.potshadow");
  ASSERT_TRUE(sample.ok());
  Result<Measurement> measured = measure_project(*sample, samples);
  ASSERT_TRUE(measured.ok());
  Measurement measurement = std::move(measured).value();
  measurement.project = three_photos();
  measurement.photo_index = 1;
  measurement.photo_indices = {1};
  measurement.answer.photos.resize(1);
  measurement.answer.photos[0].camera.focal_35mm = 52.0;
  const Document three = three_photos();
  EXPECT_EQ(answer_of_photo(measurement, three, 0), nullptr);
  ASSERT_NE(answer_of_photo(measurement, three, 1), nullptr);
  EXPECT_EQ(answer_of_photo(measurement, three, 1)->camera.focal_35mm, 52.0);
  EXPECT_EQ(answer_of_photo(measurement, three, 2), nullptr);
  EXPECT_EQ(answer_of_photo(measurement, three, 3), nullptr);
  // The same photograph has another number since one was taken out.
  const Document two = after_command(three, RemovePhoto{0});
  EXPECT_NE(answer_of_photo(measurement, two, 0), nullptr);
  EXPECT_EQ(answer_of_photo(measurement, two, 1), nullptr);
  const MarkId mark = mark_in(measurement, {MarkKind::kLeft, 0, 7, 0});
  EXPECT_EQ(mark, (MarkId{1, {MarkKind::kLeft, 0, 7}}));
}

TEST(Direction, IsSetAndTakenBack) {
  History history(three_photos());
  ASSERT_TRUE(history.perform(SetDirection{1, 90.0}).ok());
  ASSERT_TRUE(history.perform(SetDirection{1, 95.0}, true).ok());
  ASSERT_TRUE(history.perform(SetDirection{2, -90.0}, true).ok());
  EXPECT_EQ(history.steps().size(), 3u);
  EXPECT_EQ(history.document().photos[1].direction_deg, 95.0);
  ASSERT_TRUE(history.undo());
  ASSERT_TRUE(history.undo());
  EXPECT_FALSE(history.document().photos[1].direction_deg);
  EXPECT_FALSE(history.perform(SetDirection{3, 10.0}).ok());
}

TEST(HiddenParts, AreSetWithWhatBoundsThem) {
  History history(three_photos());
  ASSERT_TRUE(history.perform(SetHiddenFoot{ProjectHidden{}}).ok());
  ProjectHidden bounded;
  bounded.low_mm = 20.0;
  bounded.high_mm = 35.0;
  ASSERT_TRUE(history.perform(SetHiddenFoot{bounded}).ok());
  ASSERT_TRUE(history.perform(SetHiddenRim{ProjectHidden{}}).ok());
  EXPECT_EQ(history.document().hidden_foot, bounded);
  EXPECT_TRUE(history.document().hidden_rim);
  EXPECT_EQ(history.undo_words(), "Set hidden rim");
  ASSERT_TRUE(history.perform(SetHiddenFoot{std::nullopt}).ok());
  EXPECT_FALSE(history.document().hidden_foot);
  EXPECT_EQ(history.undo_words(), "Set foot as seen");
  while (history.undo()) {
  }
  EXPECT_EQ(history.document(), three_photos());
}

}  // namespace
}  // namespace potshadow
