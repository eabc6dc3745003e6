// SPDX-License-Identifier: MIT
#include "cli/calibrate_pictures.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>
#include <utility>
#include <vector>

#include "core/text.h"
#include "geometry/calibration.h"
#include "outline/board.h"
#include "photo/focal.h"
#include "project/camera_book.h"

namespace potshadow {
namespace {

// What was seen on all pictures that show the board.
struct Seen {
  std::vector<BoardCorners> corners;
  std::vector<std::string> files;
  std::optional<PhotoFacts> facts;  // of the first
  std::vector<std::string> left_out;
};

Problem unlike(const std::string& file, const std::string& first, const std::string& what,
               const std::string& next) {
  return {Code::kBadValue,
          "'" + on_one_line(file) + "' " + what + " than '" + on_one_line(first) + "'.", next, ""};
}

// Says how a picture differs from the first in what all must have in common.
std::optional<Problem> difference(const PhotoFacts& facts, const PhotoFacts& first,
                                  const std::string& file, const std::string& first_file) {
  if (facts.width_px != first.width_px || facts.height_px != first.height_px) {
    return unlike(file, first_file, "has another size",
                  "Give only pictures as the camera wrote them, all taken the same way up.");
  }
  const ExifFacts& a = facts.exif;
  const ExifFacts& b = first.exif;
  if (a.make != b.make || a.model != b.model || a.lens != b.lens ||
      a.focal_length != b.focal_length || a.digital_zoom != b.digital_zoom) {
    return unlike(file, first_file, "was taken with another camera, lens or zoom",
                  "Calibrate one camera with one lens at one zoom at a time.");
  }
  return std::nullopt;
}

Result<Seen> look_at(const CalibrateOptions& options) {
  Seen seen;
  std::string first_file;
  std::vector<std::string> sums;  // of the files seen
  for (const std::string& file : options.pictures) {
    const Result<Picture> picture = decode_photo(file);
    if (!picture) return picture.problem();
    if (!seen.facts) {
      seen.facts = picture->facts;
      first_file = file;
    } else if (auto problem = difference(picture->facts, *seen.facts, file, first_file)) {
      return *problem;
    }
    const auto same = [&](const std::string& sum) { return sum == picture->facts.sha256; };
    if (std::any_of(sums.begin(), sums.end(), same)) {
      seen.left_out.push_back("'" + file + "' was left out: it is the same picture as another.");
      continue;
    }
    sums.push_back(picture->facts.sha256);
    const auto corners = find_board(*picture, options.columns, options.rows);
    if (!corners) {
      seen.left_out.push_back("'" + file + "' was left out: " + corners.problem().what);
      continue;
    }
    seen.corners.push_back(*corners);
    seen.files.push_back(file);
  }
  return seen;
}

std::string row(const std::string& name, const Measured& m, const std::string& unit,
                int most_decimals) {
  const double half = m.high95 - m.value;
  const RoundedText text = rounded(m.value, half, 0, most_decimals);
  return "  " + pad_right(name, 26) + pad_left(text.value, 9) + " ± " +
         pad_right(text.plus_minus, 8) + pad_right(unit, 4) + fixed_text(m.low95, text.decimals) +
         " to " + fixed_text(m.high95, text.decimals) + "\n";
}

Measured shifted(Measured m, double by) {
  m.value -= by;
  m.low95 -= by;
  m.high95 -= by;
  return m;
}

std::string words_of(const LensCalibration& found, const Seen& seen) {
  const int width = found.width_px;
  const int height = found.height_px;
  std::string text =
      "Board found in " + std::to_string(seen.corners.size()) + " of " +
      std::to_string(seen.corners.size() + seen.left_out.size()) + " pictures of " +
      std::to_string(width) + " x " + std::to_string(height) + " pixels, " +
      fixed_text(*std::min_element(found.board_distance_mm.begin(), found.board_distance_mm.end()),
                 0) +
      " to " +
      fixed_text(*std::max_element(found.board_distance_mm.begin(), found.board_distance_mm.end()),
                 0) +
      " mm from the camera\n\n";
  text += "  " + pad_right("", 26) + pad_left("value", 9) + pad_left("95 % interval", 28) + "\n";
  const double film = focal_35mm_from_px(1.0, width, height);
  text += row("Focal length, 35 mm film", scaled(found.focal_px, film), "mm", 3);
  text += row("Focal length", found.focal_px, "px", 2);
  text += row("Lens's middle, rightwards",
              scaled(shifted(found.cx_px, (width - 1) / 2.0), 100.0 / width), "%", 2);
  text += row("Lens's middle, downwards",
              scaled(shifted(found.cy_px, (height - 1) / 2.0), 100.0 / width), "%", 2);
  text += row("Bending k1", found.k1, "", 4);
  text += row("Bending k2", found.k2, "", 4);
  text += "\nThe lens's middle is counted from the picture's, in percent of its width.\n";
  text += "The corners lie " + fixed_text(found.rms_px, 2) +
          " px from where this lens puts them, on the whole.\n";
  return text;
}

// Names the pictures whose corners fit far worse than those of the rest.
std::vector<std::string> misfits(const LensCalibration& found, const Seen& seen) {
  constexpr double kFarWorse = 3.0;  // times the middle one: chance does not do that
  std::vector<double> sorted = found.picture_rms_px;
  std::sort(sorted.begin(), sorted.end());
  const double middle = sorted[sorted.size() / 2];
  std::vector<std::string> words;
  for (std::size_t i = 0; i < seen.files.size(); ++i) {
    if (found.picture_rms_px[i] <= kFarWorse * middle) continue;
    words.push_back("'" + seen.files[i] + "' fits far worse than the others (" +
                    fixed_text(found.picture_rms_px[i], 2) +
                    " px): look whether it is sharp and the board lay flat, or leave it out.");
  }
  return words;
}

Result<std::string> saved(const LensCalibration& found, const Seen& seen, const std::string& date) {
  const auto profile = camera_profile(found, *seen.facts, seen.corners.size(), date);
  if (!profile) return profile.problem();
  const auto folders = user_folders();
  if (!folders) return folders.problem();
  // A book that cannot be read is not written over.
  const auto book = load_camera_book(*folders);
  if (!book) return book.problem();
  const auto written = save_camera_book(with_camera(*book, *profile), *folders);
  if (!written) return written.problem();
  return "Saved as '" + on_one_line(camera_words(*profile)) + "' at " +
         fixed_text(profile->focal_mm, 1) +
         " mm. Photographs by it are now measured with this focal length, ± " +
         fixed_text(kNormal95 * focal_sd_percent(*profile), 1) +
         " % with\nwhat focus and zoom may change.\n";
}

}  // namespace

ExitCode calibrate_pictures(const CalibrateOptions& options, const std::string& date) {
  const auto fail = [](const Problem& problem) {
    print_problem("", problem);
    return exit_code_of(problem);
  };
  const Result<Seen> seen = look_at(options);
  if (!seen) return fail(seen.problem());
  const auto found =
      seen->corners.empty()
          ? Result<LensCalibration>(Problem{
                Code::kTooFewMarks,
                "None of the pictures shows a whole board of " + std::to_string(options.columns) +
                    " by " + std::to_string(options.rows) + " inner corners.",
                "Count the corners where four squares meet and give them as --inner, or "
                "take pictures that show the whole board.",
                ""})
          : calibrate_lens(seen->corners,
                           BoardShape{options.columns, options.rows, options.square_mm},
                           seen->facts->width_px, seen->facts->height_px);
  if (!found) return fail(found.problem());
  std::string text = words_of(*found, *seen);
  for (const std::string& words : seen->left_out) text += "! " + on_one_line(words) + "\n";
  for (const std::string& words : misfits(*found, *seen)) text += "! " + on_one_line(words) + "\n";
  const Result<Done> printed = print_text(text);
  if (!printed) return fail(printed.problem());
  if (!options.save) return ExitCode::kDone;
  const Result<std::string> said = saved(*found, *seen, date);
  if (!said) return fail(said.problem());
  const Result<Done> told = print_text("\n" + *said);
  return told.ok() ? ExitCode::kDone : fail(told.problem());
}

}  // namespace potshadow
