// SPDX-License-Identifier: MIT
// A profile's control coordinates as the solver takes them, in two blocks.
#pragma once

#include <algorithm>
#include <cstddef>

#include "estimate/state.h"

// Internal to `estimate`. The first block holds the coordinates of the first two control points,
// some of which are held; the second the rest, all free. In one block, what is held would cost each
// residual a product with a matrix of the block's size.
namespace potshadow::internal {

inline constexpr int kHeadSize = 4;
inline int tail_size(std::size_t control_count) {
  return static_cast<int>(2 * control_count) - kHeadSize;
}

// Returns where the two blocks of a body's control coordinates begin.
inline double* head_of(Body& body) { return body.controls.data(); }
inline double* tail_of(Body& body) { return body.controls.data() + kHeadSize; }

struct ControlBlocks {
  const double* head = nullptr;
  const double* tail = nullptr;

  double operator[](std::size_t i) const { return i < kHeadSize ? head[i] : tail[i - kHeadSize]; }
};

// The derivatives of some residuals by both blocks, zero at first; a block may be missing.
class ControlSlopes {
 public:
  ControlSlopes(double* head, double* tail, std::size_t residuals, std::size_t control_count)
      : head_(head), tail_(tail), tail_size_(2 * control_count - kHeadSize) {
    if (head_ != nullptr) std::fill(head_, head_ + residuals * kHeadSize, 0.0);
    if (tail_ != nullptr) std::fill(tail_, tail_ + residuals * tail_size_, 0.0);
  }
  void add(std::size_t residual, std::size_t coordinate, double slope) {
    if (coordinate < kHeadSize) {
      if (head_ != nullptr) head_[residual * kHeadSize + coordinate] += slope;
    } else if (tail_ != nullptr) {
      tail_[residual * tail_size_ + coordinate - kHeadSize] += slope;
    }
  }

 private:
  double* head_;
  double* tail_;
  std::size_t tail_size_;
};

}  // namespace potshadow::internal
