// SPDX-License-Identifier: MIT
// The user's printers, as the window shows and changes them.
#pragma once

#include <optional>
#include <string>

#include "core/result.h"
#include "desktop/session/facts_cache.h"
#include "project/printer_book.h"

// The book is read again where its file has changed since, before it is changed too; a book that
// cannot be read is never written over.
namespace potshadow {

class PrinterDesk {
 public:
  explicit PrinterDesk(UserFolders folders);

  const PrinterBook& book() const { return book_; }
  const std::optional<Problem>& problem() const { return problem_; }  // why it cannot be read

  // Reads the book again where its file has changed; returns whether it had.
  bool look();

  // Returns what the printer makes of a length; an empty name is one that is true. Fails with
  // kBadValue where the book has none of that name, and where it cannot be read.
  Result<PrinterScale> scale_of(const std::string& name) const;

  // Keeps the printer by what the bars of a sheet measured that made up for the printer
  // `drawn_for`; "": for none. Fails with kBadValue (no name, bars that no printer prints), where
  // the book cannot be read, and as save_printer_book does.
  Result<Done> keep(const std::string& name, const MeasuredBars& bars,
                    const std::string& drawn_for);
  Result<Done> forget(const std::string& name);

 private:
  std::optional<FactsCache::Stamp> stamp_now() const;
  void read();
  Result<Done> write(PrinterBook book);

  UserFolders folders_;
  PrinterBook book_;
  std::optional<Problem> problem_;
  std::optional<FactsCache::Stamp> stamp_;
};

}  // namespace potshadow
