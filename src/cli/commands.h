// SPDX-License-Identifier: MIT
// The commands of the command line; each prints what it has to say and returns the exit code.
#pragma once

#include <chrono>

#include "cli/console.h"
#include "cli/options.h"

namespace potshadow {

// Measures each project in turn: the table to standard output, JSON and CSV where asked for.
// Problems go to standard error and do not stop the projects that follow.
ExitCode run_measure(const MeasureOptions& options);

// Measures the project and writes its template. `now` is the date printed on it, in UTC.
ExitCode run_sheet(const SheetOptions& options, std::chrono::system_clock::time_point now);

// Writes the board to print, dated `now`, or becomes the program that calibrates a camera from
// pictures of it and returns only where that cannot be started, after saying so.
ExitCode run_calibrate(const CalibrateOptions& options, std::chrono::system_clock::time_point now);

// Becomes the program that traces a photograph; returns only where that cannot be started, after
// saying so.
ExitCode run_trace(const TraceOptions& options);

// Does what was asked with the user's book of clays; the sheet for test bars is dated `now`.
ExitCode run_clay(const ClayOptions& options, std::chrono::system_clock::time_point now);

// Measures the project and says how to build its vessel in its clay.
ExitCode run_plan(const PlanOptions& options);

// Measures both projects and says how the replica differs from the original; the sheet is dated
// `now`. Becomes the program that reads pixels where photographs are asked for.
ExitCode run_compare(const CompareOptions& options, std::chrono::system_clock::time_point now);

// Holds the pot on the bench against the project; `now` is the date its sizes are kept under.
ExitCode run_check(const CheckOptions& options, std::chrono::system_clock::time_point now);

// Measures the project and writes its patterns or a solid of it for a machine.
ExitCode run_export(const ExportOptions& options);

// Becomes the program that unrolls the painting; returns only where that cannot be started, after
// saying so.
ExitCode run_unroll(const UnrollOptions& options);

// Keeps, lists or forgets the user's printers.
ExitCode run_printer(const PrinterOptions& options);

// Writes the page for the museum, dated `now`.
ExitCode run_visit(const VisitOptions& options, std::chrono::system_clock::time_point now);

// Becomes the window's program, with the file in it where one was named; returns only where that
// cannot be started, after saying so.
ExitCode run_window(const WindowOptions& options);

}  // namespace potshadow
