// SPDX-License-Identifier: MIT
// The user's book of clays as the window works on it: read, changed and written whole.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/file_lock.h"
#include "core/result.h"
#include "desktop/session/facts_cache.h"
#include "project/clay_book.h"
#include "project/project_clay.h"
#include "project/settings.h"

// The book belongs to the user and not to a project, so what is done to it is no step of a
// project's history; its own changes can be taken back one by one. Every change reads the file
// again, and where another program has changed it meanwhile nothing is written: the book is then
// shown as it is now. A book that cannot be read is never written over.
namespace potshadow {

// What is known of the clay of the document shown.
struct ClayWork {
  std::optional<ProjectClayFigures> clay;  // none where the project names none
  std::vector<Note> notes;                 // what is estimated, which bars disagree
  std::optional<Problem> problem;          // why there is none, though the project names one
};

class ClayDesk {
 public:
  explicit ClayDesk(UserFolders folders);

  const ClayBook& book() const { return book_; }
  const std::optional<Problem>& problem() const { return problem_; }  // why it cannot be read
  std::uint64_t revision() const { return revision_; }  // changes whenever book or problem do

  // Reads the book again where its file has changed since.
  void look();

  // Puts the body in place of the one of its record, or in at the end; `words` say what is done,
  // for take_back_words(). The notes are check_body's. Fails as check_body does, where another
  // program has changed the book, and as save_clay_book does.
  Result<Done> put(const ClayBody& body, const std::string& words);
  Result<Done> remove(const std::string& record);
  // Takes in every clay of a file; see joined_books. Fails as read_clay_book and put do.
  Result<JoinedBook> take_in(const std::filesystem::path& file);
  // Writes one clay to a file, with the clays that its mix names. Fails with kBadValue (no such
  // clay) and as write_file_whole does.
  Result<Done> hand_on(const std::string& record, const std::filesystem::path& file) const;

  // What take_back() would undo, as "Change bar 2 of 'buff-mix'"; nothing where there is nothing.
  std::optional<std::string> take_back_words() const;
  Result<Done> take_back();

 private:
  struct Change {
    std::string words;
    ClayBook before;
  };
  std::optional<FactsCache::Stamp> stamp_now() const;
  void read();
  // Returns the book's lock, to be held until it is written.
  Result<FileLock> ready_to_write();
  Result<Done> write(ClayBook book);

  UserFolders folders_;
  ClayBook book_;
  std::optional<Problem> problem_;
  std::optional<FactsCache::Stamp> stamp_;
  std::uint64_t revision_ = 0;
  std::vector<Change> changes_;
};

}  // namespace potshadow
