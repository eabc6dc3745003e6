// SPDX-License-Identifier: MIT
#include "outline/half_outline.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <vector>

namespace potshadow {
namespace {

// Costs of a step, for each pixel of it: without an edge, and what the clearer and the fainter side
// take off.
constexpr float kStepCost = 1.05F;
constexpr float kClearer = 0.13F;
constexpr float kFainter = 0.87F;
// A turn of an eighth; the cost grows with its cube up to so much of it. Outlines bulge in sharp
// corners, lips and feet, but are cut in gently: sharp hollows are those between two things.
constexpr double kTurn = 0.88;
constexpr double kMostTurn = 2.15;
constexpr double kHollow = 4.2;
// A pixel on the wrong side of its label, and a row of them: a reflection must not outvote edges.
// Either side may say that both are vessel.
constexpr float kLabel = 0.0175F;
constexpr float kMostLabel = 0.177F;
// Rows left out cost nothing this near the box's top or bottom, some farther in and more from there
// on: hands leave 2 to 12 % of a box's height free.
constexpr double kRoomPart = 0.055;
constexpr double kRowLeftOut = 0.91;
constexpr double kInsidePart = 0.0996;
constexpr double kRowInside = 1.13;
constexpr double kRampPart = 0.02;
// A rim is looked for in the upper part of the grid, on whole ellipses: an edge all along the back
// is the outline, one along the front tells it from bands and from what is behind.
constexpr double kRimPart = 0.5;
constexpr int kRimStep = 2;
constexpr double kMostRound = 0.7;
constexpr double kFlattest = 0.0154;
constexpr int kRimSamples = 14;      // of a quarter of the ellipse
constexpr float kFrontPays = 0.84F;  // for each pixel of a clear front edge
// The back is often as bright as what is behind it: its edge counts for less than others.
constexpr float kBackCosts = 0.61F;
constexpr float kEnoughOfBack = 0.41F;
// From here on an edge counts as seen.
constexpr float kSeen = 0.35F;
constexpr float kNever = 1e9F;

struct Step {
  int down;
  int out;
};
// From straight out to straight in.
constexpr std::array<Step, 9> kSteps{
    {{0, 1}, {1, 2}, {1, 1}, {2, 1}, {1, 0}, {2, -1}, {1, -1}, {1, -2}, {0, -1}}};
constexpr std::size_t kOut = 0;
constexpr std::size_t kIn = kSteps.size() - 1;
constexpr int kStart = -1;
constexpr int kNone = -2;

// What lies at each half width u and height v, seen from the axis outwards.
class Grid {
 public:
  Grid(const VesselMask& mask, const EdgeMaps& maps, const MirrorImage& image, double top,
       cv::Size size)
      : widths_(size.width), heights_(size.height) {
    const auto count = static_cast<std::size_t>(widths_) * static_cast<std::size_t>(heights_);
    left_.resize(count);
    right_.resize(count);
    wrong_.resize(count);
    left_out_.assign(static_cast<std::size_t>(heights_) + 1, 0.F);
    const cv::Point2f across(image.right());
    const cv::Point2f down(image.down());
    for (int v = 0; v < heights_; ++v) {
      float inside = 0.F;  // how much more is labelled vessel than not, within u
      float most = 0.F;
      for (int u = 0; u < widths_; ++u) {
        const cv::Point2d p = image.from_axis({static_cast<double>(u), top + v});
        const cv::Point2d q = image.of(p);
        const cv::Point2f on_right = maps.at(p);
        const cv::Point2f on_left = maps.at(q);
        const std::size_t i = at(u, v);
        right_[i] = {on_right.dot(across), on_right.dot(down)};
        left_[i] = {-on_left.dot(across), on_left.dot(down)};
        wrong_[i] = inside;
        most = std::max(most, inside);
        const float one = label(mask, p);
        const float other = label(mask, q);
        inside += kLabel * (2.F * std::max(one, other) - 1.F);
      }
      for (int u = 0; u < widths_; ++u) {
        wrong_[at(u, v)] = std::min(kMostLabel, most - wrong_[at(u, v)]);
      }
      const double part = v / static_cast<double>(heights_);
      const double in = std::min(part, 1.0 - part);
      const auto ramp = [&](double from) { return std::clamp((in - from) / kRampPart, 0.0, 1.0); };
      const double out = kRowLeftOut * ramp(kRoomPart) + kRowInside * ramp(kInsidePart);
      left_out_[static_cast<std::size_t>(v) + 1] =
          left_out_[static_cast<std::size_t>(v)] +
          std::max(std::min(kMostLabel, most), static_cast<float>(out));
    }
  }

  int widths() const { return widths_; }
  int heights() const { return heights_; }
  std::size_t at(int u, int v) const {
    return static_cast<std::size_t>(v) * static_cast<std::size_t>(widths_) +
           static_cast<std::size_t>(u);
  }
  // How clear an edge across `normal` is there, on the left and on the right.
  std::array<float, 2> edges(std::size_t i, cv::Point2f normal) const {
    return {std::abs(left_[i].dot(normal)), std::abs(right_[i].dot(normal))};
  }
  // Of being the half width at a height, by the labels.
  float wrong(std::size_t i) const { return wrong_[i]; }
  // Of all rows above, and of it and all rows below.
  float above(int v) const { return left_out_[static_cast<std::size_t>(v)]; }
  float below(int v) const { return left_out_.back() - above(v); }

