// SPDX-License-Identifier: MIT
#include "core/check.h"

#include <cstdio>
#include <cstdlib>

namespace potshadow {

void check_failed(const char* condition, const char* file, int line) {
  std::fprintf(stderr, "potshadow: internal check failed: %s (%s:%d)\n", condition, file, line);
  std::abort();
}

}  // namespace potshadow
