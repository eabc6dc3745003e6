// SPDX-License-Identifier: MIT
// The camera that is being measured from pictures of the board, in the background.
#pragma once

#include <atomic>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/session/background.h"
#include "desktop/session/busy.h"
#include "desktop/session/latest_job.h"
#include "project/settings.h"

namespace potshadow {

// The camera that is being measured from pictures of the board.
struct CameraWork {
  std::optional<FoundCamera> found;  // the last one
  bool kept = false;                 // it is in the book
  std::optional<Problem> problem;    // why there is none, or it could not be kept
  std::optional<Busy> busy;
};

class CameraDesk {
 public:
  explicit CameraDesk(std::function<void()> wake) : calibrating_(std::move(wake)) {}

  const CameraWork& work() const { return work_; }
  // Works the camera out from these pictures; whatever was found before goes.
  void measure(std::vector<std::string> pictures);
  void stop();
  // Keeps the camera that was found in the user's book. `date` is today's, as "2026-11-25". Fails
  // as keep_camera in background.h does.
  Result<Done> keep(const UserFolders& user, const std::string& date);
  // Takes the camera that is worked out, or how far that has come; returns whether anything
  // changed.
  bool take();

 private:
  CameraWork work_;
  std::size_t board_pictures_ = 0;                        // to look at
  std::shared_ptr<std::atomic<std::size_t>> dealt_with_;  // of them
  LatestJob<Result<FoundCamera>> calibrating_;
};

}  // namespace potshadow
