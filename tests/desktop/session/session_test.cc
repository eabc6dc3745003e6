// SPDX-License-Identifier: MIT
#include "desktop/session/session.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <fstream>

#include "core/files.h"
#include "desktop/document/shown_photo.h"
#include "desktop/session/bench.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
namespace fs = std::filesystem;

// The window and the command line must say the same: the same sums in the same order.
constexpr double kSame = 1e-9;

Measurement measured_from_disk(const fs::path& project_file) {
  const Result<Project> project = load_project(project_file);
  EXPECT_TRUE(project.ok());
  const Result<Measurement> measured = measure_project(*project, project_file.parent_path());
  EXPECT_TRUE(measured.ok());
  return *measured;
}

void expect_same(const Answer& a, const Answer& b) {
  ASSERT_EQ(a.sizes.size(), b.sizes.size());
  ASSERT_GE(a.sizes.size(), 6u);
  for (std::size_t i = 0; i < a.sizes.size(); ++i) {
    EXPECT_EQ(a.sizes[i].name, b.sizes[i].name);
    EXPECT_NEAR(a.sizes[i].measured.value, b.sizes[i].measured.value, kSame);
    EXPECT_NEAR(a.sizes[i].measured.sd, b.sizes[i].measured.sd, kSame);
  }
  ASSERT_EQ(a.rows.size(), b.rows.size());
  ASSERT_FALSE(a.rows.empty());
  for (std::size_t i = 0; i < a.rows.size(); ++i) {
    EXPECT_NEAR(a.rows[i].radius_mm, b.rows[i].radius_mm, kSame);
    EXPECT_NEAR(a.rows[i].sd_mm, b.rows[i].sd_mm, kSame);
  }
}

double height_of(const Session& session) {
  return find_size(session.figures().measurement->answer, SizeName::kHeight)->measured.value;
}

Code problem_code(const Result<Done>& result) {
  EXPECT_FALSE(result.ok());
  if (result.ok()) return Code::kBadValue;
  EXPECT_FALSE(result.problem().what.empty());
  EXPECT_FALSE(result.problem().next.empty());
  return result.problem().code;
}

// --- Figures ------------------------------------------------------------------------------------

TEST(Session, OpensAProjectAndSaysWhatTheCommandLineSays) {
  Bench bench;
  EXPECT_FALSE(bench.session.open());
  ASSERT_TRUE(bench.session.open_project(bench.project()).ok());
  EXPECT_TRUE(bench.session.open());
  EXPECT_EQ(bench.session.title(), "Shelf jar");
  EXPECT_FALSE(bench.session.unsaved());
  EXPECT_EQ(bench.session.document().photos[0].file, bench.photo().string());
  EXPECT_TRUE(bench.session.figures().busy);
  ASSERT_TRUE(bench.until_figures());
  expect_same(bench.session.figures().measurement->answer,
              measured_from_disk(bench.project()).answer);
  EXPECT_FALSE(bench.session.figures().problem);
  EXPECT_GE(bench.wakes, 1);

  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(bench.session.photo().shown->width_px(), 4032);
  EXPECT_EQ(bench.session.photo().shown->height_px(), 3024);
  EXPECT_EQ(bench.session.photo().facts->width_px, 4032);
  EXPECT_FALSE(bench.session.photo().problem);
}

TEST(Session, APreviewMakesFiguresStaleThenNew) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  const double before = height_of(session);
  const std::uint64_t revision = session.revision();
  const Command drag = move_rim(session.document(), 0, -12.0, 6.0);

  ASSERT_TRUE(session.preview(drag).ok());
  EXPECT_NE(session.revision(), revision);
  EXPECT_FALSE(session.figures().current);
  ASSERT_NE(session.figures().measurement, nullptr);
  EXPECT_EQ(height_of(session), before);
  EXPECT_FALSE(session.unsaved());
  EXPECT_EQ(session.history().steps().size(), 1u);
  ASSERT_TRUE(bench.until_figures());
  const double dragged = height_of(session);
  EXPECT_NE(dragged, before);

  // In a drag the figures come from a solution nearby; the step that it ends in is measured as the
  // command line does.
  ASSERT_TRUE(session.perform(drag).ok());
  EXPECT_FALSE(session.figures().current);
  ASSERT_TRUE(bench.until_figures());
  EXPECT_TRUE(session.unsaved());
  const Result<Measurement> whole = measure_project(session.document(), {});
  ASSERT_TRUE(whole.ok());
  expect_same(session.figures().measurement->answer, whole->answer);
  constexpr double kNearby = 0.25;  // of the uncertainty: nobody sees the figures jump
  const MeasuredSize* const height = find_size(whole->answer, SizeName::kHeight);
  EXPECT_NEAR(dragged, height->measured.value, kNearby * height->measured.sd);

  ASSERT_TRUE(session.undo());
  EXPECT_FALSE(session.figures().current);
  ASSERT_TRUE(bench.until_figures());
  EXPECT_NEAR(height_of(session), before, kSame);
}

TEST(Session, EndingAPreviewShowsTheHistoryAgain) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  const Document before = session.document();
  ASSERT_TRUE(session.preview(move_rim(before, 0, 5.0, 0.0)).ok());
  ASSERT_TRUE(session.preview(move_rim(before, 0, 9.0, 0.0)).ok());
  EXPECT_EQ(point_at(session.document(), rim_mark(0))->x_px,
            point_at(before, rim_mark(0))->x_px + 9.0);
  EXPECT_EQ(problem_code(session.preview(RemovePhoto{7})), Code::kBadValue);
  session.end_preview();
  EXPECT_EQ(session.document(), before);
  ASSERT_TRUE(bench.until_figures());
}

