// SPDX-License-Identifier: MIT
// What a worker of the session is doing, for the window to say.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <utility>

namespace potshadow {

// What is being worked on, and since when; shown once it takes over half a second.
struct Busy {
  std::string words;  // "Reading the photograph"
  std::chrono::steady_clock::time_point since;
  std::optional<double> part = std::nullopt;  // done, 0 to 1, where that is known
};

// Returns what begins now.
inline Busy busy_with(std::string words) {
  return {std::move(words), std::chrono::steady_clock::now()};
}

}  // namespace potshadow
