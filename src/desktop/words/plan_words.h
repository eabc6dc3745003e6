// SPDX-License-Identifier: MIT
// The building plan as the window shows it: coil by coil, and what to weigh out.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "clay/build_plan.h"
#include "core/text.h"

namespace potshadow {

struct CoilRow {
  std::string number;
  std::string from;  // heights above the bench, without unit
  std::string to;
  std::string girth;
  std::string roll;   // how long the coil is to be
  std::string leans;  // "12° out"
  bool sags = false;  // where the wall is likeliest to sag
};
std::vector<CoilRow> coil_rows(const BuildPlan& plan, LengthUnit unit);

// One line of a painted band on the wet pot.
struct BandRow {
  std::size_t band = 0;  // its place in the plan
  std::string name;      // "Band 2, upper line"
  std::string height;    // above the bench, without unit
  std::string girth;
  std::string repeats;  // empty where it has no motif
  std::string each;     // of the girth
};
std::vector<BandRow> band_rows(const BuildPlan& plan, LengthUnit unit);

// One weight or volume: "Weigh out, wet", "3,214 ± 280 g".
struct AmountRow {
  std::string label;
  std::string value;
  std::string meaning;  // one sentence
};
std::vector<AmountRow> amount_rows(const BuildPlan& plan);

// Returns a thickness in the unit, as it is typed: "6.8".
std::string thickness_text(double mm, LengthUnit unit);

}  // namespace potshadow
