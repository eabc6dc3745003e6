// SPDX-License-Identifier: MIT
// From a project's references to the estimate's: what can be used, and what is missing.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "core/result.h"
#include "estimate/input.h"
#include "project/project.h"

namespace potshadow {

// Adds the photograph's references to `input`, numbered within the photograph; the input's marks
// must be there. Those that cannot be used are named in doubtful notes, with what to do.
void join_references(const ProjectPhoto& photo, std::size_t photo_index, PhotoInput& input,
                     std::vector<Note>& notes);

// Returns why a vessel cannot be measured from its marks yet: "has 2 marks on the rim, and at least
// 5 are needed"; nothing where it can. A hidden rim and a hidden or round foot need no marks.
std::string missing_marks(const Marks& marks, bool needs_rim, bool needs_base);

}  // namespace potshadow
