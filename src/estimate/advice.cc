// SPDX-License-Identifier: MIT
#include "estimate/advice.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "core/text.h"
#include "estimate/checks.h"
#include "estimate/normal.h"
#include "estimate/read_off.h"

namespace potshadow::internal {
namespace {

// What someone with a tape, a calliper or a printed board gets to (common practice, no source).
constexpr double kMeasuredSizeSdMm = 0.1;
constexpr double kMeasuredRiserSdMm = 0.5;
constexpr double kMeasuredPaneSdMm = 2.0;
constexpr double kMeasuredDepthSdMm = 3.0;
constexpr double kCalibratedFocalSd = 0.007;
constexpr double kCalibratedK1Sd = 0.005;
constexpr double kCalibratedCentre = 0.003;  // of the longer side
constexpr double kCarefulMarks = 0.5;        // of the stated scatter
constexpr double kWorthIt = 0.9;             // of the interval, at most, that is left

// One thing to do: rows of the linear form that become `factor` times as precise, or a second
// photograph.
struct Measure {
  Advice advice;
  std::vector<std::pair<Eigen::Index, double>> rows;
  bool second_photograph = false;
};

class Adviser {
 public:
  Adviser(const Task& task, const Posterior& posterior, double inflation)
      : task_(task),
        linear_(posterior.linear()),
        jacobian_(linear_.jacobian),
        smoothness_doubt_(posterior.smoothness_doubt() * inflation) {
    for (std::size_t i = 0; i < linear_.rows.size(); ++i) {
      if (linear_.rows[i].source == DoubtSource::kMarks) {
        jacobian_.row(static_cast<Eigen::Index>(i)) /= inflation;
      }
    }
    normal_ = normal_matrix(jacobian_);
  }

  std::vector<Measure> measures() const {
    std::vector<Measure> out;
    calibrate(out);
    measure_references(out);
    mark_carefully(out);
    photograph_again(out);
    return out;
  }

  // The variance that a size with this gradient then has, or none where that can't be told.
  std::optional<double> variance(const Measure& measure, const Eigen::VectorXd& gradient) const {
    if (measure.second_photograph) return variance_with_second(gradient);
    Eigen::MatrixXd added(static_cast<Eigen::Index>(measure.rows.size()), jacobian_.cols());
    Eigen::Index next = 0;
    for (const auto& [row, factor] : measure.rows) {
      added.row(next++) = std::sqrt(factor * factor - 1.0) * jacobian_.row(row);
    }
    Eigen::MatrixXd normal = normal_;  // of which spread() looks at the lower half
    normal.selfadjointView<Eigen::Lower>().rankUpdate(added.transpose());
    return spread(normal, gradient);
  }

 private:
  // From the lower half of `normal`.
  std::optional<double> spread(const Eigen::MatrixXd& normal,
                               const Eigen::VectorXd& gradient) const {
    const Eigen::LDLT<Eigen::MatrixXd> factor(normal);
    if (factor.info() != Eigen::Success) return std::nullopt;
    const Eigen::VectorXd moved = factor.solve(gradient);
    const double found =
        gradient.dot(moved) +
        (smoothness_doubt_.transpose() * moved.head(smoothness_doubt_.rows())).squaredNorm();
    if (!std::isfinite(found) || !(found >= 0.0)) return std::nullopt;
    return found;
  }

  template <class Wanted>
  std::vector<std::pair<Eigen::Index, double>> rows_where(const Wanted& factor_of) const {
    std::vector<std::pair<Eigen::Index, double>> rows;
    for (std::size_t i = 0; i < linear_.rows.size(); ++i) {
      const double factor = factor_of(linear_.rows[i]);
      if (factor > 1.0) rows.emplace_back(static_cast<Eigen::Index>(i), factor);
    }
    return rows;
  }

  void calibrate(std::vector<Measure>& out) const {
    const bool cropped = std::any_of(task_.views.begin(), task_.views.end(),
                                     [](const ViewTask& v) { return v.photo->cropped; });
    if (cropped) return;  // a cut-out does not say which part of the lens it shows
    Measure measure;
    measure.rows = rows_where([&](const RowInfo& row) {
      if (row.said == Said::kFocal) return row.sd / kCalibratedFocalSd;
      if (row.said == Said::kK1) return row.sd / kCalibratedK1Sd;
      if (row.said == Said::kCentre) {
        return row.sd / (kCalibratedCentre * task_.views[row.view].priors.longer_side_px);
      }
      return 0.0;
    });
    if (measure.rows.empty()) return;
    measure.advice.what = "Calibrate this camera with the printed board";
    measure.advice.source = DoubtSource::kFocalLength;
    measure.advice.source_sd = kCalibratedFocalSd;
    out.push_back(std::move(measure));
  }

