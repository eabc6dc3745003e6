// SPDX-License-Identifier: MIT
#include "desktop/words/history_words.h"

#include <array>
#include <string_view>
#include <utility>

#include "desktop/words/figure_text.h"

namespace potshadow {
namespace {

using Clock = std::chrono::system_clock;

std::string date_text(Clock::time_point time) {
  constexpr std::array<std::string_view, 12> kMonths{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  const std::chrono::year_month_day date{std::chrono::floor<std::chrono::days>(time)};
  return std::to_string(static_cast<unsigned>(date.day())) + " " +
         std::string(kMonths.at(static_cast<unsigned>(date.month()) - 1)) + " " +
         std::to_string(static_cast<int>(date.year()));
}

std::string quoted_or(const std::string& title, const char* otherwise) {
  return title.empty() ? std::string(otherwise) : "'" + title + "'";
}

}  // namespace

std::string undo_tooltip(const std::optional<std::string>& step) {
  if (!step) return "There is nothing to undo.";
  return "Undo: " + with_small_start(*step) + " (Ctrl+Z)";
}

std::string redo_tooltip(const std::optional<std::string>& step) {
  if (!step) return "There is nothing to redo.";
  return "Redo: " + with_small_start(*step) + " (Ctrl+Y)";
}

std::string window_title(const std::string& title, bool unsaved) {
  if (title.empty()) return "Potshadow";
  return (unsaved ? "• " : "") + title + " – Potshadow";
}

std::string leaving_question(const std::string& title) {
  return quoted_or(title, "This project") + " has changes that are not saved.";
}

std::string recovery_offer(const std::string& title, Clock::time_point saved_at,
                           Clock::time_point now) {
  return quoted_or(title, "A project without a name") +
         " was not saved before Potshadow ended. It was last kept " + ago_text(saved_at, now) +
         ": open that, or throw it away?";
}

std::string ago_text(Clock::time_point then, Clock::time_point now) {
  using std::chrono::days;
  using std::chrono::hours;
  using std::chrono::minutes;
  const auto past = now - then;
  constexpr days kManyDays{30};
  const auto text = [](auto count, const char* one, const char* many) {
    return counted(static_cast<std::size_t>(count), one, many) + " ago";
  };
  if (past < minutes(1)) return "just now";
  if (past < hours(1)) {
    return text(std::chrono::floor<minutes>(past).count(), "minute", "minutes");
  }
  if (past < days(1)) return text(std::chrono::floor<hours>(past).count(), "hour", "hours");
  if (past < kManyDays) return text(std::chrono::floor<days>(past).count(), "day", "days");
  return "on " + date_text(then);
}

std::string recent_file_words(const std::filesystem::path& file, bool exists) {
  std::string words = file.stem().string();
  if (file.has_parent_path()) words += ", in " + file.parent_path().string();
  if (!exists) words += ", which is no longer there";
  return words;
}

Problem no_window_problem(std::string detail) {
  return {Code::kCannotBeAnswered, "The window cannot be drawn, for it needs OpenGL 3.3.",
          "Update the graphics driver, or work without a window: 'potshadow measure PROJECT' gives "
          "the sizes and 'potshadow sheet PROJECT --output FILE.pdf' the template.",
          std::move(detail)};
}

}  // namespace potshadow
