// SPDX-License-Identifier: MIT
#include "compare/shape_difference.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <random>

namespace potshadow {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::Vector2d;
using Eigen::VectorXd;

constexpr double kReach = 0.5;      // of the original's height or width: farther is no gap of it
constexpr double kFewestMet = 0.7;  // of the rows, for the profiles to be comparable
constexpr int kScaleRounds = 20;    // each takes out all but a few percent of what is left
constexpr double kScaleSettled = 1e-9;

Vector2d vector_of(const ProfilePoint& p) { return {p.radius_mm, p.height_mm}; }

// The length of profile that each row stands for.
VectorXd lengths_of(const std::vector<ProfilePoint>& rows) {
  VectorXd lengths = VectorXd::Zero(static_cast<Index>(rows.size()));
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    const double half = (vector_of(rows[i + 1]) - vector_of(rows[i])).norm() / 2.0;
    lengths(static_cast<Index>(i)) += half;
    lengths(static_cast<Index>(i + 1)) += half;
  }
  return lengths;
}

double extent(const std::vector<ProfilePoint>& rows) {
  double most = 0.0;
  for (const ProfilePoint& p : rows) most = std::max({most, p.radius_mm, p.height_mm});
  return most;
}

// Where the line along a row's normal meets the other profile: the way there, and between which of
// the other's rows.
struct Meeting {
  double way = 0.0;
  std::size_t segment = 0;
  double part = 0.0;
};

std::optional<Meeting> meeting(const Vector2d& from, const std::vector<ProfilePoint>& line,
                               const Vector2d& direction, double reach_mm) {
  std::optional<Meeting> best;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Vector2d a = vector_of(line[i]);
    const Vector2d step = vector_of(line[i + 1]) - a;
    const double turn = direction.x() * step.y() - direction.y() * step.x();
    if (turn == 0.0) continue;
    const Vector2d off = a - from;
    const double way = (off.x() * step.y() - off.y() * step.x()) / turn;
    double part = (off.x() * direction.y() - off.y() * direction.x()) / turn;
    // The profile goes on straight at its ends, so that a rim a little lower is still met.
    const bool first = i == 0;
    const bool last = i + 2 == line.size();
    constexpr double kOnward = 3.0;  // segments
    if (part < (first ? -kOnward : 0.0) || part > (last ? 1.0 + kOnward : 1.0)) continue;
    if (std::abs(way) > reach_mm || (best && std::abs(best->way) <= std::abs(way))) continue;
    part = std::clamp(part, 0.0, 1.0);
    best = Meeting{way, i, part};
  }
  return best;
}

struct Gaps {
  VectorXd gap;
  MatrixXd by_replica;  // how each gap follows what the replica's rows are off
  VectorXd met;         // 1 where the normal met the replica, else 0
  MatrixXd pulls;       // how each gap falls as the original's heights and widths grow, as parts
};

Gaps gaps_of(const std::vector<ProfilePoint>& original, const std::vector<ProfilePoint>& replica) {
  const auto n = static_cast<Index>(original.size());
  Gaps out{VectorXd::Zero(n), MatrixXd::Zero(n, static_cast<Index>(replica.size())),
           VectorXd::Zero(n), MatrixXd::Zero(n, 2)};
  const double reach = kReach * extent(original);
  for (Index i = 0; i < n; ++i) {
    const auto row = static_cast<std::size_t>(i);
    const Vector2d at = vector_of(original[row]);
    const Vector2d normal = normal_of(original, row);
    const auto found = meeting(at, replica, normal, reach);
    if (!found) continue;
    out.met(i) = 1.0;
    out.gap(i) = found->way;
    for (std::size_t k = 0; k < 2; ++k) {
      const std::size_t other = found->segment + k;
      const double weight = k == 0 ? 1.0 - found->part : found->part;
      // Where the two profiles are not parallel the line meets a moved one farther on.
      const double facing = std::max(0.3, normal.dot(normal_of(replica, other)));
      out.by_replica(i, static_cast<Index>(other)) += weight / facing;
    }
    out.pulls(i, 0) = normal.y() * at.y();
    out.pulls(i, 1) = normal.x() * at.x();
  }
  return out;
}

// The parts of the way from foot to rim at which the rows lie.
VectorXd parts_along(const std::vector<ProfilePoint>& rows) {
  VectorXd along = VectorXd::Zero(static_cast<Index>(rows.size()));
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const auto k = static_cast<Index>(i);
    along(k) = along(k - 1) + (vector_of(rows[i]) - vector_of(rows[i - 1])).norm();
  }
  return along / along(along.size() - 1);
}

