// SPDX-License-Identifier: MIT
// Properties checked on many random cases, the same ones in every run.
#pragma once

#include <rapidcheck.h>

#include <cstdint>
#include <sstream>
#include <string>
#include <utility>

namespace potshadow {

inline constexpr int kRandomCases = 200;

// Checks the property on kRandomCases cases; returns what broke it, made small, else nothing.
template <class Property>
std::string broken(std::uint64_t seed, Property&& property) {
  rc::detail::TestParams params;
  params.seed = seed;
  params.maxSuccess = kRandomCases;
  const auto result = rc::detail::checkTestable(std::forward<Property>(property),
                                                rc::detail::TestMetadata(), params);
  if (result.template is<rc::detail::SuccessResult>()) return "";
  std::ostringstream text;
  rc::detail::printResultMessage(result, text);
  return text.str();
}

// Returns a number from `low` to `high`, in a million steps, so that a case can be made small.
inline double random_between(double low, double high) {
  constexpr int kSteps = 1'000'000;
  return low + (high - low) * *rc::gen::inRange(0, kSteps + 1) / kSteps;
}

}  // namespace potshadow
