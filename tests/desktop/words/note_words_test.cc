// SPDX-License-Identifier: MIT
#include "desktop/words/note_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "desktop/words/figures_words.h"
#include "desktop/words/reference_words.h"
#include "desktop/words/sample.h"
#include "project/answer_text.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;

// The sample, with references of every kind that lack everything.
Document with_unfinished_references() {
  Document document = sample_document();
  for (const KindWords& kind : all_reference_kinds()) {
    for (const char* place : {"", "on-glass"}) {
      ProjectReference reference;
      reference.kind = kind.key;
      if (kind.has_place) reference.place = place;
      document.photos[0].references.push_back(reference);
    }
  }
  return document;
}

TEST(WindowNotes, NameFieldsAsThePanelDoesAndTheCommandLineTheKeys) {
  const Document document = with_unfinished_references();
  const std::size_t added = document.photos[0].references.size() - 1;
  const Result<Measurement> measured = measure_project(document, ".");
  ASSERT_TRUE(measured.ok()) << measured.problem().what;
  ASSERT_EQ(measured->left_out.size(), added);
  const std::string in_file = answer_text(*measured, "a", LengthUnit::kMm);
  EXPECT_THAT(in_file, HasSubstr("'glass_to_axis_mm' in a project file"));
  const std::vector<Note> notes = window_notes(*measured);
  ASSERT_EQ(notes.size(), measured->answer.notes.size());
  std::string all;
  std::size_t left_out = 0;
  for (const Note& note : notes) {
    all += note.text + "\n";
    if (note.text.find("is left out") == std::string::npos) continue;
    EXPECT_TRUE(note.doubtful);
    ++left_out;
  }
  EXPECT_EQ(left_out, added);
  for (const char* of_file : {"project file", "_mm", "_px", "\"lying\"", "max_diameter"}) {
    EXPECT_THAT(all, Not(HasSubstr(of_file)));
  }
  EXPECT_THAT(all, HasSubstr("Reference 2 is not complete, so it is left out. Type its 'Width' and "
                             "'Height', or choose it from the common objects. Say where it is"));
  EXPECT_THAT(all, HasSubstr("'From glass to middle of pot'"));
  // What is copied says the same.
  EXPECT_EQ(figures_text(*measured, "a", LengthUnit::kMm),
            answer_text(with_window_notes(*measured), "a", LengthUnit::kMm));
  EXPECT_EQ(with_window_notes(*measured).answer.notes, notes);
}

TEST(WindowNotes, SayOnWhichPhotographTheReferenceIs) {
  Measurement measurement = sample_measurement();
  measurement.project.photos.push_back(measurement.project.photos.front());
  ProjectReference pot;
  pot.kind = "neighbour";
  pot.size = "height";
  pot.value_mm = 180.0;
  pot.marks.rim.resize(2);
  measurement.project.photos[1].references = {pot};
  const Note note{"Photo 2, reference 1 has 2 marks on the rim.", true};
  const Note other{"Something else.", false};
  measurement.answer.notes = {other, note};
  measurement.left_out = {{1, 0, note}};
  const std::vector<Note> notes = window_notes(measurement);
  ASSERT_EQ(notes.size(), 2U);
  EXPECT_EQ(notes[0], other);
  EXPECT_THAT(notes[1].text, testing::StartsWith("Reference 1 of photograph 2 is not complete, so "
                                                 "it is left out. Mark 3 more points on that "
                                                 "vessel's rim."));
}

}  // namespace
}  // namespace potshadow
