// SPDX-License-Identifier: MIT
#include <utility>

#include "cli/commands.h"
#include "exports/flat_files.h"
#include "exports/mesh_files.h"

namespace potshadow {
namespace {

struct Exported {
  std::string bytes;
  std::string said;  // "3 pieces", "24,576 facets, 1406 ml"
};

Result<Exported> flat_file(const ExportOptions& options, const MadeVessel& made,
                           const std::string& about) {
  std::vector<Pattern> pieces;
  for (const PatternKind kind : options.patterns) {
    const Result<std::vector<Pattern>> more = patterns_of(kind, made.vessel, options.made.patterns);
    if (!more) return more.problem();
    pieces.insert(pieces.end(), more->begin(), more->end());
  }
  const Pattern sheet = on_one_sheet(pieces);
  const FlatWords words{made.vessel.words, about};
  const PatternBox box = box_of(sheet);
  const std::string said = std::to_string(pieces.size()) +
                           (pieces.size() == 1 ? " piece on " : " pieces on ") +
                           fixed_text(box.width(), 0) + " x " + fixed_text(box.height(), 0) + " mm";
  return Exported{
      options.format == ExportFormat::kSvg ? svg_of(sheet, words) : dxf_of(sheet, words), said};
}

Result<Exported> solid_file(const ExportOptions& options, const MadeVessel& made,
                            const std::string& about) {
  const Result<Mesh> mesh =
      solid_of(options.solid, made.vessel, options.made.patterns, options.choices);
  if (!mesh) return mesh.problem();
  constexpr double kMm3PerMl = 1000.0;
  const std::string said = std::to_string(mesh->facets.size()) + " facets, " +
                           fixed_text(volume_mm3(*mesh) / kMm3PerMl, 0) + " ml of material";
  return Exported{
      options.format == ExportFormat::kStl ? stl_of(*mesh, about) : obj_of(*mesh, about), said};
}

}  // namespace

ExitCode run_export(const ExportOptions& options) {
  const auto fail = [](const Problem& problem) {
    print_problem("", problem);
    return exit_code_of(problem);
  };
  const Result<MadeVessel> made = made_vessel(options.made);
  if (!made) return fail(made.problem());
  const std::string about = pattern_about(made->measurement, options.made.project, made->made);
  const bool flat = options.format == ExportFormat::kSvg || options.format == ExportFormat::kDxf;
  const Result<Exported> file =
      flat ? flat_file(options, *made, about) : solid_file(options, *made, about);
  if (!file) return fail(file.problem());
  const Result<Done> written = write_output(options.output_file, file->bytes, made->inputs);
  if (!written) return fail(written.problem());
  std::string said = "Wrote " + on_one_line(options.output_file) + ": " + file->said + ".\n" +
                     on_one_line(about) + ".\n";
  for (const std::string& doubt : made->doubts) said += "! " + doubt + "\n";
  const Result<Done> printed = print_text(said);
  return printed.ok() ? ExitCode::kDone : fail(printed.problem());
}

}  // namespace potshadow
