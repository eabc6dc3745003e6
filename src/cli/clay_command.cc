// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "clay/body_figures.h"
#include "cli/commands.h"
#include "project/clay_book.h"
#include "project/clay_text.h"
#include "project/sheet_request.h"
#include "project/typed_clay.h"
#include "sheets/bar_sheet.h"

namespace potshadow {
namespace {

using Said = Result<std::string>;  // what is printed when all went well

Problem no_such_clay(const std::string& record) {
  return {Code::kBadValue, "The book has no clay '" + record + "'.",
          "Run 'potshadow clay' to see which it has, or begin one with 'potshadow clay write'.",
          ""};
}

Problem no_such_bar(const ClayBody& body, std::size_t number) {
  return {Code::kBadValue,
          "The clay '" + body.record + "' has no bar " + std::to_string(number) + ".",
          "Run 'potshadow clay show " + body.record + "' to see its bars.", ""};
}

std::string notes_text(const std::vector<Note>& notes) {
  std::string text;
  for (const Note& note : notes) {
    text += std::string(note.doubtful ? "! " : "- ") + on_one_line(note.text) + "\n";
  }
  return text;
}

// The user's book and where it is.
struct Opened {
  UserFolders folders;
  ClayBook book;
  std::optional<FileLock> lock;  // held where the book is to be changed
};

Result<Opened> open_book(bool to_change) {
  const Result<UserFolders> folders = user_folders();
  if (!folders) return folders.problem();
  std::optional<FileLock> held;
  if (to_change) {
    Result<FileLock> lock = lock_clay_book(*folders);
    if (!lock) return lock.problem();
    held.emplace(std::move(lock).value());
  }
  const Result<ClayBook> book = load_clay_book(*folders);
  if (!book) return book.problem();
  return Opened{*folders, *book, std::move(held)};
}

// Saves the book with `body` in it and says what stands in it now.
Said saved(const Opened& opened, const ClayBody& body, const std::string& words) {
  const Result<Done> checked = check_body(body);
  if (!checked) return checked.problem();
  const Result<Done> written = save_clay_book(with_clay(opened.book, body), opened.folders);
  if (!written) return written.problem();
  return words + "\n" + notes_text(checked.notes());
}

Said done(const ClayList&, const Opened& opened) { return clay_list_text(opened.book); }

Said done(const ClayHandbook&, const Opened&) { return handbook_text(); }

Said done(const ClayShow& show, const Opened& opened) {
  const ClayBody* const body = body_in(opened.book.bodies, show.record);
  if (body == nullptr) return no_such_clay(show.record);
  const Result<BodyFigures> figures = body_figures(*body, opened.book.bodies, show.firing_c);
  // A heat that was asked for and has no answer is the answer.
  if (!figures && show.firing_c) return figures.problem();
  return clay_text(*body, figures);
}

Said done(const ClayWrite& write, const Opened& opened) {
  ClayBody body;
  body.record = write.record;
  const ClayBody* const known = body_in(opened.book.bodies, write.record);
  if (known != nullptr) body = *known;
  if (write.name) body.name = *write.name;
  if (write.note) body.note = *write.note;
  if (write.firing_c) body.firing_c = write.firing_c;
  constexpr double kWaterSdPercent = 1.0;  // as well as water is weighed out (no source)
  if (write.water_percent) body.water_percent = StatedValue{*write.water_percent, kWaterSdPercent};
  if (write.mix) {
    const Result<std::vector<MixPart>> mix = typed_mix(*write.mix, opened.book.bodies);
    if (!mix) return mix.problem();
    body.mix = *mix;
  }
  for (const StatedShrinkage& stated : write.stated) {
    std::erase_if(body.stated, [&](const StatedShrinkage& old) {
      return old.from == stated.from && old.to == stated.to;
    });
    body.stated.push_back(stated);
  }
  return saved(opened, body,
               (known == nullptr ? "Began '" : "Changed '") + body.record + "' in the book.");
}

Said done(const ClayBar& change, const Opened& opened) {
  const ClayBody* const known = body_in(opened.book.bodies, change.record);
  if (known == nullptr) return no_such_clay(change.record);
  ClayBody body = *known;
  std::size_t number = body.bars.size() + 1;
  if (change.number) {
    number = *change.number;
    if (number > body.bars.size()) return no_such_bar(body, number);
  } else {
    body.bars.emplace_back();
  }
  TestBar& bar = body.bars[number - 1];
  bar = with_newer(bar, change.bar);
  if (change.used) bar.used = *change.used;
  return saved(opened, body, "Wrote bar " + std::to_string(number) + " of '" + body.record + "'.");
}

Said done(const ClayRemove& remove, const Opened& opened) {
  const ClayBody* const known = body_in(opened.book.bodies, remove.record);
  if (known == nullptr) return no_such_clay(remove.record);
  ClayBody body = *known;
  if (remove.number) {
    if (*remove.number > body.bars.size()) return no_such_bar(body, *remove.number);
    body.bars.erase(body.bars.begin() + static_cast<std::ptrdiff_t>(*remove.number - 1));
    return saved(opened, body,
                 "Took bar " + std::to_string(*remove.number) + " of '" + body.record +
                     "' out; those after it move up.");
  }
  if (remove.pot) {
    if (*remove.pot > body.pots.size()) {
      return Problem{
          Code::kBadValue,
          "The clay '" + body.record + "' has no finished pot " + std::to_string(*remove.pot) + ".",
          "Run 'potshadow clay show " + body.record + "' to see them.", ""};
    }
    body.pots.erase(body.pots.begin() + static_cast<std::ptrdiff_t>(*remove.pot - 1));
    return saved(opened, body,
                 "Took finished pot " + std::to_string(*remove.pot) + " of '" + body.record +
                     "' out; those after it move up.");
  }
  ClayBook book = opened.book;
  std::erase_if(book.bodies, [&](const ClayBody& each) { return each.record == remove.record; });
  const Result<Done> written = save_clay_book(book, opened.folders);
  if (!written) return written.problem();
  return "Took '" + remove.record + "' out of the book.\n";
}

Said done(const ClayImport& import, const Opened& opened) {
  const Result<ClayBook> given = read_clay_book(import.file);
  if (!given) return given.problem();
  ClayBook book = opened.book;
  std::string names;
  for (const ClayBody& body : given->bodies) {
    const ClayBody* const known = body_in(opened.book.bodies, body.record);
    if (known != nullptr && *known != body && !import.replace) {
      return Problem{Code::kBadValue,
                     "Your book has another clay with the record '" + body.record + "'.",
                     "Add --replace to put the file's in its place, or remove yours first.", ""};
    }
    book = with_clay(std::move(book), body);
    names += (names.empty() ? "" : ", ") + body.record;
  }
  const Result<Done> written = save_clay_book(book, opened.folders);
  if (!written) return written.problem();
  return "Took into the book: " + (names.empty() ? "nothing" : names) + ".\n";
}

Said done(const ClayExport& wanted, const Opened& opened) {
  ClayBook book;
  for (const ClayBody& body : opened.book.bodies) {
    const auto& records = wanted.records;
    const bool named = std::find(records.begin(), records.end(), body.record) != records.end();
    if (records.empty() || named) book.bodies.push_back(body);
  }
  for (const std::string& record : wanted.records) {
    if (body_in(book.bodies, record) == nullptr) return no_such_clay(record);
  }
  const Result<Done> written = write_output(wanted.output_file, clay_book_text(book), {});
  if (!written) return written.problem();
  if (wanted.output_file == kStandardOutput) return std::string();
  return "Wrote " + std::to_string(book.bodies.size()) +
         (book.bodies.size() == 1 ? " clay to " : " clays to ") + on_one_line(wanted.output_file) +
         ".\n";
}

Said sheet_written(const ClaySheet& sheet, std::chrono::system_clock::time_point now) {
  const Result<SheetPdf> pdf = bar_sheet({sheet.paper, iso_date(now)});
  if (!pdf) return pdf.problem();
  const Result<Done> written = write_output(sheet.output_file, pdf->bytes, {});
  if (!written) return written.problem();
  if (sheet.output_file == kStandardOutput) return std::string();
  return "Wrote " + on_one_line(sheet.output_file) +
         ": the test bar on one page at true size.\nPrint it at 100 % and lay a ruler on the check "
         "bars before you mark your clay by it.\n" +
         notes_text(pdf.notes());
}

}  // namespace

ExitCode run_clay(const ClayOptions& options, std::chrono::system_clock::time_point now) {
  const auto answer = [&]() -> Said {
    if (const auto* sheet = std::get_if<ClaySheet>(&options)) return sheet_written(*sheet, now);
    const bool only_reads = std::holds_alternative<ClayList>(options) ||
                            std::holds_alternative<ClayShow>(options) ||
                            std::holds_alternative<ClayHandbook>(options) ||
                            std::holds_alternative<ClayExport>(options);
    const Result<Opened> opened = open_book(!only_reads);
    if (!opened) return opened.problem();
    return std::visit(
        [&](const auto& verb) -> Said {
          if constexpr (std::is_same_v<std::decay_t<decltype(verb)>, ClaySheet>) {
            return std::string();
          } else {
            return done(verb, *opened);
          }
        },
        options);
  };
  const Said said = answer();
  const Result<Done> printed = said.ok() ? print_text(*said) : Result<Done>(said.problem());
  if (printed.ok()) return ExitCode::kDone;
  print_problem("", printed.problem());
  return exit_code_of(printed.problem());
}

}  // namespace potshadow
