// SPDX-License-Identifier: MIT
// From a line that runs along an edge to marks on it, each with its uncertainty.
#pragma once

#include <opencv2/core/mat.hpp>
#include <string>
#include <vector>

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
  const char* doubt = nullptr;  // why it is left out; null where it is good
  EdgeFit fit;                  // where it is good
};

// Returns the nodes of a line that was moved onto its path, with what is doubtful of the path.
std::vector<EdgeNode> nodes_of(const SearchLine& moved, const std::vector<PathPlace>& path,
                               double noise);

// Fits an edge at about every `spacing_px` of the line, and returns those nodes: moved onto their
// edge, or doubtful where no edge fits or it leaves its neighbours.
std::vector<EdgeNode> fitted(const cv::Mat& bgr, const std::vector<EdgeNode>& nodes,
                             double spacing_px, const ToneCurve& tones, double noise);

// Adds the good nodes as marks, and runs of the doubtful ones as stretches.
void add_marks(const std::vector<EdgeNode>& nodes, TracedEdge edge, double spacing_px,
               double shared_px, Trace& trace);

}  // namespace potshadow
