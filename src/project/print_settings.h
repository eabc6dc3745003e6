// SPDX-License-Identifier: MIT
// What the window remembers of printing: which thing, how pages lie, for which printer.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "sheets/paper.h"

namespace potshadow {

// All that can be printed or cut of a vessel.
enum class Printed {
  kProfile,  // with the table of sizes, where it is half a gauge for the right hand
  kRib,
  kRings,
  kStick,
  kCradle,
  kLid,
  kSection,
  kBench,
  kAll,     // the usual ones of the above
  kStrips,  // the painting as strips that wrap round the pot
  kBands,   // the painted bands alone, likewise
  kWall,    // the painting as one picture
  kSolid    // the vessel as a solid; nothing of it is printed
};
inline constexpr std::array<Printed, 13> kPrinted{
    Printed::kProfile, Printed::kRib,     Printed::kRings, Printed::kStick, Printed::kCradle,
    Printed::kLid,     Printed::kSection, Printed::kBench, Printed::kAll,   Printed::kStrips,
    Printed::kBands,   Printed::kWall,    Printed::kSolid};

// Returns the word for it in the settings: "profile" ...
std::string_view printed_word(Printed printed);
// Returns whether it is unrolled from the photographs.
bool is_unrolled(Printed printed);

// The files that it can become.
enum class SheetFormat { kPdf, kPng, kSvg, kDxf, kStl, kObj };
// Returns what the thing can be written as, the usual one first.
std::vector<SheetFormat> formats_of(Printed printed);
// Returns ".pdf" ...
std::string_view format_ending(SheetFormat format);

struct PrintSettings {
  Printed printed = Printed::kProfile;
  PageWay way = PageWay::kFewest;
  std::string printer{};  // of the user's printers; empty: one that is true
  bool left_handed = false;
  bool whole = false;  // both sides of gauges, whole rings
  friend bool operator==(const PrintSettings&, const PrintSettings&) = default;
};

}  // namespace potshadow
