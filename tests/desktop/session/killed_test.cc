// SPDX-License-Identifier: MIT
// The program is killed at random moments while it edits, saves and keeps work for recovery: the
// project on disk always loads, and what was saved or kept is there.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <filesystem>
#include <new>
#include <random>
#include <thread>

#include "core/temporary_folder.h"
#include "desktop/session/session.h"
#include "project/recovery.h"

// In a test program of its own: a process may be forked only while it has one thread.
namespace potshadow {
namespace {

namespace fs = std::filesystem;

constexpr int kKills = 50;
constexpr int kSeed = 20261125;
// A kill comes some steps after the start (every fourth saves, two of four are kept), and then
// anywhere in a step: one takes about 5 ms, most of it waiting for the disk.
constexpr int kMostSteps = 9;
constexpr int kMostMicroseconds = 10'000;
constexpr std::chrono::seconds kHang{120};  // only a hang reaches it

// What the child reports, in memory that outlives it. A step is a new place of every rim mark and
// its number in the notes.
struct Reports {
  std::atomic<int> begun = 0;  // the newest step
  std::atomic<int> saved = 0;  // the newest step for which save() has returned
  std::atomic<int> kept = 0;   // the newest step that is known to be kept for recovery
};

class SharedReports {
 public:
  SharedReports()
      : memory_(::mmap(nullptr, sizeof(Reports), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS,
                       -1, 0)) {
    if (memory_ == MAP_FAILED) throw std::bad_alloc();
    reports_ = new (memory_) Reports;
  }
  ~SharedReports() { ::munmap(memory_, sizeof(Reports)); }
  SharedReports(const SharedReports&) = delete;
  SharedReports& operator=(const SharedReports&) = delete;
  Reports& operator*() { return *reports_; }
  Reports* operator->() { return reports_; }

 private:
  void* memory_;
  Reports* reports_ = nullptr;
};

MoveMarks all_rim_marks_to(const Document& document, int step) {
  MoveMarks moves;
  for (std::size_t i = 0; i < document.photos[0].marks.rim.size(); ++i) {
    moves.moves.push_back({{0, {MarkKind::kRim, 0, i}}, {double(step), double(i)}});
  }
  return moves;
}

// Returns the step that the project was saved at, the whole of it; -1 where it is mixed up.
int step_of(const Project& project) {
  if (project.photos.size() != 1 || project.photos[0].marks.rim.size() != 12) return -1;
  const int step = project.notes.find_first_not_of("0123456789") == std::string::npos
                       ? std::stoi("0" + project.notes)
                       : 0;  // as the sample came
  for (const PhotoPoint& point : project.photos[0].marks.rim) {
    if (step > 0 && point.x_px != double(step)) return -1;
  }
  return step;
}

// Edits, keeps and saves as fast as it can until it is killed. Ends by itself only on trouble.
[[noreturn]] void edit_for_ever(const fs::path& project, const fs::path& state, int step,
                                Reports& reports) {
  constexpr int kTrouble = 3;
  Session session({state, state}, [] {});
  if (!session.open_project(project).ok()) ::_exit(kTrouble);
  std::chrono::system_clock::time_point now{std::chrono::hours(500'000)};
  const auto pump = [&] { session.pump(now, std::chrono::duration<double>(0.0)); };
  for (;; ++step) {
    reports.begun = step;
    now += std::chrono::seconds(1);
    if (!session.perform(all_rim_marks_to(session.document(), step)).ok()) ::_exit(kTrouble);
    if (!session.perform(SetNotes{std::to_string(step)}).ok()) ::_exit(kTrouble);
    if (step % 4 == 0) {
      if (!session.save().ok()) ::_exit(kTrouble);
      reports.saved = step;
    } else if (step % 4 == 1) {
      pump();  // kept, or not, by the time the next step begins
    } else {
      do {
        pump();
        if (session.autosave_problem()) ::_exit(kTrouble);
        std::this_thread::yield();
      } while (session.kept_at() != now);
      reports.kept = step;
    }
  }
}

TEST(Killed, NothingThatWasSavedOrKeptIsLost) {
  const TemporaryFolder folder;
  const fs::path project = folder.path() / "shelf-jar.potshadow";
  const fs::path state = folder.path() / "state";
  fs::copy_file(POTSHADOW_SOURCE_DIR "/samples/shelf-jar.potshadow", project);
  std::mt19937 random(kSeed);
  std::uniform_int_distribution<int> steps(0, kMostSteps);
  std::uniform_int_distribution<int> moment(0, kMostMicroseconds);
  SharedReports reports;
  int kills = 0;
  int with_recovered_work = 0;
  int recovered_newer_than_saved = 0;
  int saved_rounds = 0;
  int next_step = 1;
  for (int i = 0; i < kKills; ++i) {
    reports->begun = 0;
    reports->saved = 0;
    reports->kept = 0;
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) edit_for_ever(project, state, next_step, *reports);
    const auto end = std::chrono::steady_clock::now() + kHang;
    const int last_step = next_step + steps(random);
    int status = 0;
    pid_t ended = 0;  // nobody, as long as the child goes on
    while (reports->begun < last_step && ended == 0 && std::chrono::steady_clock::now() < end) {
      ::usleep(100);
      ended = ::waitpid(child, &status, WNOHANG);
    }
    ASSERT_EQ(ended, 0) << "ended by itself, status " << status;
    ::usleep(static_cast<useconds_t>(moment(random)));
    ::kill(child, SIGKILL);
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL) << "status " << status;
    ++kills;

    const Result<Project> on_disk = load_project(project);
    ASSERT_TRUE(on_disk.ok()) << on_disk.problem().what;
    const int disk_step = step_of(*on_disk);
    ASSERT_GE(disk_step, reports->saved);
    EXPECT_EQ(on_disk->photos[0].file, "shelf-jar.jpg");

    const Result<std::vector<RecoveredWork>> works = left_behind(state);
    ASSERT_TRUE(works.ok());
    ASSERT_TRUE(works.notes().empty()) << works.notes()[0].text;
    ASSERT_LE(works->size(), 1u);
    int kept_step = 0;
    for (const RecoveredWork& work : *works) {
      kept_step = step_of(work.project);
      ASSERT_GT(kept_step, 0);
      EXPECT_EQ(work.project_file, project);
      ++with_recovered_work;
      discard_recovered(work);
    }
    const int newest = std::max(disk_step, kept_step);
    EXPECT_GE(newest, reports->kept);
    EXPECT_GE(newest, reports->saved);
    EXPECT_LE(newest, reports->begun);
    if (kept_step > disk_step) ++recovered_newer_than_saved;
    if (reports->saved > 0) ++saved_rounds;
    next_step = reports->begun + 1;
  }
  EXPECT_EQ(kills, kKills);
  // Enough of the moments fell where something could have been lost.
  EXPECT_GE(with_recovered_work, 5);
  EXPECT_GE(recovered_newer_than_saved, 5);
  EXPECT_GE(saved_rounds, 5);
  RecordProperty("with_recovered_work", with_recovered_work);
  RecordProperty("recovered_newer_than_saved", recovered_newer_than_saved);
  RecordProperty("saved_rounds", saved_rounds);
}

}  // namespace
}  // namespace potshadow
