// SPDX-License-Identifier: MIT
// The lines of a text about a pot, read: its sizes and its outline at each stage as they were
// typed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "core/text.h"
#include "estimate/answer.h"
#include "project/project.h"
#include "vessel/profile.h"

// The format is in typed_vessel.h. All lengths are in millimetres here; an outline lies as it was
// typed, either end first, from whatever height it was counted.
namespace potshadow {

// How well an outline is drawn (common practice, no source).
inline constexpr double kUsualDrawingMm = 1.0;

// The pot at one stage, as typed.
struct TypedStage {
  std::optional<Stage> stage;
  std::vector<MeasuredSize> sizes;
  std::vector<ProfilePoint> outline;
  double outline_tolerance_mm = kUsualDrawingMm;
  bool holds_anything() const { return !sizes.empty() || !outline.empty(); }
};

struct TypedPot {
  std::string name;
  LengthUnit unit = LengthUnit::kMm;
  std::optional<ProjectClay> clay;
  std::vector<TypedStage> stages = std::vector<TypedStage>(1);
};

// Returns what the text says. `file` is named in what is wrong. Fails with kBadFormat (a line that
// is not understood) or kBadValue (a reading that cannot be).
Result<TypedPot> read_typed_pot(std::string_view text, const std::string& file);

}  // namespace potshadow
