// SPDX-License-Identifier: MIT
#include "desktop/document/document.h"

#include <algorithm>
#include <array>
#include <system_error>

#include "desktop/document/mark_lists.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

// An empty folder is the current one, as in names without a folder.
fs::path absolute_folder(const fs::path& folder) {
  std::error_code error;
  const fs::path absolute = fs::absolute(folder.empty() ? fs::path(".") : folder, error);
  return error ? folder : absolute.lexically_normal();
}

// Returns where a path leads once its links are followed, as far as it exists.
fs::path followed(const fs::path& path) {
  std::error_code error;
  const fs::path canonical = fs::weakly_canonical(path, error);
  return error ? path.lexically_normal() : canonical;
}

fs::path relative_name(const fs::path& file, const fs::path& folder) {
  const fs::path plain = file.lexically_relative(folder);
  if (!plain.empty() && followed(folder / plain) == followed(file)) return plain;
  // ".." out of a folder that is a link leads elsewhere than the names say.
  const fs::path through = followed(file).lexically_relative(followed(folder));
  return through.empty() ? file : through;
}

std::string number_words(std::size_t index) { return std::to_string(index + 1); }

}  // namespace

Document document_of(const Project& project, const fs::path& folder) {
  Document document = project;
  for (ProjectPhoto& photo : document.photos) {
    if (!photo.file.empty()) photo.file = (absolute_folder(folder) / photo.file).string();
  }
  return document;
}

Project project_of(const Document& document, const fs::path& folder) {
  Project project = document;
  for (ProjectPhoto& photo : project.photos) {
    if (fs::path(photo.file).is_absolute()) {
      photo.file = relative_name(photo.file, absolute_folder(folder)).string();
    }
  }
  return project;
}

std::size_t marks_in(const Document& document, const MarkId& list, MarkPart part) {
  std::size_t count = 0;
  if (const ProjectReference* const reference = internal::reference_of(document, list)) {
    internal::each_list(*reference, [&](MarkPart each, const auto& points) {
      if (each == part) count = points.size();
    });
    return count;
  }
  if (list.photo >= document.photos.size()) return 0;
  const auto* const points = internal::list_of(document.photos[list.photo].marks, list.place.kind);
  return points == nullptr ? 0 : points->size();
}

MarkId next_in(const Document& document, const MarkId& list, MarkPart part) {
  MarkId mark = list;
  const ProjectReference* const reference = internal::reference_of(document, list);
  if (reference == nullptr) {
    mark.place.number = marks_in(document, list, part);
    return mark;
  }
  mark.place.number = 0;
  std::size_t before = 0;
  internal::each_list(*reference, [&](MarkPart each, const auto& points) {
    before += points.size();
    if (each == part) mark.place.number = before;
  });
  return mark;
}

bool is_marked(const ProjectReference& grid, GridPlace place) {
  const std::array<GridPlace, 4> block{
      {{0, 0}, {grid.columns, 0}, {grid.columns, grid.rows}, {0, grid.rows}}};
  for (std::size_t i = 0; i < std::min(block.size(), grid.corners.size()); ++i) {
    if (block[i] == place) return true;
  }
  return std::any_of(grid.crossings.begin(), grid.crossings.end(), [&](const auto& crossing) {
    return GridPlace{crossing.column, crossing.row} == place;
  });
}

const ProjectReference::Crossing* crossing_of(const Document& document, const MarkId& mark) {
  const auto found = internal::find_mark(document, mark);
  if (found.point == nullptr || found.part != MarkPart::kCrossing) return nullptr;
  return &internal::reference_of(document, mark)->crossings[found.index];
}

MarkPart part_of(const Document& document, const MarkId& mark) {
  return internal::find_mark(document, mark).part;
}

MarkPart first_part(const ProjectReference& reference) {
  std::optional<MarkPart> first;
  internal::each_list(reference, [&](MarkPart part, const auto&) {
    if (!first) first = part;
  });
  return first.value_or(MarkPart::kVessel);
}

