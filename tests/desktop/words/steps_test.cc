// SPDX-License-Identifier: MIT
#include "desktop/words/steps.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/words/sample.h"
#include "project/compare_series.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

// The sample with all that was found out about it, and figures of our own.
class SampleSteps : public testing::Test {
 protected:
  StepStatus status(Step step) const { return step_status(step, document_, work_); }
  std::string next(Step step) const { return next_action(step, document_, work_); }
  ProjectPhoto& photo() { return document_.photos[0]; }

  Document document_ = sample_document();
  PhotoFacts facts_ = sample_facts();
  Measurement measurement_ = made_up_measurement();
  WorkState work_{.facts = &facts_, .measurement = &measurement_, .current = true};
};

TEST(Steps, HaveTitlesAndStates) {
  EXPECT_EQ(step_title(Step::kPhoto), "Photo");
  EXPECT_EQ(step_title(Step::kTemplates), "Templates");
  EXPECT_EQ(step_opening(Step::kReference),
            "Mark something whose size you know, and say where it is. It is all that tells "
            "how many millimetres the pot has.");
  EXPECT_EQ(step_state_words(StepState::kDone), "done");
  EXPECT_EQ(step_state_words(StepState::kMissing), "missing");
  EXPECT_EQ(step_state_words(StepState::kDoubtful), "doubtful");
}

TEST(Steps, OfAnEmptyDocumentAllMissSomething) {
  const Document empty;
  int steps = 0;
  for (const Step step : kSteps) {
    EXPECT_EQ(step_status(step, empty, {}).state, StepState::kMissing);
    EXPECT_EQ(next_action(step, empty, {}),
              step == Step::kClay
                  ? "Choose a clay from the book, or type its shrinkage in percent of the wet "
                    "length."
                  : "Open a photograph, or drop it on the window.");
    ++steps;
  }
  EXPECT_EQ(steps, 9);
  EXPECT_EQ(step_status(Step::kPhoto, empty, {}).reason, "There is no photograph yet.");
  EXPECT_EQ(step_due(empty, {}), Step::kPhoto);
}

TEST_F(SampleSteps, AreAllDone) {
  int done = 0;
  for (const Step step : kSteps) done += status(step).state == StepState::kDone ? 1 : 0;
  EXPECT_EQ(done, 7);
  EXPECT_EQ(step_due(document_, work_), Step::kTemplates);
  EXPECT_EQ(status(Step::kPhoto).reason, "Taken with a lens like 52 mm, 12.2 megapixels.");
  EXPECT_EQ(status(Step::kReference).reason, "120 × 80 mm, leaning back.");
  EXPECT_EQ(status(Step::kOutline).reason, "12 on the rim, 6 on the foot, 16 left and 16 right.");
  EXPECT_EQ(status(Step::kSizes).reason, "Height 235.1 ± 2.8 mm, maximum 238.0 ± 5.8 mm.");
  EXPECT_EQ(status(Step::kClay).reason, "Buff mix shrinks by 12.0 ± 1.0 % of its wet length.");
  EXPECT_EQ(status(Step::kTemplates).reason, "The template can be saved and printed.");
  EXPECT_EQ(next(Step::kTemplates),
            "Save the template, print it at 100 % and check its bars with a ruler.");
}

// Whether a pot was made yet is none of the photograph's business.
TEST_F(SampleSteps, AreDoneUpToTheCheckAsItIsMeasured) {
  measurement_ = sample_measurement();
  int done = 0;
  for (const Step step : kSteps) {
    if (step == Step::kCheck || step == Step::kCompare) continue;
    EXPECT_EQ(status(step).state, StepState::kDone) << status(step).reason;
    ++done;
  }
  EXPECT_EQ(done, 7);
  EXPECT_EQ(status(Step::kCheck).state, StepState::kMissing);
  EXPECT_EQ(next(Step::kCheck), "Measure one diameter or more on the wet pot, and type it.");
}