// Gaps between places that are the same part of the way up.
Gaps gaps_by_parts(const std::vector<ProfilePoint>& original,
                   const std::vector<ProfilePoint>& replica) {
  const auto n = static_cast<Index>(original.size());
  Gaps out{VectorXd::Zero(n), MatrixXd::Zero(n, static_cast<Index>(replica.size())),
           VectorXd::Ones(n), MatrixXd::Zero(n, 2)};
  const VectorXd own = parts_along(original);
  const VectorXd others = parts_along(replica);
  Index segment = 0;
  for (Index i = 0; i < n; ++i) {
    while (segment + 2 < others.size() && others(segment + 1) < own(i)) ++segment;
    const double length = others(segment + 1) - others(segment);
    const double part =
        length > 0.0 ? std::clamp((own(i) - others(segment)) / length, 0.0, 1.0) : 0.0;
    const auto row = static_cast<std::size_t>(i);
    const auto other = static_cast<std::size_t>(segment);
    const Vector2d at = vector_of(original[row]);
    const Vector2d normal = normal_of(original, row);
    const Vector2d there =
        (1.0 - part) * vector_of(replica[other]) + part * vector_of(replica[other + 1]);
    out.gap(i) = normal.dot(there - at);
    out.by_replica(i, segment) = (1.0 - part) * normal.dot(normal_of(replica, other));
    out.by_replica(i, segment + 1) = part * normal.dot(normal_of(replica, other + 1));
    out.pulls(i, 0) = normal.y() * at.y();
    out.pulls(i, 1) = normal.x() * at.x();
  }
  return out;
}

using FindGaps = Gaps (*)(const std::vector<ProfilePoint>&, const std::vector<ProfilePoint>&);

// The weights that lead from gaps to the best change of scale(s), one row each.
MatrixXd fit_of(const MatrixXd& pulls, const VectorXd& weight) {
  const MatrixXd weighted = weight.asDiagonal() * pulls;
  return (pulls.transpose() * weighted).inverse() * weighted.transpose();
}

// By { upright, across }.
std::vector<ProfilePoint> scaled(const std::vector<ProfilePoint>& rows, const Vector2d& scales) {
  std::vector<ProfilePoint> out = rows;
  for (ProfilePoint& p : out) {
    p.radius_mm *= scales.y();
    p.height_mm *= scales.x();
  }
  return out;
}

// Scales the original until no change of the scale(s) brings it nearer: { upright, across }.
Vector2d best_scales(const std::vector<ProfilePoint>& original,
                     const std::vector<ProfilePoint>& replica, bool one, FindGaps find) {
  Vector2d scales(extent(replica) / extent(original), extent(replica) / extent(original));
  for (int round = 0; round < kScaleRounds; ++round) {
    const auto rows = scaled(original, scales);
    const Gaps gaps = find(rows, replica);
    const MatrixXd pulls = one ? MatrixXd(gaps.pulls.rowwise().sum()) : gaps.pulls;
    const VectorXd change = fit_of(pulls, gaps.met.cwiseProduct(lengths_of(rows))) * gaps.gap;
    constexpr double kMostChange = 0.3;  // in one round
    for (Index k = 0; k < 2; ++k) {
      scales(k) *= 1.0 + std::clamp(change(one ? 0 : k), -kMostChange, kMostChange);
    }
    if (change.cwiseAbs().maxCoeff() < kScaleSettled) break;
  }
  return scales;
}

// The half-width, in standard deviations, of the band that holds all rows at once.
double together(const MatrixXd& covariance, double confidence) {
  constexpr int kDraws = 4000;
  constexpr std::uint64_t kSeed = 20260829;
  const VectorXd sd = covariance.diagonal().cwiseMax(0.0).cwiseSqrt();
  const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(covariance);
  const MatrixXd root =
      eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal();
  // The band of the same gaps is always the same one.
  std::mt19937_64 random(kSeed);  // NOLINT(cert-msc51-cpp)
  std::normal_distribution<double> normal;
  std::vector<double> largest;
  largest.reserve(kDraws);
  VectorXd draw(covariance.rows());
  for (int d = 0; d < kDraws; ++d) {
    for (double& x : draw) x = normal(random);
    const VectorXd gap = root * draw;
    double most = 0.0;
    for (Index i = 0; i < gap.size(); ++i) {
      if (sd(i) > 0.0) most = std::max(most, std::abs(gap(i)) / sd(i));
    }
    largest.push_back(most);
  }
  std::sort(largest.begin(), largest.end());
  const auto at = static_cast<std::size_t>(confidence * kDraws);
  return std::max(kNormal95, largest[std::min(at, largest.size() - 1)]);
}

