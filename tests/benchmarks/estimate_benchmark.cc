// SPDX-License-Identifier: MIT
// How long one estimate takes, and `potshadow measure` as a process. Beside each, named
// `..._limit`, is the least that it takes: of an estimate, all its residuals once with their
// derivatives.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <string>
#include <vector>

#include "core/freed_memory.h"
#include "estimate/estimate.h"
#include "estimate/monte_carlo.h"
#include "estimate/scene.h"
#include "estimate/shapes.h"
#include "estimate/solved.h"
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
EstimateInput exact_photos(std::size_t photos, std::size_t marks) {
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
  return input;
}

EstimateInput several_photos(std::size_t photos, std::size_t marks) {
  return testing::with_noise(exact_photos(photos, marks), 1.0, 1);
}

// One photograph on which each of some hundreds of marks was made so many times.
EstimateInput many_marks(std::size_t times) {
  EstimateInput input = exact_photos(1, 320);
  Marks& marks = input.photos.front().marks;
  for (auto* list : {&marks.rim, &marks.base, &marks.left, &marks.right}) {
    const std::vector<PhotoPoint> once = *list;
    for (std::size_t i = 1; i < times; ++i) list->insert(list->end(), once.begin(), once.end());
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

// One evaluation of every residual and derivative, where the estimate comes to rest. An estimate
// needs one at each step from each start, so that it is some hundreds of these at best.
void time_residuals(benchmark::State& state, const EstimateInput& input) {
  const Result<internal::Solved> solved = internal::solved(input);
  if (!solved) {
    state.SkipWithError("no answer");
    return;
  }
  for (auto _ : state) {
    benchmark::DoNotOptimize(internal::linearised(solved->task, solved->smoothness, solved->state));
  }
}

// Range 0: marks on the vessel.
void estimate_one_photo(benchmark::State& state) {
  time_estimate(state, one_photo(static_cast<std::size_t>(state.range(0))));
}
void estimate_one_photo_limit(benchmark::State& state) {
  time_residuals(state, one_photo(static_cast<std::size_t>(state.range(0))));
}
void mark_counts(benchmark::internal::Benchmark* each) {
  for (const int marks : {66, 100, 140, 200}) each->Arg(marks);
  each->Unit(benchmark::kMillisecond);
}
BENCHMARK(estimate_one_photo)->Apply(mark_counts);
BENCHMARK(estimate_one_photo_limit)->Apply(mark_counts);

// Range 0: photographs; range 1: marks on the vessel in all of them.
void estimate_several_photos(benchmark::State& state) {
  time_estimate(state, several_photos(static_cast<std::size_t>(state.range(0)),
                                      static_cast<std::size_t>(state.range(1))));
}
// Range 0: how often each of 360 marks was made.
void estimate_many_marks(benchmark::State& state) {
  time_estimate(state, many_marks(static_cast<std::size_t>(state.range(0))));
}
void estimate_many_marks_limit(benchmark::State& state) {
  time_residuals(state, many_marks(static_cast<std::size_t>(state.range(0))));
}
void mark_repeats(benchmark::internal::Benchmark* each) {
  for (const int times : {1, 3, 9, 28}) each->Arg(times);
  each->Unit(benchmark::kMillisecond);
}
BENCHMARK(estimate_many_marks)->Apply(mark_repeats);
BENCHMARK(estimate_many_marks_limit)->Apply(mark_repeats);

void estimate_several_photos_limit(benchmark::State& state) {
  time_residuals(state, several_photos(static_cast<std::size_t>(state.range(0)),
                                       static_cast<std::size_t>(state.range(1))));
}
void photo_counts(benchmark::internal::Benchmark* each) {
  for (const int photos : {2, 5, 10, 20}) each->Args({photos, 210 * photos});
  each->Unit(benchmark::kMillisecond);
}
BENCHMARK(estimate_several_photos)->Apply(photo_counts);
BENCHMARK(estimate_several_photos_limit)->Apply(photo_counts);

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
// As many evaluations of the residuals as there are draws.
void redraw_one_photo_limit(benchmark::State& state) {
  const EstimateInput input = one_photo(200);
  const Result<internal::Solved> solved = internal::solved(input);
  if (!solved) state.SkipWithError("no answer");
  for (auto _ : state) {
    for (std::int64_t i = 0; i < state.range(0); ++i) {
      benchmark::DoNotOptimize(
          internal::linearised(solved->task, solved->smoothness, solved->state));
    }
  }
}
void draw_counts(benchmark::internal::Benchmark* each) {
  for (const int draws : {1000, 2500, 5000, 10000}) each->Arg(draws);
  each->Iterations(1)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kSecond);
}
BENCHMARK(redraw_one_photo)->Apply(draw_counts);
BENCHMARK(redraw_one_photo_limit)->Apply(draw_counts);

void measure_process(benchmark::State& state) {
  const std::string command = std::string(POTSHADOW_PROGRAM) + " measure " + POTSHADOW_SOURCE_DIR +
                              "/samples/low-bowl.potshadow > /dev/null";
  for (auto _ : state) {
    if (std::system(command.c_str()) != 0) state.SkipWithError("measure failed");
  }
}
BENCHMARK(measure_process)->UseRealTime()->Unit(benchmark::kMillisecond);

// Range 0: projects in one call. The limit is one job in place of two: on two cores
// that are idle the ratio is near a half.
void measure_projects(benchmark::State& state, int jobs) {
  std::string command = std::string(POTSHADOW_PROGRAM) + " measure --jobs " + std::to_string(jobs);
  for (std::int64_t i = 0; i < state.range(0); ++i) {
    command += std::string(" ") + POTSHADOW_SOURCE_DIR + "/samples/low-bowl.potshadow";
  }
  command += " > /dev/null";
  for (auto _ : state) {
    if (std::system(command.c_str()) != 0) state.SkipWithError("measure failed");
  }
}
void measure_many(benchmark::State& state) { measure_projects(state, 2); }
void measure_many_limit(benchmark::State& state) { measure_projects(state, 1); }
void project_counts(benchmark::internal::Benchmark* each) {
  for (const int projects : {10, 20, 40, 80}) each->Arg(projects);
  each->UseRealTime()->Unit(benchmark::kMillisecond);
}
BENCHMARK(measure_many)->Apply(project_counts);
BENCHMARK(measure_many_limit)->Apply(project_counts);

}  // namespace
}  // namespace potshadow

int main(int argc, char** argv) {
  potshadow::keep_freed_memory();  // as the programs do
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
