// SPDX-License-Identifier: MIT
// The book of clays: every body with its mix and its bars, kept for all projects.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "clay/clay_body.h"
#include "core/file_lock.h"
#include "core/result.h"
#include "project/settings.h"

// Format: UTF-8 JSON, one object with "potshadow_clays": 1 and "clays", a list; DEVELOPERS.md lists
// the keys. A shrinkage says on which length it is counted ("basis"). Keys that this version does
// not know are kept on every level. What is exported is a book too, so that a clay can be handed
// on.
namespace potshadow {

struct ClayBook {
  std::vector<ClayBody> bodies;
  std::string kept{};
  friend bool operator==(const ClayBook&, const ClayBook&) = default;
};

// Returns the book in a text; `file_name` is for messages. Fails with kBadFormat, kNewerVersion,
// kFileTooLarge or kBadValue (see check_body; two bodies of one record), naming the place.
Result<ClayBook> parse_clay_book(std::string_view text, std::string_view file_name);

// Returns the text of a book's file, with a newline at the end.
std::string clay_book_text(const ClayBook& book);

// Returns the book in a file, as a book that somebody handed on. Fails as read_file and
// parse_clay_book do.
Result<ClayBook> read_clay_book(const std::filesystem::path& file);

// Returns the user's book, `folders.data`/clays.json; an empty one where there is no such file.
// Fails otherwise as read_clay_book.
Result<ClayBook> load_clay_book(const UserFolders& folders);

// Returns the lock of the user's book: whoever changes the book holds it from before loading until
// after saving. Fails with kFileUnwritable or kFileMissing (no home folder).
Result<FileLock> lock_clay_book(const UserFolders& folders);

// Writes the user's book whole, creating the folder. Fails with kFileUnwritable, kFileMissing (no
// home folder), or as check_body.
Result<Done> save_clay_book(const ClayBook& book, const UserFolders& folders);

// Returns the book with `body` in place of the one of its record, else added at its end.
ClayBook with_clay(ClayBook book, const ClayBody& body);

// Returns a record for a body of that name which no body of the book has: "buff-mix", "buff-mix-2".
std::string free_record(const ClayBook& book, std::string_view name);

// A book with what somebody handed on.
struct JoinedBook {
  ClayBook book;
  std::vector<std::string> taken;    // records that came in or were there already, as they are now
  std::vector<std::string> renamed;  // of them, those whose own record was another body's
};

// Returns the book with every body of `given`, and nothing written over: a body whose record is
// another one's gets a free record, and the mixes that came with it follow.
JoinedBook joined_books(ClayBook book, const std::vector<ClayBody>& given);

// Returns the name to print: the body's, else its record.
std::string clay_words(const ClayBody& body);

}  // namespace potshadow
