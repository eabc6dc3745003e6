// SPDX-License-Identifier: MIT
#include "cli/compare_pictures.h"

#include <filesystem>
#include <utility>

#include "cli/compare_work.h"
#include "photo/shown_picture.h"
#include "unroll/compared_photos.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

// The first photograph of a side; `factor` makes the fired size of the pot's own.
Result<ComparedPhoto> first_photo(const CompareSide& side, double factor) {
  if (!side.measurement) {
    return Problem{Code::kCannotBeAnswered, "There is no photograph of " + side.vessel.title + ".",
                   "Leave --over out, or give a project with a photograph.", ""};
  }
  const Measurement& measurement = *side.measurement;
  std::error_code ignored;
  const fs::path folder = fs::absolute(side.vessel.file, ignored).parent_path();
  const ProjectPhoto& photo = measurement.project.photos[measurement.photo_index];
  const Result<Picture> picture = decode_photo(folder / photo.file);
  if (!picture) return picture.problem();
  return compared_photo(side.vessel.title, turned_picture(*picture, photo.quarter_turns).bgr,
                        measurement.answer, factor);
}

}  // namespace

ExitCode compare_pictures(const CompareOptions& options,
                          std::chrono::system_clock::time_point now) {
  const PhotoWork work = [&](const ComparedPair& pair) -> Result<std::vector<Pattern>> {
    const bool both = pair.original.measurement && pair.replica.measurement;
    if (options.over_file.empty() && !both) return std::vector<Pattern>();
    if (!pair.original.vessel.scaled || !pair.replica.vessel.scaled) {
      if (options.over_file.empty()) return std::vector<Pattern>();
      return Problem{Code::kCannotBeAnswered,
                     "Of one of the two nothing says how big it is, so they cannot be laid over "
                     "each other.",
                     "Mark something of known size in its photograph.", ""};
    }
    const Result<ComparedPhoto> original =
        first_photo(pair.original, pair.comparison.original_factor);
    if (!original) return original.problem();
    const Result<ComparedPhoto> replica = first_photo(pair.replica, pair.comparison.replica_factor);
    if (!replica) return replica.problem();
    if (!options.over_file.empty()) {
      const Result<Done> written =
          write_output(options.over_file, photo_over_png(*original, *replica, {options.wipe, {}}),
                       {options.original, options.replica});
      if (!written) return written.problem();
    }
    if (options.sheet_file.empty()) return std::vector<Pattern>();
    return std::vector<Pattern>{photos_side_by_side(*original, *replica)};
  };
  return compare_and_write(options, now, work);
}

}  // namespace potshadow
