// SPDX-License-Identifier: MIT
// Marks and references as the project file holds them.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/units.h"
#include "project/kept_object.h"

// Lengths in millimetres, marks in pixels of the upright photograph. See project.h on defaults.
namespace potshadow {

// A thing held or hung beside a vessel is level with its axis to two centimetres (common practice,
// no source).
inline constexpr double kDefaultDepthSdMm = 20.0;
// Catalogues round to the centimetre: 10 mm / sqrt(12). A tape from a lens to a vessel behind glass
// is good to a centimetre (common practice, no source).
inline constexpr double kDefaultKnownSizeSdMm = 2.9;
inline constexpr double kDefaultDistanceSdMm = 10.0;

struct ProjectMarks {
  std::vector<PhotoPoint> rim;
  std::vector<PhotoPoint> base;
  std::vector<PhotoPoint> left;
  std::vector<PhotoPoint> right;
  double sd_px = 1.0;
  KeptObject kept;
  friend bool operator==(const ProjectMarks&, const ProjectMarks&) = default;
};

// What says how big things are: a thing of known size in a photograph, a size of the vessel itself
// ("size"), or how far the camera stood ("distance"). All kinds are kept; the estimate uses the
// four named first.
struct ProjectReference {
  std::string kind;   // "rectangle", "disc", "length", "grid", "neighbour", "size", "distance"
  std::string place;  // "lying", "standing", "leaning", "on-glass", "beside"; not of a neighbour
  // What is not given yet is empty.
  std::string object;                 // key of a common object (reference_table.h); may be empty
  std::optional<double> width_mm;     // of a rectangle
  std::optional<double> height_mm;    // of a rectangle
  std::optional<double> diameter_mm;  // of a disc
  double size_sd_mm = 0.3;
  // "marks_sd_px": of its marks where they were refined on their edges; else the photograph's
  std::optional<double> marks_sd_px;
  bool behind_glass = true;
  double riser_mm = 0.0;
  double riser_sd_mm = 0.0;
  std::optional<double> glass_to_axis_mm;
  double glass_to_axis_sd_mm = 0.0;
  std::optional<std::array<PhotoPoint, 2>> shelf_at_glass;  // "shelf_at_glass_px", on-glass only
  double depth_offset_mm = 0.0;                             // beside only, as is its uncertainty
  double depth_offset_sd_mm = kDefaultDepthSdMm;
  std::optional<double> length_mm;  // of a length
  std::optional<double> pitch_mm;   // of a grid: from line to line, joint included
  int columns = 1;                  // of a grid: cells between its four corners, across
  int rows = 1;                     // and up
  // At most four, in the order of RectangleReference; of a rectangle or grid.
  std::vector<PhotoPoint> corners;
  std::vector<PhotoPoint> ends;  // "ends_px": at most two, of a length
  struct Crossing {              // "crossings_px": [x, y, column, row], further ones of a grid
    PhotoPoint at;
    int column = 0;
    int row = 0;
    friend bool operator==(const Crossing&, const Crossing&) = default;
  };
  std::vector<Crossing> crossings;
  std::vector<PhotoPoint> edge;  // "edge_px": points on a disc's edge, anywhere round it
  // "size" names a size by its key (size_name.h): of the kind "size". The value is that size, or
  // from the lens to the vessel's axis at half height. Its default uncertainty goes by the kind. A
  // neighbour's size is written as "height_mm", "max_diameter_mm" or "rim_diameter_mm".
  std::string size;
  std::optional<double> value_mm;
  std::optional<double> sd_mm;
  bool guess = false;       // of the kind "size" only
  bool round_base = false;  // of a neighbour: "base": "round"
  ProjectMarks marks;       // of a neighbour; `sd_px` is the photograph's
  KeptObject kept;
  friend bool operator==(const ProjectReference&, const ProjectReference&) = default;
};

}  // namespace potshadow
