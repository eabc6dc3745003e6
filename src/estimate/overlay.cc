// SPDX-License-Identifier: MIT
#include "estimate/overlay.h"

#include <ceres/jet.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "estimate/disc.h"
#include "estimate/neighbour.h"
#include "estimate/overlay_of.h"
#include "estimate/predicted.h"
#include "estimate/solve.h"
#include "estimate/vessel_curves.h"

namespace potshadow::internal {
namespace {

constexpr std::size_t kOutlineSteps = 140;  // a side
constexpr std::size_t kCircleSteps = 120;   // all round
constexpr std::size_t kAxisSteps = 16;
constexpr std::size_t kDiscPoints = 72;             // round the edge of a disc
constexpr double kHalfWidth95 = 1.959963984540054;  // of a normal distribution, in sd
constexpr double kDoubtfulSd = 3.0;                 // chance alone passes it once in 370 marks

bool finite(const Eigen::Vector2d& p) { return p.allFinite(); }
PhotoPoint photo_point(const Eigen::Vector2d& p) { return {p.x(), p.y()}; }

// Which way a run goes at its i-th point, in the picture.
Eigen::Vector2d along(const CurveRun& run, std::size_t i) {
  const std::size_t before = i == 0 ? 0 : i - 1;
  const std::size_t after = std::min(i + 1, run.points.size() - 1);
  return run.points[after].image - run.points[before].image;
}

// How far across the outline it may lie off: the standard deviation of one of its points.
class Spread {
 public:
  Spread(const Task& task, const State& state, std::size_t view, const Posterior& posterior,
         const Eigen::MatrixXd& covariance)
      : setting_(task.views[view].setting),
        body_(state.vessel),
        linear_(posterior.linear()),
        covariance_(covariance) {
    int next = 0;
    const auto take = [&](const auto& values, const auto& columns) {
      for (std::size_t i = 0; i < values.size(); ++i, ++next) {
        jets_[static_cast<std::size_t>(next)] = Jet(values[i], next);
        columns_[static_cast<std::size_t>(next)] = columns[i];
      }
    };
    const ViewColumns& columns = linear_.views[view];
    take(state.views[view].pose, columns.pose);
    take(state.views[view].lens, columns.lens);
    take(state.views[view].pane, columns.pane);
  }

  // What a place of the outline tells: the direction out of the body, across the outline in the
  // picture, of unit length, and the standard deviation along it in pixels.
  struct Across {
    Eigen::Vector2d outward = Eigen::Vector2d::UnitX();
    double sd_px = 0.0;
  };

