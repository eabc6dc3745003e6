// SPDX-License-Identifier: MIT
// The desktop's own dialogue, stood in for by small scripts.
#include "desktop/window/dialogue_tool.h"

#include <gmock/gmock.h>
#include <sys/stat.h>

#include <cstdlib>
#include <fstream>
#include <string>
#include <thread>

namespace potshadow {
namespace {

namespace fs = std::filesystem;
using testing::Contains;
using testing::ElementsAre;

class OwnDialogue : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "potshadow-tool-XXXXXX").string();
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }

  // Puts a script in the place of the tool.
  FoundDialogue script(const std::string& name, const std::string& body) {
    const fs::path file = folder_ / name;
    std::ofstream(file) << "#!/bin/sh\n" << body << "\n";
    ::chmod(file.c_str(), 0700);
    const auto found = find_dialogue(folder_.string());
    EXPECT_TRUE(found);
    return found.value_or(FoundDialogue{});
  }

  fs::path folder_;
};

TEST_F(OwnDialogue, IsFoundInThePathAndZenityComesFirst) {
  EXPECT_FALSE(find_dialogue(""));
  EXPECT_FALSE(find_dialogue(folder_.string()));
  EXPECT_EQ(script("kdialog", "").program, DialogueProgram::kKdialog);
  EXPECT_EQ(script("zenity", "").program, DialogueProgram::kZenity);
  const auto found = find_dialogue("/nowhere::" + folder_.string());
  ASSERT_TRUE(found);
  EXPECT_EQ(found->file, folder_ / "zenity");
}

TEST_F(OwnDialogue, WhatIsNotToBeRunIsNotFound) {
  std::ofstream(folder_ / "zenity") << "text";
  fs::create_directory(folder_ / "kdialog");
  EXPECT_FALSE(find_dialogue(folder_.string()));
}

TEST_F(OwnDialogue, TheFileThatIsPrintedIsTheAnswer) {
  const FoundDialogue tool = script("zenity", "echo 'a warning' >&2; echo '/pots/my jar ø.jpg'");
  const DialogueOutcome outcome = run_dialogue(tool, {}, {});
  EXPECT_FALSE(outcome.problem);
  ASSERT_TRUE(outcome.file);
  EXPECT_EQ(*outcome.file, "/pots/my jar ø.jpg");
}

TEST_F(OwnDialogue, ClosingItIsNoProblemButFailingIs) {
  const DialogueOutcome closed = run_dialogue(script("zenity", "exit 1"), {}, {});
  EXPECT_FALSE(closed.file);
  EXPECT_FALSE(closed.problem);
  const DialogueOutcome failed = run_dialogue(script("zenity", "exit 5"), {}, {});
  EXPECT_FALSE(failed.file);
  ASSERT_TRUE(failed.problem);
  EXPECT_FALSE(failed.problem->next.empty());
}

TEST_F(OwnDialogue, ArgumentsReachItWordForWord) {
  const FoundDialogue tool = script("zenity", "for word in \"$@\"; do echo \"$word\" >> '" +
                                                  folder_.string() + "/words'; done; echo /x");
  const DialogueWish wish{
      DialogueKind::kOpen, "Open; $(touch hurt) 'it'", folder_, "Pots", {".jpg"}};
  EXPECT_TRUE(run_dialogue(tool, wish, {}).file);
  std::ifstream words(folder_ / "words");
  std::vector<std::string> lines;
  for (std::string line; std::getline(words, line);) lines.push_back(line);
  EXPECT_THAT(lines, ElementsAre("--file-selection", "--title=Open; $(touch hurt) 'it'",
                                 "--filename=" + folder_.string() + "/",
                                 "--file-filter=Pots | *.jpg *.JPG"));
}

TEST_F(OwnDialogue, SavingAsksBeforeItReplaces) {
  const DialogueWish wish{DialogueKind::kSave, "Save", folder_ / "jar.potshadow", "Projects", {}};
  EXPECT_THAT(dialogue_arguments({DialogueProgram::kZenity, "/usr/bin/zenity"}, wish),
              Contains("--confirm-overwrite"));
  EXPECT_THAT(dialogue_arguments({DialogueProgram::kKdialog, "/usr/bin/kdialog"}, wish),
              ElementsAre("/usr/bin/kdialog", "--title", "Save", "--getsavefilename",
                          (folder_ / "jar.potshadow").string(), "*|Projects"));
}

TEST_F(OwnDialogue, ItEndsWhenItIsToEnd) {
  const FoundDialogue tool = script("zenity", "exec sleep 600");
  std::stop_source stop;
  DialogueOutcome outcome;
  std::thread runner([&] { outcome = run_dialogue(tool, {}, stop.get_token()); });
  stop.request_stop();
  runner.join();
  EXPECT_FALSE(outcome.file);
  EXPECT_FALSE(outcome.problem);
}

}  // namespace
}  // namespace potshadow
