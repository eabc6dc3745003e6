// SPDX-License-Identifier: MIT
// A museum photograph's project, as a potter would type it.
#pragma once

#include <filesystem>

#include "outline/museum_scene.h"
#include "project/project.h"

namespace potshadow::testing {

// Returns the project: the photograph with the pane and the focal length it was made with, and the
// label with its true corners. Nothing of the vessel is marked. Its file is relative to
// museum_folder().
Project museum_project(const MuseumScene& scene);

// The folder its photographs are relative to.
std::filesystem::path museum_folder();

// Returns the box as it is to be traced.
ProjectTrace museum_box(const MuseumScene& scene);

}  // namespace potshadow::testing