  Across across(const Match& match, const Eigen::Vector2d& tangent) const {
    const ProfilePoint p = profile_point(match, body_.controls);
    double grown = 0.0;
    for (std::size_t i = 0; i < kRoundSize; ++i) grown += match.round_weight[i] * body_.round[i];
    const Jet* pose = jets_.data();
    const Jet* lens = pose + kPoseSize;
    const Jet* pane = lens + kLensSize;
    const Jet radius(p.radius_mm, kBlocks);
    const Jet height(p.height_mm, kBlocks + 1);
    const Vector3<Jet> point = grown_point(match, radius, height, Jet(grown, kBlocks + 2));
    const Vector2<Jet> seen = image_of(setting_, pose, lens, pane, point, true);

    Across out;
    out.outward = Eigen::Vector2d(tangent.y(), -tangent.x());
    const double length = out.outward.norm();
    out.outward = length > 0.0 ? Eigen::Vector2d(out.outward / length) : Eigen::Vector2d::UnitX();
    Eigen::Matrix<double, kUnknowns, 1> moves =
        out.outward.x() * seen.x().v + out.outward.y() * seen.y().v;
    // The way out of the body is the profile's own normal.
    ProfilePoint slope;
    for (std::size_t j = 0; j < 4; ++j) {
      slope.radius_mm += match.basis.slope[j] * body_.controls[2 * (match.basis.first + j)];
      slope.height_mm += match.basis.slope[j] * body_.controls[2 * (match.basis.first + j) + 1];
    }
    if (slope.height_mm * moves(kBlocks) - slope.radius_mm * moves(kBlocks + 1) < 0.0) {
      out.outward = -out.outward;
      moves = -moves;
    }

    // The gradient's entries and their columns.
    constexpr std::size_t kEntries = static_cast<std::size_t>(kBlocks) + kRoundSize + 8;
    std::array<double, kEntries> amount{};
    std::array<int, kEntries> column{};
    std::size_t count = 0;
    const auto enter = [&](int at, double value) {
      if (at < 0 || value == 0.0) return;
      amount[count] = value;
      column[count++] = at;
    };
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      enter(columns_[i], moves(static_cast<Eigen::Index>(i)));
    }
    for (std::size_t i = 0; i < kRoundSize; ++i) {
      enter(linear_.round_column[i], match.round_weight[i] * moves(kBlocks + 2));
    }
    for (std::size_t j = 0; j < 4; ++j) {
      const std::size_t coordinate = 2 * (match.basis.first + j);
      enter(linear_.control_column[coordinate], match.basis.weight[j] * moves(kBlocks));
      enter(linear_.control_column[coordinate + 1], match.basis.weight[j] * moves(kBlocks + 1));
    }
    double variance = 0.0;
    for (std::size_t a = 0; a < count; ++a) {
      double row = 0.5 * amount[a] * covariance_(column[a], column[a]);
      for (std::size_t b = 0; b < a; ++b) row += amount[b] * covariance_(column[b], column[a]);
      variance += 2.0 * amount[a] * row;
    }
    out.sd_px = std::sqrt(std::max(0.0, variance));
    return out;
  }

 private:
  static constexpr int kBlocks = int{kPoseSize} + int{kLensSize} + int{kPaneSize};
  static constexpr int kUnknowns = kBlocks + 3;
  using Jet = ceres::Jet<double, kUnknowns>;

  const Setting& setting_;
  const Body& body_;
  const Linear& linear_;
  const Eigen::MatrixXd& covariance_;
  std::array<Jet, static_cast<std::size_t>(kBlocks)> jets_;
  std::array<int, static_cast<std::size_t>(kBlocks)> columns_{};
};

class Drawer {
 public:
  Drawer(const ViewTask& task, const View& view, const Body& body, const Answer& answer)
      : task_(task), view_(view), body_(body), answer_(answer) {}

  std::vector<OutlineBand> bands(const std::vector<CurveRun>& runs, const Spread& spread) const {
    std::vector<OutlineBand> out;
    for (const CurveRun& run : runs) {
      OutlineBand band;
      band.hidden = run.hidden;
      for (std::size_t i = 0; i < run.points.size(); ++i) {
        const CurvePoint& point = run.points[i];
        const Spread::Across across = spread.across(point.match, along(run, i));
        const Eigen::Vector2d half = kHalfWidth95 * across.sd_px * across.outward;
        if (!finite(point.image) || !finite(half)) continue;
        band.middle.push_back(photo_point(point.image));
        band.inner.push_back(photo_point(point.image - half));
        band.outer.push_back(photo_point(point.image + half));
        band.height_mm.push_back(profile_point(point.match, body_.controls).height_mm);
      }
      if (band.middle.size() > 1) out.push_back(std::move(band));
    }
    return out;
  }

  static std::vector<OverlayLine> lines(const std::vector<CurveRun>& runs, const Spread& spread) {
    std::vector<OverlayLine> out;
    for (const CurveRun& run : runs) {
      OverlayLine line;
      line.hidden = run.hidden;
      for (std::size_t i = 0; i < run.points.size(); ++i) {
        const CurvePoint& point = run.points[i];
        const double half = kHalfWidth95 * spread.across(point.match, along(run, i)).sd_px;
        if (!finite(point.image) || !std::isfinite(half)) continue;
        line.points.push_back(photo_point(point.image));
        line.half_px.push_back(half);
      }
      if (line.points.size() > 1) out.push_back(std::move(line));
    }
    return out;
  }

