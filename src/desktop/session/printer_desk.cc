// SPDX-License-Identifier: MIT
#include "desktop/session/printer_desk.h"

#include <utility>

namespace potshadow {

PrinterDesk::PrinterDesk(UserFolders folders) : folders_(std::move(folders)) { read(); }

std::optional<FactsCache::Stamp> PrinterDesk::stamp_now() const {
  return FactsCache::stamp_of(folders_.config / "printers.json");
}

void PrinterDesk::read() {
  stamp_ = stamp_now();
  problem_.reset();
  book_ = {};
  Result<PrinterBook> found = load_printer_book(folders_);
  if (found.ok()) {
    book_ = std::move(found).value();
  } else {
    problem_ = found.problem();
  }
}

bool PrinterDesk::look() {
  if (stamp_ == stamp_now()) return false;
  read();
  return true;
}

Result<PrinterScale> PrinterDesk::scale_of(const std::string& name) const {
  if (name.empty()) return PrinterScale();
  if (problem_) return *problem_;
  if (const OwnPrinter* printer = find_printer(book_, name)) return printer->scale;
  return Problem{Code::kBadValue, "There is no printer '" + name + "' any more.",
                 "Choose another one, or none, or measure its bars anew.", ""};
}

Result<Done> PrinterDesk::write(PrinterBook book) {
  const Result<Done> written = save_printer_book(book, folders_);
  if (!written) return written;
  book_ = std::move(book);
  stamp_ = stamp_now();
  return Done{};
}

Result<Done> PrinterDesk::keep(const std::string& name, const MeasuredBars& bars,
                               const std::string& drawn_for) {
  if (name.empty()) {
    return Problem{Code::kBadValue, "The printer has no name.", "Call it something of your own.",
                   ""};
  }
  const Result<FileLock> lock = lock_printer_book(folders_);
  if (!lock) return lock.problem();
  read();
  const Result<PrinterScale> before = scale_of(drawn_for);
  if (!before) return before.problem();
  if (problem_) return *problem_;
  const Result<PrinterScale> scale = printer_from_bars(bars, *before);
  if (!scale) return scale.problem();
  return write(with_printer(book_, name, *scale));
}

Result<Done> PrinterDesk::forget(const std::string& name) {
  const Result<FileLock> lock = lock_printer_book(folders_);
  if (!lock) return lock.problem();
  read();
  if (problem_) return *problem_;
  return write(without_printer(book_, name));
}

}  // namespace potshadow
