// SPDX-License-Identifier: MIT
// Tracing ray-traced museum photographs from a box, through the estimate and back.
#include <gtest/gtest.h>

#include <string>

#include "outline/museum_project.h"
#include "outline/trace_judgement.h"
#include "project/measure.h"
#include "project/trace_project.h"

namespace potshadow::testing {
namespace {

// What is promised of a trace, against the renderer's mask.
constexpr double kMedianPx = 0.5;
constexpr double kNearlyAllPx = 2.0;  // 95 of 100 marks
constexpr double kLeastClaimed = 0.85;
constexpr double kMostFalse = 0.02;

Result<TracedPhoto> traced(const MuseumScene& scene) {
  return trace_photo(museum_project(scene), 0, museum_folder(), photo_of(scene), museum_box(scene));
}

class MuseumTrace : public ::testing::TestWithParam<const char*> {};

TEST_P(MuseumTrace, KeepsItsPromises) {
  const MuseumScene scene = load_museum_scene(GetParam());
  const auto found = traced(scene);
  ASSERT_TRUE(found.ok()) << found.problem().what;
  EXPECT_TRUE(found->predicted);
  const TraceFigures figures = judged(scene, found->shown);
  EXPECT_LE(figures.median_px, kMedianPx);
  EXPECT_LE(figures.most_px, kNearlyAllPx);
  EXPECT_GE(figures.claimed, kLeastClaimed);
  EXPECT_LT(figures.false_part, kMostFalse);

  Project project = museum_project(scene);
  project.photos[0].trace = found->trace;
  const auto measured = measure_project(project, museum_folder());
  ASSERT_TRUE(measured.ok()) << measured.problem().what;
  int sizes = 0;
  for (const MeasuredSize& size : measured->answer.sizes) {
    const auto truth = scene.sizes_mm.find(std::string(size_key(size.name)));
    if (truth == scene.sizes_mm.end()) continue;
    EXPECT_LE(size.measured.low95, truth->second) << truth->first;
    EXPECT_GE(size.measured.high95, truth->second) << truth->first;
    ++sizes;
  }
  EXPECT_EQ(sizes, 7);  // height, maximum, neck, with their heights, rim and base
}

// In the others less is claimed than is promised, and where the rim is seen at its back alone its
// diameter comes out too large by more than is stated: known shortcomings.
INSTANTIATE_TEST_SUITE_P(Photographs, MuseumTrace, ::testing::Values("window-jar", "banded-jar"));

class FaintMuseumTrace : public ::testing::TestWithParam<const char*> {};

// Much is left out, but what is claimed is the vessel's.
TEST_P(FaintMuseumTrace, ClaimsLittleThatIsFalse) {
  constexpr double kLeastSeen = 0.4;
  const MuseumScene scene = load_museum_scene(GetParam());
  const auto found = traced(scene);
  ASSERT_TRUE(found.ok()) << found.problem().what;
  const TraceFigures figures = judged(scene, found->shown);
  EXPECT_LE(figures.median_px, kMedianPx);
  EXPECT_LE(figures.most_px, kNearlyAllPx);
  EXPECT_GE(figures.claimed, kLeastSeen);
  EXPECT_LT(figures.false_part, kMostFalse);
}

INSTANTIATE_TEST_SUITE_P(Photographs, FaintMuseumTrace,
                         ::testing::Values("dim-bottle", "handled-jug", "crowded-bowl"));

}  // namespace
}  // namespace potshadow::testing
