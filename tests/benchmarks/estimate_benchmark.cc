// SPDX-License-Identifier: MIT
// How long one estimate takes, and `potshadow measure` as a process.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <string>

#include "estimate/estimate.h"
#include "estimate/scene.h"

namespace potshadow {
namespace {

// Range 0: outline marks, left and right together.
void estimate_one_photo(benchmark::State& state) {
  const auto side = static_cast<std::size_t>(state.range(0)) / 2;
  const EstimateInput input =
      testing::noisy_input(testing::load_scene("flared-jar"), 24, 12, side, 1.0, 1);
  for (auto _ : state) {
    auto answer = estimate(input);
    if (!answer) state.SkipWithError("no answer");
    benchmark::DoNotOptimize(answer);
  }
}
BENCHMARK(estimate_one_photo)->Arg(30)->Arg(60)->Arg(120)->Arg(200)->Unit(benchmark::kMillisecond);

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
