// SPDX-License-Identifier: MIT
#include "cli/compare_reading.h"

#include <utility>

#include "cli/cameras.h"
#include "exports/flat_files.h"
#include "project/photo_lens.h"
#include "sheets/pattern_picture.h"

namespace potshadow {
namespace {

PhotoProbe probe_of(const Project& project) { return probe_with_own_cameras(project); }

}  // namespace

Result<CompareBooks> own_compare_books() {
  Result<ClayBook> clays = own_clay_book();
  if (!clays) return clays.problem();
  return CompareBooks{std::move(clays), own_camera_book()};
}

Result<CompareSide> side_in(const std::string& file, Stage stage, const CompareBooks& books) {
  return read_compare_side(file, stage, probe_of, books.clays, books.cameras);
}

Result<std::vector<CompareSide>> sides_in(const std::string& file, Stage stage,
                                          const CompareBooks& books) {
  return read_compare_sides(file, stage, probe_of, books.clays, books.cameras);
}

ExitCode told(std::string_view about, const Problem& problem) {
  print_problem(about, problem);
  return exit_code_of(problem);
}

Result<Done> write_if_asked(const std::string& file, const Result<std::string>& bytes,
                            const std::vector<std::filesystem::path>& inputs) {
  if (file.empty()) return Done{};
  if (!bytes) return bytes.problem();
  return write_output(file, *bytes, inputs);
}

Result<std::string> drawing_file(const std::string& file, const Pattern& drawing,
                                 const std::string& title, const std::string& about) {
  if (file.ends_with(".png") || file.ends_with(".PNG")) return pattern_png(drawing);
  return svg_of(drawing, {title, about});
}

}  // namespace potshadow
