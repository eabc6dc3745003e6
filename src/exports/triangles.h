// SPDX-License-Identifier: MIT
// A plane figure with holes, filled with triangles.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "patterns/pattern.h"

namespace potshadow {

struct FilledFigure {
  std::vector<PatternPoint> points;
  std::vector<std::array<std::uint32_t, 3>> triangles;  // anticlockwise
  // The borders: the outline anticlockwise, then each hole clockwise.
  std::vector<std::vector<std::uint32_t>> loops;
};

// Returns the figure cut into triangles between its own corners; nothing where its lines cross.
// Source: ear clipping, a hole joined to the outline by a bridge of two equal lines (G. Meisters,
// "Polygons have ears", 1975; D. Eberly's note for the bridge, from memory). Its work grows with
// the square of the corners: some milliseconds for a thousand.
std::optional<FilledFigure> triangles_of(const std::vector<PatternPoint>& outline,
                                         const std::vector<std::vector<PatternPoint>>& holes);

}  // namespace potshadow
