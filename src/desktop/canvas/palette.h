// SPDX-License-Identifier: MIT
// The colours of the window: two themes from one table, and the marks' own palette.
#pragma once

#include <array>
#include <cstdint>

#include "estimate/input.h"

// Themes: daylight (warm paper, near-black umber) and evening (deep umber, oatmeal), both with a
// terracotta accent. Every text colour stands out from every ground it is used on by at least
// 4.5 : 1, and graphic colours by at least 3 : 1. Source: WCAG 2.2, success criteria 1.4.3 and
// 1.4.11, contrast ratio as defined there.
//
// Marks are told apart by shape as well as by colour. Their colours are those of Okabe & Ito,
// "Color Universal Design", 2008, made for all kinds of colour vision.
namespace potshadow {

struct Colour {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;
  friend bool operator==(const Colour&, const Colour&) = default;
};

struct ThemeColours {
  Colour ground;       // of both sides
  Colour sunk;         // fields, pressed places, the open step
  Colour raised;       // buttons
  Colour surround;     // around the photograph
  Colour text;         // on ground, sunk, raised
  Colour quiet;        // notes, ±; on ground, sunk, raised
  Colour accent;       // what is chosen; as text and line on ground and sunk
  Colour on_accent;    // text on accent
  Colour doubt;        // ochre; as text on ground and sunk
  Colour line;         // borders of fields, rings of steps; on ground and sunk
  Colour on_surround;  // text around the photograph
  Colour drawing;      // lines of the drawn section; on ground
  Colour clay;         // its cut wall
  Colour band;         // its interval
};

const ThemeColours& daylight_colours();
const ThemeColours& evening_colours();

// Returns the relative luminance contrast of two colours, 1..21. Source: WCAG 2.2.
double contrast_ratio(Colour a, Colour b);

// Colours over the photograph.
inline constexpr Colour kHalo{20, 14, 10};
inline constexpr Colour kFitted{240, 228, 66};        // Okabe-Ito yellow
inline constexpr Colour kFittedStale{170, 170, 170};  // the last good fit, no longer current
// Returns the colour of a kind of mark: rim sky blue, foot bluish green, left orange, right
// vermilion, reference reddish purple.
Colour mark_colour(MarkKind kind);

}  // namespace potshadow
