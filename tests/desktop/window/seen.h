// SPDX-License-Identifier: MIT
// What the window says it shows: the description it writes where POTSHADOW_DESCRIBE names a file.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/units.h"
#include "desktop/window/screen.h"

namespace potshadow::bench {

// Areas are in window pixels, y down.
struct Widget {
  std::string name;  // its label, or the label beside a field
  Area area;
  bool enabled = true;
};

// The middle of the window, and where the photograph is drawn in it: its point p is at window x =
// photo_left + p.x * pixels_per_photo_pixel.
struct Canvas {
  Area area;
  double photo_left = 0.0;
  double photo_top = 0.0;
  double pixels_per_photo_pixel = 0.0;  // 0 where no photograph is shown
};

struct Seen {
  long frame = 0;
  bool idle =
      false;  // no work in the background, no input waiting, the last frame like the one before
  bool open = false;     // a project or photograph is; else the welcome view is shown
  std::string step;      // its title
  std::string middle;    // "photo", "browser", "help"
  std::string question;  // "leave", "recover"; empty: none is asked
  std::string theme;
  double scale = 0.0;
  bool unsaved = false;
  int undo = 0;                       // steps that can be taken back
  int steps = 0;                      // steps there are
  std::map<std::string, int> marks;   // on the photograph that is shown
  std::map<std::string, int> traced;  // found on it; "strokes" too
  bool tracing = false;               // the outline is being looked for
  std::string trace_problem;          // why it was not found, its first sentence
  int photo = 0;                      // which one that is, from 0
  int photos = 0;                     // how many there are
  int selected = 0;
  std::string figures;                      // "none", "current", "stale"
  std::map<std::string, double> sizes;      // every digit, while figures are current
  std::map<std::string, double> wet_sizes;  // as the clay makes them
  int coils = 0;                            // of a current plan
  std::string printed;                      // what the Templates step makes: "profile" ...
  int sheet_pages = 0;                      // that are shown of it, up to date
  int sheet_page = 0;                       // which one that is, from 0
  std::string sheet_problem;                // why there are none
  std::string sheet_saved;                  // the file that was written last
  int printers = 0;                         // of the user's
  std::string verdicts;     // on the pot on the bench: "height right" and so on, a line each
  std::string bench_photo;  // project of the pot's photograph; empty: none
  std::string compared;     // the paragraph on the two pots; empty: none is current
  bool compared_photos = false;
  std::string compared_file;    // what was written of it last
  std::string bands_at;         // at what stage the plan's painted bands are
  std::string clay_from;        // what tells its shrinkage: "3 bars", "a handbook"
  double page_scroll = 0.0;     // how far down a page is scrolled, in window pixels
  std::string page_problem;     // what stands beside a page's fields
  int page_notes = 0;           // what should be looked at again there
  std::string figures_problem;  // why there are none for the marks as they are
  std::string problem;          // any other problem now shown, its first sentence
  std::string status;           // the line at the photograph's foot
  std::string project_file;
  double frame_ms_median = 0.0;
  double frame_ms_p95 = 0.0;
  double drag_to_figures_ms = 0.0;
  Canvas canvas;
  std::vector<Widget> widgets;
};

// Returns the description in the file; nothing where there is no such file. Throws where it is not
// a description.
std::optional<Seen> read_seen(const std::filesystem::path& file);

// Returns the widget of that name. Of several, an enabled one is preferred, and of those the one
// that was drawn last: it lies in front.
std::optional<Widget> find_widget(const Seen& seen, const std::string& name);

// Returns the count of marks of a kind, 0 where it is not named.
int marks_of(const Seen& seen, const std::string& kind);

// Returns the state in a few lines, for the message of a failed test.
std::string in_words(const Seen& seen);

}  // namespace potshadow::bench
