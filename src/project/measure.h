// SPDX-License-Identifier: MIT
// From a project to an answer: joins what was marked with what the photograph's file says.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <vector>

#include "clay/bench_check.h"
#include "clay/shrinkage.h"
#include "clay/stages.h"
#include "core/result.h"
#include "estimate/answer.h"
#include "estimate/input.h"
#include "estimate/monte_carlo.h"
#include "photo/probe.h"
#include "project/join_references.h"
#include "project/project.h"
#include "project/project_clay.h"

// All photographs that carry marks on the vessel are measured together; the same picture twice
// counts once, and a further one that has too few marks yet is left out. A photograph's size comes
// from its file; where the file is gone or has changed, from what the project recorded when it was
// marked. Its focal length is the project's, else the photograph's own (EXIF), else unknown;
// photographs of which EXIF says that one camera took them at one zoom share it. What a probe says
// of the lens is handed on (photo_lens.h). References that cannot be used yet are left out and
// named in notes, and none at all leaves the scale open. Nothing here changes a project or writes a
// file.
namespace potshadow {

// What `potshadow measure` found out about one project.
struct Measurement {
  Project project;
  std::size_t photo_index = 0;               // of the first photograph that was measured
  Answer answer;                             // its notes hold all notes, those of loading first
  std::optional<TotalShrinkage> shrinkage;   // of the project's clay
  std::optional<MonteCarlo> monte_carlo{};   // how the intervals were checked, if they were
  std::vector<std::size_t> photo_indices{};  // of all that were measured, as the answer has them
  std::vector<LeftOutReference> left_out{};  // on those photographs; the answer's notes have theirs
  std::optional<ProjectClayFigures> clay{};  // what is known of the clay; see add_clay
};

// How the facts of a photograph's file are found: probe_photo, or what was read before.
using PhotoProbe = std::function<Result<PhotoFacts>(const std::filesystem::path&)>;

// How the answer is found: estimate, or estimate_nearby with a memory.
using Estimator = std::function<Result<Answer>(const EstimateInput&)>;

// Returns the index of the first photograph that is measured, or none if no photograph carries
// marks.
std::optional<std::size_t> measured_photo(const Project& project);

// Returns the input of the estimate, its photographs in the project's order. References are
// numbered within their photograph. `folder` is where the project's photographs are. Fails with
// kTooFewMarks (no marks), kCannotBeAnswered (no photograph), kBadMarks (marks far outside the
// picture), kBadValue (bounds of a hidden part that cross) or, if the project recorded no size, as
// probe_photo does. Reads the photographs: some milliseconds per 10 MB.
Result<EstimateInput> estimate_input(const Project& project, const std::filesystem::path& folder,
                                     const PhotoProbe& probe = probe_photo);

// Returns the shrinkage of the project's clay, or none where it has none. Fails with kBadValue.
Result<std::optional<TotalShrinkage>> clay_shrinkage(const Project& project);

// Returns the answer for a project; by estimate() where no estimator is given. Fails as
// estimate_input and estimate do. Slow: up to a tenth of a second.
Result<Measurement> measure_project(const Project& project, const std::filesystem::path& folder,
                                    const PhotoProbe& probe = probe_photo,
                                    const Estimator& estimator = {});

// Returns which way of the pot a size runs: heights upright, diameters across.
SizeWay way_of(SizeName name);

// Returns what kind of part a size measures.
PartKind part_kind_of(SizeName name);

// Returns what a size is at a stage, from the original's.
StageSize at_stage(const MeasuredSize& size, const BodyFigures& figures, Stage stage);

// Returns the size to make, wet, from the original's. Requires that the shrinkage is known.
Measured wet_size(const Measurement& measurement, const MeasuredSize& size);

// Adds what the book tells of the project's clay: its figures, and its shrinkage where the project
// states none. What stands against it becomes a doubtful note, and the wet sizes are left out.
void add_clay(const Result<ClayBook>& book, Measurement& measurement);

// As measure_project, and checks the intervals by redrawing; those that differ are taken up in the
// answer. Where they cannot be checked a note says so. Slow: some milliseconds a draw.
Result<Measurement> measure_and_redraw(const Project& project, const std::filesystem::path& folder,
                                       const MonteCarloWishes& wishes,
                                       const PhotoProbe& probe = probe_photo);

}  // namespace potshadow
