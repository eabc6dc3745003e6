// SPDX-License-Identifier: MIT
// The works that a session has done in the background, as plain functions.
#pragma once

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/document/document.h"
#include "desktop/session/facts_cache.h"
#include "geometry/calibration.h"
#include "outline/board_pictures.h"
#include "photo/decode.h"
#include "project/camera_book.h"
#include "project/measure.h"
#include "project/recovery.h"

// Each takes values and gives a value, so that it may run on any thread. A result that comes after
// a stop was requested is dropped by LatestJob and may be anything.
namespace potshadow {

// --- Photograph ---------------------------------------------------------------------------------

struct LoadedPhoto {
  std::shared_ptr<const Picture> picture;  // turned; null where there is a problem
  std::optional<PhotoFacts> facts;         // also of a file whose pixels cannot be decoded
  std::vector<Note> notes;
  std::optional<Problem> problem;
};

// Returns the photograph in the file, turned. Remembers its facts in `cache`. Slow: decodes.
LoadedPhoto load_photo(const std::filesystem::path& file, int quarter_turns, FactsCache& cache,
                       const std::stop_token& stop);

// Returns whether the file's facts contradict what was recorded of it when it was marked.
bool differs(const PhotoRecord& record, const PhotoFacts& facts);

// Returns what is to be recorded of a photograph.
PhotoRecord record_of(const PhotoFacts& facts);

// --- Camera -------------------------------------------------------------------------------------

// A camera as pictures of the board show it.
struct FoundCamera {
  LensCalibration calibration;
  BoardPictures pictures;
};

// Returns the camera that took the pictures of our printed board. Fails as look_for_board and
// calibrate_from_board do. Slow: up to a second a picture.
Result<FoundCamera> find_camera(const std::vector<std::string>& files, const BoardWatch& watch);

// Keeps the camera in the user's book. `date` is today's, as "2026-11-25". Fails as camera_profile,
// load_camera_book and save_camera_book do; then the book stays as it was.
Result<Done> keep_camera(const FoundCamera& found, const UserFolders& folders,
                         const std::string& date);

// Returns what the user's book says of the camera that took such a photograph; nothing where it
// does not know it or cannot be read.
std::optional<CameraProfile> known_camera(const UserFolders& folders, const PhotoFacts& facts);

// --- Recovery -----------------------------------------------------------------------------------

// The slot in which unsaved work is kept; it is made when something is first kept. One thread at a
// time may use it.
class RecoveryKeeper {
 public:
  explicit RecoveryKeeper(std::filesystem::path state_folder)
      : state_folder_(std::move(state_folder)) {}

  // Keeps the work and then discards what it was recovered from. Fails as RecoverySlot does; then
  // nothing is discarded. Slow: waits for the disk.
  Result<Done> keep(const Document& document, const std::filesystem::path& project_file,
                    std::chrono::system_clock::time_point now,
                    const std::vector<RecoveredWork>& recovered_from);

  // The work has been saved or given up: forgets it, and what it was recovered from.
  void clear(const std::vector<RecoveredWork>& recovered_from);

 private:
  std::filesystem::path state_folder_;
  std::optional<RecoverySlot> slot_;
};

}  // namespace potshadow
