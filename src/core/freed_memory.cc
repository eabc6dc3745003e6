// SPDX-License-Identifier: MIT
#include "core/freed_memory.h"

#include <cstdlib>
#ifdef __GLIBC__
#include <malloc.h>
#endif

namespace potshadow {

void keep_freed_memory() {
#ifdef __GLIBC__
  // Matrices are served from the heap, pixels of photographs are still mapped and given back.
  constexpr int kMappedFrom = 4 << 20;
  constexpr int kKept = 64 << 20;
  mallopt(M_MMAP_THRESHOLD, kMappedFrom);
  mallopt(M_TRIM_THRESHOLD, kKept);
#endif
}

}  // namespace potshadow
