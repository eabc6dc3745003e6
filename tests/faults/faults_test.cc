// SPDX-License-Identifier: MIT
// Every single call that a save makes to the system is made to fail in turn, or is the program's
// last one: the old or the new file must be whole, and what the program says must be true.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::Contains;
using testing::StartsWith;

// A command that replaces one file. Nothing else below the folder may change.
struct Save {
  const char* name;
  std::vector<std::string> arguments;
  std::string file;
  std::string end;  // of the file, where it is whole
};

void put(const std::filesystem::path& path, const std::string& bytes) {
  std::filesystem::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << bytes;
}

constexpr const char* kOldBook =
    R"({ "potshadow_clays": 1, "clays": [ { "record": "old-mix" } ] })";
constexpr const char* kOldPrinters =
    R"({ "potshadow_printers": 1, "printers": [ { "name": "hall", "across": 0.99, "along": 0.98 } ] })";

std::vector<Save> saves() {
  return {{"a project",
           {"check", "jar.potshadow", "--stage", "wet", "max=272", "--keep"},
           "jar.potshadow",
           "}\n"},
          {"the book of clays",
           {"clay", "write", "buff-mix", "--total", "12"},
           "potshadow/clays.json",
           "}\n"},
          {"the printers",
           {"printer", "studio", "--across", "99.1", "--along", "98.6"},
           "potshadow/printers.json",
           "}\n"},
          {"a report", {"measure", "jar.potshadow", "--json", "out.json"}, "out.json", "}\n"},
          {"a sheet",
           {"sheet", "jar.potshadow", "--shrinkage", "12", "--output", "out.pdf"},
           "out.pdf",
           "%%EOF\n"},
          {"a drawing",
           {"export", "jar.potshadow", "--shrinkage", "12", "--output", "out.svg"},
           "out.svg",
           "</svg>\n"}};
}

// One folder with all files as they were before the save, under the watch of the failing calls.
class Watched {
 public:
  Watched() {
    put(at("jar.potshadow"), content(POTSHADOW_SOURCE_DIR "/tests/cli/data/shelf-jar.potshadow"));
    put(at("grey.jpg"), content(POTSHADOW_SOURCE_DIR "/tests/project/data/grey.jpg"));
    put(at("potshadow/clays.json"), kOldBook);
    put(at("potshadow/printers.json"), kOldPrinters);
    for (const char* name : {"out.json", "out.pdf", "out.svg"}) put(at(name), "an older one\n");
  }
  std::filesystem::path at(const std::string& name) const { return watched_.path() / name; }

  Ran run(const Save& save, long fault, const std::string& how,
          const std::vector<std::string>& more = {}) const {
    RunWishes wishes;
    const std::string here = watched_.path().string();
    wishes.environment = {"XDG_DATA_HOME=" + here,
                          "XDG_CONFIG_HOME=" + here,
                          "SOURCE_DATE_EPOCH=1764028800",
                          "LD_PRELOAD=" POTSHADOW_FAILING_CALLS,
                          "ASAN_OPTIONS=verify_asan_link_order=0",
                          "FAULTS_BELOW=" + here,
                          "FAULTS_LOG=" + log().string(),
                          "FAULTS_AT=" + std::to_string(fault),
                          "FAULTS_HOW=" + how};
    wishes.environment.insert(wishes.environment.end(), more.begin(), more.end());
    return run_program(watched_.path(), save.arguments, wishes);
  }
  std::vector<std::string> calls() const {
    std::ifstream stream(log());
    std::vector<std::string> lines;
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
  }
  // Returns every file below the folder with what it holds, sorted; `but` is left out.
  std::vector<std::pair<std::string, std::string>> others(const std::string& but) const {
    std::vector<std::pair<std::string, std::string>> all;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(watched_.path())) {
      if (entry.is_directory() || entry.path() == at(but)) continue;
      all.emplace_back(entry.path().string().substr(watched_.path().string().size()),
                       content(entry.path()));
    }
    std::sort(all.begin(), all.end());
    return all;
  }

 private:
  std::filesystem::path log() const { return beside_.path() / "log"; }
  TemporaryFolder watched_;
  TemporaryFolder beside_;
};

