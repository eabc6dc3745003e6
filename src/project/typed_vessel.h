// SPDX-License-Identifier: MIT
// A pot whose sizes, and perhaps its outline, were typed: a catalogue's figures, calipers, a
// drawing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "project/clay_book.h"
#include "project/compared_vessel.h"

// Format: UTF-8 text, one thing a line; what follows "#" is not read. Sizes are written as
// `potshadow check` takes them (typed_bench.h), or as cells of a table, name, value and tolerance:
//
//     name = Bowl 15, catalogue of 1911        height = 10.6 ± 0.3
//     unit = cm                                 max;22.5
//     stage = fired                             caliper:rim = 21.0
//     shrinkage = 12 ± 1                        profile ± 0.1
//     clay = buff-mix                           0    5.2
//                                               0.9  6.0
//
// `unit` is mm unless said; `shrinkage` in percent of the wet length, or `clay` a record of the
// book, for a pot that is not fired. After `profile` come heights and radii, base first. A further
// `stage` begins the same pot at another stage.
//
// Model: a size is sure to its tolerance, or else to half of its last digit or to what its tool is
// good for, whichever is more; what bench_reading.h adds for an uneven pot counts too. A drawn
// outline is sure to its tolerance along its normal (1 mm unless said), anything between being
// equally likely, places nearer than a tenth of the outline hanging together. Over a gap it may
// bulge by a tenth of the gap. Sizes that are not typed are read off the outline.
namespace potshadow {

// Returns whether a file is read so: by its ending, .txt or .csv.
bool names_typed_vessel(const std::string& file);

// Returns the pot at each stage that the text gives, in its order. `stage` is that of a text that
// says none. `file` names a pot that says no name. Fails with kBadFormat (no text, a line that is
// not understood), kBadValue (sizes that cannot be of one pot, or in that unit) or kTooFewMarks
// (neither a size nor an outline).
Result<std::vector<ComparedVessel>> typed_vessels(std::string_view text, const std::string& file,
                                                  Stage stage, const Result<ClayBook>& book);

}  // namespace potshadow
