// SPDX-License-Identifier: MIT
#include "desktop/words/calibration_words.h"

#include <filesystem>

#include "core/measured.h"
#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/words/figure_text.h"
#include "photo/focal.h"
#include "project/one_line.h"
#include "project/photo_lens.h"

namespace potshadow {
namespace {

std::string name_of(const std::string& file) {
  return "'" + on_one_line(std::filesystem::path(file).filename().string()) + "'";
}

}  // namespace

std::string calibration_sentence(const LensCalibration& found) {
  // Corners are found to some tenths of a pixel in a sharp picture of a flat board (common
  // practice, no source).
  constexpr double kGoodPx = 0.6;
  constexpr double kFairPx = 1.5;
  const double film = focal_35mm_from_px(1.0, found.width_px, found.height_px);
  const FigureText focal = plain_figure(scaled(found.focal_px, film), 2);
  const char* verdict = "which is good";
  if (found.rms_px > kGoodPx) verdict = "which will do";
  if (found.rms_px > kFairPx) {
    verdict = "which is much: look whether the board lay flat and the pictures are sharp";
  }
  return "A lens like " + focal.value + " ± " + focal.plus_minus +
         " mm on 35 mm film. The board's corners lie " + fixed_text(found.rms_px, 2) +
         " pixels from where this lens puts them, " + verdict + ".";
}

std::vector<Note> calibration_notes(const LensCalibration& found, const BoardPictures& pictures) {
  std::vector<Note> notes{{"The board was found in " + std::to_string(pictures.corners.size()) +
                               " of " + counted(pictures.given, "picture", "pictures") + ".",
                           false}};
  for (const LeftOutPicture& picture : pictures.left_out) {
    notes.push_back(
        {name_of(picture.file) + " was left out: " + with_small_start(picture.why), true});
  }
  for (const std::size_t i : misfit_pictures(found)) {
    notes.push_back({name_of(pictures.files[i]) +
                         " fits far worse than the others. Look whether it is sharp and the board "
                         "lay flat, or choose the pictures again without it.",
                     true});
  }
  return notes;
}

std::string known_camera_words(const CameraProfile& profile) {
  const double sd = profile.focal_35mm * focal_sd_percent(profile) / 100.0;
  const FigureText focal = plain_figure(normal_measured(profile.focal_35mm, sd), 2);
  return on_one_line(camera_words(profile)) + " at " + typed_text(profile.focal_mm, 1) +
         " mm, measured on " + profile.date + " from " +
         counted(static_cast<std::size_t>(profile.pictures), "picture", "pictures") + ": like " +
         focal.value + " ± " + focal.plus_minus +
         " mm on 35 mm film, with what focus and zoom may change.";
}

}  // namespace potshadow
