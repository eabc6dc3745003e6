// SPDX-License-Identifier: MIT
// Random draws of the study, repeatable from a seed and a number.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

namespace potshadow::study {

class Dice {
 public:
  // The same seed and number give the same draws, whatever ran before.
  Dice(std::uint64_t seed, std::uint64_t number) {
    const auto low = [](std::uint64_t x) { return static_cast<std::uint32_t>(x); };
    std::seed_seq sequence{low(seed), low(seed >> 32U), low(number), low(number >> 32U)};
    engine_.seed(sequence);
  }
  double even(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine_);
  }
  // Even in the logarithm. Requires 0 < low < high.
  double log_even(double low, double high) { return std::exp(even(std::log(low), std::log(high))); }
  double normal(double sd) { return sd * std::normal_distribution<double>()(engine_); }
  bool chance(double probability) { return even(0.0, 1.0) < probability; }
  double side() { return chance(0.5) ? 1.0 : -1.0; }
  // Both ends included.
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(engine_); }
  template <class T>
  const T& one_of(const std::vector<T>& list) {
    return list[static_cast<std::size_t>(whole(0, static_cast<int>(list.size()) - 1))];
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace potshadow::study
