// SPDX-License-Identifier: MIT
// A session without a window: it is pumped until something holds.
#pragma once

#include <atomic>
#include <chrono>
#include <filesystem>
#include <string>
#include <thread>

#include "core/temporary_folder.h"
#include "desktop/session/session.h"

namespace potshadow {

// Far longer than any of this takes, also with the address checks on a busy machine; only a hang
// reaches it.
inline constexpr std::chrono::seconds kHang{300};
inline constexpr std::chrono::seconds kAutosave{60};

inline const std::filesystem::path kSamples = POTSHADOW_SOURCE_DIR "/samples";

// Owns a folder with copies of the sample "Shelf jar", a state folder and a session.
class Bench {
 public:
  Bench() : Bench(std::filesystem::path()) {}
  // `state` instead of a state folder of its own, where it is not empty.
  explicit Bench(const std::filesystem::path& state)
      : session({folder_.path() / "config", state.empty() ? folder_.path() / "state" : state,
                 folder_.path() / "data"},
                [this] { ++wakes; }) {
    std::filesystem::create_directory(work());
    for (const char* name : {"shelf-jar.potshadow", "shelf-jar.jpg"}) {
      std::filesystem::copy_file(kSamples / name, work() / name);
    }
  }

  std::filesystem::path work() const { return folder_.path() / "work"; }
  UserFolders folders() const {
    return {folder_.path() / "config", state(), folder_.path() / "data"};
  }
  std::filesystem::path state() const { return folder_.path() / "state"; }
  std::filesystem::path project() const { return work() / "shelf-jar.potshadow"; }
  std::filesystem::path photo() const { return work() / "shelf-jar.jpg"; }

  // Pumps until the condition holds; false where it never does.
  template <class Condition>
  bool until(Condition&& condition) {
    const auto end = std::chrono::steady_clock::now() + kHang;
    for (;;) {
      session.pump(now, kAutosave);
      if (condition()) return true;
      if (std::chrono::steady_clock::now() > end) return false;
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
  }
  bool until_figures() {
    return until([this] { return session.figures().current; });
  }
  bool until_tried() {
    return until([this] { return !session.figures().busy; });
  }
  bool until_shown() {
    return until([this] { return session.photo().shown && !session.photo().busy; });
  }
  bool until_read() {
    return until([this] { return !session.photo().busy; });
  }

 private:
  TemporaryFolder folder_;

 public:
  std::chrono::system_clock::time_point now{std::chrono::hours(500'000)};  // some day in 2027
  std::atomic<int> wakes = 0;
  Session session;
};

inline MarkId rim_mark(std::size_t number) { return {0, {MarkKind::kRim, 0, number}}; }

// Moves one rim mark from where it is in the document.
inline MoveMarks move_rim(const Document& document, std::size_t number, double x, double y) {
  const PhotoPoint at = point_at(document, rim_mark(number)).value_or(PhotoPoint());
  return {{{rim_mark(number), {at.x_px + x, at.y_px + y}}}};
}

}  // namespace potshadow
