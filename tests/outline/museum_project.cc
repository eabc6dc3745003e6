// SPDX-License-Identifier: MIT
#include "outline/museum_project.h"

namespace potshadow::testing {

Project museum_project(const MuseumScene& scene) {
  ProjectReference label;
  label.kind = "rectangle";
  label.place = scene.label.place;
  label.width_mm = scene.label.width_mm;
  label.height_mm = scene.label.height_mm;
  label.corners.assign(scene.corners.begin(), scene.corners.end());
  ProjectPhoto photo;
  photo.file = scene.name + ".jpg";
  photo.focal_35mm = scene.focal_35mm;
  if (scene.pane_mm) {
    photo.glass = ProjectGlass();
    photo.glass->thickness_mm = *scene.pane_mm;
  }
  label.behind_glass = photo.glass.has_value();
  photo.references.push_back(label);
  Project project;
  project.name = scene.name;
  project.photos.push_back(photo);
  return project;
}

std::filesystem::path museum_folder() {
  return std::filesystem::path(POTSHADOW_SOURCE_DIR) / "tests" / "scenes" / "museum";
}

ProjectTrace museum_box(const MuseumScene& scene) {
  ProjectTrace trace;
  trace.box = scene.box;
  return trace;
}

}  // namespace potshadow::testing
