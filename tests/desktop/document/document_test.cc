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

TEST(PointsOf, GivesEachListAndNothingElsewhere) {
  const Document document = make_document();
  EXPECT_EQ(points_of(document, rim(0)).size(), 3u);
  EXPECT_EQ(points_of(document, rim(99)).size(), 3u);
  EXPECT_EQ(points_of(document, on_reference(0, 0)).size(), 3u);
  EXPECT_EQ(points_of(document, on_reference(1, 0)).size(), 2u);
  EXPECT_TRUE(points_of(document, on_reference(2, 0)).empty());
  EXPECT_TRUE(points_of(document, {1, {}}).empty());
  EXPECT_EQ(point_at(document, rim(1)), (PhotoPoint{200.0, 40.5}));
  EXPECT_EQ(point_at(document, rim(3)), std::nullopt);
  EXPECT_EQ(point_at(document, on_reference(1, 1)), (PhotoPoint{310.0, 275.0}));
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

}  // namespace
}  // namespace potshadow
