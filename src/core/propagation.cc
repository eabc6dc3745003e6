// SPDX-License-Identifier: MIT
#include "core/propagation.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <mutex>
#include <numbers>
#include <thread>

#include "core/check.h"

namespace potshadow {
namespace {

constexpr double kCoverage = 0.95;

std::uint64_t mixed(std::uint64_t x) {
  x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
  x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
  return x ^ (x >> 31U);
}

}  // namespace

DrawRandom::DrawRandom(std::uint64_t seed, std::uint64_t draw)
    : state_(mixed(mixed(seed) + draw)) {}

std::uint64_t DrawRandom::next() {
  state_ += 0x9e3779b97f4a7c15U;
  return mixed(state_);
}

double DrawRandom::uniform() {
  constexpr double kStep = 0x1p-53;
  return (static_cast<double>(next() >> 11U) + 0.5) * kStep;
}

double DrawRandom::normal() {
  has_spare_ = !has_spare_;
  if (!has_spare_) return spare_;
  const double radius = std::sqrt(-2.0 * std::log(uniform()));
  const double angle = 2.0 * std::numbers::pi * uniform();
  spare_ = radius * std::sin(angle);
  return radius * std::cos(angle);
}

Spread spread_of(std::vector<double> sample) {
  POTSHADOW_CHECK(sample.size() >= 2);
  const auto count = static_cast<double>(sample.size());
  Spread spread;
  for (const double value : sample) spread.mean += value / count;
  for (const double value : sample) {
    spread.sd += (value - spread.mean) * (value - spread.mean) / (count - 1.0);
  }
  spread.sd = std::sqrt(spread.sd);
  std::sort(sample.begin(), sample.end());
  // With q values inside, the interval runs from the r-th value to the (r + q)-th.
  const auto inside =
      std::min(sample.size() - 1, static_cast<std::size_t>(kCoverage * count + 0.5));
  const std::size_t left_out = sample.size() - inside;
  const std::size_t below = (left_out - 1) / 2;
  spread.low95 = sample[below];
  spread.high95 = sample[below + inside];
  std::size_t shortest = 0;
  for (std::size_t r = 0; r + inside < sample.size(); ++r) {
    if (sample[r + inside] - sample[r] < sample[shortest + inside] - sample[shortest]) shortest = r;
  }
  spread.shortest_low95 = sample[shortest];
  spread.shortest_high95 = sample[shortest + inside];
  return spread;
}

bool run_draws(int draws, int jobs, const std::function<void(int)>& draw,
               const std::function<void(int)>& progress, const std::stop_token& stop) {
  const int machine = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  const int workers = std::clamp(jobs > 0 ? jobs : machine, 1, std::max(1, draws));
  std::atomic<int> next = 0;
  std::mutex mutex;
  int done = 0;               // by the mutex
  std::exception_ptr thrown;  // likewise
  const auto work = [&] {
    try {
      while (!stop.stop_requested()) {
        const int index = next++;
        if (index >= draws) return;
        draw(index);
        const std::lock_guard lock(mutex);
        ++done;
        if (progress) progress(done);
      }
    } catch (...) {
      next = draws;  // the others need not go on
      const std::lock_guard lock(mutex);
      if (!thrown) thrown = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> threads;
    for (int i = 1; i < workers; ++i) threads.emplace_back(work);
    work();
  }
  if (thrown) std::rethrow_exception(thrown);
  return done == draws;
}

FirstOrder first_order(const Model& model, std::span<const UncertainInput> inputs) {
  std::vector<double> at;
  for (const UncertainInput& input : inputs) at.push_back(input.value);
  FirstOrder out;
  out.value = model(at);
  double variance = 0.0;
  double doubt = 0.0;  // of the variance, over itself
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const UncertainInput& input = inputs[i];
    at[i] = input.value + input.sd;
    const double above = model(at);
    at[i] = input.value - input.sd;
    const double below = model(at);
    at[i] = input.value;
    const double part = std::abs(above - below) / 2.0;
    out.parts.push_back(part);
    variance += part * part;
    doubt += std::pow(part, 4) / input.freedom;
  }
  out.sd = std::sqrt(variance);
  // Welch and Satterthwaite's formula.
  out.freedom = doubt > 0.0 ? variance * variance / doubt : std::numeric_limits<double>::infinity();
  return out;
}

std::vector<double> redrawn(const Model& model, std::span<const UncertainInput> inputs, int draws,
                            std::uint64_t seed, int jobs) {
  std::vector<double> values(static_cast<std::size_t>(draws));
  const auto draw = [&](int index) {
    DrawRandom random(seed, static_cast<std::uint64_t>(index));
    std::vector<double> at;
    for (const UncertainInput& input : inputs) {
      const double off = input.shape == InputShape::kNormal
                             ? random.normal()
                             : std::numbers::sqrt3 * (2.0 * random.uniform() - 1.0);
      at.push_back(input.value + input.sd * off);
    }
    values[static_cast<std::size_t>(index)] = model(at);
  };
  run_draws(draws, jobs, draw, {}, {});
  return values;
}

}  // namespace potshadow
