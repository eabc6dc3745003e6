// SPDX-License-Identifier: MIT
// What the browser of files is opened for: its words, the files it lists, the ending it saves with.
#pragma once

#include <string>
#include <string_view>

#include "desktop/window/bench_state.h"
#include "desktop/window/dialogue_tool.h"
#include "desktop/window/folder_listing.h"

namespace potshadow {

// Returns whether a file is saved, rather than chosen.
bool saves(BrowsePurpose purpose);

struct PurposeWords {
  std::string_view title;
  std::string_view note;
  std::string_view kinds;  // for the desktop's own dialogue
};

PurposeWords words_of(const BrowserState& browser);

// Returns the ending of a part of a comparison.
const char* comparison_ending(ComparisonPart part);

// The ending of a clay that is handed on.
inline constexpr const char* kClayEnding = ".json";

// Returns the ending of what is saved.
std::string saved_ending(const BrowserState& browser);

// Returns which files are listed.
ListingChoice choice_of(const BrowserState& browser);

// Returns what the desktop's own dialogue is to ask for; `target` is where a file would be saved
// now, empty where no name is given.
DialogueWish wish_of(const BrowserState& browser, const std::filesystem::path& target);

}  // namespace potshadow
