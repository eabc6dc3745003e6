// SPDX-License-Identifier: MIT
#include "desktop/document/turn_photo.h"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace potshadow::internal {
namespace {

// One quarter turn clockwise of a picture that is `height_px` high before it.
PhotoPoint turned(PhotoPoint point, int height_px) {
  return {height_px - 1 - point.y_px, point.x_px};
}

void turn_points(std::vector<PhotoPoint>& points, int height_px) {
  for (PhotoPoint& point : points) point = turned(point, height_px);
}

void turn_trace(ProjectTrace& trace, int height_px) {
  for (PhotoPoint& corner : trace.box) corner = turned(corner, height_px);
  for (ProjectTrace::Stroke& stroke : trace.strokes) turn_points(stroke.points, height_px);
  for (auto* marks : {&trace.rim, &trace.base, &trace.left, &trace.right}) {
    for (TracedPoint& mark : *marks) mark.at = turned(mark.at, height_px);
  }
  for (ProjectTrace::Doubtful& stretch : trace.doubtful) turn_points(stretch.points, height_px);
}

void turn_once(ProjectPhoto& photo, int height_px) {
  if (photo.trace) turn_trace(*photo.trace, height_px);
  for (auto* points : {&photo.marks.rim, &photo.marks.base, &photo.marks.left, &photo.marks.right})
    turn_points(*points, height_px);
  for (ProjectReference& reference : photo.references) {
    ProjectMarks& marks = reference.marks;
    for (auto* points : {&reference.corners, &reference.edge, &reference.ends, &marks.rim,
                         &marks.base, &marks.left, &marks.right})
      turn_points(*points, height_px);
    for (ProjectReference::Crossing& crossing : reference.crossings) {
      crossing.at = turned(crossing.at, height_px);
    }
    if (!reference.shelf_at_glass) continue;
    for (PhotoPoint& point : *reference.shelf_at_glass) point = turned(point, height_px);
  }
}

// Points of a kind that this version does not know are kept as they were read, where no turn
// reaches them.
bool has_hidden_points(const ProjectReference& reference) {
  constexpr std::array<std::string_view, 7> kKnown{"rectangle", "disc", "length",  "grid",
                                                   "neighbour", "size", "distance"};
  const bool known = std::find(kKnown.begin(), kKnown.end(), reference.kind) != kKnown.end();
  return !known && reference.kept.content() != nullptr;
}

}  // namespace

std::optional<Problem> turn_photo(ProjectPhoto& photo, int quarter_turns) {
  const int turns = (quarter_turns % 4 + 4) % 4;
  if (turns == 0) return {};
  if (!photo.record.width_px || !photo.record.height_px) {
    return Problem{Code::kBadValue,
                   "The photograph's size is not known, so its marks cannot be turned with it.",
                   "Show where the photograph is first.", ""};
  }
  for (std::size_t i = 0; i < photo.references.size(); ++i) {
    if (!has_hidden_points(photo.references[i])) continue;
    return Problem{Code::kBadValue,
                   "Reference " + std::to_string(i + 1) + " is of the kind '" +
                       photo.references[i].kind +
                       "', whose marks this version cannot turn with the photograph.",
                   "Take that reference out first, or leave the photograph as it is.", ""};
  }
  int width = *photo.record.width_px;
  int height = *photo.record.height_px;
  if (photo.quarter_turns % 2 != 0) std::swap(width, height);
  for (int i = 0; i < turns; ++i) {
    turn_once(photo, height);
    std::swap(width, height);
  }
  photo.quarter_turns = (photo.quarter_turns + turns) % 4;
  return {};
}

}  // namespace potshadow::internal
