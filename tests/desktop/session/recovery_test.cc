// SPDX-License-Identifier: MIT
// Unsaved work is kept for recovery, in time and no longer than needed.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/session/bench.h"
#include "project/recovery.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;
using std::chrono::seconds;

// Returns what the next start would find if the program died now: a copy of the state folder, in
// which nobody holds a lock.
std::vector<RecoveredWork> found_after_crash(const Bench& bench, const fs::path& copy) {
  fs::remove_all(copy);
  if (!fs::exists(bench.state())) return {};
  fs::copy(bench.state(), copy, fs::copy_options::recursive);
  const Result<std::vector<RecoveredWork>> works = left_behind(copy);
  EXPECT_TRUE(works.ok());
  EXPECT_TRUE(works.notes().empty());
  return works.ok() ? *works : std::vector<RecoveredWork>();
}

bool until_kept(Bench& bench) {
  return bench.until([&] { return bench.session.kept_at() == bench.now; });
}

TEST(SessionRecovery, KeepsUnsavedWorkOnceAMinute) {
  Bench bench;
  TemporaryFolder copies;
  const fs::path copy = copies.path() / "state";
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  session.pump(bench.now, kAutosave);
  EXPECT_EQ(session.keep_due(kAutosave), std::nullopt);
  EXPECT_TRUE(found_after_crash(bench, copy).empty());

  const auto start = bench.now;
  ASSERT_TRUE(session.perform(SetName{"Jar"}).ok());
  EXPECT_EQ(session.keep_due(kAutosave), start);
  ASSERT_TRUE(until_kept(bench));
  EXPECT_EQ(session.keep_due(kAutosave), std::nullopt);
  std::vector<RecoveredWork> works = found_after_crash(bench, copy);
  ASSERT_EQ(works.size(), 1u);
  EXPECT_EQ(works[0].project.name, "Jar");
  EXPECT_EQ(works[0].project_file, bench.project());
  EXPECT_EQ(works[0].project.photos[0].file, bench.photo().string());
  EXPECT_EQ(works[0].saved_at, start);

  ASSERT_TRUE(session.perform(SetName{"Tall jar"}).ok());
  EXPECT_EQ(session.keep_due(kAutosave), start + kAutosave);
  bench.now = start + kAutosave - seconds(1);
  ASSERT_TRUE(bench.until_figures());
  EXPECT_EQ(session.kept_at(), start);
  bench.now = start + kAutosave;
  ASSERT_TRUE(until_kept(bench));
  works = found_after_crash(bench, copy);
  ASSERT_EQ(works.size(), 1u);
  EXPECT_EQ(works[0].project.name, "Tall jar");
}

