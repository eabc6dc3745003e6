// SPDX-License-Identifier: MIT
#include "desktop/document/command.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "desktop/document/make_document.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

Document after(const Document& document, const Command& command) {
  const Result<Document> changed = apply(document, command);
  EXPECT_TRUE(changed.ok()) << (changed.ok() ? "" : changed.problem().what);
  return changed.ok() ? *changed : Document();
}

// Expects that the command cannot be done; returns what is said of it.
std::string refusal(const Document& document, const Command& command) {
  const Result<Document> changed = apply(document, command);
  EXPECT_FALSE(changed.ok()) << command_words(document, command);
  if (changed.ok()) return "";
  EXPECT_EQ(changed.problem().code, Code::kBadValue);
  EXPECT_FALSE(changed.problem().next.empty());
  return changed.problem().what;
}

ProjectPhoto photo_of(const Document& document) { return document.photos.at(0); }

TEST(TurnPhoto, TurnsMarksWithThePicture) {
  // 400 x 300: the top left pixel comes to the top right, and the bottom left to the top left.
  Document document = make_document();
  document.photos[0].marks.rim = {{0.0, 0.0}, {0.0, 299.0}, {399.0, 299.0}, {1.5, 2.25}};
  const Document turned = after(document, TurnPhoto{0, 1});
  EXPECT_EQ(photo_of(turned).quarter_turns, 1);
  EXPECT_EQ(photo_of(turned).marks.rim,
            (std::vector<PhotoPoint>{{299.0, 0.0}, {0.0, 0.0}, {0.0, 399.0}, {296.75, 1.5}}));
  EXPECT_EQ(photo_of(turned).references[0].corners[0], (PhotoPoint{9.0, 10.0}));
  EXPECT_EQ(photo_of(turned).references[1].edge[0], (PhotoPoint{19.0, 300.0}));
  EXPECT_EQ(photo_of(turned).record, photo_of(document).record);
}

TEST(TurnPhoto, FourQuartersAreNoneHoweverTheyAreMade) {
  const Document document = make_document();
  Document turned = document;
  for (int i = 0; i < 4; ++i) turned = after(turned, TurnPhoto{0, 1});
  EXPECT_EQ(turned, document);
  EXPECT_EQ(after(document, TurnPhoto{0, 4}), document);
  EXPECT_EQ(after(after(document, TurnPhoto{0, 3}), TurnPhoto{0, 1}), document);
  EXPECT_EQ(after(after(document, TurnPhoto{0, 1}), TurnPhoto{0, -1}), document);
  EXPECT_EQ(after(document, TurnPhoto{0, 2}),
            after(after(document, TurnPhoto{0, 1}), TurnPhoto{0, 1}));
}

TEST(TurnPhoto, NeedsTheRecordedSize) {
  Document document = make_document();
  document.photos[0].record.height_px.reset();
  EXPECT_THAT(refusal(document, TurnPhoto{0, 1}), HasSubstr("size is not known"));
}

TEST(TurnPhoto, LeavesMarksItCannotReadAlone) {
  const Result<Project> project =
      parse_project(R"({ "potshadow": 1, "photos": [ { "file": "/a.jpg", "width_px": 40,
        "height_px": 30, "references": [ { "kind": "plumb line", "rows_px": [[1, 2]] } ] } ] })",
                    "a.potshadow");
  ASSERT_TRUE(project.ok());
  EXPECT_THAT(refusal(*project, TurnPhoto{0, 1}), HasSubstr("kind 'plumb line'"));
}

TEST(TurnPhoto, TurnsTheTracedOutline) {
  // 300 pixels high: (x, y) goes to (299 - y, x).
  Document document = make_document();
  document.photos[0].trace = make_trace();
  const ProjectTrace turned = *photo_of(after(document, TurnPhoto{0, 1})).trace;
  EXPECT_EQ(turned.box, (std::array<PhotoPoint, 2>{{{269.0, 80.0}, {29.0, 320.0}}}));
  EXPECT_EQ(turned.strokes[0].points[0], (PhotoPoint{149.0, 200.0}));
  EXPECT_EQ(turned.rim[0], (TracedPoint{{258.0, 150.0}, 0.3}));
  EXPECT_EQ(turned.base[0], (TracedPoint{{48.0, 190.0}, 0.4}));
  EXPECT_EQ(turned.left[1], (TracedPoint{{79.0, 110.0}, 0.25}));
  EXPECT_EQ(turned.right[0], (TracedPoint{{129.0, 304.0}, 0.2}));
  EXPECT_EQ(turned.doubtful[0].points[1], (PhotoPoint{99.0, 296.0}));
  EXPECT_EQ(after(document, TurnPhoto{0, 4}), document);
}

