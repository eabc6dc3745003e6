// SPDX-License-Identifier: MIT
#include "cli/compare_work.h"

#include <filesystem>
#include <utility>

#include "cli/compare_reading.h"
#include "cli/options.h"
#include "project/compare_sheet.h"

namespace potshadow {
namespace {

using Inputs = std::vector<std::filesystem::path>;

Result<Done> write_sheet(const CompareOptions& options, const VesselComparison& comparison,
                         std::vector<Pattern> more, std::chrono::system_clock::time_point now,
                         const Inputs& inputs) {
  if (options.sheet_file.empty()) return Done{};
  const Result<SheetPdf> pdf =
      comparison_pdf(comparison, {options.paper, options.unit}, std::move(more), now);
  if (!pdf) return pdf.problem();
  return write_output(options.sheet_file, pdf->bytes, inputs);
}

Result<Done> write_drawing(const CompareOptions& options, const VesselComparison& comparison,
                           const Inputs& inputs) {
  if (options.drawing_file.empty()) return Done{};
  const Result<Pattern> drawing = comparison_at_true_size(comparison);
  if (!drawing) return drawing.problem();
  return write_if_asked(options.drawing_file,
                        drawing_file(options.drawing_file, *drawing, comparison_title(comparison),
                                     comparison_drawing_words(comparison)),
                        inputs);
}

}  // namespace

ExitCode compare_and_write(const CompareOptions& options, std::chrono::system_clock::time_point now,
                           const PhotoWork& photo_work) {
  const Result<CompareBooks> books = own_compare_books();
  if (!books) return told("", books.problem());
  Result<CompareSide> original = side_in(options.original, options.original_stage, *books);
  if (!original) return told(options.original, original.problem());
  Result<CompareSide> replica = side_in(options.replica, stage_of(options, 0), *books);
  if (!replica) return told(options.replica, replica.problem());
  Result<VesselComparison> found =
      compare_sides(*original, *replica, options.at.value_or(Stage::kFired));
  if (!found) return told(options.replica, found.problem());
  const ComparedPair pair{std::move(original).value(), std::move(replica).value(),
                          std::move(found).value()};
  const VesselComparison& comparison = pair.comparison;
  if (options.json_file != kStandardOutput && options.csv_file != kStandardOutput) {
    const Result<Done> printed = print_text(comparison_text(comparison, options.unit));
    if (!printed) return told("", printed.problem());
  }
  const Inputs inputs = {options.original, options.replica};
  Result<std::vector<Pattern>> more = std::vector<Pattern>();
  if (photo_work) more = photo_work(pair);
  if (!more) return told("", more.problem());
  Result<Done> written = write_if_asked(options.json_file, comparison_json(comparison), inputs);
  if (written) written = write_if_asked(options.csv_file, comparison_csv(comparison), inputs);
  if (written) written = write_drawing(options, comparison, inputs);
  if (written) written = write_sheet(options, comparison, std::move(more).value(), now, inputs);
  return written ? ExitCode::kDone : told("", written.problem());
}

}  // namespace potshadow
