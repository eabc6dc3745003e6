// SPDX-License-Identifier: MIT
#include "desktop/document/command.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>

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
  EXPECT_FALSE(changed.ok()) << command_words(command);
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
        "height_px": 30, "references": [ { "kind": "grid", "rows_px": [[1, 2]] } ] } ] })",
                    "a.potshadow");
  ASSERT_TRUE(project.ok());
  EXPECT_THAT(refusal(*project, TurnPhoto{0, 1}), HasSubstr("kind 'grid'"));
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
    EXPECT_THAT(refusal(document, command), HasSubstr("There is no ")) << command_words(command);
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
  const std::array<Command, 8> wrong = {
      SetReference{0, 0, card},   AddReference{0, card},
      SetLens{0, 0.0, {}, false}, SetGlass{0, ProjectGlass{nan, 1.0, 1.5, {}}},
      SetMarkPrecision{0, 0.0},   SetOutOfRound{nan},
      SetWall{-1.0, 1.0},         SetClay{clay}};
  int cases = 0;
  for (const Command& command : wrong) {
    EXPECT_THAT(refusal(document, command), HasSubstr("should be between"));
    ++cases;
  }
  EXPECT_EQ(cases, 8);
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

TEST(CommandWords, SayWhatIsDone) {
  EXPECT_EQ(command_words(AddMark{rim(0), {}}), "Add rim mark");
  EXPECT_EQ(command_words(MoveMarks{{{rim(6), {}}}}), "Move rim mark 7");
  EXPECT_EQ(command_words(MoveMarks{{{rim(0), {}}, {rim(1), {}}, {left(0), {}}}}), "Move 3 marks");
  EXPECT_EQ(command_words(RemoveMarks{{on_reference(0, 1)}}), "Remove corner 2 of reference 1");
  EXPECT_EQ(command_words(TurnPhoto{0, -1}), "Turn photograph to the left");
  EXPECT_EQ(command_words(SetReference{0, 1, {}}), "Change reference 2");
  EXPECT_EQ(command_words(SetClay{}), "Remove clay");
}

}  // namespace
}  // namespace potshadow