TEST_F(SampleSteps, CompareSaysWhatIsHeldAgainstWhat) {
  EXPECT_EQ(status(Step::kCompare).state, StepState::kMissing);
  EXPECT_THAT(next(Step::kCompare), HasSubstr("Choose the project of the other pot"));
  VesselComparison comparison;
  comparison.original = "Shelf jar";
  comparison.replica = "My jar";
  work_.comparison = &comparison;
  EXPECT_EQ(status(Step::kCompare).state, StepState::kDone);
  EXPECT_EQ(status(Step::kCompare).reason, "My jar is held against Shelf jar.");
  const Problem problem{Code::kFileMissing, "There is no file.", "Choose another.", ""};
  work_.comparison_problem = &problem;
  EXPECT_EQ(status(Step::kCompare).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kCompare).reason, problem.what);
}

// A clay of the book speaks by its bars; one without is doubtful, and one that is gone is missing.
TEST_F(SampleSteps, ClayOfTheBookSaysWhatItRestsOn) {
  document_.clay = ProjectClay();
  document_.clay->record = "weir";
  ClayBody body;
  body.record = "weir";
  body.name = "Weir clay";
  const auto state = [&](const ClayBook& book) {
    const auto found = project_clay(document_, book);
    std::optional<Problem> problem;
    std::optional<ProjectClayFigures> figures;
    if (found.ok()) {
      figures = *found;
    } else {
      problem = found.problem();
    }
    const std::vector<Note> notes = found.notes();
    work_.clay = figures ? &*figures : nullptr;
    work_.clay_problem = problem ? &*problem : nullptr;
    work_.clay_notes = &notes;
    const StepStatus clay = status(Step::kClay);
    work_.clay = nullptr;
    work_.clay_problem = nullptr;
    work_.clay_notes = nullptr;
    return clay;
  };
  EXPECT_EQ(state({}).state, StepState::kMissing);
  EXPECT_THAT(state({}).reason, HasSubstr("not in your book"));
  EXPECT_EQ(state({{body}}).state, StepState::kDoubtful);
  EXPECT_THAT(state({{body}}).reason, HasSubstr("a handbook's range"));
  for (const double fired : {88.0, 88.4, 87.6}) {
    TestBar bar;
    bar.wet_mm = 100.0;
    bar.dry_mm = 94.0;
    bar.fired_mm = fired;
    body.bars.push_back(bar);
  }
  EXPECT_EQ(state({{body}}).state, StepState::kDone) << state({{body}}).reason;
  EXPECT_THAT(state({{body}}).reason, HasSubstr("Weir clay shrinks by 12.0"));
}

TEST_F(SampleSteps, SpeakInTheUnit) {
  work_.unit = LengthUnit::kInch;
  EXPECT_EQ(status(Step::kReference).reason, "4.72 × 3.15 in, leaning back.");
  EXPECT_EQ(status(Step::kSizes).reason, "Height 9.26 ± 0.11 in, maximum 9.37 ± 0.23 in.");
}

TEST_F(SampleSteps, PhotoIsDoubtfulWithoutFocalLengthOrWhole) {
  photo().cropped = true;
  EXPECT_EQ(status(Step::kPhoto).state, StepState::kDoubtful);
  EXPECT_EQ(next(Step::kPhoto), "Use the whole picture if you still have it.");
  photo().cropped = false;
  photo().focal_35mm.reset();
  EXPECT_EQ(status(Step::kPhoto).state, StepState::kDone);
  facts_.focal.reset();
  EXPECT_EQ(status(Step::kPhoto).reason, "The lens's focal length is not known.");
  EXPECT_EQ(next(Step::kPhoto), "Type the focal length as on 35 mm film, if you can find it out.");
}

TEST_F(SampleSteps, PhotoThatIsGoneIsDoubtfulWhereItsSizeIsKnown) {
  const Problem gone{Code::kFileMissing, "There is no file 'jar.jpg'.", "Show where it is now.",
                     ""};
  work_.photo_problem = &gone;
  EXPECT_EQ(status(Step::kPhoto).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kPhoto).reason, gone.what);
  EXPECT_EQ(next(Step::kPhoto), gone.next);
  photo().record = {};
  EXPECT_EQ(status(Step::kPhoto).state, StepState::kMissing);
}

TEST_F(SampleSteps, PhotoBeingReadIsNoTrouble) {
  work_.facts = nullptr;
  EXPECT_EQ(status(Step::kPhoto).state, StepState::kDone);
  EXPECT_EQ(status(Step::kPhoto).reason, "The photograph is chosen.");
}

