// SPDX-License-Identifier: MIT
#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "clay/bench_parts.h"
#include "clay/stages.h"
#include "core/check.h"
#include "core/propagation.h"
#include "core/student_t.h"

namespace potshadow::internal {
namespace {

constexpr double k95 = 0.95;
constexpr int kDraws = 4000;  // the factor then scatters by about 0.02
constexpr std::uint64_t kSeed = 1;

// Returns a matrix A so that A z has the correlation asked for, z being independent. A matrix that
// rounding left a little outside what can be is set to the nearest one that can.
Eigen::MatrixXd root_of(const std::vector<std::vector<double>>& correlation, Eigen::Index count) {
  if (correlation.empty()) return Eigen::MatrixXd::Identity(count, count);
  POTSHADOW_CHECK(static_cast<Eigen::Index>(correlation.size()) == count);
  Eigen::MatrixXd matrix(count, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const auto& row = correlation[static_cast<std::size_t>(i)];
    POTSHADOW_CHECK(static_cast<Eigen::Index>(row.size()) == count);
    for (Eigen::Index j = 0; j < count; ++j) matrix(i, j) = row[static_cast<std::size_t>(j)];
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> parts(matrix);
  return parts.eigenvectors() * parts.eigenvalues().cwiseMax(0.0).cwiseSqrt().asDiagonal();
}

// The clay's doubt in units of half its 95 % interval. Bars make that interval t sd; how many
// degrees of freedom they had follows from t.
class ClayDraw {
 public:
  explicit ClayDraw(const LinearShrinkage& shrinkage) {
    constexpr int kNormalFrom = 30;
    const double ratio = shrinkage.sd > 0.0 ? shrinkage.half95 / shrinkage.sd : kNormal95;
    for (int freedom = 1; freedom < kNormalFrom; ++freedom) {
      if (student_t(k95, freedom) > ratio) continue;
      freedom_ = ratio > student_t(k95, kNormalFrom) ? freedom : 0;
      break;
    }
    half_ = freedom_ == 0 ? kNormal95 : student_t(k95, freedom_);
  }

  double draw(DrawRandom& random) const {
    const double normal = random.normal();
    if (freedom_ == 0) return normal / half_;
    double squares = 0.0;
    for (int i = 0; i < freedom_; ++i) squares += std::pow(random.normal(), 2);
    return normal / std::sqrt(squares / freedom_) / half_;
  }

 private:
  int freedom_ = 0;  // 0: normal
  double half_ = kNormal95;
};

}  // namespace

double widening_of(const BenchRequest& request, const std::vector<BenchSize>& sizes) {
  if (sizes.size() < 2) return 1.0;
  const auto count = static_cast<Eigen::Index>(sizes.size());
  const Eigen::MatrixXd root = root_of(request.target_correlation, count);
  const ClayDraw across(to_fired(request.clay, request.stage, SizeWay::kAcross));
  const ClayDraw upright(to_fired(request.clay, request.stage, SizeWay::kUpright));
  const bool ways = has_ways(request.clay, request.stage);
  std::vector<double> worst;
  worst.reserve(kDraws);
  Eigen::VectorXd normals(count);
  for (int draw = 0; draw < kDraws; ++draw) {
    DrawRandom random(kSeed, static_cast<std::uint64_t>(draw));
    for (double& normal : normals) normal = random.normal();
    const Eigen::VectorXd photograph = root * normals / kNormal95;
    const double clay_across = across.draw(random);
    const double clay_upright = ways ? upright.draw(random) : clay_across;
    double most = 0.0;
    for (Eigen::Index i = 0; i < count; ++i) {
      const BenchSize& size = sizes[static_cast<std::size_t>(i)];
      const bool diameter = size.kind == PartKind::kDiameter || size.kind == PartKind::kCapacity;
      const double error = std::sqrt(size.doubts[0]) * photograph(i) +
                           std::sqrt(size.doubts[1]) * (diameter ? clay_across : clay_upright) +
                           std::sqrt(size.doubts[2]) * random.normal() / kNormal95;
      most = std::max(most, std::abs(error));
    }
    worst.push_back(most);
  }
  const auto at = worst.begin() + static_cast<std::ptrdiff_t>(k95 * kDraws);
  std::nth_element(worst.begin(), at, worst.end());
  return std::max(1.0, *at);
}

}  // namespace potshadow::internal
