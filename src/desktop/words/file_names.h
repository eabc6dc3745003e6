// SPDX-License-Identifier: MIT
// The file names that are offered for a vessel's project and its sheets.
#pragma once

#include <string>
#include <string_view>

// Safe on any file system: none of the letters that some of them refuse, no hidden files, not too
// long.
namespace potshadow {

// Returns the name to save a project under: "Shelf jar.potshadow".
std::string project_file_name(std::string_view vessel_name);

// Returns the name to save a thing under, with the ending ".pdf": "Shelf jar ring gauges.pdf".
std::string sheet_file_name(std::string_view vessel_name, std::string_view thing,
                            std::string_view ending);

// Returns the name to save a bench sheet under: "Shelf jar bench sheet.pdf".
std::string bench_sheet_file_name(std::string_view vessel_name);

// Returns the name to save what two pots' comparison shows under: "Shelf jar compared.pdf".
std::string comparison_file_name(std::string_view vessel_name, std::string_view ending);

}  // namespace potshadow
