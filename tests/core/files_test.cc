// SPDX-License-Identifier: MIT
#include "core/files.h"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <grp.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <string>
#include <thread>
#include <vector>

#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

constexpr std::uintmax_t kMostBytes = 1024 * 1024;  // more than any file of these tests
constexpr std::size_t kLong = 300000;               // more than one read or write takes

std::string content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

void put(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

mode_t mode_of(const std::filesystem::path& path) {
  struct stat info {};
  EXPECT_EQ(::stat(path.c_str(), &info), 0) << path;
  return info.st_mode & 07777U;
}

// How a child process ended: its exit code, or the signal that killed it.
struct Ending {
  int exit_code = -1;
  int killed_by = 0;
};

// Runs `act` in a process of its own, so that limits and rights given up there end with it.
Ending in_child(const std::function<int()>& act) {
  const pid_t child = ::fork();
  if (child == 0) ::_exit(act());
  int status = 0;
  EXPECT_EQ(::waitpid(child, &status, 0), child);
  Ending ending;
  if (WIFEXITED(status)) ending.exit_code = WEXITSTATUS(status);
  if (WIFSIGNALED(status)) ending.killed_by = WTERMSIG(status);
  return ending;
}

constexpr int kSucceeded = 100;
constexpr int kCouldNotPrepare = 101;

// What a child reports: the problem's code, or kSucceeded.
template <class T>
int report(const Result<T>& result) {
  return result.ok() ? kSucceeded : static_cast<int>(result.problem().code);
}

// For the administrator no file is out of reach; everyone else keeps the user they are.
int as_ordinary_user(const std::function<int()>& act) {
  constexpr uid_t kNobody = 65534;
  return in_child([&] {
           if (::geteuid() == 0 &&
               (::setgroups(0, nullptr) != 0 || ::setgid(kNobody) != 0 || ::setuid(kNobody) != 0)) {
             return kCouldNotPrepare;
           }
           return act();
         })
      .exit_code;
}

// Lets the child write at most `bytes` into any one file.
bool limit_file_size(rlim_t bytes) {
  const rlimit size{bytes, bytes};
  const rlimit no_core{0, 0};
  return ::setrlimit(RLIMIT_FSIZE, &size) == 0 && ::setrlimit(RLIMIT_CORE, &no_core) == 0;
}

class Files : public testing::Test {
 protected:
  TemporaryFolder folder_;
  std::filesystem::path at(const std::string& name) const { return folder_.path() / name; }
};

TEST_F(Files, ReadsEveryByte) {
  std::string bytes;
  for (std::size_t i = 0; i < kLong; ++i) bytes += static_cast<char>((i * 7) % 256);
  put(at("photo.jpg"), bytes);
  const Result<std::string> result = read_file(at("photo.jpg"), kMostBytes);
  ASSERT_TRUE(result.ok());
  EXPECT_EQ(*result, bytes);
}

TEST_F(Files, ReadsAnEmptyFile) {
  put(at("empty"), "");
  const Result<std::string> result = read_file(at("empty"), kMostBytes);
  ASSERT_TRUE(result.ok());
  EXPECT_EQ(*result, "");
}

TEST_F(Files, ReadsAFileThatDoesNotSayItsLength) {
  const Result<std::string> result = read_file("/proc/self/status", kMostBytes);
  ASSERT_TRUE(result.ok());
  EXPECT_THAT(*result, HasSubstr("Name:"));
}

TEST_F(Files, MissingFileIsNamed) {
  const Result<std::string> result = read_file(at("no jar.jpg"), kMostBytes);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.problem().code, Code::kFileMissing);
  EXPECT_THAT(result.problem().what, HasSubstr("'" + at("no jar.jpg").string() + "'"));
  EXPECT_FALSE(result.problem().next.empty());
}

TEST_F(Files, FileInsideAFileIsMissing) {
  put(at("jar"), "x");
  const Result<std::string> result = read_file(at("jar") / "photo.jpg", kMostBytes);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.problem().code, Code::kFileMissing);
}

TEST_F(Files, FolderCannotBeRead) {
  const Result<std::string> result = read_file(folder_.path(), kMostBytes);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.problem().code, Code::kFileUnreadable);
}

TEST_F(Files, PipeCannotBeReadAndDoesNotHang) {
  ASSERT_EQ(::mkfifo(at("pipe").c_str(), 0600), 0);
  const Result<std::string> result = read_file(at("pipe"), kMostBytes);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.problem().code, Code::kFileUnreadable);
}

