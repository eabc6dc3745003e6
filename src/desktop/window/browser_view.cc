// SPDX-License-Identifier: MIT
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "desktop/window/browse_purpose.h"
#include "desktop/window/browser_list.h"
#include "desktop/window/browser_moves.h"
#include "desktop/window/dialogue_tool.h"
#include "desktop/window/folder_listing.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/platform.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/file_names.h"
#include "desktop/words/print_words.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

// Returns the entry that the keys went to.
std::optional<std::size_t> work_keys(Frame& frame) {
  BrowserState& browser = frame.state.browser;
  if (ImGui::GetIO().WantTextInput || frame.state.keys_for_panels) return std::nullopt;
  if (frame.state.question != Question::kNone) return std::nullopt;
  std::optional<std::size_t> gone_to;
  const auto chosen = [&]() -> std::optional<std::size_t> {
    const fs::path now = typed(browser);
    for (std::size_t i = 0; i < browser.entries.size(); ++i) {
      if (is_chosen(browser, browser.entries[i], now)) return i;
    }
    return std::nullopt;
  };
  constexpr std::ptrdiff_t kPage = 10;
  constexpr std::ptrdiff_t kAll = 1'000'000;
  const auto step = [&](std::ptrdiff_t by) {
    // Where several are picked, the pointer does it, or Space once the keys work the panels.
    if (browser.entries.empty() || browser.purpose == BrowsePurpose::kBoardPictures) return;
    const auto last = static_cast<std::ptrdiff_t>(browser.entries.size()) - 1;
    const auto at = chosen();
    std::ptrdiff_t to = by == kAll || (by < 0 && by != -kAll) ? last : 0;
    if (at) to = std::clamp(static_cast<std::ptrdiff_t>(*at) + by, std::ptrdiff_t{0}, last);
    gone_to = static_cast<std::size_t>(to);
    choose(browser, browser.entries[*gone_to]);
  };
  for (const KeyPress& press : frame.input.keys) {
    switch (press.key) {
      case GLFW_KEY_DOWN:
        step(1);
        break;
      case GLFW_KEY_UP:
        step(-1);
        break;
      case GLFW_KEY_PAGE_DOWN:
        step(kPage);
        break;
      case GLFW_KEY_PAGE_UP:
        step(-kPage);
        break;
      case GLFW_KEY_HOME:
        step(-kAll);
        break;
      case GLFW_KEY_END:
        step(kAll);
        break;
      case GLFW_KEY_BACKSPACE:
        go_up(browser);
        break;
      case GLFW_KEY_F5:
        browser.listed = false;
        break;
      case GLFW_KEY_V:
        if (press.ctrl) {
          const char* const text = ImGui::GetClipboardText();
          if (text != nullptr)
            browser.path_text = typed_path(text, browser.folder, home_folder()).string();
        }
        break;
      case GLFW_KEY_ENTER:
      case GLFW_KEY_KP_ENTER: {
        // A key held down must not answer the question whether to replace a file.
        if (press.repeated) break;
        const auto at = chosen();
        if (at && browser.entries[*at].folder) {
          enter(frame, browser.entries[*at]);
        } else {
          go_on(frame);
        }
        break;
      }
      default:
        break;
    }
  }
  return gone_to;
}

bool tab_pressed(const Frame& frame) {
  if (ImGui::GetIO().WantTextInput || frame.state.keys_for_panels) return false;
  return std::any_of(frame.input.keys.begin(), frame.input.keys.end(),
                     [](const KeyPress& press) { return press.key == GLFW_KEY_TAB; });
}

void places(Frame& frame) {
  BrowserState& browser = frame.state.browser;
  const fs::path home = home_folder();
  const auto place = [&](const char* label, const fs::path& folder, const char* tooltip) {
    if (kit::link(frame, label, tooltip)) go_to(browser, folder);
    ImGui::SameLine();
  };
  // Links stand under the field with their words, not with their edges.
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() - ImGui::GetStyle().FramePadding.x);
  if (kit::link(frame, "Up", "The folder that this one is in (Backspace)")) go_up(browser);
  ImGui::SameLine();
  place("Home", home, "Your own folder");
  if (const auto pictures = pictures_folder(home)) {
    place("Pictures", *pictures, "Your folder of pictures");
  }
  if (!frame.session.project_file().empty()) {
    place("Project", frame.session.project_file().parent_path(), "Where the project is");
  }
  if (browser.purpose == BrowsePurpose::kBoardPictures) {
    if (kit::link(frame, "Choose all here", "Every picture in this folder")) {
      browser.picked.clear();
      for (const BrowserState::Entry& entry : browser.entries) {
        if (!entry.folder) browser.picked.push_back(entry.name);
      }
    }
    ImGui::SameLine();
  }
  if (kit::link(frame, browser.show_hidden ? "Leave hidden files out" : "Show hidden files",
                "Hidden are names that begin with a dot")) {
    browser.show_hidden = !browser.show_hidden;
    browser.listed = false;
  }
}

