// SPDX-License-Identifier: MIT
// What the estimate answers: sizes and profile with intervals, the fit, and what limits them.
#pragma once

#include <Eigen/Core>
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
#include "estimate/solved_view.h"
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
  kWall,   // thickness of the wall, for the capacity
  kHidden  // how far a part reaches that is not seen
};
inline constexpr std::size_t kDoubtCount = 9;
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

// What one photograph says of its camera, and the fit drawn over it.
struct PhotoAnswer {
  CameraAnswer camera;
  Overlay overlay;
  SolvedView view{};
};

// What the sizes hang on.
enum class ScaleSource {
  kKnown,
  kGuess,  // nothing but guesses
  kNone    // nothing: proportions only, and the profile in percent of the vessel's height
};

// How far the vessel's plan is from a circle, as the difference between its widest and narrowest
// diameter in percent of their mean.
struct OutOfRound {
  Measured percent;
};

// How left and right outlines differ. Lengths square to the axis.
struct Uneven {
  Measured lean_deg;           // of the vessel against its foot, positive to the right as seen
  double widest_mm = 0.0;      // largest difference left after the lean: left outline farther out
  double widest_sd_mm = 0.0;   //   where positive
  double at_height_mm = 0.0;   // where it is
  bool beyond_chance = false;  // whether either is more than the marks' scatter explains
};

// One thing to do, and the interval it would give.
struct Advice {
  std::string what;  // "Measure how high the riser is, to a millimetre"
  SizeName size = SizeName::kHeight;
  double sd_now = 0.0;
  double sd_then = 0.0;
  DoubtSource source = DoubtSource::kMarks;  // what it lessens
  double source_sd = 0.0;                    // the standard uncertainty to reach, in its own unit
  std::size_t reference = 0;                 // number of the reference it is about, if it is
};

struct Answer {
  std::vector<MeasuredSize> sizes{};  // those the vessel has, in the order of SizeName
  // How the sizes' doubts hang together, the scale's above all: a row and a column for each.
  std::vector<std::vector<double>> size_correlation{};
  std::vector<Proportion> proportions{};
  Profile profile;
  std::vector<ProfileRow> rows{};  // base first
  // How the rows' doubts hang together: of what each is off along its normal, mm^2; 0 x 0 where the
  // scale is open.
  Eigen::MatrixXd rows_covariance{};
  Oval oval{};                        // as solved, be it chance or not
  std::vector<PhotoAnswer> photos{};  // one a photograph of the input, in its order
  Fit fit{};
  ScaleSource scale = ScaleSource::kKnown;
  std::optional<OutOfRound> out_of_round{};  // three directions or more show it
  std::optional<Uneven> uneven{};            // both outlines marked
  std::vector<Advice> advice{};              // what narrows the widest interval most, best first
  std::vector<Note> notes{};
};

// Returns the size, or null where the vessel has none (no neck, no foot).
const MeasuredSize* find_size(const Answer& answer, SizeName name);

}  // namespace potshadow
