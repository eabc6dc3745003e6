// SPDX-License-Identifier: MIT
#include "desktop/window/table.h"

#include <imgui.h>

#include <algorithm>
#include <cstddef>

#include "desktop/window/kit.h"

namespace potshadow::kit {
namespace {

constexpr double kGap = 20.0;  // between columns, at 100 %
constexpr double kRowHeight = 26.0;
constexpr const char* kPlusMinus = " ± ";

// The widths of all columns in window pixels.
std::vector<float> widths_of(Frame& frame, const std::vector<Column>& columns,
                             const std::vector<TableRow>& rows, float room) {
  std::vector<float> widths;
  float sum = 0.0F;
  std::size_t filling = columns.size();
  for (std::size_t i = 0; i < columns.size(); ++i) {
    float width = frame.look.px(columns[i].width);
    if (columns[i].fills) {
      filling = i;
      width = 0.0F;
    } else if (width == 0.0F) {
      width = ImGui::CalcTextSize(columns[i].heading.c_str()).x;
      for (const TableRow& row : rows) {
        if (i < row.cells.size()) {
          width = std::max(width, ImGui::CalcTextSize(row.cells[i].c_str()).x);
        }
      }
    }
    widths.push_back(width);
    sum += width + (i > 0 ? frame.look.px(kGap) : 0.0F);
  }
  if (filling < columns.size()) widths[filling] = std::max(frame.look.px(60), room - sum);
  return widths;
}

void cell(Frame& frame, ImDrawList& list, const std::string& text, ImVec2 at, float width,
          const Column& column, ImU32 colour) {
  const ImVec4 clip(at.x, at.y, at.x + width + frame.look.px(4), at.y + 1e4F);
  ImVec2 from = at;
  if (column.right) from.x += width - ImGui::CalcTextSize(text.c_str()).x;
  const std::size_t split = text.find(kPlusMinus);
  if (split == std::string::npos) {
    list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), from, colour, text.c_str(), nullptr,
                 column.fills ? width : 0.0F, column.right ? nullptr : &clip);
    return;
  }
  const std::string value = text.substr(0, split);
  list.AddText(from, colour, value.c_str());
  from.x += ImGui::CalcTextSize(value.c_str()).x;
  list.AddText(from, paint(frame.look.colours.quiet), text.c_str() + split);
}

}  // namespace

std::optional<std::size_t> table(Frame& frame, const std::string& name,
                                 const std::vector<Column>& columns,
                                 const std::vector<TableRow>& rows) {
  ImGui::PushID(name.c_str());
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0.0F, 0.0F));
  const ThemeColours& colours = frame.look.colours;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float room = ImGui::GetContentRegionAvail().x;
  const std::vector<float> widths = widths_of(frame, columns, rows, room);
  const float gap = frame.look.px(kGap);
  const float line = ImGui::GetTextLineHeight();
  const float padding = 0.5F * (frame.look.px(kRowHeight) - line);
  std::optional<std::size_t> clicked;

  const auto draw_cells = [&](const std::vector<std::string>& cells, ImVec2 at, ImU32 colour) {
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (i < cells.size()) cell(frame, list, cells[i], at, widths[i], columns[i], colour);
      at.x += widths[i] + gap;
    }
  };
  std::vector<std::string> headings;
  for (const Column& column : columns) headings.push_back(column.heading);
  const bool headed = std::any_of(headings.begin(), headings.end(),
                                  [](const std::string& heading) { return !heading.empty(); });
  if (headed) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_cells(headings, ImVec2(at.x, at.y + padding), paint(colours.quiet));
    ImGui::Dummy(ImVec2(room, line + 2.0F * padding));
  }
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const TableRow& row = rows[r];
    float height = line;
    for (std::size_t i = 0; i < columns.size() && i < row.cells.size(); ++i) {
      if (!columns[i].fills) continue;
      height =
          std::max(height, ImGui::CalcTextSize(row.cells[i].c_str(), nullptr, false, widths[i]).y);
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size(room, height + 2.0F * padding);
    if (row.name.empty()) {
      ImGui::Dummy(size);
    } else {
      if (ImGui::InvisibleButton((row.name + "##" + std::to_string(r)).c_str(), size)) clicked = r;
      if (row.chosen || ImGui::IsItemHovered()) {
        list.AddRectFilled(ImVec2(at.x - frame.look.px(8), at.y),
                           ImVec2(at.x + room + frame.look.px(8), at.y + size.y),
                           paint(colours.sunk), frame.look.px(4));
      }
      describe_last(frame, row.name);
    }
    tip(frame, row.tooltip);
    list.AddLine(ImVec2(at.x, at.y), ImVec2(at.x + room, at.y), paint(colours.line, 0.35),
                 frame.look.px(1));
    const ImU32 colour =
        paint(row.doubtful ? colours.doubt : (row.quiet ? colours.quiet : colours.text));
    draw_cells(row.cells, ImVec2(at.x, at.y + padding), colour);
  }
  ImGui::PopStyleVar();
  ImGui::PopFont();
  ImGui::Dummy(ImVec2(0.0F, 0.0F));
  ImGui::PopID();
  return clicked;
}

Page::Page(Frame& frame, const char* name, double widest) {
  const float below = frame.look.px(32);  // the window's line of words
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float side = std::max(frame.look.px(32), 0.5F * (room.x - frame.look.px(widest)));
  ImGui::PushStyleColor(ImGuiCol_ChildBg, paint(frame.look.colours.ground));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(side, frame.look.px(24)));
  ImGui::BeginChild(name, ImVec2(0.0F, room.y - below), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NavFlattened);
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
  frame.description.tell("page_scroll", static_cast<double>(ImGui::GetScrollY()));
}

Page::~Page() {
  ImGui::Dummy(ImVec2(0.0F, ImGui::GetFontSize()));
  ImGui::EndChild();
}

FieldRow::FieldRow(Frame& frame) : frame_(frame) {
  right_ = ImGui::GetCursorScreenPos().x + ImGui::GetContentRegionAvail().x;
}

void FieldRow::next(double width) {
  if (begun_) {
    ImGui::EndGroup();
    const float gap = frame_.look.px(16);
    if (ImGui::GetItemRectMax().x + gap + frame_.look.px(width) <= right_) {
      ImGui::SameLine(0.0F, gap);
    }
  }
  width_ = width;
  begun_ = true;
  ImGui::BeginGroup();
  // The text of a field before would else push this one's label down to its own line.
  const ImVec2 top = ImGui::GetCursorScreenPos();
  ImGui::Dummy(ImVec2(0.0F, 0.0F));
  ImGui::SetCursorScreenPos(top);
}

FieldRow::~FieldRow() {
  if (begun_) ImGui::EndGroup();
}

}  // namespace potshadow::kit
