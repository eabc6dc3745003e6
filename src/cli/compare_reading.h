// SPDX-License-Identifier: MIT
// What 'potshadow compare' does alike with two pots and with a series: reading and writing.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "cli/console.h"
#include "core/result.h"
#include "patterns/pattern.h"
#include "project/camera_book.h"
#include "project/clay_book.h"
#include "project/compare_side.h"

namespace potshadow {

// The user's books, by which the pots' files are read.
struct CompareBooks {
  Result<ClayBook> clays;
  CameraBook cameras;
};

// Returns the user's books. Fails as own_clay_book.
Result<CompareBooks> own_compare_books();

// Return the pot in a file, or the pot at each stage that it gives, as read_compare_sides does.
Result<CompareSide> side_in(const std::string& file, Stage stage, const CompareBooks& books);
Result<std::vector<CompareSide>> sides_in(const std::string& file, Stage stage,
                                          const CompareBooks& books);

// Prints a problem and returns its exit code.
ExitCode told(std::string_view about, const Problem& problem);

// Writes what has bytes to `file`, unless that is empty or one of the `inputs`.
Result<Done> write_if_asked(const std::string& file, const Result<std::string>& bytes,
                            const std::vector<std::filesystem::path>& inputs);

// Returns the drawing as the ending of `file` says: a PNG for .png, else an SVG. `about` is the
// line about it that the SVG holds.
Result<std::string> drawing_file(const std::string& file, const Pattern& drawing,
                                 const std::string& title, const std::string& about);

}  // namespace potshadow
