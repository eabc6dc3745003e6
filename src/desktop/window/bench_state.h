// SPDX-License-Identifier: MIT
// What the window itself remembers from frame to frame: the step, the tool, the selection, the
// view.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "clay/bench_reading.h"
#include "clay/linear_shrinkage.h"
#include "desktop/canvas/photo_transform.h"
#include "desktop/document/command.h"
#include "desktop/document/document.h"
#include "desktop/session/compare_wish.h"
#include "desktop/window/platform.h"
#include "desktop/window/sheet_state.h"
#include "desktop/words/steps.h"
#include "desktop/words/trace_words.h"
#include "estimate/size_name.h"
#include "project/recovery.h"

// Nothing in here is part of the document; nothing in here is saved.
namespace potshadow {

class DialogueTool;  // dialogue_tool.h

// What a click on the photograph does.
enum class ToolKind { kSelect, kMark, kEdges, kShelfLine, kTrace };
struct Tool {
  ToolKind kind = ToolKind::kSelect;
  MarkKind mark = MarkKind::kRim;     // with kMark
  std::size_t reference = 0;          // with kMark on a reference, kEdges and kShelfLine
  MarkPart part = MarkPart::kVessel;  // with kMark on a reference; kVessel: its first
  TraceTool trace = TraceTool::kBox;  // with kTrace
  friend bool operator==(const Tool&, const Tool&) = default;
};

// What the middle of the window shows.
enum class Middle { kPhoto, kBrowser, kHelp };

// What is asked: kLeave has to be answered before the window goes on, kRecover waits.
enum class Question { kNone, kLeave, kRecover };
// What was answered to kLeave.
enum class Answered { kNothing, kSave, kLeave, kStay };

// The in-window file browser.
enum class BrowsePurpose {
  kOpen,
  kAddPhoto,
  kFindPhoto,
  kBoardPictures,
  kSaveProject,
  kSaveSheet,
  kSaveBoard,
  kSaveBarSheet,
  kSaveBenchSheet,
  kBenchPhoto,
  kCompareWith,
  kSaveComparison,
  kTakeInClays,
  kHandOnClay
};
struct BrowserState {
  BrowsePurpose purpose = BrowsePurpose::kOpen;
  ComparisonPart comparison = ComparisonPart::kSheet;  // with kSaveComparison
  std::filesystem::path folder;
  std::string path_text;  // what is typed in the path field
  std::string name_text;  // the file name to save as
  std::string overwrite;  // the name that was warned about; empty: none
  bool listed = false;    // `entries` are those of `folder`
  struct Entry {
    std::string name;
    bool folder = false;
    std::uintmax_t bytes = 0;
  };
  std::vector<Entry> entries;
  SheetFormat sheet_format = SheetFormat::kPdf;  // with kSaveSheet
  std::vector<std::string> picked;               // names in `folder`, where several may be chosen
  std::string trouble;                           // why the folder cannot be listed
  bool show_hidden = false;
  std::shared_ptr<DialogueTool> dialogue;  // the desktop's own; null where there is none
};

// The pointer's work on the photograph.
enum class Grip { kNone, kPan, kPress, kDrag, kBox, kStroke };
struct CanvasWork {
  PhotoTransform transform;
  bool fitted = false;      // false: fit the picture when it appears
  bool fits = true;         // the whole picture is shown, and is to be so in a box of another size
  std::string fitted_file;  // the photograph that was fitted
  PictureSize fitted_size;
  std::vector<MarkId> selection;
  std::optional<MarkId> to_select;  // asked for, and selected once it is there
  std::optional<MarkId> hovered;
  std::optional<SizeName> hovered_size;  // found pointed at in this frame, on either side
  std::optional<SizeName> lit_size;      // was pointed at in the frame before: to be lit
  ScreenBox box;                         // where the photograph is shown
  bool pointed = false;                  // the pointer is over it
  Grip grip = Grip::kNone;
  ScreenPoint grip_from;
  ScreenPoint grip_last;
  bool dragging_new = false;           // the mark under the pointer is not in the document yet
  std::optional<MarkId> pressed_mark;  // which it will be
  bool drag_moved = false;
  std::optional<MoveMarks> last_move;  // what the drag shows
  std::vector<std::pair<MarkId, PhotoPoint>> drag_from;
  std::optional<PhotoPoint> magnified;  // what the magnifier shows
  double nudged_at = -1e9;              // when an arrow key last moved marks, in seconds
  std::vector<PhotoPoint> edge_points;  // of the edges tool, two an edge, and of the shelf line's
  std::vector<PhotoPoint> stroke;       // being brushed
  double brush = 24.0;                  // how wide the brush is, in window pixels at 100 %
  std::optional<std::size_t> left_out;  // doubtful stretch of the trace that is pointed at
  bool snap_new_marks = false;
  bool show_fit = true;
};

// What the page of the Clay step shows.
enum class ClayPage { kStages, kBook };
struct ClayPageState {
  ClayPage page = ClayPage::kStages;
  std::string record{};              // the clay that is open in the book; empty: the list
  std::optional<std::size_t> bar{};  // of it, whose fields are shown
  std::optional<std::size_t> part{};
  std::string new_name{};
  std::optional<Problem> trouble{};  // why the last change was not made
  std::vector<Note> notes{};         // on the last change
};

// The Check step: the stage that is looked at, and what the next readings are taken with.
struct CheckState {
  struct Form {
    BenchTool tool = BenchTool::kCaliper;
    std::optional<double> tolerance_mm{};  // its tool's where absent
  };
  Stage stage = Stage::kWet;
  std::map<SizeName, Form> forms{};
  std::optional<Problem> trouble{};  // why the last reading was not taken
};

// The Compare step: with which pot, and how one photograph lies over the other.
struct CompareState {
  CompareWish wish{};
  bool adding = false;  // the browser chooses one more, else one in place of all
  bool wipe = false;
  double share = 0.5;                              // of the replica that shows through
  std::optional<double> wipe_at{};                 // a part of the width; the axis where absent
  ComparisonPart saving = ComparisonPart::kSheet;  // what the browser is to save
};

// A line that says what has just happened.
struct Said {
  std::string text;
  bool trouble = false;
  std::string next;  // what to do, for trouble
  double at = -1e9;  // in seconds
};

struct BenchState {
  Step step = Step::kPhoto;
  Step panel_step = Step::kPhoto;  // whose panel was drawn last
  Middle middle = Middle::kPhoto;
  Question question = Question::kNone;
  Answered answered = Answered::kNothing;
  Tool tool;
  std::size_t photo = 0;      // the photograph that is shown; follows the session
  std::size_t reference = 0;  // the reference that is edited
  CanvasWork canvas;
  BrowserState browser;
  ClayPageState clays;
  CheckState check;
  CompareState compare;
  std::optional<std::size_t> band;  // whose fields are shown
  Stage bands_at = Stage::kWet;     // at what size bands are spaced
  std::vector<RecoveredWork> recovered;
  SheetState sheets;
  Said said;
  std::vector<KeyPress> keys_after_typing;  // wait until a field has given up its text
  int frames_after_typing = 0;
  bool narrow = false;          // the window has no room for both sides
  bool narrow_figures = false;  // it then shows the figures, not the steps
  bool quit = false;
  bool browse_asked = false;              // the browser is to open for browser.purpose
  bool step_due_asked = false;            // the first step that misses something is to be shown
  bool keys_for_panels = false;           // arrow keys, Space and Enter work the panels
  bool focus_panels = false;              // they are to begin at the steps
  double now = 0.0;                       // seconds since the start
  std::map<unsigned, std::string> edits;  // text being typed, by widget
  std::map<std::string, bool> open_folds;
  std::string object_search;
  GridPlace new_crossing;  // typed, to be put in
};

}  // namespace potshadow
