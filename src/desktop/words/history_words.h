// SPDX-License-Identifier: MIT
// Undo, redo, unsaved work and its recovery in words.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>

#include "core/result.h"

namespace potshadow {

// Return the tooltips: "Undo: add rim mark (Ctrl+Z)"; "There is nothing to undo." without a step.
std::string undo_tooltip(const std::optional<std::string>& step);
std::string redo_tooltip(const std::optional<std::string>& step);

// Returns the window's title: "Shelf jar – Potshadow"; a bullet leads where work is unsaved. An
// empty title gives "Potshadow".
std::string window_title(const std::string& title, bool unsaved);

// Returns "'Shelf jar' has changes that are not saved." An empty title gives "This project has ..."
std::string leaving_question(const std::string& title);

// Returns the offer after a crash: "'Shelf jar' was not saved before Potshadow ended. It was last
// kept 3 minutes ago: open that, or throw it away?"; `now` is the time of the offer.
std::string recovery_offer(const std::string& title, std::chrono::system_clock::time_point saved_at,
                           std::chrono::system_clock::time_point now);

// Returns "3 minutes ago", "2 hours ago", "5 days ago", "on 25 November 2026" (UTC, from 30 days
// on); "just now" within a minute and for the future.
std::string ago_text(std::chrono::system_clock::time_point then,
                     std::chrono::system_clock::time_point now);

// Returns a recent file's line: "shelf-jar, in /users/mo/pots"; ", which is no longer there"
// follows where `exists` is false.
std::string recent_file_words(const std::filesystem::path& file, bool exists);

// Returns the problem of a desktop that cannot draw the window; names the way without one.
// `detail` is what the system said; may be empty.
Problem no_window_problem(std::string detail);

}  // namespace potshadow
