// SPDX-License-Identifier: MIT
// Ray-traced scenes: their truth, and marks taken from the rendered pictures.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

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

// One way of saying how big things are, alone: the input holds the vessel's marks and that
// reference.
struct ScaleCase {
  std::string name;     // "rectangle leaning", "known length on the glass, by the shelf's line"
  EstimateInput input;  // with all marks as they were taken, and what is stated exactly true
};

// A furnished scene: one vessel, and many things of known size about it.
struct FurnishedScene {
  std::string name;
  std::array<std::optional<double>, kSizeCount> truth;
  std::vector<ScaleCase> cases;
};

inline constexpr std::array<const char*, 2> kFurnishedNames = {"open-table", "glass-case"};

// Returns the scene with a case for each thing in it; stops the test program where its files are
// missing.
FurnishedScene load_furnished(const std::string& name);

// Returns the input of a case as a hand would make it: `rim`, `base` and `outline` (a side) marks
// of each vessel picked at random, twelve points of a disc's edge and sixteen crossings of a grid;
// `sd_px` of noise on every mark; and everything stated off by as much as its own uncertainty says.
EstimateInput noisy_case(const ScaleCase& scale, std::size_t rim, std::size_t base,
                         std::size_t outline, double sd_px, std::uint64_t seed);

}  // namespace potshadow::testing
