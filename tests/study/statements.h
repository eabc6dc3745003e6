// SPDX-License-Identifier: MIT
// A scene written out so that a test can start from it.
#pragma once

#include <filesystem>
#include <string>

#include "study/scene.h"

namespace potshadow::study {

// Returns an input as C++ statements that build it.
std::string as_statements(const EstimateInput& input);

// Writes scene-NUMBER.txt: what is true, and the input, told and exact. Returns whether it could be
// written.
bool write_scene(const std::filesystem::path& folder, const Scene& scene);

}  // namespace potshadow::study