TEST(Session, FiguresFollowADragThatNeverRests) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  const Document start = session.document();
  const auto first = session.figures().measurement;
  double step = 0.0;
  int seen_current = 0;
  // A new place at every look: no estimate is ever of the document shown when it is done.
  const bool followed = bench.until([&] {
    step += 0.01;
    EXPECT_TRUE(session.preview(move_rim(start, 0, 0.0, step)).ok());
    if (session.figures().current) ++seen_current;
    return session.figures().measurement != first;
  });
  EXPECT_TRUE(followed);
  EXPECT_EQ(seen_current, 0);
  ASSERT_TRUE(bench.until_figures());
  EXPECT_EQ(session.figures().measurement->project, session.document());
}

TEST(Session, MarksThatGiveNothingLeaveTheLastGoodFigures) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  const double before = height_of(session);
  const PhotoPoint place = *point_at(session.document(), rim_mark(0));
  MoveMarks heap;
  for (std::size_t i = 0; i < session.document().photos[0].marks.rim.size(); ++i) {
    heap.moves.emplace_back(rim_mark(i), place);
  }
  EXPECT_EQ(heap.moves.size(), 12u);
  ASSERT_TRUE(session.perform(heap).ok());
  ASSERT_TRUE(bench.until_tried());
  EXPECT_FALSE(session.figures().current);
  ASSERT_TRUE(session.figures().problem);
  EXPECT_FALSE(session.figures().problem->what.empty());
  EXPECT_FALSE(session.figures().problem->next.empty());
  EXPECT_EQ(height_of(session), before);

  // What was measured before is not measured again.
  ASSERT_TRUE(session.undo());
  EXPECT_TRUE(session.figures().current);
  EXPECT_FALSE(session.figures().problem);
  ASSERT_TRUE(session.redo());
  EXPECT_FALSE(session.figures().current);
  EXPECT_TRUE(session.figures().problem);
}

TEST(Session, WordsAndClayDoNotUnsettleTheFigures) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  ASSERT_TRUE(session.perform(SetName{"Tall jar"}).ok());
  EXPECT_TRUE(session.figures().current);
  ProjectClay clay = *session.document().clay;
  clay.shrinkage_percent = 9.5;
  ASSERT_TRUE(session.perform(SetClay{clay}).ok());
  EXPECT_TRUE(session.figures().current);
  const Measurement& shown = *session.figures().measurement;
  EXPECT_EQ(shown.project, session.document());
  ASSERT_TRUE(session.save().ok());
  const Measurement measured = measured_from_disk(bench.project());
  EXPECT_EQ(shown.shrinkage, measured.shrinkage);
  EXPECT_EQ(measured.project.name, "Tall jar");
  expect_same(shown.answer, measured.answer);
  ASSERT_TRUE(session.perform(SetWall{9.0, 1.0}).ok());
  EXPECT_FALSE(session.figures().current);
}

ClayBody clay_of_the_book(double fired_mm) {
  ClayBody body;
  body.record = "weir";
  body.name = "Weir clay";
  for (const double more : {0.0, 0.1, 0.2}) {
    TestBar bar;
    bar.wet_mm = 100.0;
    bar.dry_mm = 94.0 + more;
    bar.fired_mm = fired_mm + more;
    body.bars.push_back(bar);
  }
  return body;
}

TEST(Session, FiguresFollowTheBookOfClays) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  ASSERT_TRUE(session.put_clay(clay_of_the_book(90.0), "Begin 'Weir clay'").ok());
  EXPECT_FALSE(session.figures().measurement->clay->from_book);

  ProjectClay clay;
  clay.record = "weir";
  ASSERT_TRUE(session.perform(SetClay{clay}).ok());
  ASSERT_TRUE(session.clay_work().clay);
  EXPECT_TRUE(session.figures().current);
  ASSERT_TRUE(session.figures().measurement->shrinkage);
  constexpr double kExact = 1e-12;  // of means of three
  EXPECT_NEAR(session.figures().measurement->shrinkage->fraction_of_wet(), 0.099, kExact);

  ASSERT_TRUE(session.put_clay(clay_of_the_book(88.0), "Change a bar").ok());
  EXPECT_NEAR(session.figures().measurement->shrinkage->fraction_of_wet(), 0.119, kExact);
  ASSERT_TRUE(session.take_back_clay().ok());
  EXPECT_NEAR(session.figures().measurement->shrinkage->fraction_of_wet(), 0.099, kExact);

  // Another program takes it away: the pot's clay is then unknown, and that is said.
  ASSERT_TRUE(save_clay_book({}, bench.folders()).ok());
  ASSERT_TRUE(bench.until([&] { return session.clay_work().problem.has_value(); }));
  EXPECT_FALSE(session.figures().measurement->shrinkage);
  EXPECT_TRUE(session.figures().current);
  // Undo is about the project, not about the book.
  ASSERT_TRUE(session.undo());
  ASSERT_TRUE(session.clay_work().clay);
  EXPECT_FALSE(session.clay_work().clay->from_book);
}

TEST(Session, PlansForTheLatestFigures) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  session.want_plan(Stage::kWet);
  EXPECT_FALSE(session.plan().busy);  // there are no figures yet
  ASSERT_TRUE(bench.until_figures());
  const auto planned = [&] {
    session.want_plan(Stage::kWet);
    return session.plan().current;
  };
  ASSERT_TRUE(bench.until(planned));
  const double wall = session.plan().plan->request.wall.foot_mm;
  const auto measurement = session.figures().measurement;
  EXPECT_EQ(wall, measurement->project.wall.value_mm * measurement->shrinkage->enlargement());

  ASSERT_TRUE(session.perform(SetPlan{ProjectPlan{.wall_mm = 9.0}}).ok());
  EXPECT_TRUE(session.figures().current);
  ASSERT_TRUE(bench.until(planned));
  EXPECT_EQ(session.plan().plan->request.wall.foot_mm, 9.0);

  // A wall that leaves no room: the last plan stays, marked as old.
  ASSERT_TRUE(session.perform(SetPlan{ProjectPlan{.wall_mm = 200.0}}).ok());
  session.want_plan(Stage::kWet);
  ASSERT_TRUE(bench.until([&] { return session.plan().problem.has_value(); }));
  EXPECT_FALSE(session.plan().current);
  ASSERT_NE(session.plan().plan, nullptr);
  ASSERT_TRUE(session.undo());
  ASSERT_TRUE(bench.until(planned));
  EXPECT_FALSE(session.plan().problem);
  session.close();
  EXPECT_EQ(session.plan().plan, nullptr);
}

