// SPDX-License-Identifier: MIT
// Undo and redo without a limit: the documents there were, each with the step that made it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "desktop/document/command.h"
#include "desktop/document/document.h"

// Documents share nothing but what they copy; a project with 200 marks takes some 10 kB, so a
// thousand steps cost about 10 MB. The first entry is the document as it was opened.
namespace potshadow {

class History {
 public:
  explicit History(Document opened = {}, std::string opened_words = "Open");

  const Document& document() const { return *entries_[at_].document; }
  DocumentPointer snapshot() const { return entries_[at_].document; }

  // Does the command as a new step and forgets what had been undone. Where `continues`, and the
  // last step is of the same kind on the same marks or field and no save lies between, the two
  // become one step (nudges, typing). A command that changes nothing adds no step. Fails as apply;
  // then nothing changes.
  Result<Done> perform(const Command& command, bool continues = false);

  // Each returns false at its end of the list.
  bool undo();
  bool redo();
  // Goes to an entry of steps(); false where there is none.
  bool go_to(std::size_t entry);

  // Words of every step, the oldest first, that of opening included; and which one is shown.
  std::vector<std::string> steps() const;
  std::size_t at() const { return at_; }
  std::optional<std::string> undo_words() const;  // of the step that undo would take back
  std::optional<std::string> redo_words() const;

  // The document shown is the one on disk.
  void mark_saved();
  // The document on disk is none of these: it was recovered after a crash, or never saved.
  void mark_never_saved();
  bool unsaved() const;

 private:
  struct Entry {
    std::string words;
    DocumentPointer document;
    std::optional<Command> command;
  };
  std::vector<Entry> entries_;
  std::size_t at_ = 0;
  std::optional<DocumentPointer> saved_;
};

}  // namespace potshadow
