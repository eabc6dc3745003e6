// SPDX-License-Identifier: MIT
// Tables of words and figures, and pages that hold them in the middle of the window.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desktop/window/frame.h"

namespace potshadow::kit {

struct Column {
  std::string heading{};
  bool right = false;  // figures stand below each other at the right
  double width = 0.0;  // at 100 %; 0: as much as its longest cell needs
  bool fills = false;  // takes what is left; its words are wrapped
};

struct TableRow {
  std::vector<std::string> cells{};  // "235.1 ± 2.8" has its interval set quieter
  std::string name{};                // the row can be chosen, and is called so; empty: it cannot
  std::string tooltip{};
  bool quiet = false;  // as what is left out
  bool doubtful = false;
  bool chosen = false;
};

// Draws the table with thin lines between its rows. Returns the index of a row that was clicked on.
std::optional<std::size_t> table(Frame& frame, const std::string& name,
                                 const std::vector<Column>& columns,
                                 const std::vector<TableRow>& rows);

// A page in the middle of the window, in place of the photograph; it scrolls. Whatever is drawn
// until its end stands on it. Give the width its content may have at 100 %.
class Page {
 public:
  Page(Frame& frame, const char* name, double widest = 760.0);
  ~Page();
  Page(const Page&) = delete;
  Page& operator=(const Page&) = delete;
};

// Fields beside each other: each call goes on in the same line. The last one ends it.
class FieldRow {
 public:
  explicit FieldRow(Frame& frame);
  ~FieldRow();
  FieldRow(const FieldRow&) = delete;
  FieldRow& operator=(const FieldRow&) = delete;
  // Begins the next field, which takes `width` at 100 %; goes to a new line where there is no room.
  void next(double width);
  double width() const { return width_; }  // of the field that was begun, for FieldLook

 private:
  Frame& frame_;
  double width_ = 0.0;
  bool begun_ = false;
  float right_ = 0.0F;
};

}  // namespace potshadow::kit
