// SPDX-License-Identifier: MIT
// The document: what the potter has marked and typed, as one immutable value.
#pragma once

#include <compare>
#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/result.h"
#include "estimate/input.h"
#include "project/project.h"

// A document is a project whose photographs are named by absolute path, so that it means the same
// wherever it is saved and undo may reach back across a "save as". It is never changed in place:
// a command (command.h) makes a new one, and unchanged parts are copied.
namespace potshadow {

using Document = Project;
using DocumentPointer = std::shared_ptr<const Document>;

// One mark of a document.
struct MarkId {
  std::size_t photo = 0;
  MarkPlace place;
  friend auto operator<=>(const MarkId&, const MarkId&) = default;
};

// Returns the project as a document: photographs relative to `folder` become absolute.
Document document_of(const Project& project, const std::filesystem::path& folder);
// Returns the document as the project to save in `folder`: photographs are named relative to it.
// The inverse of document_of for relative names that no link leads astray. Looks at the disk: ".."
// out of a folder that is a link must still lead to the photograph.
Project project_of(const Document& document, const std::filesystem::path& folder);

// Returns the points of one list: of the rim, foot, left or right outline, or of a reference
// (`place.number` is not looked at). Empty where there is no such photograph or reference, or the
// reference is neither a rectangle nor a disc.
std::span<const PhotoPoint> points_of(const Document& document, const MarkId& list);
// Returns where a mark is, or nothing where there is no such mark.
std::optional<PhotoPoint> point_at(const Document& document, const MarkId& mark);
// Returns every mark of a photograph: rim, foot, left, right, then reference by reference.
std::vector<MarkId> marks_of(const Document& document, std::size_t photo);
// Returns "rim mark 7", "corner 2 of reference 1"; every reference is taken for a rectangle.
std::string mark_words(const MarkId& mark);
// As above, with the "edge mark 2 of reference 1" of a disc.
std::string mark_words(const Document& document, const MarkId& mark);

}  // namespace potshadow
