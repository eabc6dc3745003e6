// SPDX-License-Identifier: MIT
// Areas filled piece by piece, without seams.
#pragma once

#include <imgui.h>

namespace potshadow {

// Filling without soft edges, so that neighbouring pieces of one colour show no seam.
class HardEdges {
 public:
  explicit HardEdges(ImDrawList& list) : list_(list), before_(list.Flags) {
    list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
  }
  ~HardEdges() { list_.Flags = before_; }
  HardEdges(const HardEdges&) = delete;
  HardEdges& operator=(const HardEdges&) = delete;

 private:
  ImDrawList& list_;
  ImDrawListFlags before_;
};

}  // namespace potshadow
