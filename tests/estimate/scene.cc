// SPDX-License-Identifier: MIT
#include "estimate/scene.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>

#include "vessel/sizes.h"

namespace potshadow::testing {
namespace {

nlohmann::json read_json(const std::string& path) {
  std::ifstream file(path);
  if (!file) {
    std::fprintf(stderr, "cannot read %s\n", path.c_str());
    std::exit(1);
  }
  return nlohmann::json::parse(file);
}

std::vector<PhotoPoint> points_of(const nlohmann::json& rows) {
  std::vector<PhotoPoint> points;
  for (const auto& row : rows) points.push_back({row.at(0).get<double>(), row.at(1).get<double>()});
  return points;
}

Place place_of(const std::string& name) {
  if (name == "lying") return Place::kLying;
  if (name == "standing") return Place::kStanding;
  if (name == "leaning") return Place::kLeaning;
  return Place::kOnGlass;
}

}  // namespace

Scene load_scene(const std::string& name) {
  const std::string stem = std::string(POTSHADOW_SOURCE_DIR) + "/tests/scenes/" + name;
  const nlohmann::json truth = read_json(stem + ".json");
  const nlohmann::json marks = read_json(stem + ".marks.json");
  Scene scene;
  scene.name = name;
  PhotoInput& photo = scene.input.photos.front();
  photo.width_px = truth.at("width_px");
  photo.height_px = truth.at("height_px");
  photo.focal = FocalPrior{truth.at("focal_35mm"), 2.0};
  if (!truth.at("pane").is_null()) {
    GlassPane pane;
    pane.thickness_mm = truth.at("pane").at("thickness_mm");
    pane.thickness_sd_mm = 1.0;
    pane.index = truth.at("pane").at("index");
    photo.glass = pane;
  }
  const auto& given = truth.at("reference");
  RectangleReference reference;
  reference.width_mm = given.at("width_mm");
  reference.height_mm = given.at("height_mm");
  reference.size_sd_mm = 0.3;
  reference.place = place_of(given.at("place"));
  reference.behind_glass = given.value("behind_glass", true);
  if (reference.place == Place::kOnGlass) {
    reference.glass_to_axis_mm = given.at("glass_to_axis_mm");
    reference.glass_to_axis_sd_mm = 1.0;
  }
  const std::vector<PhotoPoint> corners = points_of(marks.at("corners_px"));
  std::copy_n(corners.begin(), 4, reference.corners.begin());
  photo.references = {reference};
  photo.marks = {points_of(marks.at("rim_px")), points_of(marks.at("base_px")),
                 points_of(marks.at("left_px")), points_of(marks.at("right_px")), 1.0};
  scene.input.out_of_round_percent = 0.0;  // the renderer's vessels are truly round
  scene.input.round_base = truth.at("base") == "round";
  scene.input.wall_mm = truth.at("wall_mm");
  scene.input.wall_sd_mm = 0.0;

  const auto& sizes = truth.at("sizes_mm");
  for (std::size_t i = 0; i + 1 < kSizeCount; ++i) {
    const auto& value = sizes.at(std::string(size_key(static_cast<SizeName>(i))));
    if (!value.is_null()) scene.truth[i] = value.get<double>();
  }
  std::vector<ProfilePoint> line;
  for (const PhotoPoint& row : points_of(truth.at("profile"))) line.push_back({row.x_px, row.y_px});
  const Profile profile = Profile::through(line, 80).value();
  scene.truth[static_cast<std::size_t>(SizeName::kCapacity)] =
      capacity_ml(profile, Mm{scene.input.wall_mm}, 2000);
  return scene;
}

EstimateInput noisy_input(const Scene& scene, std::size_t rim, std::size_t base,
                          std::size_t outline, double sd_px, std::uint64_t seed) {
  std::seed_seq sequence{seed, std::hash<std::string>{}(scene.name)};
  std::mt19937_64 random(sequence);
  std::normal_distribution<double> noise(0.0, sd_px);
  const auto moved = [&](PhotoPoint p) {
    p.x_px += noise(random);
    p.y_px += noise(random);
    return p;
  };
  const auto picked = [&](std::vector<PhotoPoint> points, std::size_t count) {
    std::shuffle(points.begin(), points.end(), random);
    points.resize(std::min(count, points.size()));
    for (PhotoPoint& p : points) p = moved(p);
    return points;
  };
  EstimateInput input = scene.input;
  Marks& marks = input.photos.front().marks;
  marks.rim = picked(marks.rim, rim);
  marks.base = picked(marks.base, base);
  marks.left = picked(marks.left, outline);
  marks.right = picked(marks.right, outline);
  marks.sd_px = sd_px;
  RectangleReference& reference = input.photos.front().references.front();
  for (PhotoPoint& corner : reference.corners) corner = moved(corner);

  // What the user states is off by as much as its own uncertainty says.
  const auto stated = [&](double truth, double sd) {
    return truth + sd * std::normal_distribution<double>()(random);
  };
  input.photos.front().focal->focal_35mm *=
      stated(1.0, input.photos.front().focal->sd_percent / 100.0);
  reference.width_mm = stated(reference.width_mm, reference.size_sd_mm);
  reference.height_mm = stated(reference.height_mm, reference.size_sd_mm);
  if (reference.place == Place::kOnGlass) {
    reference.glass_to_axis_mm = stated(reference.glass_to_axis_mm, reference.glass_to_axis_sd_mm);
  }
  if (input.photos.front().glass) {
    input.photos.front().glass->thickness_mm =
        std::max(0.0, stated(input.photos.front().glass->thickness_mm,
                             input.photos.front().glass->thickness_sd_mm));
  }
  return input;
}

}  // namespace potshadow::testing
