// SPDX-License-Identifier: MIT
#include "outline/edge_curve.h"

#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <opencv2/core.hpp>
#include <random>

namespace potshadow {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

double median(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

// Samples of a picture between its pixels, as grey levels (0-255) or as light (0-1).
class Sampler {
 public:
  Sampler(const Picture& picture, bool light) : bgr_(picture.bgr) {
    for (std::size_t i = 0; i < curve_.size(); ++i) {
      const double level = static_cast<double>(i) / 255.0;
      // sRGB's curve, IEC 61966-2-1.
      curve_[i] = !light            ? static_cast<double>(i)
                  : level < 0.04045 ? level / 12.92
                                    : std::pow((level + 0.055) / 1.055, 2.4);
    }
  }

  // The place and its three neighbours to the right and below are in the picture.
  bool inside(const Vector2d& p) const {
    return p.x() >= 0.0 && p.y() >= 0.0 && p.x() < bgr_.cols - 1 && p.y() < bgr_.rows - 1;
  }

  // Requires inside(p).
  Vector3d at(const Vector2d& p) const {
    const int x = static_cast<int>(p.x());
    const int y = static_cast<int>(p.y());
    const double u = p.x() - x;
    const double v = p.y() - y;
    const auto* top = bgr_.ptr<cv::Vec3b>(y) + x;
    const auto* low = bgr_.ptr<cv::Vec3b>(y + 1) + x;
    Vector3d out;
    for (int k = 0; k < 3; ++k) {
      out[k] = (1.0 - v) * ((1.0 - u) * curve_[top[0][k]] + u * curve_[top[1][k]]) +
               v * ((1.0 - u) * curve_[low[0][k]] + u * curve_[low[1][k]]);
    }
    return out;
  }

  // Returns samples a pixel apart from -half to half outwards of the station, each the mean of
  // `wide` of them along the edge; empty where that leaves the picture.
  std::vector<Vector3d> across(const EdgeStation& station, int half, int wide) const {
    const Vector2d along{-station.outwards.y(), station.outwards.x()};
    std::vector<Vector3d> out;
    out.reserve(static_cast<std::size_t>(2 * half + 1));
    for (int i = -half; i <= half; ++i) {
      Vector3d sum = Vector3d::Zero();
      for (int j = 0; j < wide; ++j) {
        const Vector2d p = station.at + i * station.outwards + (j - (wide - 1) / 2.0) * along;
        if (!inside(p)) return {};
        sum += at(p);
      }
      out.emplace_back(sum / wide);
    }
    return out;
  }

 private:
  cv::Mat bgr_;
  std::array<double, 256> curve_{};
};

// --- Rough ---------------------------------------------------------------------------------------

// What may be the edge at one station.
struct Candidate {
  double offset_px = 0.0;
  Vector3d step = Vector3d::Zero();  // outer less inner colour
  double worth = 0.0;
};

constexpr int kStepPx = 3;           // colours on either side are means of this many pixels
constexpr double kLeastStep = 8.0;   // grey levels, over all channels
constexpr double kAboveNoise = 3.0;  // times the station's median step
constexpr double kFullStep =
    60.0;  // a stronger edge is worth no more: inks are stronger than paper
constexpr double kInnerWorth = 1.4;  // for the inner side having the expected colour
constexpr std::size_t kMostCandidates = 6;

std::vector<Candidate> candidates(const Sampler& levels, const EdgeStation& station, double reach,
                                  const Vector3d& inner_colour) {
  constexpr int kWide = 5;  // an edge that is crossed aslant by so little stays an edge
  const int half = static_cast<int>(std::ceil(reach)) + kStepPx + 1;
  const auto line = levels.across(station, half, kWide);
  if (line.empty()) return {};
  const auto mean = [&](int from) {
    Vector3d sum = Vector3d::Zero();
    for (int i = from; i < from + kStepPx; ++i) sum += line[static_cast<std::size_t>(i)];
    return Vector3d(sum / kStepPx);
  };
  std::vector<Vector3d> steps;
  std::vector<double> sizes;
  const int first = kStepPx;
  for (int i = first; i + kStepPx < static_cast<int>(line.size()); ++i) {
    steps.emplace_back(mean(i + 1) - mean(i - kStepPx));
    sizes.push_back(steps.back().norm());
  }
  const double least = std::max(kLeastStep, kAboveNoise * median(sizes));
  std::vector<Candidate> found;
  for (std::size_t i = 1; i + 1 < steps.size(); ++i) {
    if (sizes[i] < least || sizes[i] < sizes[i - 1] || sizes[i] <= sizes[i + 1]) continue;
    const int middle = static_cast<int>(i) + first;
    const double bend = sizes[i - 1] - 2.0 * sizes[i] + sizes[i + 1];
    const double top = bend < 0.0 ? (sizes[i - 1] - sizes[i + 1]) / (2.0 * bend) : 0.0;
    const Vector3d inner = mean(middle - kStepPx);
    const bool expected = (inner - inner_colour).norm() < 0.5 * sizes[i];
    found.push_back({middle - half + top, steps[i],
                     std::min(sizes[i], kFullStep) * (expected ? kInnerWorth : 1.0)});
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Candidate& a, const Candidate& b) { return a.worth > b.worth; });
  if (found.size() > kMostCandidates) found.resize(kMostCandidates);
  return found;
}

struct Agreement {
  double worth = 0.0;
  std::vector<std::pair<std::size_t, double>> places;  // station and its edge's offset
};

using Field = std::vector<std::vector<Candidate>>;

// `usual` is how far clicks are off as a rule.
Agreement agreement(const std::vector<EdgeStation>& stations, const Field& field,
                    const Eigen::VectorXd& coefficients, const Vector3d& step, double usual,
                    double agree) {
  Agreement out;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    const double offset = stations[i].shapes.dot(coefficients);
    const double off = offset / usual;
    const Candidate* best = nullptr;
    for (const Candidate& c : field[i]) {
      if (std::abs(c.offset_px - offset) > agree || c.step.dot(step) <= 0.0) continue;
      if (!best || c.worth > best->worth) best = &c;
    }
    if (!best) continue;
    out.worth += best->worth * std::exp(-0.5 * off * off);
    out.places.emplace_back(i, best->offset_px);
  }
  return out;
}

