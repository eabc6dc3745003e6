// SPDX-License-Identifier: MIT
// 'potshadow trace', in the program that reads pixels.
#pragma once

#include "cli/console.h"
#include "cli/options.h"

namespace potshadow {

// Traces the photograph, writes the project and, where asked for, the picture, and prints what was
// found and what was left out. Problems go to standard error; the project then stays as it was.
ExitCode trace_photograph(const TraceOptions& options);

}  // namespace potshadow