TEST(SetTrace, PutsATraceInAndTakesItOutAndLeavesTheMarks) {
  const Document document = make_document();
  const Document traced = after(document, SetTrace{0, make_trace()});
  EXPECT_EQ(photo_of(traced).trace, std::optional(make_trace()));
  EXPECT_EQ(photo_of(traced).marks, photo_of(document).marks);
  EXPECT_EQ(after(traced, SetTrace{0, {}}), document);
  // A mark of the hand goes into its own list.
  const Document marked = after(traced, AddMark{left(9), {111.0, 221.0}});
  EXPECT_EQ(photo_of(marked).trace, photo_of(traced).trace);
  EXPECT_EQ(photo_of(marked).marks.left.size(), 3u);
}

TEST(SetTrace, RefusesWhatCannotBeSavedAndPhotographsThatAreNotThere) {
  EXPECT_THAT(refusal(make_document(), SetTrace{1, make_trace()}), HasSubstr("no photograph 2"));
  ProjectTrace nowhere = make_trace();
  nowhere.left[0].at.x_px = std::numeric_limits<double>::quiet_NaN();
  refusal(make_document(), SetTrace{0, nowhere});
  ProjectTrace endless = make_trace();
  endless.strokes.resize(1001, endless.strokes[0]);
  refusal(make_document(), SetTrace{0, endless});
}

TEST(AddMark, PutsItInItsPlace) {
  const Document document = make_document();
  const PhotoPoint at{7.0, 8.0};
  EXPECT_EQ(photo_of(after(document, AddMark{rim(1), at})).marks.rim,
            (std::vector<PhotoPoint>{{100.0, 50.0}, at, {200.0, 40.5}, {300.0, 50.0}}));
  EXPECT_EQ(photo_of(after(document, AddMark{rim(99), at})).marks.rim.back(), at);
  EXPECT_EQ(photo_of(after(document, AddMark{on_reference(1, 99), at})).references[1].edge.back(),
            at);
}

TEST(AddMark, GivesARectangleFourCornersAtMost) {
  const Document four = after(make_document(), AddMark{on_reference(0, 3), {9.0, 240.0}});
  EXPECT_EQ(photo_of(four).references[0].corners.size(), 4u);
  EXPECT_THAT(refusal(four, AddMark{on_reference(0, 4), {1.0, 1.0}}), HasSubstr("all its corners"));
}

TEST(MoveMarks, RefusesPlacesThatCannotBe) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  int cases = 0;
  for (const double wrong : {nan, infinite, -infinite, 1e9}) {
    EXPECT_THAT(refusal(make_document(), MoveMarks{{{rim(0), {wrong, 1.0}}}}),
                HasSubstr("Rim mark 1 would lie far outside"));
    EXPECT_THAT(refusal(make_document(), MoveMarks{{{rim(0), {1.0, wrong}}}}),
                HasSubstr("Rim mark 1 would lie far outside"));
    EXPECT_THAT(refusal(make_document(), AddMark{rim(0), {1.0, wrong}}),
                HasSubstr("Rim mark 1 would lie far outside"));
    ++cases;
  }
  EXPECT_EQ(cases, 4);
  // A little outside the picture is a place: a rim may run out of it.
  after(make_document(), MoveMarks{{{rim(0), {-30.0, 700.0}}}});
}

TEST(MoveMarks, MovesSeveralOrNone) {
  const Document moved =
      after(make_document(), MoveMarks{{{rim(2), {1.0, 2.0}}, {left(0), {3.0, 4.0}}}});
  EXPECT_EQ(point_at(moved, rim(2)), (PhotoPoint{1.0, 2.0}));
  EXPECT_EQ(point_at(moved, left(0)), (PhotoPoint{3.0, 4.0}));
  EXPECT_THAT(refusal(make_document(), MoveMarks{{{rim(2), {1.0, 2.0}}, {rim(3), {1.0, 2.0}}}}),
              HasSubstr("no rim mark 4"));
}

