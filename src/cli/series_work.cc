// SPDX-License-Identifier: MIT
#include "cli/series_work.h"

#include <filesystem>
#include <string>
#include <vector>

#include "cli/cameras.h"
#include "cli/options.h"
#include "exports/flat_files.h"
#include "project/compare_series.h"
#include "project/compare_side.h"
#include "project/series_sheet.h"

namespace potshadow {
namespace {

Result<std::string> sheet_bytes(const CompareOptions& options, const PotSeries& series,
                                std::chrono::system_clock::time_point now) {
  const Result<SheetPdf> pdf = series_pdf(series, {options.paper, options.unit}, now);
  if (!pdf) return pdf.problem();
  return pdf->bytes;
}

std::string drawing_bytes(const PotSeries& series) {
  constexpr double kScale = 0.25;
  constexpr double kWidthMm = 400.0;
  return svg_of(on_one_sheet(series_drawings(series, kScale, kWidthMm)),
                {"Series after " + series.original, "as measured, scale 1:4, millimetres"});
}

}  // namespace

ExitCode series_and_write(const CompareOptions& options,
                          std::chrono::system_clock::time_point now) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<ClayBook> book = own_clay_book();
  if (!book) return fail("", book.problem());
  const auto probe = [](const Project& of) { return probe_with_own_cameras(of); };
  const CameraBook cameras = own_camera_book();
  const Result<CompareSide> original =
      read_compare_side(options.original, options.original_stage, probe, book, cameras);
  if (!original) return fail(options.original, original.problem());
  std::vector<ComparedVessel> pots;
  for (std::size_t i = 0; i < options.pots.size(); ++i) {
    const Result<std::vector<CompareSide>> sides =
        read_compare_sides(options.pots[i], stage_of(options, i), probe, book, cameras);
    if (!sides) return fail(options.pots[i], sides.problem());
    for (const CompareSide& side : *sides) pots.push_back(side.vessel);
  }
  const Result<PotSeries> series = pot_series(original->vessel, pots);
  if (!series) return fail("", series.problem());
  if (options.json_file != kStandardOutput && options.csv_file != kStandardOutput) {
    const Result<Done> printed = print_text(series_text(*series, options.unit));
    if (!printed) return fail("", printed.problem());
  }
  std::vector<std::filesystem::path> inputs{options.original};
  inputs.insert(inputs.end(), options.pots.begin(), options.pots.end());
  const auto write = [&](const std::string& file,
                         const Result<std::string>& bytes) -> Result<Done> {
    if (!bytes) return bytes.problem();
    return write_output(file, *bytes, inputs);
  };
  Result<Done> written = Done{};
  if (!options.json_file.empty()) written = write(options.json_file, series_json(*series));
  if (written && !options.csv_file.empty()) written = write(options.csv_file, series_csv(*series));
  if (written && !options.drawing_file.empty()) {
    written = write(options.drawing_file, drawing_bytes(*series));
  }
  if (written && !options.sheet_file.empty()) {
    written = write(options.sheet_file, sheet_bytes(options, *series, now));
  }
  return written ? ExitCode::kDone : fail("", written.problem());
}

}  // namespace potshadow
