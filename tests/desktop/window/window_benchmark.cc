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
constexpr double kAsidePixels = 60.0;  // of the photograph, some ten of the screen
constexpr int kPans = 12;         // at eight frames and more each: the last 200 frames are theirs
constexpr double kPanWay = 60.0;  // screen pixels

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
  std::printf("%-48s %9.2f %-3s %s\n", what, value, unit, target);
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
  const PhotoPoint mark = photo.marks.left.at(8);
  const PhotoPoint aside{mark.x_px - kAsidePixels, mark.y_px};
  std::vector<double> jumps;
  std::vector<double> drags;
  for (int i = 0; i < kDrags; ++i) {
    window.drag_photo_at_once(mark, aside);
    jumps.push_back(window.see().drag_to_figures_ms);
    window.drag_photo(aside, mark);
    drags.push_back(window.see().drag_to_figures_ms);
  }
  line("one movement of a mark to its figures, median", median(jumps), "ms", "target: under 60");
  line("the same, longest", *std::max_element(jumps.begin(), jumps.end()), "ms", "");
  line("a drag of eight movements, median", median(drags), "ms", "target: under 60");
  line("the same, longest", *std::max_element(drags.begin(), drags.end()), "ms", "");

  // Frames that draw the photograph: it is moved about, as a whole and closely seen.
  for (const double zoom : {0.0, 1.0}) {
    window.key(labels::kFitKey);
    window.zoom_to(mark, zoom);
    for (int i = 0; i < kPans; ++i) {
      const double way = i % 2 == 0 ? kPanWay : -kPanWay;
      const double pixel = window.see().canvas.pixels_per_photo_pixel;
      window.pan_photo(mark, {mark.x_px + way / pixel, mark.y_px + way / pixel});
    }
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
