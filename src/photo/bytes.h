// SPDX-License-Identifier: MIT
// Reads numbers out of a file's bytes without ever stepping outside them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

// A reader is a view: the bytes must outlive it. Offsets are counted from the start of the view and
// may be anything; whatever does not fit wholly inside gives nothing instead of a number.
namespace potshadow {

enum class ByteOrder { kBigEndian, kLittleEndian };

class ByteReader {
 public:
  ByteReader(std::string_view bytes, ByteOrder order) : bytes_(bytes), order_(order) {}

  // Returns whether `count` bytes from `at` on lie inside.
  bool holds(std::uint64_t at, std::uint64_t count) const {
    return at <= bytes_.size() && count <= bytes_.size() - at;
  }

  // Each returns the number of that many bytes at offset `at`, or nothing outside the view.
  std::optional<std::uint32_t> u8(std::uint64_t at) const { return number(at, 1); }
  std::optional<std::uint32_t> u16(std::uint64_t at) const { return number(at, 2); }
  std::optional<std::uint32_t> u24(std::uint64_t at) const { return number(at, 3); }
  std::optional<std::uint32_t> u32(std::uint64_t at) const { return number(at, 4); }

  // Returns the bytes at `at`, fewer than `count` (or none) where the view ends before.
  std::string_view text(std::uint64_t at, std::uint64_t count) const {
    if (at >= bytes_.size()) return {};
    return bytes_.substr(static_cast<std::size_t>(at), static_cast<std::size_t>(count));
  }

  std::uint64_t size() const { return bytes_.size(); }

 private:
  std::optional<std::uint32_t> number(std::uint64_t at, unsigned count) const {
    if (!holds(at, count)) return std::nullopt;
    std::uint32_t value = 0;
    for (unsigned i = 0; i < count; ++i) {
      const unsigned from = order_ == ByteOrder::kBigEndian ? i : count - 1 - i;
      value =
          (value << 8U) | static_cast<unsigned char>(bytes_[static_cast<std::size_t>(at) + from]);
    }
    return value;
  }

  std::string_view bytes_;
  ByteOrder order_;
};

}  // namespace potshadow
