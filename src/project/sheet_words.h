// SPDX-License-Identifier: MIT
// Paragraphs and tables as pieces of a sheet; for this part only.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "core/result.h"
#include "patterns/pattern.h"
#include "project/sheet_request.h"

namespace potshadow::internal {

// Of the room that an upright page of A4 or Letter leaves.
inline constexpr double kSheetWidthMm = 165.0;

struct SheetParagraph {
  std::string text;
  bool bold = false;
};

// Returns the paragraphs below each other, broken into lines, with a line above them.
Pattern paragraphs_piece(const std::string& name, const std::vector<SheetParagraph>& paragraphs);

// Where a column of a table stands.
struct SheetColumn {
  double at_mm = 0.0;  // its right side where it is set flush right, else its left side
  bool right = false;
};

// Returns a table, its first row bold.
Pattern table_piece(const std::string& name, const std::vector<SheetColumn>& columns,
                    const std::vector<std::vector<std::string>>& rows);

// Returns what every page of a sheet names that nothing is made by.
Result<TemplateRequest> sheet_facts(const std::string& title, const SheetChoices& choices,
                                    std::chrono::system_clock::time_point now);

}  // namespace potshadow::internal
