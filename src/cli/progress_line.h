// SPDX-License-Identifier: MIT
// How far a long piece of work has come, on a terminal.
#pragma once

#include <string>

namespace potshadow {

// A line on standard error that counts up to 100 % and goes when it is done; nothing in a pipe.
class ProgressLine {
 public:
  explicit ProgressLine(std::string about);
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  ~ProgressLine();

  // Requires all > 0.
  void show(int done, int all);

 private:
  std::string about_;
  bool shown_;
  int percent_ = -1;
};

}  // namespace potshadow