bool is_left_part(const std::string& name) {
  return name.find("/.potshadow-") != std::string::npos &&
         (name.ends_with(".part") || name.ends_with(".lock"));
}

class Faults : public testing::TestWithParam<std::size_t> {};

TEST_P(Faults, AtEveryCallTheOldOrTheNewFileIsWhole) {
  const Save save = saves().at(GetParam());
  const Watched whole;
  const std::string old_bytes = content(whole.at(save.file));
  const Ran good = whole.run(save, 0, "");
  ASSERT_EQ(good.exit_code, 0) << good.err;
  const std::string new_bytes = content(whole.at(save.file));
  ASSERT_NE(new_bytes, old_bytes);
  const std::vector<std::string> calls = whole.calls();
  constexpr std::size_t kFewestCalls = 8;  // open, write, fsync, close, rename, and reading before
  ASSERT_GE(calls.size(), kFewestCalls);

  int injected = 0, kept_old = 0, got_new = 0, refused = 0;
  for (const std::string how : {"ENOSPC", "EIO", "EACCES", "EINTR", "short", "kill", "killed"}) {
    for (std::size_t at = 1; at <= calls.size(); ++at) {
      const std::string about =
          std::string(save.name) + ": " + how + " at " + std::to_string(at) + ", " + calls[at - 1];
      const Watched folder;
      const auto before = folder.others(save.file);
      const Ran ran = folder.run(save, static_cast<long>(at), how);
      const std::string bytes = content(folder.at(save.file));
      const bool is_old = bytes == old_bytes;
      const bool is_new = bytes == new_bytes;
      // Where a photograph or a book could not be read less is known; the file is whole all the
      // same.
      const bool is_other = !is_old && !is_new && ran.exit_code == 0 && bytes.ends_with(save.end);
      EXPECT_TRUE(is_old || is_new || is_other) << about << "\n" << ran.err;
      const bool killed = how == "kill" || how == "killed";
      if (killed) {
        EXPECT_EQ(ran.exit_code, -1) << about;
      } else if (ran.exit_code == 0) {
        EXPECT_FALSE(is_old) << about << ": it said that all was done";
      } else {
        EXPECT_TRUE(is_old) << about << ": it said that nothing was done";
        EXPECT_EQ(ran.exit_code, 2) << about;
        EXPECT_THAT(ran.err, StartsWith("potshadow: ")) << about;
        ++refused;
      }
      auto after = folder.others(save.file);
      // A killed program, or one that may not even delete, leaves its own temporary file.
      std::erase_if(after, [](const auto& file) { return is_left_part(file.first); });
      EXPECT_EQ(after, before) << about;
      kept_old += is_old ? 1 : 0;
      got_new += is_old ? 0 : 1;
      ++injected;
    }
  }
  EXPECT_EQ(static_cast<std::size_t>(injected), 7 * calls.size());
  EXPECT_GT(kept_old, 0);
  EXPECT_GT(got_new, 0);
  EXPECT_GT(refused, 0);
  std::cout << save.name << ": " << calls.size() << " calls, " << injected << " faults, "
            << kept_old << " left the old file whole, " << got_new << " the new one\n";
}

INSTANTIATE_TEST_SUITE_P(Saves, Faults, testing::Range(std::size_t{0}, saves().size()));

