// SPDX-License-Identifier: MIT
#include "project/recovery.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <fstream>
#include <iterator>
#include <limits>
#include <string>
#include <utility>

#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using TimePoint = std::chrono::system_clock::time_point;

std::string content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

TimePoint at_second(long long seconds) { return TimePoint(std::chrono::seconds(seconds)); }

Project jar(const std::string& name, int marks = 3) {
  Project project;
  project.name = name;
  project.photos.resize(1);
  project.photos[0].file = "/pots/jar.jpg";
  for (int i = 0; i < marks; ++i) project.photos[0].marks.rim.push_back({i + 1.0 / 3.0, 7.0});
  return project;
}

// A process that the test started and that ends when it is told to.
class Child {
 public:
  // `work` runs in the new process and gets the end of a pipe to write to; it never returns.
  template <class Work>
  explicit Child(Work work) {
    std::array<int, 2> ends{};
    if (::pipe(ends.data()) != 0) return;
    id_ = ::fork();
    if (id_ == 0) {
      ::close(ends[0]);
      work(ends[1]);
      ::_exit(1);
    }
    ::close(ends[1]);
    said_ = ends[0];
  }
  ~Child() {
    kill();
    if (said_ >= 0) ::close(said_);
  }
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  // Waits until it has said `count` times that it is done with something.
  bool wait_for(int count) const {
    char byte = 0;
    for (int i = 0; i < count; ++i) {
      if (::read(said_, &byte, 1) != 1) return false;
    }
    return true;
  }
  void kill() {
    if (id_ <= 0) return;
    ::kill(id_, SIGKILL);
    int status = 0;
    while (::waitpid(id_, &status, 0) < 0 && errno == EINTR) {
    }
    id_ = -1;
  }

 private:
  pid_t id_ = -1;
  int said_ = -1;
};

void say(int end) {
  const char byte = '.';
  if (::write(end, &byte, 1) != 1) ::_exit(2);
}

class Recovery : public testing::Test {
 protected:
  std::filesystem::path state() const { return folder_.path() / "state"; }
  RecoverySlot slot() const {
    Result<RecoverySlot> made = RecoverySlot::create(state());
    POTSHADOW_CHECK(made.ok());
    return std::move(made).value();
  }
  std::vector<RecoveredWork> found(std::size_t notes = 0) const {
    const Result<std::vector<RecoveredWork>> works = left_behind(state());
    EXPECT_TRUE(works.ok());
    EXPECT_EQ(works.notes().size(), notes);
    return works.ok() ? *works : std::vector<RecoveredWork>();
  }
  // A window that keeps the work and is killed.
  void crash(const Project& project, const std::filesystem::path& file, TimePoint time) const {
    Child child([&](int end) {
      const RecoverySlot mine = slot();
      if (!mine.keep(project, file, time).ok()) ::_exit(2);
      say(end);
      while (true) ::pause();
    });
    EXPECT_TRUE(child.wait_for(1));
  }
  // Everything under the folder of the slots.
  std::size_t remains() const {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(state() / "recovery")) {
      count += entry.path().empty() ? 0U : 1U;
    }
    return count;
  }

 private:
  TemporaryFolder folder_;
};

TEST_F(Recovery, NothingIsFoundWhereNothingWas) {
  EXPECT_TRUE(found().empty());
  EXPECT_FALSE(std::filesystem::exists(state()));
}

TEST_F(Recovery, WorkOfALivingWindowIsNotListed) {
  const RecoverySlot mine = slot();
  ASSERT_TRUE(mine.keep(jar("Shelf jar"), "", at_second(1)).ok());
  EXPECT_TRUE(found().empty());  // from this very process
  Child other([&](int end) {
    const RecoverySlot theirs = slot();
    if (!theirs.keep(jar("Low bowl"), "", at_second(2)).ok()) ::_exit(2);
    say(end);
    while (true) ::pause();
  });
  ASSERT_TRUE(other.wait_for(1));
  EXPECT_TRUE(found().empty());
  EXPECT_EQ(remains(), 6U);  // two folders, each with lock and work
  other.kill();
  const std::vector<RecoveredWork> works = found();
  ASSERT_EQ(works.size(), 1U);
  EXPECT_EQ(works[0].project.name, "Low bowl");
}

