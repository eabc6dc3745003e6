// SPDX-License-Identifier: MIT
// What the file browser lists, and how it understands what is typed or pasted.
#include "desktop/window/folder_listing.h"

#include <gmock/gmock.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <string>
#include <utility>
#include <vector>

#include "desktop/words/file_names.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::EndsWith;

class FolderListing : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "potshadow-browser-XXXXXX").string();
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override {
    std::error_code error;
    fs::permissions(folder_, fs::perms::owner_all, error);
    fs::remove_all(folder_, error);
  }

  void put(const std::string& name, std::size_t bytes = 0) {
    std::ofstream(folder_ / name, std::ios::binary) << std::string(bytes, 'x');
  }
  std::vector<std::string> names(const ListingChoice& choice) {
    const auto entries = list_folder(folder_, choice);
    EXPECT_TRUE(entries);
    std::vector<std::string> found;
    if (!entries) return found;
    for (const FolderEntry& entry : *entries)
      found.push_back(entry.name + (entry.folder ? "/" : ""));
    return found;
  }

  fs::path folder_;
};

TEST_F(FolderListing, FoldersComeFirstAndCaseDoesNotSort) {
  for (const char* name : {"b.jpg", "A.JPEG", "c.potshadow", "notes.txt", "template.pdf"})
    put(name);
  fs::create_directory(folder_ / "zoo");
  fs::create_directory(folder_ / "Amphorae");
  EXPECT_THAT(names({}), ElementsAre("Amphorae/", "zoo/", "A.JPEG", "b.jpg", "c.potshadow"));
  EXPECT_THAT(names({.photos = true, .projects = false}),
              ElementsAre("Amphorae/", "zoo/", "A.JPEG", "b.jpg"));
  EXPECT_THAT(names({.photos = false, .projects = false, .saved = ".pdf"}),
              ElementsAre("Amphorae/", "zoo/", "template.pdf"));
}

TEST_F(FolderListing, HiddenNamesAreShownOnlyWhenAskedFor) {
  put(".hidden.png");
  put("seen.png");
  fs::create_directory(folder_ / ".cache");
  EXPECT_THAT(names({}), ElementsAre("seen.png"));
  EXPECT_THAT(names({.hidden = true}), ElementsAre(".cache/", ".hidden.png", "seen.png"));
}

TEST_F(FolderListing, SizesAreThoseOfTheFilesAndDeadLinksAreLeftOut) {
  put("jar.png", 1234);
  fs::create_symlink(folder_ / "nowhere.png", folder_ / "dead.png");
  fs::create_directory(folder_ / "real");
  fs::create_directory_symlink(folder_ / "real", folder_ / "linked");
  const auto entries = list_folder(folder_, {});
  ASSERT_TRUE(entries);
  EXPECT_THAT(*entries, ElementsAre(FolderEntry{"linked", true, 0}, FolderEntry{"real", true, 0},
                                    FolderEntry{"jar.png", false, 1234}));
}

TEST_F(FolderListing, WhatCannotBeListedIsExplained) {
  put("file.png");
  const auto missing = list_folder(folder_ / "nowhere", {});
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.problem().code, Code::kFileMissing);
  EXPECT_THAT(missing.problem().what, EndsWith("."));
  EXPECT_FALSE(missing.problem().next.empty());
  const auto file = list_folder(folder_ / "file.png", {});
  ASSERT_FALSE(file);
  EXPECT_EQ(file.problem().code, Code::kFileUnreadable);
}

TEST_F(FolderListing, AFolderWithoutPermissionIsExplained) {
  if (::geteuid() == 0) GTEST_SKIP() << "the superuser may read every folder";
  fs::permissions(folder_, fs::perms::none);
  const auto closed = list_folder(folder_, {});
  ASSERT_FALSE(closed);
  EXPECT_EQ(closed.problem().code, Code::kFileUnreadable);
}

