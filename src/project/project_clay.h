// SPDX-License-Identifier: MIT
// What is known of a project's clay: a shrinkage typed into it, or its record in the book.
#pragma once

#include <optional>
#include <string>

#include "clay/body_figures.h"
#include "clay/shrinkage.h"
#include "core/result.h"
#include "project/clay_book.h"
#include "project/project.h"

// A shrinkage that the project states goes before the book's, as a typed focal length goes before
// the photograph's; the water and the weights are the record's all the same.
namespace potshadow {

struct ProjectClayFigures {
  std::string name;  // to print; may be empty
  BodyFigures figures;
  TotalShrinkage total;
  bool from_book = false;  // its shrinkage is the record's, not the project's own
};

// Returns the figures, or nothing where the project names no clay and no shrinkage; notes say what
// is estimated and which bars disagree. Fails with kCannotBeAnswered (the record is not in the
// book, or its bars do not reach the heat asked for) or kBadValue.
Result<std::optional<ProjectClayFigures>> project_clay(const Project& project,
                                                       const ClayBook& book);

// Returns the user's book; an empty one where there is no home folder. Fails as load_clay_book.
Result<ClayBook> own_clay_book();

}  // namespace potshadow
