// SPDX-License-Identifier: MIT
#include "outline/snap.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <exception>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace potshadow {
namespace {

// Smoothing. Less lets noise through, more rounds corners and pulls curved outlines inwards.
constexpr double kSmoothPx = 1.0;
// The smoothing's masks reach four deviations.
constexpr int kMaskReach = 4;
// What the masks, a step across the edge and a cubic look at beyond a place.
constexpr int kMarginPx = kMaskReach + 2 + 2;
// Noise is judged at least this far around, so that one edge cannot fill the neighbourhood.
constexpr int kNoisePx = 16;
// A smooth shade in whole grey levels has steps of one, each 0.4 levels a pixel steep once
// smoothed; no edge is taken that is not twice as steep.
constexpr double kLeastStrength = 0.8;
// How many deviations of the noise an edge rises above it. Chance reaches 5.3 deviations once in
// a million places, and some hundred that do not depend on each other lie within reach.
constexpr double kAboveNoise = 5.5;
// An edge at the limit of the reach wins over a nearer one where it is 1 / (1 - this) as steep.
constexpr double kNearnessCounts = 0.4;

struct Slope {
  double x = 0.0;  // grey levels a pixel
  double y = 0.0;
  double steepness() const { return std::hypot(x, y); }
};

// A Gaussian's values and those of its slope, which turn no direction away from another as
// differences of neighbours would.
struct Masks {
  cv::Mat smooth = cv::Mat(1, 2 * kMaskReach + 1, CV_32F);
  cv::Mat slope = cv::Mat(1, 2 * kMaskReach + 1, CV_32F);
  Masks() {
    double sum = 0.0;
    double rise = 0.0;  // what the slope's mask gives on a ramp of 1 a pixel
    for (int i = -kMaskReach; i <= kMaskReach; ++i) {
      const double g = std::exp(-0.5 * i * i / (kSmoothPx * kSmoothPx));
      smooth.at<float>(0, i + kMaskReach) = static_cast<float>(g);
      slope.at<float>(0, i + kMaskReach) = static_cast<float>(i * g);
      sum += g;
      rise += i * i * g;
    }
    smooth /= sum;
    slope /= rise;
  }
};

// What the neighbourhood's slopes are like where there is no edge.
struct Background {
  Slope shade;         // of the light over the whole of it
  double noise = 0.0;  // deviation of one component by chance
};

// The slopes of a part of the picture.
class Slopes {
 public:
  Slopes(const cv::Mat& bgr, const cv::Rect& box) : box_(box) {
    cv::Mat grey;
    cv::cvtColor(bgr(box), grey, cv::COLOR_BGR2GRAY);
    grey.convertTo(grey, CV_32F);
    const Masks masks;
    cv::sepFilter2D(grey, x_, CV_32F, masks.slope, masks.smooth, cv::Point(-1, -1), 0.0,
                    cv::BORDER_REPLICATE);
    cv::sepFilter2D(grey, y_, CV_32F, masks.smooth, masks.slope, cv::Point(-1, -1), 0.0,
                    cv::BORDER_REPLICATE);
  }

  const cv::Rect& box() const { return box_; }

  // Requires a pixel inside box().
  Slope of_pixel(int x, int y) const {
    return {static_cast<double>(x_.at<float>(y - box_.y, x - box_.x)),
            static_cast<double>(y_.at<float>(y - box_.y, x - box_.x))};
  }

  // Between pixels by cubics through four of them (Catmull-Rom); outside as at the border.
  Slope at(PhotoPoint place) const {
    const double x = place.x_px - box_.x;
    const double y = place.y_px - box_.y;
    const int left = static_cast<int>(std::floor(x));
    const int top = static_cast<int>(std::floor(y));
    const auto across = weights(x - left);
    const auto down = weights(y - top);
    Slope slope;
    for (int j = 0; j < 4; ++j) {
      const int row = std::clamp(top - 1 + j, 0, box_.height - 1);
      for (int i = 0; i < 4; ++i) {
        const int column = std::clamp(left - 1 + i, 0, box_.width - 1);
        const double weight =
            across[static_cast<std::size_t>(i)] * down[static_cast<std::size_t>(j)];
        slope.x += weight * static_cast<double>(x_.at<float>(row, column));
        slope.y += weight * static_cast<double>(y_.at<float>(row, column));
      }
    }
    return slope;
  }

