// SPDX-License-Identifier: MIT
#include "desktop/canvas/palette.h"

#include <algorithm>
#include <cmath>

namespace potshadow {
namespace {

constexpr ThemeColours kDaylight{.ground = {247, 242, 232},
                                 .sunk = {237, 229, 214},
                                 .raised = {228, 217, 198},
                                 .surround = {92, 82, 73},
                                 .text = {43, 29, 20},
                                 .quiet = {96, 76, 60},
                                 .accent = {158, 62, 36},
                                 .on_accent = {255, 249, 240},
                                 .doubt = {125, 78, 0},
                                 .line = {140, 121, 102},
                                 .on_surround = {250, 245, 236},
                                 .drawing = {43, 29, 20},
                                 .clay = {196, 142, 108},
                                 .band = {214, 190, 160}};

constexpr ThemeColours kEvening{.ground = {41, 31, 25},
                                .sunk = {53, 41, 33},
                                .raised = {69, 54, 44},
                                .surround = {18, 13, 10},
                                .text = {236, 224, 205},
                                .quiet = {194, 176, 153},
                                .accent = {232, 138, 103},
                                .on_accent = {41, 24, 16},
                                .doubt = {229, 178, 76},
                                .line = {150, 130, 112},
                                .on_surround = {222, 208, 188},
                                .drawing = {236, 224, 205},
                                .clay = {156, 98, 68},
                                .band = {92, 74, 60}};

double linear(std::uint8_t channel) {
  const double c = channel / 255.0;
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(Colour colour) {
  return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

}  // namespace

const ThemeColours& daylight_colours() { return kDaylight; }
const ThemeColours& evening_colours() { return kEvening; }

double contrast_ratio(Colour a, Colour b) {
  const double first = luminance(a) + 0.05;
  const double second = luminance(b) + 0.05;
  return std::max(first, second) / std::min(first, second);
}

Colour mark_colour(MarkKind kind) {
  switch (kind) {
    case MarkKind::kRim:
      return {86, 180, 233};
    case MarkKind::kBase:
      return {0, 158, 115};
    case MarkKind::kLeft:
      return {230, 159, 0};
    case MarkKind::kRight:
      return {213, 94, 0};
    case MarkKind::kReference:
      break;
  }
  return {204, 121, 167};
}

}  // namespace potshadow
