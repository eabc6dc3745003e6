// SPDX-License-Identifier: MIT
// What every fuzz target demands, and how it reads its bytes.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "core/result.h"

// A target is a function of bytes that must return, whatever they are. What else must hold is said
// with `must`: where it does not the program aborts, which a fuzzer takes for a crash.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace potshadow::fuzz {

inline void must(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "fuzz target: %s does not hold\n", what);
  std::abort();
}

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

// A problem says what happened and what to do next.
inline void must_be_said(const Problem& problem) {
  must(!problem.what.empty(), "a problem says what happened");
  must(!problem.next.empty(), "a problem says what to do next");
}

// Takes values off the front of the bytes; zeros and nothing once they are used up.
class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : rest_(text_of(data, size)) {}
  bool empty() const { return rest_.empty(); }
  unsigned byte() {
    if (rest_.empty()) return 0;
    const auto value = static_cast<unsigned char>(rest_.front());
    rest_.remove_prefix(1);
    return value;
  }
  // Returns a number from -3276.8 to 3276.7 in steps of a tenth.
  double number() {
    const unsigned high = byte();
    return static_cast<double>(static_cast<std::int16_t>(high * 256U + byte())) / 10.0;
  }
  // Returns what stands before the next zero byte.
  std::string text() {
    const std::size_t end = rest_.find('\0');
    std::string found(rest_.substr(0, end));
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return found;
  }

 private:
  std::string_view rest_;
};

}  // namespace potshadow::fuzz