// The part of the vessel at each row: foot and rim are the lowest and highest tenth; between the
// widest place and a neck lies the shoulder.
std::vector<ProfilePart> parts_of(const std::vector<ProfilePoint>& rows) {
  constexpr double kEnd = 0.1;  // of the height
  constexpr double kNearNeck = 0.08;
  constexpr double kNeckDepth = 0.02;  // of the widest radius
  const double height = rows.back().height_mm;
  const auto wider = [](const ProfilePoint& a, const ProfilePoint& b) {
    return a.radius_mm < b.radius_mm;
  };
  const auto widest = std::max_element(rows.begin(), rows.end(), wider);
  const auto narrow = std::min_element(widest, rows.end(), wider);
  const auto top = std::max_element(narrow, rows.end(), wider);
  const bool has_neck = top->radius_mm - narrow->radius_mm > kNeckDepth * widest->radius_mm;
  std::vector<ProfilePart> parts;
  for (auto row = rows.begin(); row != rows.end(); ++row) {
    ProfilePart part = ProfilePart::kBelly;
    if (row->height_mm < kEnd * height) {
      part = ProfilePart::kFoot;
    } else if (row->height_mm > (1.0 - kEnd) * height && (!has_neck || row > narrow)) {
      part = ProfilePart::kRim;
    } else if (has_neck && row > widest) {
      const bool near = std::abs(row->height_mm - narrow->height_mm) < kNearNeck * height;
      part = near ? ProfilePart::kNeck : row < narrow ? ProfilePart::kShoulder : ProfilePart::kRim;
    }
    parts.push_back(part);
  }
  return parts;
}

std::vector<GapRow> rows_of(const std::vector<ProfilePoint>& original, const Gaps& gaps,
                            const VectorXd& gap, const MatrixXd& covariance, double confidence) {
  const double wide = together(covariance, confidence);
  const std::vector<ProfilePart> parts = parts_of(original);
  std::vector<GapRow> out;
  for (std::size_t i = 0; i < original.size(); ++i) {
    const auto k = static_cast<Index>(i);
    if (gaps.met(k) == 0.0) continue;
    const double sd = std::sqrt(std::max(0.0, covariance(k, k)));
    GapRow row{original[i], parts[i], normal_measured(gap(k), sd), wide * sd, false};
    row.differs = std::abs(gap(k)) > row.together_mm;
    out.push_back(row);
  }
  return out;
}

std::vector<DifferentPlace> places_of(const std::vector<GapRow>& rows) {
  std::vector<DifferentPlace> out;
  for (std::size_t i = 0; i < rows.size();) {
    if (!rows[i].differs) {
      ++i;
      continue;
    }
    const bool outward = rows[i].gap_mm.value > 0.0;
    DifferentPlace place{i, rows[i].part, rows[i].at.height_mm, rows[i].at.height_mm};
    for (; i < rows.size() && rows[i].differs && (rows[i].gap_mm.value > 0.0) == outward; ++i) {
      place.high_mm = rows[i].at.height_mm;
      if (std::abs(rows[i].gap_mm.value) > std::abs(rows[place.row].gap_mm.value)) {
        place.row = i;
        place.part = rows[i].part;
      }
    }
    out.push_back(place);
  }
  std::sort(out.begin(), out.end(), [&](const DifferentPlace& a, const DifferentPlace& b) {
    return std::abs(rows[a.row].gap_mm.value) > std::abs(rows[b.row].gap_mm.value);
  });
  return out;
}

bool sound(const Form& form) {
  const auto n = static_cast<Index>(form.rows.size());
  return n >= 3 && form.covariance.rows() == n && form.covariance.cols() == n &&
         form.covariance.allFinite() && extent(form.rows) > 0.0;
}

}  // namespace

std::string_view part_words(ProfilePart part) {
  switch (part) {
    case ProfilePart::kFoot:
      return "foot";
    case ProfilePart::kBelly:
      return "belly";
    case ProfilePart::kShoulder:
      return "shoulder";
    case ProfilePart::kNeck:
      return "neck";
    case ProfilePart::kRim:
      return "rim";
  }
  return "";
}

