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

// A reference that cannot be used yet, by its place in the project. The doubtful note says why and
// what to do, in the terms of a project file.
struct LeftOutReference {
  std::size_t photo = 0;
  std::size_t reference = 0;
  Note note;
};

// Adds the photograph's references to `input`, numbered within the photograph; the input's marks
// must be there. Returns those that are unfinished, or of a kind that is not known.
std::vector<LeftOutReference> join_references(const ProjectPhoto& photo, std::size_t photo_index,
                                              PhotoInput& input);

// Returns why a vessel cannot be measured from its marks yet: "has 2 marks on the rim, and at least
// 5 are needed"; nothing where it can. A hidden rim and a hidden or round foot need no marks.
std::string missing_marks(const Marks& marks, bool needs_rim, bool needs_base);

}  // namespace potshadow
