// SPDX-License-Identifier: MIT
#include "outline/edge_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <opencv2/core.hpp>
#include <vector>

namespace potshadow {
namespace {

enum Unknown { kPlace, kBlur, kInner, kStep, kShadeIn, kShadeOut, kUnknowns };
using Values = Eigen::Matrix<double, kUnknowns, 1>;
using Normal = Eigen::Matrix<double, kUnknowns, kUnknowns>;

// A pixel's own width: a unit square's standard deviation is 0.29.
constexpr double kLeastBlurPx = 0.28;
// Wider than that is shading, not an edge.
constexpr double kMostBlurPx = 5.0;
// The window reaches so many blurs to each side, else it holds too little of the plateaus.
constexpr double kBlursAcross = 2.5;

struct Pixel {
  double t = 0.0;  // across, from the place given
  double value = 0.0;
  int x = 0;
  int y = 0;
};

struct Coloured {
  double t = 0.0;
  cv::Vec3d colour;
  int x = 0;
  int y = 0;
};

// Returns the pixels whose middles lie in the window.
std::vector<Coloured> pixels_in(const cv::Mat& bgr, const EdgeWindow& w) {
  const cv::Point2d along(-w.outward.y, w.outward.x);
  const double reach = std::hypot(w.half_along_px, w.half_across_px);
  const int left = std::max(0, static_cast<int>(std::ceil(w.at.x - reach)));
  const int right = std::min(bgr.cols - 1, static_cast<int>(std::floor(w.at.x + reach)));
  const int top = std::max(0, static_cast<int>(std::ceil(w.at.y - reach)));
  const int bottom = std::min(bgr.rows - 1, static_cast<int>(std::floor(w.at.y + reach)));
  std::vector<Coloured> pixels;
  for (int y = top; y <= bottom; ++y) {
    const auto* row = bgr.ptr<cv::Vec3b>(y);
    for (int x = left; x <= right; ++x) {
      const cv::Point2d from(x - w.at.x, y - w.at.y);
      const double s = from.dot(along);
      if (std::abs(s) > w.half_along_px) continue;
      const double t = from.dot(w.outward) - 0.5 * w.bend_per_px * s * s;
      if (std::abs(t) > w.half_across_px) continue;
      pixels.push_back({t, cv::Vec3d(row[x][0], row[x][1], row[x][2]), x, y});
    }
  }
  return pixels;
}

// The light of a value from 0 to 255, and back (IEC 61966-2-1); light from 0 to 1.
double light_of(double value) {
  const double c = value / 255.0;
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double value_of(double light) {
  const double c = light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1.0 / 2.4) - 0.055;
  return 255.0 * c;
}

// What the window's two ends differ by.
struct Sides {
  cv::Vec3d direction;  // of colour, from the inner to the outer end; unit length
  double warp = 0.0;    // of a step blurred in light
};

std::optional<Sides> sides_of(const std::vector<Coloured>& pixels, double half_across) {
  constexpr double kEnds = 0.3;  // what is nearer to the middle may be blur
  constexpr double kMostWarp = 0.95;
  cv::Vec3d in(0.0, 0.0, 0.0);
  cv::Vec3d out(0.0, 0.0, 0.0);
  double count_in = 0.0;
  double count_out = 0.0;
  for (const Coloured& p : pixels) {
    if (p.t < -kEnds * half_across) {
      in += p.colour;
      count_in += 1.0;
    } else if (p.t > kEnds * half_across) {
      out += p.colour;
      count_out += 1.0;
    }
  }
  if (count_in < 1.0 || count_out < 1.0) return std::nullopt;
  in *= 1.0 / count_in;
  out *= 1.0 / count_out;
  const cv::Vec3d apart = out - in;
  const double length = cv::norm(apart);
  if (length < 1e-6) return std::nullopt;
  Sides sides;
  sides.direction = apart * (1.0 / length);
  // Where a pixel that is half of each lies between the two values: in the middle without a curve.
  double half = 0.0;
  for (int c = 0; c < 3; ++c) {
    half += sides.direction[c] * (value_of((light_of(in[c]) + light_of(out[c])) / 2.0) - in[c]);
  }
  sides.warp = std::clamp(4.0 * (half / length - 0.5), -kMostWarp, kMostWarp);
  return sides;
}

// The model's value, and by how much each unknown changes it.
double model(const Values& v, double warp, double t, Values& slopes) {
  const double d = t - v[kPlace];
  const double u = d / v[kBlur];
  const double outer = 0.5 * std::erfc(-u / std::numbers::sqrt2);
  const double inner = 1.0 - outer;
  const double peak = std::exp(-0.5 * u * u) / std::sqrt(2.0 * std::numbers::pi) / v[kBlur];
  // What moving across changes through Phi.
  const double bent = outer + warp * outer * inner;
  const double rise =
      peak * (v[kStep] * (1.0 + warp * (inner - outer)) + (v[kShadeOut] - v[kShadeIn]) * d);
  slopes[kPlace] = -rise - v[kShadeIn] * inner - v[kShadeOut] * outer;
  slopes[kBlur] = -rise * u;
  slopes[kInner] = 1.0;
  slopes[kStep] = bent;
  slopes[kShadeIn] = d * inner;
  slopes[kShadeOut] = d * outer;
  return v[kInner] + v[kStep] * bent + d * (v[kShadeIn] * inner + v[kShadeOut] * outer);
}

// What is believed of the shades and the blur before any pixel is seen, as precisions: without it a
// window narrower than the blur would tell shade from blur by noise.
struct Priors {
  double shade = 0.0;
  double blur = 0.0;
};

struct Sums {
  Normal normal = Normal::Zero();
  Values pull = Values::Zero();
  double squares = 0.0;  // of the pixels' misfits
  double cost = 0.0;     // with the priors
};

constexpr double kUsualBlurPx = 1.0;

Sums sums_of(const std::vector<Pixel>& pixels, double warp, const Values& v, const Priors& priors) {
  Sums sums;
  Values slopes;
  for (const Pixel& p : pixels) {
    const double miss = p.value - model(v, warp, p.t, slopes);
    sums.normal.selfadjointView<Eigen::Lower>().rankUpdate(slopes);
    sums.pull += miss * slopes;
    sums.squares += miss * miss;
  }
  sums.normal = Normal(sums.normal.selfadjointView<Eigen::Lower>());
  sums.cost = sums.squares;
  const auto prior = [&](int i, double off, double precision) {
    sums.normal(i, i) += precision;
    sums.pull[i] -= precision * off;
    sums.cost += precision * off * off;
  };
  prior(kShadeIn, v[kShadeIn], priors.shade);
  prior(kShadeOut, v[kShadeOut], priors.shade);
  prior(kBlur, v[kBlur] - kUsualBlurPx, priors.blur);
  return sums;
}

// Least squares by damped steps. Returns false where no edge is left in the window.
bool fit(const std::vector<Pixel>& pixels, const EdgeWindow& w, double warp, double noise,
         Values& v) {
  constexpr int kMostSteps = 25;
  constexpr double kStillPx = 1e-3;
  Priors priors;
  Sums sums;
  double damping = 1e-3;
  for (int step = 0; step < kMostSteps; ++step) {
    // A shade changes by about a fifth of the step over the window; a blur is known to a pixel.
    const double variance = noise * noise;
    priors.shade = variance / std::pow(0.2 * v[kStep] / w.half_across_px, 2);
    priors.blur = variance / 1.0;
    sums = sums_of(pixels, warp, v, priors);
    Normal damped = sums.normal;
    damped.diagonal() *= 1.0 + damping;
    const Values change = damped.ldlt().solve(sums.pull);
    if (!change.allFinite()) return false;
    Values next = v + change;
    next[kBlur] = std::clamp(next[kBlur], kLeastBlurPx, kMostBlurPx);
    next[kPlace] = std::clamp(next[kPlace], -w.half_across_px, w.half_across_px);
    const double cost = sums_of(pixels, warp, next, priors).cost;
    if (!(cost <= sums.cost)) {
      damping *= 8.0;
      if (damping > 1e8) return true;  // no better place: this is it
      continue;
    }
    damping *= 0.2;
    const double moved = std::abs(next[kPlace] - v[kPlace]);
    v = next;
    if (moved < kStillPx) return true;
  }
  return true;
}

// The correlation of misfits of pixels side by side, and one above the other: the mean of both.
double likeness(const std::vector<Pixel>& pixels, double warp, const Values& v) {
  Values unused;
  double own = 0.0;
  double shared = 0.0;
  double pairs = 0.0;
  for (std::size_t i = 1; i < pixels.size(); ++i) {
    const Pixel& a = pixels[i - 1];
    const Pixel& b = pixels[i];
    if (a.y != b.y || a.x + 1 != b.x) continue;
    const double miss_a = a.value - model(v, warp, a.t, unused);
    const double miss_b = b.value - model(v, warp, b.t, unused);
    shared += miss_a * miss_b;
    own += (miss_a * miss_a + miss_b * miss_b) / 2.0;
    pairs += 1.0;
  }
  return pairs > 0.0 && own > 0.0 ? shared / own : 0.0;
}

}  // namespace

std::optional<EdgeFit> fit_edge(const cv::Mat& bgr, const EdgeWindow& window, double light,
                                double noise) {
  EdgeWindow w = window;
  std::optional<EdgeFit> found;
  // A blur wider than the window allows for asks for a wider window, once.
  for (int round = 0; round < 2; ++round) {
    const auto coloured = pixels_in(bgr, w);
    const auto sides = sides_of(coloured, w.half_across_px);
    if (!sides || coloured.size() < 4 * kUnknowns) return std::nullopt;
    std::vector<Pixel> pixels;
    pixels.reserve(coloured.size());
    for (const Coloured& p : coloured)
      pixels.push_back({p.t, p.colour.dot(sides->direction), p.x, p.y});
    double low = 0.0;
    double high = 0.0;
    double count_low = 1e-9;
    double count_high = 1e-9;
    for (const Pixel& p : pixels) {
      (p.t < 0 ? low : high) += p.value;
      (p.t < 0 ? count_low : count_high) += 1.0;
    }
    const double warp = light * sides->warp;
    Values v = Values::Zero();
    v[kBlur] = kUsualBlurPx;
    v[kInner] = low / count_low;
    v[kStep] = std::max(high / count_high - low / count_low, 1e-3);
    if (!fit(pixels, w, warp, noise, v)) return std::nullopt;
    if (!(v[kStep] > 0.0)) return std::nullopt;
    const double degrees = static_cast<double>(pixels.size()) - static_cast<double>(kUnknowns);
    const Sums sums = sums_of(pixels, warp, v, {});
    const double variance = std::max(sums.squares / degrees, noise * noise);
    Normal information = sums.normal / variance;
    const double shade_sd = 0.2 * v[kStep] / w.half_across_px;
    information(kShadeIn, kShadeIn) += 1.0 / (shade_sd * shade_sd);
    information(kShadeOut, kShadeOut) += 1.0 / (shade_sd * shade_sd);
    information(kBlur, kBlur) += 1.0;
    const Normal covariance = information.ldlt().solve(Normal::Identity());
    if (!covariance.allFinite() || !(covariance(kPlace, kPlace) > 0.0)) return std::nullopt;
    found = EdgeFit{v[kPlace],
                    std::sqrt(covariance(kPlace, kPlace)),
                    v[kBlur],
                    v[kStep],
                    std::sqrt(sums.squares / degrees),
                    likeness(pixels, warp, v),
                    sides->warp,
                    sums.squares};
    if (v[kBlur] * kBlursAcross <= w.half_across_px) break;
    w.half_across_px = std::min(2.5 * window.half_across_px, v[kBlur] * kBlursAcross + 1.0);
  }
  return found;
}

}  // namespace potshadow
