// SPDX-License-Identifier: MIT
// The window's program; `potshadow` starts it.
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>

#include "core/freed_memory.h"
#include "desktop/window/bench.h"

int main(int argc, char** argv) {
  using namespace potshadow;
  // A file size limit is then an error that can be reported, not a sudden end.
  std::signal(SIGXFSZ, SIG_IGN);
  keep_freed_memory();
  BenchOptions options;
  if (argc > 1) {
    std::error_code error;
    options.file = std::filesystem::absolute(argv[1], error);
    if (error) options.file = argv[1];
  }
  const char* const describe = std::getenv("POTSHADOW_DESCRIBE");
  if (describe != nullptr) options.describe = describe;
  try {
    return run_bench(options);
  } catch (const std::exception& error) {
    std::fprintf(stderr,
                 "potshadow: Something unforeseen went wrong (%s). Your work is offered again when "
                 "you next open the window.\n",
                 error.what());
    return 2;
  }
}
