// SPDX-License-Identifier: MIT
// Several pots made after one original, or one pot at several stages: what each became, what it
// shrank by, and how large to make the next one.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/pot_shrinkage.h"
#include "core/result.h"
#include "core/text.h"
#include "project/compare_report.h"
#include "project/compared_vessel.h"

// Model: what is given under one title is one pot, at a stage each. Each is held against the
// original at one stage, fired unless another is asked for. What a pot shrank by comes of the sizes
// that it was given at two stages (pot_shrinkage.h).
//
// The next pot: the shrinkage from wet to fired of every pot that was measured at both counts
// beside what the clay's record says, or a handbook where nothing does, as with_pots weighs them.
// The next pot is one pot and no mean, so that kPotScatter is added once more. Its wet sizes are
// the original's over what is left then; heights and diameters go each their way where the pots
// tell both.
namespace potshadow {

struct SeriesState {
  ComparedVessel vessel;                    // as it was measured
  std::optional<ComparedVessel> there{};    // at the common stage; none where `against` is
  std::optional<VesselComparison> against;  // the original; none where its clay is not known
  std::string why_not{};                    // then
};

struct SeriesPot {
  std::string title;
  std::vector<SeriesState> states;       // the earliest first
  std::vector<PotShrinkage> shrank{};    // from each state to the next that shares a size with it
  std::optional<PotShrinkage> in_all{};  // from wet to fired
};

struct NextSize {
  SizeName name = SizeName::kHeight;
  Measured original;
  Measured wet;  // to be made
};

struct PotSeries {
  std::string original;      // title
  Stage at = Stage::kFired;  // that each pot and the original are compared at
  bool drawn_there = false;  // drawings show them at that stage, else as they were measured
  std::vector<ProfilePoint> original_rows{};
  std::vector<MeasuredSize> original_sizes{};
  std::vector<SeriesPot> pots{};
  std::size_t followed = 0;                   // pots that were measured wet and fired
  std::optional<LinearShrinkage> mean{};      // of the clay, these pots weighed in
  std::optional<LinearShrinkage> next_pot{};  // what the next one may shrink by
  std::vector<NextSize> next{};               // empty where no pot was followed
  std::vector<Note> notes{};
};

// Returns the series, compared at a stage and drawn there too; where none is asked for, compared
// fired and drawn as measured. `made` are the pots, in any order. Fails with kBadValue where one of
// them is the original's own file, two were given at one stage under one title, or one grew as it
// dried.
Result<PotSeries> pot_series(const ComparedVessel& original,
                             const std::vector<ComparedVessel>& made,
                             std::optional<Stage> at = std::nullopt);

// Returns it for a terminal.
std::string series_text(const PotSeries& series, LengthUnit unit);

// Returns { "format": 1, "series": ... }, in millimetres and millilitres.
std::string series_json(const PotSeries& series);

// Returns a line a size of each pot and stage: pot,stage,size,value,sd,low95,high95,unit.
std::string series_csv(const PotSeries& series);

}  // namespace potshadow