// A size comes back from the project as it was measured, and nothing is added to its doubt.
TEST(Session, HoldsThePotOnTheBenchAgainstItsTarget) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  session.want_check(Stage::kWet);
  EXPECT_FALSE(session.check().answer);
  EXPECT_FALSE(session.check().problem);
  const double wet =
      wet_size(*session.figures().measurement,
               *find_size(session.figures().measurement->answer, SizeName::kMaxDiameter))
          .value;
  const auto measured = [&](Stage stage, double value) {
    ASSERT_TRUE(
        session.perform(SetBenchSize{stage, SizeName::kMaxDiameter, BenchValue{value, 0.7}}).ok());
    EXPECT_TRUE(session.figures().current);
    session.want_check(stage);
  };
  constexpr double kFarOff = 1.15;  // beyond any doubt of the sample's
  measured(Stage::kWet, kFarOff * wet);
  ASSERT_TRUE(session.check().answer);
  const BenchSize large = session.check().answer->check.sizes.at(0);
  EXPECT_EQ(large.verdict, Verdict::kLarger);
  constexpr double kExact = 1e-9;  // of a few products
  EXPECT_NEAR(large.measured.value, kFarOff * wet, kExact);
  EXPECT_NEAR(large.measured.sd, 0.7, kExact);
  measured(Stage::kWet, 1.0);  // not of this pot
  EXPECT_FALSE(session.check().answer);
  EXPECT_TRUE(session.check().problem);
  ASSERT_TRUE(session.undo());
  session.want_check(Stage::kWet);
  EXPECT_TRUE(session.check().answer);
  EXPECT_TRUE(session.check().evidence.stages.empty());

  // Ten in a hundred smaller when fired.
  measured(Stage::kFired, 0.9 * kFarOff * wet);
  ASSERT_EQ(session.check().evidence.stages.size(), 1U);
  EXPECT_NEAR(session.check().evidence.stages[0].pot.shrinkage.fraction, 0.1, kExact);
  EXPECT_FALSE(session.check().evidence.body);  // the sample's clay has no record
  session.close();
  session.want_check(Stage::kWet);
  EXPECT_FALSE(session.check().answer);
}

// The original's own photograph stands for one of a pot that came out just like it.
TEST(Session, WeighsAPhotographOfThePotInWithWhatIsTyped) {
  Bench bench;
  Session& session = bench.session;
  const std::filesystem::path pot = bench.work() / "pot.potshadow";
  std::filesystem::copy_file(bench.project(), pot);
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  session.want_check(Stage::kFired);
  session.use_bench_photo(pot);
  EXPECT_TRUE(session.bench_photo().busy);
  ASSERT_TRUE(bench.until([&] { return session.bench_photo().measurement != nullptr; }));
  session.want_check(Stage::kFired);
  ASSERT_TRUE(session.check().answer);
  const BenchAnswer photographed = *session.check().answer;
  EXPECT_EQ(photographed.names.size(), session.figures().measurement->answer.sizes.size());
  for (const BenchSize& size : photographed.check.sizes) {
    EXPECT_NE(size.verdict, Verdict::kLarger);
    EXPECT_NE(size.verdict, Verdict::kSmaller);
  }
  EXPECT_TRUE(session.check().evidence.stages.empty());  // nothing is kept yet

  // A caliper makes the photograph's diameter surer.
  const double fired =
      find_size(session.figures().measurement->answer, SizeName::kMaxDiameter)->measured.value;
  const auto sd_of = [](const BenchAnswer& answer) {
    for (std::size_t i = 0; i < answer.names.size(); ++i) {
      if (answer.names[i] == SizeName::kMaxDiameter) return answer.check.sizes[i].measured.sd;
    }
    return 0.0;
  };
  ASSERT_TRUE(
      session.perform(SetBenchSize{Stage::kFired, SizeName::kMaxDiameter, BenchValue{fired, 0.7}})
          .ok());
  session.want_check(Stage::kFired);
  ASSERT_TRUE(session.check().answer);
  EXPECT_LT(sd_of(*session.check().answer), sd_of(photographed));
  EXPECT_LT(sd_of(*session.check().answer), 0.7);

  session.want_check(Stage::kWet);  // it was of the fired pot
  EXPECT_TRUE(session.bench_photo().file.empty());
  EXPECT_FALSE(session.check().answer);
  session.use_bench_photo(bench.work() / "none.potshadow");
  ASSERT_TRUE(bench.until([&] { return !session.bench_photo().busy; }));
  ASSERT_TRUE(session.bench_photo().problem);
  EXPECT_EQ(session.bench_photo().problem->code, Code::kFileMissing);
  session.close();
  EXPECT_FALSE(session.bench_photo().problem);
}