TEST(RemoveMarks, TakesOutThoseNamedWhateverTheirOrder) {
  const Document left_over = after(make_document(), RemoveMarks{{rim(0), rim(2), rim(0), left(1)}});
  EXPECT_EQ(photo_of(left_over).marks.rim, (std::vector<PhotoPoint>{{200.0, 40.5}}));
  EXPECT_EQ(photo_of(left_over).marks.left, (std::vector<PhotoPoint>{{95.0, 150.0}}));
  EXPECT_EQ(refusal(make_document(), RemoveMarks{{rim(0), rim(5)}}), "There is no rim mark 6.");
}

TEST(Apply, ChangesWhatItNames) {
  const Document document = make_document();
  const Document lens = after(document, SetLens{0, 52.0, 3.0, true});
  EXPECT_EQ(photo_of(lens).focal_35mm, 52.0);
  EXPECT_EQ(photo_of(lens).focal_sd_percent, 3.0);
  EXPECT_TRUE(photo_of(lens).cropped);
  EXPECT_EQ(photo_of(after(document, SetGlass{0, std::nullopt})).glass, std::nullopt);
  EXPECT_EQ(photo_of(after(document, SetMarkPrecision{0, 2.5})).marks.sd_px, 2.5);
  EXPECT_EQ(photo_of(after(document, RemoveReference{0, 0})).references[0].kind, "disc");
  EXPECT_EQ(photo_of(after(document, AddReference{0, {}})).references.size(), 3u);
  EXPECT_EQ(after(document, SetName{"Jar"}).name, "Jar");
  EXPECT_EQ(after(document, SetNotes{"Top shelf"}).notes, "Top shelf");
  EXPECT_EQ(after(document, SetOutOfRound{0.5}).out_of_round_percent, 0.5);
  EXPECT_TRUE(after(document, SetRoundBase{true}).round_base);
  EXPECT_EQ(after(document, SetWall{7.0, 2.0}).wall.value_mm, 7.0);
  EXPECT_EQ(after(document, SetClay{std::nullopt}).clay, std::nullopt);
  EXPECT_EQ(after(document, SetBands{{{"Waves", 90.0, 110.0, 12, {}}}}).bands.at(0).repeats, 12);
  EXPECT_EQ(after(document, SetPlan{ProjectPlan{.coil_mm = 14.0}}).plan->coil_mm, 14.0);
  EXPECT_TRUE(after(document, RemovePhoto{0}).photos.empty());
  const PhotoRecord record{800, 600, 99, ""};
  const Document found = after(document, PointToPhoto{0, "/elsewhere/bowl.jpg", record});
  EXPECT_EQ(photo_of(found).file, "/elsewhere/bowl.jpg");
  EXPECT_EQ(photo_of(found).record, record);
  EXPECT_EQ(photo_of(found).marks, photo_of(document).marks);
}

TEST(Apply, RefusesWhatIsNotThere) {
  const Document document = make_document();
  const std::array<Command, 13> wrong = {RemovePhoto{1},
                                         PointToPhoto{1, "/a.jpg", {}},
                                         TurnPhoto{1, 1},
                                         SetLens{1, {}, {}, false},
                                         SetGlass{1, {}},
                                         AddReference{1, {}},
                                         SetReference{0, 2, {}},
                                         RemoveReference{0, 2},
                                         AddMark{{1, {}}, {1.0, 1.0}},
                                         AddMark{on_reference(2, 0), {1.0, 1.0}},
                                         MoveMarks{{{on_reference(2, 0), {1.0, 1.0}}}},
                                         RemoveMarks{{{1, {}}}},
                                         SetMarkPrecision{1, 1.0}};
  int cases = 0;
  for (const Command& command : wrong) {
    EXPECT_THAT(refusal(document, command), HasSubstr("There is no "))
        << command_words(document, command);
    ++cases;
  }
  EXPECT_EQ(cases, 13);
}

