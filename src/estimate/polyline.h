// SPDX-License-Identifier: MIT
// A predicted curve in the picture, as a row of points, and the place on it nearest to a mark.
#pragma once

#include <Eigen/Geometry>
#include <cstddef>
#include <limits>
#include <vector>

// Internal to `estimate`. Pixels of one photograph. A predicted curve is known at some candidates,
// between which it is taken to run straight.
namespace potshadow::internal {

// One candidate: a place on the surface and its picture. On the contact curve `at` is s, on a
// circle it is the azimuth.
struct CurveCandidate {
  double at = 0.0;
  Eigen::Vector2d image = Eigen::Vector2d::Zero();
  bool seen = false;
};

// A row of candidates as a polyline, with a box about each run of its segments: most of it can be
// passed over when the point nearest to a mark is looked for.
class Polyline {
 public:
  struct Nearest {
    double distance = std::numeric_limits<double>::max();  // squared
    double at = 0.0;
  };

  Polyline() = default;
  // With `only_seen` the segments that are not wholly seen are left out.
  Polyline(std::vector<CurveCandidate> points, bool only_seen);

  // Takes its point nearest to `pixel` into `best`, where that is nearer still, and returns whether
  // it was.
  bool nearer(const Eigen::Vector2d& pixel, Nearest& best) const;

 private:
  static constexpr std::size_t kRun = 8;  // segments

  bool left_out(std::size_t i) const;

  void search(std::size_t run, const Eigen::Vector2d& pixel, Nearest& best) const;

  std::vector<CurveCandidate> points_;
  bool only_seen_ = false;
  std::vector<Eigen::AlignedBox2d> boxes_;  // one a run
};

}  // namespace potshadow::internal