TEST(Session, UndoToTheStartRedoToTheEndSaveAndReopen) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  const Document opened = session.document();
  for (std::size_t i = 0; i < 6; ++i) {
    ASSERT_TRUE(session.perform(move_rim(session.document(), i, 0.5, -0.25)).ok());
  }
  ASSERT_TRUE(session.perform(SetNotes{"Marked again."}).ok());
  const Document edited = session.document();
  int undone = 0;
  while (session.undo()) ++undone;
  EXPECT_EQ(undone, 7);
  EXPECT_EQ(session.document(), opened);
  EXPECT_FALSE(session.unsaved());
  int redone = 0;
  while (session.redo()) ++redone;
  EXPECT_EQ(redone, 7);
  EXPECT_EQ(session.document(), edited);
  EXPECT_TRUE(session.unsaved());
  ASSERT_TRUE(bench.until_figures());
  ASSERT_TRUE(session.save().ok());
  EXPECT_FALSE(session.unsaved());
  expect_same(session.figures().measurement->answer, measured_from_disk(bench.project()).answer);

  Bench other;
  ASSERT_TRUE(other.session.open_project(bench.project()).ok());
  EXPECT_EQ(other.session.document().photos[0].marks.rim, edited.photos[0].marks.rim);
  EXPECT_EQ(other.session.document().notes, "Marked again.");
  EXPECT_TRUE(session.go_to_step(0));
  EXPECT_TRUE(session.unsaved());
}

// --- The photograph -----------------------------------------------------------------------------

TEST(Session, AMissingPhotographLeavesTheFiguresAndIsFound) {
  Bench bench;
  Session& session = bench.session;
  const fs::path moved = bench.work() / "moved.jpg";
  fs::rename(bench.photo(), moved);
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_read());
  ASSERT_TRUE(session.photo().problem);
  EXPECT_EQ(session.photo().problem->code, Code::kFileMissing);
  EXPECT_THAT(session.photo().problem->next, HasSubstr("Show where it is now"));
  EXPECT_FALSE(session.photo().shown);
  ASSERT_TRUE(bench.until_figures());

  EXPECT_EQ(problem_code(session.find_photo(bench.work() / "nowhere.jpg")), Code::kFileMissing);
  EXPECT_FALSE(session.unsaved());
  const Result<Done> found = session.find_photo(moved);
  ASSERT_TRUE(found.ok());
  EXPECT_TRUE(found.notes().empty());
  EXPECT_EQ(session.history().undo_words(), "Find photograph");
  ASSERT_TRUE(bench.until_shown());
  EXPECT_FALSE(session.photo().problem);
  ASSERT_TRUE(bench.until_figures());
  for (const Note& note : session.figures().measurement->answer.notes) {
    EXPECT_THAT(note.text, testing::Not(HasSubstr("no file"))) << note.text;
  }
}

TEST(Session, APhotographThatComesBackIsReadAgain) {
  Bench bench;
  Session& session = bench.session;
  const fs::path away = bench.work() / "away.jpg";
  fs::rename(bench.photo(), away);
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_read());
  ASSERT_TRUE(session.photo().problem);
  fs::rename(away, bench.photo());
  ASSERT_TRUE(session.find_photo(bench.photo()).ok());
  EXPECT_EQ(session.history().steps().size(), 1u);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_FALSE(session.photo().problem);
}

TEST(Session, AnotherPictureInItsPlaceIsNoticed) {
  Bench bench;
  Session& session = bench.session;
  fs::copy_file(kSamples / "low-bowl.jpg", bench.photo(), fs::copy_options::overwrite_existing);
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_shown());
  ASSERT_TRUE(session.photo().problem);
  EXPECT_THAT(session.photo().problem->what, HasSubstr("not the same"));
  ASSERT_TRUE(bench.until_tried());
  // Chosen knowingly, it is taken, with a note.
  const Result<Done> chosen = session.find_photo(bench.photo());
  ASSERT_TRUE(chosen.ok());
  ASSERT_EQ(chosen.notes().size(), 1u);
  EXPECT_TRUE(chosen.notes()[0].doubtful);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_FALSE(session.photo().problem);
}

TEST(Session, AnUnreadablePhotographLeavesTheRestWorking) {
  Bench bench;
  Session& session = bench.session;
  std::ofstream(bench.photo(), std::ios::binary | std::ios::trunc) << "no picture at all";
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_read());
  ASSERT_TRUE(session.photo().problem);
  EXPECT_EQ(session.photo().problem->code, Code::kFileUnreadable);
  ASSERT_TRUE(bench.until_figures());
  ASSERT_TRUE(session.perform(move_rim(session.document(), 0, 1.0, 0.0)).ok());
  ASSERT_TRUE(bench.until_figures());
  EXPECT_TRUE(session.save().ok());
}

TEST(Session, TurningShowsTheTurnedPictureAndUndoTurnsItBack) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_shown());
  const auto upright = session.photo().shown->part(0, 100, 7, 1, 1);
  const std::vector<unsigned char> pixel(upright.first, upright.first + 3);
  ASSERT_TRUE(session.perform(TurnPhoto{0, 1}).ok());
  EXPECT_FALSE(session.photo().shown);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(session.photo().shown->width_px(), 3024);
  EXPECT_EQ(session.photo().shown->height_px(), 4032);
  EXPECT_EQ(session.photo().facts->width_px, 4032);
  EXPECT_FALSE(session.photo().problem);
  // (100, 7) of the upright picture, 3024 high.
  const auto turned = session.photo().shown->part(0, 3024 - 1 - 7, 100, 1, 1);
  EXPECT_EQ(std::vector<unsigned char>(turned.first, turned.first + 3), pixel);
  ASSERT_TRUE(session.undo());
  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(session.photo().shown->width_px(), 4032);
}

TEST(Session, AdjustingChangesWhatIsShownAndNothingElse) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_shown());
  const std::uint64_t shown = session.photo().shown_revision;
  const std::uint64_t document = session.revision();
  const auto pixel = [&] { return *session.photo().shown->part(0, 50, 50, 1, 1).first; };
  const int before = pixel();
  session.set_adjust({.brightness = 1.0});
  ASSERT_TRUE(bench.until([&] { return session.photo().shown_revision != shown; }));
  EXPECT_EQ(pixel(), 255);
  EXPECT_NE(before, 255);
  EXPECT_EQ(session.revision(), document);
  EXPECT_FALSE(session.unsaved());
  session.set_adjust({});
  ASSERT_TRUE(bench.until([&] { return pixel() == before; }));
}