TEST_F(Recovery, GoodOrderLeavesNothing) {
  {
    RecoverySlot mine = slot();
    ASSERT_TRUE(mine.keep(jar("Shelf jar"), "", at_second(1)).ok());
    RecoverySlot moved = std::move(mine);
    ASSERT_TRUE(moved.keep(jar("Shelf jar"), "", at_second(2)).ok());
    RecoverySlot second = slot();
    second = std::move(moved);  // the second slot is given up, the first goes on
    ASSERT_TRUE(second.keep(jar("Shelf jar"), "", at_second(3)).ok());
    EXPECT_EQ(remains(), 3U);
  }
  EXPECT_EQ(remains(), 0U);
  EXPECT_TRUE(found().empty());
}

TEST_F(Recovery, WorkComesBackWhole) {
  Project project = jar("Shelf jar");
  project.photos[0].quarter_turns = 1;
  project.clay = ProjectClay{};
  project.clay->shrinkage_percent = 12.5;
  crash(project, "/pots/jar.potshadow", at_second(1'764'028'800));
  const std::vector<RecoveredWork> works = found();
  ASSERT_EQ(works.size(), 1U);
  EXPECT_EQ(works[0].project_file, "/pots/jar.potshadow");
  EXPECT_EQ(works[0].saved_at, at_second(1'764'028'800));
  EXPECT_EQ(project_text(works[0].project), project_text(project));
  // Looking takes nothing away; discarding does.
  EXPECT_EQ(found().size(), 1U);
  discard_recovered(works[0]);
  EXPECT_TRUE(found().empty());
  EXPECT_EQ(remains(), 0U);
}

TEST_F(Recovery, KeysOfLaterVersionsComeBackToo) {
  const std::string text =
      "{\"potshadow\": 1, \"recovery\": \"of the glaze\", \"later\": [1, { \"x\": 2.50 }], "
      "\"photos\": [{\"file\": \"/pots/a.jpg\", \"brightness\": 3}]}";
  const Project project = parse_project(text, "jar.potshadow").value();
  crash(project, "", at_second(1));
  const std::vector<RecoveredWork> works = found();
  ASSERT_EQ(works.size(), 1U);
  const std::string back = project_text(works[0].project);
  EXPECT_THAT(back, HasSubstr("\"recovery\": \"of the glaze\""));
  EXPECT_THAT(back, HasSubstr("\"brightness\": 3"));
  EXPECT_THAT(back, HasSubstr("\"later\": ["));
  EXPECT_EQ(works[0].project_file, "");
  // Without such a key of its own, none is left in the project.
  discard_recovered(works[0]);
  crash(jar("Low bowl"), "", at_second(1));
  EXPECT_EQ(project_text(found().at(0).project).find("recovery"), std::string::npos);
}

TEST_F(Recovery, PhotographsAreNamedInFull) {
  Project project = jar("Shelf jar");
  project.photos.resize(4);
  project.photos[1].file = "front.jpg";
  project.photos[2].file = "../case 4/side.jpg";
  crash(project, "/pots/case 3/jar.potshadow", at_second(1));
  const std::vector<RecoveredWork> works = found();
  ASSERT_EQ(works.size(), 1U);
  EXPECT_EQ(works[0].project.photos.at(0).file, "/pots/jar.jpg");
  EXPECT_EQ(works[0].project.photos.at(1).file, "/pots/case 3/front.jpg");
  EXPECT_EQ(works[0].project.photos.at(2).file, "/pots/case 3/../case 4/side.jpg");
  EXPECT_EQ(works[0].project.photos.at(3).file, "");
}

TEST_F(Recovery, NewestComesFirst) {
  crash(jar("second"), "", at_second(200));
  crash(jar("first"), "", at_second(100));
  crash(jar("third"), "", at_second(300));
  const std::vector<RecoveredWork> works = found();
  ASSERT_EQ(works.size(), 3U);
  EXPECT_EQ(works[0].project.name, "third");
  EXPECT_EQ(works[1].project.name, "second");
  EXPECT_EQ(works[2].project.name, "first");
}

TEST_F(Recovery, ClearedWorkIsForgotten) {
  const RecoverySlot mine = slot();
  mine.clear();  // nothing there yet
  ASSERT_TRUE(mine.keep(jar("Shelf jar"), "", at_second(1)).ok());
  EXPECT_EQ(remains(), 3U);
  mine.clear();
  EXPECT_EQ(remains(), 2U);
  ASSERT_TRUE(mine.keep(jar("Shelf jar"), "", at_second(2)).ok());
  EXPECT_EQ(remains(), 3U);
}

TEST_F(Recovery, AWindowThatDiedWithNothingKeptIsClearedAway) {
  {
    Child child([&](int end) {
      const RecoverySlot mine = slot();
      say(end);
      while (true) ::pause();
    });
    ASSERT_TRUE(child.wait_for(1));
    EXPECT_TRUE(found().empty());
    EXPECT_EQ(remains(), 2U);  // while it lives, its folder and lock stay
  }
  EXPECT_TRUE(found().empty());
  EXPECT_EQ(remains(), 0U);
}

// Whatever moment a window dies at, the last work it kept is there and whole.
TEST_F(Recovery, KillingAtAnyMomentLosesNothing) {
  constexpr int kRounds = 20;
  int ran = 0;
  for (int round = 0; round < kRounds; ++round) {
    const int sure = 1 + round % 4;
    {
      Child child([&](int end) {
        const RecoverySlot mine = slot();
        for (int i = 1;; ++i) {
          // Long and short in turn, so that a mixture of two would be no project.
          const Project project = jar(std::to_string(i), i % 2 == 0 ? 3000 : 5);
          if (!mine.keep(project, "", at_second(i)).ok()) ::_exit(2);
          say(end);
        }
      });
      ASSERT_TRUE(child.wait_for(sure));
      ::usleep(static_cast<unsigned>(733 * round));
      child.kill();
    }
    const std::vector<RecoveredWork> works = found();
    ASSERT_EQ(works.size(), 1U) << round;
    const int kept = std::stoi(works[0].project.name);
    EXPECT_GE(kept, sure);
    EXPECT_EQ(works[0].saved_at, at_second(kept));
    EXPECT_EQ(works[0].project.photos.at(0).marks.rim.size(), kept % 2 == 0 ? 3000U : 5U);
    discard_recovered(works[0]);
    EXPECT_EQ(remains(), 0U);  // half-written files too
    ++ran;
  }
  EXPECT_EQ(ran, kRounds);
}

TEST_F(Recovery, DamagedSlotsAreLeftAloneAndNamed) {
  crash(jar("Shelf jar"), "", at_second(1));
  crash(jar("Low bowl"), "", at_second(2));
  const std::filesystem::path damaged = found().at(0).slot;
  const std::string whole = content(damaged);
  std::ofstream(damaged) << whole.substr(0, whole.size() / 2);
  const Result<std::vector<RecoveredWork>> works = left_behind(state());
  ASSERT_TRUE(works.ok());
  ASSERT_EQ(works->size(), 1U);
  EXPECT_EQ(works->at(0).project.name, "Shelf jar");
  ASSERT_EQ(works.notes().size(), 1U);
  EXPECT_THAT(works.notes()[0].text, HasSubstr(damaged.string()));
  EXPECT_TRUE(std::filesystem::exists(damaged));
}

// A project put there by hand, with whatever is said about it, is still worth having.
TEST_F(Recovery, OddWordsAboutTheWorkDoNotLoseIt) {
  const std::filesystem::path folder = state() / "recovery" / "window-1-0";
  std::filesystem::create_directories(folder);
  std::size_t ran = 0;
  for (const std::string about :
       {"", "\"recovery\": 3,", "\"recovery\": {},", "\"recovery\": {\"file\": 1},",
        "\"recovery\": {\"saved_at_ms\": 1e300},", "\"recovery\": {\"saved_at_ms\": -5},",
        "\"recovery\": {\"saved_at_ms\": \"now\"},"}) {
    std::ofstream(folder / "work.potshadow")
        << "{" << about << "\"potshadow\": 1, \"name\": \"Shelf jar\"}";
    const std::vector<RecoveredWork> works = found();
    ASSERT_EQ(works.size(), 1U) << about;
    EXPECT_EQ(works[0].project.name, "Shelf jar");
    EXPECT_EQ(works[0].saved_at, TimePoint());
    ++ran;
  }
  EXPECT_EQ(ran, 7U);
}

TEST_F(Recovery, OthersFilesAreNeverTouched) {
  const std::filesystem::path folder = state() / "recovery";
  std::filesystem::create_directories(folder / "window-9-9");
  std::filesystem::create_directories(folder / "mine");
  std::ofstream(folder / "mine" / "work.potshadow") << "{\"potshadow\": 1}";
  std::ofstream(folder / "window-9-9" / "letter.txt") << "keep me";
  EXPECT_TRUE(found().empty());
  discard_recovered({folder / "mine" / "work.potshadow", "", {}, {}});
  discard_recovered({folder / "window-9-9" / "letter.txt", "", {}, {}});
  discard_recovered({folder / "window-9-9" / "work.potshadow", "", {}, {}});
  EXPECT_TRUE(std::filesystem::exists(folder / "mine" / "work.potshadow"));
  EXPECT_EQ(content(folder / "window-9-9" / "letter.txt"), "keep me");
}

TEST_F(Recovery, OnlyTheUserMayLook) {
  const RecoverySlot mine = slot();
  ASSERT_TRUE(mine.keep(jar("Shelf jar"), "", at_second(1)).ok());
  struct stat info {};
  ASSERT_EQ(::stat((state() / "recovery").c_str(), &info), 0);
  EXPECT_EQ(info.st_mode & 0777U, 0700U);
}

TEST_F(Recovery, WhatCannotBeKeptIsAProblemAndLeavesTheLast) {
  {
    std::ofstream(state()) << "a file in the folder's place";
    const Result<RecoverySlot> none = RecoverySlot::create(state());
    ASSERT_FALSE(none.ok());
    EXPECT_EQ(none.problem().code, Code::kFileUnwritable);
    std::filesystem::remove(state());
  }
  Child child([&](int end) {
    const RecoverySlot mine = slot();
    if (!mine.keep(jar("Shelf jar"), "", at_second(1)).ok()) ::_exit(2);
    Project bad = jar("Low bowl");
    bad.wall.value_mm = std::numeric_limits<double>::quiet_NaN();
    const Result<Done> kept = mine.keep(bad, "", at_second(2));
    if (kept.ok() || kept.problem().code != Code::kBadValue) ::_exit(2);
    say(end);
    while (true) ::pause();
  });
  ASSERT_TRUE(child.wait_for(1));
  child.kill();
  const std::vector<RecoveredWork> works = found();
  ASSERT_EQ(works.size(), 1U);
  EXPECT_EQ(works[0].project.name, "Shelf jar");
  // A folder that was taken away: nothing to write to.
  const RecoverySlot mine = slot();
  std::filesystem::remove_all(state());
  EXPECT_EQ(mine.keep(jar("Shelf jar"), "", at_second(3)).problem().code, Code::kFileUnwritable);
}

}  // namespace
}  // namespace potshadow
