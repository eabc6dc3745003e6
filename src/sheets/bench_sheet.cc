// SPDX-License-Identifier: MIT
#include "sheets/bench_sheet.h"

#include <algorithm>
#include <utility>

#include "core/text.h"
#include "sheets/page_head.h"
#include "sheets/page_text.h"

namespace potshadow {
namespace {

constexpr double kQuietGrey = 0.4;
constexpr double kRuleGrey = 0.7;
constexpr double kRowMm = 5.0;
constexpr double kLeastRowMm = 3.2;
constexpr double kHeadingMm = 6.4;
constexpr double kLineMm = 4.2;
constexpr double kGapMm = 4.0;
constexpr double kBetweenMm = 8.0;  // between two halves

constexpr double kTextMm = 2.8;

// Returns the words in lines that fit the width.
std::vector<std::string> broken(const std::string& words, double width) {
  constexpr double kLetterMm = 0.54 * kTextMm;  // on average, with some to spare
  const auto most = static_cast<std::size_t>(width / kLetterMm);
  std::vector<std::string> lines;
  std::string rest = words;
  while (!rest.empty()) {
    std::size_t end = rest.size();
    while (display_width(rest.substr(0, end)) > most) {
      const std::size_t space = rest.rfind(' ', end - 1);
      if (space == std::string::npos || space == 0) break;
      end = space;
    }
    lines.push_back(rest.substr(0, end));
    rest = end < rest.size() ? rest.substr(end + 1) : "";
  }
  return lines;
}

std::size_t lines_in(const std::vector<std::string>& texts, double width) {
  std::size_t count = 0;
  for (const std::string& words : texts) count += broken(words, width).size();
  return count;
}

class BenchWriter {
 public:
  BenchWriter(const BenchSheet& sheet, const PageBox& box) : sheet_(sheet), box_(box) {}

  // Draws all of it; false where it does not fit.
  bool draw(std::vector<Drawn>& out) {
    out_ = &out;
    const double width = box_.width();
    y_ = box_.top_mm;
    heading("Sizes", box_.left_mm);
    y_ = table(sheet_.sizes, 0, sheet_.sizes.rows.size(), {box_.left_mm, y_}, {width, kRowMm});
    lines({sheet_.sizes_note}, box_.left_mm, width, kQuietGrey);
    y_ += kGapMm;
    // Clay on the left, the cradle beside it.
    const double half = (width - kBetweenMm) / 2.0;
    const double right = box_.left_mm + half + kBetweenMm;
    const double top = y_;
    heading("Clay", box_.left_mm);
    const double clay_end =
        table(sheet_.clay, 0, sheet_.clay.rows.size(), {box_.left_mm, y_}, {half, kRowMm});
    y_ = top;
    heading("Cradle (puki)", right);
    lines(sheet_.cradle, right, half, 0.0);
    y_ = std::max(y_, clay_end) + kGapMm;
    // From the foot up: cautions, notes; the coils take what is left.
    const double cautions =
        kHeadingMm + kLineMm * static_cast<double>(lines_in(sheet_.cautions, width));
    const double notes = kLineMm * static_cast<double>(lines_in(sheet_.notes, width));
    const std::size_t first = (sheet_.coils.rows.size() + 1) / 2;
    const double room = box_.bottom_mm - cautions - notes - 2.0 * kGapMm - kHeadingMm - y_;
    const double row = std::min(kRowMm, room / static_cast<double>(first + 1));
    if (row < kLeastRowMm) return false;
    heading("Coils, from the cradle's line up", box_.left_mm);
    const double coils_top = y_;
    y_ = table(sheet_.coils, 0, first, {box_.left_mm, coils_top}, {half, row});
    table(sheet_.coils, first, sheet_.coils.rows.size(), {right, coils_top}, {half, row});
    y_ += 1.0;
    lines(sheet_.notes, box_.left_mm, width, 0.0);
    y_ += kGapMm;
    heading("Take care", box_.left_mm);
    lines(sheet_.cautions, box_.left_mm, width, 0.0);
    return y_ <= box_.bottom_mm;
  }

 private:
  struct RowSize {
    double width_mm = 0.0;
    double height_mm = 0.0;
  };

  Label& text(std::string words, double size_mm, PagePoint at, double width_mm) {
    out_->emplace_back(sized_text(std::move(words), size_mm, at, width_mm));
    return std::get<Label>(out_->back());
  }

  void heading(const std::string& words, double left) {
    y_ += kHeadingMm;
    text(words, 3.6, {left, y_ - 2.0}, box_.width()).bold = true;
  }

  void lines(const std::vector<std::string>& lines, double left, double width, double grey) {
    for (const std::string& line : lines) {
      for (const std::string& part : broken(line, width)) {
        y_ += kLineMm;
        text(part, kTextMm, {left, y_ - 1.1}, width).grey = grey;
      }
    }
  }

  // Draws rows [from, to) below their heads; returns where the table ends. The first column takes
  // what the others, all alike, leave.
  double table(const BenchTable& table, std::size_t from, std::size_t to, PagePoint left_top,
               const RowSize& row_size) {
    const auto [left, top] = left_top;
    const auto [width, row] = row_size;
    const std::size_t columns = table.heads.size();
    if (columns == 0 || from >= to) return top;
    const double first = table.first_part * width;
    const double cell = (width - first) / std::max(1.0, static_cast<double>(columns) - 1.0);
    const double size = std::min(3.0, 0.66 * row);
    double y = top;
    const auto write = [&](const std::vector<std::string>& cells, bool head) {
      y += row;
      for (std::size_t i = 0; i < columns && i < cells.size(); ++i) {
        const double x = i == 0 ? left : left + first + cell * static_cast<double>(i);
        Label& label = text(cells[i], head ? std::min(size, 2.6) : size, {x, y - 0.3 * row},
                            i == 0 ? first : cell - 1.0);
        label.align = i == 0 ? Align::kLeft : Align::kRight;
        label.tabular = true;
        label.grey = head ? kQuietGrey : 0.0;
      }
      out_->emplace_back(line({left, y}, {left + width, y}, head ? 0.25 : 0.1, kRuleGrey));
    };
    write(table.heads, true);
    for (std::size_t i = from; i < to; ++i) write(table.rows[i], false);
    return y;
  }

  const BenchSheet& sheet_;
  PageBox box_;
  double y_ = 0.0;
  std::vector<Drawn>* out_ = nullptr;
};

}  // namespace

Result<TemplatePage> bench_page(const BenchSheet& sheet, const TemplateRequest& facts,
                                const PageCount& count) {
  const Problem no_room{Code::kCannotBeAnswered, "The bench sheet does not fit one page.",
                        "Use larger paper, or thicker coils.", ""};
  if (sheet.coils.rows.size() > kMostCoils) return no_room;
  const SheetHead head{words_of(facts, 0.0), "Bench sheet", "", "", {}, ""};
  const PageFrame frame = page_frame(facts.paper, facts.printer, false);
  TemplatePage page;
  page.drawing = frame.empty_page();
  std::vector<Drawn> drawn;
  if (!BenchWriter(sheet, head_window(frame, head_height(head))).draw(drawn)) return no_room;
  page.drawing.groups.push_back({std::nullopt, std::move(drawn)});
  PageWords on_page;
  on_page.number = count.before + 1;
  on_page.count = count.all > 0 ? count.all : 1;
  draw_head(page, frame, head, on_page, {}, {});
  return page;
}

}  // namespace potshadow
