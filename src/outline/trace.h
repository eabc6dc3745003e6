// SPDX-License-Identifier: MIT
// Traces a vessel: from one rough box to the vessel's outer edge, with each mark's uncertainty.
#pragma once

#include <functional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/units.h"
#include "photo/decode.h"

// Model. A vessel of revolution on a shelf is nearly its own mirror image about a nearly upright
// axis. Its silhouette is the outline (left and right), the back of the rim at the top and the
// front of the foot at the bottom.
//
// First pass, without `predicted`: the vessel is told from its surroundings by colour in a reduced
// picture (graph cut, seeded by box and strokes); along the normals of that rough contour the edges
// that part the vessel's colours from the surroundings' are searched in the whole picture, and the
// likeliest connected run of them is kept. Second pass, with `predicted`: the same along the
// normals of the predicted lines, within their bands.
//
// In both passes the edge is then fitted as a blurred step to the pixels around it. What does not
// fit, jumps, disagrees with the other side or is seen twice is left out: marks that are missing
// cost little, wrong ones much.
//
// Uncertainty. sd_px is the standard uncertainty across the edge. Noise comes from the fit's own
// covariance. Shading, a camera's tone curve and sharpening shift an edge over a long stretch
// alike: with b the standard deviation of that shift and m the marks that share it, sd^2 = noise^2
// + m b^2, so that the mean of many marks is not believed beyond b.
//
// Pixels of the upright picture, (0, 0) at the centre of the top-left one.
//
// Failure: see trace_vessel. Tracing does not guess: a stretch that is not clear is `doubtful`.
// Sources: Rother, Kolmogorov, Blake, "GrabCut", ACM TOG 23(3), 2004 (by OpenCV); JCGM 100 for
// the covariance of a fit.
namespace potshadow {

struct TracedMark {
  PhotoPoint at;
  double sd_px = 0.0;  // standard uncertainty across the edge
};

// Rough, round one vessel: any two opposite corners. A little of the vessel may stick out of it.
struct TraceBox {
  PhotoPoint from;
  PhotoPoint to;
};

// A line drawn by hand: "this is vessel", or "this is not".
struct TraceStroke {
  bool vessel = true;
  std::vector<PhotoPoint> points;
  double width_px = 0.0;  // at least one pixel of the picture counts
};

enum class TracedEdge { kLeft, kRight, kRim, kBase };

// Where the estimate has an edge: three equally long lists, `inner` towards the axis; inner to
// outer is a 95 % band. Lines whose lists differ in length are ignored with a note.
struct PredictedLine {
  TracedEdge edge = TracedEdge::kLeft;
  std::vector<PhotoPoint> middle;
  std::vector<PhotoPoint> inner;
  std::vector<PhotoPoint> outer;
};

struct TraceRequest {
  TraceBox box;
  std::vector<TraceStroke> strokes;
  std::vector<PredictedLine> predicted;  // empty: first pass
};

// Left out of the marks, and why: "the edge is too faint here".
struct DoubtfulStretch {
  TracedEdge edge = TracedEdge::kLeft;
  std::vector<PhotoPoint> points;
  std::string why;
};

struct Trace {
  std::vector<TracedMark> left;   // outline left of the axis, rim end first
  std::vector<TracedMark> right;  // likewise, rim end first
  std::vector<TracedMark> rim;    // OUTER edge of the lip, wherever it is seen
  std::vector<TracedMark> base;   // visible front of the foot's circle, from left to right
  std::vector<DoubtfulStretch> doubtful;
  std::vector<Note> notes;  // all of them; those of Result stay empty
};

// Who looks on: is told the part done (0 to 1), and may stop the work between two stages.
struct TraceWatch {
  std::function<void(double)> done{};
  std::stop_token stop{};
};

// Returns the marks: those of a vessel with a round bottom have its lowest outline as `base`, since
// the picture alone does not tell it from a foot. Any list may be empty, not all of them.
// Fails with kBadValue for an empty picture, and for a box that is not finite, lies outside the
// picture or is under 24 px wide or high; with kCannotBeAnswered where no single vessel is told
// from its surroundings, nothing of its edge is clear, or the work was stopped; with kFileTooLarge
// where memory runs out. Slow: below a second for 12 megapixels.
Result<Trace> trace_vessel(const Picture& picture, const TraceRequest& request,
                           const TraceWatch& watch = {});

}  // namespace potshadow
