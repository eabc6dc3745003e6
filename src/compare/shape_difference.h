// SPDX-License-Identifier: MIT
// How a replica's profile differs from the original's: in size, and in shape once size is taken
// out.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "compare/form.h"
#include "core/measured.h"
#include "core/result.h"

// Model: from each row of the original a line goes along its outward normal to the replica's
// profile; the signed way there is the gap g, positive where the replica is farther out. A scale k
// of the original about the middle of its base moves its rows by (k - 1) (r, z), which changes the
// gap by -(k - 1) n.(r, z) to first order. The best k makes the sum of the squared gaps, weighted
// by the length of profile that each row stands for, least; likewise with a scale for heights and
// one for widths. The gaps left over are the difference in shape.
//
// Profiles of different kinds, as a bowl's and a bottle's, lie so far apart that most normals meet
// nothing, or another part. They are laid together place by place instead: each row of the original
// with the place of the replica that is the same part of the way from foot to rim, and the gap is
// what lies between the two along the original's normal. `by_parts` says so.
//
// Uncertainty: both covariances are carried through these linear steps (JCGM 102:2011, 6.2). A
// scale that both sides share (the same reference seen twice) cancels: `shared_scale_sd`; so does
// what else both have in common, as far as it moves both alike: `shared`.
//
// Claims: of many rows some are off by chance. A place is called different only where its gap is
// beyond the band that holds all rows at once with the confidence asked for; its half-width is
// drawn from the gaps' covariance, always with the same draws.
namespace potshadow {

enum class ProfilePart { kFoot, kBelly, kShoulder, kNeck, kRim };
std::string_view part_words(ProfilePart part);  // "foot", "belly", ...

struct GapRow {
  ProfilePoint at;  // on the original, as it stands or scaled to the replica's size
  ProfilePart part = ProfilePart::kBelly;
  Measured gap_mm;           // with its own 95 % interval
  double together_mm = 0.0;  // half the band that holds all rows at once
  bool differs = false;      // beyond that band
};

// A stretch of the profile that differs, by its largest gap.
struct DifferentPlace {
  std::size_t row = 0;
  ProfilePart part = ProfilePart::kBelly;
  double low_mm = 0.0;  // the stretch, by height on the scaled original
  double high_mm = 0.0;
};

struct ShapeDifference {
  Measured scale;          // replica over original
  Measured upright_scale;  // of heights alone
  Measured across_scale;   // of widths alone
  std::vector<GapRow> as_made;
  std::vector<GapRow> scaled;          // after the best scale
  std::vector<DifferentPlace> places;  // of `scaled`, largest first
  double area_mm2 = 0.0;               // between the two profiles, after the best scale
  double rms_mm = 0.0;                 // of the gaps after the best scale
  bool by_parts = false;               // too unlike for normals: laid together part by part
};

// What the rows of each are off along their normals where something that both share, as a camera's
// focal length, is off by one standard uncertainty. It is in both covariances.
struct SharedMove {
  Eigen::VectorXd original;
  Eigen::VectorXd replica;
};

struct ShapeRequest {
  Form original;
  Form replica;
  double shared_scale_sd = 0.0;  // a part of the size
  std::vector<SharedMove> shared{};
  double confidence = 0.95;  // with which no place of two like shapes is called different
};

// Returns the difference. Fails with kBadValue where a profile has too few rows or a covariance of
// another size.
// Some milliseconds.
Result<ShapeDifference> shape_difference(const ShapeRequest& request);

// Returns the signed way from a point along a direction to a polyline, the nearest crossing either
// way within `reach_mm`; none where there is none.
std::optional<double> way_to(const std::vector<ProfilePoint>& line, const Eigen::Vector2d& from,
                             const Eigen::Vector2d& direction, double reach_mm);

}  // namespace potshadow