TEST_F(Files, FileWithoutPermissionCannotBeRead) {
  put(at("private"), "x");
  ASSERT_EQ(::chmod(at("private").c_str(), 0), 0);
  EXPECT_EQ(as_ordinary_user([&] { return report(read_file(at("private"), kMostBytes)); }),
            static_cast<int>(Code::kFileUnreadable));
}

TEST_F(Files, ReadingStopsAtTheLimit) {
  put(at("file"), std::string(1000, 'x'));
  EXPECT_TRUE(read_file(at("file"), 1000).ok());
  const Result<std::string> result = read_file(at("file"), 999);
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.problem().code, Code::kFileTooLarge);
  EXPECT_THAT(result.problem().what, HasSubstr("999 bytes"));
  // Also where the length shows only while reading.
  EXPECT_EQ(report(read_file("/proc/self/status", 10)), static_cast<int>(Code::kFileTooLarge));
}

TEST_F(Files, WritesANewFile) {
  const std::string bytes = std::string(kLong, 'x') + std::string("\0\n\r", 3);
  ASSERT_TRUE(write_file_whole(at("Töpfe und Krüge.json"), bytes).ok());
  EXPECT_EQ(content(at("Töpfe und Krüge.json")), bytes);
  EXPECT_THAT(folder_.names(), ElementsAre("Töpfe und Krüge.json"));
}

TEST_F(Files, NewFileObeysTheUsersMask) {
  const mode_t before = ::umask(027);
  const bool written = write_file_whole(at("new"), "x").ok();
  const mode_t after = ::umask(before);
  ASSERT_TRUE(written);
  EXPECT_EQ(mode_of(at("new")), 0640U);
  EXPECT_EQ(after, 027U) << "writing must not change the mask";
}

TEST_F(Files, ReplacesAnOldFile) {
  put(at("jar.json"), std::string(kLong, 'o'));
  ASSERT_TRUE(write_file_whole(at("jar.json"), "new").ok());
  EXPECT_EQ(content(at("jar.json")), "new");
  EXPECT_THAT(folder_.names(), ElementsAre("jar.json"));
}

TEST_F(Files, ReplacesWithAnEmptyFile) {
  put(at("jar.json"), "old");
  ASSERT_TRUE(write_file_whole(at("jar.json"), "").ok());
  EXPECT_EQ(content(at("jar.json")), "");
}

TEST_F(Files, KeepsTheOldFilesPermissions) {
  int cases = 0;
  for (const mode_t mode : {0600U, 0640U, 0666U, 0755U}) {
    put(at("jar.json"), "old");
    ASSERT_EQ(::chmod(at("jar.json").c_str(), mode), 0);
    ASSERT_TRUE(write_file_whole(at("jar.json"), "new").ok());
    EXPECT_EQ(mode_of(at("jar.json")), mode);
    EXPECT_EQ(content(at("jar.json")), "new");
    ++cases;
  }
  EXPECT_EQ(cases, 4);
}

TEST_F(Files, FollowsASymbolicLink) {
  ASSERT_TRUE(std::filesystem::create_directory(at("there")));
  put(at("there/jar.json"), "old");
  std::filesystem::create_symlink("there/jar.json", at("first"));
  std::filesystem::create_symlink(at("first"), at("second"));
  ASSERT_TRUE(write_file_whole(at("second"), "new").ok());
  EXPECT_EQ(content(at("there/jar.json")), "new");
  EXPECT_TRUE(std::filesystem::is_symlink(at("first")));
  EXPECT_TRUE(std::filesystem::is_symlink(at("second")));
}

TEST_F(Files, FollowsASymbolicLinkToAFileThatIsNotThereYet) {
  std::filesystem::create_symlink("jar.json", at("link"));
  ASSERT_TRUE(write_file_whole(at("link"), "new").ok());
  EXPECT_TRUE(std::filesystem::is_symlink(at("link")));
  EXPECT_EQ(content(at("jar.json")), "new");
}

TEST_F(Files, SymbolicLinksInACircleCannotBeWritten) {
  std::filesystem::create_symlink("b", at("a"));
  std::filesystem::create_symlink("a", at("b"));
  EXPECT_EQ(report(write_file_whole(at("a"), "x")), static_cast<int>(Code::kFileUnwritable));
  EXPECT_TRUE(std::filesystem::is_symlink(at("a")));
  EXPECT_THAT(folder_.names(), ElementsAre("a", "b"));
}

