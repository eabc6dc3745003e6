// SPDX-License-Identifier: MIT
#include "desktop/window/place_drawing.h"

#include <algorithm>
#include <array>
#include <cstddef>

namespace potshadow {
namespace {

// The drawing is laid out on a field 72 wide and 48 high, x to the right, y down.
constexpr float kFieldWidth = 72.0F;
constexpr float kFieldHeight = 48.0F;
constexpr float kShelf = 43.0F;

struct Spot {
  float x = 0.0F;
  float y = 0.0F;
};

// Half of a jar's outline from the foot up: distance from its axis, height above the shelf.
constexpr std::array<Spot, 9> kHalfJar{{{6.0F, 0.0F},
                                        {10.0F, 5.0F},
                                        {13.0F, 11.0F},
                                        {14.0F, 17.0F},
                                        {12.0F, 23.0F},
                                        {8.0F, 28.0F},
                                        {6.5F, 31.0F},
                                        {7.0F, 34.0F},
                                        {8.5F, 36.0F}}};
constexpr float kAxis = 53.0F;

}  // namespace

void place_drawing(ImDrawList& list, ImVec2 from, ImVec2 size, Place place, const Look& look) {
  const float scale = std::min(size.x / kFieldWidth, size.y / kFieldHeight);
  const ImVec2 corner(from.x + 0.5F * (size.x - scale * kFieldWidth),
                      from.y + 0.5F * (size.y - scale * kFieldHeight));
  const auto at = [&](Spot spot) {
    return ImVec2(corner.x + scale * spot.x, corner.y + scale * spot.y);
  };
  const ThemeColours& colours = look.colours;
  const ImU32 ink = paint(colours.drawing);
  const float thin = look.px(1.2);

  // The jar is drawn as a stack of bands, for its outline is not convex.
  for (std::size_t i = 0; i + 1 < kHalfJar.size(); ++i) {
    const Spot low = kHalfJar[i];
    const Spot high = kHalfJar[i + 1];
    list.AddQuadFilled(at({kAxis - low.x, kShelf - low.y}), at({kAxis + low.x, kShelf - low.y}),
                       at({kAxis + high.x, kShelf - high.y}), at({kAxis - high.x, kShelf - high.y}),
                       paint(colours.clay));
  }
  std::array<ImVec2, 2 * kHalfJar.size()> outline;
  for (std::size_t i = 0; i < kHalfJar.size(); ++i) {
    const Spot spot = kHalfJar[i];
    outline[i] = at({kAxis - spot.x, kShelf - spot.y});
    outline[outline.size() - 1 - i] = at({kAxis + spot.x, kShelf - spot.y});
  }
  list.AddPolyline(outline.data(), static_cast<int>(outline.size()), ink, ImDrawFlags_Closed, thin);
  list.AddLine(at({2.0F, kShelf}), at({70.0F, kShelf}), ink, thin);

  const ImU32 card = paint(colours.accent);
  const float thick = look.px(3.2);
  switch (place) {
    case Place::kLying:
      list.AddLine(at({8.0F, kShelf - 1.5F}), at({32.0F, kShelf - 1.5F}), card, thick);
      break;
    case Place::kStanding:
      list.AddLine(at({25.0F, kShelf - 0.5F}), at({25.0F, kShelf - 19.0F}), card, thick);
      break;
    case Place::kLeaning:
      list.AddLine(at({18.0F, kShelf - 0.5F}), at({29.0F, kShelf - 16.0F}), card, thick);
      break;
    case Place::kOnGlass:
      list.AddLine(at({18.0F, 2.0F}), at({18.0F, kShelf}), ink, thin);
      list.AddLine(at({21.0F, 2.0F}), at({21.0F, kShelf}), ink, thin);
      list.AddLine(at({16.0F, 13.0F}), at({16.0F, 30.0F}), card, thick);
      break;
    case Place::kBeside:  // as the viewer sees it, for from the side it would hide the axis
      list.AddRectFilled(at({10.0F, kShelf - 30.0F}), at({30.0F, kShelf - 16.0F}), card);
      break;
  }
}

}  // namespace potshadow
