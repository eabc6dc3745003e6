// SPDX-License-Identifier: MIT
#include "desktop/document/document.h"

#include <system_error>

#include "desktop/document/mark_lists.h"

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

std::span<const PhotoPoint> points_of(const Document& document, const MarkId& list) {
  const std::vector<PhotoPoint>* points = internal::list_of(document, list);
  if (points == nullptr) return {};
  return *points;
}

std::optional<PhotoPoint> point_at(const Document& document, const MarkId& mark) {
  const std::span<const PhotoPoint> points = points_of(document, mark);
  if (mark.place.number >= points.size()) return std::nullopt;
  return points[mark.place.number];
}

std::vector<MarkId> marks_of(const Document& document, std::size_t photo) {
  std::vector<MarkId> marks;
  const auto add_list = [&](MarkKind kind, std::size_t reference) {
    MarkId mark{photo, {kind, reference, 0}};
    const std::size_t count = points_of(document, mark).size();
    for (; mark.place.number < count; ++mark.place.number) marks.push_back(mark);
  };
  if (photo >= document.photos.size()) return marks;
  for (const MarkKind kind : {MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft, MarkKind::kRight}) {
    add_list(kind, 0);
  }
  for (std::size_t i = 0; i < document.photos[photo].references.size(); ++i) {
    add_list(MarkKind::kReference, i);
  }
  return marks;
}

std::string mark_words(const MarkId& mark) {
  const std::string number = number_words(mark.place.number);
  switch (mark.place.kind) {
    case MarkKind::kRim:
      return "rim mark " + number;
    case MarkKind::kBase:
      return "foot mark " + number;
    case MarkKind::kLeft:
      return "left mark " + number;
    case MarkKind::kRight:
      return "right mark " + number;
    case MarkKind::kReference:
      break;
  }
  return "corner " + number + " of reference " + number_words(mark.place.reference);
}

std::string mark_words(const Document& document, const MarkId& mark) {
  const bool is_reference = mark.place.kind == MarkKind::kReference;
  if (is_reference && mark.photo < document.photos.size()) {
    const std::vector<ProjectReference>& references = document.photos[mark.photo].references;
    const std::size_t index = mark.place.reference;
    if (index < references.size() && references[index].kind == "disc") {
      return "edge mark " + number_words(mark.place.number) + " of reference " +
             number_words(index);
    }
  }
  return mark_words(mark);
}

}  // namespace potshadow
