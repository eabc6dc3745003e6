// SPDX-License-Identifier: MIT
#include "desktop/session/opened_file.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <utility>
#include <vector>

namespace potshadow {
namespace {

namespace fs = std::filesystem;

TEST(FileKind, GoesByTheEndingInAnyCase) {
  const std::vector<std::pair<std::string, FileKind>> cases{{"a.jpg", FileKind::kPhoto},
                                                            {"a.JPEG", FileKind::kPhoto},
                                                            {"a.Png", FileKind::kPhoto},
                                                            {"a.tif", FileKind::kPhoto},
                                                            {"a.TIFF", FileKind::kPhoto},
                                                            {"a.webp", FileKind::kPhoto},
                                                            {"a.heic", FileKind::kPhoto},
                                                            {"a.heif", FileKind::kPhoto},
                                                            {"a.avif", FileKind::kPhoto},
                                                            {"a.HIF", FileKind::kPhoto},
                                                            {"a.potshadow", FileKind::kProject},
                                                            {"a.POTSHADOW", FileKind::kProject},
                                                            {"a.jpg.txt", FileKind::kOther},
                                                            {"jpg", FileKind::kOther},
                                                            {"", FileKind::kOther},
                                                            {".jpg", FileKind::kOther}};
  int tried = 0;
  for (const auto& [name, kind] : cases) {
    EXPECT_EQ(file_kind(name), kind) << name;
    ++tried;
  }
  EXPECT_EQ(tried, 16);
}

class OpenedFile : public ::testing::Test {
 protected:
  OpenedFile() : folder_(fs::path(::testing::TempDir()) / "opened file") {
    fs::remove_all(folder_);
    fs::create_directories(folder_ / "far" / "inner");
    std::ofstream(folder_ / "pot.txt") << "a pot";
  }
  ~OpenedFile() override { fs::remove_all(folder_); }

  fs::path folder_;
};

TEST_F(OpenedFile, IsToldWhyItCannotBeOpened) {
  EXPECT_EQ(cannot_open(folder_ / "none.txt").code, Code::kFileMissing);
  const Problem folder = cannot_open(folder_);
  EXPECT_EQ(folder.code, Code::kFileUnreadable);
  EXPECT_NE(folder.what.find("is a folder"), std::string::npos);
  const Problem other = cannot_open(folder_ / "pot.txt");
  EXPECT_EQ(other.code, Code::kFileUnreadable);
  EXPECT_NE(other.what.find("neither a project nor a photograph"), std::string::npos);
}

TEST_F(OpenedFile, HasAPathWithoutNeedlessParts) {
  EXPECT_EQ(absolute_path(folder_ / "far" / ".." / "pot.txt"), folder_ / "pot.txt");
  // Out of a folder that is a link ".." leads elsewhere than the names say.
  fs::create_directory_symlink(folder_ / "far" / "inner", folder_ / "link");
  std::ofstream(folder_ / "far" / "pot.txt") << "another pot";
  const fs::path there = absolute_path(folder_ / "link" / ".." / "pot.txt");
  EXPECT_TRUE(fs::equivalent(there, folder_ / "far" / "pot.txt"));
}

TEST_F(OpenedFile, IsTheSameByTwoPaths) {
  fs::create_symlink(folder_ / "pot.txt", folder_ / "other name.txt");
  EXPECT_TRUE(same_file(folder_ / "pot.txt", folder_ / "other name.txt"));
  EXPECT_TRUE(same_file("not there", "not there"));
  EXPECT_FALSE(same_file(folder_ / "pot.txt", folder_ / "not there"));
}

}  // namespace
}  // namespace potshadow