 private:
  static float label(const VesselMask& mask, cv::Point2d p) {
    const auto column = static_cast<int>(std::lround(p.x));
    const auto row = static_cast<int>(std::lround(p.y));
    const bool in = column >= 0 && row >= 0 && column < mask.labels.cols && row < mask.labels.rows;
    return in && mask.labels.at<unsigned char>(row, column) > 0 ? 1.F : 0.F;
  }

  int widths_;
  int heights_;
  std::vector<cv::Point2f> left_;
  std::vector<cv::Point2f> right_;
  std::vector<float> wrong_;
  std::vector<float> left_out_;
};

// The cheapest ellipse of a rim whose tip lies at each place: its half height and its back's cost,
// less what its front pays.
class Rims {
 public:
  explicit Rims(const Grid& grid)
      : widths_(grid.widths()), heights_(static_cast<int>(kRimPart * grid.heights())) {
    const auto count = static_cast<std::size_t>(widths_) * static_cast<std::size_t>(heights_);
    cost_.assign(count, kNever);
    half_height_.assign(count, 0);
    for (int a = 3 * kNearAxisPx; a < widths_; a += kRimStep) {
      const int least = std::max(2, static_cast<int>(kFlattest * a));
      for (int b = least; b < heights_ && b < kMostRound * a; b += 1 + b / 12) {
        const Quarter quarter = quarter_of(a, b);
        const int first = (b + kRimStep - 1) / kRimStep * kRimStep;
        for (int v = std::max(kRimStep, first); v < heights_; v += kRimStep) {
          look(grid, quarter, a, v, b);
        }
      }
    }
  }

  float cost(int u, int v) const { return v < heights_ ? cost_[at(u, v)] : kNever; }
  int half_height(int u, int v) const { return half_height_[at(u, v)]; }

 private:
  std::size_t at(int u, int v) const {
    return static_cast<std::size_t>(v) * static_cast<std::size_t>(widths_) +
           static_cast<std::size_t>(u);
  }

  // Places of a quarter of an ellipse, from its tip, each with a piece of its length.
  struct Sample {
    int u = 0;
    int off = 0;  // from the ellipse's middle
    float length = 0.F;
    cv::Point2f normal;  // of the back
  };
  using Quarter = std::array<Sample, static_cast<std::size_t>(kRimSamples)>;

  static Quarter quarter_of(int a, int b) {
    Quarter quarter;
    for (int i = 0; i < kRimSamples; ++i) {
      const double angle = (i + 0.5) / kRimSamples * std::numbers::pi / 2.0;
      const double s = std::sin(angle);
      const double c = std::cos(angle);
      const double slope = std::hypot(b * c, a * s);
      quarter[static_cast<std::size_t>(i)] = {
          static_cast<int>(std::lround(a * c)), static_cast<int>(std::lround(b * s)),
          static_cast<float>(slope * std::numbers::pi / 2.0 / kRimSamples),
          cv::Point2f(static_cast<float>(b * c / slope), static_cast<float>(-a * s / slope))};
    }
    return quarter;
  }

  void look(const Grid& grid, const Quarter& quarter, int a, int v, int b) {
    float cost = grid.above(v - b);
    float paid = 0.F;
    float seen = 0.F;
    for (const Sample& at : quarter) {
      const auto [left, right] = grid.edges(grid.at(at.u, v - at.off), at.normal);
      seen += (left + right) / 2.F;
      cost += kBackCosts * at.length *
              (kStepCost - kClearer * std::max(left, right) - kFainter * std::min(left, right));
      if (v + at.off >= grid.heights()) continue;
      const auto [front_left, front_right] =
          grid.edges(grid.at(at.u, v + at.off), {at.normal.x, -at.normal.y});
      paid += at.length * (front_left + front_right) / 2.F;
    }
    // Without an edge along the back it is no rim, whatever lies below.
    cost -= kFrontPays * paid * std::min(1.F, seen / (kEnoughOfBack * kRimSamples));
    if (cost >= cost_[at(a, v)]) return;
    cost_[at(a, v)] = cost;
    half_height_[at(a, v)] = b;
  }

  int widths_;
  int heights_;
  std::vector<float> cost_;
  std::vector<int> half_height_;
};

// What the steps cost by themselves and after one another.
struct StepCosts {
  std::array<float, kSteps.size()> length{};
  std::array<cv::Point2f, kSteps.size()> normal{};
  std::array<std::array<float, kSteps.size()>, kSteps.size()> turn{};