TEST(Apply, RefusesNumbersThatCannotBeSaved) {
  const Document document = make_document();
  ProjectReference card = document.photos[0].references[0];
  card.width_mm = -3.0;
  ProjectClay clay;
  clay.shrinkage_percent = 75.0;
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const std::array<Command, 9> wrong = {SetReference{0, 0, card},
                                        AddReference{0, card},
                                        SetLens{0, 0.0, {}, false},
                                        SetGlass{0, ProjectGlass{nan, 1.0, 1.5, {}}},
                                        SetMarkPrecision{0, 0.0},
                                        SetOutOfRound{nan},
                                        SetWall{-1.0, 1.0},
                                        SetClay{clay},
                                        SetPlan{ProjectPlan{.wall_mm = -3.0}}};
  int cases = 0;
  for (const Command& command : wrong) {
    EXPECT_THAT(refusal(document, command), HasSubstr("should be between"));
    ++cases;
  }
  EXPECT_EQ(cases, 9);
}

TEST(Apply, KeepsThePotsSizesStageByStage) {
  Document document = make_document();
  const auto set = [&](Stage stage, SizeName size, std::optional<BenchValue> value) {
    document = after(document, SetBenchSize{stage, size, value, "2026-11-25"});
  };
  set(Stage::kFired, SizeName::kHeight, BenchValue{235.0, 0.6});
  set(Stage::kWet, SizeName::kHeight, BenchValue{267.0, 0.6});
  set(Stage::kWet, SizeName::kMaxDiameter, BenchValue{270.0, 2.0});
  set(Stage::kWet, SizeName::kHeight, BenchValue{266.0, 0.6});
  ASSERT_EQ(document.bench.size(), 2U);
  EXPECT_EQ(document.bench[0].stage, Stage::kWet);  // in the order of the stages
  ASSERT_EQ(document.bench[0].sizes.size(), 2U);
  EXPECT_EQ(document.bench[0].sizes[0].value, 266.0);
  EXPECT_EQ(document.bench[0].date, "2026-11-25");
  set(Stage::kFired, SizeName::kHeight, std::nullopt);
  EXPECT_EQ(document.bench.size(), 1U);
  set(Stage::kFired, SizeName::kHeight, std::nullopt);  // there is none
  EXPECT_EQ(document.bench.size(), 1U);
  EXPECT_THAT(
      refusal(document, SetBenchSize{Stage::kWet, SizeName::kHeight, BenchValue{-1.0, 1.0}}),
      HasSubstr("should be between"));
  EXPECT_EQ(command_words(document, SetBenchSize{Stage::kWet, SizeName::kHeight, BenchValue{1, 1}}),
            "Measure the height");
}

TEST(Apply, KeepsAllSizesOfAStageAtOnce) {
  const Document before = after(
      make_document(),
      SetBenchSize{Stage::kWet, SizeName::kNeckDiameter, BenchValue{160.0, 1.0}, "2026-11-20"});
  const ProjectBench record{Stage::kWet, "2026-11-25", {{SizeName::kHeight, 266.0, 0.6, {}}}, {}};
  const Document document = after(before, SetBench{record});
  ASSERT_EQ(document.bench.size(), 1U);
  EXPECT_EQ(document.bench[0], record);
  EXPECT_EQ(command_words(before, SetBench{record}), "Keep the sizes of the wet pot");
  ProjectBench wrong = record;
  wrong.sizes[0].value = -1.0;
  EXPECT_THAT(refusal(before, SetBench{wrong}), HasSubstr("should be between"));
}

TEST(Apply, NamesPhotographsWithTheirFolder) {
  ProjectPhoto photo;
  photo.file = "jar.jpg";
  EXPECT_THAT(refusal({}, AddPhoto{photo}), HasSubstr("not named with its folder"));
  EXPECT_THAT(refusal(make_document(), PointToPhoto{0, "jar.jpg", {}}),
              HasSubstr("not named with its folder"));
}

TEST(Apply, RefusesMarksOnAThingThatTakesNone) {
  Document document = make_document();
  document.photos[0].references[0].kind = "size";
  EXPECT_THAT(refusal(document, AddMark{on_reference(0, 0), {1.0, 1.0}}),
              HasSubstr("takes no marks"));
}

