// SPDX-License-Identifier: MIT
#include "desktop/window/budget_bar.h"

#include <imgui.h>

#include <string>
#include <vector>

#include "desktop/window/kit.h"
#include "desktop/words/figure_text.h"

namespace potshadow {
namespace {

constexpr double kBarHeight = 12.0;  // all at 100 %
constexpr double kSwatch = 12.0;
constexpr double kHatchEvery = 4.5;

// Each source has a hatching of its own, the same in every bar.
enum Strokes : unsigned {
  kRising = 1,
  kFalling = 2,
  kUpright = 4,
  kLevel = 8,
  kFull = 16,
};

unsigned hatching(const BudgetPart& part) {
  if (!part.source) return 0;
  switch (*part.source) {
    case DoubtSource::kMarks:
      return kFull;
    case DoubtSource::kReferenceSize:
      return kUpright;
    case DoubtSource::kReferencePlace:
      return kRising;
    case DoubtSource::kFocalLength:
      return kLevel;
    case DoubtSource::kLens:
      return kUpright | kLevel;
    case DoubtSource::kGlass:
      return kUpright | kRising;
    case DoubtSource::kOutOfRound:
      return kFalling;
    case DoubtSource::kWall:
      return kRising | kFalling;
    case DoubtSource::kHidden:
      break;
  }
  return kLevel | kFalling;
}

void draw_piece(Frame& frame, ImDrawList& list, ImVec2 from, ImVec2 to, unsigned strokes) {
  const ImU32 ink = paint(frame.look.colours.quiet);
  const float thin = frame.look.px(1.2);
  const float height = to.y - from.y;
  const float every = frame.look.px(kHatchEvery);
  if ((strokes & kFull) != 0) list.AddRectFilled(from, to, ink);
  list.PushClipRect(from, to, true);
  for (float x = from.x - height; x < to.x; x += every) {
    if ((strokes & kRising) != 0) {
      list.AddLine(ImVec2(x, to.y), ImVec2(x + height, from.y), ink, thin);
    }
    if ((strokes & kFalling) != 0) {
      list.AddLine(ImVec2(x, from.y), ImVec2(x + height, to.y), ink, thin);
    }
    if ((strokes & kUpright) != 0) list.AddLine(ImVec2(x, from.y), ImVec2(x, to.y), ink, thin);
  }
  if ((strokes & kLevel) != 0) {
    for (float y = from.y + 0.5F * every; y < to.y; y += 0.8F * every) {
      list.AddLine(ImVec2(from.x, y), ImVec2(to.x, y), ink, thin);
    }
  }
  list.PopClipRect();
  list.AddRect(from, to, ink, 0.0F, 0, frame.look.px(1));
}

}  // namespace

void budget_bar(Frame& frame, const MeasuredSize& size) {
  const std::vector<BudgetPart> parts = budget_parts(size);
  if (parts.empty()) return;
  const float width = ImGui::GetContentRegionAvail().x;
  const float height = frame.look.px(kBarHeight);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  ImGui::Dummy(ImVec2(width, height));
  kit::describe_last(frame, "What limits the " + with_small_start(size_words(size.name)));
  double before = 0.0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const double after = before + parts[i].share;
    draw_piece(frame, list, ImVec2(corner.x + static_cast<float>(before) * width, corner.y),
               ImVec2(corner.x + static_cast<float>(after) * width, corner.y + height),
               hatching(parts[i]));
    before = after;
  }
  // The legend, as many beside each other as have room.
  const ImFont& font = *frame.look.fonts.note;
  const float swatch = frame.look.px(kSwatch);
  const float gap = frame.look.px(5);
  float left = corner.x;
  float top = corner.y + height + frame.look.px(5);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string text = parts[i].words + " " + parts[i].percent;
    const float needed =
        swatch + gap + font.CalcTextSizeA(font.FontSize, 1e6F, 0.0F, text.c_str()).x;
    if (left > corner.x && left + needed > corner.x + width) {
      left = corner.x;
      top += font.FontSize + frame.look.px(3);
    }
    const float middle = top + 0.5F * font.FontSize;
    draw_piece(frame, list, ImVec2(left, middle - 0.4F * swatch),
               ImVec2(left + swatch, middle + 0.4F * swatch), hatching(parts[i]));
    list.AddText(&font, font.FontSize, ImVec2(left + swatch + gap, top),
                 paint(frame.look.colours.quiet), text.c_str());
    left += needed + frame.look.px(12);
  }
  ImGui::SetCursorScreenPos(ImVec2(corner.x, corner.y + height));
  ImGui::Dummy(ImVec2(width, top + font.FontSize - corner.y - height));
}

}  // namespace potshadow
