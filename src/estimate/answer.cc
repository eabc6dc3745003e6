// SPDX-License-Identifier: MIT
#include "estimate/answer.h"

#include "core/check.h"

namespace potshadow {
namespace {

struct Names {
  std::string_view key;
  std::string_view words;
};

constexpr std::array<Names, kSizeCount> kSizes = {{{"height", "Height"},
                                                   {"max_diameter", "Maximum diameter"},
                                                   {"height_of_max", "Height of the maximum"},
                                                   {"neck_diameter", "Neck diameter"},
                                                   {"height_of_neck", "Height of the neck"},
                                                   {"rim_diameter", "Rim diameter"},
                                                   {"base_diameter", "Base diameter"},
                                                   {"capacity", "Capacity to the brim"}}};

constexpr std::array<Names, kDoubtCount> kDoubts = {{{"marks", "the marks"},
                                                     {"reference_size", "the reference's size"},
                                                     {"reference_place", "the reference's place"},
                                                     {"focal_length", "the focal length"},
                                                     {"lens", "the lens"},
                                                     {"glass", "the glass"},
                                                     {"out_of_round", "the vessel's out-of-round"},
                                                     {"wall", "the wall's thickness"}}};

}  // namespace

std::string_view size_key(SizeName name) { return kSizes.at(static_cast<std::size_t>(name)).key; }
std::string_view size_words(SizeName name) {
  return kSizes.at(static_cast<std::size_t>(name)).words;
}
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
