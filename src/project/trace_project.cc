// SPDX-License-Identifier: MIT
#include "project/trace_project.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

namespace potshadow {
namespace {

// Passes that are guided by a prediction, at most. Each that finds more of the outline makes the
// next prediction better; two are enough where all is clear.
constexpr int kPasses = 5;
constexpr double kFindsMore = 1.02;

double distance(const PhotoPoint& a, const PhotoPoint& b) {
  return std::hypot(a.x_px - b.x_px, a.y_px - b.y_px);
}

const char* edge_key(TracedEdge edge) {
  switch (edge) {
    case TracedEdge::kLeft:
      return "left";
    case TracedEdge::kRight:
      return "right";
    case TracedEdge::kRim:
      return "rim";
    case TracedEdge::kBase:
      break;
  }
  return "base";
}

TraceRequest request_of(const ProjectTrace& wanted, std::vector<PredictedLine> predicted) {
  TraceRequest request{{wanted.box[0], wanted.box[1]}, {}, std::move(predicted)};
  for (const ProjectTrace::Stroke& stroke : wanted.strokes) {
    request.strokes.push_back({stroke.vessel, stroke.points, stroke.width_px});
  }
  return request;
}

// Hundredths of a pixel: finer than any edge is found.
double rounded(double px) { return std::round(px * 100.0) / 100.0; }

std::vector<TracedPoint> points_of(const std::vector<TracedMark>& marks) {
  constexpr double kFinestPx = 0.01;
  std::vector<TracedPoint> points;
  points.reserve(marks.size());
  for (const TracedMark& mark : marks) {
    points.push_back(
        {{rounded(mark.at.x_px), rounded(mark.at.y_px)}, std::max(kFinestPx, rounded(mark.sd_px))});
  }
  return points;
}

std::size_t marks_of(const ProjectTrace& trace) {
  return trace.rim.size() + trace.base.size() + trace.left.size() + trace.right.size();
}

// The marks as the project keeps them, without the parts that it says are hidden.
ProjectTrace trace_of(const Project& project, const ProjectTrace& wanted, const Trace& found) {
  ProjectTrace trace = wanted;
  const bool rim = !project.hidden_rim;
  const bool base = !project.hidden_foot && !project.round_base;
  trace.rim = rim ? points_of(found.rim) : std::vector<TracedPoint>();
  trace.base = base ? points_of(found.base) : std::vector<TracedPoint>();
  trace.left = points_of(found.left);
  trace.right = points_of(found.right);
  trace.doubtful.clear();
  for (const DoubtfulStretch& stretch : found.doubtful) {
    if (stretch.edge == TracedEdge::kRim && !rim) continue;
    if (stretch.edge == TracedEdge::kBase && !base) continue;
    ProjectTrace::Doubtful doubtful{edge_key(stretch.edge), stretch.why, {}};
    for (const PhotoPoint& point : stretch.points) {
      doubtful.points.push_back({rounded(point.x_px), rounded(point.y_px)});
    }
    trace.doubtful.push_back(std::move(doubtful));
  }
  return trace;
}

// How far a point lies to the right of the axis, as it is seen.
double right_of_axis(const OverlayLine& axis, const PhotoPoint& point) {
  const PhotoPoint& foot = axis.points.front();
  const PhotoPoint& rim = axis.points.back();
  return (rim.x_px - foot.x_px) * (point.y_px - foot.y_px) -
         (rim.y_px - foot.y_px) * (point.x_px - foot.x_px);
}

// A seen run of the rim or the foot, with its band. Its inside is towards `centre`.
PredictedLine circle_line(TracedEdge edge, const OverlayLine& run, const PhotoPoint& centre) {
  PredictedLine line{edge, run.points, {}, {}};
  for (std::size_t i = 0; i < run.points.size(); ++i) {
    const PhotoPoint& at = run.points[i];
    const PhotoPoint& before = run.points[i == 0 ? 0 : i - 1];
    const PhotoPoint& after = run.points[std::min(i + 1, run.points.size() - 1)];
    const double length = std::max(1e-9, distance(before, after));
    double nx = -(after.y_px - before.y_px) / length;
    double ny = (after.x_px - before.x_px) / length;
    if (nx * (at.x_px - centre.x_px) + ny * (at.y_px - centre.y_px) < 0.0) {
      nx = -nx;
      ny = -ny;
    }
    const double half = run.half_px[i];
    line.inner.push_back({at.x_px - half * nx, at.y_px - half * ny});
    line.outer.push_back({at.x_px + half * nx, at.y_px + half * ny});
  }
  return line;
}

PhotoPoint centre_of(const std::vector<OverlayLine>& runs) {
  PhotoPoint sum{0.0, 0.0};
  double count = 0.0;
  for (const OverlayLine& run : runs) {
    for (const PhotoPoint& point : run.points) {
      sum.x_px += point.x_px;
      sum.y_px += point.y_px;
      count += 1.0;
    }
  }
  return {sum.x_px / std::max(1.0, count), sum.y_px / std::max(1.0, count)};
}

std::vector<PredictedLine> predicted_lines(const Overlay& overlay, const Project& project) {
  std::vector<PredictedLine> lines;
  for (const OutlineBand& run : overlay.outline) {
    if (run.hidden || run.middle.size() < 2) continue;
    const PhotoPoint& middle = run.middle[run.middle.size() / 2];
    const bool right = right_of_axis(overlay.axis, middle) > 0.0;
    lines.push_back(
        {right ? TracedEdge::kRight : TracedEdge::kLeft, run.middle, run.inner, run.outer});
  }
  const auto add_circle = [&](TracedEdge edge, const std::vector<OverlayLine>& runs) {
    const PhotoPoint centre = centre_of(runs);
    for (const OverlayLine& run : runs) {
      if (run.hidden || run.points.size() < 2) continue;
      lines.push_back(circle_line(edge, run, centre));
    }
  };
  if (!project.hidden_rim) add_circle(TracedEdge::kRim, overlay.rim);
  if (!project.hidden_foot && !project.round_base) add_circle(TracedEdge::kBase, overlay.foot);
  return lines;
}

bool has_none(const std::vector<PhotoPoint>& by_hand, const std::vector<TracedPoint>& traced) {
  return by_hand.empty() && traced.empty();
}

// The project with the trace, and with what no photograph shows of rim or foot left open: what was
// found of the rest is checked against the vessel's form all the same.
Project with_open_parts(const Project& project, std::size_t photo, const ProjectTrace& trace) {
  Project open = project;
  open.photos[photo].trace = trace;
  // A side must be seen to check with.
  constexpr std::size_t kLeastOfSide = 20;
  if (std::max(trace.left.size(), trace.right.size()) < kLeastOfSide) return open;
  const auto none = [&](auto ProjectMarks::*by_hand, auto ProjectTrace::*traced) {
    return std::all_of(open.photos.begin(), open.photos.end(), [&](const ProjectPhoto& one) {
      return has_none(one.marks.*by_hand, one.trace.value_or(ProjectTrace()).*traced);
    });
  };
  if (!open.round_base && !open.hidden_foot && none(&ProjectMarks::base, &ProjectTrace::base)) {
    open.hidden_foot = ProjectHidden();
  }
  if (!open.hidden_rim && none(&ProjectMarks::rim, &ProjectTrace::rim)) {
    open.hidden_rim = ProjectHidden();
  }
  return open;
}

// Where the estimate has the photograph's edges, by the marks of `project`; else why not.
Result<std::vector<PredictedLine>> prediction(const Project& project, std::size_t photo,
                                              const std::filesystem::path& folder,
                                              const PhotoProbe& probe) {
  const Result<Measurement> measured = measure_project(project, folder, probe);
  if (!measured) return measured.problem();
  const std::vector<std::size_t>& indices = measured->photo_indices;
  const auto found = std::find(indices.begin(), indices.end(), photo);
  if (found == indices.end()) {
    return Problem{Code::kTooFewMarks, "Too little of the outline was found for an answer.",
                   "Add marks by hand where it is missing.", ""};
  }
  return predicted_lines(
      measured->answer.photos[static_cast<std::size_t>(found - indices.begin())].overlay, project);
}

}  // namespace

Result<TracedPhoto> trace_photo(const Project& project, std::size_t photo,
                                const std::filesystem::path& folder, const Picture& picture,
                                const ProjectTrace& wanted, const PhotoProbe& probe,
                                const TraceWatch& watch,
                                const std::function<void(const ProjectTrace&)>& on_first) {
  const auto part_of_watch = [&](int pass) {
    TraceWatch part{{}, watch.stop};
    if (watch.done) {
      part.done = [&watch, pass](double done) { watch.done((pass + done) / (1.0 + kPasses)); };
    }
    return part;
  };
  const Result<Trace> first = trace_vessel(picture, request_of(wanted, {}), part_of_watch(0));
  if (!first) return first.problem();
  TracedPhoto traced{trace_of(project, wanted, *first), *first, first->notes, false};
  if (on_first) on_first(traced.trace);
  for (int pass = 1; pass <= kPasses; ++pass) {
    const Project with_trace = with_open_parts(project, photo, traced.trace);
    Result<std::vector<PredictedLine>> lines = prediction(with_trace, photo, folder, probe);
    if (!lines) {
      traced.notes.push_back({"The outline could not be checked against the vessel's form. " +
                                  lines.problem().what + " " + lines.problem().next,
                              true});
      break;
    }
    const Result<Trace> again =
        trace_vessel(picture, request_of(wanted, std::move(lines).value()), part_of_watch(pass));
    if (watch.stop.stop_requested() && !again) return again.problem();
    if (!again) break;
    const auto before = static_cast<double>(marks_of(traced.trace));
    traced = {trace_of(project, wanted, *again), *again, again->notes, true};
    const auto now = static_cast<double>(marks_of(traced.trace));
    if (pass > 1 && now < kFindsMore * before) break;
  }
  return traced;
}

}  // namespace potshadow
