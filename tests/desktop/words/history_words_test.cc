// SPDX-License-Identifier: MIT
#include "desktop/words/history_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace potshadow {
namespace {

using testing::HasSubstr;
using namespace std::chrono_literals;

// 25 November 2026, 14:30 UTC.
const std::chrono::system_clock::time_point kNow =
    std::chrono::sys_days{std::chrono::November / 25 / 2026} + 14h + 30min;

TEST(UndoTooltip, NamesTheStep) {
  EXPECT_EQ(undo_tooltip("Add rim mark"), "Undo: add rim mark (Ctrl+Z)");
  EXPECT_EQ(undo_tooltip(std::nullopt), "There is nothing to undo.");
  EXPECT_EQ(redo_tooltip("Move 3 marks"), "Redo: move 3 marks (Ctrl+Y)");
  EXPECT_EQ(redo_tooltip(std::nullopt), "There is nothing to redo.");
}

TEST(WindowTitle, ShowsUnsavedWork) {
  EXPECT_EQ(window_title("Shelf jar", false), "Shelf jar – Potshadow");
  EXPECT_EQ(window_title("Shelf jar", true), "• Shelf jar – Potshadow");
  EXPECT_EQ(window_title("", true), "Potshadow");
}

TEST(LeavingQuestion, NamesTheVessel) {
  EXPECT_EQ(leaving_question("Shelf jar"), "'Shelf jar' has changes that are not saved.");
  EXPECT_EQ(leaving_question(""), "This project has changes that are not saved.");
}

TEST(RecoveryOffer, SaysWhen) {
  EXPECT_EQ(recovery_offer("Shelf jar", kNow - 3min, kNow),
            "'Shelf jar' was not saved before Potshadow ended. It was last kept 3 minutes ago: "
            "open that, or throw it away?");
  EXPECT_THAT(recovery_offer("", kNow - 3min, kNow),
              HasSubstr("A project without a name was not saved"));
}

TEST(AgoText, CountsInWhatFits) {
  EXPECT_EQ(ago_text(kNow - 59s, kNow), "just now");
  EXPECT_EQ(ago_text(kNow + 1h, kNow), "just now");
  EXPECT_EQ(ago_text(kNow - 60s, kNow), "1 minute ago");
  EXPECT_EQ(ago_text(kNow - 59min, kNow), "59 minutes ago");
  EXPECT_EQ(ago_text(kNow - 60min, kNow), "1 hour ago");
  EXPECT_EQ(ago_text(kNow - 23h, kNow), "23 hours ago");
  EXPECT_EQ(ago_text(kNow - 24h, kNow), "1 day ago");
  EXPECT_EQ(ago_text(kNow - 29 * 24h, kNow), "29 days ago");
  EXPECT_EQ(ago_text(kNow - 30 * 24h, kNow), "on 26 October 2026");
}

TEST(RecentFile, NamesItsFolder) {
  EXPECT_EQ(recent_file_words("/users/mo/pots/shelf-jar.potshadow", true),
            "shelf-jar, in /users/mo/pots");
  EXPECT_EQ(recent_file_words("/users/mo/pots/shelf-jar.potshadow", false),
            "shelf-jar, in /users/mo/pots, which is no longer there");
  EXPECT_EQ(recent_file_words("bowl.potshadow", true), "bowl");
}

TEST(NoWindow, NamesTheCommandLine) {
  const Problem problem = no_window_problem("GLX: no config");
  EXPECT_EQ(problem.code, Code::kCannotBeAnswered);
  EXPECT_EQ(problem.what, "The window cannot be drawn, for it needs OpenGL 3.3.");
  EXPECT_THAT(problem.next, HasSubstr("'potshadow measure PROJECT'"));
  EXPECT_THAT(problem.next, HasSubstr("'potshadow sheet PROJECT --output FILE.pdf'"));
  EXPECT_EQ(problem.detail, "GLX: no config");
}

}  // namespace
}  // namespace potshadow
