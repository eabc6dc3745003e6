// SPDX-License-Identifier: MIT
// From a measurement to what all sheets of a vessel are drawn from.
#pragma once

#include <array>
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "project/clay_book.h"
#include "project/pattern_request.h"
#include "project/sheet_request.h"
#include "sheets/sheet_set.h"

namespace potshadow {

// A measured vessel, and the size at which it is made.
struct VesselToMake {
  const Measurement& measurement;
  std::string file;  // the project's, for a vessel without a name
  MadeSize made;
  PatternVessel vessel;
};

// Which sheets of it are wanted.
struct WantedSheets {
  std::vector<PatternKind> kinds{};  // in this order, each once
  bool bench = false;                // the bench sheet, first
  bool all = false;                  // kinds that the vessel cannot have are left out
  PatternChoices patterns{};
  std::optional<double> section_scale{};  // the largest that fits a page, if absent
};

// The kinds of "all": every one but the lid's seat, which is made when it is asked for.
inline constexpr std::array<PatternKind, 6> kUsualKinds{
    PatternKind::kProfile, PatternKind::kRib,    PatternKind::kRings,
    PatternKind::kStick,   PatternKind::kCradle, PatternKind::kSection};

// Returns what every page names: the template's request, for the stage and the clay of the size to
// make. `now` is the date printed, in UTC.
TemplateRequest made_facts(const VesselToMake& vessel, const SheetChoices& choices,
                           std::chrono::system_clock::time_point now);

// Returns the request. The notes say what was left out of "all", and why. Fails as
// bench_page_request does where that sheet is wanted by name. Slow where it is: plans the vessel.
Result<SheetSetRequest> sheet_set_request(const VesselToMake& vessel, const WantedSheets& wanted,
                                          const Result<ClayBook>& book, const SheetChoices& choices,
                                          std::chrono::system_clock::time_point now);

}  // namespace potshadow