TEST(TypedPath, IsUnderstoodAsTypedOrPasted) {
  // The third and fourth are the forms of RFC 8089, appendix B, with the escapes of RFC 3986.
  const std::vector<std::pair<std::string, std::string>> cases{
      {"/pots/jar.jpg", "/pots/jar.jpg"},
      {"  /pots/jar.jpg \r\n", "/pots/jar.jpg"},
      {"file:///pots/Krukke%20%C3%B8.jpg", "/pots/Krukke ø.jpg"},
      {"file://localhost/pots/jar.jpg", "/pots/jar.jpg"},
      {"'/pots/my jar.jpg'", "/pots/my jar.jpg"},
      {"\"/pots/my jar.jpg\"", "/pots/my jar.jpg"},
      {"'/pots/half quoted.jpg", "/bench/shelf/'/pots/half quoted.jpg"},
      {"/pots/100%25.jpg", "/pots/100%25.jpg"},
      {"/pots/a.jpg\n/pots/b.jpg", "/pots/a.jpg"},
      {"jar.jpg", "/bench/shelf/jar.jpg"},
      {"../jar.jpg", "/bench/jar.jpg"},
      {"~", "/users/mo"},
      {"~/jar.jpg", "/users/mo/jar.jpg"},
      {"~mo", "/bench/shelf/~mo"},
      {"file:///a%2", "/a%2"},
      {"", ""},
      {" \n", ""},
      {"''", ""},
      {"file://", ""}};
  int tried = 0;
  for (const auto& [text, path] : cases) {
    EXPECT_EQ(typed_path(text, "/bench/shelf", "/users/mo").string(), path) << text;
    ++tried;
  }
  EXPECT_EQ(tried, 19);
}

TEST(Ending, IsPutBehindOnlyWhereItIsMissing) {
  EXPECT_EQ(with_ending("/a/jar", ".potshadow"), "/a/jar.potshadow");
  EXPECT_EQ(with_ending("/a/jar.potshadow", ".potshadow"), "/a/jar.potshadow");
  EXPECT_EQ(with_ending("/a/jar.POTSHADOW", ".potshadow"), "/a/jar.POTSHADOW");
  EXPECT_EQ(with_ending("/a/jar 1.5", ".pdf"), "/a/jar 1.5.pdf");
}

TEST(ProjectFileName, IsSafeOnAnyFileSystem) {
  EXPECT_EQ(project_file_name("Shelf jar"), "Shelf jar.potshadow");
  EXPECT_EQ(project_file_name("a/b\\c:d"), "a b c d.potshadow");
  EXPECT_EQ(project_file_name("..hidden. "), "hidden.potshadow");
  EXPECT_EQ(project_file_name(""), "Vessel.potshadow");
  EXPECT_EQ(project_file_name("Krukke ø"), "Krukke ø.potshadow");
  // The longest name that common file systems take has 255 bytes (common practice, no source); no
  // letter is cut in two.
  std::string many;
  for (int i = 0; i < 200; ++i) many += "ø";
  const std::string name = project_file_name(many);
  EXPECT_LE(name.size(), 255U);
  EXPECT_EQ((name.size() - std::string(".potshadow").size()) % 2, 0U);
}

TEST(BytesText, CountsInThousandsAsTheSiPrefixesDo) {
  // Source: BIPM, The International System of Units, 9th edition, table 7.
  EXPECT_EQ(bytes_text(0), "0 bytes");
  EXPECT_EQ(bytes_text(999), "999 bytes");
  EXPECT_EQ(bytes_text(1000), "1 kB");
  EXPECT_EQ(bytes_text(811'600), "812 kB");
  EXPECT_EQ(bytes_text(4'160'000), "4.2 MB");
}

TEST(PicturesFolder, IsReadFromTheUsersFoldersOrGuessed) {
  std::string pattern = (fs::temp_directory_path() / "potshadow-home-XXXXXX").string();
  ASSERT_NE(mkdtemp(pattern.data()), nullptr);
  const fs::path home = pattern;
  const char* const before = std::getenv("XDG_CONFIG_HOME");
  const std::string kept = before == nullptr ? "" : before;
  ::unsetenv("XDG_CONFIG_HOME");
  EXPECT_FALSE(pictures_folder(home));
  fs::create_directory(home / "Pictures");
  EXPECT_EQ(pictures_folder(home), home / "Pictures");
  fs::create_directories(home / ".config");
  fs::create_directories(home / "Bilder");
  std::ofstream(home / ".config/user-dirs.dirs")
      << "# made by hand\nXDG_MUSIC_DIR=\"$HOME/Musik\"\nXDG_PICTURES_DIR=\"$HOME/Bilder\"\n";
  EXPECT_EQ(pictures_folder(home), home / "Bilder");
  if (before != nullptr) ::setenv("XDG_CONFIG_HOME", kept.c_str(), 1);
  fs::remove_all(home);
}

}  // namespace
}  // namespace potshadow
