// SPDX-License-Identifier: MIT
#include "cli/compare_work.h"

#include <filesystem>
#include <utility>

#include "cli/cameras.h"
#include "cli/options.h"
#include "exports/flat_files.h"
#include "project/compare_sheet.h"

namespace potshadow {
namespace {

Result<std::string> sheet_bytes(const CompareOptions& options, const VesselComparison& comparison,
                                std::chrono::system_clock::time_point now,
                                std::vector<Pattern> more) {
  const Result<SheetPdf> pdf =
      comparison_pdf(comparison, {options.paper, options.unit}, std::move(more), now);
  if (!pdf) return pdf.problem();
  return pdf->bytes;
}

Result<std::string> drawing_bytes(const VesselComparison& comparison) {
  const Result<Pattern> drawing = comparison_at_true_size(comparison);
  if (!drawing) return drawing.problem();
  return svg_of(*drawing, {comparison_title(comparison), "fired size, scale 1:1, millimetres"});
}

}  // namespace

ExitCode compare_and_write(const CompareOptions& options, std::chrono::system_clock::time_point now,
                           const PhotoWork& photo_work) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<ClayBook> book = own_clay_book();
  if (!book) return fail("", book.problem());
  const auto probe = [](const Project& of) { return probe_with_own_cameras(of); };
  const CameraBook cameras = own_camera_book();
  Result<CompareSide> original =
      read_compare_side(options.original, options.original_stage, probe, book, cameras);
  if (!original) return fail(options.original, original.problem());
  Result<CompareSide> replica =
      read_compare_side(options.replica, stage_of(options, 0), probe, book, cameras);
  if (!replica) return fail(options.replica, replica.problem());
  Result<VesselComparison> found = compare_sides(*original, *replica);
  if (!found) return fail(options.replica, found.problem());
  const ComparedPair pair{std::move(original).value(), std::move(replica).value(),
                          std::move(found).value()};
  if (options.json_file != kStandardOutput && options.csv_file != kStandardOutput) {
    const Result<Done> printed = print_text(comparison_text(pair.comparison, options.unit));
    if (!printed) return fail("", printed.problem());
  }
  const std::vector<std::filesystem::path> inputs = {options.original, options.replica};
  const auto write = [&](const std::string& file,
                         const Result<std::string>& bytes) -> Result<Done> {
    if (!bytes) return bytes.problem();
    return write_output(file, *bytes, inputs);
  };
  Result<std::vector<Pattern>> more = std::vector<Pattern>();
  if (photo_work) more = photo_work(pair);
  if (!more) return fail("", more.problem());
  Result<Done> written = Done{};
  if (!options.json_file.empty()) {
    written = write(options.json_file, comparison_json(pair.comparison));
  }
  if (written && !options.csv_file.empty()) {
    written = write(options.csv_file, comparison_csv(pair.comparison));
  }
  if (written && !options.drawing_file.empty()) {
    written = write(options.drawing_file, drawing_bytes(pair.comparison));
  }
  if (written && !options.sheet_file.empty()) {
    written = write(options.sheet_file,
                    sheet_bytes(options, pair.comparison, now, std::move(more).value()));
  }
  return written ? ExitCode::kDone : fail("", written.problem());
}

}  // namespace potshadow
