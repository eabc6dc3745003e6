// SPDX-License-Identifier: MIT
#include "core/file_lock.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "core/files.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Adds one line to a file so often; each time it reads the whole, as a program with a book does.
void add_lines(const std::filesystem::path& file, int lines) {
  for (int i = 0; i < lines; ++i) {
    const Result<FileLock> lock = FileLock::take(file);
    if (!lock) ::_exit(2);
    const Result<std::string> old = read_file(file, 1'000'000);
    const std::string all = (old.ok() ? *old : std::string()) + "line\n";
    if (!write_file_whole(file, all)) ::_exit(3);
  }
}

TEST(FileLock, NoChangeOfAnotherProcessIsLost) {
  const TemporaryFolder folder;
  const std::filesystem::path file = folder.path() / "book.json";
  constexpr int kProcesses = 6;
  constexpr int kLines = 15;
  std::vector<pid_t> children;
  for (int i = 0; i < kProcesses; ++i) {
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      add_lines(file, kLines);
      ::_exit(0);
    }
    children.push_back(child);
  }
  for (const pid_t child : children) {
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    EXPECT_EQ(status, 0);
  }
  EXPECT_EQ(std::filesystem::file_size(file), kProcesses * kLines * std::string("line\n").size());
  EXPECT_THAT(folder.names(), ElementsAre("book.json"));
}

TEST(FileLock, WhatAKilledProgramLeftLocksNothing) {
  const TemporaryFolder folder;
  const std::filesystem::path left = folder.path() / ".potshadow-book.json.lock";
  std::ofstream(left) << "";
  {
    const Result<FileLock> lock = FileLock::take(folder.path() / "book.json");
    EXPECT_TRUE(lock.ok());
    EXPECT_TRUE(std::filesystem::exists(left));
  }
  EXPECT_THAT(folder.names(), IsEmpty());
}

TEST(FileLock, OneThatIsHeldForLongIsNamed) {
  const TemporaryFolder folder;
  const std::filesystem::path file = folder.path() / "book.json";
  const Result<FileLock> held = FileLock::take(file);
  ASSERT_TRUE(held.ok());
  const Result<FileLock> second = FileLock::take(file);
  ASSERT_FALSE(second.ok());
  EXPECT_EQ(second.problem().code, Code::kFileUnwritable);
  EXPECT_THAT(second.problem().what, testing::HasSubstr("book.json' to itself"));
}

// One through a symbolic link is the same file's.
TEST(FileLock, IsTheSameBehindALink) {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.path() / "true");
  std::filesystem::create_symlink("true/book.json", folder.path() / "link.json");
  const Result<FileLock> lock = FileLock::take(folder.path() / "link.json");
  EXPECT_TRUE(lock.ok());
  EXPECT_TRUE(std::filesystem::exists(folder.path() / "true/.potshadow-book.json.lock"));
}

TEST(FileLock, WhereNoneCanBeHadWorkGoesOn) {
  EXPECT_TRUE(FileLock::take("/no/such/folder/book.json").ok());
  EXPECT_TRUE(FileLock::take("/proc/book.json").ok());
}

}  // namespace
}  // namespace potshadow
