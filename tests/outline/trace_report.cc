// SPDX-License-Identifier: MIT
// Prints how good the tracing is on the museum photographs.
//
//   trace_report [NAME ...]
#include <array>
#include <cstdio>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "outline/trace_judgement.h"

namespace {

using namespace potshadow;
using namespace potshadow::testing;

void print(const char* what, const TraceFigures& f) {
  std::printf("  %-6s %5zu  %8.2f  %8.2f  %6.1f %%  %5.1f %%  %6.2f  %7.2f\n", what, f.marks,
              f.median_px, f.most_px, 100.0 * f.claimed, 100.0 * f.false_part, f.normal_rms,
              f.mean_sd_px);
}

}  // namespace

int main(int count, char** words) {
  std::vector<std::string> names(words + 1, words + count);
  if (names.empty()) names.assign(kMuseumNames.begin(), kMuseumNames.end());
  std::printf("  edge   marks  median px  95 %% px  claimed   false  rms/sd  mean sd px\n");
  for (const std::string& name : names) {
    const MuseumScene scene = load_museum_scene(name);
    TraceRequest request;
    request.box = {scene.box[0], scene.box[1]};
    const auto trace = trace_vessel(photo_of(scene), request);
    std::printf("%s\n", name.c_str());
    if (!trace) {
      std::printf("  %s\n", trace.problem().what.c_str());
      continue;
    }
    const std::array<std::pair<const char*, std::optional<TracedEdge>>, 5> rows = {
        {{"all", std::nullopt},
         {"left", TracedEdge::kLeft},
         {"right", TracedEdge::kRight},
         {"rim", TracedEdge::kRim},
         {"base", TracedEdge::kBase}}};
    for (const auto& [what, edge] : rows) print(what, judged(scene, *trace, edge));
  }
  return 0;
}