  std::string reference_name(const RowInfo& row) const {
    std::string name = reference_words(row.reference.value_or(0));
    if (task_.views.size() > 1) name += " of " + photo_words(*task_.input, row.view);
    return name;
  }

  void measure_references(std::vector<Measure>& out) const {
    for (const RowInfo& of : linear_.rows) {
      if (of.said != Said::kSize && of.said != Said::kOffset) continue;
      const bool known = std::any_of(out.begin(), out.end(), [&](const Measure& m) {
        return m.advice.source == of.source && m.advice.reference == of.reference.value_or(0) &&
               view_of(m) == of.view && m.advice.source != DoubtSource::kFocalLength;
      });
      if (known) continue;
      Measure measure;
      measure.advice.source = of.source;
      measure.advice.reference = of.reference.value_or(0);
      if (of.said == Said::kSize) {
        measure.advice.source_sd = kMeasuredSizeSdMm;
        measure.advice.what =
            "Measure " + reference_name(of) + " itself to a tenth of a millimetre";
      } else {
        place_words(of, measure.advice);
      }
      measure.rows = rows_where([&](const RowInfo& row) {
        const bool same = row.said == of.said && row.view == of.view &&
                          row.reference == of.reference && row.source == of.source;
        return same ? row.sd / measure.advice.source_sd : 0.0;
      });
      if (!measure.rows.empty()) out.push_back(std::move(measure));
    }
  }

  std::size_t view_of(const Measure& measure) const {
    if (measure.rows.empty()) return 0;
    return linear_.rows[static_cast<std::size_t>(measure.rows.front().first)].view;
  }

  void place_words(const RowInfo& of, Advice& advice) const {
    const PhotoInput& photo = *task_.views[of.view].photo;
    Place place = Place::kLying;
    const auto look = [&](const auto& list) {
      for (const auto& reference : list) {
        if (reference.number == of.reference) place = reference.place;
      }
    };
    look(photo.references);
    look(photo.discs);
    look(photo.lengths);
    look(photo.grids);
    if (place == Place::kOnGlass) {
      advice.source_sd = kMeasuredPaneSdMm;
      advice.what = "Measure how far " + reference_name(of) +
                    " on the glass is from the middle of the vessel, to 4 mm";
    } else if (place == Place::kBeside) {
      advice.source_sd = kMeasuredDepthSdMm;
      advice.what = "Find out how far " + reference_name(of) +
                    " is in front of or behind the middle of the vessel, to 6 mm";
    } else {
      advice.source_sd = kMeasuredRiserSdMm;
      advice.what = "Measure how much higher the vessel stands than " + reference_name(of) +
                    ", to a millimetre";
    }
  }

  void mark_carefully(std::vector<Measure>& out) const {
    double sd_px = 0.0;
    for (const ViewTask& view : task_.views) sd_px = std::max(sd_px, view.photo->marks.sd_px);
    Measure measure;
    measure.rows = rows_where([&](const RowInfo& row) {
      return row.kind == RowKind::kObservation ? 1.0 / kCarefulMarks : 0.0;
    });
    measure.advice.what = "Place every mark anew with the magnifier, to " +
                          fixed_text(kCarefulMarks * sd_px, 1) + " pixels";
    measure.advice.source = DoubtSource::kMarks;
    measure.advice.source_sd = kCarefulMarks * sd_px;
    out.push_back(std::move(measure));
  }

  void photograph_again(std::vector<Measure>& out) const {
    if (task_.views.size() > 1) return;
    Measure measure;
    measure.second_photograph = true;
    measure.advice.what =
        "Add a second photograph like this one from a quarter turn round the vessel, with its "
        "direction of 90 degrees";
    measure.advice.source = DoubtSource::kOutOfRound;
    out.push_back(std::move(measure));
  }