TEST_F(Files, MissingFolderIsAProblemThatSaysSo) {
  const Result<Done> result = write_file_whole(at("nowhere/jar.json"), "x");
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.problem().code, Code::kFileUnwritable);
  EXPECT_THAT(result.problem().what, HasSubstr(at("nowhere/jar.json").string()));
  EXPECT_THAT(result.problem().next, HasSubstr("folder"));
  EXPECT_TRUE(folder_.names().empty());
}

TEST_F(Files, FolderOrNothingCannotBeWritten) {
  EXPECT_EQ(report(write_file_whole(folder_.path(), "x")), static_cast<int>(Code::kFileUnwritable));
  EXPECT_EQ(report(write_file_whole("", "x")), static_cast<int>(Code::kFileUnwritable));
  EXPECT_TRUE(folder_.names().empty());
}

TEST_F(Files, NameAsLongAsTheDiskAllowsCanBeWritten) {
  const std::string longest(255, 'n');  // NAME_MAX of Linux
  EXPECT_TRUE(write_file_whole(at(longest), "x").ok());
  EXPECT_EQ(report(write_file_whole(at(longest + "n"), "x")),
            static_cast<int>(Code::kFileUnwritable));
  EXPECT_THAT(folder_.names(), ElementsAre(longest));
}

TEST_F(Files, FolderWithoutPermissionKeepsTheOldFile) {
  ASSERT_EQ(::chmod(folder_.path().c_str(), 0755), 0);
  put(at("jar.json"), "old");
  ASSERT_EQ(::chmod(at("jar.json").c_str(), 0666), 0);
  ASSERT_EQ(::chmod(folder_.path().c_str(), 0555), 0);
  const auto write = [&](const char* name) {
    return as_ordinary_user([&] { return report(write_file_whole(at(name), "new")); });
  };
  EXPECT_EQ(write("jar.json"), static_cast<int>(Code::kFileUnwritable));
  EXPECT_EQ(write("other.json"), static_cast<int>(Code::kFileUnwritable));
  EXPECT_EQ(content(at("jar.json")), "old");
  EXPECT_THAT(folder_.names(), ElementsAre("jar.json"));
  ASSERT_EQ(::chmod(folder_.path().c_str(), 0755), 0);
}

TEST_F(Files, WriteProtectedFileStaysAsItIs) {
  ASSERT_EQ(::chmod(folder_.path().c_str(), 0777), 0);
  put(at("jar.json"), "old");
  ASSERT_EQ(::chmod(at("jar.json").c_str(), 0444), 0);
  EXPECT_EQ(as_ordinary_user([&] { return report(write_file_whole(at("jar.json"), "new")); }),
            static_cast<int>(Code::kFileUnwritable));
  EXPECT_EQ(content(at("jar.json")), "old");
  EXPECT_THAT(folder_.names(), ElementsAre("jar.json"));
}

TEST_F(Files, OrdinaryUserCanWriteWhereAllowed) {
  ASSERT_EQ(::chmod(folder_.path().c_str(), 0777), 0);
  EXPECT_EQ(as_ordinary_user([&] { return report(write_file_whole(at("jar.json"), "new")); }),
            kSucceeded);
  EXPECT_EQ(content(at("jar.json")), "new");
}

// The disk refuses the file's second half.
TEST_F(Files, WriteThatFailsHalfWayKeepsTheOldFile) {
  put(at("jar.json"), "old");
  const Ending ending = in_child([&] {
    if (!limit_file_size(kLong / 2)) return kCouldNotPrepare;
    std::signal(SIGXFSZ, SIG_IGN);  // the write then fails instead of ending the program
    return report(write_file_whole(at("jar.json"), std::string(kLong, 'n')));
  });
  EXPECT_EQ(ending.exit_code, static_cast<int>(Code::kFileUnwritable));
  EXPECT_EQ(content(at("jar.json")), "old");
  EXPECT_THAT(folder_.names(), ElementsAre("jar.json"));
}

