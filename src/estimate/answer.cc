// SPDX-License-Identifier: MIT
#include "estimate/answer.h"

#include "core/check.h"

namespace potshadow {
namespace {

struct Names {
  std::string_view key;
  std::string_view words;
};

constexpr std::array<Names, kDoubtCount> kDoubts = {{{"marks", "the marks"},
                                                     {"reference_size", "the reference's size"},
                                                     {"reference_place", "the reference's place"},
                                                     {"focal_length", "the focal length"},
                                                     {"lens", "the lens"},
                                                     {"glass", "the glass"},
                                                     {"out_of_round", "the vessel's out-of-round"},
                                                     {"wall", "the wall's thickness"},
                                                     {"hidden", "the part that is not seen"}}};

}  // namespace

std::string_view doubt_key(DoubtSource source) {
  return kDoubts.at(static_cast<std::size_t>(source)).key;
}
std::string_view doubt_words(DoubtSource source) {
  return kDoubts.at(static_cast<std::size_t>(source)).words;
}

const MeasuredSize* find_size(const Answer& answer, SizeName name) {
  for (const MeasuredSize& size : answer.sizes) {
    if (size.name == name) return &size;
  }
  return nullptr;
}

}  // namespace potshadow