TEST(Apply, KeepsWhatTheFileHeldBesides) {
  const Result<Project> project = parse_project(
      R"({ "potshadow": 1, "clay": { "name": "Buff mix", "kiln": "north" },
           "photos": [ { "file": "/a.jpg", "glass": { "tint": "grey" },
             "references": [ { "kind": "rectangle", "width_mm": 85.6, "worn": true } ] } ] })",
      "a.potshadow");
  ASSERT_TRUE(project.ok());
  ProjectClay clay;
  clay.name = "Red mix";
  ProjectReference card;
  card.kind = "rectangle";
  Document document = after(*project, SetClay{clay});
  document = after(document, SetReference{0, 0, card});
  document = after(document, SetGlass{0, ProjectGlass{}});
  const std::string text = project_text(document);
  EXPECT_THAT(text, HasSubstr("\"kiln\": \"north\""));
  EXPECT_THAT(text, HasSubstr("\"Red mix\""));
  EXPECT_THAT(text, HasSubstr("\"worn\": true"));
  EXPECT_THAT(text, HasSubstr("\"tint\": \"grey\""));
  // Another kind of thing is another thing.
  card.kind = "disc";
  EXPECT_THAT(project_text(after(document, SetReference{0, 0, card})),
              testing::Not(HasSubstr("worn")));
}

TEST(TurnPhoto, TurnsTheMarksOfEveryKindOfReference) {
  // 300 pixels high: (x, y) goes to (299 - y, x).
  const Document document = make_many_references();
  const ProjectPhoto turned = photo_of(after(document, TurnPhoto{0, 1}));
  EXPECT_EQ(turned.references[2].ends[0], (PhotoPoint{269.0, 20.0}));
  EXPECT_EQ(turned.references[2].shelf_at_glass->back(), (PhotoPoint{17.0, 390.0}));
  EXPECT_EQ(turned.references[3].crossings[0].at, (PhotoPoint{17.0, 120.0}));
  EXPECT_EQ(turned.references[3].crossings[0].column, 1);
  EXPECT_EQ(turned.references[4].marks.rim[1], (PhotoPoint{201.0, 360.0}));
  EXPECT_EQ(turned.references[4].marks.base[0], (PhotoPoint{19.0, 350.0}));
  EXPECT_EQ(turned.references[4].marks.left[0], (PhotoPoint{99.0, 335.0}));
  EXPECT_EQ(turned.references[4].marks.right[0], (PhotoPoint{109.0, 366.0}));
  EXPECT_EQ(after(document, TurnPhoto{0, 4}), document);
}

TEST(AddMark, GoesIntoTheListOfItsPart) {
  const Document document = make_many_references();
  const PhotoPoint at{7.0, 8.0};
  const auto marks_after = [&](std::size_t number, MarkPart part) {
    return photo_of(after(document, AddMark{on_reference(4, number), at, part}))
        .references[4]
        .marks;
  };
  // The neighbour has two rim marks, one on its foot, one left, two right.
  EXPECT_EQ(marks_after(2, MarkPart::kRim).rim.back(), at);
  EXPECT_EQ(marks_after(2, MarkPart::kRim).base.size(), 1U);
  EXPECT_EQ(marks_after(2, MarkPart::kBase).base.front(), at);
  EXPECT_EQ(marks_after(3, MarkPart::kBase).base.back(), at);
  EXPECT_EQ(marks_after(4, MarkPart::kLeft).left.back(), at);
  EXPECT_EQ(marks_after(5, MarkPart::kRight).right[1], at);
  EXPECT_EQ(marks_after(99, MarkPart::kRight).right.back(), at);
  EXPECT_EQ(marks_after(0, MarkPart::kRight).right.front(), at);
  EXPECT_EQ(marks_after(99, MarkPart::kVessel).rim.back(), at);
  const MarkId next = next_in(document, on_reference(4, 0), MarkPart::kLeft);
  EXPECT_EQ(point_at(after(document, AddMark{next, at, MarkPart::kLeft}), next), at);
}

TEST(AddMark, GivesALengthTwoEndsAtMost) {
  const Document both =
      after(make_many_references(), AddMark{on_reference(2, 1), {9.0, 30.0}, MarkPart::kEnd});
  EXPECT_EQ(photo_of(both).references[2].ends.size(), 2U);
  EXPECT_THAT(refusal(both, AddMark{on_reference(2, 2), {1.0, 1.0}}), HasSubstr("both its ends"));
  EXPECT_THAT(refusal(both, AddMark{on_reference(3, 4), {1.0, 1.0}}), HasSubstr("all its corners"));
}

