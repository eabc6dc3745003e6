// SPDX-License-Identifier: MIT
#include "project/book_head.h"

namespace potshadow {

std::optional<BookTrouble> book_trouble(const Json& json, const BookForm& form) {
  const std::string no_book = std::string("is no book of ") + form.list_key;
  if (!json.is_object()) return BookTrouble{no_book};
  const auto version = json.find(form.version_key);
  if (version == json.end() || !version->is_number_integer() || version->get<double>() < 1.0) {
    return BookTrouble{no_book};
  }
  if (version->get<double>() > form.version) {
    return BookTrouble{"was written by a later version of the program", Code::kNewerVersion};
  }
  const auto list = json.find(form.list_key);
  if (list == json.end() || !list->is_array()) {
    return BookTrouble{std::string("has no list of ") + form.list_key};
  }
  return std::nullopt;
}

}  // namespace potshadow
