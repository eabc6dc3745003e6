// SPDX-License-Identifier: MIT
// How quick the window is under Mesa's software renderer, as a small table. No test: it never fails
// on a slow machine. Run it on an idle one.
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <sstream>
#include <string>
#include <vector>

#include "core/temporary_folder.h"
#include "desktop/window/bench_window.h"
#include "desktop/window/labels.h"
#include "project/project.h"

namespace potshadow::bench {
namespace {

constexpr double kIdleSeconds = 10.0;
constexpr int kDrags = 10;
constexpr int kPanDrags = 12;

// Returns how many seconds of a processor the process has used. Source: proc(5), fields 14 and 15
// of stat, counted after the name in brackets.
double processor_seconds(pid_t id) {
  const std::string stat = file_content("/proc/" + std::to_string(id) + "/stat");
  std::istringstream fields(stat.substr(stat.rfind(')') + 2));
  std::string skipped;
  for (int i = 3; i < 14; ++i) fields >> skipped;
  double user = 0.0;
  double system = 0.0;
  fields >> user >> system;
  return (user + system) / static_cast<double>(::sysconf(_SC_CLK_TCK));
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values.empty() ? 0.0 : values[values.size() / 2];
}

void line(const char* what, double value, const char* unit, const char* target) {
  std::printf("%-44s %9.2f %-3s %s\n", what, value, unit, target);
}

void run(ScreenSize size, double scale) {
  const std::filesystem::path sample = POTSHADOW_SOURCE_DIR "/samples/shelf-jar.potshadow";
  const TemporaryFolder home;
  const std::filesystem::path project = home.path() / "shelf-jar.potshadow";
  std::filesystem::copy_file(sample, project);
  std::filesystem::copy_file(POTSHADOW_SOURCE_DIR "/samples/shelf-jar.jpg",
                             home.path() / "shelf-jar.jpg");
  const Result<Project> loaded = load_project(project);
  if (!loaded) throw std::runtime_error(loaded.problem().what);
  const ProjectPhoto& photo = loaded->photos.at(0);

  std::printf("%d x %d at %.0f %%, a photograph of %.1f megapixels\n", size.width, size.height,
              scale * 100.0,
              photo.record.width_px.value_or(0) * photo.record.height_px.value_or(0) / 1e6);
  const Screen screen(size);
  const auto begin = std::chrono::steady_clock::now();
  BenchWindow window(
      screen, {.arguments = {project.string()},
               .home = home.path(),
               .settings = labels::kSettingsStart + "\"scale\": " + std::to_string(scale) + "}"});
  window.wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
  const std::chrono::duration<double> opening = std::chrono::steady_clock::now() - begin;
  line("from the start to the figures", opening.count(), "s", "");

  const double used = processor_seconds(window.id());
  sleep_seconds(kIdleSeconds);
  line("processor while idle", (processor_seconds(window.id()) - used) / kIdleSeconds * 100.0, "%",
       "target: under 2");

  window.click(labels::kSteps[2]);
  std::vector<double> drags;
  const PhotoPoint mark = photo.marks.left.at(8);
  for (int i = 0; i < kDrags; ++i) {
    const PhotoPoint aside{mark.x_px - 12.0, mark.y_px};
    window.drag_photo(i % 2 == 0 ? mark : aside, i % 2 == 0 ? aside : mark);
    drags.push_back(window.see().drag_to_figures_ms);
  }
  line("drag to figures, median of the drags", median(drags), "ms", "target: under 60");
  line("drag to figures, longest", *std::max_element(drags.begin(), drags.end()), "ms", "");

  // Frames that draw the photograph: zooming in and out, moving about.
  window.zoom_to(mark, 1.0);
  for (int i = 0; i < kPanDrags; ++i) {
    const PhotoPoint near{mark.x_px + 30.0, mark.y_px + 30.0 * (i % 2 == 0 ? 1.0 : -1.0)};
    window.drag_photo(near, {near.x_px + 60.0, near.y_px + 40.0});
    window.key("ctrl+z");
  }
  const Seen seen = window.see();
  line("a frame, median", seen.frame_ms_median, "ms", size.width == 1280 ? "target: under 16" : "");
  line("a frame, 95th percentile", seen.frame_ms_p95, "ms",
       size.width == 1280 ? "target: under 16" : "");
  window.kill();
}

}  // namespace
}  // namespace potshadow::bench

int main() {
  try {
    potshadow::bench::run({1280, 800}, 1.0);
    std::printf("\n");
    potshadow::bench::run({2560, 1600}, 2.0);
    return EXIT_SUCCESS;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return EXIT_FAILURE;
  }
}
