// SPDX-License-Identifier: MIT
#include "outline/museum_scene.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <utility>

namespace potshadow::testing {
namespace {

std::vector<PhotoPoint> points_of(const nlohmann::json& rows) {
  std::vector<PhotoPoint> points;
  for (const auto& row : rows) points.push_back({row.at(0).get<double>(), row.at(1).get<double>()});
  return points;
}

TrueEdge edge_of(const std::string& name) {
  if (name == "left") return TrueEdge::kLeft;
  if (name == "right") return TrueEdge::kRight;
  if (name == "rim") return TrueEdge::kRim;
  if (name == "base") return TrueEdge::kBase;
  return TrueEdge::kJoint;
}

[[noreturn]] void stop(const std::string& file) {
  std::fprintf(stderr, "cannot read %s\n", file.c_str());
  std::exit(1);
}

}  // namespace

MuseumScene load_museum_scene(const std::string& name) {
  const std::string stem = std::string(POTSHADOW_SOURCE_DIR) + "/tests/scenes/museum/" + name;
  std::ifstream file(stem + ".json");
  if (!file) stop(stem + ".json");
  const nlohmann::json truth = nlohmann::json::parse(file);
  MuseumScene scene;
  scene.name = name;
  scene.photo = stem + ".jpg";
  scene.focal_35mm = truth.at("focal_35mm").get<double>();
  if (!truth.at("pane").is_null())
    scene.pane_mm = truth.at("pane").at("thickness_mm").get<double>();
  const auto& label = truth.at("reference");
  scene.label = {label.at("place").get<std::string>(), label.at("width_mm").get<double>(),
                 label.at("height_mm").get<double>()};
  for (const auto& [key, value] : truth.at("sizes_mm").items()) {
    if (!value.is_null()) scene.sizes_mm[key] = value.get<double>();
  }
  const auto box = points_of(truth.at("box_px"));
  std::copy_n(box.begin(), 2, scene.box.begin());
  const auto corners = points_of(truth.at("reference").at("corners_px"));
  std::copy_n(corners.begin(), 4, scene.corners.begin());
  for (const auto& line : truth.at("outline")) {
    scene.outline.push_back({edge_of(line.at("edge")), points_of(line.at("points_px"))});
  }
  return scene;
}

Picture photo_of(const MuseumScene& scene) {
  auto picture = decode_photo(scene.photo);
  if (!picture) stop(scene.photo);
  return std::move(picture).value();
}

}  // namespace potshadow::testing
