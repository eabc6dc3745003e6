// SPDX-License-Identifier: MIT
// What every text of the window has to keep to, whichever part it is from.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <set>
#include <string>
#include <vector>

#include "desktop/words/cautions.h"
#include "desktop/words/clay_words.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/help_words.h"
#include "desktop/words/history_words.h"
#include "desktop/words/outline_words.h"
#include "desktop/words/photo_words.h"
#include "desktop/words/print_words.h"
#include "desktop/words/reference_words.h"
#include "desktop/words/sample.h"
#include "desktop/words/template_words.h"
#include "project/answer_text.h"

namespace potshadow {
namespace {

using testing::Contains;
using testing::HasSubstr;

constexpr std::array kVesselKinds{MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft,
                                  MarkKind::kRight};

// Whole sentences, one or more to a text.
std::vector<std::string> sentences() {
  std::vector<std::string> texts;
  const auto add = [&](std::string_view text) { texts.emplace_back(text); };
  const Document document = sample_document();
  const PhotoFacts facts = sample_facts();
  const Measurement measurement = sample_measurement();
  const WorkState work{.facts = &facts, .measurement = &measurement, .current = true};
  PhotoFacts bare;
  bare.width_px = 600;
  bare.height_px = 400;
  Document cropped = document;
  cropped.photos[0].cropped = true;
  cropped.photos[0].focal_35mm.reset();
  cropped.photos[0].references[0].riser_mm = 20.0;
  cropped.photos[0].marks.left.clear();
  Document unmarked = document;
  unmarked.photos[0].marks = {};
  unmarked.photos[0].references[0].corners.clear();
  unmarked.clay.reset();
  for (const Step step : kSteps) {
    add(step_opening(step));
    for (const std::string_view caution : cautions_for(step)) add(caution);
    for (const Document& each : {Document{}, document, cropped, unmarked}) {
      add(step_status(step, each, work).reason);
      add(next_action(step, each, work));
      add(step_status(step, each, {}).reason);
      add(next_action(step, each, {}));
    }
  }
  for (const Note& note : photo_warnings(&bare, cropped.photos[0])) add(note.text);
  for (const PlaceWords& words : all_places()) {
    add(words.sentence);
    add(words.of_length);
    for (std::size_t i = 0; i <= kCornerCount; ++i) add(corner_prompt(words.place, i));
    for (std::size_t i = 0; i <= kEndCount; ++i) add(end_prompt(words.place, i));
  }
  for (std::size_t i = 0; i <= 2; ++i) {
    add(shelf_line_prompt(i));
    add(crossings_prompt(i));
  }
  for (const KindWords& words : all_reference_kinds()) {
    add(words.sentence);
    for (const char* place : {"", "on-glass"}) {
      ProjectReference reference;
      reference.kind = words.key;
      reference.place = place;
      add(reference_prompt(reference));
      for (const std::string& missing : reference_missing(reference)) add(missing);
    }
  }
  for (const MarkKind kind : kVesselKinds) {
    for (const bool round : {false, true}) {
      add(mark_kind_words(kind, round).what);
      add(mark_kind_words(kind, round).why);
      add(mark_prompt(kind, {}, round));
      add(mark_prompt(kind, document.photos[0].marks, round));
    }
    add(help_line({.tool = kind}));
  }
  add(help_line({.tool = MarkKind::kReference}));
  add(help_line({.tool = MarkKind::kReference, .crossings = true}));
  add(mark_kind_words(MarkKind::kReference, false).why);
  for (std::size_t selected = 0; selected < 3; ++selected) add(help_line({.selected = selected}));
  add(help_line({.over_mark = true}));
  for (const TraceTool tool :
       {TraceTool::kBox, TraceTool::kPaintVessel, TraceTool::kPaintAway, TraceTool::kRubOut}) {
    add(trace_tool_words(tool).tooltip);
    add(trace_tool_words(tool).help);
  }
  add(left_out_words({"base", "the edge is too soft here", {}}));
  add(found_words({}, true, true));
  add(help_line({.dragging = true}));
  add(fit_sentence(measurement.answer.fit));
  for (const FigureRow& row : figure_rows(measurement, LengthUnit::kMm)) {
    add(row.tooltip);
    if (row.doubtful) add(row.doubt);
  }
  for (const ProportionRow& row : proportion_rows(measurement.answer)) add(row.meaning);
  for (std::size_t name = 0; name < kSizeCount; ++name) {
    for (std::size_t source = 0; source < kDoubtCount; ++source) {
      add(advice_for(static_cast<SizeName>(name), static_cast<DoubtSource>(source)));
    }
  }
  add(advice_words(measurement.answer));
  add(shape_words(measurement.answer.profile));
  add(camera_sentence(measurement.answer.photos.front().camera, LengthUnit::kMm));
  add(stale_words(nullptr));
  add(shrinkage_explained());
  add(shrinkage_example(*measurement.shrinkage));
  add(enlargement_sentence(*measurement.shrinkage));
  for (const Problem& problem : {typed_shrinkage("x").problem(), typed_shrinkage("99").problem(),
                                 typed_shrinkage_doubt("").problem(),
                                 typed_shrinkage_doubt("99").problem(), no_window_problem("")}) {
    add(problem.what);
    add(problem.next);
  }
  for (const int pages : {1, 3}) {
    for (const std::string& advice : printing_advice(pages)) add(advice);
  }
  for (const Printed printed : kPrinted) {
    add(printed_note(printed));
    for (const SheetFormat format : formats_of(printed)) add(format_note(format));
  }
  add(printer_sentence({"studio", {0.98, 0.99}}));
  add(bars_sentence("studio"));
  add(many_sheets_question(84));
  add(undo_tooltip({}));
  add(redo_tooltip({}));
  add(leaving_question("Shelf jar"));
  const auto now = std::chrono::system_clock::time_point{};
  add(recovery_offer("Shelf jar", now, now));
  return texts;
}

// Labels, values and notes that are no sentences.
std::vector<std::string> labels() {
  std::vector<std::string> texts;
  const auto add = [&](std::string_view text) { texts.emplace_back(text); };
  const Document document = sample_document();
  const PhotoFacts facts = sample_facts();
  const Measurement measurement = sample_measurement();
  for (const Step step : kSteps) add(step_title(step));
  for (const KeyGroup& group : key_groups()) {
    add(group.title);
    for (const KeyRow& row : group.rows) add(row.does);
  }
  for (const PlaceWords& words : all_places()) {
    add(words.title);
    add(words.brief);
    add(corner_order(words.place));
  }
  for (const KindWords& words : all_reference_kinds()) {
    add(words.name);
    add(words.offer);
  }
  for (const std::vector<FactRow>& rows :
       {found_rows(facts, document.photos[0]), assumed_rows(&facts, document.photos[0])}) {
    for (const FactRow& row : rows) {
      add(row.label);
      add(row.value);
      add(row.note);
    }
  }
  for (const LimitRow& row : limit_rows(measurement.answer)) add(row.label + " " + row.causes);
  add(worst_mark_words(measurement));
  add(page_words(0, 2, place_words("Ring gauges", "Ring for the neck", "A1")));
  for (const Printed printed : kPrinted) add(printed_title(printed));
  for (const PageWay way : kPageWays) add(page_way_title(way));
  add(kFiredHeading);
  add(kWetHeading);
  return texts;
}

std::string lower_case(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

TEST(AllWords, AreNoJargon) {
  constexpr std::array kJargon{"homography", "rms",      "covariance",     "jacobian",
                               "residual",   "gaussian", "posterior",      "standard deviation",
                               "sigma",      "variance", "principal point"};
  std::vector<std::string> texts = sentences();
  const std::vector<std::string> more = labels();
  texts.insert(texts.end(), more.begin(), more.end());
  for (const std::string& text : texts) {
    // "forms" and "terms" hold "rms", so words are looked at whole.
    std::string spaced = " ";
    for (const char c : lower_case(text))
      spaced += std::isalpha(static_cast<unsigned char>(c)) ? c : ' ';
    spaced += ' ';
    for (const char* word : kJargon) {
      EXPECT_EQ(spaced.find(" " + std::string(word) + " "), std::string::npos) << text;
    }
    EXPECT_EQ(text.find('!'), std::string::npos) << text;
    EXPECT_EQ(text.find("  "), std::string::npos) << text;
  }
  EXPECT_GE(texts.size(), 300U);
}

TEST(AllWords, AreWholeSentences) {
  const std::vector<std::string> texts = sentences();
  for (const std::string& text : texts) {
    ASSERT_FALSE(text.empty());
    const char first = text.front();
    const bool number = first >= '0' && first <= '9';
    EXPECT_TRUE(number || first == '\'' || (first >= 'A' && first <= 'Z')) << text;
    EXPECT_TRUE(text.back() == '.' || text.back() == '?') << text;
    // What follows a full stop starts large, too.
    for (std::size_t at = text.find(". "); at != std::string::npos; at = text.find(". ", at + 1)) {
      EXPECT_FALSE(text[at + 2] >= 'a' && text[at + 2] <= 'z') << text;
    }
  }
  EXPECT_GE(texts.size(), 250U);
}

TEST(AllWords, StartLabelsLarge) {
  std::size_t checked = 0;
  std::size_t rows = 0;
  for (const KeyGroup& group : key_groups()) {
    rows += group.rows.size();
    for (const KeyRow& row : group.rows) {
      EXPECT_NE(row.does.back(), '.') << row.does;
      EXPECT_TRUE(row.does.front() >= 'A' && row.does.front() <= 'Z') << row.does;
      ++checked;
    }
  }
  EXPECT_EQ(checked, rows);
  EXPECT_GE(rows, 30U);
}

TEST(KeyGroups, NameEachKeyOnce) {
  std::set<std::string_view> keys;
  std::size_t rows = 0;
  for (const KeyGroup& group : key_groups()) {
    for (const KeyRow& row : group.rows) {
      keys.insert(row.keys);
      ++rows;
    }
  }
  EXPECT_EQ(keys.size(), rows);
  for (const char* key : {"Ctrl+O", "Ctrl+Y or Ctrl+Shift+Z", "Alt+arrow keys", "9", "F1 or ?"}) {
    EXPECT_THAT(keys, Contains(key));
  }
}

// The cautions that the work has to carry, each at the step that reaches it.
TEST(Cautions, StandWhereTheWorkReachesThem) {
  const auto all = [](Step step) {
    std::string text;
    for (const std::string_view caution : cautions_for(step)) text += std::string(caution) + " ";
    return text;
  };
  for (const char* part : {"silica", "fitted respirator", "no accelerants", "water at hand", "lime",
                           "not for food or drink"}) {
    EXPECT_THAT(all(Step::kClay), HasSubstr(part));
  }
  EXPECT_THAT(all(Step::kTemplates), HasSubstr("away from your hand"));
  EXPECT_THAT(all(Step::kTemplates), HasSubstr("maker's mark"));
  EXPECT_THAT(all(Step::kPhoto), HasSubstr("museum's own rules on photographs"));
  EXPECT_THAT(all(Step::kSizes), HasSubstr("ask the community"));
  EXPECT_THAT(all(Step::kCompare), HasSubstr("maker's mark"));
  EXPECT_THAT(all(Step::kCompare), HasSubstr("not for food or drink"));
  int steps_with_cautions = 0;
  for (const Step step : kSteps) {
    const std::vector<std::string_view> cautions = cautions_for(step);
    if (cautions.empty()) continue;
    EXPECT_EQ(cautions.back(), "Local codes and licensed practice come first.");
    ++steps_with_cautions;
  }
  EXPECT_EQ(steps_with_cautions, 7);
}

}  // namespace
}  // namespace potshadow
