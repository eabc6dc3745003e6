// SPDX-License-Identifier: MIT
// The works that sheets and files take, as plain functions for a worker thread.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/session/sheet_wish.h"
#include "desktop/session/wall_pictures.h"
#include "sheets/page_picture.h"

// A result that comes after a stop was requested is dropped by LatestJob and may be anything.
namespace potshadow {

// A page at 100 % fills the height of a screen 2560 pixels wide: 1600 px for 297 mm, and some more
// for a closer look.
inline constexpr double kPagePxPerMm = 6.0;
// All pages together; more pages are drawn coarser. 64 million pixels take 256 MB.
inline constexpr double kMostSheetPixels = 64e6;
// More sheets than this are not even offered.
inline constexpr int kMostOfferedPages = 1000;

// Where a page belongs.
struct SheetPlace {
  std::string title;  // "Ring gauges"
  std::string piece;  // of which it is a part or which it shows alone; may be empty
  std::string label;  // "A1", of a part; else empty
  bool lying = false;
};

struct DrawnSheet {
  std::vector<PagePixels> pages;  // empty where there is a problem
  std::vector<SheetPlace> places;
  std::vector<Note> notes;
  std::optional<Problem> problem;
  std::optional<int> pages_asked;  // so many it would be, were more allowed than the wish does
};

// Returns the pages as pictures, or the unrolled parts where the wish is for those. Slow: some ten
// milliseconds a page; see WallStore.
DrawnSheet draw_sheet(const SheetOrder& order, WallStore& store, const SheetWatch& watch);

// Writes a file; of unrolled parts the PNG is of the one of that index. Returns what is to be said
// of it. Fails as laying out and drawing do, with kFileUnwritable, and where the file is one of the
// project's photographs. Requires one of formats_of(). Slow likewise.
Result<std::string> write_sheet(const SheetOrder& order, SheetFormat format, std::size_t part,
                                const std::filesystem::path& file, WallStore& store,
                                const SheetWatch& watch);

}  // namespace potshadow
