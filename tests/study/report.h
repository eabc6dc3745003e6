// SPDX-License-Identifier: MIT
// The study's files: tables of every trial, and the summary.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "study/figures.h"

namespace potshadow::study {

// Every file the report consists of, beside the pictures (plots.h).
inline constexpr const char* kSizesFile = "sizes.csv";      // a row a scene and size
inline constexpr const char* kScenesFile = "scenes.csv";    // a row a scene
inline constexpr const char* kGroupsFile = "summary.csv";   // a row a group and size
inline constexpr const char* kSummaryFile = "summary.txt";  // to read

inline constexpr const char* kTableFile = "table.md";  // for DEVELOPERS.md

// Writes the five. Returns whether all could be written.
bool write_report(const std::filesystem::path& folder, const std::string& command,
                  const std::vector<Trial>& trials, const Figures& figures);

}  // namespace potshadow::study