// Network folders and foreign file systems can refuse what keeps a file safe beyond its bytes.
TEST(FaultsRefused, WhatAFolderDoesNotKnowIsDoneWithout) {
  int tried = 0;
  for (const Save& save : saves()) {
    const Watched whole;
    ASSERT_EQ(whole.run(save, 0, "").exit_code, 0);
    const std::string new_bytes = content(whole.at(save.file));
    for (const int error : {EPERM, EOPNOTSUPP, EINVAL, ENOSYS, ENOLCK}) {
      // No lock is needed for a file to be whole, whatever the reason that there is none.
      const std::string refused = error == ENOLCK ? "flock" : "fchmod fsync flock";
      const std::string about = std::string(save.name) + ": " + refused + ": " + strerror(error);
      const Watched folder;
      const auto before = folder.others(save.file);
      const Ran ran = folder.run(
          save, 0, "", {"FAULTS_REFUSED=" + refused, "FAULTS_ERRNO=" + std::to_string(error)});
      EXPECT_EQ(ran.exit_code, 0) << about << "\n" << ran.err;
      EXPECT_EQ(content(folder.at(save.file)), new_bytes) << about;
      EXPECT_EQ(folder.others(save.file), before) << about;
      EXPECT_THAT(folder.calls(), Contains("fsync ")) << about;
      ++tried;
    }
    // An error that tells of a real failure is none of these.
    const Watched folder;
    const std::string old_bytes = content(folder.at(save.file));
    const Ran ran =
        folder.run(save, 0, "", {"FAULTS_REFUSED=fsync", "FAULTS_ERRNO=" + std::to_string(EIO)});
    EXPECT_EQ(ran.exit_code, 2) << save.name;
    EXPECT_EQ(content(folder.at(save.file)), old_bytes) << save.name;
  }
  EXPECT_EQ(tried, 30);
}

// And there, too, every call fails in turn.
TEST(FaultsRefused, InSuchAFolderTheOldOrTheNewFileIsWhole) {
  const std::vector<std::string> refused = {"FAULTS_REFUSED=fchmod fsync flock",
                                            "FAULTS_ERRNO=" + std::to_string(EPERM)};
  const Save save = saves().at(1);
  const Watched whole;
  const std::string old_bytes = content(whole.at(save.file));
  ASSERT_EQ(whole.run(save, 0, "", refused).exit_code, 0);
  const std::string new_bytes = content(whole.at(save.file));
  const std::size_t calls = whole.calls().size();
  int injected = 0;
  for (const std::string how : {"ENOSPC", "short", "kill", "killed"}) {
    for (std::size_t at = 1; at <= calls; ++at) {
      const Watched folder;
      const Ran ran = folder.run(save, static_cast<long>(at), how, refused);
      const std::string bytes = content(folder.at(save.file));
      const std::string about = how + " at " + std::to_string(at);
      EXPECT_TRUE(bytes == old_bytes || bytes == new_bytes) << about;
      if (ran.exit_code == 0) {
        EXPECT_EQ(bytes, new_bytes) << about;
      }
      ++injected;
    }
  }
  EXPECT_EQ(static_cast<std::size_t>(injected), 4 * calls);
  std::cout << "refused: " << injected << " faults\n";
}

// A sudden loss of power is no call that fails: what protects from it is the order of the calls.
TEST(FaultsOrder, TheNewFileIsOnTheDiskBeforeItTakesTheOldOnesPlace) {
  const Watched folder;
  ASSERT_EQ(folder.run(saves().front(), 0, "").exit_code, 0);
  const std::vector<std::string> calls = folder.calls();
  const auto rename = std::find_if(calls.begin(), calls.end(),
                                   [](const auto& call) { return call.starts_with("rename "); });
  ASSERT_NE(rename, calls.end());
  const auto last = [&](const char* name) {
    return std::find(std::make_reverse_iterator(rename), calls.rend(), name).base();
  };
  EXPECT_LT(last("write "), last("fsync "));
  // And the folder after it, so that the new name is there, too.
  EXPECT_THAT(std::vector<std::string>(rename, calls.end()), Contains("fsync "));
}

}  // namespace
}  // namespace potshadow
