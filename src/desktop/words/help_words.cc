// SPDX-License-Identifier: MIT
#include "desktop/words/help_words.h"

namespace potshadow {

std::vector<KeyGroup> key_groups() {
  return {{"Files",
           {{"Ctrl+O", "Open a photograph or a project"},
            {"Ctrl+S", "Save"},
            {"Ctrl+Shift+S", "Save under another name"},
            {"Ctrl+Q", "Leave"}}},
          {"Changes", {{"Ctrl+Z", "Undo"}, {"Ctrl+Y or Ctrl+Shift+Z", "Redo"}}},
          {"Steps",
           {{"1", "Photo"},
            {"2", "Reference"},
            {"3", "Outline"},
            {"4", "Sizes"},
            {"5", "Clay"},
            {"6", "Templates"}}},
          {"What to mark",
           {{"R", "Rim"},
            {"F", "Foot"},
            {"L", "Left side"},
            {"T", "Right side"},
            {"C", "Corners or edge of the reference"},
            {"V or Esc", "Select and move marks"}}},
          {"Marks",
           {{"Arrow keys", "Nudge by 1 px"},
            {"Alt+arrow keys", "Nudge by 0.1 px"},
            {"Shift+arrow keys", "Nudge by 10 px"},
            {"E", "Snap to the nearest edge"},
            {"Delete", "Remove"},
            {"Ctrl+A", "Select all"},
            {"Shift+click, or drag a box", "Select several"},
            {"Ctrl+click", "A new mark close to another"},
            {"Tab", "Next mark"},
            {"Shift+Tab", "Previous mark"}}},
          {"The photograph",
           {{"Wheel, + or -", "Zoom"},
            {"Right button, or Space and drag", "Move it"},
            {"0", "Fit to the window"},
            {"9", "One pixel of it to one of the screen (1:1)"},
            {"Page Up, Page Down", "The one before or after; in Templates, the page"}}},
          {"The window",
           {{"B", "Fold or unfold the steps"},
            {"G", "Fold or unfold the figures"},
            {"D", "Daylight or evening colours"},
            {"Ctrl+C", "Copy the figures"},
            {"F6", "Arrow keys, Space and Enter work the panels; again to end"},
            {"F1 or ?", "Show or hide these keys"}}}};
}

}  // namespace potshadow
