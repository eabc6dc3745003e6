// SPDX-License-Identifier: MIT
// The window's loop: waits, takes what the workers finished, draws, carries out what was asked.
#pragma once

#include <filesystem>
#include <optional>

#include "project/settings.h"

namespace potshadow {

struct BenchOptions {
  std::optional<std::filesystem::path> file;  // a project or a photograph to open
  std::filesystem::path describe;             // see description.h; may be empty
};

// Opens the window and returns the exit code once it is closed: 0, or 2 where no window can be
// opened (the reason is printed to standard error).
int run_bench(const BenchOptions& options);

}  // namespace potshadow
