// SPDX-License-Identifier: MIT
// A printer that the user keeps, by its name.
#pragma once

#include <string>

#include "core/result.h"
#include "sheets/paper.h"

namespace potshadow {

// Returns what the printer makes of a length; an empty name is one that is true. Fails with
// kBadValue where the user's book has none of that name, and as reading the book does.
Result<PrinterScale> kept_printer(const std::string& name);

}  // namespace potshadow
