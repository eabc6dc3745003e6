// SPDX-License-Identifier: MIT
#include "outline/trace_judgement.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace potshadow::testing {
namespace {

TrueEdge true_edge(TracedEdge edge) {
  switch (edge) {
    case TracedEdge::kLeft:
      return TrueEdge::kLeft;
    case TracedEdge::kRight:
      return TrueEdge::kRight;
    case TracedEdge::kRim:
      return TrueEdge::kRim;
    case TracedEdge::kBase:
      return TrueEdge::kBase;
  }
  return TrueEdge::kJoint;
}

const std::vector<TracedMark>& marks_of(const Trace& trace, TracedEdge edge) {
  switch (edge) {
    case TracedEdge::kLeft:
      return trace.left;
    case TracedEdge::kRight:
      return trace.right;
    case TracedEdge::kRim:
      return trace.rim;
    case TracedEdge::kBase:
      return trace.base;
  }
  return trace.left;
}

double apart(PhotoPoint a, PhotoPoint b) { return std::hypot(a.x_px - b.x_px, a.y_px - b.y_px); }

// Distance from the piece a to b, which goes on before a and after b by so much.
double from_piece(PhotoPoint p, PhotoPoint a, PhotoPoint b, double before, double after) {
  const double length = apart(a, b);
  if (!(length > 0.0)) return apart(p, a);
  const PhotoPoint u{(b.x_px - a.x_px) / length, (b.y_px - a.y_px) / length};
  const double along = (p.x_px - a.x_px) * u.x_px + (p.y_px - a.y_px) * u.y_px;
  const double t = std::clamp(along, -before, length + after);
  return apart(p, {a.x_px + t * u.x_px, a.y_px + t * u.y_px});
}

double from_line(PhotoPoint p, const std::vector<PhotoPoint>& line) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < line.size(); ++i) {
    least = std::min(least, from_piece(p, line[i - 1], line[i], i == 1 ? kGoesOnPx : 0.0,
                                       i + 1 == line.size() ? kGoesOnPx : 0.0));
  }
  return least;
}

double at_part(std::vector<double> values, double part) {
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(part * static_cast<double>(values.size() - 1))];
}

}  // namespace

TraceFigures judged(const MuseumScene& scene, const Trace& trace, std::optional<TracedEdge> only) {
  TraceFigures figures;
  std::vector<double> misses;
  double squares = 0.0;
  double sds = 0.0;
  double seen = 0.0;
  double claimed = 0.0;
  for (const TracedEdge edge :
       {TracedEdge::kLeft, TracedEdge::kRight, TracedEdge::kRim, TracedEdge::kBase}) {
    if (only && *only != edge) continue;
    const auto& marks = marks_of(trace, edge);
    for (const TracedMark& mark : marks) {
      double miss = std::numeric_limits<double>::infinity();
      for (const TrueLine& line : scene.outline) {
        if (line.edge != true_edge(edge) && line.edge != TrueEdge::kJoint) continue;
        miss = std::min(miss, from_line(mark.at, line.points));
      }
      misses.push_back(miss);
      if (!(miss <= kFalsePx)) continue;
      squares += miss * miss / (mark.sd_px * mark.sd_px);
      sds += mark.sd_px;
    }
    for (const TrueLine& line : scene.outline) {
      if (line.edge != true_edge(edge)) continue;
      for (std::size_t i = 1; i < line.points.size(); ++i) {
        const double length = apart(line.points[i - 1], line.points[i]);
        seen += length;
        const bool near = std::any_of(marks.begin(), marks.end(), [&](const TracedMark& mark) {
          return from_piece(mark.at, line.points[i - 1], line.points[i], 0.0, 0.0) <= kClaimPx;
        });
        if (near) claimed += length;
      }
    }
  }
  if (misses.empty()) return figures;
  figures.marks = misses.size();
  figures.median_px = at_part(misses, 0.5);
  figures.most_px = at_part(misses, 0.95);
  figures.claimed = seen > 0.0 ? claimed / seen : 0.0;
  const auto right = static_cast<double>(
      std::count_if(misses.begin(), misses.end(), [](double miss) { return miss <= kFalsePx; }));
  figures.false_part = 1.0 - right / static_cast<double>(misses.size());
  if (right > 0.0) {
    figures.normal_rms = std::sqrt(squares / right);
    figures.mean_sd_px = sds / right;
  }
  return figures;
}

}  // namespace potshadow::testing
