// SPDX-License-Identifier: MIT
// Which part of a vessel's contour is rim, outline and foot.
#pragma once

#include <optional>
#include <vector>

#include "outline/arc.h"
#include "outline/contour.h"
#include "outline/edge_marks.h"

// Model: the highest and the lowest run of the contour that lie on an ellipse across the axis are
// the rim's back and the foot's front; what is between them is outline. Where one runs into the
// other, both look alike: nothing is taken there. A foot's circle is seen from above at least as
// steeply as the rim's, so that its ellipse is as round or rounder, though not much: a run that is
// not so is a round bottom, a shadow or a stand, not the foot.
namespace potshadow {

struct Sections {
  std::vector<EdgeNode> left;   // rim end first
  std::vector<EdgeNode> right;  // rim end first
  std::vector<EdgeNode> rim;    // its back, from left to right
  std::vector<EdgeNode> base;   // from left to right
  std::optional<Arc> rim_arc;
  std::optional<Arc> base_arc;
  bool foot_is_odd = false;  // a lowest run was found, but it is no foot's
};

// Returns the parts of a closed contour in the order of rough_contour, moved onto its path. Where
// `arcs` is false only left and right are told, by the axis.
Sections sections_of(const std::vector<EdgeNode>& contour, const Axis& axis, bool arcs);

// Leaves out what lies near the ends of a fitted run, off the ellipse through its good nodes, which
// it returns. Nothing where too few are good; then all are left out.
std::optional<Arc> trimmed_to_arc(const Arc& arc, const Axis& axis, std::vector<EdgeNode>& fitted);

}  // namespace potshadow