TEST_F(SampleSteps, ReferenceSaysWhatItLacks) {
  photo().references[0].corners.resize(2);
  EXPECT_EQ(status(Step::kReference).state, StepState::kMissing);
  EXPECT_EQ(status(Step::kReference).reason, "Reference 1 cannot be used yet.");
  EXPECT_EQ(next(Step::kReference), "Mark 2 more corners of it.");
  EXPECT_EQ(step_due(document_, work_), Step::kReference);
  // The later steps wait for it.
  EXPECT_EQ(status(Step::kSizes).state, StepState::kMissing);
  EXPECT_EQ(next(Step::kSizes), "Mark 2 more corners of it.");
  photo().references.clear();
  EXPECT_EQ(next(Step::kReference),
            "Choose a thing of known size that is in the picture, such as the label.");
}

TEST_F(SampleSteps, ReferenceBesideAnUnfinishedOneIsDoubtful) {
  photo().references.push_back(photo().references[0]);
  EXPECT_EQ(status(Step::kReference).state, StepState::kDone);
  EXPECT_EQ(status(Step::kReference).reason, "2 references are in use.");
  photo().references[1].place.clear();
  EXPECT_EQ(status(Step::kReference).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kReference).reason, "Reference 2 cannot be used yet.");
}

TEST_F(SampleSteps, DistancesTakenAsExactAreDoubtful) {
  ProjectReference& reference = photo().references[0];
  reference.riser_mm = 30.0;
  EXPECT_EQ(status(Step::kReference).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kReference).reason, "The height of the riser counts as exact.");
  reference.riser_sd_mm = 1.0;
  EXPECT_EQ(status(Step::kReference).state, StepState::kDone);
  reference.place = "on-glass";
  reference.glass_to_axis_mm = 150.0;
  EXPECT_EQ(status(Step::kReference).reason, "The distance from the glass counts as exact.");
  reference.glass_to_axis_sd_mm = 3.0;
  EXPECT_EQ(status(Step::kReference).state, StepState::kDone);
}

TEST_F(SampleSteps, APotThatIsOffIsDoubtfulEvenWhenFired) {
  document_.bench = {{Stage::kFired, "2026-11-25", {{SizeName::kHeight, 260.0, 0.6, {}}}, {}}};
  BenchAnswer answer;
  answer.names = {SizeName::kHeight};
  answer.check.stage = Stage::kFired;
  answer.check.sizes.resize(1);
  answer.check.sizes[0].verdict = Verdict::kLarger;
  work_.check = &answer;
  EXPECT_EQ(status(Step::kCheck).state, StepState::kDoubtful);
  EXPECT_THAT(status(Step::kCheck).reason, HasSubstr("can only be made anew"));
  answer.check.sizes[0].verdict = Verdict::kRight;
  EXPECT_EQ(status(Step::kCheck).state, StepState::kDone);
}

TEST_F(SampleSteps, WithoutAScaleTheSizesAreOpenAndNoTemplateIsDrawn) {
  photo().references.clear();
  measurement_.answer.scale = ScaleSource::kNone;
  EXPECT_EQ(status(Step::kReference).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kReference).reason,
            "Nothing says how big the vessel is, so its sizes stay open.");
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDone);
  EXPECT_EQ(status(Step::kSizes).state, StepState::kDoubtful);
  EXPECT_THAT(status(Step::kSizes).reason, HasSubstr("proportions only"));
  EXPECT_EQ(status(Step::kTemplates).state, StepState::kMissing);
  EXPECT_EQ(status(Step::kTemplates).reason,
            "The template needs one size, and nothing gives it yet.");
  EXPECT_THAT(next(Step::kTemplates), HasSubstr("known or guessed"));
  EXPECT_EQ(status(Step::kPlan).reason, "The plan needs one size, and nothing gives it yet.");
  EXPECT_EQ(step_due(document_, work_), Step::kPlan);
  // Of marks as they were before, nothing is said.
  work_.current = false;
  EXPECT_EQ(status(Step::kReference).state, StepState::kMissing);
}

TEST_F(SampleSteps, AGuessedScaleIsDoubtfulAllTheWay) {
  measurement_.answer.scale = ScaleSource::kGuess;
  EXPECT_EQ(status(Step::kReference).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kReference).reason, "The scale is a guess.");
  EXPECT_EQ(status(Step::kSizes).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kSizes).reason, "All sizes hang on a guess.");
  EXPECT_EQ(status(Step::kTemplates).state, StepState::kDoubtful);
}

