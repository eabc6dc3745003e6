// SPDX-License-Identifier: MIT
// One photograph of a project, as the estimate takes it.
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "estimate/input.h"
#include "project/join_references.h"
#include "project/measure.h"
#include "project/project.h"

// What was marked on it, with what its file says: size, focal length, lens. See measure.h for what
// counts where they disagree.
namespace potshadow {

// What tells that two photographs were taken with the same camera and zoom.
struct LensSign {
  std::string make;
  std::string model;
  std::string lens;
  double focal_mm = 0.0;
  double digital_zoom = 1.0;
  double typed_35mm = 0.0;  // a focal length that the project gives instead
  int longer_px = 0;        // the picture's sides, however it was held
  int shorter_px = 0;
  friend bool operator==(const LensSign&, const LensSign&) = default;
};

// One photograph that is measured, and what tells it from others.
struct JoinedPhoto {
  std::size_t index = 0;
  PhotoInput input;
  std::string sha256;  // of the file as it is, else as it was marked; may be empty
  std::optional<LensSign> lens;
  std::vector<LeftOutReference> left_out;
};

// Returns what a photograph is called: "Photo 2" for the index 1.
std::string photo_words(std::size_t index);

// Returns the photograph's part of the input; what is doubtful about its file and references as
// notes, named by the photograph where there are `several`. Fails as measure_project does.
Result<JoinedPhoto> join_photo(const Project& project, std::size_t index,
                               const std::filesystem::path& folder, const PhotoProbe& probe,
                               bool several);

}  // namespace potshadow
