// SPDX-License-Identifier: MIT
// A printer that the user keeps, by its name, and what a command's sheets are chosen by.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "core/result.h"
#include "project/sheet_request.h"
#include "sheets/paper.h"

namespace potshadow {

// Returns what the printer makes of a length; an empty name is one that is true. Fails with
// kBadValue where the user's book has none of that name, and as reading the book does.
Result<PrinterScale> kept_printer(const std::string& name);

// Returns the choices for the sheets of `project`, a file; `printer` is a kept one's name or empty.
// Fails as kept_printer does.
Result<SheetChoices> sheet_choices(Paper paper, LengthUnit unit, const std::string& printer,
                                   std::optional<std::size_t> most_pages,
                                   const std::string& project);

}  // namespace potshadow
