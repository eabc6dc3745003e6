// SPDX-License-Identifier: MIT
// From a measurement to what a template asks for.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>

#include "project/measure.h"
#include "sheets/template_sheet.h"

namespace potshadow {

struct SheetChoices {
  Paper paper = Paper::kA4;
  LengthUnit unit = LengthUnit::kMm;
  PageWay way = PageWay::kFewest;
  PrinterScale printer{};                                        // made up for
  std::string printer_name{};                                    // printed where it is made up for
  int most_pages = kMostPages;                                   // of a kind of sheet
  std::optional<std::chrono::system_clock::time_point> saved{};  // the project, see saved_at
};

// Returns the request for the vessel's template at wet size. `file` is the project's file, for a
// vessel without a name; the date printed is the day the project was saved, else that of `now`, in
// UTC. A guessed scale is said on every page; from none at all no sheet is made (template_sheet
// fails).
TemplateRequest template_request(const Measurement& measurement, const std::string& file,
                                 const TotalShrinkage& shrinkage, const SheetChoices& choices,
                                 std::chrono::system_clock::time_point now);

// Returns when the project's file was last saved; nothing where it is not there.
std::optional<std::chrono::system_clock::time_point> saved_at(const std::filesystem::path& file);

// Return the day of `now` in UTC as "25 November 2026" and as "2026-11-25".
std::string day_in_words(std::chrono::system_clock::time_point now);
std::string iso_date(std::chrono::system_clock::time_point now);

}  // namespace potshadow