TEST(SessionRecovery, ForgetsWhatIsSavedUndoneOrClosed) {
  TemporaryFolder copies;
  const fs::path copy = copies.path() / "state";
  int cases = 0;
  for (const char* end : {"save", "undo", "close"}) {
    Bench bench;
    Session& session = bench.session;
    ASSERT_TRUE(session.open_project(bench.project()).ok());
    ASSERT_TRUE(session.perform(SetName{"Jar"}).ok());
    ASSERT_TRUE(until_kept(bench));
    ASSERT_EQ(found_after_crash(bench, copy).size(), 1u);
    bool ended = true;
    if (end == std::string("save")) ended = session.save().ok();
    if (end == std::string("undo")) ended = session.undo();
    if (end == std::string("close")) session.close();
    EXPECT_TRUE(ended) << end;
    EXPECT_TRUE(bench.until([&] { return found_after_crash(bench, copy).empty(); })) << end;
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

TEST(SessionRecovery, LeavesNothingWhenItEndsInGoodOrder) {
  TemporaryFolder state;
  {
    Bench bench(state.path());
    ASSERT_TRUE(bench.session.open_project(bench.project()).ok());
    ASSERT_TRUE(bench.session.perform(SetName{"Jar"}).ok());
    ASSERT_TRUE(until_kept(bench));
    EXPECT_TRUE(left_behind(state.path())->empty());  // in use
  }
  EXPECT_TRUE(left_behind(state.path())->empty());
}

// What another window left behind when it crashed.
std::vector<RecoveredWork> crashed(const fs::path& state) {
  Bench bench;
  EXPECT_TRUE(bench.session.open_project(bench.project()).ok());
  EXPECT_TRUE(bench.session.perform(SetName{"Lost jar"}).ok());
  EXPECT_TRUE(until_kept(bench));
  return found_after_crash(bench, state);
}

TEST(SessionRecovery, TakesWorkOverAndKeepsItBeforeTheOldIsDiscarded) {
  TemporaryFolder folder;
  const fs::path old_state = folder.path() / "old";
  const std::vector<RecoveredWork> works = crashed(old_state);
  ASSERT_EQ(works.size(), 1u);
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_recovered(works[0]).ok());
  EXPECT_EQ(session.document().name, "Lost jar");
  EXPECT_EQ(session.project_file(), works[0].project_file);
  EXPECT_TRUE(session.unsaved());
  EXPECT_TRUE(fs::exists(works[0].slot));
  ASSERT_TRUE(until_kept(bench));
  EXPECT_FALSE(fs::exists(works[0].slot));
  TemporaryFolder copies;
  EXPECT_EQ(found_after_crash(bench, copies.path() / "state").size(), 1u);
  // Its project's folder is gone with the window that crashed; it can go elsewhere.
  EXPECT_FALSE(session.save().ok());
  EXPECT_TRUE(session.unsaved());
  ASSERT_TRUE(session.save_as(bench.work() / "found.potshadow").ok());
  EXPECT_FALSE(session.unsaved());
}

TEST(SessionRecovery, SavedAtOnceTheOldIsDiscardedTooEvenIfItEndsThere) {
  TemporaryFolder folder;
  const std::vector<RecoveredWork> works = crashed(folder.path() / "old");
  ASSERT_EQ(works.size(), 1u);
  Bench saved;
  {
    Bench bench;
    ASSERT_TRUE(bench.session.open_recovered(works[0]).ok());
    ASSERT_TRUE(bench.session.save_as(saved.work() / "found.potshadow").ok());
  }
  EXPECT_FALSE(fs::exists(works[0].slot));
  EXPECT_EQ(load_project(saved.work() / "found.potshadow")->name, "Lost jar");
}

TEST(SessionRecovery, WorkTakenOverButNeverKeptStays) {
  TemporaryFolder folder;
  const std::vector<RecoveredWork> works = crashed(folder.path() / "old");
  ASSERT_EQ(works.size(), 1u);
  {
    Bench bench;
    ASSERT_TRUE(bench.session.open_recovered(works[0]).ok());
  }
  EXPECT_TRUE(fs::exists(works[0].slot));
}

TEST(SessionRecovery, AStateFolderThatCannotBeWrittenDoesNotStopTheWork) {
  TemporaryFolder folder;
  const fs::path file = folder.path() / "file";
  fs::copy_file(kSamples / "shelf-jar.potshadow", file);
  Bench bench(file / "state");  // below a file nothing can be made, even by root
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(session.perform(SetName{"Jar"}).ok());
  ASSERT_TRUE(bench.until([&] { return session.autosave_problem().has_value(); }));
  EXPECT_EQ(session.autosave_problem()->code, Code::kFileUnwritable);
  EXPECT_FALSE(session.autosave_problem()->next.empty());
  EXPECT_EQ(session.keep_due(kAutosave), bench.now + kAutosave);  // it is tried again
  ASSERT_TRUE(session.perform(SetNotes{"Still here"}).ok());
  ASSERT_TRUE(bench.until_figures());
  ASSERT_TRUE(session.save().ok());
  EXPECT_EQ(load_project(bench.project())->notes, "Still here");
}

}  // namespace
}  // namespace potshadow
