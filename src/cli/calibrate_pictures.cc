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
#include "outline/board_pictures.h"
#include "photo/focal.h"
#include "project/camera_book.h"
#include "project/photo_lens.h"

namespace potshadow {
namespace {

std::string left_out_words(const LeftOutPicture& picture) {
  return on_one_line("'" + picture.file + "' was left out: " + picture.why);
}

// Says in a problem, too, which pictures were left out and why.
Problem with_left_out(Problem problem, const BoardPictures& seen) {
  constexpr std::size_t kMostNamed = 3;
  std::string named;
  for (std::size_t i = 0; i < std::min(kMostNamed, seen.left_out.size()); ++i) {
    named += left_out_words(seen.left_out[i]) + " ";
  }
  if (seen.left_out.size() > kMostNamed) {
    named += "So were " + std::to_string(seen.left_out.size() - kMostNamed) + " more. ";
  }
  problem.next.insert(0, named);
  return problem;
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

std::string words_of(const LensCalibration& found, const BoardPictures& seen) {
  const int width = found.width_px;
  const int height = found.height_px;
  std::string text =
      "Board found in " + std::to_string(seen.corners.size()) + " of " +
      std::to_string(seen.given) + " pictures of " + std::to_string(width) + " x " +
      std::to_string(height) + " pixels, " +
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
std::vector<std::string> misfits(const LensCalibration& found, const BoardPictures& seen) {
  std::vector<std::string> words;
  for (const std::size_t i : misfit_pictures(found)) {
    words.push_back("'" + seen.files[i] + "' fits far worse than the others (" +
                    fixed_text(found.picture_rms_px[i], 2) +
                    " px): look whether it is sharp and the board lay flat, or leave it out.");
  }
  return words;
}

Result<std::string> saved(const LensCalibration& found, const BoardPictures& seen,
                          const std::string& date) {
  const auto profile = camera_profile(found, *seen.facts, seen.corners.size(), date);
  if (!profile) return profile.problem();
  const auto folders = user_folders();
  if (!folders) return folders.problem();
  const Result<FileLock> lock = lock_camera_book(*folders);
  if (!lock) return lock.problem();
  // A book that cannot be read is not written over.
  const auto book = load_camera_book(*folders);
  if (!book) return book.problem();
  const auto written = save_camera_book(with_camera(*book, *profile), *folders);
  if (!written) return written.problem();
  std::string text = "Saved as '" + on_one_line(camera_words(*profile)) + "' at " +
                     fixed_text(profile->focal_mm, 1) +
                     " mm. Photographs by it are now measured with this focal length, ± " +
                     fixed_text(kNormal95 * focal_sd_percent(*profile), 1) +
                     " % with\nwhat focus and zoom may change, and with this middle and bending "
                     "of the lens.\n";
  constexpr double kMuchSdPercent = 1.0;  // half of what is allowed without calibrating
  if (focal_sd_percent(*profile) > kMuchSdPercent &&
      100.0 * profile->focal_35mm_sd / profile->focal_35mm < kMuchSdPercent) {
    text +=
        "Focusing changes this lens much. With pictures of the board from as far away as you "
        "stand from\npots the focal length is known better.\n";
  }
  return text;
}

}  // namespace

ExitCode calibrate_pictures(const CalibrateOptions& options, const std::string& date) {
  const auto fail = [](const Problem& problem) {
    print_problem("", problem);
    return exit_code_of(problem);
  };
  const Result<BoardPictures> seen =
      look_for_board(options.pictures, options.columns, options.rows);
  if (!seen) return fail(seen.problem());
  Result<LensCalibration> found =
      calibrate_from_board(*seen, {options.columns, options.rows, options.square_mm});
  if (seen->corners.empty()) {
    Problem none = found.problem();
    none.next =
        "Count the corners where four squares meet and give them as --inner, or take pictures that "
        "show the whole board.";
    found = std::move(none);
  }
  if (!found) return fail(with_left_out(found.problem(), *seen));
  std::string text = words_of(*found, *seen);
  for (const LeftOutPicture& picture : seen->left_out)
    text += "! " + left_out_words(picture) + "\n";
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
