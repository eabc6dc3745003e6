// SPDX-License-Identifier: MIT
// The user's printers: what each makes of a length, found by measuring the check bars.
#pragma once

#include <string>
#include <vector>

#include "core/file_lock.h"
#include "core/result.h"
#include "project/settings.h"
#include "sheets/paper.h"

// Format: UTF-8 JSON, one object with "potshadow_printers": 1 and "printers", a list of `name`,
// `across` and `along` (paper.h); keys that this version does not know are kept. It lies beside the
// settings, and apart from them, so that an open window does not write over it.
namespace potshadow {

struct OwnPrinter {
  std::string name;
  PrinterScale scale;
  std::string kept{};  // keys that this version does not know, as JSON text
  friend bool operator==(const OwnPrinter&, const OwnPrinter&) = default;
};

struct PrinterBook {
  std::vector<OwnPrinter> printers;  // by name
  std::string kept{};
  friend bool operator==(const PrinterBook&, const PrinterBook&) = default;
};

// Returns the book in `folders.config`/printers.json; an empty one where there is no such file.
// Fails with kFileUnreadable, kFileTooLarge, kBadFormat, kNewerVersion or kBadValue, naming it.
Result<PrinterBook> load_printer_book(const UserFolders& folders);

// Returns the lock of the book: whoever changes the book holds it from before loading until after
// saving. Fails with kFileUnwritable.
Result<FileLock> lock_printer_book(const UserFolders& folders);

// Writes it whole, creating the folder. Fails with kFileUnwritable.
Result<Done> save_printer_book(const PrinterBook& book, const UserFolders& folders);

// What a bar of 100 mm measured, across the paper and along it.
struct MeasuredBars {
  double across_mm = 100.0;
  double along_mm = 100.0;
};

// Returns the printer's scale from bars on a sheet that made up for `drawn_for` ({} for none). The
// two multiply: a sheet drawn for 0.98 whose bars measure 100.5 comes from a printer of 0.98 x
// 1.005. Fails with kBadValue for bars that no printer prints.
Result<PrinterScale> printer_from_bars(const MeasuredBars& bars, const PrinterScale& drawn_for);

// Returns the printer of that name, or null. The pointer is into `book`.
const OwnPrinter* find_printer(const PrinterBook& book, const std::string& name);

// Returns the book with the printer added, or in place of the one of its name.
PrinterBook with_printer(PrinterBook book, const std::string& name, const PrinterScale& scale);
// Returns the book without it.
PrinterBook without_printer(PrinterBook book, const std::string& name);

}  // namespace potshadow
