// SPDX-License-Identifier: MIT
// Traces a project's photograph: from a rough box to marks that the estimate agrees with.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <vector>

#include "core/result.h"
#include "outline/trace.h"
#include "photo/decode.h"
#include "project/measure.h"
#include "project/project.h"

// In a library of its own (potshadow_tracing), because it reads pictures. The outline is traced in
// passes. The first tells the vessel from its surroundings. The estimate then predicts from its
// marks where the outline, the rim and the foot must be, each within its interval, and the next
// looks for edges there alone: reflections, shadows and neighbours lie outside, and what the first
// lost is found again. As long as that finds more it is done once more.
namespace potshadow {

struct TracedPhoto {
  ProjectTrace trace;
  Trace shown;  // the same as it was found, with all digits
  std::vector<Note> notes;
  bool predicted = false;  // whether the second pass took place
};

// Returns the trace of the project's `photo`-th photograph, whose upright and turned pixels are
// `picture`, within `box` and guided by `strokes`. Its marks by hand and its references stay as
// they are and serve the prediction; an older trace of it is left out of account. Parts that the
// project says are hidden are not traced. Where the first marks give no answer they are the result,
// with a note that says why. Requires a photograph of that index. Fails as trace_vessel does in its
// first pass. Slow: two to six seconds for 12 megapixels; `on_first` is told what the first pass
// found, in less than one.
Result<TracedPhoto> trace_photo(const Project& project, std::size_t photo,
                                const std::filesystem::path& folder, const Picture& picture,
                                const ProjectTrace& wanted, const PhotoProbe& probe = probe_photo,
                                const TraceWatch& watch = {},
                                const std::function<void(const ProjectTrace&)>& on_first = {});

}  // namespace potshadow
