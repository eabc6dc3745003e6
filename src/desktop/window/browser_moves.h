// SPDX-License-Identifier: MIT
// What the browser of files does: where it goes, what it chooses, what it orders.
#pragma once

#include <filesystem>

#include "desktop/window/bench_state.h"
#include "desktop/window/frame.h"

// Nothing is drawn here. Orders are carried out after the frame.
namespace potshadow {

// Returns whether there is a folder.
bool is_folder(const std::filesystem::path& path);

// Returns the path in the field, as typed_path reads it.
std::filesystem::path typed(const BrowserState& browser);

// Goes into a folder; it is listed with the next frame.
void go_to(BrowserState& browser, const std::filesystem::path& folder);

// Goes to the folder above, with the one that was left chosen.
void go_up(BrowserState& browser);

// Lists the folder where it is not listed yet.
void list(BrowserState& browser);

// Returns whether an entry is chosen, with the path in the field as typed() has it.
bool is_chosen(const BrowserState& browser, const BrowserState::Entry& entry,
               const std::filesystem::path& typed_now);

// Chooses an entry; of pictures of the board, or leaves it out again.
void choose(BrowserState& browser, const BrowserState::Entry& entry);

// Returns where the file is to be saved; empty where no name is given.
std::filesystem::path save_target(const BrowserState& browser);

// Orders what the browser was opened for, with a file to save or to open.
void order_save(Frame& frame, const std::filesystem::path& target);
void order_open(Frame& frame, const std::filesystem::path& file);

// Saves, but warns first where that would replace a file.
void save_here(Frame& frame);

// Does what the path field says: goes into the folder, opens the file, or saves.
void go_on(Frame& frame);

// Goes into a folder, or on with a file.
void enter(Frame& frame, const BrowserState::Entry& entry);

}  // namespace potshadow
