// SPDX-License-Identifier: MIT
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

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

constexpr double kRowHeight = 26.0;  // of the list, at 100 %
constexpr const char* kProjectEnding = ".potshadow";
constexpr const char* kSheetEnding = ".pdf";

constexpr const char* kClayEnding = ".json";

// The ending of a part of a comparison.
const char* comparison_ending(ComparisonPart part) {
  constexpr const char* kEndings[] = {kSheetEnding, ".svg", ".png"};
  return kEndings[static_cast<std::size_t>(part)];
}

bool saves_pdf(BrowsePurpose purpose) {
  return purpose == BrowsePurpose::kSaveSheet || purpose == BrowsePurpose::kSaveBoard ||
         purpose == BrowsePurpose::kSaveBarSheet || purpose == BrowsePurpose::kSaveBenchSheet;
}

bool saves(BrowsePurpose purpose) {
  return purpose == BrowsePurpose::kSaveProject || purpose == BrowsePurpose::kHandOnClay ||
         purpose == BrowsePurpose::kSaveComparison || saves_pdf(purpose);
}

bool is_about_clays(BrowsePurpose purpose) {
  return purpose == BrowsePurpose::kTakeInClays || purpose == BrowsePurpose::kHandOnClay;
}

// The ending of what is saved.
std::string ending_of(const BrowserState& browser) {
  if (browser.purpose == BrowsePurpose::kSaveSheet) {
    return std::string(format_ending(browser.sheet_format));
  }
  if (browser.purpose == BrowsePurpose::kSaveComparison) {
    return comparison_ending(browser.comparison);
  }
  if (saves_pdf(browser.purpose)) return kSheetEnding;
  return browser.purpose == BrowsePurpose::kHandOnClay ? kClayEnding : kProjectEnding;
}

struct PurposeWords {
  std::string_view title;
  std::string_view note;
  std::string_view kinds;  // for the desktop's own dialogue
};

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
    choice.saved = ending_of(browser);
  }
  choice.hidden = browser.show_hidden;
  return choice;
}

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

bool is_picked(const BrowserState& browser, const std::string& name) {
  const auto& picked = browser.picked;
  return std::find(picked.begin(), picked.end(), name) != picked.end();
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

// Where the file is to be saved; empty where no name is given.
fs::path save_target(const BrowserState& browser) {
  const std::string ending = ending_of(browser);
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

// Those that were clicked on, in the order of their names.
void order_pictures(Frame& frame) {
  const BrowserState& browser = frame.state.browser;
  MeasureCamera measure;
  for (const BrowserState::Entry& entry : browser.entries) {
    if (is_picked(browser, entry.name)) measure.pictures.push_back(browser.folder / entry.name);
  }
  frame.ask(std::move(measure));
}

// Does what the path field says: goes into the folder, opens the file, or saves.
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

void go_up(BrowserState& browser) {
  const fs::path from = browser.folder;
  if (!from.has_relative_path()) return;
  go_to(browser, from.parent_path());
  browser.path_text = from.string();  // the folder that was left is the chosen one
}

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

// A folder, a picture or a pot, drawn small.
void draw_icon(const Frame& frame, ImDrawList& list, ImVec2 at, const BrowserState::Entry& entry) {
  const float u = frame.look.px(1);
  const ThemeColours& colours = frame.look.colours;
  const ImU32 line = paint(colours.quiet);
  const float thick = 1.4F * u;
  if (entry.folder) {
    list.AddRectFilled(ImVec2(at.x, at.y + u), ImVec2(at.x + 7 * u, at.y + 6 * u),
                       paint(colours.clay), 1.5F * u);
    list.AddRectFilled(ImVec2(at.x, at.y + 3 * u), ImVec2(at.x + 16 * u, at.y + 13 * u),
                       paint(colours.clay), 1.5F * u);
    return;
  }
  if (file_kind(entry.name) == FileKind::kProject) {
    // A small jar.
    const ImVec2 left[] = {{5, 0}, {6, 3}, {2, 6}, {2.5F, 10}, {5.5F, 14}};
    ImVec2 path[10];
    for (int i = 0; i < 5; ++i) {
      path[i] = ImVec2(at.x + u * left[i].x, at.y + u * left[i].y);
      path[9 - i] = ImVec2(at.x + u * (16.0F - left[i].x), at.y + u * left[i].y);
    }
    list.AddPolyline(path, 10, paint(colours.accent), ImDrawFlags_Closed, thick);
    return;
  }
  list.AddRect(ImVec2(at.x, at.y + u), ImVec2(at.x + 16 * u, at.y + 13 * u), line, 1.5F * u, 0,
               thick);
  if (file_kind(entry.name) == FileKind::kPhoto) {
    const ImVec2 hill[] = {{at.x + 2 * u, at.y + 11 * u},
                           {at.x + 6 * u, at.y + 6 * u},
                           {at.x + 9 * u, at.y + 9 * u},
                           {at.x + 11 * u, at.y + 7 * u},
                           {at.x + 14 * u, at.y + 11 * u}};
    list.AddPolyline(hill, 5, line, 0, thick);
  }
}

void entry_row(Frame& frame, std::size_t index, const fs::path& typed_now, bool gone_to) {
  BrowserState& browser = frame.state.browser;
  const BrowserState::Entry entry = browser.entries[index];
  const float height = frame.look.px(kRowHeight);
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const bool chosen = is_chosen(browser, entry, typed_now);
  const std::string id = "##entry " + std::to_string(index);
  const ThemeColours& colours = frame.look.colours;
  ImGui::PushStyleColor(ImGuiCol_Header, paint(colours.raised));
  ImGui::PushStyleColor(ImGuiCol_HeaderHovered, paint(chosen ? colours.raised : colours.sunk));
  const bool clicked = ImGui::Selectable(id.c_str(), chosen, ImGuiSelectableFlags_AllowDoubleClick,
                                         ImVec2(0.0F, height));
  ImGui::PopStyleColor(2);
  kit::describe_last(frame, entry.name);
  if (gone_to) ImGui::SetScrollHereY(0.5F);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (chosen) {
    list.AddRectFilled(from, ImVec2(from.x + frame.look.px(3), from.y + height),
                       paint(colours.accent));
  }
  const float text_top = from.y + 0.5F * (height - ImGui::GetTextLineHeight());
  draw_icon(frame, list, ImVec2(from.x + frame.look.px(8), from.y + frame.look.px(6)), entry);
  float name_right = from.x + width - frame.look.px(8);
  if (!entry.folder) {
    ImFont* const font = frame.look.fonts.note;
    const std::string size = bytes_text(entry.bytes);
    const float size_width = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, size.c_str()).x;
    name_right -= size_width;
    list.AddText(font, font->FontSize,
                 ImVec2(name_right, from.y + 0.5F * (height - font->FontSize)),
                 paint(frame.look.colours.quiet), size.c_str());
    name_right -= frame.look.px(16);
  }
  const ImVec4 clip(from.x, from.y, name_right, from.y + height);
  list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), ImVec2(from.x + frame.look.px(34), text_top),
               paint(frame.look.colours.text), entry.name.c_str(), nullptr, 0.0F, &clip);
  if (!clicked) return;
  const bool several = browser.purpose == BrowsePurpose::kBoardPictures && !entry.folder;
  if (ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left) && !several) {
    enter(frame, entry);
  } else {
    choose(browser, entry);
  }
}