  OverlayLine axis() const {
    OverlayLine line;
    const double rim = body_.controls.back();
    for (std::size_t i = 0; i <= kAxisSteps; ++i) {
      const double part = static_cast<double>(i) / static_cast<double>(kAxisSteps);
      const auto at = in_case({0.0, 0.0, part * rim});
      if (at) line.points.push_back(*at);
    }
    return line;
  }

  // Heights stand beside the vessel, in the plane through the axis square to the view: height on
  // the right, the others on the left, each farther out than the one before.
  std::vector<DimensionLine> dimensions() const {
    std::vector<DimensionLine> out;
    const double widest = value(SizeName::kMaxDiameter).value_or(0.0) / 2.0;
    const double part = std::min(0.9, widest / std::max(1.0, view_.pose[kDistanceMm]));
    const double clear = 0.12 * widest;
    const double beside = widest / std::sqrt(1.0 - part * part) + clear;  // of the outline there
    const auto upright = [&](SizeName name, double x) {
      if (const auto size = value(name)) add(out, name, {x, 0.0, 0.0}, {x, 0.0, *size});
    };
    const auto level = [&](SizeName name, double z) {
      if (const auto size = value(name)) {
        add(out, name, {-*size / 2.0, 0.0, z}, {*size / 2.0, 0.0, z});
      }
    };
    upright(SizeName::kHeight, beside);
    level(SizeName::kMaxDiameter, value(SizeName::kHeightOfMax).value_or(0.0));
    upright(SizeName::kHeightOfMax, -beside);
    level(SizeName::kNeckDiameter, value(SizeName::kHeightOfNeck).value_or(0.0));
    upright(SizeName::kHeightOfNeck, -beside - clear);
    level(SizeName::kRimDiameter, body_.controls.back());
    level(SizeName::kBaseDiameter, 0.0);
    return out;
  }

  std::vector<ReferenceOverlay> references() const {
    std::vector<ReferenceOverlay> out;
    for (std::size_t f = 0; f < task_.flats.size(); ++f) out.push_back(flat(f));
    const auto& discs = task_.photo->discs;
    for (std::size_t d = 0; d < discs.size(); ++d) {
      ReferenceOverlay overlay;
      overlay.reference = discs[d].number;
      for (std::size_t i = 0; i < kDiscPoints; ++i) {
        const double angle =
            2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(kDiscPoints);
        overlay.outline.push_back(
            photo_point(edge_image(task_.setting, view_, discs[d], d, angle)));
      }
      overlay.edges = {
          {overlay.outline[kDiscPoints / 2], overlay.outline[0], view_.discs[d][kWidthMm]}};
      out.push_back(std::move(overlay));
    }
    for (std::size_t n = 0; n < view_.neighbours.size(); ++n) out.push_back(neighbour(n));
    return out;
  }

 private:
  // A rectangle or a grid by its first four marks, a length by its two.
  ReferenceOverlay flat(std::size_t f) const {
    const Flat& of = task_.flats[f];
    ReferenceOverlay overlay;
    overlay.reference = of.seat.number;
    const std::size_t corners = std::min<std::size_t>(4, of.points.size());
    for (std::size_t k = 0; k < corners; ++k) {
      overlay.outline.push_back(photo_point(flat_image(task_, view_, f, k)));
    }
    const auto& block = view_.flats[f];
    const auto length = [&](std::size_t a, std::size_t b) {
      const double across = (of.points[b].across - of.points[a].across) * block[kWidthMm];
      const double up =
          (of.points[b].up - of.points[a].up) * block[of.square() ? kWidthMm : kHeightMm];
      return ReferenceOverlay::Edge{overlay.outline[a], overlay.outline[b], std::hypot(across, up)};
    };
    overlay.edges = {length(0, 1)};
    if (corners == 4) overlay.edges.push_back(length(0, 3));
    return overlay;
  }

