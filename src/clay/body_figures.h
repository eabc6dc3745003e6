// SPDX-License-Identifier: MIT
// All figures of a clay body, and where each comes from: its bars, its maker, its mix, a handbook.
#pragma once

#include <optional>
#include <vector>

#include "clay/clay_body.h"
#include "core/measured.h"
#include "core/result.h"

// Model: the best evidence there is goes first. Bars before a maker's figures; a missing one of
// drying, firing and total shrinkage from the other two by the product rule; then the mix, where
// its clays are known; then a handbook's range. A mix's clays count by their dry weight. How far
// temper lowers shrinkage is open: in theory by its share, in one native clay hardly at all with 10
// to 40 % of grit (Corenblum, Canadian Archaeological Association, abstract), so anything between
// counts as equally likely. What is estimated so, or taken of a handbook, is marked, and a note
// says that bars are wanted. Finished pots, where there are any, weigh in last, on the figure
// between the stages they were followed through.
namespace potshadow {

enum class FigureSource { kBars, kMaker, kWorkedOut, kMix, kHandbook };

struct ClayShrinkage {
  LinearShrinkage shrinkage;
  FigureSource source = FigureSource::kHandbook;
  std::vector<std::size_t> bars{};  // places of those it comes from
  // Where finished pots weigh in (pot_shrinkage.h): places of those, and the figure without them.
  std::vector<std::size_t> pots{};
  std::optional<LinearShrinkage> without_pots{};
};

struct ClayValue {
  Measured measured;
  FigureSource source = FigureSource::kHandbook;
};

struct BodyFigures {
  ClayShrinkage drying;                  // wet to bone-dry
  ClayShrinkage firing;                  // bone-dry to fired
  ClayShrinkage total;                   // wet to fired
  ClayShrinkage from_leather;            // leather-hard to fired
  std::optional<ClayShrinkage> upright;  // wet to fired along vertical bars
  std::optional<ClayShrinkage> across;   // and along horizontal ones; both or neither
  ClayValue water_percent;               // of plasticity, of the DRY weight
  ClayValue ignition_percent;            // loss from bone-dry to fired, of the DRY weight
  ClayValue weight_loss_percent;         // from wet to fired, of the WET weight
  ClayValue wet_density;                 // g/cm3
  ClayValue fired_density;               // g/cm3, pores included
};

// Returns the figures for a firing at `firing_c`; where that is absent, at the body's usual heat or
// the only one there is. `book` holds the bodies that a mix may name. Fails as check_body does, and
// with kCannotBeAnswered where the bars do not reach the heat asked for.
Result<BodyFigures> body_figures(const ClayBody& body, const std::vector<ClayBody>& book,
                                 std::optional<double> firing_c);

// Returns the body called `record`, or null. The pointer is into `book`.
const ClayBody* body_in(const std::vector<ClayBody>& book, const std::string& record);

// Returns the density in g/cm3 of clay that water fills wholly, `water` parts of it to one of dry
// clay of the grain density `grain`: (1 + w) / (1 / G + w).
double saturated_density(double water, double grain);

}  // namespace potshadow
