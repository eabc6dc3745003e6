// SPDX-License-Identifier: MIT
// A vessel's patterns or a solid of it as the bytes of a file for a machine.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "exports/solids.h"
#include "patterns/pattern_kinds.h"

namespace potshadow {

enum class ExportFormat { kSvg, kDxf, kStl, kObj };

// Returns whether the format holds patterns; else it holds solids.
bool is_flat(ExportFormat format);

struct ExportedFile {
  std::string bytes;
  std::string said;  // "3 pieces on 210 x 96 mm", "24576 facets, 1406 ml of material"
};

// Returns the pieces of these kinds side by side. `about` is what the file says of itself. Requires
// a flat format and a kind. Fails as patterns_of does.
Result<ExportedFile> exported_pieces(ExportFormat format, const std::vector<PatternKind>& kinds,
                                     const PatternVessel& vessel, const PatternChoices& patterns,
                                     const std::string& about);

// Returns the solid. Requires a format of solids. Fails as solid_of does.
Result<ExportedFile> exported_solid(ExportFormat format, SolidKind kind,
                                    const PatternVessel& vessel, const PatternChoices& patterns,
                                    const SolidChoices& choices, const std::string& about);

}  // namespace potshadow