Eigen::VectorXd through(const std::vector<EdgeStation>& stations,
                        const std::vector<std::pair<std::size_t, double>>& places) {
  Eigen::MatrixXd design(static_cast<Eigen::Index>(places.size()), stations.front().shapes.size());
  Eigen::VectorXd offsets(design.rows());
  for (Eigen::Index i = 0; i < design.rows(); ++i) {
    const auto& [station, offset] = places[static_cast<std::size_t>(i)];
    design.row(i) = stations[station].shapes.transpose();
    offsets[i] = offset;
  }
  return design.colPivHouseholderQr().solve(offsets);
}

// --- Fine ----------------------------------------------------------------------------------------

constexpr int kWindowPx = 7;         // a step is fitted to samples this far to either side
constexpr double kNearPx = 4.0;      // a step farther from its station is another one
constexpr double kLeastRise = 0.35;  // of the whole side's

double below(double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); }

struct Step {
  double at_px = 0.0;
  double rise = 0.0;
  double misfit = 0.0;  // sum of squares
};

// Returns the step of that blur which fits the samples best: low + rise * Phi((x - at) / blur).
Step step_in(const std::vector<double>& samples, double blur) {
  Step step;
  double low = 0.0;
  step.rise = 1.0;
  constexpr int kRounds = 8;
  for (int round = 0; round < kRounds; ++round) {
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Vector3d right = Vector3d::Zero();
    step.misfit = 0.0;
    for (int i = -kWindowPx; i <= kWindowPx; ++i) {
      const double x = (i - step.at_px) / blur;
      const double share = below(x);
      const double density = std::exp(-0.5 * x * x) / (blur * std::sqrt(2.0 * std::numbers::pi));
      const double miss =
          samples[static_cast<std::size_t>(i + kWindowPx)] - low - step.rise * share;
      const Vector3d slope{-step.rise * density, 1.0, share};
      normal += slope * slope.transpose();
      right += slope * miss;
      step.misfit += miss * miss;
    }
    const Vector3d move = normal.ldlt().solve(right);
    if (!move.allFinite()) break;
    step.at_px += std::clamp(move[0], -1.0, 1.0);
    low += move[1];
    step.rise += move[2];
    if (std::abs(step.at_px) > kWindowPx - 2.0) break;
  }
  return step;
}

