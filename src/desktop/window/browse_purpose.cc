// SPDX-License-Identifier: MIT
#include "desktop/window/browse_purpose.h"

#include "desktop/session/opened_file.h"
#include "desktop/words/print_words.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

constexpr const char* kProjectEnding = ".potshadow";
constexpr const char* kSheetEnding = ".pdf";

bool saves_pdf(BrowsePurpose purpose) {
  return purpose == BrowsePurpose::kSaveSheet || purpose == BrowsePurpose::kSaveBoard ||
         purpose == BrowsePurpose::kSaveBarSheet || purpose == BrowsePurpose::kSaveBenchSheet;
}

bool is_about_clays(BrowsePurpose purpose) {
  return purpose == BrowsePurpose::kTakeInClays || purpose == BrowsePurpose::kHandOnClay;
}

}  // namespace

bool saves(BrowsePurpose purpose) {
  return purpose == BrowsePurpose::kSaveProject || purpose == BrowsePurpose::kHandOnClay ||
         purpose == BrowsePurpose::kSaveComparison || saves_pdf(purpose);
}

const char* comparison_ending(ComparisonPart part) {
  constexpr const char* kEndings[] = {kSheetEnding, ".svg", ".png"};
  return kEndings[static_cast<std::size_t>(part)];
}

std::string saved_ending(const BrowserState& browser) {
  if (browser.purpose == BrowsePurpose::kSaveSheet) {
    return std::string(format_ending(browser.sheet_format));
  }
  if (browser.purpose == BrowsePurpose::kSaveComparison) {
    return comparison_ending(browser.comparison);
  }
  if (saves_pdf(browser.purpose)) return kSheetEnding;
  return browser.purpose == BrowsePurpose::kHandOnClay ? kClayEnding : kProjectEnding;
}

PurposeWords words_of(const BrowserState& browser) {
  switch (browser.purpose) {
    case BrowsePurpose::kOpen:
      return {"Open a photograph or a project",
              "A photograph begins a new project. You can also drop a file on the window.",
              "Photographs and projects"};
    case BrowsePurpose::kAddPhoto:
      return {"Add a photograph of the same vessel",
              "From another side, or from nearer or farther away. All photographs together give "
              "the figures.",
              "Photographs"};
    case BrowsePurpose::kFindPhoto:
      return {"Find the photograph",
              "Choose the picture that the marks were made on; the marks stay where they are.",
              "Photographs"};
    case BrowsePurpose::kSaveProject:
      return {
          "Save the project",
          "The project holds marks and sizes; the photograph stays a file of its own beside it.",
          "Projects"};
    case BrowsePurpose::kBoardPictures:
      return {"Choose the pictures of the board",
              "Click each picture that shows the board; a second click leaves it out again.",
              "Photographs"};
    case BrowsePurpose::kSaveBoard:
      return {"Save the board", "A PDF file of one page, to be printed at 100 %.", "Boards"};
    case BrowsePurpose::kSaveBarSheet:
      return {"Save the test bar", "A PDF file of one page, to be printed at 100 %.", "Test bars"};
    case BrowsePurpose::kSaveBenchSheet:
      return {"Save the bench sheet", "A PDF file of one page, to hang over the bench.",
              "Bench sheets"};
    case BrowsePurpose::kBenchPhoto:
      return {"Choose the project of the pot's photograph",
              "A photograph of your pot with a card beside it, marked and saved as a project of "
              "its own.",
              "Projects"};
    case BrowsePurpose::kCompareWith:
      return {"Choose the other pot",
              "The project in which its photographs were marked and saved, or a text of its sizes.",
              "Projects and texts"};
    case BrowsePurpose::kSaveComparison:
      return {"Save the comparison", "What the two pots have alike, and what not.", "Comparisons"};
    case BrowsePurpose::kTakeInClays:
      return {"Take in clays",
              "A file that somebody saved from their book of clays. Yours stay as they are.",
              "Books of clays"};
    case BrowsePurpose::kHandOnClay:
      return {"Save the clay", "With the clays that it is mixed of, to hand on or to keep.",
              "Books of clays"};
    case BrowsePurpose::kSaveSheet:
      break;
  }
  const std::string_view kind = format_title(browser.sheet_format);
  return {"Save it", format_note(browser.sheet_format), kind};
}

ListingChoice choice_of(const BrowserState& browser) {
  ListingChoice choice;
  choice.photos = !saves(browser.purpose) && !is_about_clays(browser.purpose) &&
                  browser.purpose != BrowsePurpose::kBenchPhoto &&
                  browser.purpose != BrowsePurpose::kCompareWith;
  choice.typed = browser.purpose == BrowsePurpose::kCompareWith;
  choice.clays = is_about_clays(browser.purpose);
  choice.projects = browser.purpose == BrowsePurpose::kOpen ||
                    browser.purpose == BrowsePurpose::kSaveProject ||
                    browser.purpose == BrowsePurpose::kBenchPhoto ||
                    browser.purpose == BrowsePurpose::kCompareWith;
  if (saves_pdf(browser.purpose) || browser.purpose == BrowsePurpose::kSaveComparison) {
    choice.saved = saved_ending(browser);
  }
  choice.hidden = browser.show_hidden;
  return choice;
}

DialogueWish wish_of(const BrowserState& browser, const fs::path& target) {
  const PurposeWords words = words_of(browser);
  DialogueWish wish;
  wish.title = words.title;
  wish.filter_words = words.kinds;
  if (saves(browser.purpose)) {
    wish.kind = DialogueKind::kSave;
    wish.start = target.empty() ? browser.folder : target;
    wish.endings = {saved_ending(browser)};
    return wish;
  }
  wish.start = browser.folder;
  wish.endings.assign(kPhotoEndings.begin(), kPhotoEndings.end());
  if (browser.purpose == BrowsePurpose::kTakeInClays) wish.endings = {kClayEnding};
  if (browser.purpose == BrowsePurpose::kBenchPhoto) wish.endings = {kProjectEnding};
  if (browser.purpose == BrowsePurpose::kCompareWith)
    wish.endings = {kProjectEnding, ".txt", ".csv"};
  if (browser.purpose == BrowsePurpose::kOpen) wish.endings.emplace_back(kProjectEnding);
  return wish;
}

}  // namespace potshadow