void entry_list(Frame& frame, float height, std::optional<std::size_t> gone_to) {
  BrowserState& browser = frame.state.browser;
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0.0F, frame.look.px(4)));
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0.0F, 0.0F));
  ImGui::BeginChild("entries", ImVec2(0.0F, height), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding);
  if (!browser.trouble.empty()) {
    kit::doubt(frame, browser.trouble);
  } else if (browser.entries.empty()) {
    kit::note(frame, saves(browser.purpose)
                         ? "Nothing of this kind is here yet."
                         : "There are no folders, photographs or projects here.");
  }
  const fs::path typed_now = typed(browser);
  const fs::path folder = browser.folder;
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(browser.entries.size()), frame.look.px(kRowHeight));
  if (gone_to) {
    clipper.ForceDisplayRangeByIndices(static_cast<int>(*gone_to), static_cast<int>(*gone_to) + 1);
  }
  while (clipper.Step()) {
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      const auto index = static_cast<std::size_t>(i);
      entry_row(frame, index, typed_now, gone_to == index);
      // Another folder was gone into; its entries come with the next frame.
      if (browser.folder != folder) break;
    }
  }
  ImGui::EndChild();
  ImGui::PopStyleVar(2);
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

// What the desktop's own dialogue is to ask for.
DialogueWish wish_of(const BrowserState& browser) {
  const PurposeWords words = words_of(browser);
  DialogueWish wish;
  wish.title = words.title;
  wish.filter_words = words.kinds;
  const std::vector<std::string> photos{".jpg",  ".jpeg", ".png",  ".tif", ".tiff",
                                        ".webp", ".heic", ".heif", ".avif"};
  if (saves(browser.purpose)) {
    wish.kind = DialogueKind::kSave;
    const fs::path target = save_target(browser);
    wish.start = target.empty() ? browser.folder : target;
    wish.endings = {ending_of(browser)};
    return wish;
  }
  wish.start = browser.folder;
  wish.endings = photos;
  if (browser.purpose == BrowsePurpose::kTakeInClays) wish.endings = {kClayEnding};
  if (browser.purpose == BrowsePurpose::kBenchPhoto) wish.endings = {kProjectEnding};
  if (browser.purpose == BrowsePurpose::kCompareWith)
    wish.endings = {kProjectEnding, ".txt", ".csv"};
  if (browser.purpose == BrowsePurpose::kOpen) wish.endings.emplace_back(kProjectEnding);
  return wish;
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
    browser.dialogue->ask(wish_of(browser));
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
  const fs::path target = with_ending(*outcome->file, ending_of(browser));
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