// How much light rises across the edge, station by station, 0 inside and 1 outside on the whole.
struct Rises {
  std::vector<std::size_t> stations;
  std::vector<std::vector<double>> samples;
};

Rises rises_of(const Picture& picture, const std::vector<EdgeStation>& stations) {
  const Sampler light(picture, true);
  std::vector<std::vector<Vector3d>> lines;
  Rises out;
  Vector3d step = Vector3d::Zero();
  Vector3d inner = Vector3d::Zero();
  for (std::size_t i = 0; i < stations.size(); ++i) {
    auto line = light.across(stations[i], kWindowPx, 1);
    if (line.empty()) continue;
    for (std::size_t k = 0; k < 3; ++k) {
      step += line[line.size() - 1 - k] - line[k];
      inner += line[k];
    }
    out.stations.push_back(i);
    lines.push_back(std::move(line));
  }
  const double size = step.norm();
  const double count = 3.0 * static_cast<double>(lines.size());
  if (lines.empty() || !(size > 0.0)) return {};
  for (const auto& line : lines) {
    std::vector<double>& samples = out.samples.emplace_back();
    for (const Vector3d& v : line) {
      samples.push_back((v - inner / count).dot(step / size) / (size / count));
    }
  }
  return out;
}

// Returns how alike neighbours err: the variance of a mean over that of independent errors, by the
// correlation of neighbours.
double alike(const std::vector<double>& misses) {
  double product = 0.0;
  double square = 0.0;
  for (std::size_t i = 0; i < misses.size(); ++i) {
    square += misses[i] * misses[i];
    if (i > 0) product += misses[i] * misses[i - 1];
  }
  const double correlation = square > 0.0 ? std::clamp(product / square, 0.0, 0.8) : 0.0;
  return (1.0 + correlation) / (1.0 - correlation);
}

// The curve that the stations agree on best, with the places that do; none where fewer than half
// of them do.
struct Agreed {
  Eigen::VectorXd coefficients;
  std::size_t stations = 0;
  double off_px = 0.0;  // from the clicks, on the whole
};

