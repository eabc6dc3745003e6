// SPDX-License-Identifier: MIT
// The book of clays, and what is worked out of each of its clays.
#include "fuzz/must.h"
#include "project/clay_book.h"
#include "project/clay_text.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace potshadow;
  const auto book = parse_clay_book(fuzz::text_of(data, size), "clays.json");
  if (!book.ok()) {
    fuzz::must_be_said(book.problem());
    return 0;
  }
  const std::string written = clay_book_text(*book);
  const auto again = parse_clay_book(written, "clays.json");
  fuzz::must(again.ok(), "a written book can be read");
  fuzz::must(*again == *book, "a written book is read as the same");
  fuzz::must(clay_book_text(*again) == written, "a book is written the same again");
  const JoinedBook joined = joined_books(*book, again->bodies);
  fuzz::must(joined.book == *book, "a book takes in nothing new from itself");
  return 0;
}
