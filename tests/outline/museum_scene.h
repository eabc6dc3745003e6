// SPDX-License-Identifier: MIT
// Ray-traced museum photographs of 12 megapixels with the truth of what is seen on them.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/units.h"
#include "photo/decode.h"

// Pictures and truth come from tests/scenes/render_museum.py, so nothing here goes through our own
// projection. Pixels of the photograph, (0, 0) at the centre of the top-left one.
namespace potshadow::testing {

// kJoint: close to where two edges meet; marks of any of them may lie there.
enum class TrueEdge { kLeft, kRight, kRim, kBase, kJoint };

// A stretch of the vessel's edge that is seen: neither hidden nor outside the picture.
struct TrueLine {
  TrueEdge edge = TrueEdge::kLeft;
  std::vector<PhotoPoint> points;  // some 4 px apart
};

// The label that is the reference.
struct TrueLabel {
  std::string place;  // "lying", "standing" or "leaning"
  double width_mm = 0.0;
  double height_mm = 0.0;
};

struct MuseumScene {
  std::string name;
  double focal_35mm = 0.0;
  std::optional<double> pane_mm;  // the pane's thickness; no pane
  TrueLabel label;
  std::map<std::string, double> sizes_mm;  // by the keys of size_name.h; those it has
  std::string photo;                       // its file
  std::array<PhotoPoint, 2> box;           // roughly round the vessel: top left, bottom right
  std::vector<TrueLine> outline;
  // Of the card: lower left, lower right, upper right, upper left.
  std::array<PhotoPoint, 4> corners;
};

// Those of tests/scenes/museum_scenes.py that are rendered.
inline constexpr std::array<const char*, 5> kMuseumNames = {
    "window-jar", "crowded-bowl", "dim-bottle", "banded-jar", "handled-jug"};

// Returns the scene; stops the test program where its files are missing.
MuseumScene load_museum_scene(const std::string& name);

// Returns its photograph; stops the test program where it cannot be read.
Picture photo_of(const MuseumScene& scene);

}  // namespace potshadow::testing