TEST(Session, MovingMarksDoesNotReadThePhotographAgain) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_shown());
  const auto picture = session.photo().picture;
  const std::uint64_t shown = session.photo().shown_revision;
  ASSERT_TRUE(session.perform(move_rim(session.document(), 0, 1.0, 0.0)).ok());
  EXPECT_FALSE(session.photo().busy);
  ASSERT_TRUE(bench.until_figures());
  EXPECT_EQ(session.photo().picture, picture);
  EXPECT_EQ(session.photo().shown_revision, shown);
}

TEST(Session, ShowsAPictureOfOnePixel) {
  Bench bench;
  const fs::path tiny = bench.work() / "tiny.png";
  // 1 x 1 grey pixel.
  constexpr std::array<unsigned char, 67> kTiny{
      0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48,
      0x44, 0x52, 0x00, 0x00, 0x00, 0x01, 0x00, 0x00, 0x00, 0x01, 0x08, 0x00, 0x00, 0x00,
      0x00, 0x3a, 0x7e, 0x9b, 0x55, 0x00, 0x00, 0x00, 0x0a, 0x49, 0x44, 0x41, 0x54, 0x78,
      0x9c, 0x63, 0x68, 0x00, 0x00, 0x00, 0x82, 0x00, 0x81, 0x77, 0xcd, 0x72, 0xb6, 0x00,
      0x00, 0x00, 0x00, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82};
  std::ofstream(tiny, std::ios::binary)
      .write(reinterpret_cast<const char*>(kTiny.data()), std::ssize(kTiny));
  ASSERT_TRUE(bench.session.open_any(tiny).ok());
  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(bench.session.photo().shown->width_px(), 1);
  EXPECT_EQ(bench.session.photo().shown->height_px(), 1);
  ASSERT_TRUE(bench.session.perform(TurnPhoto{0, 1}).ok());
  ASSERT_TRUE(bench.until_shown());
  ASSERT_TRUE(bench.until_tried());
  EXPECT_TRUE(bench.session.figures().problem);
}

TEST(Session, WithoutAScaleThereAreProportionsAndNoTemplate) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  const double ratio = session.figures().measurement->answer.proportions.at(0).measured.value;
  ASSERT_TRUE(session.perform(RemoveReference{0, 0}).ok());
  ASSERT_TRUE(bench.until_figures());
  const Answer& open = session.figures().measurement->answer;
  EXPECT_EQ(open.scale, ScaleSource::kNone);
  // The card tells a little of the camera too: without it the proportion is less sure, by no more
  // than it says, and a vessel's proportions are still worth having.
  constexpr double kWorthHaving = 0.05;
  const Measured& without = open.proportions.at(0).measured;
  EXPECT_GE(ratio, without.low95);
  EXPECT_LE(ratio, without.high95);
  EXPECT_LT(without.sd, kWorthHaving * ratio);
  session.want_sheet({});
  EXPECT_FALSE(session.sheet().busy);
  EXPECT_FALSE(session.sheet().current);

  // One guess scales everything.
  ProjectReference guess;
  guess.kind = "size";
  guess.size = "height";
  guess.value_mm = 240.0;
  guess.sd_mm = 24.0;  // a tenth, as a guess may well be
  guess.guess = true;
  ASSERT_TRUE(session.perform(AddReference{0, guess}).ok());
  ASSERT_TRUE(bench.until_figures());
  EXPECT_EQ(session.figures().measurement->answer.scale, ScaleSource::kGuess);
  // Nothing else speaks of the height, so it is the guess however loose that is.
  constexpr double kPull = 0.03;  // of it: what a weak scale and the search's end leave
  EXPECT_NEAR(height_of(session), 240.0, kPull * 240.0);
  const double sd =
      find_size(session.figures().measurement->answer, SizeName::kHeight)->measured.sd;
  EXPECT_NEAR(sd, *guess.sd_mm, kPull * 240.0);
  session.want_sheet({});
  EXPECT_TRUE(session.sheet().busy);
  ASSERT_TRUE(bench.until([&] { return session.sheet().current; }));
}

TEST(Session, AHiddenFootLeavesTheRestAnswered) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  const double rim =
      find_size(session.figures().measurement->answer, SizeName::kRimDiameter)->measured.value;
  RemoveMarks foot;
  for (std::size_t i = 0; i < session.document().photos[0].marks.base.size(); ++i) {
    foot.marks.push_back({0, {MarkKind::kBase, 0, i}});
  }
  ASSERT_TRUE(session.perform(foot).ok());
  ASSERT_TRUE(bench.until_tried());
  EXPECT_FALSE(session.figures().current);
  ProjectHidden hidden;
  hidden.low_mm = 0.0;
  hidden.high_mm = 20.0;
  ASSERT_TRUE(session.perform(SetHiddenFoot{hidden}).ok());
  ASSERT_TRUE(bench.until_tried());
  ASSERT_TRUE(session.figures().current) << session.figures().problem->what;
  const MeasuredSize* const found =
      find_size(session.figures().measurement->answer, SizeName::kRimDiameter);
  ASSERT_NE(found, nullptr);
  EXPECT_NEAR(found->measured.value, rim, 3.0 * found->measured.sd);
}

// --- Several photographs ------------------------------------------------------------------------

// The sample's photograph again, as another file with other content: nothing of its pixels changes.
fs::path second_photo(const Bench& bench) {
  const fs::path file = bench.work() / "shelf-jar-side.jpg";
  fs::copy_file(bench.photo(), file);
  std::ofstream(file, std::ios::binary | std::ios::app) << "another file";
  return file;
}

