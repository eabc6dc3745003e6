// SPDX-License-Identifier: MIT
// The photograph that is shown: read, turned and adjusted for the eye in the background.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/document/document.h"
#include "desktop/session/background.h"
#include "desktop/session/busy.h"
#include "desktop/session/facts_cache.h"
#include "desktop/session/latest_job.h"
#include "photo/shown_picture.h"
#include "project/camera_book.h"
#include "project/settings.h"

// Follows the document shown: another file is read, another side up is turned from the picture that
// was read. The last pictures are remembered, so that going to and fro between photographs is
// quick. A picture that is no longer wanted is dropped.
namespace potshadow {

// The photograph that is shown.
struct PhotoView {
  std::shared_ptr<const Picture> picture;  // as measured: upright and turned; null until decoded
  std::optional<ShownPicture> shown;       // as adjusted for the eye
  std::uint64_t shown_revision = 0;        // changes whenever `shown` does
  std::optional<PhotoFacts> facts;
  std::optional<CameraProfile> camera;  // what the book of cameras knows of the one that took it
  std::vector<Note> notes;
  std::optional<Problem> problem;  // missing, changed, unreadable; what was shown may stay
  std::optional<Busy> busy;
};

class PhotoDesk {
 public:
  // Folders and cache must outlive it.
  PhotoDesk(const UserFolders& user, FactsCache& cache, const std::function<void()>& wake)
      : user_(user), cache_(cache), decoding_(wake), adjusting_(wake) {}

  const PhotoView& view() const { return view_; }
  // Index of the photograph that is shown.
  std::size_t index() const { return index_; }
  const ViewAdjust& adjust() const { return adjust_; }
  void set_adjust(const ViewAdjust& adjust);

  // Another project is opened, of which a photograph is to be shown: forgets everything but how the
  // last one was adjusted.
  void forget(std::size_t index);
  // Goes to the photograph `index` of `after`, where `before` was shown until now. Each keeps how
  // it is adjusted for the eye.
  void turn_to(const Document& before, const Document& after, std::size_t index);
  // Reads or turns the photograph where another one, or another side up, is to be shown.
  void follow(DocumentPointer document);
  // What a file name stands for may be another picture now: nothing that was read counts.
  void doubt_files();
  // Asks the user's book of cameras again.
  void look_up_camera();
  // Takes what is read and adjusted; returns whether anything changed.
  bool take();

 private:
  struct PhotoKey {
    std::string file;
    int quarter_turns = 0;
    friend bool operator==(const PhotoKey&, const PhotoKey&) = default;
  };
  struct RecentPhoto {
    PhotoKey key;
    std::optional<FactsCache::Stamp> stamp;  // of the file
    std::shared_ptr<const Picture> picture;
    std::vector<Note> notes;
  };
  struct Adjusted {
    ViewAdjust adjust;
    Result<ShownPicture> shown;
  };

  void show_problem();
  void remember_loaded();
  void look_in_recent(const std::string& file);
  void set_shown(std::optional<ShownPicture> picture);
  void start_adjusting();
  bool take_read();
  bool take_adjusted();

  const UserFolders& user_;
  FactsCache& cache_;
  PhotoView view_;
  DocumentPointer document_ = std::make_shared<const Document>();
  std::size_t index_ = 0;
  ViewAdjust adjust_;
  std::map<std::string, ViewAdjust> other_adjusts_;  // of photographs shown before, by file
  std::optional<PhotoKey> key_;                      // of what is shown or being read
  std::optional<Problem> reading_problem_;
  PhotoKey loaded_key_;                    // of `loaded_`
  std::shared_ptr<const Picture> loaded_;  // the last picture read, to be turned without reading
  std::vector<Note> loaded_notes_;
  std::optional<ViewAdjust> adjusting_to_;  // in work
  std::vector<RecentPhoto> recent_;         // the last pictures read, newest first

  LatestJob<LoadedPhoto> decoding_;
  LatestJob<Adjusted> adjusting_;
};

}  // namespace potshadow
