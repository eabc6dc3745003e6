// SPDX-License-Identifier: MIT
#include "desktop/document/history.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/document/make_document.h"

namespace potshadow {
namespace {

using testing::ElementsAre;

void done(History& history, const Command& command, bool continues = false) {
  const Result<Done> result = history.perform(command, continues);
  ASSERT_TRUE(result.ok()) << result.problem().what;
}

Command nudge(std::size_t mark, double x) { return MoveMarks{{{rim(mark), {x, 50.0}}}}; }

TEST(History, GoesBackAndForth) {
  History history(make_document(), "Open");
  done(history, SetName{"Jar"});
  done(history, SetWall{5.0, 1.0});
  EXPECT_THAT(history.steps(), ElementsAre("Open", "Name vessel", "Set wall thickness"));
  EXPECT_EQ(history.undo_words(), "Set wall thickness");
  EXPECT_EQ(history.redo_words(), std::nullopt);
  EXPECT_TRUE(history.undo());
  EXPECT_TRUE(history.undo());
  EXPECT_FALSE(history.undo());
  EXPECT_EQ(history.document(), make_document());
  EXPECT_EQ(history.undo_words(), std::nullopt);
  EXPECT_EQ(history.redo_words(), "Name vessel");
  EXPECT_TRUE(history.redo());
  EXPECT_EQ(history.document().name, "Jar");
  EXPECT_TRUE(history.go_to(2));
  EXPECT_FALSE(history.redo());
  EXPECT_FALSE(history.go_to(3));
  EXPECT_EQ(history.at(), 2u);
  EXPECT_EQ(history.document().wall.value_mm, 5.0);
}

TEST(History, ANewStepForgetsWhatWasUndone) {
  History history(make_document());
  done(history, SetName{"Jar"});
  history.undo();
  done(history, SetNotes{"Top shelf"});
  EXPECT_THAT(history.steps(), ElementsAre("Open", "Edit notes"));
}

TEST(History, WhatChangesNothingIsNoStep) {
  History history(make_document());
  done(history, SetName{"Jar"});
  history.undo();
  done(history, SetName{"Low bowl"});
  done(history, MoveMarks{});
  EXPECT_THAT(history.steps(), ElementsAre("Open", "Name vessel"));
  EXPECT_EQ(history.redo_words(), "Name vessel");
  EXPECT_FALSE(history.unsaved());
}

TEST(History, WhatFailsChangesNothing) {
  History history(make_document());
  done(history, SetName{"Jar"});
  history.undo();
  EXPECT_FALSE(history.perform(RemovePhoto{4}).ok());
  EXPECT_EQ(history.document(), make_document());
  EXPECT_EQ(history.redo_words(), "Name vessel");
}

TEST(History, NudgesOfTheSameMarkAreOneStep) {
  History history(make_document());
  done(history, nudge(0, 101.0), true);
  done(history, nudge(0, 102.0), true);
  done(history, nudge(0, 103.0), true);
  EXPECT_THAT(history.steps(), ElementsAre("Open", "Move rim mark 1"));
  done(history, nudge(1, 201.0), true);
  done(history, nudge(1, 202.0));
  EXPECT_THAT(history.steps(),
              ElementsAre("Open", "Move rim mark 1", "Move rim mark 2", "Move rim mark 2"));
  history.go_to(1);
  EXPECT_EQ(point_at(history.document(), rim(0)), (PhotoPoint{103.0, 50.0}));
  history.undo();
  EXPECT_EQ(history.document(), make_document());
}

TEST(History, TypingIsOneStepAndOtherFieldsAreOthers) {
  History history(make_document());
  done(history, SetName{"J"}, true);
  done(history, SetName{"Ja"}, true);
  done(history, SetNotes{"T"}, true);
  done(history, SetNotes{"To"}, true);
  done(history, AddMark{rim(3), {1.0, 1.0}}, true);
  done(history, AddMark{rim(4), {2.0, 2.0}}, true);
  EXPECT_THAT(history.steps(),
              ElementsAre("Open", "Name vessel", "Edit notes", "Add rim mark", "Add rim mark"));
}

TEST(History, NudgingBackLeavesNoStep) {
  History history(make_document());
  done(history, nudge(0, 101.0), true);
  done(history, nudge(0, 100.0), true);
  EXPECT_THAT(history.steps(), ElementsAre("Open"));
  EXPECT_EQ(history.document(), make_document());
}

TEST(History, ASaveOrAnUndoEndsAStep) {
  History history(make_document());
  done(history, nudge(0, 101.0), true);
  history.mark_saved();
  done(history, nudge(0, 102.0), true);
  EXPECT_EQ(history.steps().size(), 3u);
  EXPECT_TRUE(history.unsaved());
  history.undo();
  EXPECT_FALSE(history.unsaved());
  done(history, nudge(0, 103.0), true);
  EXPECT_EQ(history.steps().size(), 3u);
  done(history, nudge(0, 104.0), true);
  history.undo();
  EXPECT_EQ(point_at(history.document(), rim(0)), (PhotoPoint{101.0, 50.0}));
}

TEST(History, KnowsWhatIsSaved) {
  History history(make_document());
  EXPECT_FALSE(history.unsaved());
  done(history, SetName{"Jar"});
  EXPECT_TRUE(history.unsaved());
  // By hand back to what is on disk.
  done(history, SetName{"Low bowl"});
  EXPECT_FALSE(history.unsaved());
  history.undo();
  history.mark_saved();
  EXPECT_FALSE(history.unsaved());
  history.undo();
  EXPECT_TRUE(history.unsaved());
  history.mark_never_saved();
  history.redo();
  EXPECT_TRUE(history.unsaved());
}

}  // namespace
}  // namespace potshadow
