// SPDX-License-Identifier: MIT
// The document: what the potter has marked and typed, as one immutable value.
#pragma once

#include <compare>
#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>
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

// One mark of a document. The marks of a reference are numbered as in MarkPlace.
struct MarkId {
  std::size_t photo = 0;
  MarkPlace place;
  friend auto operator<=>(const MarkId&, const MarkId&) = default;
};

// What of a thing a mark is on.
enum class MarkPart {
  kVessel,  // the vessel that is measured: MarkKind says where
  kCorner,  // of a rectangle, or of a grid's block
  kEdge,    // of a disc
  kEnd,     // of a known length
  kCrossing,
  kRim,  // of a neighbour, as are the three below
  kBase,
  kLeft,
  kRight,
  kShelfLine  // where the shelf meets the pane
};

// A crossing of a grid's lines, counted from the lower left corner of its block; negative to the
// other side.
struct GridPlace {
  int column = 0;
  int row = 0;
  friend bool operator==(const GridPlace&, const GridPlace&) = default;
};

// Returns the project as a document: photographs relative to `folder` become absolute.
Document document_of(const Project& project, const std::filesystem::path& folder);
// Returns the document as the project to save in `folder`: photographs are named relative to it.
// The inverse of document_of for relative names that no link leads astray. Looks at the disk: ".."
// out of a folder that is a link must still lead to the photograph.
Project project_of(const Document& document, const std::filesystem::path& folder);

// Returns how many marks there are on the vessel's rim, foot, left or right side, or on that part
// of a reference (`list.place.number` is not looked at; `part` only with a reference). 0 where
// there is no such photograph, reference or part.
std::size_t marks_in(const Document& document, const MarkId& list, MarkPart part);
// Returns the id of the mark that would follow the last one there. Where there is nothing to mark,
// the first of its list.
MarkId next_in(const Document& document, const MarkId& list, MarkPart part);
// Returns whether that crossing is marked already, as a corner of the block or a further one.
bool is_marked(const ProjectReference& grid, GridPlace place);
// Returns the further crossing that the mark is on, or null.
const ProjectReference::Crossing* crossing_of(const Document& document, const MarkId& mark);
// Returns what the mark is on; kVessel too where there is no such mark.
MarkPart part_of(const Document& document, const MarkId& mark);
// Returns the part that a click on the reference marks: corner, edge, end; kVessel where the kind
// takes no marks. A neighbour's is its rim.
MarkPart first_part(const ProjectReference& reference);
// Returns where on its vessel a neighbour's part is; nothing for other parts.
std::optional<MarkKind> kind_of_part(MarkPart part);
// Returns the neighbour's part that goes with a kind; kVessel for kReference.
MarkPart neighbour_part(MarkKind kind);
// Returns where a mark is, or nothing where there is no such mark.
std::optional<PhotoPoint> point_at(const Document& document, const MarkId& mark);
// Returns where a traced mark is. A measurement numbers those on after the hand's marks of that
// kind (joined_marks), so its id is none of a mark above. Nothing where there is no such traced
// mark.
std::optional<PhotoPoint> traced_point_at(const Document& document, const MarkId& mark);
// Returns every mark of a photograph that the hand has set: rim, foot, left, right, then reference
// by reference.
std::vector<MarkId> marks_of(const Document& document, std::size_t photo);
// Returns "rim mark 7", "corner 2 of reference 1", "rim mark 3 of reference 2", "traced left mark
// 12"; "mark 2 of reference 1" where the document has no such mark.
std::string mark_words(const Document& document, const MarkId& mark);

}  // namespace potshadow
