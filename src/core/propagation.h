// SPDX-License-Identifier: MIT
// Propagation of uncertainty: to first order, and by redrawing the inputs many times.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <span>
#include <stop_token>
#include <vector>

// Model: y = f(x1, x2, ...), each xi with a value, a standard uncertainty and the shape of its
// distribution, all independent. First order: u² is the sum of (df/dxi u(xi))² (JCGM 100:2008,
// 5.1.2). Redrawing: f of many draws of all inputs is a sample of y's distribution, whose quantiles
// are the coverage interval (JCGM 101:2008, clause 7). Unit-free.
namespace potshadow {

// Random numbers of one draw. They depend on nothing but seed and draw: not on the order of draws,
// the number of threads, or the standard library. Source: SplitMix64 (Steele, Lea and Flood 2014)
// and the Box-Muller transform (1958), from memory.
class DrawRandom {
 public:
  DrawRandom(std::uint64_t seed, std::uint64_t draw);
  double uniform();  // evenly over (0, 1)
  double normal();   // mean 0, standard deviation 1

 private:
  std::uint64_t next();
  std::uint64_t state_;
  double spare_ = 0.0;
  bool has_spare_ = false;
};

// What a sample says about its quantity.
struct Spread {
  double mean = 0.0;
  double sd = 0.0;
  // 2.5 % of the sample lie below `low95` and 2.5 % above `high95` (JCGM 101:2008, 7.7.2).
  double low95 = 0.0;
  double high95 = 0.0;
  // The shortest interval that holds 95 % (JCGM 101:2008, 7.7.3).
  double shortest_low95 = 0.0;
  double shortest_high95 = 0.0;
};

// Returns the spread of a sample. Requires at least two values, all finite.
Spread spread_of(std::vector<double> sample);

// Calls `draw(i)` for each i of 0 .. draws - 1 on `jobs` threads, 0 for as many as the machine has,
// and `progress` with how many are done, from one thread at a time. Returns false where it was
// stopped before the end. `draw` must be safe to call from several threads at once; what it throws
// is thrown here.
bool run_draws(int draws, int jobs, const std::function<void(int)>& draw,
               const std::function<void(int)>& progress, const std::stop_token& stop);

enum class InputShape {
  kNormal,
  kRectangular  // evenly over value ± sqrt(3) sd
};

struct UncertainInput {
  double value = 0.0;
  double sd = 0.0;
  InputShape shape = InputShape::kNormal;
  double freedom = std::numeric_limits<double>::infinity();  // degrees of freedom of `sd`
};

using Model = std::function<double(std::span<const double>)>;

struct FirstOrder {
  double value = 0.0;
  double sd = 0.0;
  std::vector<double> parts;  // |df/dxi| u(xi), one an input
  double freedom = 0.0;       // effective degrees of freedom (JCGM 100:2008, G.4.1)
};

// Returns the model's value and its uncertainty to first order, by central differences over ± one
// standard uncertainty of each input (JCGM 100:2008, 5.1.3, note 2).
FirstOrder first_order(const Model& model, std::span<const UncertainInput> inputs);

// Returns `draws` values of the model, in the order of the draws. Requires jobs >= 0.
std::vector<double> redrawn(const Model& model, std::span<const UncertainInput> inputs, int draws,
                            std::uint64_t seed, int jobs = 0);

}  // namespace potshadow
