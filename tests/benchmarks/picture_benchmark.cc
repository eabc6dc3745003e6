// SPDX-License-Identifier: MIT
// How long a large photograph takes to open, beside its bare decoding, and what is done to it then.
#include <benchmark/benchmark.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <system_error>
#include <vector>

#include "outline/snap.h"
#include "outline/trace.h"
#include "photo/decode.h"
#include "photo/shown_picture.h"

namespace potshadow {
namespace {

// Sides of a 48 and of a 12 megapixel photograph.
constexpr int kLargeWidth = 8000;
constexpr int kLargeHeight = 6000;

// The most memory that this process holds, from its making on. Source: proc(5), clear_refs and
// status.
class PeakMemory {
 public:
  PeakMemory() { std::ofstream("/proc/self/clear_refs") << "5"; }
  double mib() const {
    std::ifstream status("/proc/self/status");
    for (std::string word; status >> word;) {
      double kib = 0.0;
      if (word == "VmHWM:" && status >> kib) return kib / 1024.0;
    }
    return 0.0;
  }
};

// A photograph of so many megapixels made here: soft shades with fine grain, so that its JPEG is
// about as large as a camera's. Removed with its folder at the end.
class MadePhoto {
 public:
  explicit MadePhoto(double megapixels)
      : folder_(std::filesystem::temp_directory_path() /
                ("potshadow-benchmark-" + std::to_string(getpid()))) {
    std::filesystem::create_directories(folder_);
    cv::Mat coarse(48, 64, CV_8UC3);
    cv::RNG random(1);
    random.fill(coarse, cv::RNG::UNIFORM, 40, 200);
    cv::Mat bgr;
    const double scale = std::sqrt(megapixels / 48.0);
    cv::resize(coarse, bgr,
               cv::Size(static_cast<int>(std::lround(kLargeWidth * scale)),
                        static_cast<int>(std::lround(kLargeHeight * scale))),
               0, 0, cv::INTER_CUBIC);
    cv::Mat grain(bgr.rows, bgr.cols, CV_8UC3);
    random.fill(grain, cv::RNG::NORMAL, 20, 6);
    bgr += grain;
    constexpr int kQuality = 95;
    cv::imwrite(path().string(), bgr, {cv::IMWRITE_JPEG_QUALITY, kQuality});
  }
  ~MadePhoto() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  MadePhoto(const MadePhoto&) = delete;
  MadePhoto& operator=(const MadePhoto&) = delete;
  std::filesystem::path path() const { return folder_ / "large.jpg"; }

