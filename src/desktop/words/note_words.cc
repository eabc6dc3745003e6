// SPDX-License-Identifier: MIT
#include "desktop/words/note_words.h"

#include <algorithm>
#include <string>
#include <utility>

#include "desktop/words/reference_words.h"

namespace potshadow {
namespace {

std::string left_out_words(const Project& project, const LeftOutReference& left_out) {
  std::string text = "Reference " + std::to_string(left_out.reference + 1);
  if (project.photos.size() > 1) text += " of photograph " + std::to_string(left_out.photo + 1);
  text += " is not complete, so it is left out.";
  const ProjectReference& reference =
      project.photos.at(left_out.photo).references.at(left_out.reference);
  for (const std::string& order : reference_missing(reference)) text += " " + order;
  return text;
}

}  // namespace

std::vector<Note> window_notes(const Measurement& measurement) {
  std::vector<Note> notes = measurement.answer.notes;
  for (const LeftOutReference& left_out : measurement.left_out) {
    const auto found = std::find(notes.begin(), notes.end(), left_out.note);
    if (found != notes.end()) found->text = left_out_words(measurement.project, left_out);
  }
  return notes;
}

Measurement with_window_notes(Measurement measurement) {
  std::vector<Note> notes = window_notes(measurement);
  measurement.answer.notes = std::move(notes);
  return measurement;
}

}  // namespace potshadow
