// SPDX-License-Identifier: MIT
// Prints how good the tracing is on the museum photographs: the marks of the first pass, then those
// that the estimate agreed with, and the sizes that follow from them.
//
//   trace_report [--pictures FOLDER] [NAME ...]
#include <array>
#include <cstdio>
#include <fstream>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "outline/museum_project.h"
#include "outline/trace_judgement.h"
#include "outline/trace_picture.h"
#include "project/measure.h"
#include "project/trace_project.h"

namespace {

using namespace potshadow;
using namespace potshadow::testing;

void print(const char* what, const TraceFigures& f) {
  std::printf("  %-6s %5zu  %8.2f  %8.2f  %6.1f %%  %5.1f %%  %6.2f  %7.2f\n", what, f.marks,
              f.median_px, f.most_px, 100.0 * f.claimed, 100.0 * f.false_part, f.normal_rms,
              f.mean_sd_px);
}

void print(const MuseumScene& scene, const Trace& trace) {
  const std::array<std::pair<const char*, std::optional<TracedEdge>>, 5> rows = {
      {{"all", std::nullopt},
       {"left", TracedEdge::kLeft},
       {"right", TracedEdge::kRight},
       {"rim", TracedEdge::kRim},
       {"base", TracedEdge::kBase}}};
  for (const auto& [what, edge] : rows) print(what, judged(scene, trace, edge));
  std::map<std::string, std::size_t> doubts;
  for (const DoubtfulStretch& stretch : trace.doubtful)
    doubts[stretch.why] += stretch.points.size();
  for (const auto& [why, count] : doubts) std::printf("    %zu: %s\n", count, why.c_str());
}

void print_sizes(const MuseumScene& scene, const Project& project) {
  const auto measured = measure_project(project, museum_folder());
  if (!measured) {
    std::printf("  no sizes: %s\n", measured.problem().what.c_str());
    return;
  }
  for (const MeasuredSize& size : measured->answer.sizes) {
    const auto truth = scene.sizes_mm.find(std::string(size_key(size.name)));
    if (truth == scene.sizes_mm.end()) continue;
    const Measured& m = size.measured;
    std::printf("  %-15s %7.2f mm, true %7.2f, off %6.2f, %5.2f sd; sd %.2f, the camera's %.2f\n",
                truth->first.c_str(), m.value, truth->second, m.value - truth->second,
                (m.value - truth->second) / m.sd, m.sd, size.camera_sd);
  }
}

}  // namespace

int main(int count, char** words) {
  std::vector<std::string> names(words + 1, words + count);
  std::string folder;
  if (names.size() > 1 && names.front() == "--pictures") {
    folder = names[1];
    names.erase(names.begin(), names.begin() + 2);
  }
  if (names.empty()) names.assign(kMuseumNames.begin(), kMuseumNames.end());
  std::printf("  edge   marks  median px  95 %% px  claimed   false  rms/sd  mean sd px\n");
  for (const std::string& name : names) {
    const MuseumScene scene = load_museum_scene(name);
    const Picture picture = photo_of(scene);
    TraceRequest request;
    request.box = {scene.box[0], scene.box[1]};
    const auto first = trace_vessel(picture, request);
    std::printf("%s\n", name.c_str());
    if (!first) {
      std::printf("  %s\n", first.problem().what.c_str());
      continue;
    }
    print(scene, *first);
    Project project = museum_project(scene);
    const auto traced =
        trace_photo(project, 0, museum_folder(), picture, museum_box(scene), probe_photo);
    if (!traced) {
      std::printf("  %s\n", traced.problem().what.c_str());
      continue;
    }
    std::printf("  %s\n", traced->predicted ? "predicted" : "not predicted");
    for (const Note& note : traced->notes) std::printf("    note: %s\n", note.text.c_str());
    print(scene, traced->shown);
    project.photos[0].trace = traced->trace;
    print_sizes(scene, project);
    if (folder.empty()) continue;
    for (const auto& [trace, pass] :
         {std::pair(&*first, "-1.png"), std::pair(&traced->shown, "-2.png")}) {
      const auto png = trace_picture_png(picture, *trace);
      if (png) std::ofstream(folder + "/" + name + pass, std::ios::binary) << *png;
    }
  }
  return 0;
}
