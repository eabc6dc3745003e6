// SPDX-License-Identifier: MIT
#include "project/printer_book.h"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <utility>

#include "core/files.h"
#include "core/text.h"
#include "project/book_head.h"
#include "project/json_text.h"
#include "project/kept_keys.h"
#include "project/private_folder.h"
#include "project/shared_files.h"

namespace potshadow {
namespace {

constexpr BookForm kForm{"potshadow_printers", "printers"};
constexpr std::uintmax_t kMostBookBytes = std::uintmax_t{1} << 20U;  // some thousands of printers

std::filesystem::path file_in(const UserFolders& folders) {
  return folders.config / "printers.json";
}

Problem damaged(const std::filesystem::path& file, const std::string& what, Code code) {
  return {code, "The book of printers '" + file.string() + "' " + what + ".",
          "Mend it, or move it away and measure the bars again.", ""};
}

std::optional<OwnPrinter> printer_of(const Json& object) {
  const auto name = object.find("name");
  const auto across = object.find("across");
  const auto along = object.find("along");
  if (name == object.end() || !name->is_string() || across == object.end() ||
      !across->is_number() || along == object.end() || !along->is_number()) {
    return std::nullopt;
  }
  OwnPrinter printer{name->get<std::string>(),
                     {across->get<double>(), along->get<double>()},
                     others_in(object, {"name", "across", "along"})};
  if (printer.name.empty() || !is_sound(printer.scale)) return std::nullopt;
  return printer;
}

}  // namespace

Result<PrinterBook> load_printer_book(const UserFolders& folders) {
  const std::filesystem::path file = file_in(folders);
  const Result<std::string> bytes = read_file(file, kMostBookBytes);
  if (!bytes) {
    if (bytes.problem().code == Code::kFileMissing) return PrinterBook();
    return bytes.problem();
  }
  const Result<Json> json = parse_json(*bytes, {file.string(), "book of printers"});
  if (!json) return json.problem();
  if (const auto trouble = book_trouble(*json, kForm)) {
    return damaged(file, trouble->words, trouble->code);
  }
  PrinterBook book;
  for (const Json& entry : (*json)[kForm.list_key]) {
    std::optional<OwnPrinter> printer = entry.is_object() ? printer_of(entry) : std::nullopt;
    if (!printer) {
      return damaged(
          file, "has an entry " + std::to_string(book.printers.size() + 1) + " that cannot be used",
          Code::kBadValue);
    }
    book.printers.push_back(*std::move(printer));
  }
  book.kept = others_in(*json, {kForm.version_key, kForm.list_key});
  return book;
}

Result<FileLock> lock_printer_book(const UserFolders& folders) {
  return lock_book(file_in(folders));
}

Result<Done> save_printer_book(const PrinterBook& book, const UserFolders& folders) {
  Json json = Json::object();
  json[kForm.version_key] = kForm.version;
  json[kForm.list_key] = Json::array();
  for (const OwnPrinter& printer : book.printers) {
    Json entry = {
        {"name", printer.name}, {"across", printer.scale.across}, {"along", printer.scale.along}};
    add_kept(printer.kept, entry);
    json[kForm.list_key].push_back(std::move(entry));
  }
  add_kept(book.kept, json);
  const Result<Done> made = make_private_folder(folders.config);
  if (!made) return made.problem();
  return write_file_whole(file_in(folders), json_text(json));
}

Result<PrinterScale> printer_from_bars(const MeasuredBars& bars, const PrinterScale& drawn_for) {
  constexpr double kBarMm = 100.0;
  const PrinterScale scale{drawn_for.across * bars.across_mm / kBarMm,
                           drawn_for.along * bars.along_mm / kBarMm};
  if (is_sound(scale)) return scale;
  return Problem{Code::kBadValue,
                 "Bars of 100 mm do not come out as " + fixed_text(bars.across_mm, 1) + " and " +
                     fixed_text(bars.along_mm, 1) + " mm.",
                 "Measure the 100 mm bars, not those of 4 in, in millimetres, and turn off "
                 "fitting to the page.",
                 ""};
}

const OwnPrinter* find_printer(const PrinterBook& book, const std::string& name) {
  const auto found = std::find_if(book.printers.begin(), book.printers.end(),
                                  [&](const OwnPrinter& p) { return p.name == name; });
  return found == book.printers.end() ? nullptr : &*found;
}

PrinterBook with_printer(PrinterBook book, const std::string& name, const PrinterScale& scale) {
  OwnPrinter printer{name, scale};
  if (const OwnPrinter* old = find_printer(book, name)) printer.kept = old->kept;
  book = without_printer(std::move(book), name);
  const auto place = std::find_if(book.printers.begin(), book.printers.end(),
                                  [&](const OwnPrinter& other) { return other.name > name; });
  book.printers.insert(place, std::move(printer));
  return book;
}

PrinterBook without_printer(PrinterBook book, const std::string& name) {
  std::erase_if(book.printers, [&](const OwnPrinter& p) { return p.name == name; });
  return book;
}

}  // namespace potshadow