TEST(Session, AddsAPhotographAndShowsIt) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(session.photo_index(), 0u);
  const fs::path side = second_photo(bench);
  ASSERT_TRUE(session.add_photo(side).ok());
  ASSERT_EQ(session.document().photos.size(), 2u);
  EXPECT_EQ(session.photo_index(), 1u);
  EXPECT_EQ(session.document().photos[1].file, side.string());
  EXPECT_EQ(session.document().photos[1].record.sha256.size(), 64u);
  EXPECT_EQ(session.document().photos[1].glass, session.document().photos[0].glass);
  EXPECT_TRUE(session.photo().busy);
  EXPECT_FALSE(session.photo().shown);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(session.history().undo_words(), "Add photograph");
  EXPECT_EQ(problem_code(session.add_photo(side)), Code::kBadValue);
  EXPECT_EQ(problem_code(session.add_photo(bench.photo())), Code::kBadValue);
  EXPECT_EQ(problem_code(session.add_photo(bench.work() / "gone.jpg")), Code::kFileMissing);
  EXPECT_EQ(session.document().photos.size(), 2u);
  ASSERT_TRUE(session.undo());
  EXPECT_EQ(session.photo_index(), 0u);
  ASSERT_TRUE(session.redo());
  EXPECT_EQ(session.photo_index(), 1u);
}

TEST(Session, WhichPhotographIsShownIsNeitherSavedNorAStep) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(session.add_photo(second_photo(bench)).ok());
  ASSERT_TRUE(session.save().ok());
  const std::uint64_t revision = session.revision();
  const std::size_t steps = session.history().steps().size();
  session.show_photo(0);
  EXPECT_EQ(session.photo_index(), 0u);
  session.show_photo(7);
  EXPECT_EQ(session.photo_index(), 0u);
  EXPECT_EQ(session.revision(), revision);
  EXPECT_EQ(session.history().steps().size(), steps);
  EXPECT_FALSE(session.unsaved());
  ASSERT_TRUE(bench.until_shown());
  // Opened again, it begins with the photograph that has marks.
  session.show_photo(1);
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  EXPECT_EQ(session.photo_index(), 0u);
}

TEST(Session, UndoShowsThePhotographThatItChanges) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(session.add_photo(second_photo(bench)).ok());
  ASSERT_TRUE(session.perform(AddMark{{1, {MarkKind::kRim, 0, 0}}, {100.0, 90.0}}).ok());
  session.show_photo(0);
  ASSERT_TRUE(session.perform(move_rim(session.document(), 0, 1.0, 0.0)).ok());
  EXPECT_EQ(session.photo_index(), 0u);
  ASSERT_TRUE(session.undo());
  EXPECT_EQ(session.photo_index(), 0u);
  ASSERT_TRUE(session.undo());
  EXPECT_EQ(session.photo_index(), 1u);
  ASSERT_TRUE(session.redo());
  EXPECT_EQ(session.photo_index(), 1u);
  ASSERT_TRUE(session.redo());
  EXPECT_EQ(session.photo_index(), 0u);
  ASSERT_TRUE(session.perform(SetName{"Low bowl"}).ok());
  session.show_photo(1);
  ASSERT_TRUE(session.undo());
  EXPECT_EQ(session.photo_index(), 1u);
}

TEST(Session, APhotographTakenOutComesBackWithItsMarks) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  const Document one = session.document();
  ASSERT_TRUE(session.add_photo(second_photo(bench)).ok());
  session.show_photo(0);
  ASSERT_TRUE(bench.until_figures());
  const double height = height_of(session);
  ASSERT_TRUE(session.perform(RemovePhoto{0}).ok());
  EXPECT_EQ(session.photo_index(), 0u);
  EXPECT_THAT(session.document().photos.at(0).file, HasSubstr("shelf-jar-side.jpg"));
  ASSERT_TRUE(bench.until_tried());
  EXPECT_FALSE(session.figures().current);
  EXPECT_TRUE(session.figures().problem);
  ASSERT_TRUE(session.undo());
  EXPECT_EQ(session.photo_index(), 0u);
  EXPECT_EQ(session.document().photos.at(0), one.photos.at(0));
  ASSERT_TRUE(bench.until_figures());
  EXPECT_NEAR(height_of(session), height, kSame);
  ASSERT_TRUE(bench.until_shown());
}

TEST(Session, MarkedPhotographsAreMeasuredTogether) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  const double alone =
      find_size(session.figures().measurement->answer, SizeName::kHeight)->measured.sd;
  ProjectPhoto side = session.document().photos[0];
  side.file = second_photo(bench).string();
  side.record = {};
  ASSERT_TRUE(session.perform(AddPhoto{side}).ok());
  EXPECT_EQ(answer_of_photo(*session.figures().measurement, session.document(), 1), nullptr);
  ASSERT_TRUE(bench.until_tried());
  ASSERT_TRUE(session.figures().current) << session.figures().problem->what;
  const Measurement& measurement = *session.figures().measurement;
  ASSERT_EQ(measurement.answer.photos.size(), 2u);
  EXPECT_LT(find_size(measurement.answer, SizeName::kHeight)->measured.sd, alone);
  EXPECT_EQ(answer_of_photo(measurement, session.document(), 1), &measurement.answer.photos[1]);
  EXPECT_EQ(mark_in(measurement, {MarkKind::kRim, 0, 3, 1}), (MarkId{1, {MarkKind::kRim, 0, 3}}));
}

