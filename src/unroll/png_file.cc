// SPDX-License-Identifier: MIT
#include "unroll/png_file.h"

#include <cmath>
#include <cstdint>
#include <opencv2/imgcodecs.hpp>
#include <vector>

namespace potshadow {
namespace {

void append_u32(std::string& to, std::uint32_t value) {
  for (const unsigned shift : {24U, 16U, 8U, 0U}) {
    to += static_cast<char>(static_cast<unsigned char>(value >> shift));
  }
}

std::uint32_t crc_of(const std::string& bytes) {
  constexpr std::uint32_t kPolynomial = 0xEDB88320U;
  std::uint32_t crc = 0xFFFFFFFFU;
  for (const char c : bytes) {
    crc ^= static_cast<unsigned char>(c);
    for (int bit = 0; bit < 8; ++bit) crc = (crc >> 1U) ^ ((crc & 1U) != 0 ? kPolynomial : 0U);
  }
  return ~crc;
}

}  // namespace

std::string png_of(const Unrolled& picture) {
  std::vector<unsigned char> bytes;
  cv::imencode(".png", picture.bgra, bytes);
  std::string file(bytes.begin(), bytes.end());
  constexpr double kMmPerMetre = 1000.0;
  const auto per_metre = static_cast<std::uint32_t>(std::lround(picture.px_per_mm * kMmPerMetre));
  std::string chunk = "pHYs";
  append_u32(chunk, per_metre);
  append_u32(chunk, per_metre);
  chunk += '\1';  // the unit is the metre
  std::string whole;
  append_u32(whole, static_cast<std::uint32_t>(chunk.size() - 4));
  whole += chunk;
  append_u32(whole, crc_of(chunk));
  // After the signature and the header chunk, which come first in every file.
  constexpr std::size_t kSignature = 8;
  constexpr std::size_t kHeaderChunk = 25;
  file.insert(kSignature + kHeaderChunk, whole);
  return file;
}

}  // namespace potshadow
