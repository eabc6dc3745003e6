// SPDX-License-Identifier: MIT
// All that can be printed or cut, in words: names, what each is for, papers, files, printers.
#pragma once

#include <string>
#include <string_view>

#include "project/print_settings.h"
#include "project/printer_book.h"

namespace potshadow {

// Returns "Ring gauges" ...
std::string_view printed_title(Printed printed);
// Returns what it is for, as one sentence.
std::string_view printed_note(Printed printed);
// Returns whether it comes for the left hand, and whole as well as half.
bool has_hands(Printed printed);

// Returns "As takes fewest pages", "Upright" or "Lying".
std::string_view page_way_title(PageWay way);

// Returns "PDF" ..., and what such a file is good for.
std::string_view format_title(SheetFormat format);
std::string_view format_note(SheetFormat format);

// Returns "100 mm come out as 98.70 across and 99.20 along the paper." for a printer.
std::string printer_sentence(const OwnPrinter& printer);
// Returns of which sheet the bars are to be measured: one made for that printer, or for none.
std::string bars_sentence(const std::string& printer);

// Returns the question that so many sheets are: "That takes 84 sheets of paper."
std::string many_sheets_question(int pages);

}  // namespace potshadow