TEST(AddMark, PutsACrossingInWhereItsGridHasNoneYet) {
  const Document document = make_many_references();
  const PhotoPoint at{260.0, 290.0};
  const MarkId next = next_in(document, on_reference(3, 0), MarkPart::kCrossing);
  EXPECT_EQ(next, on_reference(3, 5));
  const Document more = after(document, AddMark{next, at, MarkPart::kCrossing, {5, -1}});
  const ProjectReference::Crossing crossing{at, 5, -1};
  ASSERT_EQ(photo_of(more).references[3].crossings.size(), 2U);
  EXPECT_EQ(photo_of(more).references[3].crossings[1], crossing);
  ASSERT_NE(crossing_of(more, next), nullptr);
  EXPECT_EQ(*crossing_of(more, next), crossing);
  EXPECT_EQ(crossing_of(more, on_reference(3, 3)), nullptr);  // a corner
  EXPECT_EQ(crossing_of(more, on_reference(0, 0)), nullptr);
  EXPECT_EQ(crossing_of(more, on_reference(3, 6)), nullptr);
  EXPECT_EQ(photo_of(after(document, AddMark{on_reference(3, 4), at, MarkPart::kCrossing, {5, -1}}))
                .references[3]
                .crossings.front(),
            crossing);
  EXPECT_EQ(after(more, RemoveMarks{{next}}), document);
  // Each once: the block's corners are crossings too.
  int cases = 0;
  for (const GridPlace& taken : {GridPlace{0, 0}, GridPlace{3, 0}, GridPlace{3, 2}, GridPlace{0, 2},
                                 GridPlace{1, 1}, GridPlace{5, -1}}) {
    EXPECT_TRUE(is_marked(photo_of(more).references[3], taken));
    EXPECT_THAT(refusal(more, AddMark{next, at, MarkPart::kCrossing, taken}),
                HasSubstr("The crossing at column " + std::to_string(taken.column) + ", row " +
                          std::to_string(taken.row) + " is marked already."));
    ++cases;
  }
  EXPECT_EQ(cases, 6);
  EXPECT_FALSE(is_marked(photo_of(more).references[3], {2, 2}));
  EXPECT_THAT(refusal(more, AddMark{next, {1e300, 0.0}, MarkPart::kCrossing, {2, 2}}),
              HasSubstr("would lie far outside"));
  EXPECT_FALSE(apply(more, AddMark{next, at, MarkPart::kCrossing, {20000, 2}}).ok());
}

TEST(AddMark, RefusesAPartThatTheReferenceLacks) {
  const Document document = make_many_references();
  int cases = 0;
  for (const auto& [reference, part] : {std::pair{0U, MarkPart::kRim},
                                        {2U, MarkPart::kShelfLine},
                                        {0U, MarkPart::kCrossing},
                                        {4U, MarkPart::kCorner},
                                        {5U, MarkPart::kVessel},
                                        {6U, MarkPart::kEnd}}) {
    EXPECT_THAT(refusal(document, AddMark{on_reference(reference, 0), {1.0, 1.0}, part}),
                HasSubstr("takes no marks"));
    ++cases;
  }
  EXPECT_EQ(cases, 6);
}

TEST(RemoveMarks, TakesTheLineWhereShelfAndPaneMeetOutWhole) {
  const Document document = make_many_references();
  // The length has one end; the line's marks follow it.
  EXPECT_EQ(
      photo_of(after(document, RemoveMarks{{on_reference(2, 2)}})).references[2].shelf_at_glass,
      std::nullopt);
  const Document bare =
      after(document, RemoveMarks{{on_reference(2, 0), on_reference(2, 1), on_reference(2, 2)}});
  EXPECT_EQ(photo_of(bare).references[2].shelf_at_glass, std::nullopt);
  EXPECT_TRUE(photo_of(bare).references[2].ends.empty());
}

TEST(RemoveMarks, ReachesEveryListOfAReference) {
  const Document document = make_many_references();
  const Document bare =
      after(document, RemoveMarks{{on_reference(4, 0), on_reference(4, 2), on_reference(4, 3),
                                   on_reference(4, 5), on_reference(3, 4), on_reference(3, 1)}});
  const ProjectMarks marks = photo_of(bare).references[4].marks;
  EXPECT_EQ(marks.rim, (std::vector<PhotoPoint>{{360.0, 98.0}}));
  EXPECT_TRUE(marks.base.empty());
  EXPECT_TRUE(marks.left.empty());
  EXPECT_EQ(marks.right, (std::vector<PhotoPoint>{{366.0, 190.0}}));
  EXPECT_TRUE(photo_of(bare).references[3].crossings.empty());
  EXPECT_EQ(photo_of(bare).references[3].corners.size(), 3U);
}

