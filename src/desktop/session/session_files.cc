// SPDX-License-Identifier: MIT
// What a session opens, saves and takes photographs from.
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "desktop/session/opened_file.h"
#include "desktop/session/session_inside.h"
#include "project/shared_files.h"

namespace potshadow {

namespace fs = std::filesystem;

// Writes over what another program has written there since only where that is wished.
Result<Done> Session::Inside::write_to(const fs::path& file, bool over_others) {
  const Project project = project_of(history.document(), file.parent_path());
  const Result<Done> saved =
      over_others || !on_disk
          ? save_project(project, file)
          : save_if_unchanged(project, file, on_disk,
                              "Save this under another name, or under the same name to write over "
                              "the other.");
  if (!saved) return saved.problem();
  on_disk = print_of_file(file);
  history.mark_saved();
  keeper.clear();
  return saved;
}

Result<Done> Session::open_project(const fs::path& file) {
  const fs::path whole = absolute_path(file);
  const std::optional<std::string> print = print_of_file(whole);
  const Result<Project> project = load_project(whole);
  if (!project) return project.problem();
  inside_->start(History(document_of(*project, whole.parent_path())), whole, true);
  inside_->on_disk = print;
  return {Done{}, project.notes()};
}

Result<Done> Session::open_as_copy(const fs::path& file) {
  const fs::path whole = absolute_path(file);
  const Result<Project> project = load_project(whole);
  if (!project) return project.problem();
  inside_->start(History(document_of(*project, whole.parent_path())), {}, true);
  return {Done{}, project.notes()};
}

Result<Done> Session::open_photo(const fs::path& file) {
  const fs::path whole = absolute_path(file);
  const Result<PhotoFacts> facts = inside_->cache.probe(whole);
  if (!facts) return facts.problem();
  ProjectPhoto photo;
  photo.file = whole.string();
  photo.record = record_of(*facts);
  Document document;
  document.name = whole.stem().string();
  document.photos.push_back(std::move(photo));
  History history(std::move(document), "Open photograph");
  history.mark_never_saved();
  inside_->start(std::move(history), {}, true);
  return Done{};
}

Result<Done> Session::open_recovered(const RecoveredWork& work) {
  History history(document_of(work.project, work.project_file.parent_path()), "Recover");
  history.mark_never_saved();
  inside_->start(std::move(history), work.project_file, true);
  inside_->keeper.recovered(work);
  return Done{};
}

Result<Done> Session::open_any(const fs::path& file) {
  switch (file_kind(file)) {
    case FileKind::kProject:
      return open_project(file);
    case FileKind::kPhoto:
      return open_photo(file);
    case FileKind::kOther:
      break;
  }
  return cannot_open(file);
}

void Session::close() { inside_->start(History(), {}, false); }

Result<Done> Session::save() {
  if (!inside_->open) return nothing_open();
  if (inside_->project_file.empty()) {
    return Problem{Code::kFileUnwritable, "The project has no file yet.",
                   "Choose where to save it.", ""};
  }
  return inside_->write_to(inside_->project_file, false);
}

Result<Done> Session::save_as(const fs::path& file) {
  if (!inside_->open) return nothing_open();
  const fs::path whole = absolute_path(file);
  for (const ProjectPhoto& photo : inside_->history.document().photos) {
    if (photo.file.empty() || !same_file(photo.file, whole)) continue;
    return Problem{Code::kFileUnwritable,
                   "'" + whole.string() + "' is the photograph itself and was left alone.",
                   "Choose another name for the project.", ""};
  }
  Result<Done> saved = inside_->write_to(whole, true);
  if (!saved) return saved.problem();
  inside_->project_file = whole;
  inside_->sync_sheet();
  return saved;
}

Result<Done> Session::add_photo(const fs::path& file) {
  if (!inside_->open) return nothing_open();
  const fs::path whole = absolute_path(file);
  const Result<PhotoFacts> facts = inside_->cache.probe(whole);
  if (!facts) return facts.problem();
  const Document& before = inside_->history.document();
  for (const ProjectPhoto& photo : before.photos) {
    const bool same_content = !photo.record.sha256.empty() && photo.record.sha256 == facts->sha256;
    if (!same_content && (photo.file.empty() || !same_file(photo.file, whole))) continue;
    return Problem{Code::kBadValue,
                   "'" + whole.filename().string() + "' is in the project already.",
                   "Choose another photograph of the same vessel.", ""};
  }
  ProjectPhoto photo;
  photo.file = whole.string();
  photo.record = record_of(*facts);
  if (inside_->photo.index() < before.photos.size()) {
    photo.glass = before.photos[inside_->photo.index()].glass;
  }
  return perform(AddPhoto{std::move(photo)});
}

Result<Done> Session::find_photo(const fs::path& file) {
  if (!inside_->open) return nothing_open();
  const fs::path whole = absolute_path(file);
  const Result<PhotoFacts> facts = inside_->cache.probe(whole);
  if (!facts) return facts.problem();
  const Document& before = inside_->history.document();
  const std::size_t index = inside_->photo.index();
  std::vector<Note> notes;
  Command command;
  if (index < before.photos.size()) {
    command = PointToPhoto{index, whole.string(), record_of(*facts)};
    if (differs(before.photos[index].record, *facts)) {
      notes.push_back(
          {"This is not the picture that was marked; check that the marks lie on it.", true});
    }
  } else {
    ProjectPhoto photo;
    photo.file = whole.string();
    photo.record = record_of(*facts);
    command = AddPhoto{std::move(photo)};
  }
  const Result<Done> done = inside_->history.perform(command);
  if (!done) return done.problem();
  // Read and measured again even where the name is the same: what it names may not be.
  inside_->photo.doubt_files();
  inside_->figures.doubt_sources();
  inside_->shown = inside_->history.snapshot();
  inside_->document_changed();
  return {Done{}, notes};
}

}  // namespace potshadow
