// SPDX-License-Identifier: MIT
#include "project/clay_book.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <set>
#include <utility>

#include "clay/body_figures.h"
#include "core/files.h"
#include "core/text.h"
#include "project/book_head.h"
#include "project/clay_json.h"
#include "project/kept_keys.h"
#include "project/private_folder.h"
#include "project/shared_files.h"

namespace potshadow {
namespace {

constexpr BookForm kForm{"potshadow_clays", "clays"};
constexpr std::uintmax_t kMostBookBytes = std::uintmax_t{16} << 20U;  // some thousands of clays

std::filesystem::path file_in(const UserFolders& folders) { return folders.data / "clays.json"; }

Problem no_home() {
  return {Code::kFileMissing, "There is no home folder to keep the book of clays in.",
          "Set HOME to your home folder, or XDG_DATA_HOME to a folder for data.", ""};
}

Result<ClayBody> checked_clay(const Json& item, const std::string& place) {
  Result<ClayBody> body = clay_from_json(item, place);
  if (!body) return body;
  const Result<Done> checked = check_body(*body);
  if (checked.ok()) return body;
  Problem problem = checked.problem();
  problem.what = "In " + place + ": " + lower_first(problem.what);
  return problem;
}

}  // namespace

Result<ClayBook> parse_clay_book(std::string_view text, std::string_view file_name) {
  const std::string named = "'" + std::string(file_name) + "'";
  const Result<Json> json = parse_json(text, {file_name, "book of clays"});
  if (!json) return json.problem();
  const auto bad = [&](const std::string& what, Code code = Code::kBadFormat) {
    return Problem{code, "The file " + named + " " + what + ".",
                   "Check that it is the right file, mend it, or move it away.", ""};
  };
  if (const auto trouble = book_trouble(*json, kForm)) return bad(trouble->words, trouble->code);
  ClayBook book;
  book.kept = others_in(*json, {kForm.version_key, kForm.list_key});
  for (const Json& item : json->at(kForm.list_key)) {
    const std::string place = "clay " + std::to_string(book.bodies.size() + 1) + " of " + named;
    Result<ClayBody> body = checked_clay(item, place);
    if (!body) return body.problem();
    if (body_in(book.bodies, body->record) != nullptr) {
      return bad("holds two clays with the record '" + body->record + "'", Code::kBadValue);
    }
    book.bodies.push_back(std::move(body).value());
  }
  return book;
}

std::string clay_book_text(const ClayBook& book) {
  Json list = Json::array();
  for (const ClayBody& body : book.bodies) list.push_back(clay_to_json(body));
  Json json = Json::object();
  json[kForm.version_key] = kForm.version;
  json[kForm.list_key] = std::move(list);
  add_kept(book.kept, json);
  return json_text(json);
}

Result<ClayBook> read_clay_book(const std::filesystem::path& file) {
  const Result<std::string> bytes = read_file(file, kMostBookBytes);
  if (!bytes) return bytes.problem();
  return parse_clay_book(*bytes, file.string());
}

Result<ClayBook> load_clay_book(const UserFolders& folders) {
  if (folders.data.empty()) return ClayBook();
  Result<ClayBook> book = read_clay_book(file_in(folders));
  if (!book && book.problem().code == Code::kFileMissing) return ClayBook();
  return book;
}

Result<FileLock> lock_clay_book(const UserFolders& folders) {
  if (folders.data.empty()) return no_home();
  return lock_book(file_in(folders));
}

Result<Done> save_clay_book(const ClayBook& book, const UserFolders& folders) {
  for (const ClayBody& body : book.bodies) {
    const Result<Done> checked = check_body(body);
    if (!checked) return checked.problem();
  }
  if (folders.data.empty()) return no_home();
  const Result<Done> made = make_private_folder(folders.data);
  if (!made) return made.problem();
  return write_file_whole(file_in(folders), clay_book_text(book));
}

ClayBook with_clay(ClayBook book, const ClayBody& body) {
  const auto found =
      std::find_if(book.bodies.begin(), book.bodies.end(),
                   [&](const ClayBody& other) { return other.record == body.record; });
  if (found == book.bodies.end()) {
    book.bodies.push_back(body);
  } else {
    *found = body;
  }
  return book;
}

std::string free_record(const ClayBook& book, std::string_view name) {
  constexpr std::size_t kMostLetters = 50;  // leaves room for a number
  std::string wish;
  for (const char c : name.substr(0, kMostLetters)) {
    const bool large = c >= 'A' && c <= 'Z';
    const std::string letter(1, large ? static_cast<char>(c - 'A' + 'a') : c);
    if (is_record(letter)) {
      wish += letter;
    } else if (c == ' ' && !wish.empty() && wish.back() != '-') {
      wish += '-';
    }
  }
  while (!wish.empty() && wish.back() == '-') wish.pop_back();
  if (wish.empty()) wish = "clay";
  std::string record = wish;
  for (int i = 2; body_in(book.bodies, record) != nullptr; ++i) {
    record = wish + "-" + std::to_string(i);
  }
  return record;
}

JoinedBook joined_books(ClayBook book, const std::vector<ClayBody>& given) {
  JoinedBook joined{std::move(book), {}, {}};
  std::map<std::string, std::string> records;  // as they were and as they are
  std::set<std::string> added;
  for (const ClayBody& body : given) {
    const ClayBody* const known = body_in(joined.book.bodies, body.record);
    ClayBody taken = body;
    const bool there = known != nullptr && *known == body;
    if (known != nullptr && !there) {
      taken.record = free_record(joined.book, body.record);
      joined.renamed.push_back(taken.record);
    }
    records[body.record] = taken.record;
    joined.taken.push_back(taken.record);
    if (there) continue;
    added.insert(taken.record);
    joined.book = with_clay(std::move(joined.book), taken);
  }
  for (ClayBody& body : joined.book.bodies) {
    if (!added.contains(body.record)) continue;
    for (MixPart& part : body.mix) {
      const auto found = records.find(part.record);
      if (found != records.end()) part.record = found->second;
    }
  }
  return joined;
}

std::string clay_words(const ClayBody& body) { return body.name.empty() ? body.record : body.name; }

}  // namespace potshadow
