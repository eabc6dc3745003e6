// SPDX-License-Identifier: MIT
// One side of a comparison as its file gives it.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "estimate/input.h"
#include "project/camera_book.h"
#include "project/compare_report.h"
#include "project/compared_vessel.h"
#include "project/project_clay.h"

namespace potshadow {

// The one camera that took all photographs of a pot.
struct SideCamera {
  std::string source;       // what tells it from others, its zoom with it
  double sd_percent = 0.0;  // what is left open of its focal length, alike in all its photographs
  EstimateInput input;      // of the pot
};

struct CompareSide {
  ComparedVessel vessel;
  std::optional<Measurement> measurement;  // where it was measured from photographs
  std::optional<SideCamera> camera{};      // where one took them all and says which it is
};

// Makes the probe of a project's photographs.
using ProbeMaker = std::function<PhotoProbe(const Project&)>;

// Returns the camera that took all measured photographs of a project, or nothing where they say no
// camera, were cropped, or were taken with several. What is left open of its focal length is what
// its record in the book says, or for one that is not calibrated all but what focusing changes.
std::optional<SideCamera> side_camera(const Measurement& measurement,
                                      const std::filesystem::path& folder, const PhotoProbe& probe,
                                      const CameraBook& cameras);

// Returns the pot in the file at each stage that the file gives, with what the book tells of its
// clay: a project's at `stage`, measured, a typed one's as typed_vessels does. Fails as that, as
// load_project, as measure_project or as read_file. Slow: up to a tenth of a second.
Result<std::vector<CompareSide>> read_compare_sides(const std::filesystem::path& file, Stage stage,
                                                    const ProbeMaker& make_probe,
                                                    const Result<ClayBook>& book,
                                                    const CameraBook& cameras);

// Returns the last of them: how the pot is in the end.
Result<CompareSide> read_compare_side(const std::filesystem::path& file, Stage stage,
                                      const ProbeMaker& make_probe, const Result<ClayBook>& book,
                                      const CameraBook& cameras);

// Returns the comparison of the two at one stage; where one camera took both, what is left open of
// it cancels as far as it moves both alike. For that both are measured once more with its focal
// length moved. Fails as compare_vessels. Slow then: up to two tenths of a second.
Result<VesselComparison> compare_sides(const CompareSide& original, const CompareSide& replica,
                                       Stage at = Stage::kFired);

}  // namespace potshadow