 private:
  std::filesystem::path folder_;
};

// Range 0: megapixels, of all that reads a file.
void photo_sizes(benchmark::internal::Benchmark* each) {
  for (const int megapixels : {3, 12, 48, 100}) each->Arg(megapixels);
  each->UseRealTime()->Unit(benchmark::kMillisecond);
}

void decode_limit(benchmark::State& state) {
  const MadePhoto photo(static_cast<double>(state.range(0)));
  for (auto _ : state) {
    cv::Mat bgr = cv::imread(photo.path().string());
    if (bgr.empty()) state.SkipWithError("not read");
    benchmark::DoNotOptimize(bgr.data);
  }
  state.counters["file_MB"] = static_cast<double>(std::filesystem::file_size(photo.path())) * 1e-6;
}
BENCHMARK(decode_limit)->Apply(photo_sizes);

// Decodes, and where `show` makes it ready to be shown.
void open_photo(benchmark::State& state, bool show) {
  const MadePhoto photo(static_cast<double>(state.range(0)));
  const PeakMemory peak;
  for (auto _ : state) {
    const auto picture = decode_photo(photo.path());
    if (!picture) {
      state.SkipWithError("not read");
      break;
    }
    if (!show) continue;
    const auto shown = ShownPicture::of(*picture, {});
    if (!shown) state.SkipWithError("not shown");
    benchmark::DoNotOptimize(shown->levels());
  }
  state.counters["peak_MiB"] = peak.mib();
}
void decode(benchmark::State& state) { open_photo(state, false); }
BENCHMARK(decode)->Apply(photo_sizes);
void decode_to_show(benchmark::State& state) { open_photo(state, true); }
BENCHMARK(decode_to_show)->Apply(photo_sizes);
BENCHMARK(decode_limit)->Name("decode_to_show_limit")->Apply(photo_sizes);

// Range 0: megapixels; range 1: 0 plain, 1 gamma, 2 local contrast, 3 edges.
void show_photo(benchmark::State& state) {
  const int part = state.range(0) == 12 ? 2 : 1;
  Picture picture;
  picture.bgr.create(kLargeHeight / part, kLargeWidth / part, CV_8UC3);
  cv::RNG random(2);
  random.fill(picture.bgr, cv::RNG::NORMAL, 120, 30);
  ViewAdjust adjust;
  if (state.range(1) == 1) adjust.gamma = 2.0;
  if (state.range(1) == 2) adjust.local_contrast = 0.5;
  adjust.edges = state.range(1) == 3;
  for (auto _ : state) {
    const auto shown = ShownPicture::of(picture, adjust);
    if (!shown) state.SkipWithError("not shown");
    benchmark::DoNotOptimize(shown->levels());
  }
}
BENCHMARK(show_photo)
    ->ArgsProduct({{12, 48}, {0, 1, 2, 3}})
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);

void turn_photo(benchmark::State& state) {
  Picture picture;
  picture.bgr.create(kLargeHeight / 2, kLargeWidth / 2, CV_8UC3);
  picture.bgr.setTo(cv::Scalar::all(90));
  for (auto _ : state) {
    const Picture turned = turned_picture(picture, 1);
    benchmark::DoNotOptimize(turned.bgr.data);
  }
}
BENCHMARK(turn_photo)->UseRealTime()->Unit(benchmark::kMillisecond);

// Range 0: the reach.
void snap_mark(benchmark::State& state) {
  Picture picture;
  picture.bgr.create(1000, 1000, CV_8UC3);
  cv::RNG random(3);
  random.fill(picture.bgr, cv::RNG::NORMAL, 80, 2);
  picture.bgr.colRange(505, 1000) += cv::Scalar::all(90);
  for (auto _ : state) {
    const auto edge =
        snap_to_edge(picture, {500.0, 500.0}, Px{static_cast<double>(state.range(0))});
    if (!edge) state.SkipWithError("no edge");
    benchmark::DoNotOptimize(edge);
  }
}
BENCHMARK(snap_mark)->Arg(10)->Arg(20)->Arg(60)->Unit(benchmark::kMicrosecond);

// A jar on a shelf, as large as a photograph of so many megapixels would show it.
Picture jar_picture(double megapixels) {
  const double scale = std::sqrt(megapixels / 12.0);
  const auto px = [&](double value) { return static_cast<int>(std::lround(value * scale)); };
  Picture picture;
  picture.bgr.create(px(3000), px(4000), CV_8UC3);
  picture.bgr.setTo(cv::Scalar(150, 160, 150));
  picture.bgr.rowRange(px(1900), picture.bgr.rows).setTo(cv::Scalar(120, 135, 140));
  const cv::Scalar clay(60, 95, 150);
  std::vector<cv::Point> side;
  for (int i = 0; i <= 200; ++i) {
    const double part = i / 200.0;
    const double half = 450.0 - 150.0 * part + 350.0 * std::sin(part * 3.14159);
    side.emplace_back(px(2000.0 - half), px(600.0 + 1700.0 * part));
  }
  for (std::size_t i = side.size(); i-- > 0;) side.emplace_back(px(4000) - side[i].x, side[i].y);
  cv::fillPoly(picture.bgr, std::vector{side}, clay);
  cv::ellipse(picture.bgr, {px(2000), px(2300)}, {px(300), px(75)}, 0, 0, 360, clay, -1);
  cv::ellipse(picture.bgr, {px(2000), px(600)}, {px(450), px(110)}, 0, 0, 360, {40, 50, 80}, -1);
  cv::GaussianBlur(picture.bgr, picture.bgr, cv::Size(), 1.0);
  cv::Mat grain(picture.bgr.size(), CV_8UC3);
  cv::RNG random(4);
  random.fill(grain, cv::RNG::NORMAL, 10, 3);
  picture.bgr += grain;
  return picture;
}

// Range 0: megapixels. The reduced picture is the same for all, so that time grows far less than
// the picture does.
void trace_jar(benchmark::State& state) {
  const double megapixels = static_cast<double>(state.range(0));
  const Picture picture = jar_picture(megapixels);
  const double scale = std::sqrt(megapixels / 12.0);
  TraceRequest request;
  request.box = {{1050.0 * scale, 400.0 * scale}, {2950.0 * scale, 2480.0 * scale}};
  const PeakMemory peak;
  for (auto _ : state) {
    const auto trace = trace_vessel(picture, request);
    if (!trace) state.SkipWithError("not traced");
    benchmark::DoNotOptimize(trace);
  }
  state.counters["peak_MiB"] = peak.mib();
}

// The least: one graph cut of the reduced picture, and the edges of the whole one.
void trace_jar_limit(benchmark::State& state) {
  const Picture picture = jar_picture(static_cast<double>(state.range(0)));
  constexpr double kReducedPixels = 160'000.0;  // as trace_vessel has it
  const double part = std::sqrt(kReducedPixels / static_cast<double>(picture.bgr.total()));
  for (auto _ : state) {
    cv::Mat reduced, mask, background, foreground, grey, across, upright;
    cv::resize(picture.bgr, reduced, cv::Size(), part, part, cv::INTER_AREA);
    const cv::Rect box(reduced.cols / 4, reduced.rows / 8, reduced.cols / 2, reduced.rows * 3 / 4);
    cv::grabCut(reduced, mask, box, background, foreground, 1, cv::GC_INIT_WITH_RECT);
    cv::cvtColor(picture.bgr, grey, cv::COLOR_BGR2GRAY);
    cv::Sobel(grey, across, CV_16S, 1, 0);
    cv::Sobel(grey, upright, CV_16S, 0, 1);
    benchmark::DoNotOptimize(upright.data);
  }
}

void trace_sizes(benchmark::internal::Benchmark* each) {
  for (const int megapixels : {1, 3, 12, 48}) each->Arg(megapixels);
  each->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);
}
BENCHMARK(trace_jar)->Apply(trace_sizes);
BENCHMARK(trace_jar_limit)->Apply(trace_sizes);

}  // namespace
}  // namespace potshadow
