// SPDX-License-Identifier: MIT
// What the Templates step remembers from frame to frame, beside the settings.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "desktop/session/sheet_wish.h"
#include "project/settings.h"

namespace potshadow {

struct SheetState {
  Stage stage = Stage::kWet;  // of the pot that the sheets are for
  UnrollWish unroll{};
  bool filled = false;
  int most_pages = kMostPages;  // more were agreed to
  int page = 0;
  double zoom = 0.0;             // 0: the whole page
  std::filesystem::path file{};  // that was saved last
  std::uint64_t told = 0;        // of the news of SheetSaving
  // A printer that is being measured.
  std::string printer_name{};
  std::optional<double> across_mm{};
  std::optional<double> along_mm{};
  std::optional<Problem> printer_trouble{};  // why it was not kept
};

// Returns what is wanted.
inline SheetWish sheet_wish(const Settings& settings, const SheetState& state) {
  return {settings.print, settings.paper, settings.unit,   state.stage,
          state.unroll,   state.filled,   state.most_pages};
}

}  // namespace potshadow