TEST(Session, GoingBackToAPhotographDoesNotReadItAgain) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_shown());
  const auto first = session.photo().picture;
  const fs::path side = second_photo(bench);
  ASSERT_TRUE(session.add_photo(side).ok());
  ASSERT_TRUE(bench.until_shown());
  EXPECT_NE(session.photo().picture, first);
  EXPECT_THAT(session.photo().facts->sha256, testing::Ne(first->facts.sha256));
  session.show_photo(0);
  EXPECT_FALSE(session.photo().picture);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(session.photo().picture, first);
  EXPECT_EQ(session.photo().facts->sha256, first->facts.sha256);
  // A file that has changed meanwhile is read anew.
  session.show_photo(1);
  ASSERT_TRUE(bench.until_shown());
  std::ofstream(bench.photo(), std::ios::binary | std::ios::app) << "changed";
  session.show_photo(0);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_NE(session.photo().picture, first);
  EXPECT_TRUE(session.photo().problem);
}

TEST(Session, EachPhotographKeepsHowItIsAdjusted) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(session.add_photo(second_photo(bench)).ok());
  const ViewAdjust bright{.brightness = 0.3};
  session.set_adjust(bright);
  session.show_photo(0);
  EXPECT_EQ(session.adjust(), ViewAdjust{});
  session.show_photo(1);
  EXPECT_EQ(session.adjust(), bright);
  ASSERT_TRUE(bench.until_shown());
}

// --- Files --------------------------------------------------------------------------------------

TEST(Session, APhotographBecomesANewProject) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_any(bench.photo()).ok());
  EXPECT_EQ(session.title(), "shelf-jar");
  EXPECT_TRUE(session.project_file().empty());
  EXPECT_TRUE(session.unsaved());
  const ProjectPhoto& photo = session.document().photos.at(0);
  EXPECT_EQ(photo.file, bench.photo().string());
  EXPECT_EQ(photo.record.width_px, 4032);
  EXPECT_EQ(photo.record.sha256.size(), 64u);
  ASSERT_TRUE(bench.until_shown());
  ASSERT_TRUE(bench.until_tried());
  EXPECT_FALSE(session.figures().current);
  EXPECT_EQ(session.figures().measurement, nullptr);
  ASSERT_TRUE(session.figures().problem);
  EXPECT_EQ(session.figures().problem->code, Code::kTooFewMarks);
  EXPECT_EQ(problem_code(session.save()), Code::kFileUnwritable);
  ASSERT_TRUE(session.save_as(bench.work() / "new.potshadow").ok());
  EXPECT_FALSE(session.unsaved());
  const Result<Project> saved = load_project(bench.work() / "new.potshadow");
  ASSERT_TRUE(saved.ok());
  EXPECT_EQ(saved->photos[0].file, "shelf-jar.jpg");
}

TEST(Session, ACopyIsSavedElsewhereAndFindsItsPhotograph) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_as_copy(bench.project()).ok());
  EXPECT_TRUE(session.project_file().empty());
  EXPECT_FALSE(session.unsaved());
  EXPECT_EQ(session.title(), "Shelf jar");
  ASSERT_TRUE(bench.until_figures());
  const fs::path elsewhere = bench.work() / "kept" / "jar.potshadow";
  fs::create_directory(elsewhere.parent_path());
  ASSERT_TRUE(session.save_as(elsewhere).ok());
  EXPECT_EQ(session.project_file(), elsewhere);
  EXPECT_EQ(load_project(elsewhere)->photos[0].file, "../shelf-jar.jpg");
  expect_same(session.figures().measurement->answer, measured_from_disk(elsewhere).answer);
}

TEST(Session, WhatCannotBeWrittenIsStillUnsaved) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(session.perform(SetName{"Jar"}).ok());
  // No one, not even root, makes a file below a file.
  EXPECT_EQ(problem_code(session.save_as(bench.photo() / "jar.potshadow")), Code::kFileUnwritable);
  EXPECT_TRUE(session.unsaved());
  EXPECT_EQ(session.project_file(), bench.project());
  EXPECT_EQ(session.document().name, "Jar");
  EXPECT_EQ(load_project(bench.project())->name, "Shelf jar");
  EXPECT_TRUE(session.save().ok());
  EXPECT_EQ(load_project(bench.project())->name, "Jar");
}

TEST(Session, TwoWindowsOnOneProjectNoticeEachOther) {
  Bench bench;
  Session& first = bench.session;
  Session second({bench.work() / "config", bench.work() / "state", bench.work() / "data"}, [] {});
  ASSERT_TRUE(first.open_project(bench.project()).ok());
  ASSERT_TRUE(second.open_project(bench.project()).ok());
  ASSERT_TRUE(first.perform(SetName{"First"}).ok());
  ASSERT_TRUE(second.perform(SetName{"Second"}).ok());
  ASSERT_TRUE(first.save().ok());
  const Result<Done> refused = second.save();
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.problem().code, Code::kFileUnwritable);
  EXPECT_NE(refused.problem().what.find("Another window or program"), std::string::npos);
  EXPECT_TRUE(second.unsaved());
  EXPECT_EQ(load_project(bench.project())->name, "First");
  // One's own saves are no surprise, nor is a file that is gone.
  ASSERT_TRUE(first.perform(SetName{"First again"}).ok());
  EXPECT_TRUE(first.save().ok());
  // What is written over on purpose is, and the other window notices in its turn.
  EXPECT_TRUE(second.save_as(bench.project()).ok());
  EXPECT_EQ(load_project(bench.project())->name, "Second");
  EXPECT_TRUE(second.save().ok());
  EXPECT_FALSE(first.save().ok());
  fs::remove(bench.project());
  EXPECT_TRUE(first.save().ok());
  EXPECT_EQ(load_project(bench.project())->name, "First again");
}

TEST(Session, NeverWritesOverThePhotograph) {
  Bench bench;
  Session& session = bench.session;
  const Result<std::string> before = read_file(bench.photo(), 1'000'000);
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  fs::create_symlink(bench.photo(), bench.work() / "link.potshadow");
  EXPECT_EQ(problem_code(session.save_as(bench.photo())), Code::kFileUnwritable);
  EXPECT_EQ(problem_code(session.save_as(bench.work() / "." / "shelf-jar.jpg")),
            Code::kFileUnwritable);
  EXPECT_EQ(problem_code(session.save_as(bench.work() / "link.potshadow")), Code::kFileUnwritable);
  EXPECT_EQ(*read_file(bench.photo(), 1'000'000), *before);
}

