// SPDX-License-Identifier: MIT
#include "exports/exported_file.h"

#include "core/text.h"
#include "exports/flat_files.h"
#include "exports/mesh_files.h"

namespace potshadow {

bool is_flat(ExportFormat format) {
  return format == ExportFormat::kSvg || format == ExportFormat::kDxf;
}

Result<ExportedFile> exported_pieces(ExportFormat format, const std::vector<PatternKind>& kinds,
                                     const PatternVessel& vessel, const PatternChoices& patterns,
                                     const std::string& about) {
  std::vector<Pattern> pieces;
  for (const PatternKind kind : kinds) {
    const Result<std::vector<Pattern>> more = patterns_of(kind, vessel, patterns);
    if (!more) return more.problem();
    pieces.insert(pieces.end(), more->begin(), more->end());
  }
  const Pattern sheet = on_one_sheet(pieces);
  const FlatWords words{vessel.words, about};
  const PatternBox box = box_of(sheet);
  const std::string said = std::to_string(pieces.size()) +
                           (pieces.size() == 1 ? " piece on " : " pieces on ") +
                           fixed_text(box.width(), 0) + " x " + fixed_text(box.height(), 0) + " mm";
  return ExportedFile{format == ExportFormat::kSvg ? svg_of(sheet, words) : dxf_of(sheet, words),
                      said};
}

Result<ExportedFile> exported_solid(ExportFormat format, SolidKind kind,
                                    const PatternVessel& vessel, const PatternChoices& patterns,
                                    const SolidChoices& choices, const std::string& about) {
  const Result<Mesh> mesh = solid_of(kind, vessel, patterns, choices);
  if (!mesh) return mesh.problem();
  constexpr double kMm3PerMl = 1000.0;
  const std::string said = std::to_string(mesh->facets.size()) + " facets, " +
                           fixed_text(volume_mm3(*mesh) / kMm3PerMl, 0) + " ml of material";
  return ExportedFile{format == ExportFormat::kStl ? stl_of(*mesh, about) : obj_of(*mesh, about),
                      said};
}

}  // namespace potshadow