  StepCosts() {
    std::array<double, kSteps.size()> angle{};
    for (std::size_t k = 0; k < kSteps.size(); ++k) {
      const auto down = static_cast<float>(kSteps[k].down);
      const auto out = static_cast<float>(kSteps[k].out);
      length[k] = std::hypot(down, out);
      normal[k] = {down / length[k], -out / length[k]};
      angle[k] = std::atan2(kSteps[k].out, kSteps[k].down);
    }
    for (std::size_t a = 0; a < kSteps.size(); ++a) {
      for (std::size_t b = 0; b < kSteps.size(); ++b) {
        const double eighths = std::abs(angle[a] - angle[b]) / (std::numbers::pi / 4.0);
        const double cost = kTurn * std::min(std::pow(eighths, 3), kMostTurn);
        turn[a][b] = eighths > 3.0 ? kNever : static_cast<float>(b < a ? kHollow * cost : cost);
      }
    }
  }

  float of(const Grid& grid, std::size_t i, std::size_t step) const {
    const auto [left, right] = grid.edges(i, normal[step]);
    return length[step] *
           (kStepCost - kClearer * std::max(left, right) - kFainter * std::min(left, right));
  }
};

class CheapestWay {
 public:
  explicit CheapestWay(const Grid& grid) : grid_(grid), rims_(grid) {
    const std::size_t count =
        static_cast<std::size_t>(grid.widths()) * static_cast<std::size_t>(grid.heights());
    cost_.assign(count * kSteps.size(), kNever);
    before_.assign(count * kSteps.size(), kNone);
    const int last = grid.widths() - 1;
    for (int v = 0; v < grid.heights(); ++v) {
      for (int u = kNearAxisPx; u <= last; ++u) {
        for (std::size_t k = kOut + 1; k < kIn; ++k) enter(u, v, k);
      }
      for (int u = 1; u <= last; ++u) enter(u, v, kOut);
      for (int u = last - 1; u >= 0; --u) enter(u, v, kIn);
    }
  }

  HalfOutline outline() const {
    HalfOutline found;
    int end = 0;
    for (int v = 1; v < grid_.heights(); ++v) {
      const double cost = cost_[state(0, v, kIn)] + grid_.below(v);
      if (cost >= found.cost) continue;
      found.cost = cost;
      end = v;
    }
    if (found.cost >= kNever) return {};
    int u = 0;
    int v = end;
    int step = static_cast<int>(kIn);
    std::size_t seen = 0;
    while (step >= 0) {
      found.path.emplace_back(u, v);
      const auto k = static_cast<std::size_t>(step);
      const auto [left, right] = grid_.edges(grid_.at(u, v), costs_.normal[k]);
      if (std::min(left, right) > kSeen) ++seen;
      step = before_[state(u, v, k)];
      u -= kSteps[k].out;
      v -= kSteps[k].down;
    }
    found.path.emplace_back(u, v);
    if (u > 0) {
      const int b = rims_.half_height(u, v);
      for (int i = 1; i <= kRimSamples; ++i) {
        const double angle = i * std::numbers::pi / 2.0 / kRimSamples;
        found.path.emplace_back(static_cast<int>(std::lround(u * std::cos(angle))),
                                static_cast<int>(std::lround(v - b * std::sin(angle))));
      }
    }
    found.support = static_cast<double>(seen) / static_cast<double>(found.path.size());
    return found;
  }

 private:
  std::size_t state(int u, int v, std::size_t step) const {
    return grid_.at(u, v) * kSteps.size() + step;
  }

  // The cheapest way to (u, v) whose last step is `step`.
  void enter(int u, int v, std::size_t step) {
    const int from_u = u - kSteps[step].out;
    const int from_v = v - kSteps[step].down;
    if (from_v < 0 || from_u < 0 || from_u >= grid_.widths()) return;
    float least = kNever;
    int by = kNone;
    const std::size_t from = state(from_u, from_v, 0);
    for (std::size_t k = 0; k < kSteps.size(); ++k) {
      const float cost = cost_[from + k] + costs_.turn[k][step];
      if (cost < least) {
        least = cost;
        by = static_cast<int>(k);
      }
    }
    if (from_u == 0 && step == kOut && grid_.above(v) < least) {
      least = grid_.above(v);
      by = kStart;
    }
    if (step > kOut && step < kIn && rims_.cost(from_u, from_v) < least) {
      least = rims_.cost(from_u, from_v);
      by = kStart;
    }
    if (by == kNone) return;
    float cost = costs_.of(grid_, grid_.at(u, v), step);
    if (kSteps[step].down == 2) {
      const int between = kSteps[step].out > 0 ? from_u : u;
      cost = (cost + costs_.of(grid_, grid_.at(between, v - 1), step)) / 2.F;
    }
    cost += static_cast<float>(kSteps[step].down) * grid_.wrong(grid_.at(u, v));
    cost_[state(u, v, step)] = least + cost;
    before_[state(u, v, step)] = static_cast<std::int8_t>(by);
  }

  const Grid& grid_;
  Rims rims_;
  StepCosts costs_;
  std::vector<float> cost_;
  std::vector<std::int8_t> before_;
};

}  // namespace

HalfOutline half_outline(const VesselMask& mask, const EdgeMaps& maps, const MirrorImage& image,
                         double top, cv::Size size) {
  const Grid grid(mask, maps, image, top, size);
  return CheapestWay(grid).outline();
}

}  // namespace potshadow
