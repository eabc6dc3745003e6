// SPDX-License-Identifier: MIT
// How long one estimate takes, and `potshadow measure` as a process.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <string>

#include "estimate/estimate.h"
#include "estimate/monte_carlo.h"
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

// Range 0: draws. Ten thousand take ten times as long as one thousand, and less: the two hundred
// pairs that each check begins with are the same.
void redraw_one_photo(benchmark::State& state) {
  const EstimateInput input =
      testing::noisy_input(testing::load_scene("flared-jar"), 24, 12, 60, 1.0, 1);
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
BENCHMARK(redraw_one_photo)->Arg(1000)->UseRealTime()->Unit(benchmark::kSecond);

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