std::optional<MarkKind> kind_of_part(MarkPart part) {
  for (const MarkKind kind : {MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft, MarkKind::kRight}) {
    if (neighbour_part(kind) == part) return kind;
  }
  return std::nullopt;
}

MarkPart neighbour_part(MarkKind kind) {
  switch (kind) {
    case MarkKind::kRim:
      return MarkPart::kRim;
    case MarkKind::kBase:
      return MarkPart::kBase;
    case MarkKind::kLeft:
      return MarkPart::kLeft;
    case MarkKind::kRight:
      return MarkPart::kRight;
    case MarkKind::kReference:
      break;
  }
  return MarkPart::kVessel;
}

std::optional<PhotoPoint> point_at(const Document& document, const MarkId& mark) {
  const PhotoPoint* const point = internal::find_mark(document, mark).point;
  if (point == nullptr) return std::nullopt;
  return *point;
}

std::optional<PhotoPoint> traced_point_at(const Document& document, const MarkId& mark) {
  if (mark.photo >= document.photos.size() || mark.place.kind == MarkKind::kReference) {
    return std::nullopt;
  }
  const ProjectPhoto& photo = document.photos[mark.photo];
  if (mark.place.number < internal::list_of(photo.marks, mark.place.kind)->size()) {
    return std::nullopt;
  }
  const Marks joined = joined_marks(photo);
  const std::vector<PhotoPoint>& all = *internal::list_of(joined, mark.place.kind);
  if (mark.place.number >= all.size()) return std::nullopt;
  return all[mark.place.number];
}

std::vector<MarkId> marks_of(const Document& document, std::size_t photo) {
  std::vector<MarkId> marks;
  if (photo >= document.photos.size()) return marks;
  const auto add = [&](MarkKind kind, std::size_t reference, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) marks.push_back({photo, {kind, reference, i}});
  };
  for (const MarkKind kind : {MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft, MarkKind::kRight}) {
    add(kind, 0, internal::list_of(document.photos[photo].marks, kind)->size());
  }
  const std::vector<ProjectReference>& references = document.photos[photo].references;
  for (std::size_t i = 0; i < references.size(); ++i) {
    std::size_t count = 0;
    internal::each_list(references[i],
                        [&](MarkPart, const auto& points) { count += points.size(); });
    add(MarkKind::kReference, i, count);
  }
  return marks;
}

std::string mark_words(const Document& document, const MarkId& mark) {
  const auto found = internal::find_mark(document, mark);
  const bool there = found.point != nullptr;
  std::size_t index = there ? found.index : mark.place.number;
  const bool traced = !there && traced_point_at(document, mark).has_value();
  if (traced)
    index -= internal::list_of(document.photos[mark.photo].marks, mark.place.kind)->size();
  const std::string number = number_words(index);
  const auto of_kind = [&]() -> std::string {
    switch (mark.place.kind) {
      case MarkKind::kRim:
        return "rim mark ";
      case MarkKind::kBase:
        return "foot mark ";
      case MarkKind::kLeft:
        return "left mark ";
      case MarkKind::kRight:
        return "right mark ";
      case MarkKind::kReference:
        break;
    }
    switch (found.part) {
      case MarkPart::kCorner:
        return "corner ";
      case MarkPart::kEdge:
        return "edge mark ";
      case MarkPart::kEnd:
        return "end ";
      case MarkPart::kCrossing:
        return "crossing ";
      case MarkPart::kRim:
        return "rim mark ";
      case MarkPart::kBase:
        return "foot mark ";
      case MarkPart::kLeft:
        return "left mark ";
      case MarkPart::kRight:
        return "right mark ";
      case MarkPart::kShelfLine:
        return "shelf line mark ";
      case MarkPart::kVessel:
        break;
    }
    return "mark ";
  };
  if (traced) return "traced " + of_kind() + number;
  if (mark.place.kind != MarkKind::kReference) return of_kind() + number;
  return of_kind() + number + " of reference " + number_words(mark.place.reference);
}

}  // namespace potshadow