  // A neighbour by its outline, up the one side and down the other.
  ReferenceOverlay neighbour(std::size_t n) const {
    const NeighbourState& of = view_.neighbours[n];
    const NeighbourSight sight = neighbour_sight(task_.setting, view_, of);
    const VesselCurves curves =
        vessel_curves(sight.sight, of.body, kOutlineSteps / 2, kCircleSteps / 2);
    ReferenceOverlay overlay;
    overlay.reference = task_.photo->neighbours[n].number;
    const auto take = [&](const std::vector<CurveRun>& runs) {
      std::vector<PhotoPoint> points;
      for (const CurveRun& run : runs) {
        for (const CurvePoint& point : run.points) {
          if (!run.hidden && finite(point.image)) points.push_back(photo_point(point.image));
        }
      }
      return points;
    };
    overlay.outline = take(curves.left);
    std::vector<PhotoPoint> down = take(curves.right);
    overlay.outline.insert(overlay.outline.end(), down.rbegin(), down.rend());
    return overlay;
  }

  Eigen::Vector2d seen(const Eigen::Vector3d& point) const {
    return vessel_image(task_, view_, point);
  }

  std::optional<PhotoPoint> in_case(const Eigen::Vector3d& point) const {
    const Eigen::Vector2d at = seen(point);
    if (!finite(at)) return std::nullopt;
    return photo_point(at);
  }

  std::optional<double> value(SizeName name) const {
    const MeasuredSize* size = find_size(answer_, name);
    if (size == nullptr) return std::nullopt;
    return size->measured.value;
  }

  void add(std::vector<DimensionLine>& lines, SizeName name, const Eigen::Vector3d& from,
           const Eigen::Vector3d& to) const {
    const auto a = in_case(from);
    const auto b = in_case(to);
    if (a && b) lines.push_back({name, *a, *b});
  }

  const ViewTask& task_;
  const View& view_;
  const Body& body_;
  const Answer& answer_;
};

std::vector<Whisker> whiskers(std::size_t view, const std::vector<Misfit>& all) {
  std::vector<Whisker> out;
  for (const Misfit& misfit : all) {
    if (misfit.place.photo != view || !finite(misfit.fitted)) continue;
    Whisker whisker{misfit.place, misfit.marked, photo_point(misfit.fitted), 0.0, false};
    whisker.off_sd =
        std::hypot(misfit.fitted.x() - misfit.marked.x_px, misfit.fitted.y() - misfit.marked.y_px) /
        misfit.sd_px;
    whisker.doubtful = whisker.off_sd > kDoubtfulSd;
    out.push_back(whisker);
  }
  return out;
}

}  // namespace

Overlay overlay_of(const Task& task, const State& state, std::size_t view, const Answer& answer,
                   const Posterior& posterior, const Eigen::MatrixXd& covariance,
                   const std::vector<Misfit>& all_misfits) {
  const ViewTask& of = task.views[view];
  const Drawer drawer(of, state.views[view], state.vessel, answer);
  const VesselCurves curves = vessel_curves(vessel_sight(of.setting, state.views[view]),
                                            state.vessel, kOutlineSteps, kCircleSteps);
  const Spread spread(task, state, view, posterior, covariance);
  Overlay overlay;
  overlay.outline = drawer.bands(curves.left, spread);
  for (OutlineBand& band : drawer.bands(curves.right, spread)) {
    overlay.outline.push_back(std::move(band));
  }
  overlay.rim = Drawer::lines(curves.rim, spread);
  if (!task.input->round_base) overlay.foot = Drawer::lines(curves.foot, spread);
  overlay.axis = drawer.axis();
  overlay.dimensions = drawer.dimensions();
  overlay.references = drawer.references();
  overlay.whiskers = whiskers(view, all_misfits);
  return overlay;
}

}  // namespace potshadow::internal
