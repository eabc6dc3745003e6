// SPDX-License-Identifier: MIT
#include "cli/progress_line.h"

#include <unistd.h>

#include <cstdio>
#include <utility>

namespace potshadow {

ProgressLine::ProgressLine(std::string about)
    : about_(std::move(about)), shown_(isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (percent_ >= 0) std::fputs("\r\x1B[K", stderr);
}

void ProgressLine::show(int done, int all) {
  const int percent = static_cast<int>(100LL * done / all);
  if (!shown_ || percent == percent_) return;
  percent_ = percent;
  std::fprintf(stderr, "\r%s: %d %%", about_.c_str(), percent);
  std::fflush(stderr);
}

}  // namespace potshadow