void desktop_dialogue(Frame& frame) {
  BrowserState& browser = frame.state.browser;
  // Of pictures of the board several are chosen, which that dialogue does not offer.
  if (browser.dialogue == nullptr || browser.purpose == BrowsePurpose::kBoardPictures) return;
  ImGui::SameLine();
  kit::ButtonLook look;
  look.width = 0.0;
  look.enabled = !browser.dialogue->open();
  look.reason = "It is open already.";
  look.tooltip = "Choose the file in the dialogue that your other programs use";
  if (kit::button(frame, "Use the desktop's own dialogue", look)) {
    browser.dialogue->ask(wish_of(browser, save_target(browser)));
  }
  const auto outcome = browser.dialogue->take();
  if (!outcome) return;
  if (outcome->problem) kit::complain(frame, outcome->problem->what, outcome->problem->next);
  if (!outcome->file) return;
  if (!saves(browser.purpose)) {
    order_open(frame, *outcome->file);
    return;
  }
  // That dialogue asked before a file is replaced, but knows nothing of the ending put behind it.
  const fs::path target = with_ending(*outcome->file, saved_ending(browser));
  go_to(browser, target.parent_path());
  browser.name_text = target.filename().string();
  if (target == *outcome->file) {
    order_save(frame, target);
  } else {
    save_here(frame);
  }
}

std::string pictures_label(std::size_t count) {
  if (count == 0) return "Use these pictures";
  return "Use " + counted(count, "picture", "pictures") + "##browser pictures";
}

void foot_of_browser(Frame& frame, bool focus_name) {
  BrowserState& browser = frame.state.browser;
  const bool save = saves(browser.purpose);
  bool go = false;
  if (save) {
    if (focus_name) ImGui::SetKeyboardFocusHere();
    kit::FieldLook name;
    name.width = 420.0;
    name.tooltip = "The name of the new file";
    const std::string before = browser.name_text;
    go = kit::live_text(frame, "File name", browser.name_text, name);
    if (browser.name_text != before) browser.overwrite.clear();
  }
  const fs::path target = save ? save_target(browser) : typed(browser);
  const bool replaces = save && !browser.overwrite.empty() && browser.overwrite == target.string();
  if (replaces) {
    kit::doubt(frame, "'" + target.filename().string() +
                          "' is already there. Replace it, or choose another name.");
  }
  kit::ButtonLook look;
  look.width = 120.0;
  look.accent = true;
  look.enabled = !target.empty() && (save || target != browser.folder);
  look.reason = save ? "Type a file name first." : "Choose a file in the list, or type its path.";
  look.tooltip = save ? "Save as " + target.string() : "Open " + target.string() + " (Enter)";
  if (browser.purpose == BrowsePurpose::kBoardPictures) {
    look.enabled = !browser.picked.empty();
    look.reason = "Click the pictures of the board in the list first.";
    look.tooltip = "Finds the board in them and works the lens out";
    look.width = 160.0;
  }
  const std::string label = browser.purpose == BrowsePurpose::kBoardPictures
                                ? pictures_label(browser.picked.size())
                            : replaces ? "Replace it"
                            : save     ? "Save##browser"
                                       : "Open##browser";
  if (kit::button(frame, label, look)) go = true;
  ImGui::SameLine();
  look = kit::ButtonLook{};
  look.width = 0.0;
  look.tooltip = "Back without choosing (Esc)";
  if (kit::button(frame, "Cancel", look)) {
    frame.state.middle = Middle::kPhoto;
    if (browser.dialogue != nullptr) browser.dialogue->give_up();
  }
  desktop_dialogue(frame);
  if (go) go_on(frame);
}

}  // namespace

