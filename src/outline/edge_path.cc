// SPDX-License-Identifier: MIT
#include "outline/edge_path.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <opencv2/core.hpp>

namespace potshadow {
namespace {

// Colours nearby are looked at this deep, in pixels of the mask, and this far along.
constexpr int kFromDeep = 2;
constexpr int kToDeep = 9;
constexpr int kAlongDeep = 14;  // pixels of the mask
// Spread of either side's colours that is taken for granted, grey levels.
constexpr double kLeastSpread = 4.0;
// Weights of the costs, see cost_of.
constexpr double kRegionWeight = 2.5;
constexpr double kStepWeight = 2.0;
constexpr double kEdgeWeight = 0.35;
constexpr double kMostRegion = 2.0;  // of one sample: a highlight must not outvote the rest
// Of being where the edge is expected; below 1, since neighbours are off alike.
constexpr double kExpectedWeight = 0.4;
// Jumps between neighbours.
constexpr int kMostJump = 3;
constexpr double kJumpCost = 0.12;  // of a jump of one pixel, growing with its square
// Another edge is another one from here on.
constexpr int kElsewherePx = 5;

using Profile = std::vector<cv::Vec3f>;

cv::Vec3f sample(const cv::Mat& bgr, double x, double y) {
  x = std::clamp(x, 0.0, bgr.cols - 1.0);
  y = std::clamp(y, 0.0, bgr.rows - 1.0);
  const int left = std::min(static_cast<int>(x), bgr.cols - 2);
  const int top = std::min(static_cast<int>(y), bgr.rows - 2);
  const auto u = static_cast<float>(x - left);
  const auto v = static_cast<float>(y - top);
  const auto* upper = bgr.ptr<cv::Vec3b>(top) + left;
  const auto* lower = bgr.ptr<cv::Vec3b>(top + 1) + left;
  cv::Vec3f sum;
  for (int c = 0; c < 3; ++c) {
    const float a = static_cast<float>(upper[0][c]) * (1 - u) + static_cast<float>(upper[1][c]) * u;
    const float b = static_cast<float>(lower[0][c]) * (1 - u) + static_cast<float>(lower[1][c]) * u;
    sum[c] = a * (1 - v) + b * v;
  }
  return sum;
}

// --- What vessel and surroundings look like nearby ----------------------------------------------

// Sums of colours, to be taken over any run of the line.
struct Colours {
  double count = 0.0;
  cv::Vec3d sum{0.0, 0.0, 0.0};
  cv::Matx33d squares = cv::Matx33d::zeros();
  void add(const cv::Vec3d& colour) {
    count += 1.0;
    sum += colour;
    squares += colour * colour.t();
  }
  void add(const Colours& other, double weight) {
    count += weight * other.count;
    sum += weight * other.sum;
    squares += weight * other.squares;
  }
  cv::Vec3d mean() const { return sum * (1.0 / std::max(count, 1e-9)); }
  cv::Matx33d spread() const {
    const cv::Vec3d m = mean();
    return squares * (1.0 / std::max(count, 1e-9)) - m * m.t();
  }
};

// The direction of colour that parts the two sides best (Fisher's discriminant): the vessel's mean
// is at -1, the surroundings' at +1.
struct Discriminant {
  cv::Vec3d weight{0.0, 0.0, 0.0};
  double offset = 0.0;
  double variance_in = 1.0;
  double variance_out = 1.0;
  double apart = 0.0;  // see PathPlace
  bool known = false;
  double of(const cv::Vec3f& colour) const {
    return weight.dot(cv::Vec3d(colour[0], colour[1], colour[2])) + offset;
  }
};

Discriminant discriminant(const Colours& in, const Colours& out) {
  Discriminant d;
  constexpr double kLeastSamples = 20.0;
  if (in.count < kLeastSamples || out.count < kLeastSamples) return d;
  const cv::Vec3d apart = out.mean() - in.mean();
  const cv::Matx33d own = cv::Matx33d::eye() * (kLeastSpread * kLeastSpread);
  const cv::Vec3d raw = (in.spread() + out.spread() + 2.0 * own).inv(cv::DECOMP_CHOLESKY) * apart;
  const double half = raw.dot(apart) / 2.0;
  if (!(half > 1e-6)) return d;
  d.apart = 2.0 * half;
  d.weight = raw * (1.0 / half);
  d.offset = -d.weight.dot(in.mean() + out.mean()) / 2.0;
  d.variance_in = d.weight.dot((in.spread() + own) * d.weight);
  d.variance_out = d.weight.dot((out.spread() + own) * d.weight);
  d.known = true;
  return d;
}

// Returns a discriminant for each place of the line.
std::vector<Discriminant> discriminants(const VesselMask& mask, const SearchLine& line) {
  const std::size_t count = line.at.size();
  std::vector<Colours> in(count);
  std::vector<Colours> out(count);
  for (std::size_t i = 0; i < count; ++i) {
    const cv::Point2d at = mask.from_photo({line.at[i].x, line.at[i].y});
    for (int depth = kFromDeep; depth <= kToDeep; ++depth) {
      for (const int side : {-1, 1}) {
        const cv::Point2d p = at + side * depth * line.outward[i];
        const int x = static_cast<int>(std::lround(p.x));
        const int y = static_cast<int>(std::lround(p.y));
        if (x < 0 || y < 0 || x >= mask.bgr.cols || y >= mask.bgr.rows) continue;
        if ((mask.inside.at<unsigned char>(y, x) > 0) != (side < 0)) continue;
        const auto& c = mask.bgr.at<cv::Vec3b>(y, x);
        (side < 0 ? in : out)[i].add(cv::Vec3d(c[0], c[1], c[2]));
      }
    }
  }
  double step = 1.0;
  if (count > 1) step = std::max(0.2, cv::norm(line.at[1] - line.at[0]) / mask.scale);
  const auto window = static_cast<std::ptrdiff_t>(std::lround(kAlongDeep / step));
  std::vector<Discriminant> all(count);
  Colours sum_in;
  Colours sum_out;
  const auto n = static_cast<std::ptrdiff_t>(count);
  const auto change = [&](std::ptrdiff_t at, double weight) {
    if (line.closed) at = (at % n + n) % n;
    if (at < 0 || at >= n) return;
    sum_in.add(in[static_cast<std::size_t>(at)], weight);
    sum_out.add(out[static_cast<std::size_t>(at)], weight);
  };
  for (std::ptrdiff_t i = -window; i < window; ++i) change(i, 1.0);
  for (std::ptrdiff_t i = 0; i < n; ++i) {
    change(i + window, 1.0);
    all[static_cast<std::size_t>(i)] = discriminant(sum_in, sum_out);
    change(i - window, -1.0);
  }
  return all;
}

// --- Costs --------------------------------------------------------------------------------------

// Returns the colours across one place, `half` pixels to each side, averaged along the edge.
Profile profile_at(const cv::Mat& bgr, cv::Point2d at, cv::Point2d outward, int half,
                   int along_px) {
  const cv::Point2d along(-outward.y, outward.x);
  Profile profile(static_cast<std::size_t>(2 * half + 1));
  for (int t = -half; t <= half; ++t) {
    cv::Vec3f sum(0.F, 0.F, 0.F);
    for (int s = -along_px; s <= along_px; ++s) {
      const cv::Point2d p = at + t * outward + s * along;
      sum += sample(bgr, p.x, p.y);
    }
    profile[static_cast<std::size_t>(t + half)] =
        sum * (1.F / static_cast<float>(2 * along_px + 1));
  }
  return profile;
}

constexpr float kNever = 1e9F;

// Returns the cost of an edge at each offset from -half to half, and the contrast there.
struct Costs {
  std::vector<float> cost;
  std::vector<float> contrast;
};

// `noise` is that of a sample of the profile.
Costs cost_of(const Profile& profile, int half, double reach, const Discriminant& d, bool parts,
              double noise) {
  const int size = 2 * half + 1;
  Costs costs{std::vector<float>(static_cast<std::size_t>(size), kNever),
              std::vector<float>(static_cast<std::size_t>(size), 0.F)};
  // Sums over the profile, so that means of any run are at hand.
  std::vector<cv::Vec3d> sums(static_cast<std::size_t>(size + 1), cv::Vec3d(0.0, 0.0, 0.0));
  std::vector<double> as_in(static_cast<std::size_t>(size + 1), 0.0);
  std::vector<double> as_out(static_cast<std::size_t>(size + 1), 0.0);
  std::vector<double> score(static_cast<std::size_t>(size + 1), 0.0);
  for (std::size_t k = 0; k < static_cast<std::size_t>(size); ++k) {
    const cv::Vec3f& c = profile[k];
    sums[k + 1] = sums[k] + cv::Vec3d(c[0], c[1], c[2]);
    if (!d.known) continue;
    const double s = d.of(c);
    score[k + 1] = score[k] + std::clamp(s, -2.0, 2.0);
    as_in[k + 1] = as_in[k] + std::min(kMostRegion, std::pow(std::min(0.0, -1.0 - s), 2) /
                                                        (2.0 * d.variance_in));
    as_out[k + 1] = as_out[k] + std::min(kMostRegion, std::pow(std::max(0.0, 1.0 - s), 2) /
                                                          (2.0 * d.variance_out));
  }
  // The mean over [from, to), cut to the profile.
  const auto run = [&](const auto& list, int from, int to) {
    from = std::clamp(from, 0, size - 1);
    to = std::clamp(to, from + 1, size);
    return (list[static_cast<std::size_t>(to)] - list[static_cast<std::size_t>(from)]) *
           (1.0 / (to - from));
  };
  constexpr int kShort = 3;
  // Noise of the difference of two means of kShort samples, in all three channels.
  const double by_chance = noise * std::sqrt(2.0 * 3.0 / kShort);
  const double least = std::max(2.0, 2.0 * by_chance);
  const int far = std::min(half, static_cast<int>(std::ceil(reach)));
  const double all = static_cast<double>(size);
  for (int t = half - far; t <= half + far; ++t) {
    const auto k = static_cast<std::size_t>(t);
    // Half a sample of slack to both sides: the edge is in the middle of its blur.
    const double contrast = cv::norm(run(sums, t + 1, t + 1 + kShort) - run(sums, t - kShort, t));
    costs.contrast[k] = static_cast<float>(contrast);
    double cost = -kEdgeWeight * std::log1p(std::pow(contrast / least, 2));
    if (parts && d.known) {
      const double rise = (run(score, t + 1, t + 1 + kShort) - run(score, t - kShort, t)) / 2.0;
      cost -= kStepWeight * std::clamp(rise, -0.5, 1.0);
      const double wrong = as_in[k] + as_out[static_cast<std::size_t>(size)] - as_out[k];
      cost += kRegionWeight * wrong * 10.0 / all;
    }
    costs.cost[k] = static_cast<float>(cost);
  }
  return costs;
}

// Makes an edge dearer that has one about as clear farther out.
void prefer_outermost(std::vector<float>& cost) {
  constexpr std::size_t kNextPx = 4;  // nearer ones are the same edge
  constexpr float kClear = 0.9F;      // some three times what chance gives
  constexpr float kAlike = 0.5F;
  constexpr float kPart = 0.8F;
  const std::vector<float> own(cost);
  for (std::size_t t = 0; t < own.size(); ++t) {
    float clearest = 0.F;
    for (std::size_t farther = t + kNextPx; farther < own.size(); ++farther) {
      if (own[farther] < std::min(-kClear, kAlike * own[t]))
        clearest = std::max(clearest, -own[farther]);
    }
    cost[t] += kPart * clearest;
  }
}

// --- The run of least cost ----------------------------------------------------------------------

// Returns, for each place and offset, the least cost of a run that ends there.
std::vector<std::vector<float>> swept(const std::vector<Costs>& costs, bool backwards) {
  const std::size_t count = costs.size();
  std::vector<std::vector<float>> least(count);
  for (std::size_t step = 0; step < count; ++step) {
    const std::size_t i = backwards ? count - 1 - step : step;
    least[i] = costs[i].cost;
    if (step == 0) continue;
    const auto& before = least[backwards ? i + 1 : i - 1];
    const int size = static_cast<int>(least[i].size());
    for (int t = 0; t < size; ++t) {
      float best = kNever;
      for (int jump = -kMostJump; jump <= kMostJump; ++jump) {
        const int from = t + jump;
        if (from < 0 || from >= size) continue;
        best = std::min(best, before[static_cast<std::size_t>(from)] +
                                  static_cast<float>(kJumpCost * jump * jump));
      }
      least[i][static_cast<std::size_t>(t)] += best;
    }
  }
  return least;
}

PathPlace best_of(const std::vector<float>& forth, const std::vector<float>& back,
                  const Costs& costs, int half) {
  const int size = static_cast<int>(forth.size());
  std::vector<float> total(forth.size());
  for (std::size_t t = 0; t < forth.size(); ++t) total[t] = forth[t] + back[t] - costs.cost[t];
  const int best = static_cast<int>(std::min_element(total.begin(), total.end()) - total.begin());
  PathPlace place;
  place.off_px = best - half;
  place.contrast = static_cast<double>(costs.contrast[static_cast<std::size_t>(best)]);
  float rival = kNever;
  for (int t = 0; t < size; ++t) {
    if (std::abs(t - best) >= kElsewherePx) {
      rival = std::min(rival, total[static_cast<std::size_t>(t)]);
    }
  }
  place.margin = static_cast<double>(rival - total[static_cast<std::size_t>(best)]);
  return place;
}

}  // namespace

double pixel_noise(const cv::Mat& bgr) {
  // Differences of differences along x and y see neither shade nor straight upright edges.
  const int step = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(bgr.total()) / 1e5)));
  std::vector<float> found;
  for (int y = 0; y + 1 < bgr.rows; y += step) {
    const auto* upper = bgr.ptr<cv::Vec3b>(y);
    const auto* lower = bgr.ptr<cv::Vec3b>(y + 1);
    for (int x = 0; x + 1 < bgr.cols; x += step) {
      const int c = 1;  // green: what the others are made of, and the sharpest
      found.push_back(static_cast<float>(
          std::abs(upper[x][c] - upper[x + 1][c] - lower[x][c] + lower[x + 1][c])));
    }
  }
  constexpr double kLeastNoise = 0.4;  // whole grey levels, with some slack
  if (found.empty()) return kLeastNoise;
  const auto middle = found.begin() + static_cast<std::ptrdiff_t>(found.size() / 2);
  std::nth_element(found.begin(), middle, found.end());
  // The sum of four has twice the deviation; half of all normal numbers are below 0.6745.
  return std::max(kLeastNoise, static_cast<double>(*middle) / 0.6745 / 2.0);
}

