// SPDX-License-Identifier: MIT
// Unrolling against the least that it takes: computing the map and one bare cv::remap.
#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>

#include "estimate/estimate.h"
#include "estimate/scene.h"
#include "unroll/unroll.h"
#include "unroll/view_grid.h"

namespace potshadow {
namespace {

constexpr double kFront = -std::numbers::pi / 2.0;

struct Painted {
  PaintedFace face;
  Development flat;
  UnrollPhoto photo;
};

const Painted& painted() {
  static const Painted kPainted = [] {
    const testing::Scene scene = testing::load_scene("flared-jar");
    const Answer answer = estimate(scene.input).value();
    const PaintedFace face(answer.profile, answer.oval);
    return Painted{
        face,
        whole_face(face, {1.0, 1.0}, kFront),
        {cv::imread(std::string(POTSHADOW_SOURCE_DIR) + "/tests/scenes/flared-jar-painted.png"),
         answer.photos.front().view}};
  }();
  return kPainted;
}

// As many pixels to the millimetre as make the whole girth so many pixels wide.
UnrollChoices choices_for(benchmark::State& state) {
  UnrollChoices choices;
  choices.px_per_mm =
      static_cast<double>(state.range(0)) / (2.0 * std::numbers::pi * painted().flat.low_radius_mm);
  return choices;
}

void unrolling(benchmark::State& state) {
  const UnrollChoices choices = choices_for(state);
  for (auto _ : state) {
    benchmark::DoNotOptimize(unroll(painted().face, painted().flat, {painted().photo}, choices));
  }
}

void unrolling_limit(benchmark::State& state) {
  const UnrollChoices choices = choices_for(state);
  for (auto _ : state) {
    const internal::FlatGrid grid(painted().flat, choices.px_per_mm);
    const internal::ViewGrid view =
        internal::view_grid(painted().face, painted().flat, grid, painted().photo, choices);
    cv::Mat x, y, out;
    const cv::Size size(grid.width_px, grid.height_px);
    cv::resize(view.x, x, size, 0.0, 0.0, cv::INTER_LINEAR);
    cv::resize(view.y, y, size, 0.0, 0.0, cv::INTER_LINEAR);
    cv::remap(painted().photo.bgr, out, x, y, cv::INTER_LINEAR);
    benchmark::DoNotOptimize(out.data);
  }
}

BENCHMARK(unrolling)
    ->Arg(1024)
    ->Arg(2048)
    ->Arg(4096)
    ->Arg(8192)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK(unrolling_limit)
    ->Arg(1024)
    ->Arg(2048)
    ->Arg(4096)
    ->Arg(8192)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace
}  // namespace potshadow