std::optional<Agreed> agreed_curve(const std::vector<EdgeStation>& stations, const Field& field,
                                   double reach_px, double usual_px, double agree_px) {
  const auto terms = static_cast<std::size_t>(stations.front().shapes.size());
  // Enough for five right ones of five where two of three candidates are the edge's, and far more
  // for two.
  constexpr int kTrials = 1500;
  std::mt19937_64 random(1);
  const auto below_count = [&](std::size_t count) {
    return static_cast<std::size_t>(random() % static_cast<std::uint64_t>(count));
  };
  Eigen::VectorXd best;
  Vector3d best_step = Vector3d::Zero();
  double best_worth = 0.0;
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<std::pair<std::size_t, double>> places;
    Vector3d step = Vector3d::Zero();
    for (std::size_t k = 0; k < terms; ++k) {
      // One of each part of the curve.
      const std::size_t from = k * stations.size() / terms;
      const std::size_t i = from + below_count((k + 1) * stations.size() / terms - from);
      if (field[i].empty()) break;
      const Candidate& c =
          field[i][std::min(below_count(field[i].size()), below_count(field[i].size()))];
      places.emplace_back(i, c.offset_px);
      step += c.step;
    }
    if (places.size() < terms) continue;
    const Eigen::VectorXd coefficients = through(stations, places);
    if (std::any_of(stations.begin(), stations.end(), [&](const EdgeStation& s) {
          return !(std::abs(s.shapes.dot(coefficients)) <= reach_px);
        })) {
      continue;
    }
    const Agreement found = agreement(stations, field, coefficients, step, usual_px, agree_px);
    if (found.worth <= best_worth) continue;
    best = coefficients;
    best_step = step;
    best_worth = found.worth;
  }
  if (best.size() == 0) return std::nullopt;
  Agreed agreed;
  for (int round = 0; round < 3; ++round) {
    const Agreement found = agreement(stations, field, best, best_step, usual_px, agree_px);
    if (2 * found.places.size() < stations.size() || found.places.size() <= terms) {
      return std::nullopt;
    }
    best = through(stations, found.places);
    agreed.stations = found.places.size();
  }
  for (const EdgeStation& s : stations) agreed.off_px += std::abs(s.shapes.dot(best));
  agreed.off_px /= static_cast<double>(stations.size());
  agreed.coefficients = best;
  return agreed;
}

}  // namespace

Eigen::Vector3d middle_colour(const Picture& picture, const std::vector<Vector2d>& polygon) {
  Vector2d centre = Vector2d::Zero();
  for (const Vector2d& p : polygon) centre += p / static_cast<double>(polygon.size());
  const Sampler levels(picture, false);
  std::array<std::vector<double>, 3> channels;
  constexpr int kRings = 20;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vector2d& a = polygon[i];
    const Vector2d& b = polygon[(i + 1) % polygon.size()];
    for (int ring = 1; ring <= kRings; ++ring) {
      for (int k = 0; k < kRings; ++k) {
        const Vector2d p =
            centre + 0.8 * ring / kRings * (a + (b - a) * (k + 0.5) / kRings - centre);
        if (!levels.inside(p)) continue;
        const Vector3d v = levels.at(p);
        for (std::size_t c = 0; c < 3; ++c) channels[c].push_back(v[static_cast<int>(c)]);
      }
    }
  }
  if (channels[0].empty()) return Vector3d::Zero();
  return {median(channels[0]), median(channels[1]), median(channels[2])};
}

std::optional<Eigen::VectorXd> rough_curve(const Picture& picture,
                                           const std::vector<EdgeStation>& stations,
                                           double reach_px, double agree_px,
                                           const Vector3d& inner_colour) {
  // Clicks are off by half of the reach as a rule. But where an edge runs all along the clicks
  // within a tenth of it they were careful ones: then that is the edge, not a printed line, bar or
  // frame beside it that may be more distinct.
  constexpr double kUsual = 0.5;
  constexpr double kCareful = 0.1;
  constexpr double kMuchNearer = 0.5;
  const Sampler levels(picture, false);
  Field field;
  for (const EdgeStation& s : stations)
    field.push_back(candidates(levels, s, reach_px, inner_colour));
  const auto rough = agreed_curve(stations, field, reach_px, kUsual * reach_px, agree_px);
  if (!rough) return std::nullopt;
  const auto careful = agreed_curve(stations, field, reach_px, kCareful * reach_px, agree_px);
  const bool all_along = careful && 10 * careful->stations >= 7 * stations.size();
  if (all_along && careful->off_px < kMuchNearer * rough->off_px) return careful->coefficients;
  return rough->coefficients;
}

