// SPDX-License-Identifier: MIT
#include "cli/series_work.h"

#include <filesystem>
#include <string>
#include <vector>

#include "cli/compare_reading.h"
#include "cli/options.h"
#include "project/compare_series.h"
#include "project/series_sheet.h"

namespace potshadow {
ExitCode series_and_write(const CompareOptions& options,
                          std::chrono::system_clock::time_point now) {
  const Result<CompareBooks> books = own_compare_books();
  if (!books) return told("", books.problem());
  const Result<CompareSide> original = side_in(options.original, options.original_stage, *books);
  if (!original) return told(options.original, original.problem());
  std::vector<ComparedVessel> pots;
  for (std::size_t i = 0; i < options.pots.size(); ++i) {
    const Result<std::vector<CompareSide>> sides =
        sides_in(options.pots[i], stage_of(options, i), *books);
    if (!sides) return told(options.pots[i], sides.problem());
    for (const CompareSide& side : *sides) pots.push_back(side.vessel);
  }
  const Result<PotSeries> series = pot_series(original->vessel, pots, options.at);
  if (!series) return told("", series.problem());
  if (options.json_file != kStandardOutput && options.csv_file != kStandardOutput) {
    const Result<Done> printed = print_text(series_text(*series, options.unit));
    if (!printed) return told("", printed.problem());
  }
  std::vector<std::filesystem::path> inputs{options.original};
  inputs.insert(inputs.end(), options.pots.begin(), options.pots.end());
  Result<Done> written = write_if_asked(options.json_file, series_json(*series), inputs);
  if (written) written = write_if_asked(options.csv_file, series_csv(*series), inputs);
  if (written && !options.drawing_file.empty()) {
    written = write_if_asked(
        options.drawing_file,
        drawing_file(options.drawing_file, series_drawing_for_file(*series),
                     "Series after " + series->original, series_drawing_words(*series)),
        inputs);
  }
  if (written && !options.sheet_file.empty()) {
    const Result<SheetPdf> pdf = series_pdf(*series, {options.paper, options.unit}, now);
    if (!pdf) return told("", pdf.problem());
    written = write_output(options.sheet_file, pdf->bytes, inputs);
  }
  return written ? ExitCode::kDone : told("", written.problem());
}

}  // namespace potshadow