void open_browser(Frame& frame, BrowsePurpose purpose) {
  BrowserState& browser = frame.state.browser;
  browser.purpose = purpose;
  frame.state.middle = Middle::kBrowser;
  if (browser.dialogue == nullptr && dialogue_tool_exists()) {
    browser.dialogue = DialogueTool::create(&Platform::wake);
  }
  // One that is still open was for something else.
  if (browser.dialogue != nullptr) browser.dialogue->give_up();
  const Session& session = frame.session;
  const ProjectPhoto* const photo = session.open() ? frame.photo() : nullptr;
  const fs::path beside_photo = photo != nullptr ? fs::path(photo->file).parent_path() : fs::path();
  const fs::path project = session.project_file();
  std::vector<fs::path> wanted;
  if (saves(purpose)) {
    // A project goes beside its photograph, a template beside its project.
    wanted = {project.parent_path(), beside_photo, frame.settings.last_folder};
  } else {
    wanted = {frame.settings.last_folder, project.parent_path(), beside_photo};
  }
  fs::path folder = home_folder();
  for (const fs::path& candidate : wanted) {
    if (!candidate.empty() && is_folder(candidate)) {
      folder = candidate;
      break;
    }
  }
  go_to(browser, folder);
  browser.name_text.clear();
  if (purpose == BrowsePurpose::kSaveSheet) {
    browser.name_text =
        sheet_file_name(session.title(), printed_title(frame.settings.print.printed),
                        format_ending(browser.sheet_format));
  } else if (purpose == BrowsePurpose::kSaveBoard) {
    browser.name_text = "board for the camera.pdf";
  } else if (purpose == BrowsePurpose::kSaveBarSheet) {
    browser.name_text = "test bar.pdf";
  } else if (purpose == BrowsePurpose::kSaveBenchSheet) {
    browser.name_text = bench_sheet_file_name(session.title());
  } else if (purpose == BrowsePurpose::kSaveComparison) {
    browser.comparison = frame.state.compare.saving;
    browser.name_text =
        comparison_file_name(session.title(), comparison_ending(browser.comparison));
  } else if (purpose == BrowsePurpose::kHandOnClay) {
    browser.name_text = frame.state.clays.record + kClayEnding;
  } else if (purpose == BrowsePurpose::kSaveProject) {
    browser.name_text =
        project.empty() ? project_file_name(session.title()) : project.filename().string();
  }
}

void browser_view(Frame& frame) {
  BrowserState& browser = frame.state.browser;
  // The folder may have been given from outside without a listing.
  if (browser.folder.empty()) go_to(browser, home_folder());
  list(browser);
  const float below = frame.look.px(32);  // the window's line of words
  constexpr double kWidest = 860.0;       // at 100 %; names and sizes stay near each other
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float side = std::max(frame.look.px(32), 0.5F * (room.x - frame.look.px(kWidest)));
  ImGui::PushStyleColor(ImGuiCol_ChildBg, paint(frame.look.colours.ground));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(side, frame.look.px(24)));
  const bool shown = ImGui::BeginChild("browser", ImVec2(0.0F, room.y - below), false,
                                       ImGuiWindowFlags_AlwaysUseWindowPadding);
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
  if (!shown) {
    ImGui::EndChild();
    return;
  }
  const bool save = saves(browser.purpose);
  const bool appearing = ImGui::IsWindowAppearing();
  const std::optional<std::size_t> gone_to = work_keys(frame);
  list(browser);  // the keys may have gone elsewhere
  const PurposeWords words = words_of(browser);
  kit::title(frame, std::string(words.title));
  kit::note(frame, std::string(words.note));
  kit::space(frame, 16);
  const bool tab = tab_pressed(frame);
  if (tab && !save) ImGui::SetKeyboardFocusHere();
  kit::FieldLook path;
  path.tooltip = "Type or paste a path; Enter goes there";
  const std::string before = browser.path_text;
  if (kit::live_text(frame, "Path", browser.path_text, path)) {
    const fs::path there = typed(browser);
    if (is_folder(there)) {
      go_to(browser, there);
    } else {
      go_on(frame);
    }
  }
  if (browser.path_text != before) browser.overwrite.clear();
  places(frame);
  kit::space(frame, 4);
  const float line = ImGui::GetFrameHeightWithSpacing();
  float foot = line;
  if (save) foot += line + frame.look.px(16);
  if (!browser.overwrite.empty()) foot += frame.look.px(24);
  entry_list(
      frame,
      std::max(frame.look.px(80), ImGui::GetContentRegionAvail().y - foot - frame.look.px(16)),
      gone_to);
  kit::space(frame);
  foot_of_browser(frame, save && (appearing || tab));
  ImGui::EndChild();
}

}  // namespace potshadow
