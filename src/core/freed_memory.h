// SPDX-License-Identifier: MIT
// How the allocator deals with memory that is freed.
#pragma once

namespace potshadow {

// Asks the allocator to keep freed memory for the next request rather than hand it back to the
// system: an estimate frees and asks for matrices of some hundred kilobytes hundreds of times, and
// getting fresh pages for them took a tenth of its time. For programs to call once, first thing.
// Does nothing where the C library is not glibc.
void keep_freed_memory();

}  // namespace potshadow