std::optional<EdgeCurve> fine_curve(const Picture& picture,
                                    const std::vector<EdgeStation>& stations) {
  const Rises rises = rises_of(picture, stations);
  const auto terms = static_cast<std::size_t>(stations.front().shapes.size());
  constexpr std::size_t kFewest = 8;  // besides one for each coefficient
  if (rises.samples.size() < kFewest + terms) return std::nullopt;
  // The blur is that of the whole edge.
  double blur = 0.0;
  double least = 0.0;
  for (const double trial : {0.6, 0.8, 1.0, 1.25, 1.6, 2.0, 2.6, 3.4}) {
    std::vector<double> misfits;
    for (const auto& samples : rises.samples) misfits.push_back(step_in(samples, trial).misfit);
    const double misfit = median(misfits);
    if (blur > 0.0 && misfit >= least) continue;
    blur = trial;
    least = misfit;
  }
  std::vector<std::size_t> clear;
  std::vector<double> places;
  for (std::size_t i = 0; i < rises.samples.size(); ++i) {
    const Step step = step_in(rises.samples[i], blur);
    if (!(std::abs(step.at_px) <= kNearPx) || !(step.rise >= kLeastRise)) continue;
    clear.push_back(rises.stations[i]);
    places.push_back(step.at_px);
  }
  if (2 * clear.size() < stations.size() || clear.size() < kFewest + terms) return std::nullopt;

  const auto count = static_cast<Eigen::Index>(clear.size());
  Eigen::MatrixXd design(count, static_cast<Eigen::Index>(terms));
  Eigen::VectorXd offsets(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    design.row(i) = stations[clear[static_cast<std::size_t>(i)]].shapes.transpose();
    offsets[i] = places[static_cast<std::size_t>(i)];
  }
  constexpr double kTukey = 4.685;  // 95 % as good as least squares where nothing is an outlier
  constexpr double kNormalOfMedian = 1.4826;
  constexpr int kRounds = 12;
  constexpr double kLeastScale = 0.01;  // px; grey levels are whole
  EdgeCurve curve;
  Eigen::VectorXd weights = Eigen::VectorXd::Ones(count);
  for (int round = 0; round < kRounds; ++round) {
    const Eigen::MatrixXd weighed = design.transpose() * weights.asDiagonal();
    curve.coefficients = (weighed * design).ldlt().solve(weighed * offsets);
    const Eigen::VectorXd misses = offsets - design * curve.coefficients;
    const Eigen::VectorXd sizes = misses.cwiseAbs();
    const double scale = std::max(
        kLeastScale, kNormalOfMedian * median({sizes.data(), sizes.data() + sizes.size()}));
    for (Eigen::Index i = 0; i < count; ++i) {
      const double u = misses[i] / (kTukey * scale);
      weights[i] = std::abs(u) < 1.0 ? (1.0 - u * u) * (1.0 - u * u) : 0.0;
    }
  }
  const Eigen::VectorXd misses = offsets - design * curve.coefficients;
  const double freedom = weights.sum() - static_cast<double>(terms);
  if (!(freedom > 1.0)) return std::nullopt;
  curve.scatter_px = std::sqrt((weights.array() * misses.array().square()).sum() / freedom);
  std::vector<double> kept;
  for (Eigen::Index i = 0; i < count; ++i) {
    if (weights[i] <= 0.0) continue;
    curve.stations.push_back(clear[static_cast<std::size_t>(i)]);
    curve.offsets_px.push_back(offsets[i]);
    kept.push_back(misses[i]);
  }
  constexpr double kMostScatterPx = 1.0;  // more is no edge, but a texture
  if (curve.scatter_px > kMostScatterPx || 2 * kept.size() < stations.size()) return std::nullopt;
  curve.alike = alike(kept);
  const Eigen::MatrixXd normal = design.transpose() * weights.asDiagonal() * design;
  curve.covariance = normal.ldlt().solve(Eigen::MatrixXd::Identity(normal.rows(), normal.cols())) *
                     (curve.scatter_px * curve.scatter_px * curve.alike);
  return curve;
}

}  // namespace potshadow
