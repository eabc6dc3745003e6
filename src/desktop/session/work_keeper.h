// SPDX-License-Identifier: MIT
// Keeps unsaved work for recovery in the background, at most every so often.
#pragma once

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "core/result.h"
#include "desktop/document/document.h"
#include "desktop/session/background.h"
#include "desktop/session/latest_job.h"
#include "project/recovery.h"

// What the work was recovered from is discarded once the work is kept again, saved or given up. Its
// end waits for the worker, and forgets what is given up.
namespace potshadow {

// What is open.
struct WorkInHand {
  DocumentPointer document;            // without a preview; null where nothing is open
  std::filesystem::path project_file;  // empty: never saved
  bool unsaved = false;
};

class WorkKeeper {
 public:
  using TimePoint = std::chrono::system_clock::time_point;

  WorkKeeper(std::filesystem::path state_folder, std::function<void()> wake);
  ~WorkKeeper();
  WorkKeeper(const WorkKeeper&) = delete;
  WorkKeeper& operator=(const WorkKeeper&) = delete;

  // The work in hand was recovered from there.
  void recovered(const RecoveredWork& work) { recovered_from_.push_back(work); }
  // The work has been saved or given up.
  void clear();
  // Another project is opened; clears.
  void forget();
  // Returns when there is next something to keep; nothing where none is unsaved, or all is kept.
  std::optional<TimePoint> due(const WorkInHand& work, TimePoint now,
                               std::chrono::duration<double> every) const;
  // Keeps what is due.
  void keep(const WorkInHand& work, TimePoint now, std::chrono::duration<double> every);
  // Takes what the worker has done; returns whether it had.
  bool take();
  const std::optional<TimePoint>& kept_at() const { return kept_at_; }
  const std::optional<Problem>& problem() const { return problem_; }

 private:
  // What keeping for recovery came to.
  struct Kept {
    std::optional<TimePoint> at;  // nothing where the slot was cleared
    std::optional<Problem> problem;
    std::vector<RecoveredWork> discarded;
  };

  std::vector<RecoveredWork> all_recovered() const;

  std::vector<RecoveredWork> recovered_from_;  // what is open was; not kept or saved since
  std::vector<RecoveredWork> to_discard_;      // kept, saved or given up
  DocumentPointer kept_;                       // in the slot, or on its way there
  std::optional<TimePoint> started_;
  std::optional<TimePoint> kept_at_;
  std::optional<Problem> problem_;
  bool clearing_ = false;  // asked for, not known to be done

  RecoveryKeeper keeper_;  // only the worker uses it
  std::unique_ptr<LatestJob<Kept>> keeping_;
};

}  // namespace potshadow
