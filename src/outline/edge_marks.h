// SPDX-License-Identifier: MIT
// From a line that runs along an edge to marks on it, each with its uncertainty.
#pragma once

#include <opencv2/core/mat.hpp>
#include <string>
#include <vector>

#include "outline/contour.h"
#include "outline/edge_fit.h"
#include "outline/edge_path.h"
#include "outline/trace.h"

// Model: see trace.h. Frames: pixels of the picture.
namespace potshadow {

// One place of a line, on its way to becoming a mark.
struct EdgeNode {
  cv::Point2d at;
  cv::Point2d outward;
  double bend_per_px = 0.0;
  const char* doubt = nullptr;  // why it is doubtful; null where it is good
  double apart = 0.0;           // of the colours inside and outside, see PathPlace
  bool left_out = false;        // where classes of edges meet: neither mark nor doubt
  bool inner = false;           // the vessel itself is behind it, as behind the front of a lip
  EdgeFit fit;                  // where it is good
};

// Returns the nodes of a line that was moved onto its path, with what is doubtful of the path.
// `faintest` is how much of the usual contrast an edge must have, less where it is known to lie.
std::vector<EdgeNode> nodes_of(const SearchLine& moved, const std::vector<PathPlace>& path,
                               double noise, double faintest = 1.0);

// Whether the vessel itself lies on the outer side of an edge, too.
bool vessel_behind(const VesselMask& mask, cv::Point2d at, cv::Point2d outward);

// Tells which nodes have it there.
void tell_inner(const VesselMask& mask, std::vector<EdgeNode>& nodes);

// What all lines of one vessel share.
struct MarkPlan {
  double noise = 1.0;                                 // deviation of one pixel's channel
  double spacing_px = 4.0;                            // of the marks
  double half_along_px = EdgeWindow().half_along_px;  // of the windows that edges are fitted in
  double shared_px = 40.0;  // along an edge, over which shading shifts it alike
  // How much of the tone curve the picture has: all of it in a photograph, give or take what
  // cameras add for contrast.
  double light = 1.0;
  double light_sd = 0.35;
};

// Returns the plan for a vessel that fills the box. Requires a box inside the picture.
MarkPlan mark_plan(const cv::Mat& bgr, const cv::Rect2d& box);

// Finds out whether the picture is a drawing, whose edges are as sharp as pixels: its values then
// are shares of the pixels, without a tone curve. The edges' own lopsidedness does not tell: a
// lopsided step is nearly a shifted one.
void learn_light(const cv::Mat& bgr, const std::vector<EdgeNode>& nodes, MarkPlan& plan);

// Returns the line moved onto its path and smoothed by so many points each way.
SearchLine moved_line(const SearchLine& line, const std::vector<PathPlace>& path, double smooth);

// Fits an edge at about every `spacing_px` of the line, and returns those nodes: moved onto their
// edge, or doubtful where no edge fits or it leaves its neighbours.
std::vector<EdgeNode> fitted(const cv::Mat& bgr, const std::vector<EdgeNode>& nodes,
                             const MarkPlan& plan);

// How much of a side must be good about a mark.
inline constexpr double kLeastOfSide = 0.45;

// Doubts good nodes about which less than that part is good: an edge that runs on is seen all
// along, edges of what stands in front meet the line here and there.
void doubt_scattered(std::vector<EdgeNode>& nodes, double least_good);

// Doubts a few good nodes at an end that a longer gap parts from the others: where the extension of
// a circle is looked for, an edge beside it may lie there.
void doubt_lone_ends(std::vector<EdgeNode>& nodes);

// Adds the good nodes as marks, and runs of the doubtful ones as stretches.
void add_marks(const std::vector<EdgeNode>& nodes, TracedEdge edge, const MarkPlan& plan,
               Trace& trace);

// Puts the marks in the order that trace.h states, by height and by width.
void in_order(Trace& trace);

}  // namespace potshadow