// The system ends the program in the middle of its write.
TEST_F(Files, ProgramKilledWhileWritingKeepsTheOldFile) {
  put(at("jar.json"), "old");
  const Ending ending = in_child([&] {
    if (!limit_file_size(kLong / 2)) return kCouldNotPrepare;
    std::signal(SIGXFSZ, SIG_DFL);
    return report(write_file_whole(at("jar.json"), std::string(kLong, 'n')));
  });
  EXPECT_EQ(ending.killed_by, SIGXFSZ);
  EXPECT_EQ(content(at("jar.json")), "old");
  // Only the hidden file that the header names may be left, and it is not in the way of the next.
  const std::vector<std::string> names = folder_.names();
  ASSERT_LE(names.size(), 2U);
  EXPECT_EQ(names.back(), "jar.json");
  if (names.size() == 2U) {
    EXPECT_THAT(names.front(), testing::MatchesRegex("\\.potshadow-[0-9]+-[0-9]+\\.part"));
  }
  EXPECT_TRUE(write_file_whole(at("jar.json"), "new").ok());
  EXPECT_EQ(content(at("jar.json")), "new");
}

TEST_F(Files, LeftOverTemporaryFileOfTheSameNumberIsNotTouched) {
  const std::string left_over = ".potshadow-" + std::to_string(::getpid()) + "-0.part";
  put(at(left_over), "left over");
  ASSERT_TRUE(write_file_whole(at("jar.json"), "new").ok());
  EXPECT_EQ(content(at(left_over)), "left over");
  EXPECT_EQ(content(at("jar.json")), "new");
  EXPECT_THAT(folder_.names(), ElementsAre(left_over, "jar.json"));
}

// /dev/full: "Writes to the /dev/full device fail with an ENOSPC error" (Linux manual, full(4)).
TEST_F(Files, FullDiskSaysToFreeSpace) {
  std::filesystem::create_symlink("/dev/full", at("jar.json"));
  const Result<Done> result = write_file_whole(at("jar.json"), "x");
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.problem().code, Code::kFileUnwritable);
  EXPECT_THAT(result.problem().next, HasSubstr("Free some space"));
  EXPECT_TRUE(std::filesystem::is_character_file("/dev/full"));
}

TEST_F(Files, DeviceIsWrittenToNotReplaced) {
  EXPECT_TRUE(write_file_whole("/dev/null", "x").ok());
  EXPECT_TRUE(std::filesystem::is_character_file("/dev/null"));
}

TEST_F(Files, PipeGetsTheBytes) {
  ASSERT_EQ(::mkfifo(at("pipe").c_str(), 0600), 0);
  std::string received;
  std::thread reader([&] { received = content(at("pipe")); });
  const bool written = write_file_whole(at("pipe"), "sizes").ok();
  reader.join();
  EXPECT_TRUE(written);
  EXPECT_EQ(received, "sizes");
  EXPECT_TRUE(std::filesystem::is_fifo(at("pipe")));
}

TEST_F(Files, ReadersSeeOldOrNewButNeverAMixture) {
  constexpr int kWriters = 3;
  constexpr int kRounds = 8;
  const auto whole = [](const std::string& bytes) {
    return bytes.size() == kLong && std::count(bytes.begin(), bytes.end(), bytes.front()) ==
                                        static_cast<std::ptrdiff_t>(kLong);
  };
  put(at("jar.json"), std::string(kLong, 'o'));
  std::atomic<int> written = 0;
  std::atomic<int> running = kWriters;
  std::vector<std::thread> writers;
  for (int w = 0; w < kWriters; ++w) {
    writers.emplace_back([&, letter = static_cast<char>('a' + w)] {
      for (int round = 0; round < kRounds; ++round) {
        if (write_file_whole(at("jar.json"), std::string(kLong, letter)).ok()) ++written;
      }
      --running;
    });
  }
  int reads = 0;
  int broken = 0;
  do {
    const Result<std::string> result = read_file(at("jar.json"), kMostBytes);
    if (!result.ok() || !whole(*result)) ++broken;
    ++reads;
  } while (running > 0);
  for (std::thread& writer : writers) writer.join();
  EXPECT_EQ(written, kWriters * kRounds);
  EXPECT_GE(reads, 1);
  EXPECT_EQ(broken, 0) << "of " << reads;
  EXPECT_TRUE(whole(content(at("jar.json"))));
  EXPECT_THAT(folder_.names(), ElementsAre("jar.json"));
}

// The one-block and two-block messages and the million letters of FIPS 180-2, appendix B (SHA-256
// is unchanged in FIPS 180-4), and the empty message of NIST's short-message test file.
TEST(Sha256, PublishedExamples) {
  EXPECT_EQ(sha256_hex("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256_hex(std::string(1000000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  EXPECT_EQ(sha256_hex(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

}  // namespace
}  // namespace potshadow