  Background background() const {
    const Slope shade{middle(x_), middle(y_)};
    std::vector<double> off;
    off.reserve(x_.total());
    for (int y = 0; y < x_.rows; ++y) {
      const auto* across = x_.ptr<float>(y);
      const auto* down = y_.ptr<float>(y);
      for (int x = 0; x < x_.cols; ++x) {
        off.push_back(std::hypot(static_cast<double>(across[x]) - shade.x,
                                 static_cast<double>(down[x]) - shade.y));
      }
    }
    const auto quarter = off.begin() + static_cast<std::ptrdiff_t>(off.size() / 4);
    std::nth_element(off.begin(), quarter, off.end());
    // A quarter of all pairs of normal numbers of deviation 1 is shorter than sqrt(2 ln(4/3)).
    return {shade, *quarter / std::sqrt(2.0 * std::log(4.0 / 3.0))};
  }

 private:
  static std::array<double, 4> weights(double t) {
    const double t2 = t * t;
    const double t3 = t2 * t;
    return {(-t3 + 2.0 * t2 - t) / 2.0, (3.0 * t3 - 5.0 * t2 + 2.0) / 2.0,
            (-3.0 * t3 + 4.0 * t2 + t) / 2.0, (t3 - t2) / 2.0};
  }

  static double middle(const cv::Mat& values) {
    std::vector<float> all(values.begin<float>(), values.end<float>());
    const auto half = all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2);
    std::nth_element(all.begin(), half, all.end());
    return static_cast<double>(*half);
  }

  cv::Rect box_;
  cv::Mat x_;
  cv::Mat y_;
};

bool inside(const cv::Mat& bgr, PhotoPoint at) {
  return at.x_px >= -0.5 && at.y_px >= -0.5 && at.x_px <= bgr.cols - 0.5 &&
         at.y_px <= bgr.rows - 0.5;
}

// Requires a place inside the picture.
cv::Rect box_around(const cv::Mat& bgr, PhotoPoint at, double reach) {
  const int half = static_cast<int>(std::ceil(reach)) + kMarginPx;
  const int x = static_cast<int>(std::lround(at.x_px));
  const int y = static_cast<int>(std::lround(at.y_px));
  return cv::Rect(x - half, y - half, 2 * half + 1, 2 * half + 1) &
         cv::Rect(0, 0, bgr.cols, bgr.rows);
}

PhotoPoint moved(PhotoPoint from, Slope along, double by) {
  return {from.x_px + by * along.x, from.y_px + by * along.y};
}

Slope unit(Slope slope) {
  const double length = slope.steepness();
  return {slope.x / length, slope.y / length};
}

// Returns the direction of the edge, square to the slope.
double edge_direction(Slope slope) {
  const double angle = std::atan2(slope.y, slope.x) + std::numbers::pi / 2.0;
  const double turned = std::fmod(angle + std::numbers::pi, std::numbers::pi);
  return turned >= std::numbers::pi ? 0.0 : turned;
}

// Returns how far from the middle, in spacings, a parabola through three samples is highest.
// Nothing where it is not highest between them.
std::optional<double> top_of(double before, double middle, double after) {
  const double bend = before - 2.0 * middle + after;
  if (bend >= 0.0) return std::nullopt;
  const double top = (before - after) / (2.0 * bend);
  if (std::abs(top) > 1.0) return std::nullopt;
  return top;
}

// Returns the steepest place on the line along the slope through `start`; what is sampled is a
// weighted mean of a few pixels along the edge, against noise. On an outline that bends with a
// radius of 50 px this shifts it by 0.03 px; pots on photographs are rounder. Each parabola moves
// the samples on, until they stand even around the top, where a parabola's lack of fit does no
// harm.
std::optional<EdgeAt> refined(const Slopes& slopes, PhotoPoint start) {
  constexpr int kMostSteps = 6;
  constexpr int kAlongPx = 3;
  // A sharp edge that cuts a pixel unevenly is skew once smoothed. Samples sqrt(3) deviations from
  // its top would not feel that, nearer ones feel a neighbouring edge less.
  constexpr double kSpacingPx = 1.5 * kSmoothPx;
  constexpr double kStill = 0.005;  // far below what noise allows
  PhotoPoint place = start;
  const Slope along = unit(slopes.at(start));
  const Slope edge{-along.y, along.x};
  const auto rise = [&](PhotoPoint at) {
    double sum = 0.0;
    for (int i = -kAlongPx; i <= kAlongPx; ++i) {
      const Slope slope = slopes.at(moved(at, edge, i));
      sum += (kAlongPx + 1 - std::abs(i)) * (slope.x * along.x + slope.y * along.y);
    }
    return sum;
  };
  for (int step = 0; step < kMostSteps; ++step) {
    const auto top = top_of(rise(moved(place, along, -kSpacingPx)), rise(place),
                            rise(moved(place, along, kSpacingPx)));
    if (!top) return std::nullopt;
    place = moved(place, along, *top * kSpacingPx);
    if (std::abs(*top) < kStill) break;
  }
  const Slope slope = slopes.at(place);
  return EdgeAt{place, edge_direction(slope), slope.steepness()};
}

