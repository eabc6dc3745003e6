// SPDX-License-Identifier: MIT
#include "desktop/session/background.h"

#include "core/files.h"
#include "photo/shown_picture.h"
#include "project/photo_lens.h"
#include "sheets/board_sheet.h"

namespace potshadow {

LoadedPhoto load_photo(const std::filesystem::path& file, int quarter_turns, FactsCache& cache,
                       const std::stop_token& stop) {
  LoadedPhoto loaded;
  const std::optional<FactsCache::Stamp> stamp = FactsCache::stamp_of(file);
  const Result<std::string> bytes = read_file(file, kMostPhotoBytes);
  if (!bytes) {
    loaded.problem = bytes.problem();
    return loaded;
  }
  if (stop.stop_requested()) return loaded;
  const Result<Picture> picture = decode_bytes(*bytes, file);
  const Result<PhotoFacts> facts = picture.ok()
                                       ? Result<PhotoFacts>(picture->facts, picture.notes())
                                       : probe_bytes(*bytes, file);
  cache.remember(file, stamp, facts);
  if (facts.ok()) {
    loaded.facts = *facts;
    loaded.notes = facts.notes();
  }
  if (!picture) {
    loaded.problem = picture.problem();
    return loaded;
  }
  if (stop.stop_requested()) return loaded;
  loaded.picture = std::make_shared<const Picture>(
      quarter_turns == 0 ? *picture : turned_picture(*picture, quarter_turns));
  return loaded;
}

bool differs(const PhotoRecord& record, const PhotoFacts& facts) {
  const bool other_size = (record.width_px && *record.width_px != facts.width_px) ||
                          (record.height_px && *record.height_px != facts.height_px);
  if (!record.sha256.empty()) return other_size || record.sha256 != facts.sha256;
  return other_size || (record.bytes && *record.bytes != facts.bytes);
}

PhotoRecord record_of(const PhotoFacts& facts) {
  return {facts.width_px, facts.height_px, facts.bytes, facts.sha256};
}

Result<FoundCamera> find_camera(const std::vector<std::string>& files, const BoardWatch& watch) {
  Result<BoardPictures> seen = look_for_board(files, kBoardColumns, kBoardRows, watch);
  if (!seen) return seen.problem();
  const Result<LensCalibration> found =
      calibrate_from_board(*seen, {kBoardColumns, kBoardRows, kBoardSquareMm});
  if (found.ok()) return FoundCamera{*found, std::move(seen).value()};
  // Why there is no camera lies mostly in the pictures that were left out.
  Problem problem = found.problem();
  for (const LeftOutPicture& picture : seen->left_out) {
    const std::string name = std::filesystem::path(picture.file).filename().string();
    problem.detail += "'" + name + "' was left out: " + picture.why + "\n";
  }
  return problem;
}

Result<Done> keep_camera(const FoundCamera& found, const UserFolders& folders,
                         const std::string& date) {
  const auto profile =
      camera_profile(found.calibration, found.pictures.facts.value_or(PhotoFacts()),
                     found.pictures.corners.size(), date);
  if (!profile) return profile.problem();
  const Result<FileLock> lock = lock_camera_book(folders);
  if (!lock) return lock.problem();
  // A book that cannot be read is not written over.
  const auto book = load_camera_book(folders);
  if (!book) return book.problem();
  return save_camera_book(with_camera(*book, *profile), folders);
}

std::optional<CameraProfile> known_camera(const UserFolders& folders, const PhotoFacts& facts) {
  const auto book = load_camera_book(folders);
  if (!book) return std::nullopt;
  const CameraProfile* const profile = camera_for(*book, facts);
  if (profile == nullptr) return std::nullopt;
  return *profile;
}

Result<Done> RecoveryKeeper::keep(const Document& document,
                                  const std::filesystem::path& project_file,
                                  std::chrono::system_clock::time_point now,
                                  const std::vector<RecoveredWork>& recovered_from) {
  if (!slot_) {
    Result<RecoverySlot> made = RecoverySlot::create(state_folder_);
    if (!made) return made.problem();
    slot_.emplace(std::move(made).value());
  }
  const Result<Done> kept = slot_->keep(document, project_file, now);
  if (kept.ok()) {
    for (const RecoveredWork& work : recovered_from) discard_recovered(work);
  }
  return kept;
}

void RecoveryKeeper::clear(const std::vector<RecoveredWork>& recovered_from) {
  if (slot_) slot_->clear();
  for (const RecoveredWork& work : recovered_from) discard_recovered(work);
}

}  // namespace potshadow
