// SPDX-License-Identifier: MIT
// What the estimate answers: sizes and profile with intervals, the fit, and what limits them.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/measured.h"
#include "core/result.h"
#include "estimate/input.h"
#include "estimate/overlay.h"
#include "estimate/size_name.h"
#include "vessel/profile.h"

// All lengths in millimetres of the original as it stands, capacity in millilitres. The intervals
// hold the truth with 95 % probability if the input's stated uncertainties are honest.
namespace potshadow {

// Share of a size's variance that each source of doubt brings; they add up to 1.
enum class DoubtSource {
  kMarks,  // marks on the vessel and on the reference
  kReferenceSize,
  kReferencePlace,  // riser, pane-to-axis distance, shelf not square to the axis
  kFocalLength,
  kLens,  // distortion and principal point
  kGlass,
  kOutOfRound,
  kWall  // thickness of the wall, for the capacity
};
inline constexpr std::size_t kDoubtCount = 8;
std::string_view doubt_key(DoubtSource source);    // "marks", "reference_size", ...
std::string_view doubt_words(DoubtSource source);  // "the marks", "the reference's size", ...

struct MeasuredSize {
  SizeName name = SizeName::kHeight;
  Measured measured;
  double camera_sd = 0.0;  // without the share of the vessel being out of round
  std::array<double, kDoubtCount> budget{};
};

// A ratio of two sizes. The scale cancels, so it is often known better than either.
struct Proportion {
  std::string key;    // "height_to_max_diameter"
  std::string words;  // "Height to maximum diameter"
  Measured measured;
};

struct ProfileRow {
  double height_mm = 0.0;
  double radius_mm = 0.0;
  double sd_mm = 0.0;  // along the normal of the profile
};

struct CameraAnswer {
  double focal_35mm = 0.0;
  double focal_35mm_sd = 0.0;
  double distance_mm = 0.0;    // from the lens to the vessel's axis at half height
  double elevation_deg = 0.0;  // of the lens above the shelf, seen from the vessel's half height
  double elevation_sd_deg = 0.0;
};

// One mark and how far the model passes from it.
struct MarkResidual {
  std::string mark;  // "rim 7", "left 3", "corner 2"; counted from 1
  MarkPlace place;
  double off_px = 0.0;
  double off_sd = 0.0;  // in standard deviations of the mark
};

struct Fit {
  double rms_px = 0.0;
  int marks = 0;
  double scatter_ratio = 1.0;  // how much the marks scatter against their stated sd; 1 as stated
  std::vector<MarkResidual> worst;  // worst first, at most five
};

struct Answer {
  std::vector<MeasuredSize> sizes;  // those the vessel has, in the order of SizeName
  std::vector<Proportion> proportions;
  Profile profile;
  std::vector<ProfileRow> rows;  // base first
  CameraAnswer camera;
  Fit fit;
  Overlay overlay;
  std::vector<Note> notes;
  bool scale_is_guess = false;  // every size hangs on a guessed one
};

// Returns the size, or null where the vessel has none (no neck, no foot).
const MeasuredSize* find_size(const Answer& answer, SizeName name);

}  // namespace potshadow
