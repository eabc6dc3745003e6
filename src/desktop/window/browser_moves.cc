// SPDX-License-Identifier: MIT
#include "desktop/window/browser_moves.h"

#include <algorithm>
#include <system_error>

#include "desktop/window/browse_purpose.h"
#include "desktop/window/folder_listing.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

bool is_picked(const BrowserState& browser, const std::string& name) {
  const auto& picked = browser.picked;
  return std::find(picked.begin(), picked.end(), name) != picked.end();
}

// Those that were clicked on, in the order of their names.
void order_pictures(Frame& frame) {
  const BrowserState& browser = frame.state.browser;
  MeasureCamera measure;
  for (const BrowserState::Entry& entry : browser.entries) {
    if (is_picked(browser, entry.name)) measure.pictures.push_back(browser.folder / entry.name);
  }
  frame.ask(std::move(measure));
}

}  // namespace

bool is_folder(const fs::path& path) {
  std::error_code error;
  return fs::is_directory(path, error);
}

fs::path typed(const BrowserState& browser) {
  return typed_path(browser.path_text, browser.folder, home_folder());
}

void go_to(BrowserState& browser, const fs::path& folder) {
  browser.folder = folder.lexically_normal();
  browser.path_text = browser.folder.string();
  browser.listed = false;
  browser.overwrite.clear();
  browser.picked.clear();
}

void go_up(BrowserState& browser) {
  const fs::path from = browser.folder;
  if (!from.has_relative_path()) return;
  go_to(browser, from.parent_path());
  browser.path_text = from.string();  // the folder that was left is the chosen one
}

void list(BrowserState& browser) {
  if (browser.listed) return;
  browser.listed = true;
  browser.entries.clear();
  browser.trouble.clear();
  const auto found = list_folder(browser.folder, choice_of(browser));
  if (!found) {
    browser.trouble = found.problem().what + " " + found.problem().next;
    return;
  }
  for (const FolderEntry& entry : *found) {
    browser.entries.push_back({entry.name, entry.folder, entry.bytes});
  }
}

bool is_chosen(const BrowserState& browser, const BrowserState::Entry& entry,
               const fs::path& typed_now) {
  if (saves(browser.purpose) && !entry.folder && entry.name == browser.name_text) return true;
  if (browser.purpose == BrowsePurpose::kBoardPictures) return is_picked(browser, entry.name);
  return typed_now == browser.folder / entry.name;
}

void choose(BrowserState& browser, const BrowserState::Entry& entry) {
  if (browser.purpose == BrowsePurpose::kBoardPictures && !entry.folder) {
    if (is_picked(browser, entry.name)) {
      std::erase(browser.picked, entry.name);
    } else {
      browser.picked.push_back(entry.name);
    }
    return;
  }
  if (saves(browser.purpose) && !entry.folder) {
    browser.name_text = entry.name;
    browser.path_text = browser.folder.string();
  } else {
    browser.path_text = (browser.folder / entry.name).string();
  }
  browser.overwrite.clear();
}

fs::path save_target(const BrowserState& browser) {
  const std::string ending = saved_ending(browser);
  const fs::path path = typed(browser);
  if (path.empty()) return {};
  if (path != browser.folder && !is_folder(path)) return with_ending(path, ending);
  const std::size_t from = browser.name_text.find_first_not_of(" \t");
  if (from == std::string::npos) return {};
  const std::size_t to = browser.name_text.find_last_not_of(" \t");
  const std::string name = browser.name_text.substr(from, to - from + 1);
  if (name.find('/') != std::string::npos) {
    return with_ending(typed_path(name, path, home_folder()), ending);
  }
  return with_ending(path / name, ending);
}

void order_save(Frame& frame, const fs::path& target) {
  if (frame.state.browser.purpose == BrowsePurpose::kSaveSheet) {
    frame.ask(SaveSheet{target, frame.state.browser.sheet_format,
                        static_cast<std::size_t>(frame.state.sheets.page)});
  } else if (frame.state.browser.purpose == BrowsePurpose::kSaveBoard) {
    frame.ask(SaveBoard{target});
  } else if (frame.state.browser.purpose == BrowsePurpose::kSaveBarSheet) {
    frame.ask(SaveBarSheet{target});
  } else if (frame.state.browser.purpose == BrowsePurpose::kSaveBenchSheet) {
    frame.ask(SaveBenchSheet{target});
  } else if (frame.state.browser.purpose == BrowsePurpose::kSaveComparison) {
    frame.ask(SaveComparison{target});
  } else if (frame.state.browser.purpose == BrowsePurpose::kHandOnClay) {
    frame.ask(HandOnClay{frame.state.clays.record, target});
  } else {
    frame.ask(SaveAs{target});
  }
}

void order_open(Frame& frame, const fs::path& file) {
  if (frame.state.browser.purpose == BrowsePurpose::kFindPhoto) {
    frame.ask(FindPhoto{file});
  } else if (frame.state.browser.purpose == BrowsePurpose::kAddPhoto) {
    frame.ask(AddPhotoFile{file});
  } else if (frame.state.browser.purpose == BrowsePurpose::kTakeInClays) {
    frame.ask(TakeInClays{file});
  } else if (frame.state.browser.purpose == BrowsePurpose::kBenchPhoto) {
    frame.ask(UseBenchPhoto{file});
  } else if (frame.state.browser.purpose == BrowsePurpose::kCompareWith) {
    frame.ask(CompareWith{file});
  } else {
    frame.ask(OpenFile{file});
  }
}

void save_here(Frame& frame) {
  BrowserState& browser = frame.state.browser;
  const fs::path target = save_target(browser);
  if (target.empty()) return;
  std::error_code error;
  const bool own =
      browser.purpose == BrowsePurpose::kSaveProject && target == frame.session.project_file();
  if (!own && fs::exists(target, error) && browser.overwrite != target.string()) {
    browser.overwrite = target.string();
    return;
  }
  browser.overwrite.clear();
  browser.listed = false;
  order_save(frame, target);
}

void go_on(Frame& frame) {
  BrowserState& browser = frame.state.browser;
  const fs::path path = typed(browser);
  if (browser.purpose == BrowsePurpose::kBoardPictures && !browser.picked.empty()) {
    order_pictures(frame);
    return;
  }
  if (path.empty()) return;
  if (saves(browser.purpose)) {
    save_here(frame);
  } else if (is_folder(path)) {
    go_to(browser, path);
  } else if (browser.purpose == BrowsePurpose::kBoardPictures) {
    frame.ask(MeasureCamera{{path}});
  } else {
    order_open(frame, path);
  }
}

void enter(Frame& frame, const BrowserState::Entry& entry) {
  BrowserState& browser = frame.state.browser;
  choose(browser, entry);
  if (entry.folder) {
    go_to(browser, browser.folder / entry.name);
  } else {
    go_on(frame);
  }
}

}  // namespace potshadow