TEST_F(SampleSteps, HiddenPartsNeedNoMarks) {
  photo().marks.base.clear();
  EXPECT_EQ(status(Step::kOutline).state, StepState::kMissing);
  document_.hidden_foot = ProjectHidden{};
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDone);
  EXPECT_EQ(status(Step::kOutline).reason, "12 on the rim, 16 left and 16 right.");
  photo().marks.rim.clear();
  EXPECT_EQ(status(Step::kOutline).state, StepState::kMissing);
  document_.hidden_rim = ProjectHidden{};
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDone);
  EXPECT_EQ(status(Step::kOutline).reason, "16 left and 16 right.");
}

TEST_F(SampleSteps, OutlineIsOfThePhotographThatIsShown) {
  document_.photos.emplace_back();
  document_.photos[1].file = "/larkmoor/jar-side.jpg";
  work_.photo = 1;
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDone);
  EXPECT_EQ(status(Step::kOutline).reason, "This photograph has no marks, so it is left out.");
  document_.photos[1].marks.rim = {{10.0, 10.0}};
  EXPECT_EQ(status(Step::kOutline).state, StepState::kMissing);
  EXPECT_EQ(next(Step::kOutline), "Mark at least 4 more points on the rim.");
  work_.photo = 0;
  EXPECT_EQ(status(Step::kOutline).state, StepState::kMissing);
  EXPECT_EQ(status(Step::kOutline).reason, "Photograph 2: the rim has too few marks.");
  EXPECT_EQ(next(Step::kOutline), "Go to photograph 2. Mark at least 4 more points on the rim.");
  document_.photos[1].marks = {};
  // A reference in either says how big the vessel is.
  EXPECT_EQ(status(Step::kReference).state, StepState::kDone);
  work_.photo = 0;
  EXPECT_EQ(status(Step::kOutline).reason, "12 on the rim, 6 on the foot, 16 left and 16 right.");
  document_.photos[0].marks = {};
  EXPECT_EQ(status(Step::kOutline).state, StepState::kMissing);
  EXPECT_EQ(status(Step::kOutline).reason, "The vessel is not marked yet.");
}

TEST_F(SampleSteps, OutlineCountsWhatIsWanting) {
  photo().marks.rim.resize(3);
  EXPECT_EQ(status(Step::kOutline).state, StepState::kMissing);
  EXPECT_EQ(status(Step::kOutline).reason, "The rim has too few marks.");
  EXPECT_EQ(next(Step::kOutline), "Mark at least 2 more points on the rim.");
  photo().marks.rim.resize(5);
  photo().marks.base.clear();
  EXPECT_EQ(next(Step::kOutline), "Mark at least 3 points on the front of the foot.");
  document_.round_base = true;
  EXPECT_EQ(status(Step::kOutline).reason, "5 on the rim, 16 left and 16 right.");
  photo().marks.left.resize(2);
  photo().marks.right.resize(3);
  EXPECT_EQ(next(Step::kOutline), "Mark at least 1 more point down the left and right sides.");
  const double sd_px = photo().marks.sd_px;
  photo().marks = {};
  photo().marks.sd_px = sd_px;
  EXPECT_EQ(status(Step::kOutline).reason, "The vessel is not marked yet.");
  EXPECT_EQ(next(Step::kOutline),
            "Press 'Find the outline' and drag a box round the vessel, or mark it by hand.");
}

TEST_F(SampleSteps, OutlineOfOneSideIsDoubtful) {
  photo().marks.left.clear();
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kOutline).reason, "The left side has no marks.");
  EXPECT_EQ(next(Step::kOutline), "Mark the left side too, unless it is hidden.");
}

TEST_F(SampleSteps, MarkFarOffMakesItsStepDoubtful) {
  Whisker whisker;
  whisker.mark = {MarkKind::kRight, 0, 6};
  whisker.off_sd = 4.24;
  whisker.doubtful = true;
  measurement_.answer.photos.front().overlay.whiskers = {whisker};
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kOutline).reason,
            "Right mark 7 lies 4.2 times as far off as marking allows.");
  EXPECT_EQ(next(Step::kOutline), "Look at it again: move it to its place, or take it out.");
  EXPECT_EQ(status(Step::kReference).state, StepState::kDone);
  measurement_.answer.photos.front().overlay.whiskers[0].mark = {MarkKind::kReference, 0, 1};
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDone);
  EXPECT_EQ(status(Step::kReference).reason,
            "Corner 2 of reference 1 lies 4.2 times as far off as marking allows.");
  // An old measurement says nothing of the marks as they are now.
  work_.current = false;
  EXPECT_EQ(status(Step::kReference).state, StepState::kDone);
}