std::vector<PathPlace> likely_path(const cv::Mat& bgr, const VesselMask& mask,
                                   const SearchLine& line, double noise) {
  const std::size_t count = line.at.size();
  if (count == 0 || bgr.cols < 2 || bgr.rows < 2) return {};
  const double most = *std::max_element(line.reach_px.begin(), line.reach_px.end());
  const int half = std::max(kElsewherePx, static_cast<int>(std::ceil(most)));
  std::vector<Discriminant> found(count);
  if (line.parts) found = discriminants(mask, line);
  std::vector<Costs> costs;
  costs.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    const Profile profile = profile_at(bgr, line.at[i], line.outward[i], half, line.along_px);
    costs.push_back(cost_of(profile, half, line.reach_px[i], found[i], line.parts,
                            noise / std::sqrt(2.0 * line.along_px + 1.0)));
    for (int t = -half; t <= half && !line.expected_px.empty(); ++t) {
      const double off = t / line.expected_px[i];
      costs.back().cost[static_cast<std::size_t>(t + half)] +=
          static_cast<float>(kExpectedWeight * 0.5 * off * off);
    }
    if (line.outermost) prefer_outermost(costs.back().cost);
  }
  // A closed line is run through with a lap's part before and after it.
  std::size_t lead = 0;
  if (line.closed) {
    lead = std::min<std::size_t>(count, 150);
    std::vector<Costs> longer(costs.end() - static_cast<std::ptrdiff_t>(lead), costs.end());
    longer.insert(longer.end(), costs.begin(), costs.end());
    longer.insert(longer.end(), costs.begin(), costs.begin() + static_cast<std::ptrdiff_t>(lead));
    costs = std::move(longer);
  }
  const auto forth = swept(costs, false);
  const auto back = swept(costs, true);
  std::vector<PathPlace> path;
  path.reserve(count);
  for (std::size_t i = lead; i < lead + count; ++i) {
    path.push_back(best_of(forth[i], back[i], costs[i], half));
    path.back().apart = found[i - lead].apart;
  }
  return path;
}

}  // namespace potshadow
