// SPDX-License-Identifier: MIT
// The desktop's own dialogue for choosing a file, where a tool for it is installed.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/result.h"

// The tool is zenity or kdialog, whichever is found first in PATH. It is started with a list of
// arguments, by no shell, and only its standard output is read. It runs on a thread of its own, so
// that the window goes on; asking anew or giving up ends the one that is open.
namespace potshadow {

enum class DialogueKind { kOpen, kSave };

struct DialogueWish {
  DialogueKind kind = DialogueKind::kOpen;
  std::string title;
  std::filesystem::path start;       // the folder to open in, or the file to propose
  std::string filter_words;          // "Photographs and projects"
  std::vector<std::string> endings;  // ".jpg", ...; empty: all files
};

// What came of it: a file, nothing where it was closed without one, or why it did not run.
struct DialogueOutcome {
  std::optional<std::filesystem::path> file;
  std::optional<Problem> problem;
};

enum class DialogueProgram { kZenity, kKdialog };
struct FoundDialogue {
  DialogueProgram program = DialogueProgram::kZenity;
  std::filesystem::path file;
};

// Returns the tool to use, looked for in `path` (a list as in the environment's PATH), or nothing.
std::optional<FoundDialogue> find_dialogue(const std::string& path);
// Returns whether there is one for this user.
bool dialogue_tool_exists();
// Returns the tool's arguments, its own name first.
std::vector<std::string> dialogue_arguments(const FoundDialogue& tool, const DialogueWish& wish);
// Runs it until it is closed or `stop` asks to end it. Slow: waits for the user.
DialogueOutcome run_dialogue(const FoundDialogue& tool, const DialogueWish& wish,
                             std::stop_token stop);

class DialogueTool {
 public:
  // Returns the tool, or null where there is none. `wake` is called, from another thread, when
  // take() has something.
  static std::shared_ptr<DialogueTool> create(std::function<void()> wake);
  ~DialogueTool();
  DialogueTool(const DialogueTool&) = delete;
  DialogueTool& operator=(const DialogueTool&) = delete;

  void ask(DialogueWish wish);
  void give_up();
  bool open() const;      // a dialogue is open
  bool has_news() const;  // take() has something
  std::optional<DialogueOutcome> take();

 private:
  struct Inside;
  explicit DialogueTool(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace potshadow
