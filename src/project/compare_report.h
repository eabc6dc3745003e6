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
#include "project/measure.h"

// Both are compared at fired size. A replica that is not fired yet is taken to what its clay will
// shrink to, and the clay's doubt is in its sizes then. Where both were seen beside the same common
// object (`object` in the project file, with the same size), the doubt about how big that is
// cancels. What else the two may share, as a camera, counts as independent.
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
  Stage stage = Stage::kFired;  // of the replica as it was measured
  double shared_scale_sd = 0.0;
  std::vector<ComparedSize> sizes;  // none where either scale is open
  std::vector<ComparedProportion> proportions;
  // Both outlines at fired size, base first; none where either scale is open.
  std::vector<ProfilePoint> original_rows;
  std::vector<ProfilePoint> replica_rows;
  std::optional<ShapeDifference> shape;  // likewise, or where the shapes cannot be laid together
  Comparison scale_verdict = Comparison::kCannotTell;
  std::vector<std::string> missing;  // sizes that only one of them has, in words
  std::vector<Note> notes;
};

struct CompareSide {
  const Measurement& measurement;
  std::string file;
};

// Returns the comparison. Fails with kCannotBeAnswered where the replica is not fired and nothing
// says how much its clay shrinks, and with kBadValue where both are the same project.
Result<VesselComparison> compare_vessels(const CompareSide& original, const CompareSide& replica,
                                         Stage stage);

// Returns "larger", "the same, within the doubt", ...
std::string_view comparison_words(Comparison verdict);

// Returns one paragraph as a potter would write it, claiming no more than the intervals allow.
std::string comparison_paragraph(const VesselComparison& comparison, LengthUnit unit);

// Returns the whole for a terminal.
std::string comparison_text(const VesselComparison& comparison, LengthUnit unit);

// Returns { "format": 1, "comparison": ... }, in millimetres.
std::string comparison_json(const VesselComparison& comparison);

// Returns a line for each row of the profile: height, the gap as made, the gap after scaling.
std::string comparison_csv(const VesselComparison& comparison);

}  // namespace potshadow
