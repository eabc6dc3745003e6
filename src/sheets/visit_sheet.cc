// SPDX-License-Identifier: MIT
#include "sheets/visit_sheet.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/text.h"
#include "sheets/page_blocks.h"
#include "sheets/page_text.h"
#include "sheets/sheet_pdf.h"

namespace potshadow {
namespace {

constexpr double kQuietGrey = 0.4;
constexpr double kHeadingMm = 7.0;
constexpr double kGapMm = 2.0;

constexpr std::array<std::string_view, 8> kPhotographs{
    "1  Ask first: photographs, a card by the pot or on the glass. No flash. Touch nothing.",
    "2  Find something of known size, level with the foot, as far back as the pot's middle.",
    "3  Stand back three times the pot's height or more; zoom rather than come near.",
    "4  The whole pot in the middle of the picture, with that thing and some shelf.",
    "5  From a little above the rim: its oval and the front of the foot must both show.",
    "6  Face the pane squarely. Shade the lens with a hand against reflections.",
    "7  Again from lower down, and from the side. Leave the zoom as it is. Three of each.",
    "8  Then the label, close. Keep the files as the camera made them, whole and uncropped."};

constexpr std::array<std::string_view, 5> kInstead{
    "No card allowed? Each of these will do, and two are better than one:",
    "the pot's own label, if you can measure one like it; tiles, boards or slats of the case;",
    "the card below held flat on the glass, and how far behind the glass the pot is;",
    "a neighbour whose size is in the catalogue; a size of the pot itself from there;",
    "how far the lens was from the pot's middle. At worst, what you would bet."};

// What is written down, and how many of the page's halves it takes.
struct Blank {
  std::string_view words;
  int halves = 1;
};
constexpr std::array<Blank, 12> kBlanks{{{"Museum, room, case", 2},
                                         {"Pot, number on its label", 2},
                                         {"Sizes on the label or in the catalogue", 2},
                                         {"Known thing, and its size", 2},
                                         {"Where: on the shelf, higher or lower by, on the glass"},
                                         {"How far in front of or behind the pot's middle"},
                                         {"Glass: how thick"},
                                         {"From the glass to the pot's middle"},
                                         {"From the lens to the glass"},
                                         {"Camera, lens, zoom"},
                                         {"Numbers of the pictures"},
                                         {"Chips, repairs, a stand, a lean"}}};

void draw_blanks(const PageBox& box, std::vector<Drawn>& out) {
  constexpr double kWordsMm = 2.7;
  constexpr double kMostRowMm = 13.0;
  const double half = (box.width() - kBlockGapMm) / 2.0;
  int halves = 0;
  for (const Blank& blank : kBlanks) halves += blank.halves;
  const double row = std::min(kMostRowMm, box.height() / (halves / 2.0));
  double y = box.top_mm;
  int taken = 0;  // halves of this row
  for (const Blank& blank : kBlanks) {
    const double from = box.left_mm + taken * (half + kBlockGapMm);
    const double to = blank.halves == 2 ? box.right_mm : from + half;
    Label label = page_text(std::string(blank.words), {from, y + row - 1.2}, to - from);
    label.size_mm = kWordsMm;
    label.grey = kQuietGrey;
    out.push_back(label);
    out.push_back(line({from, y + row}, {to, y + row}, 0.15, kQuietGrey));
    taken = (taken + blank.halves) % 2;
    if (taken == 0) y += row;
  }
}

void draw_card(const PageBox& card, std::vector<Drawn>& out) {
  out.push_back(outlined(card, 0.3, 0.0));
  // Black corners show on a dim photograph where the white card's edge does not.
  constexpr double kCornerMm = 12.0;
  for (const double x : {card.left_mm, card.right_mm}) {
    for (const double y : {card.top_mm, card.bottom_mm}) {
      const double across = x == card.left_mm ? kCornerMm : -kCornerMm;
      const double down = y == card.top_mm ? kCornerMm : -kCornerMm;
      out.push_back(Area{{{x, y}, {x + across, y}, {x, y + down}}, 0.0});
    }
  }
  const double middle = (card.left_mm + card.right_mm) / 2.0;
  const double inside = card.width() - 2.0 * kCornerMm - 2.0;
  double y = card.top_mm + 22.0;
  for (const std::string& words :
       {fixed_text(kVisitCardWidthMm, 0) + " × " + fixed_text(kVisitCardHeightMm, 0) + " mm",
        std::string("Glue it to stiff card and cut along the line."),
        std::string("Measured:                  ×                  mm")}) {
    Label label = page_text(words, {middle, y}, inside);
    label.align = Align::kCentre;
    label.bold = y < card.top_mm + 23.0;
    out.push_back(label);
    y += 8.0;
  }
}

// `part`: of a turn, from the right.
Stroke oval(PagePoint centre, const PagePoint& half_axes, double part) {
  constexpr int kSteps = 48;
  Stroke stroke;
  for (int i = 0; i <= kSteps; ++i) {
    const double angle = 2.0 * std::numbers::pi * (part * i / kSteps);
    stroke.points.push_back({centre.x_mm + half_axes.x_mm * std::cos(angle),
                             centre.y_mm + half_axes.y_mm * std::sin(angle)});
  }
  return stroke;
}

void draw_caption(const std::string& words, PagePoint at, double width, std::vector<Drawn>& out) {
  constexpr double kCaptionMm = 2.5;
  Label label = page_text(words, at, width);
  label.size_mm = kCaptionMm;
  label.align = Align::kCentre;
  out.push_back(label);
}

// The case from above: where the known thing stands and where the camera.
void draw_from_above(const PageBox& box, std::vector<Drawn>& out) {
  const double middle = (box.left_mm + box.right_mm) / 2.0;
  const double pot = box.top_mm + 7.0;
  const double pane = box.top_mm + 17.0;
  const double lens = box.bottom_mm - 8.0;
  constexpr double kPotMm = 5.5;
  constexpr double kCardMm = 6.0;
  out.push_back(oval({middle, pot}, {kPotMm, kPotMm}, 1.0));
  const double card = middle - kPotMm - 3.0;
  out.push_back(line({card - kCardMm, pot}, {card, pot}, 0.8, 0.0));
  Stroke level = line({card, pot}, {box.right_mm - 2.0, pot}, 0.15, kQuietGrey);
  level.dash_mm = {1.0, 1.0};
  out.push_back(std::move(level));
  for (const double y : {pane, pane + 0.8}) {
    out.push_back(line({box.left_mm, y}, {box.right_mm, y}, 0.15, 0.0));
  }
  for (const double x : {card - kCardMm - 2.0, middle + kPotMm + 6.0}) {
    out.push_back(line({middle, lens}, {x, pot}, 0.15, kQuietGrey));
  }
  out.push_back(filled({middle - 2.0, lens, middle + 2.0, lens + 2.4}, 0.0));
  draw_caption("From above: level with its middle", {middle, box.bottom_mm - 1.0}, box.width(),
               out);
}

// The picture as it should be: rim and foot as ovals, the whole pot, the known thing beside it.
void draw_good_picture(const PageBox& box, std::vector<Drawn>& out) {
  const PageBox frame{box.left_mm, box.top_mm, box.right_mm, box.bottom_mm - 5.0};
  out.push_back(outlined(frame, 0.3, 0.0));
  const double middle = (frame.left_mm + frame.right_mm) / 2.0 + 3.0;
  const double rim = frame.top_mm + 6.0;
  const double foot = frame.bottom_mm - 5.5;
  constexpr double kRimMm = 4.6;
  constexpr double kFootMm = 3.6;
  constexpr double kNeckMm = 3.4;
  constexpr double kBellyMm = 8.0;
  out.push_back(oval({middle, rim}, {kRimMm, 1.3}, 1.0));
  out.push_back(oval({middle, foot}, {kFootMm, 1.0}, 0.5));
  for (const double side : {-1.0, 1.0}) {
    // A lip that turns out, a neck, a belly: a cubic through each half.
    Stroke wall;
    constexpr int kSteps = 30;
    for (int i = 0; i <= kSteps; ++i) {
      const double t = static_cast<double>(i) / kSteps;
      constexpr double kNeckAt = 0.14;
      const double half =
          t < kNeckAt
              ? kNeckMm + (kRimMm - kNeckMm) * std::pow(1.0 - t / kNeckAt, 2)
              : kNeckMm + (kFootMm - kNeckMm) * (t - kNeckAt) / (1.0 - kNeckAt) +
                    (kBellyMm - kNeckMm) *
                        std::sin(std::numbers::pi * std::pow((t - kNeckAt) / (1.0 - kNeckAt), 0.8));
      wall.points.push_back({middle + side * half, rim + (foot - rim) * t});
    }
    out.push_back(std::move(wall));
  }
  const double card = middle - 17.0;
  out.push_back(
      Stroke{{{card, foot - 3.6}, {card + 6.0, foot - 3.6}, {card + 6.0, foot}, {card, foot}},
             0.3,
             0.0,
             true});
  const double shelf = foot - 6.0;
  out.push_back(line({frame.left_mm, shelf}, {middle - kBellyMm - 0.5, shelf}, 0.15, kQuietGrey));
  out.push_back(line({middle + kBellyMm + 0.5, shelf}, {frame.right_mm, shelf}, 0.15, kQuietGrey));
  draw_caption("In the picture: rim and foot as ovals",
               {(box.left_mm + box.right_mm) / 2.0, box.bottom_mm - 1.0}, box.width(), out);
}

void draw_sketch_room(const PageBox& box, std::vector<Drawn>& out) {
  out.push_back(outlined(box, 0.15, kQuietGrey));
  Label label = page_text("Sketch: the case from above, and where you stood",
                          {box.left_mm + 2.0, box.top_mm + 4.4}, box.width() - 4.0);
  label.size_mm = 2.7;
  label.grey = kQuietGrey;
  out.push_back(label);
}

}  // namespace

VisitSheetLayout visit_sheet_layout(Paper paper) {
  VisitSheetLayout layout;
  layout.page.drawing = upright_page(paper);
  const PageDrawing& size = layout.page.drawing;
  const double left = kPageMarginMm;
  const double width = size.width_mm - 2.0 * kPageMarginMm;
  std::vector<Drawn> drawn;
  double y = kPageMarginMm;
  drawn.push_back(page_heading("At the museum", 5.4, {left, y + 5.0}, width));
  y += kHeadingMm;
  constexpr double kSketchMm = 42.0;
  const double words = width - kSketchMm - kBlockGapMm;
  const double sketch = left + width - kSketchMm;
  const double beside = kPageMarginMm + 2.0;
  draw_from_above({sketch, beside, left + width, beside + 34.0}, drawn);
  draw_good_picture({sketch, beside + 37.0, left + width, beside + 70.0}, drawn);
  draw_text_lines(kPhotographs, left, words, y, drawn);
  y += kGapMm;
  draw_text_lines(kInstead, left, words, y, drawn);
  y += kHeadingMm;
  drawn.push_back(page_heading("Write down", 3.8, {left, y}, width));

  // From the foot up: the check bars, and above them the card with room to sketch beside it.
  const double bars_top = size.height_mm - kPageMarginMm - lying_bars_with_words_size().height_mm;
  const double card_bottom = bars_top - 3.0;
  layout.card = {left, card_bottom - kVisitCardHeightMm, left + kVisitCardWidthMm, card_bottom};
  draw_blanks({left, y, left + width, layout.card.top_mm - kBlockGapMm}, drawn);
  draw_card(layout.card, drawn);
  draw_sketch_room(
      {layout.card.right_mm + kBlockGapMm, layout.card.top_mm, left + width, layout.card.bottom_mm},
      drawn);
  layout.page.drawing.groups.push_back({std::nullopt, std::move(drawn)});
  draw_lying_bars_with_words(layout.page, {left, bars_top});
  return layout;
}

Result<SheetPdf> visit_sheet(const VisitSheetRequest& request) {
  return one_page_pdf("Potshadow museum page", visit_sheet_layout(request.paper).page.drawing,
                      request.created_iso);
}

}  // namespace potshadow
