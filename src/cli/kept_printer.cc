// SPDX-License-Identifier: MIT
#include "cli/kept_printer.h"

#include "project/printer_book.h"

namespace potshadow {

Result<PrinterScale> kept_printer(const std::string& name) {
  if (name.empty()) return PrinterScale();
  const Result<UserFolders> folders = user_folders();
  if (!folders) return folders.problem();
  const Result<PrinterBook> book = load_printer_book(*folders);
  if (!book) return book.problem();
  if (const OwnPrinter* printer = find_printer(*book, name)) return printer->scale;
  return Problem{Code::kBadValue, "There is no printer '" + name + "'.",
                 "Print a sheet without --printer, measure its bars, and keep them with "
                 "'potshadow printer'.",
                 ""};
}

Result<SheetChoices> sheet_choices(Paper paper, LengthUnit unit, const std::string& printer,
                                   std::optional<std::size_t> most_pages,
                                   const std::string& project) {
  const Result<PrinterScale> scale = kept_printer(printer);
  if (!scale) return scale.problem();
  SheetChoices choices{.paper = paper,
                       .unit = unit,
                       .printer = *scale,
                       .printer_name = printer,
                       .saved = saved_at(project)};
  if (most_pages) choices.most_pages = static_cast<int>(*most_pages);
  return choices;
}

}  // namespace potshadow
