// SPDX-License-Identifier: MIT
#include "desktop/session/photo_desk.h"

#include <utility>

namespace potshadow {

void PhotoDesk::set_adjust(const ViewAdjust& adjust) {
  if (adjust == adjust_) return;
  adjust_ = adjust;
  start_adjusting();
}

void PhotoDesk::forget(std::size_t index) {
  decoding_.cancel();
  adjusting_.cancel();
  key_.reset();
  reading_problem_.reset();
  loaded_.reset();
  adjusting_to_.reset();
  const std::uint64_t shown_revision = view_.shown_revision + 1;
  view_ = {};
  view_.shown_revision = shown_revision;
  recent_.clear();
  index_ = index;
  other_adjusts_.clear();
}

void PhotoDesk::turn_to(const Document& before, const Document& after, std::size_t index) {
  const auto file_of = [](const Document& document, std::size_t at) {
    return at < document.photos.size() ? document.photos[at].file : std::string();
  };
  const std::string left = file_of(before, index_);
  const std::string next = file_of(after, index);
  index_ = index;
  if (left == next) return;
  other_adjusts_[left] = adjust_;
  adjust_ = other_adjusts_[next];
}

void PhotoDesk::follow(DocumentPointer document) {
  document_ = std::move(document);
  std::optional<PhotoKey> key;
  if (index_ < document_->photos.size()) {
    key = PhotoKey{document_->photos[index_].file, document_->photos[index_].quarter_turns};
  }
  if (key == key_) {
    show_problem();
    return;
  }
  const bool other_file = !key || !key_ || key->file != key_->file;
  key_ = key;
  decoding_.cancel();
  adjusting_.cancel();
  adjusting_to_.reset();
  view_.picture.reset();
  set_shown(std::nullopt);
  view_.busy.reset();
  reading_problem_.reset();
  if (other_file) {
    view_.facts.reset();
    view_.camera.reset();
    view_.notes.clear();
    if (!key || key->file != loaded_key_.file) loaded_.reset();
    if (key && !loaded_) look_in_recent(key->file);
  }
  if (key && key->file.empty()) {
    reading_problem_ =
        Problem{Code::kFileMissing, "The project does not say which photograph it is about.",
                "Show where the photograph is.", ""};
  } else if (key && loaded_) {
    const int turns = key->quarter_turns - loaded_key_.quarter_turns;
    view_.busy = busy_with(turns == 0 ? "Reading the photograph" : "Turning the photograph");
    decoding_.request([picture = loaded_, turns, notes = loaded_notes_](const std::stop_token&) {
      LoadedPhoto turned;
      turned.picture =
          turns == 0 ? picture : std::make_shared<const Picture>(turned_picture(*picture, turns));
      turned.facts = picture->facts;
      turned.notes = notes;
      return turned;
    });
  } else if (key) {
    view_.busy = busy_with("Reading the photograph");
    decoding_.request([this_cache = &cache_, wanted = *key](const std::stop_token& stop) {
      return load_photo(wanted.file, wanted.quarter_turns, *this_cache, stop);
    });
  }
  show_problem();
}

void PhotoDesk::doubt_files() {
  key_.reset();
  loaded_.reset();
  recent_.clear();
}

void PhotoDesk::look_up_camera() {
  if (view_.facts) view_.camera = known_camera(user_, *view_.facts);
}

bool PhotoDesk::take() {
  const bool read = take_read();
  return take_adjusted() || read;
}

// Keeps the picture that was just read, and as many older ones as are not too much together.
void PhotoDesk::remember_loaded() {
  if (!loaded_) return;
  constexpr double kMostPixels = 60e6;  // 3 bytes each: five photographs of a phone
  std::erase_if(recent_, [&](const RecentPhoto& one) { return one.key.file == loaded_key_.file; });
  recent_.insert(recent_.begin(),
                 {loaded_key_, FactsCache::stamp_of(loaded_key_.file), loaded_, loaded_notes_});
  double pixels = 0.0;
  std::size_t kept_count = 0;
  for (const RecentPhoto& one : recent_) {
    pixels += static_cast<double>(one.picture->facts.width_px) * one.picture->facts.height_px;
    if (kept_count > 0 && pixels > kMostPixels) break;
    ++kept_count;
  }
  recent_.resize(kept_count);
}

// Takes the picture of a file that was read before and has not changed since for the one loaded_.
void PhotoDesk::look_in_recent(const std::string& file) {
  for (const RecentPhoto& one : recent_) {
    if (one.key.file != file || !one.stamp || one.stamp != FactsCache::stamp_of(file)) continue;
    loaded_ = one.picture;
    loaded_key_ = one.key;
    loaded_notes_ = one.notes;
    return;
  }
}

void PhotoDesk::show_problem() {
  view_.problem = reading_problem_;
  const std::size_t index = index_;
  if (reading_problem_ || !view_.facts || index >= document_->photos.size()) return;
  if (!differs(document_->photos[index].record, *view_.facts)) return;
  view_.problem =
      Problem{Code::kBadValue, "The photograph is not the same as when it was marked.",
              "Check that the marks still lie on it, or show where the right one is.", ""};
}

void PhotoDesk::set_shown(std::optional<ShownPicture> picture) {
  if (!picture && !view_.shown) return;
  view_.shown = std::move(picture);
  ++view_.shown_revision;
}

void PhotoDesk::start_adjusting() {
  if (!view_.picture || adjusting_to_) return;
  adjusting_to_ = adjust_;
  if (!view_.busy) view_.busy = busy_with("Making the photograph ready to look at");
  adjusting_.request([picture = view_.picture, to = adjust_](const std::stop_token& stop) {
    return Adjusted{to, ShownPicture::of(*picture, to, stop)};
  });
}

bool PhotoDesk::take_read() {
  std::optional<LoadedPhoto> read = decoding_.take();
  if (!read) return false;
  view_.busy.reset();
  view_.picture = std::move(read->picture);
  view_.facts = std::move(read->facts);
  view_.camera = view_.facts ? known_camera(user_, *view_.facts) : std::nullopt;
  view_.notes = std::move(read->notes);
  reading_problem_ = std::move(read->problem);
  if (reading_problem_ && reading_problem_->code == Code::kFileMissing) {
    reading_problem_->next = "Show where it is now; the marks and the figures stay.";
  }
  loaded_ = view_.picture;
  loaded_notes_ = view_.notes;
  loaded_key_ = key_.value_or(PhotoKey());
  remember_loaded();
  show_problem();
  start_adjusting();
  return true;
}

bool PhotoDesk::take_adjusted() {
  std::optional<Adjusted> adjusted = adjusting_.take();
  if (!adjusted) return false;
  view_.busy.reset();
  adjusting_to_.reset();
  if (adjusted->shown.ok()) {
    set_shown(std::move(adjusted->shown).value());
  } else {
    reading_problem_ = adjusted->shown.problem();
    show_problem();
  }
  if (adjusted->adjust != adjust_) start_adjusting();
  return true;
}

}  // namespace potshadow
