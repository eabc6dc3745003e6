// SPDX-License-Identifier: MIT
// A ray-traced scene: its truth, and marks taken from the rendered picture.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>

#include "estimate/answer.h"
#include "estimate/input.h"

// The pictures in tests/scenes come from a renderer, and the marks in *.marks.json from those
// pictures alone, so nothing here goes through our own projection.
namespace potshadow::testing {

struct Scene {
  std::string name;
  EstimateInput input;  // with all marks, as they were taken from the picture
  std::array<std::optional<double>, kSizeCount> truth;
};

// The scenes, in the order of tests/scenes/README.md.
inline constexpr std::array<const char*, 8> kSceneNames = {
    "flared-jar",  "seed-jar",    "open-bowl", "bottle",
    "keeled-bowl", "everted-jar", "barrel",    "round-pot"};

// Returns the scene; stops the test program where its files are missing.
Scene load_scene(const std::string& name);

// Returns the scene's input with `rim`, `base` and `outline` (a side) marks picked at random and
// `sd_px` of noise on each mark and corner. The seed makes the choice repeatable.
EstimateInput noisy_input(const Scene& scene, std::size_t rim, std::size_t base,
                          std::size_t outline, double sd_px, std::uint64_t seed);

}  // namespace potshadow::testing
