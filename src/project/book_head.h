// SPDX-License-Identifier: MIT
// How a book of the user's begins: an object with its version and its list; for this part only.
#pragma once

#include <optional>
#include <string>

#include "core/result.h"
#include "project/json_text.h"

namespace potshadow {

struct BookForm {
  const char* version_key = nullptr;  // "potshadow_clays"
  const char* list_key = nullptr;     // "clays"
  int version = 1;                    // the latest that is known
};

// What is wrong with a book's head, to follow upon its file's name: "is no book of clays".
struct BookTrouble {
  std::string words;
  Code code = Code::kBadFormat;
};

// Returns what is wrong, or nothing where the book is an object with a version that can be read and
// a list.
std::optional<BookTrouble> book_trouble(const Json& json, const BookForm& form);

}  // namespace potshadow
