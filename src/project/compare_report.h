// SPDX-License-Identifier: MIT
// A replica against its original, both measured: the comparison, and it in words, JSON and CSV.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "compare/shape_difference.h"
#include "compare/size_difference.h"
#include "core/result.h"
#include "core/text.h"
#include "project/compared_vessel.h"

// Both are compared at one stage, fired unless another is asked for. A pot that is not there yet is
// taken to what its clay will shrink to, one that is past it to what it must have been, and the
// clay's doubt is in its sizes then. A side without a clay of its own takes the other's: a replica
// is planned from the original's, and an original is asked what it would have been in the
// replica's. Where both were seen beside the same common object (`object` in the project file, with
// the same size), the doubt about how big that is cancels; so does what one camera leaves open
// (compare_side.h), and one clay of two pots at one stage. A lens's bending and middle count as
// independent.
namespace potshadow {

struct ComparedSize {
  SizeName name = SizeName::kHeight;
  SizeDifference difference;
};

struct ComparedProportion {
  std::string words;
  std::string key;
  SizeDifference difference;
};

struct VesselComparison {
  std::string original;  // titles
  std::string replica;
  Stage stage = Stage::kFired;           // of the replica as it was measured
  Stage original_stage = Stage::kFired;  // likewise
  Stage at = Stage::kFired;              // that both were brought to
  // The clays, which may have no name, and what they shrink by between the two stages.
  std::string clay_name;  // of the replica
  std::string original_clay_name;
  std::optional<LinearShrinkage> shrinkage;
  std::optional<LinearShrinkage> original_shrinkage;
  double shared_scale_sd = 0.0;
  std::vector<ComparedSize> sizes;  // none where either scale is open
  std::vector<ComparedProportion> proportions;
  // What each was multiplied by across, from its size as measured to that at the common stage.
  double original_factor = 1.0;
  double replica_factor = 1.0;
  // Outlines at the common stage, base first; none where it is not known, or either scale is open.
  std::vector<ProfilePoint> original_rows;
  std::vector<ProfilePoint> replica_rows;
  std::optional<double> original_wall_mm;  // at that stage, as stated
  std::optional<double> replica_wall_mm;
  std::optional<ShapeDifference> shape;  // likewise, or where the shapes cannot be laid together
  Comparison scale_verdict = Comparison::kCannotTell;
  std::vector<std::string> missing;  // sizes that only one of them has, in words
  std::vector<Note> notes;
};

// Returns the comparison. Fails with kCannotBeAnswered where one of them is not at that stage and
// nothing says how much its clay shrinks, and with kBadValue where both are the same file.
Result<VesselComparison> compare_vessels(const ComparedVessel& original,
                                         const ComparedVessel& replica, Stage at = Stage::kFired);

// Returns "larger", "the same, within the doubt", ...
std::string_view comparison_words(Comparison verdict);

// Returns at which stage each was measured, of which clay it is, and how it was brought to the
// common stage: two sentences.
std::string comparison_sides(const VesselComparison& comparison);

// Returns one paragraph as a potter would write it, claiming no more than the intervals allow.
std::string comparison_paragraph(const VesselComparison& comparison, LengthUnit unit);

// Returns the whole for a terminal.
std::string comparison_text(const VesselComparison& comparison, LengthUnit unit);

// Returns { "format": 1, "comparison": ... }, in millimetres.
std::string comparison_json(const VesselComparison& comparison);

// Returns a line for each row of the profile: height, the gap as made, the gap after scaling.
std::string comparison_csv(const VesselComparison& comparison);

}  // namespace potshadow
