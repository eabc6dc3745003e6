// SPDX-License-Identifier: MIT
// What 'sheet' and 'export' share: their options about the vessel to make, and measuring it.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cli/typed_options.h"
#include "project/measure.h"
#include "project/pattern_request.h"

namespace potshadow {

struct MadeOptions {
  std::string project;
  Stage stage = Stage::kWet;
  LengthUnit unit = LengthUnit::kMm;
  std::optional<double> shrinkage_percent;     // in place of the project's
  std::optional<double> shrinkage_sd_percent;  // likewise
  std::optional<double> wall_mm;               // at that stage
  PatternChoices patterns;
};

// The same as they were typed.
struct MadeTyped {
  std::vector<std::string> names;
  Typed stage, units, shrinkage, shrinkage_sd, wall, cradle, lid_clearance;
  bool left_handed = false;
  bool whole = false;

  // Adds where the options go; this must outlive the reading.
  void add_to(OptionSlots& slots);
  MadeOptions read(OptionReader& reading) const;
};

// The lines of a command's help about these options.
inline constexpr const char* kMadeHelp =
    R"(  --stage STAGE           the size of the pot that is wet, leather-hard, bone-dry or fired; wet if
                          not given
  --shrinkage PERCENT     total shrinkage of the clay, from wet to fired, as percent of the wet
                          length, 0 to 30; in place of the project's own. 0 gives the original size
  --shrinkage-sd PERCENT  how sure that is, as a standard deviation in percentage points; 0.5 if
                          neither this nor the project says
  --wall L                how thick the wall is at that stage; the project's, enlarged, if not given
  --cradle L              the height of the line where the cradle ends; a quarter of the height, or
                          less where the pot is widest low down, if not given
  --lid-clearance L       between the lid's flange and the mouth, all round; 1.5 mm if not given
  --left-handed           turns gauge, rib and cradle template over
  --whole                 both sides of the gauge, rib and cradle template, and whole rings where
                          they slip on; else halves
  --units mm|cm|in        the unit of these lengths and of the figures; mm if not given
)";

// A vessel that is measured, and the size to make it at.
struct MadeVessel {
  Measurement measurement;
  MadeSize made;
  PatternVessel vessel;
  std::vector<std::filesystem::path> inputs;  // files that must not be written over
  std::vector<std::string> doubts;            // doubtful notes, on one line each
};

// Measures the project and chooses the clay: of the options, else of the project, else of its
// clay's record.
Result<MadeVessel> made_vessel(const MadeOptions& options);

}  // namespace potshadow
