// SPDX-License-Identifier: MIT
#include "desktop/session/clay_desk.h"

#include <utility>

#include "clay/body_figures.h"
#include "core/files.h"

namespace potshadow {
namespace {

Problem no_such_clay(const std::string& record) {
  return {Code::kBadValue, "The book has no clay '" + record + "' any more.",
          "Choose one that is in the list.", ""};
}

// Adds the body and the clays that its mix names.
void add_with_mix(const ClayBook& book, const ClayBody& body, ClayBook& to) {
  if (body_in(to.bodies, body.record) != nullptr) return;
  to.bodies.push_back(body);
  for (const MixPart& part : body.mix) {
    const ClayBody* const named = body_in(book.bodies, part.record);
    if (named != nullptr) add_with_mix(book, *named, to);
  }
}

}  // namespace

ClayDesk::ClayDesk(UserFolders folders) : folders_(std::move(folders)) { read(); }

// Of the book's file; nothing where there is none.
std::optional<FactsCache::Stamp> ClayDesk::stamp_now() const {
  if (folders_.data.empty()) return std::nullopt;
  return FactsCache::stamp_of(folders_.data / "clays.json");
}

void ClayDesk::read() {
  stamp_ = stamp_now();
  Result<ClayBook> found = load_clay_book(folders_);
  ++revision_;
  problem_.reset();
  if (found.ok()) {
    book_ = std::move(found).value();
    return;
  }
  problem_ = found.problem();
  book_ = {};
}

void ClayDesk::look() {
  if (stamp_ == stamp_now()) return;
  const ClayBook before = book_;
  read();
  if (book_ != before) changes_.clear();
}

Result<FileLock> ClayDesk::ready_to_write() {
  Result<FileLock> lock = lock_clay_book(folders_);
  if (!lock) return lock;
  const Result<ClayBook> now = load_clay_book(folders_);
  if (!now) {
    read();
    return now.problem();
  }
  if (*now == book_) return lock;
  look();
  return Problem{Code::kBadValue, "Another program has changed the book of clays meanwhile.",
                 "It is shown as it is now, and nothing was written over. Do it once more.", ""};
}

Result<Done> ClayDesk::write(ClayBook book) {
  const Result<Done> written = save_clay_book(book, folders_);
  if (!written) return written.problem();
  book_ = std::move(book);
  stamp_ = stamp_now();
  ++revision_;
  return Done{};
}

Result<Done> ClayDesk::put(const ClayBody& body, const std::string& words) {
  const Result<Done> checked = check_body(body);
  if (!checked) return checked.problem();
  const Result<FileLock> ready = ready_to_write();
  if (!ready) return ready.problem();
  Change change{words, book_};
  const Result<Done> written = write(with_clay(book_, body));
  if (!written) return written.problem();
  changes_.push_back(std::move(change));
  return {Done{}, checked.notes()};
}

Result<Done> ClayDesk::remove(const std::string& record) {
  const Result<FileLock> ready = ready_to_write();
  if (!ready) return ready.problem();
  if (body_in(book_.bodies, record) == nullptr) return no_such_clay(record);
  Change change{"Take '" + record + "' out of the book", book_};
  ClayBook book = book_;
  std::erase_if(book.bodies, [&](const ClayBody& body) { return body.record == record; });
  const Result<Done> written = write(std::move(book));
  if (!written) return written.problem();
  changes_.push_back(std::move(change));
  return Done{};
}

Result<JoinedBook> ClayDesk::take_in(const std::filesystem::path& from) {
  const Result<ClayBook> given = read_clay_book(from);
  if (!given) return given.problem();
  const Result<FileLock> ready = ready_to_write();
  if (!ready) return ready.problem();
  JoinedBook joined = joined_books(book_, given->bodies);
  if (joined.book == book_) return joined;
  Change change{"Take in clays from '" + from.filename().string() + "'", book_};
  const Result<Done> written = write(joined.book);
  if (!written) return written.problem();
  changes_.push_back(std::move(change));
  return joined;
}

Result<Done> ClayDesk::hand_on(const std::string& record, const std::filesystem::path& to) const {
  const ClayBody* const body = body_in(book_.bodies, record);
  if (body == nullptr) return no_such_clay(record);
  ClayBook book;
  add_with_mix(book_, *body, book);
  return write_file_whole(to, clay_book_text(book));
}

std::optional<std::string> ClayDesk::take_back_words() const {
  if (changes_.empty()) return std::nullopt;
  return changes_.back().words;
}

Result<Done> ClayDesk::take_back() {
  if (changes_.empty()) {
    return Problem{Code::kBadValue, "There is nothing to take back in the book of clays.",
                   "Only what was changed since the window was opened can be taken back.", ""};
  }
  const Result<FileLock> ready = ready_to_write();
  if (!ready) return ready.problem();
  const Result<Done> written = write(changes_.back().before);
  if (!written) return written.problem();
  changes_.pop_back();
  return Done{};
}

}  // namespace potshadow