TEST(MoveMarks, MovesMarksOfEveryKindOfReference) {
  const Document document = make_many_references();
  const PhotoPoint at{11.0, 12.0};
  int moved = 0;
  for (const MarkId& mark : marks_of(document, 0)) {
    const Document there = after(document, MoveMarks{{{mark, at}}});
    for (const MarkId& other : marks_of(document, 0)) {
      EXPECT_EQ(point_at(there, other), other == mark ? at : point_at(document, other));
    }
    ++moved;
  }
  // Seven on the vessel, three corners, two on the coin, three, five and six.
  EXPECT_EQ(moved, 26);
}

TEST(CommandWords, SayWhatIsDone) {
  const Document document = make_many_references();
  const auto words = [&](const Command& command) { return command_words(document, command); };
  EXPECT_EQ(words(AddMark{rim(0), {}}), "Add rim mark");
  EXPECT_EQ(words(AddMark{on_reference(0, 3), {}}), "Add mark on reference 1");
  EXPECT_EQ(words(AddMark{on_reference(4, 3), {}, MarkPart::kLeft}),
            "Add left mark on reference 5");
  EXPECT_EQ(words(AddMark{on_reference(3, 5), {}, MarkPart::kCrossing, {5, 1}}),
            "Add crossing mark on reference 4");
  EXPECT_EQ(words(MoveMarks{{{rim(6), {}}}}), "Move rim mark 7");
  EXPECT_EQ(words(MoveMarks{{{rim(0), {}}, {rim(1), {}}, {left(0), {}}}}), "Move 3 marks");
  EXPECT_EQ(words(RemoveMarks{{on_reference(0, 1)}}), "Remove corner 2 of reference 1");
  EXPECT_EQ(words(MoveMarks{{{on_reference(4, 2), {}}}}), "Move foot mark 1 of reference 5");
  EXPECT_EQ(words(TurnPhoto{0, -1}), "Turn photograph to the left");
  EXPECT_EQ(words(SetReference{0, 1, {}}), "Change reference 2");
  EXPECT_EQ(words(SetClay{}), "Remove clay");
  EXPECT_EQ(words(SetPlan{}), "Change the building plan");
  EXPECT_EQ(words(SetTrace{0, {}}), "Remove traced outline");
  EXPECT_EQ(words(SetTrace{0, make_trace()}), "Trace outline");
}

TEST(CommandWords, TellWhatWasDoneToATrace) {
  Document document = make_document();
  document.photos[0].trace = make_trace();
  const auto words = [&](const ProjectTrace& trace) {
    return command_words(document, SetTrace{0, trace});
  };
  ProjectTrace other_box = make_trace();
  other_box.box[0] = {70.0, 30.0};
  EXPECT_EQ(words(other_box), "Trace outline");
  ProjectTrace painted = make_trace();
  painted.strokes.push_back({true, 9.0, {{150.0, 100.0}}});
  EXPECT_EQ(words(painted), "Paint vessel");
  painted.strokes.back().vessel = false;
  EXPECT_EQ(words(painted), "Paint away");
  ProjectTrace rubbed = make_trace();
  rubbed.left.pop_back();
  EXPECT_EQ(words(rubbed), "Rub out traced marks");
}

// A corner that is dragged is no more precise than other marks of the hand, however well the card
// was found before; what was stated to be rougher stays.
TEST(MoveMarks, ForgetsHowWellTheReferenceWasFound) {
  Document document = make_document();
  ProjectReference& card = document.photos[0].references.at(0);
  ASSERT_EQ(card.kind, "rectangle");
  const MarkId corner{0, {MarkKind::kReference, 0, 1}};
  const std::optional<double> none;
  for (const auto& [before, left] :
       {std::pair(std::optional(0.3), none), std::pair(std::optional(9.0), std::optional(9.0))}) {
    card.marks_sd_px = before;
    const Document moved = after(document, MoveMarks{{{corner, PhotoPoint{150.0, 190.0}}}});
    EXPECT_EQ(photo_of(moved).references[0].marks_sd_px, left);
  }
}

}  // namespace
}  // namespace potshadow