std::optional<double> way_to(const std::vector<ProfilePoint>& line, const Vector2d& from,
                             const Vector2d& direction, double reach_mm) {
  const auto found = meeting(from, line, direction, reach_mm);
  if (!found) return std::nullopt;
  return found->way;
}

Result<ShapeDifference> shape_difference(const ShapeRequest& request) {
  const Form& original = request.original;
  const Form& replica = request.replica;
  const auto fits = [&](const SharedMove& move) {
    return move.original.size() == original.covariance.rows() &&
           move.replica.size() == replica.covariance.rows();
  };
  if (!sound(original) || !sound(replica) ||
      !std::all_of(request.shared.begin(), request.shared.end(), fits)) {
    return Problem{Code::kBadValue, "A profile to compare is not whole.",
                   "Measure both vessels first.", "form"};
  }
  ShapeDifference out;
  FindGaps find = gaps_of;
  Vector2d both = best_scales(original.rows, replica.rows, true, find);
  const auto alike = [&] {
    if (!both.allFinite() || !(both.minCoeff() > 0.0)) return false;
    const auto rows = scaled(original.rows, Vector2d::Constant(both.x()));
    return gaps_of(rows, replica.rows).met.mean() >= kFewestMet;
  };
  if (!alike()) {
    out.by_parts = true;
    find = gaps_by_parts;
    both = best_scales(original.rows, replica.rows, true, find);
  }
  const Vector2d each = best_scales(original.rows, replica.rows, false, find);
  const double scale = both.x();
  const auto fitted = scaled(original.rows, Vector2d::Constant(scale));
  const Gaps gaps = find(fitted, replica.rows);
  const VectorXd weight = gaps.met.cwiseProduct(lengths_of(fitted));
  const VectorXd pull = gaps.pulls.rowwise().sum();
  // What the gaps are off: the replica's part less the original's, without the scale that both
  // share.
  const MatrixXd met = gaps.met.asDiagonal();
  const double shared = request.shared_scale_sd * request.shared_scale_sd;
  const auto covariance_of = [&](const Gaps& of, double factor, const VectorXd& pulled) {
    const MatrixXd mask = of.met.asDiagonal();
    MatrixXd sum = of.by_replica * replica.covariance * of.by_replica.transpose() +
                   factor * factor * (mask * original.covariance * mask);
    // Each side has the shared scale in its own covariance.
    sum -= 2.0 * shared * (pulled * pulled.transpose());
    for (const SharedMove& move : request.shared) {
      const VectorXd one = factor * of.met.cwiseProduct(move.original);
      const VectorXd other = of.by_replica * move.replica;
      sum -= one * other.transpose() + other * one.transpose();
    }
    return sum;
  };
  const MatrixXd off = covariance_of(gaps, scale, pull);
  const MatrixXd one = fit_of(pull, weight);
  const double scale_variance = std::max(0.0, (one * off * one.transpose())(0, 0));
  out.scale = normal_measured(scale, scale * std::sqrt(scale_variance));

  const auto stretched = scaled(original.rows, each);
  const Gaps own = find(stretched, replica.rows);
  const MatrixXd two = fit_of(own.pulls, own.met.cwiseProduct(lengths_of(stretched)));
  const MatrixXd each_variance =
      two * covariance_of(own, scale, own.pulls.rowwise().sum()) * two.transpose();
  out.upright_scale =
      normal_measured(each.x(), each.x() * std::sqrt(std::max(0.0, each_variance(0, 0))));
  out.across_scale =
      normal_measured(each.y(), each.y() * std::sqrt(std::max(0.0, each_variance(1, 1))));

  const MatrixXd left =
      MatrixXd::Identity(pull.size(), pull.size()) - pull * one;  // of gaps, the scale taken out
  const MatrixXd after = met * left * off * left.transpose() * met;
  out.scaled = rows_of(fitted, gaps, gaps.gap, after, request.confidence);
  out.places = places_of(out.scaled);

  const Gaps bare = find(original.rows, replica.rows);
  out.as_made = rows_of(original.rows, bare, bare.gap,
                        covariance_of(bare, 1.0, bare.pulls.rowwise().sum()), request.confidence);
  const double length = weight.sum();
  out.area_mm2 = weight.dot(gaps.gap.cwiseAbs());
  out.rms_mm = std::sqrt(weight.dot(gaps.gap.cwiseAbs2()) / length);
  return out;
}

}  // namespace potshadow