  // A second photograph has the same rows with unknowns of its own, and sees an oval the other way
  // about. What belongs to the vessel alone is not said twice.
  std::optional<double> variance_with_second(const Eigen::VectorXd& gradient) const {
    const Eigen::Index n = jacobian_.cols();
    std::vector<Eigen::Index> own;     // columns that the second has anew
    std::vector<Eigen::Index> common;  // and those that it shares
    for (Eigen::Index c = 0; c < n; ++c) {
      const bool of_view = linear_.view_of_column[static_cast<std::size_t>(c)] >= 0;
      (of_view ? own : common).push_back(c);
    }
    std::vector<Eigen::Index> rows;
    for (Eigen::Index r = 0; r < jacobian_.rows(); ++r) {
      const auto feels = [&](const std::vector<Eigen::Index>& columns) {
        return std::any_of(columns.begin(), columns.end(),
                           [&](Eigen::Index c) { return jacobian_(r, c) != 0.0; });
      };
      // A neighbour's smoothness is of the second photograph; without it, its wall hangs in the air
      // where it is not marked.
      const RowKind kind = linear_.rows[static_cast<std::size_t>(r)].kind;
      if (kind == RowKind::kSmoothness && feels(common)) continue;
      if (feels(own)) rows.push_back(r);
    }
    Eigen::MatrixXd other_common = jacobian_(rows, common);
    for (std::size_t k = 0; k < common.size(); ++k) {
      for (const int oval : linear_.round_column) {
        if (common[k] == oval) other_common.col(static_cast<Eigen::Index>(k)) *= -1.0;
      }
    }
    const Eigen::MatrixXd other_own = jacobian_(rows, own);
    const auto extra = static_cast<Eigen::Index>(own.size());
    Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(n + extra, n + extra);
    normal.topLeftCorner(n, n) = normal_;
    const Eigen::MatrixXd cross = other_common.transpose() * other_own;
    const Eigen::MatrixXd shared = normal_matrix(other_common);
    for (std::size_t a = 0; a < common.size(); ++a) {
      const auto i = static_cast<Eigen::Index>(a);
      for (std::size_t b = 0; b < common.size(); ++b) {
        normal(common[a], common[b]) += shared(i, static_cast<Eigen::Index>(b));
      }
      normal.block(common[a], n, 1, extra) = cross.row(i);
      normal.block(n, common[a], extra, 1) = cross.row(i).transpose();
    }
    normal.bottomRightCorner(extra, extra) = normal_matrix(other_own);
    Eigen::VectorXd longer = Eigen::VectorXd::Zero(n + extra);
    longer.head(n) = gradient;
    return spread(normal, longer);
  }

  const Task& task_;
  const Linear& linear_;
  Eigen::MatrixXd jacobian_;  // with the marks as precise as they have shown to be
  Eigen::MatrixXd normal_;
  Eigen::MatrixXd smoothness_doubt_;
};

// The size that is known worst, as a part of itself.
const MeasuredSize* worst_known(const Answer& answer) {
  const MeasuredSize* worst = nullptr;
  for (const SizeName name : {SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kNeckDiameter,
                              SizeName::kRimDiameter, SizeName::kBaseDiameter}) {
    const MeasuredSize* size = find_size(answer, name);
    if (size == nullptr || !(size->measured.value > 0.0)) continue;
    if (worst == nullptr ||
        size->measured.sd / size->measured.value > worst->measured.sd / worst->measured.value) {
      worst = size;
    }
  }
  return worst;
}

}  // namespace

std::vector<Advice> advice_on(const Task& task, const State& state, const Profile& profile,
                              const Posterior& posterior, double inflation, const Answer& answer) {
  const MeasuredSize* size = worst_known(answer);
  if (size == nullptr) return {};
  const auto gradients = size_gradients(task, state, profile, posterior);
  const auto found = std::find_if(gradients.begin(), gradients.end(),
                                  [&](const auto& one) { return one.first == size->name; });
  if (found == gradients.end()) return {};
  const Adviser adviser(task, posterior, inflation);
  std::vector<Advice> list;
  for (Measure& measure : adviser.measures()) {
    const auto variance = adviser.variance(measure, found->second);
    if (!variance) continue;
    Advice advice = std::move(measure.advice);
    advice.size = size->name;
    advice.sd_now = size->measured.sd;
    advice.sd_then = std::sqrt(*variance);
    if (advice.sd_then < kWorthIt * advice.sd_now) list.push_back(std::move(advice));
  }
  std::sort(list.begin(), list.end(),
            [](const Advice& a, const Advice& b) { return a.sd_then < b.sd_then; });
  return list;
}

}  // namespace potshadow::internal
