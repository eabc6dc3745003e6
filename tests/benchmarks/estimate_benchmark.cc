// SPDX-License-Identifier: MIT
// How long one estimate takes, and `potshadow measure` as a process.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <string>
#include <vector>

#include "core/freed_memory.h"
#include "estimate/estimate.h"
#include "estimate/monte_carlo.h"
#include "estimate/scene.h"
#include "estimate/shapes.h"
#include "estimate/synthetic.h"

namespace potshadow {
namespace {

// One photograph of a jar, with all its marks counted; the card has four more.
EstimateInput one_photo(std::size_t marks) {
  constexpr std::size_t kRim = 24;
  constexpr std::size_t kBase = 12;
  const std::size_t side = (marks - kRim - kBase) / 2;
  return testing::noisy_input(testing::load_scene("flared-jar"), kRim, kBase, side, 1.0, 1);
}

// The formula's jar from several places round about and up and down, one lens for all; `marks` in
// all photographs together, near enough. The card lies in each.
EstimateInput several_photos(std::size_t photos, std::size_t marks) {
  constexpr std::size_t kRim = 40;
  constexpr std::size_t kBase = 20;
  const std::vector<ProfilePoint> jar = testing::smooth_jar();
  const std::size_t side = (marks / photos - kRim - kBase) / 2;
  EstimateInput input;
  for (std::size_t v = 0; v < photos; ++v) {
    const double part = static_cast<double>(v);
    testing::SyntheticCamera camera;
    camera.distance_mm = 700.0 + 120.0 * part;
    camera.eye_height_mm = 250.0 + 60.0 * part;
    EstimateInput one = testing::synthetic_input(jar, camera, kRim, kBase, jar.size() / side);
    one.photos.front().direction_deg = 70.0 * part;
    one.photos.front().same_lens = 1;
    if (v == 0) {
      input = one;
    } else {
      input.photos.push_back(one.photos.front());
    }
  }
  return testing::with_noise(input, 1.0, 1);
}

void time_estimate(benchmark::State& state, const EstimateInput& input) {
  std::size_t marks = 0;
  for (const PhotoInput& photo : input.photos) {
    marks += photo.marks.rim.size() + photo.marks.base.size() + photo.marks.left.size() +
             photo.marks.right.size();
  }
  for (auto _ : state) {
    auto answer = estimate(input);
    if (!answer) state.SkipWithError("no answer");
    benchmark::DoNotOptimize(answer);
  }
  state.counters["marks"] = static_cast<double>(marks);
}

// Range 0: marks on the vessel.
void estimate_one_photo(benchmark::State& state) {
  time_estimate(state, one_photo(static_cast<std::size_t>(state.range(0))));
}
BENCHMARK(estimate_one_photo)->Arg(66)->Arg(120)->Arg(200)->Unit(benchmark::kMillisecond);

// Range 0: photographs; range 1: marks on the vessel in all of them.
void estimate_several_photos(benchmark::State& state) {
  time_estimate(state, several_photos(static_cast<std::size_t>(state.range(0)),
                                      static_cast<std::size_t>(state.range(1))));
}
BENCHMARK(estimate_several_photos)->Args({2, 400})->Args({5, 1000})->Unit(benchmark::kMillisecond);

// A mark is being dragged: each answer starts from the one before.
void estimate_while_dragging(benchmark::State& state) {
  EstimateInput input = one_photo(static_cast<std::size_t>(state.range(0)));
  EstimateMemory memory;
  if (!estimate(input, &memory)) state.SkipWithError("no answer");
  double step = 1.0;
  for (auto _ : state) {
    input.photos.front().marks.left.front().x_px += step;
    step = -step;
    auto answer = estimate_nearby(input, memory);
    if (!answer) state.SkipWithError("no answer");
    benchmark::DoNotOptimize(answer);
  }
}
BENCHMARK(estimate_while_dragging)->Arg(120)->Arg(200)->Unit(benchmark::kMillisecond);

// Range 0: draws, of a photograph with 200 marks. Each check begins with two hundred pairs more.
void redraw_one_photo(benchmark::State& state) {
  const EstimateInput input = one_photo(200);
  const auto first = estimate(input);
  if (!first) state.SkipWithError("no answer");
  MonteCarloWishes wishes;
  wishes.draws = static_cast<int>(state.range(0));
  wishes.jobs = 2;
  for (auto _ : state) {
    auto found = monte_carlo(input, *first, wishes);
    if (!found) state.SkipWithError("no answer");
    benchmark::DoNotOptimize(found);
  }
}
BENCHMARK(redraw_one_photo)
    ->Arg(1000)
    ->Arg(10000)
    ->Iterations(1)
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kSecond);

void measure_process(benchmark::State& state) {
  const std::string command = std::string(POTSHADOW_PROGRAM) + " measure " + POTSHADOW_SOURCE_DIR +
                              "/samples/low-bowl.potshadow > /dev/null";
  for (auto _ : state) {
    if (std::system(command.c_str()) != 0) state.SkipWithError("measure failed");
  }
}
BENCHMARK(measure_process)->UseRealTime()->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace potshadow

int main(int argc, char** argv) {
  potshadow::keep_freed_memory();  // as the programs do
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
