// SPDX-License-Identifier: MIT
#include "desktop/session/camera_desk.h"

#include <utility>

namespace potshadow {

void CameraDesk::measure(std::vector<std::string> pictures) {
  work_ = {};
  board_pictures_ = pictures.size();
  dealt_with_ = std::make_shared<std::atomic<std::size_t>>(0);
  work_.busy = busy_with("Looking for the board");
  calibrating_.request(
      [files = std::move(pictures), count = dealt_with_](const std::stop_token& stop) {
        return find_camera(files, {[count](std::size_t done) { *count = done; }, stop});
      });
}

void CameraDesk::stop() {
  calibrating_.cancel();
  work_ = {};
}

Result<Done> CameraDesk::keep(const UserFolders& user, const std::string& date) {
  if (!work_.found) {
    return Problem{Code::kBadValue, "No camera has been measured yet.",
                   "Choose pictures of the board first.", ""};
  }
  const Result<Done> kept = keep_camera(*work_.found, user, date);
  work_.problem.reset();
  if (!kept) {
    work_.problem = kept.problem();
    return kept.problem();
  }
  work_.kept = true;
  return kept;
}

bool CameraDesk::take() {
  if (!work_.busy) return false;
  std::optional<Result<FoundCamera>> done = calibrating_.take();
  if (!done) {
    const std::size_t looked_at = *dealt_with_;
    std::string words = looked_at < board_pictures_
                            ? "Looking for the board, " + std::to_string(looked_at + 1) + " of " +
                                  std::to_string(board_pictures_)
                            : "Working out the lens";
    if (words == work_.busy->words) return false;
    work_.busy->words = std::move(words);
    return true;
  }
  work_.busy.reset();
  if (done->ok()) {
    work_.found = std::move(*done).value();
  } else {
    work_.problem = done->problem();
  }
  return true;
}

}  // namespace potshadow
