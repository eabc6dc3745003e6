// SPDX-License-Identifier: MIT
#include "desktop/document/document.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "core/temporary_folder.h"
#include "desktop/document/make_document.h"

namespace potshadow {
namespace {

using testing::ElementsAre;

Project project_with_file(const std::string& file) {
  Project project;
  project.photos.resize(1);
  project.photos[0].file = file;
  return project;
}

TEST(DocumentOf, NamesPhotographsByAbsolutePathAndBack) {
  const std::filesystem::path folder = "/larkmoor/case-3";
  int cases = 0;
  for (const char* name : {"jar.jpg", "photos/jar.jpg", "../case-2/jar.jpg", "a b/grün.png"}) {
    const Project project = project_with_file(name);
    const Document document = document_of(project, folder);
    EXPECT_EQ(document.photos[0].file, "/larkmoor/case-3/" + std::string(name));
    EXPECT_EQ(project_of(document, folder), project) << name;
    ++cases;
  }
  EXPECT_EQ(cases, 4);
}

TEST(DocumentOf, LeavesAbsoluteAndMissingNames) {
  EXPECT_EQ(document_of(project_with_file("/a/jar.jpg"), "/b").photos[0].file, "/a/jar.jpg");
  EXPECT_EQ(document_of(project_with_file(""), "/b").photos[0].file, "");
  EXPECT_EQ(project_of(project_with_file(""), "/b").photos[0].file, "");
}

TEST(DocumentOf, TakesAnEmptyFolderForTheCurrentOne) {
  const Document document = document_of(project_with_file("jar.jpg"), "");
  EXPECT_EQ(document.photos[0].file, (std::filesystem::current_path() / "jar.jpg").string());
  EXPECT_EQ(project_of(document, "").photos[0].file, "jar.jpg");
}

TEST(ProjectOf, NamesRelativeToAnotherFolder) {
  const Document document = project_with_file("/larkmoor/case-3/jar.jpg");
  EXPECT_EQ(project_of(document, "/larkmoor").photos[0].file, "case-3/jar.jpg");
  EXPECT_EQ(project_of(document, "/larkmoor/copies").photos[0].file, "../case-3/jar.jpg");
}

TEST(ProjectOf, NameLeadsToThePhotographWhereAFolderIsALink) {
  const TemporaryFolder temporary;
  namespace fs = std::filesystem;
  fs::create_directories(temporary.path() / "deep/down/projects");
  fs::create_directories(temporary.path() / "photos");
  fs::create_directory_symlink(temporary.path() / "deep/down/projects", temporary.path() / "link");
  const Document document = project_with_file((temporary.path() / "photos" / "jar.jpg").string());
  const fs::path folder = temporary.path() / "link";
  const fs::path name = project_of(document, folder).photos[0].file;
  EXPECT_FALSE(name.is_absolute());
  EXPECT_EQ(fs::weakly_canonical(folder / name), fs::weakly_canonical(document.photos[0].file));
}

TEST(MarksIn, CountsEachListAndNothingElsewhere) {
  const Document document = make_many_references();
  const auto on = [&](std::size_t reference, MarkPart part) {
    return marks_in(document, on_reference(reference, 99), part);
  };
  EXPECT_EQ(marks_in(document, rim(99), MarkPart::kVessel), 3U);
  EXPECT_EQ(on(0, MarkPart::kCorner), 3U);
  EXPECT_EQ(on(0, MarkPart::kEdge), 0U);
  EXPECT_EQ(on(1, MarkPart::kEdge), 2U);
  EXPECT_EQ(on(2, MarkPart::kEnd), 1U);
  EXPECT_EQ(on(2, MarkPart::kShelfLine), 2U);
  EXPECT_EQ(on(3, MarkPart::kCrossing), 1U);
  EXPECT_EQ(on(4, MarkPart::kRight), 2U);
  EXPECT_EQ(on(5, MarkPart::kCorner), 0U);
  EXPECT_EQ(on(9, MarkPart::kCorner), 0U);
  EXPECT_EQ(marks_in(document, {1, {}}, MarkPart::kVessel), 0U);
}

TEST(PointAt, FindsMarksOfEveryKind) {
  const Document document = make_many_references();
  EXPECT_EQ(point_at(document, rim(1)), (PhotoPoint{200.0, 40.5}));
  EXPECT_EQ(point_at(document, rim(3)), std::nullopt);
  EXPECT_EQ(point_at(document, on_reference(1, 1)), (PhotoPoint{310.0, 275.0}));
  EXPECT_EQ(point_at(document, on_reference(2, 2)), (PhotoPoint{390.0, 282.0}));
  EXPECT_EQ(point_at(document, on_reference(3, 4)), (PhotoPoint{120.0, 282.0}));
  EXPECT_EQ(point_at(document, on_reference(4, 5)), (PhotoPoint{367.0, 210.0}));
  EXPECT_EQ(point_at(document, on_reference(4, 6)), std::nullopt);
  EXPECT_EQ(point_at(document, on_reference(5, 0)), std::nullopt);
  EXPECT_EQ(point_at(document, on_reference(7, 0)), std::nullopt);
}

// The line where shelf and pane meet counts only while the thing is on the pane.
TEST(PointAt, LeavesTheLineOnThePaneOutElsewhere) {
  Document document = make_many_references();
  document.photos[0].references[2].place = "standing";
  EXPECT_EQ(marks_in(document, on_reference(2, 0), MarkPart::kShelfLine), 0U);
  EXPECT_EQ(point_at(document, on_reference(2, 1)), std::nullopt);
}

TEST(NextIn, FollowsTheLastOfItsPart) {
  const Document document = make_many_references();
  EXPECT_EQ(next_in(document, rim(0), MarkPart::kVessel), rim(3));
  EXPECT_EQ(next_in(document, on_reference(0, 0), MarkPart::kCorner), on_reference(0, 3));
  EXPECT_EQ(next_in(document, on_reference(4, 9), MarkPart::kRim), on_reference(4, 2));
  EXPECT_EQ(next_in(document, on_reference(4, 9), MarkPart::kBase), on_reference(4, 3));
  EXPECT_EQ(next_in(document, on_reference(4, 9), MarkPart::kRight), on_reference(4, 6));
  EXPECT_EQ(next_in(document, on_reference(5, 9), MarkPart::kCorner), on_reference(5, 0));
}

TEST(FirstPart, GoesByTheKind) {
  std::vector<MarkPart> parts;
  const Document document = make_many_references();
  for (const ProjectReference& reference : document.photos[0].references) {
    parts.push_back(first_part(reference));
  }
  EXPECT_THAT(parts,
              ElementsAre(MarkPart::kCorner, MarkPart::kEdge, MarkPart::kEnd, MarkPart::kCorner,
                          MarkPart::kRim, MarkPart::kVessel, MarkPart::kVessel));
}

TEST(NeighbourPart, GoesWithAKindBothWays) {
  int kinds = 0;
  for (const MarkKind kind : {MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft, MarkKind::kRight}) {
    EXPECT_EQ(kind_of_part(neighbour_part(kind)), kind);
    ++kinds;
  }
  EXPECT_EQ(kinds, 4);
  EXPECT_EQ(neighbour_part(MarkKind::kReference), MarkPart::kVessel);
  for (const MarkPart part : {MarkPart::kVessel, MarkPart::kCorner, MarkPart::kShelfLine}) {
    EXPECT_EQ(kind_of_part(part), std::nullopt);
  }
}

TEST(MarksOf, ListsEveryMarkInOrder) {
  std::vector<std::string> words;
  for (const MarkId& mark : marks_of(make_document(), 0)) {
    words.push_back(mark_words(make_document(), mark));
  }
  EXPECT_THAT(words,
              ElementsAre("rim mark 1", "rim mark 2", "rim mark 3", "foot mark 1", "left mark 1",
                          "left mark 2", "right mark 1", "corner 1 of reference 1",
                          "corner 2 of reference 1", "corner 3 of reference 1",
                          "edge mark 1 of reference 2", "edge mark 2 of reference 2"));
  EXPECT_TRUE(marks_of(make_document(), 1).empty());
}

TEST(MarksOf, ListsTheMarksOfEveryKindOfReference) {
  const Document document = make_many_references();
  std::vector<std::string> words;
  for (const MarkId& mark : marks_of(document, 0)) {
    if (mark.place.kind != MarkKind::kReference || mark.place.reference < 2) continue;
    words.push_back(mark_words(document, mark));
  }
  EXPECT_THAT(words, ElementsAre("end 1 of reference 3", "shelf line mark 1 of reference 3",
                                 "shelf line mark 2 of reference 3", "corner 1 of reference 4",
                                 "corner 2 of reference 4", "corner 3 of reference 4",
                                 "corner 4 of reference 4", "crossing 1 of reference 4",
                                 "rim mark 1 of reference 5", "rim mark 2 of reference 5",
                                 "foot mark 1 of reference 5", "left mark 1 of reference 5",
                                 "right mark 1 of reference 5", "right mark 2 of reference 5"));
  EXPECT_EQ(mark_words(document, on_reference(5, 0)), "mark 1 of reference 6");
}

TEST(TracedMarks, AreNumberedOnAfterThoseOfTheHand) {
  Document document = make_document();
  document.photos[0].trace = make_trace();
  const auto left = [](std::size_t number) { return MarkId{0, {MarkKind::kLeft, 0, number}}; };
  // Two by hand; the first traced one lies beside the first of them and does not count.
  EXPECT_EQ(traced_point_at(document, left(1)), std::nullopt);
  EXPECT_EQ(traced_point_at(document, left(2)), (std::optional<PhotoPoint>({110.0, 220.0})));
  EXPECT_EQ(traced_point_at(document, left(3)), std::nullopt);
  EXPECT_EQ(traced_point_at(document, {1, {MarkKind::kLeft, 0, 2}}), std::nullopt);
  EXPECT_EQ(traced_point_at(document, {0, {MarkKind::kReference, 0, 3}}), std::nullopt);
  EXPECT_EQ(point_at(document, left(2)), std::nullopt);
  EXPECT_EQ(mark_words(document, left(1)), "left mark 2");
  EXPECT_EQ(mark_words(document, left(2)), "traced left mark 1");
  EXPECT_EQ(mark_words(make_document(), left(2)), "left mark 3");
}

}  // namespace
}  // namespace potshadow
