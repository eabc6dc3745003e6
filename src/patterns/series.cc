// SPDX-License-Identifier: MIT
#include "patterns/series.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "core/text.h"
#include "patterns/scale_bar.h"

namespace potshadow {
namespace {

constexpr double kTextMm = 2.8;
constexpr double kSmallMm = 2.4;
constexpr double kBetweenMm = 8.0;
constexpr double kWordsMm = 11.0;       // room for title and words below a panel
constexpr double kLeastPanelMm = 41.0;  // four beside each other on paper

struct Size {
  double widest = 1.0;  // radius
  double top = 1.0;
};

Size size_of(const std::vector<ProfilePoint>& original, const std::vector<SeriesPanel>& panels) {
  Size size;
  const auto take = [&](double radius, double height) {
    size.widest = std::max(size.widest, radius);
    size.top = std::max(size.top, height);
  };
  for (const ProfilePoint& p : original) take(p.radius_mm, p.height_mm);
  for (const SeriesPanel& panel : panels) {
    for (const ProfilePoint& p : panel.outline) take(p.radius_mm, p.height_mm);
    for (const ProfilePoint& p : panel.original) take(p.radius_mm, p.height_mm);
    for (const SeriesStroke& s : panel.strokes) take(s.diameter_mm / 2.0, s.height_mm);
  }
  return size;
}

void draw_pot(Pattern& out, const std::vector<ProfilePoint>& rows, double scale, PatternPoint foot,
              PatternLine line) {
  if (rows.empty()) return;
  PatternPath path{{}, line, true};
  for (auto p = rows.rbegin(); p != rows.rend(); ++p) {
    path.points.push_back({foot.x_mm - scale * p->radius_mm, foot.y_mm + scale * p->height_mm});
  }
  for (const ProfilePoint& p : rows) {
    path.points.push_back({foot.x_mm + scale * p.radius_mm, foot.y_mm + scale * p.height_mm});
  }
  out.paths.push_back(std::move(path));
}

PatternText& write(Pattern& out, const std::string& words, PatternPoint at, double size) {
  return add_text(out, words, at, size);
}

}  // namespace

double series_panel_width_mm(const std::vector<ProfilePoint>& original,
                             const std::vector<SeriesPanel>& panels, double scale) {
  return std::max(kLeastPanelMm, 2.0 * scale * size_of(original, panels).widest + kBetweenMm);
}

Pattern series_panels(const std::vector<ProfilePoint>& original,
                      const std::vector<SeriesPanel>& panels, double scale, Mm most_width) {
  const Size size = size_of(original, panels);
  const double wide = series_panel_width_mm(original, panels, scale);
  const double high = scale * size.top + kWordsMm + kBetweenMm;
  const auto columns =
      static_cast<std::size_t>(std::max(1.0, std::floor(most_width.value / wide + 1e-9)));
  Pattern out;
  out.name = "Series";
  double lowest = 0.0;
  for (std::size_t i = 0; i < panels.size(); ++i) {
    const SeriesPanel& panel = panels[i];
    const std::size_t column = i % columns;
    const std::size_t row = i / columns;
    const double left = static_cast<double>(column) * wide;
    const double bottom = -static_cast<double>(row) * high;
    lowest = std::min(lowest, bottom);
    const PatternPoint foot{left + wide / 2.0, bottom};
    // The bench, as wide as the words below it may run.
    add_line(out, {left + 1.0, bottom}, {left + wide - 1.0, bottom}, PatternLine::kFaint);
    add_line(out, foot, {foot.x_mm, bottom + scale * size.top}, PatternLine::kCentre);
    draw_pot(out, panel.original.empty() ? original : panel.original, scale, foot,
             PatternLine::kBold);
    draw_pot(out, panel.outline, scale, foot, PatternLine::kDashed);
    for (const SeriesStroke& stroke : panel.strokes) {
      const double half = scale * stroke.diameter_mm / 2.0;
      const double y = bottom + scale * stroke.height_mm;
      add_line(out, {foot.x_mm - half, y}, {foot.x_mm + half, y}, PatternLine::kDashed);
    }
    PatternText& title = write(out, panel.title, {foot.x_mm, bottom - 4.0}, kTextMm);
    title.align = PatternAlign::kCentre;
    title.bold = true;
    title.most_width_mm = wide - 2.0;
    PatternText& words = write(out, panel.words, {foot.x_mm, bottom - 8.0}, kSmallMm);
    words.align = PatternAlign::kCentre;
    words.most_width_mm = wide - 2.0;
  }
  internal::draw_scale_bar(out, scale, {wide / 2.0, lowest - kWordsMm - 2.0});
  return out;
}

Pattern shrinkage_chart(const std::vector<ShrinkageLine>& lines) {
  constexpr std::array<const char*, 4> kStages{"wet", "leather-hard", "bone-dry", "fired"};
  constexpr double kStepMm = 32.0;
  constexpr double kHighMm = 50.0;
  constexpr double kTitleMm = 44.0;
  double most = 1.0;
  for (const ShrinkageLine& line : lines) {
    for (const ShrinkagePoint& p : line.points) most = std::max(most, p.percent + p.half95);
  }
  const double step = most > 10.0 ? 5.0 : most > 4.0 ? 2.0 : 1.0;
  const double top = step * std::ceil(most / step);
  const auto y = [&](double percent) { return percent / top * kHighMm; };
  const auto x = [&](int stage) { return kStepMm * stage; };
  Pattern out;
  out.name = "Shrinkage";
  for (double percent = 0.0; percent <= top + 1e-9; percent += step) {
    // As far as the titles at the ends run.
    add_line(out, {-6.0, y(percent)}, {x(3) + kTitleMm, y(percent)}, PatternLine::kFaint);
    write(out, fixed_text(percent, 0) + " %", {-5.6, y(percent) + 0.8}, kSmallMm);
  }
  for (int stage = 0; stage < static_cast<int>(kStages.size()); ++stage) {
    add_line(out, {x(stage), -1.5}, {x(stage), 0.0}, PatternLine::kMark);
    PatternText& words =
        write(out, kStages.at(static_cast<std::size_t>(stage)), {x(stage), -5.0}, kSmallMm);
    words.align = PatternAlign::kCentre;
  }
  // Titles at the lines' ends, moved apart where they would lie over each other.
  std::vector<std::pair<double, std::size_t>> ends;
  for (std::size_t i = 0; i < lines.size(); ++i)
    ends.push_back({y(lines[i].points.back().percent), i});
  std::sort(ends.begin(), ends.end());
  std::vector<double> wanted;
  wanted.reserve(ends.size());
  for (const auto& [height, line] : ends) wanted.push_back(height);
  const std::vector<double> at = spread(wanted, kSmallMm + 1.2, kHighMm);
  for (std::size_t k = 0; k < ends.size(); ++k) {
    const ShrinkageLine& line = lines[ends[k].second];
    PatternPath path{{}, PatternLine::kMark, false};
    for (const ShrinkagePoint& p : line.points) {
      path.points.push_back({x(p.stage), y(p.percent)});
      add_line(out, {x(p.stage), y(p.percent - p.half95)}, {x(p.stage), y(p.percent + p.half95)},
               PatternLine::kBold);
    }
    const int last = line.points.back().stage;
    out.paths.push_back(std::move(path));
    write(out, line.title, {x(last) + 2.5, at[k] - 0.9}, kSmallMm).most_width_mm = kTitleMm - 4.0;
  }
  PatternText& head =
      write(out, "Shrunk since the first stage, in percent of its length; bars: 95 % intervals",
            {0.0, kHighMm + 4.0}, kTextMm);
  head.most_width_mm = 150.0;
  return out;
}

}  // namespace potshadow