TEST_F(SampleSteps, MarksThatContradictThemselvesAreNamed) {
  const Problem problem{Code::kBadMarks, "The marks on the rim lie all on one spot.",
                        "Spread them all round the outer edge of the lip.", ""};
  work_.figures_problem = &problem;
  work_.current = false;
  EXPECT_EQ(status(Step::kOutline).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kOutline).reason, problem.what);
  EXPECT_EQ(status(Step::kSizes).state, StepState::kDoubtful);
  EXPECT_EQ(next(Step::kSizes), problem.next);
  EXPECT_EQ(status(Step::kTemplates).state, StepState::kMissing);
  work_.measurement = nullptr;
  EXPECT_EQ(status(Step::kSizes).state, StepState::kMissing);
}

TEST_F(SampleSteps, SizesBeingWorkedOutAreMissing) {
  work_.measurement = nullptr;
  work_.current = false;
  EXPECT_EQ(status(Step::kSizes).state, StepState::kMissing);
  EXPECT_EQ(status(Step::kSizes).reason, "The sizes are being worked out.");
}

TEST_F(SampleSteps, WideFiguresAndNotesMakeSizesDoubtful) {
  measurement_.answer.notes = {{"Something to look at.", true}};
  EXPECT_EQ(status(Step::kSizes).reason, "Something to look at.");
  EXPECT_EQ(next(Step::kSizes), "Read the notes under the sizes.");
  measurement_.answer.notes = {{"Something to know.", false}};
  EXPECT_EQ(status(Step::kSizes).state, StepState::kDone);
  Measured& height = measurement_.answer.sizes[0].measured;
  height = normal_measured(height.value, 0.1 * height.value / kNormal95);
  EXPECT_EQ(status(Step::kSizes).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kSizes).reason,
            "Height: known only to ± 10 %, and what limits it most is the reference's place.");
  EXPECT_THAT(next(Step::kSizes), HasSubstr("where the reference stands"));
}

TEST_F(SampleSteps, ClayWantsAShrinkageAndItsDoubt) {
  document_.clay->shrinkage_sd_percent = 0.0;
  EXPECT_EQ(status(Step::kClay).state, StepState::kDoubtful);
  document_.clay->shrinkage_percent = 0.0;
  EXPECT_EQ(status(Step::kClay).reason, "No shrinkage: the sizes are the original's own.");
  document_.clay->shrinkage_percent = 45.0;
  EXPECT_EQ(status(Step::kClay).state, StepState::kMissing);
  EXPECT_THAT(status(Step::kClay).reason, HasSubstr("45.0 %"));
  document_.clay.reset();
  EXPECT_EQ(status(Step::kClay).state, StepState::kMissing);
  EXPECT_EQ(status(Step::kTemplates).state, StepState::kMissing);
  EXPECT_EQ(next(Step::kTemplates),
            "Choose a clay from the book, or type its shrinkage in percent of the wet length.");
  EXPECT_EQ(step_due(document_, work_), Step::kClay);
}

TEST_F(SampleSteps, TemplateProblemIsPassedOn) {
  const Problem problem{Code::kCannotBeAnswered, "The template needs 80 pages.",
                        "Use larger paper.", ""};
  work_.template_problem = &problem;
  EXPECT_EQ(status(Step::kTemplates).state, StepState::kDoubtful);
  EXPECT_EQ(status(Step::kTemplates).reason, problem.what);
  EXPECT_EQ(next(Step::kTemplates), problem.next);
}

TEST_F(SampleSteps, AreAboutThePhotographThatIsMeasured) {
  EXPECT_EQ(working_photo(document_), 0U);
  document_.photos.insert(document_.photos.begin(), ProjectPhoto{});
  EXPECT_EQ(working_photo(document_), 1U);
  EXPECT_EQ(status(Step::kReference).reason, "120 × 80 mm, leaning back.");
  EXPECT_EQ(working_photo(Document{}), 0U);
}

}  // namespace
}  // namespace potshadow
