// SPDX-License-Identifier: MIT
// Result<T>: a value with notes, or a Problem that says what happened and what to do next.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "core/check.h"

// Everything a user can cause (bad files, impossible marks, nonsense numbers) comes back as a
// Problem; a partial answer comes back as a value with notes. Nothing here throws.
namespace potshadow {

// What kind of trouble it is, for tests and exit codes.
enum class Code {
  kFileMissing,      // no such file or folder
  kFileUnreadable,   // exists, but cannot be read, is empty, truncated or of the wrong kind
  kFileUnwritable,   // cannot be written; what was there before is untouched
  kFileTooLarge,     // beyond the limits the program states
  kBadFormat,        // readable, but not what the format asks for (JSON, wrong types)
  kNewerVersion,     // written by a later version of the program
  kBadValue,         // a number outside what makes sense
  kBadMarks,         // marks that contradict themselves (crossed corners, wrong order)
  kTooFewMarks,      // more marks are needed
  kCannotBeAnswered  // the input is sound but does not determine the answer
};

struct Problem {
  Code code = Code::kBadValue;
  std::string what;    // one sentence: what happened
  std::string next;    // one sentence: what to do next
  std::string detail;  // technical detail, folded away; may be empty
};

// A remark on an answer that stands. `doubtful` notes ask the user to look; others inform.
struct Note {
  std::string text;
  bool doubtful = false;
  friend bool operator==(const Note&, const Note&) = default;
};

// Stands for "done, nothing to return".
struct Done {
  friend bool operator==(const Done&, const Done&) = default;
};

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : state_(std::move(value)) {}
  Result(T value, std::vector<Note> notes) : state_(std::move(value)), notes_(std::move(notes)) {}
  Result(Problem problem) : state_(std::move(problem)) {}

  bool ok() const { return std::holds_alternative<T>(state_); }
  explicit operator bool() const { return ok(); }

  // Requires ok().
  const T& value() const& {
    POTSHADOW_CHECK(ok());
    return std::get<T>(state_);
  }
  T&& value() && {
    POTSHADOW_CHECK(ok());
    return std::get<T>(std::move(state_));
  }
  const T& operator*() const& { return value(); }
  const T* operator->() const { return &value(); }

  // Requires !ok().
  const Problem& problem() const {
    POTSHADOW_CHECK(!ok());
    return std::get<Problem>(state_);
  }

  const std::vector<Note>& notes() const { return notes_; }

 private:
  std::variant<T, Problem> state_;
  std::vector<Note> notes_;
};

}  // namespace potshadow