struct Candidate {
  PhotoPoint at;
  Slope slope;
  double away_px = 0.0;
  double score = 0.0;
};

// Returns the pixels within reach that stand out from the noise and the shade, and are steeper than
// both neighbours across the edge, the best first.
std::vector<Candidate> candidates(const Slopes& slopes, PhotoPoint near, double reach) {
  const Background background = slopes.background();
  const double least = std::max(kLeastStrength, kAboveNoise * background.noise);
  std::vector<Candidate> found;
  const cv::Rect& box = slopes.box();
  for (int y = box.y; y < box.y + box.height; ++y) {
    for (int x = box.x; x < box.x + box.width; ++x) {
      const double away = std::hypot(x - near.x_px, y - near.y_px);
      // The edge may lie within reach although the middle of its pixel does not.
      if (away > reach + 1.0) continue;
      const Slope slope = slopes.of_pixel(x, y);
      const double steep = slope.steepness();
      if (steep < least ||
          std::hypot(slope.x - background.shade.x, slope.y - background.shade.y) < least) {
        continue;
      }
      const PhotoPoint at{static_cast<double>(x), static_cast<double>(y)};
      const Slope along = unit(slope);
      if (slopes.at(moved(at, along, 1.0)).steepness() > steep ||
          slopes.at(moved(at, along, -1.0)).steepness() > steep) {
        continue;
      }
      const double part = std::min(1.0, away / reach);
      found.push_back({at, slope, away, steep * (1.0 - kNearnessCounts * part * part)});
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Candidate& a, const Candidate& b) { return a.score > b.score; });
  return found;
}

// Returns whether a second place lies on the same edge: it goes the same way, is nearly as steep,
// and the straight line through the first does not leave it far.
bool on_same_edge(const Candidate& first, const Candidate& second) {
  constexpr double kAsSteep = 0.7;
  constexpr double kCosine = 0.95;  // 18 degrees
  constexpr double kOffPx = 1.0;
  constexpr double kBend = 0.15;  // an outline of 60 px radius, over a reach of 20 px
  const Slope along = unit(first.slope);
  const double x = second.at.x_px - first.at.x_px;
  const double y = second.at.y_px - first.at.y_px;
  const double rise = second.slope.x * along.x + second.slope.y * along.y;
  return rise > kCosine * second.slope.steepness() &&
         second.slope.steepness() > kAsSteep * first.slope.steepness() &&
         std::abs(x * along.x + y * along.y) < kOffPx + kBend * std::hypot(x, y);
}

// Returns the candidates with those of the best one's edge first, the nearest of them leading: a
// mark moves across to the edge, not along it to where it happens to be steepest.
std::vector<Candidate> nearest_on_best(std::vector<Candidate> found) {
  if (found.empty()) return found;
  const Candidate best = found.front();
  const auto others = std::stable_partition(
      found.begin(), found.end(), [&](const Candidate& c) { return on_same_edge(best, c); });
  std::stable_sort(found.begin(), others,
                   [](const Candidate& a, const Candidate& b) { return a.away_px < b.away_px; });
  return found;
}

}  // namespace

std::optional<EdgeAt> snap_to_edge(const Picture& picture, PhotoPoint near, Px reach) {
  const double far = std::min(reach.value, kMostSnapReach.value);
  if (!(far > 0.0) || !inside(picture.bgr, near)) return std::nullopt;
  try {
    const Slopes slopes(picture.bgr,
                        box_around(picture.bgr, near, std::max<double>(far, kNoisePx)));
    for (const Candidate& candidate : nearest_on_best(candidates(slopes, near, far))) {
      const auto edge = refined(slopes, candidate.at);
      if (!edge || !inside(picture.bgr, edge->at)) continue;
      if (std::hypot(edge->at.x_px - near.x_px, edge->at.y_px - near.y_px) <= far) return edge;
    }
  } catch (const std::exception&) {
    // No memory for a few thousand pixels: nothing is found, and the mark stays where it is.
  }
  return std::nullopt;
}

std::optional<EdgeAt> edge_at(const Picture& picture, PhotoPoint at) {
  if (!inside(picture.bgr, at)) return std::nullopt;
  try {
    const Slopes slopes(picture.bgr, box_around(picture.bgr, at, 0.0));
    const Slope slope = slopes.at(at);
    const double strength = slope.steepness();
    if (strength < kLeastStrength) return std::nullopt;
    return EdgeAt{at, edge_direction(slope), strength};
  } catch (const std::exception&) {
    return std::nullopt;  // as above
  }
}

}  // namespace potshadow
