// SPDX-License-Identifier: MIT
// What a brush does to a traced outline, and which stretch of it lies under the pointer.
#pragma once

#include <optional>
#include <vector>

#include "core/units.h"
#include "project/project_trace.h"

// Everything in pixels of the photograph. A stroke is the line through its points with round ends,
// `width_px` wide.
namespace potshadow {

// Returns how far a point is from the line through `line`; infinite for no points.
double distance_from(const std::vector<PhotoPoint>& line, PhotoPoint point);

// Adds a point to a stroke that is being drawn, where it is at least a quarter of the brush's width
// from the one before; a stroke that has very many points takes no more.
void extend_stroke(std::vector<PhotoPoint>& points, PhotoPoint at, double width_px);

// Returns the trace without the marks that the stroke covers. All else of it stays.
ProjectTrace rubbed_out(ProjectTrace trace, const std::vector<PhotoPoint>& stroke, double width_px);

// Returns the index of the doubtful stretch nearest to the point, at most `reach_px` away.
std::optional<std::size_t> doubtful_near(const ProjectTrace& trace, PhotoPoint at, double reach_px);

}  // namespace potshadow
