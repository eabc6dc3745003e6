// SPDX-License-Identifier: MIT
// One side of a comparison: what is known of a pot, whichever way it was found out.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "compare/form.h"
#include "project/measure.h"

// A pot is measured from photographs (a project), or its sizes and its outline were typed
// (typed_vessel.h). Either may be missing sizes or the outline; what both sides have is compared.
// All of it is as the pot was at `stage`.
namespace potshadow {

// What each figure is off where something that two pots may share is off by one standard
// uncertainty. `source` says what that is; two sides with one source share it.
struct SharedDoubt {
  std::string source;                           // "camera ..."
  std::array<double, kSizeCount> sizes{};       // by SizeName, mm or ml
  std::map<std::string, double> proportions{};  // by key
  Eigen::VectorXd rows{};                       // of the form, along their normals
};

struct ComparedVessel {
  std::string title;  // on one line
  std::string file;
  Stage stage = Stage::kFired;
  bool scaled = true;    // something says how big it is
  bool guessed = false;  // a guess does
  std::vector<MeasuredSize> sizes{};
  std::vector<Proportion> proportions{};
  std::optional<double> wall_mm{};  // as stated; none where nothing says
  Form form{};                      // no rows where the outline is not known, or not how big it is
  std::string kind{};               // "a bowl with an open mouth"; empty where it cannot be said
  std::optional<ProjectClayFigures> clay{};
  std::vector<std::string> objects{};  // the common objects beside it, each once, sorted
  double reference_doubt = 0.0;        // what the reference's own size leaves open, a part of it
  std::vector<SharedDoubt> shared{};   // beside the reference's size
  std::vector<Note> notes{};           // doubtful ones only
};

// Returns the pot as it was measured. `file` is the project's, for a pot without a name.
ComparedVessel compared_vessel(const Measurement& measurement, const std::string& file,
                               Stage stage = Stage::kFired);

// Returns the pot on the bench at each stage that a project keeps its sizes of (project_bench.h),
// of the project's clay.
std::vector<ComparedVessel> bench_vessels(const std::vector<ProjectBench>& benches,
                                          const std::optional<ProjectClayFigures>& clay,
                                          const std::string& title);

// Adds what the sizes are of each other, as if they were independent.
void add_proportions(ComparedVessel& vessel);

// Returns the size, or null where it is not known.
const MeasuredSize* find_size(const ComparedVessel& vessel, SizeName name);

// Returns the pot as it is, was or will be at a stage, by what its clay shrinks; itself where it is
// there. Requires its clay otherwise. What the clay leaves open is then among what may be shared.
ComparedVessel at_stage(const ComparedVessel& vessel, Stage stage);
// Returns what a length across it is multiplied by for that.
double factor_to(const ComparedVessel& vessel, Stage stage);
// Returns what its clay shrinks by across between the two stages, counted on the earlier one; none
// where the pot is at that stage. Requires its clay otherwise.
std::optional<LinearShrinkage> shrinkage_to(const ComparedVessel& vessel, Stage stage);

}  // namespace potshadow