TEST(Session, WhatCannotBeOpenedLeavesWhatIsOpen) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(session.perform(SetName{"Jar"}).ok());
  const std::uint64_t revision = session.revision();
  const auto file = [&](const char* name, const char* text) {
    std::ofstream(bench.work() / name) << text;
    return bench.work() / name;
  };
  EXPECT_EQ(problem_code(session.open_any(file("notes.txt", "notes"))), Code::kFileUnreadable);
  EXPECT_EQ(problem_code(session.open_any(file("empty.potshadow", ""))), Code::kBadFormat);
  EXPECT_EQ(problem_code(session.open_any(file("no.potshadow", "{}"))), Code::kBadFormat);
  EXPECT_EQ(problem_code(session.open_any(file("new.potshadow", "{\"potshadow\": 99}"))),
            Code::kNewerVersion);
  EXPECT_EQ(problem_code(session.open_any(file("no.JPG", "text"))), Code::kFileUnreadable);
  EXPECT_EQ(problem_code(session.open_any(bench.work())), Code::kFileUnreadable);
  EXPECT_EQ(problem_code(session.open_any(bench.work() / "none.txt")), Code::kFileMissing);
  EXPECT_EQ(problem_code(session.open_any(bench.work() / "none.potshadow")), Code::kFileMissing);
  EXPECT_EQ(problem_code(session.open_any(bench.work() / "none.png")), Code::kFileMissing);
  EXPECT_EQ(problem_code(session.open_as_copy(bench.photo())), Code::kBadFormat);
  EXPECT_EQ(session.revision(), revision);
  EXPECT_EQ(session.document().name, "Jar");
  EXPECT_TRUE(session.unsaved());
}

TEST(Session, ClosingLeavesNothing) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  ASSERT_TRUE(bench.until_figures());
  ASSERT_TRUE(session.perform(SetName{"Jar"}).ok());
  session.close();
  EXPECT_FALSE(session.open());
  EXPECT_FALSE(session.unsaved());
  EXPECT_EQ(session.figures().measurement, nullptr);
  EXPECT_FALSE(session.figures().current);
  EXPECT_FALSE(session.photo().shown);
  EXPECT_EQ(session.document(), Document());
  EXPECT_EQ(problem_code(session.perform(SetName{"Jar"})), Code::kBadValue);
  EXPECT_EQ(problem_code(session.save()), Code::kBadValue);
  EXPECT_EQ(problem_code(session.find_photo(bench.photo())), Code::kBadValue);
  session.want_sheet({});
  EXPECT_FALSE(session.sheet().busy);
}

TEST(Session, OpeningAnotherProjectDropsTheWorkForTheFirst) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  // At once, while the first is being read and measured.
  ASSERT_TRUE(session.open_as_copy(kSamples / "low-bowl.potshadow").ok());
  ASSERT_TRUE(bench.until_figures());
  EXPECT_EQ(session.figures().measurement->project.name, session.document().name);
  expect_same(session.figures().measurement->answer,
              measured_from_disk(kSamples / "low-bowl.potshadow").answer);
  ASSERT_TRUE(bench.until_shown());
  EXPECT_EQ(session.photo().facts->sha256, session.document().photos[0].record.sha256);
  EXPECT_FALSE(session.photo().problem);
}

// --- The sheet ----------------------------------------------------------------------------------

const SheetWish kLetterInches{.paper = Paper::kLetter, .unit = LengthUnit::kInch};

TEST(Session, DrawsTheTemplateOfCurrentFigures) {
  Bench bench;
  Session& session = bench.session;
  ASSERT_TRUE(session.open_project(bench.project()).ok());
  session.want_sheet({});
  EXPECT_FALSE(session.sheet().busy);  // there are no figures yet
  ASSERT_TRUE(bench.until_figures());
  session.want_sheet({});
  EXPECT_TRUE(session.sheet().busy);
  const auto until_drawn = [&] { return bench.until([&] { return session.sheet().current; }); };
  ASSERT_TRUE(until_drawn());
  EXPECT_FALSE(session.sheet().problem);
  ASSERT_EQ(session.sheet().pages.size(), session.sheet().places.size());
  const PagePixels& page = session.sheet().pages.at(0);
  EXPECT_EQ(page.bytes.size(), static_cast<std::size_t>(4 * page.width_px * page.height_px));
  EXPECT_GE(page.width_px, 1000);
  // Something is drawn.
  EXPECT_GT(std::count(page.bytes.begin(), page.bytes.end(), 0), 1000);

  const std::uint64_t revision = session.sheet().revision;
  session.want_sheet({});
  EXPECT_FALSE(session.sheet().busy);  // it is there already
  session.want_sheet(kLetterInches);
  EXPECT_FALSE(session.sheet().current);
  ASSERT_TRUE(until_drawn());
  EXPECT_NE(session.sheet().revision, revision);

  ProjectClay clay = *session.document().clay;
  clay.shrinkage_percent = 8.0;
  ASSERT_TRUE(session.perform(SetClay{clay}).ok());
  EXPECT_FALSE(session.sheet().current);
  EXPECT_FALSE(session.sheet().pages.empty());
  session.want_sheet(kLetterInches);
  ASSERT_TRUE(until_drawn());

  ASSERT_TRUE(session.perform(SetClay{std::nullopt}).ok());
  session.want_sheet(kLetterInches);
  EXPECT_FALSE(session.sheet().busy);
  EXPECT_FALSE(session.sheet().current);
}

}  // namespace
}  // namespace potshadow
