// SPDX-License-Identifier: MIT
// CHECK: stops the program when one of its own invariants is broken, in every kind of build.
#pragma once

namespace potshadow {

// Prints the broken condition and where it stands to standard error, then aborts.
[[noreturn]] void check_failed(const char* condition, const char* file, int line);

}  // namespace potshadow

// For mistakes in this program only; whatever a user can cause is a Problem (result.h).
#define POTSHADOW_CHECK(condition) \
  ((condition) ? static_cast<void>(0) : ::potshadow::check_failed(#condition, __FILE__, __LINE__))
