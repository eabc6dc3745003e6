// SPDX-License-Identifier: MIT
// Papers, and what a printer makes of a length.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "sheets/drawing.h"

// Model: a printer prints a length of 1 as `across` along the paper's short side and as `along`
// along its long side: 0.987 where a bar of 100 mm comes out as 98.7. A page for it is laid out in
// true millimetres, on a paper of the size that comes out; writing the page stretches it by 1 /
// 0.987. So everything that is drawn, texts and bars as well, comes out true.
namespace potshadow {

enum class Paper { kA4, kA3, kLetter, kLegal, kTabloid };
inline constexpr std::array<Paper, 5> kPapers{Paper::kA4, Paper::kA3, Paper::kLetter, Paper::kLegal,
                                              Paper::kTabloid};

// Returns "a4" ..., for settings and options; "A4" ..., to be read.
std::string_view paper_word(Paper paper);
std::string_view paper_title(Paper paper);
// Returns the paper of a word, in small or large letters.
std::optional<Paper> paper_of(std::string_view word);

// How pages lie: as takes the fewest of them, or always one way.
enum class PageWay { kFewest, kUpright, kLying };
inline constexpr std::array<PageWay, 3> kPageWays{PageWay::kFewest, PageWay::kUpright,
                                                  PageWay::kLying};
// Returns "fewest", "upright" or "lying", for settings and options.
std::string_view page_way_word(PageWay way);
// Returns whether pages may lie so.
bool allows(PageWay way, bool landscape);

struct PrinterScale {
  double across = 1.0;
  double along = 1.0;
  friend bool operator==(const PrinterScale&, const PrinterScale&) = default;
};

// No printer is farther off than this; a bar that measures so was measured wrongly.
inline constexpr double kLeastPrinterScale = 0.8;
inline constexpr double kMostPrinterScale = 1.25;

// Returns whether both are numbers that a printer can have.
bool is_sound(const PrinterScale& printer);

struct PaperSize {
  double width_mm = 0.0;
  double height_mm = 0.0;
};

// Returns the page standing upright. Source: ISO 216 for A3 and A4; 8.5 x 11, 8.5 x 14 and 11 x 17
// inches.
PaperSize paper_size(Paper paper);

// Where a page may be drawn on.
struct PageFrame {
  double width_mm = 0.0;  // true, as it comes out of the printer
  double height_mm = 0.0;
  PageBox usable;
  double stretch_x = 1.0;  // see PageDrawing
  double stretch_y = 1.0;

  PageDrawing empty_page() const;
};

// Returns the frame of a page, lying on its long side where `landscape`. Requires a sound printer.
PageFrame page_frame(Paper paper, const PrinterScale& printer, bool landscape);

inline constexpr double kPageMarginMm = 10.0;  // ordinary printers leave 5 mm white, some 8

}  // namespace potshadow
