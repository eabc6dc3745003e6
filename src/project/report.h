// SPDX-License-Identifier: MIT
// What was measured, as JSON and as a table of comma-separated values.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "project/measure.h"

// Lengths in millimetres of the original as it stands, capacity in millilitres, intervals of 95 %.
// Numbers carry every digit of a double. The same measurements give the same text.
namespace potshadow {

// One project of a report: its file as the user named it, and its measurement or what was wrong.
struct ReportEntry {
  std::string file;
  Result<Measurement> measurement;
};

// Returns the project's name, or its file's name without extension where it has none.
std::string title_of(const Project& project, const std::string& file);

// Returns the JSON text { "format": 1, "projects": [ ... ] }, one entry a project in their order:
// the answer, or "problem" with "what" and "next". A size that the vessel does not have is null,
// and so is everything "wet" without a clay's shrinkage. Where "scale" is "guess" each size says
// "guess": true; where it is "none" all sizes are null and the profile is in percent of the height.
// "monte_carlo" is there only where the intervals were checked so.
std::string report_json(const std::vector<ReportEntry>& entries);

// The same from pieces, so that a thousand projects need not be held measured at once: the piece
// that one entry brings, and the whole text of them.
std::string report_json_piece(const ReportEntry& entry);
std::string report_json_of(const std::vector<std::string>& pieces);

// Returns one line a size under a heading: project,size,value,sd,low95,high95,unit,scale. Without a
// scale the lines are the proportions, of the unit "ratio". Lines end in CR LF. Projects with a
// problem have no lines. Source: RFC 4180.
std::string report_csv(const std::vector<ReportEntry>& entries);

// The heading, and the lines that one entry brings.
std::string report_csv_heading();
std::string report_csv_lines(const ReportEntry& entry);

}  // namespace potshadow
