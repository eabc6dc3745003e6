// SPDX-License-Identifier: MIT
#include "patterns/comparison.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "core/text.h"
#include "patterns/scale_bar.h"

namespace potshadow {
namespace {

constexpr double kBetweenMm = 14.0;  // from one drawing to the next
constexpr double kChartMm = 46.0;    // how wide the chart of gaps is
constexpr double kPlotMm = 38.0;     // of it, between its largest figures
constexpr double kTextMm = 2.8;
constexpr double kSmallMm = 2.4;

double widest(const std::vector<ProfilePoint>& rows) {
  double most = 0.0;
  for (const ProfilePoint& p : rows) most = std::max(most, p.radius_mm);
  return most;
}

double highest(const std::vector<ProfilePoint>& rows) {
  double most = 0.0;
  for (const ProfilePoint& p : rows) most = std::max(most, p.height_mm);
  return most;
}

// Right of the axis at `x`, closed by the rim's line and the bench's.
void draw_outline(Pattern& out, const std::vector<ProfilePoint>& rows, double scale, double x,
                  PatternLine line) {
  PatternPath path{{}, line, false};
  path.points.push_back({x, scale * rows.front().height_mm});
  for (const ProfilePoint& p : rows) {
    path.points.push_back({x + scale * p.radius_mm, scale * p.height_mm});
  }
  path.points.push_back({x, scale * rows.back().height_mm});
  out.paths.push_back(std::move(path));
}

void write(Pattern& out, const std::string& words, double x, double y, double size = kTextMm,
           PatternAlign align = PatternAlign::kLeft) {
  PatternText& text = add_text(out, words, {x, y}, size);
  text.align = align;
}

// The scale across: a round number of millimetres beyond which no band reaches.
double most_shown(const std::vector<ComparedGap>& gaps) {
  double most = 1.0;
  for (const ComparedGap& gap : gaps) {
    most = std::max(most, std::abs(gap.gap_mm) + std::max(gap.half_mm, gap.together_mm));
  }
  for (double step = 1.0;; step *= 10.0) {
    for (const double round : {1.0, 2.0, 5.0}) {
      if (round * step >= most) return round * step;
    }
  }
}

void draw_chart(Pattern& out, double scale, const std::vector<ComparedGap>& gaps,
                const PatternPoint& left_top) {
  const double most = most_shown(gaps);
  const double top = left_top.y_mm;
  const double middle = left_top.x_mm + kChartMm / 2.0;
  const auto at = [&](double gap_mm) { return middle + gap_mm / most * kPlotMm / 2.0; };
  PatternArea band;
  for (const ComparedGap& g : gaps) {
    band.points.push_back({at(g.gap_mm + g.half_mm), scale * g.height_mm});
  }
  for (auto g = gaps.rbegin(); g != gaps.rend(); ++g) {
    band.points.push_back({at(g->gap_mm - g->half_mm), scale * g->height_mm});
  }
  out.areas.push_back(std::move(band));
  add_line(out, {middle, 0.0}, {middle, top}, PatternLine::kMark);
  for (const double side : {-1.0, 1.0}) {
    PatternPath limit{{}, PatternLine::kFaint, false};
    for (const ComparedGap& g : gaps) {
      limit.points.push_back({at(side * g.together_mm), scale * g.height_mm});
    }
    out.paths.push_back(std::move(limit));
  }
  // In runs, heavy where it differs.
  std::size_t from = 0;
  while (from + 1 < gaps.size()) {
    const bool differs = gaps[from].differs || gaps[from + 1].differs;
    PatternPath run{{}, differs ? PatternLine::kBold : PatternLine::kMark, false};
    run.points.push_back({at(gaps[from].gap_mm), scale * gaps[from].height_mm});
    std::size_t to = from + 1;
    for (; to < gaps.size() && (gaps[to - 1].differs || gaps[to].differs) == differs; ++to) {
      run.points.push_back({at(gaps[to].gap_mm), scale * gaps[to].height_mm});
    }
    out.paths.push_back(std::move(run));
    from = to - 1;
  }
  constexpr double kTickMm = 1.6;
  for (const double part : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
    add_line(out, {at(part * most), -kTickMm}, {at(part * most), 0.0}, PatternLine::kMark);
    const double mm = part * most;
    const int decimals = mm == std::round(mm) ? 0 : 1;
    // The outermost stay within the chart.
    const PatternAlign align = part == -1.0  ? PatternAlign::kLeft
                               : part == 1.0 ? PatternAlign::kRight
                                             : PatternAlign::kCentre;
    write(out, (mm > 0.0 ? "+" : "") + fixed_text(mm, decimals), at(mm), -kTickMm - 3.2, kSmallMm,
          align);
  }
  add_line(out, {at(-most), 0.0}, {at(most), 0.0}, PatternLine::kMark);
}

}  // namespace

double compared_width_mm(const ComparedOutlines& outlines, double scale) {
  const double first = std::max(widest(outlines.original), widest(outlines.replica));
  const double second = std::max(widest(outlines.matched), widest(outlines.replica));
  return scale * (first + second) + 2.0 * kBetweenMm + kChartMm;
}

Pattern compared_outlines(const ComparedOutlines& outlines, double scale) {
  Pattern out;
  out.name = "Outlines";
  const double first = std::max(widest(outlines.original), widest(outlines.replica));
  const double second = std::max(widest(outlines.matched), widest(outlines.replica));
  const double top = scale * std::max({highest(outlines.original), highest(outlines.replica),
                                       highest(outlines.matched)});
  const double beside = scale * first + kBetweenMm;
  const double chart = beside + scale * second + kBetweenMm;
  for (const double x : {0.0, beside}) add_line(out, {x, 0.0}, {x, top}, PatternLine::kCentre);
  draw_outline(out, outlines.original, scale, 0.0, PatternLine::kBold);
  draw_outline(out, outlines.replica, scale, 0.0, PatternLine::kDashed);
  draw_outline(out, outlines.matched, scale, beside, PatternLine::kBold);
  draw_outline(out, outlines.replica, scale, beside, PatternLine::kDashed);
  draw_chart(out, scale, outlines.gaps, {chart, top});
  constexpr double kAboveMm = 3.0;
  write(out, "As made", 0.0, top + kAboveMm);
  write(out, "The original times " + fixed_text(outlines.factor, 3), beside, top + kAboveMm);
  write(out, "Gap in mm: right, farther out", chart, top + kAboveMm);
  constexpr double kBelowMm = 5.0;
  internal::draw_scale_bar(out, scale, {scale * first / 2.0 + 10.0, -kBelowMm});
  return out;
}

}  // namespace potshadow
