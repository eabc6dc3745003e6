// SPDX-License-Identifier: MIT
// The study's pictures.
#pragma once

#include <array>
#include <filesystem>
#include <vector>

#include "study/figures.h"

namespace potshadow::study {

inline constexpr std::array<const char*, 4> kPlotFiles = {
    "coverage.png",  // of each size, with bounds
    "errors.png",    // errors over their stated standard deviation, and the normal curve
    "bound.png",     // errors over the Cramer-Rao bound
    "widths.png"     // half the 95 % interval in percent, by kind and place of the reference
};

// Draws them into the folder. Returns whether all could be written.
bool write_plots(const std::filesystem::path& folder, const std::vector<Trial>& trials,
                 const Figures& figures);

}  // namespace potshadow::study
