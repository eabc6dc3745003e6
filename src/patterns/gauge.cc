// SPDX-License-Identifier: MIT
#include "patterns/gauge.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "patterns/curves.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

// 2000 steps along a profile of 600 mm that bends at 5 mm radius leave 0.002 mm between curve and
// chord.
constexpr std::size_t kProfilePoints = 2001;
constexpr double kLeastExtentMm = 1.0;
constexpr double kMostExtentMm = 1e5;

// How far the arm of a whole gauge stands over the rim, and how wide it is.
constexpr double kArmMm = 20.0;
constexpr double kNameSizeMm = 2.7;
constexpr double kNameSpacingMm = 4.0;
constexpr double kNameOffMm = 5.0;
constexpr double kRulerSizeMm = 2.6;
// Distances from the back edge: where figures end, where the words along the card stand, and where
// the grey levels stop.
constexpr double kFiguresMm = 6.0;
constexpr double kWordsMm = 12.8;
constexpr double kLevelsMm = 16.5;

struct Ruler {
  double step_mm;
  int steps_per_figure;
  double figure_step;  // what one figure adds, in the unit
};

Ruler ruler_for(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::kMm:
      return {10.0, 5, 50.0};
    case LengthUnit::kCm:
      return {10.0, 5, 5.0};
    case LengthUnit::kInch:
      return {kMmPerInch / 2.0, 4, 2.0};
  }
  return {10.0, 5, 50.0};
}

// Calls `visit` with every radius range of the card's left edge between two heights.
template <class Visit>
void visit_edge(const Gauge& gauge, double low, double high, Visit visit) {
  const auto piece = [&](const ProfilePoint& a, const ProfilePoint& b) {
    const ProfilePoint& lower = a.height_mm <= b.height_mm ? a : b;
    const ProfilePoint& upper = a.height_mm <= b.height_mm ? b : a;
    if (upper.height_mm < low || lower.height_mm > high) return;
    const double rise = upper.height_mm - lower.height_mm;
    const auto at = [&](double height) {
      if (!(rise > 0.0)) return lower.radius_mm;
      const double t = std::clamp((height - lower.height_mm) / rise, 0.0, 1.0);
      return lower.radius_mm + t * (upper.radius_mm - lower.radius_mm);
    };
    visit(at(low));
    visit(at(high));
    if (!(rise > 0.0)) visit(upper.radius_mm);
  };
  for (std::size_t i = 0; i + 1 < gauge.profile.size(); ++i) {
    piece(gauge.profile[i], gauge.profile[i + 1]);
  }
  const ProfilePoint& rim = gauge.profile.back();
  piece(rim, {rim.radius_mm, gauge.top_mm});
}

std::vector<GaugeName> names_of(const Profile& wet) {
  const Sizes sizes = sizes_of(wet);
  // Nearer than this part of the height to the rim, the widest place is the rim.
  constexpr double kSamePlace = 0.01;
  const double rim = sizes.top.height_mm;
  const bool open = rim - sizes.widest.height_mm < kSamePlace * rim;
  std::vector<GaugeName> names;
  names.push_back({sizes.base_diameter_mm.value_or(0.0) > kLeastExtentMm ? "foot" : "base", 0.0});
  if (!open) names.push_back({"widest", sizes.widest.height_mm});
  if (sizes.neck) names.push_back({"neck", sizes.neck->height_mm});
  names.push_back({open ? "rim, widest" : "rim", rim});
  std::stable_sort(names.begin(), names.end(), [](const GaugeName& a, const GaugeName& b) {
    return a.height_mm < b.height_mm;
  });
  return names;
}

class GaugeDrawer {
 public:
  GaugeDrawer(const Gauge& gauge, const GaugeWishes& wishes) : gauge_(gauge), wishes_(wishes) {}

  Pattern draw() {
    out_.name = "Profile gauge";
    if (!gauge_.band.empty()) out_.areas.push_back({points_of(gauge_.band), false});
    ruler();
    words();
    names();
    out_.paths.push_back({points_of(outline()), PatternLine::kCut, true});
    wedges();
    return std::move(out_);
  }

 private:
  static PatternPoint at(double radius, double height) { return {radius, height}; }

  static std::vector<PatternPoint> points_of(const std::vector<ProfilePoint>& points) {
    std::vector<PatternPoint> out;
    out.reserve(points.size());
    for (const ProfilePoint& p : points) out.push_back(at(p.radius_mm, p.height_mm));
    return out;
  }

  std::vector<ProfilePoint> outline() const {
    std::vector<ProfilePoint> card = simplified(gauge_.profile, kPatternToleranceMm);
    card.push_back({gauge_.profile.back().radius_mm, gauge_.top_mm});
    double top = gauge_.top_mm;
    if (wishes_.with_arm) {
      card.push_back({0.0, top});
      top += kArmMm;
      card.push_back({0.0, top});
    }
    card.push_back({gauge_.right_mm, top});
    card.push_back({gauge_.right_mm, 0.0});
    card.push_back({gauge_.profile.front().radius_mm, 0.0});
    return card;
  }

  void ruler() {
    const LengthUnit unit = wishes_.unit;
    const Ruler ruler = ruler_for(unit);
    const double right = gauge_.right_mm;
    const double rim = gauge_.top_mm - kCardAboveRimMm;
    for (int i = 0; i * ruler.step_mm < gauge_.top_mm - 1.0; ++i) {
      const double h = i * ruler.step_mm;
      const bool figure = i % ruler.steps_per_figure == 0;
      const double edge = greatest_edge_radius(gauge_, h, h);
      if (i > 0 && figure && edge + 3.0 < right - kLevelsMm) {
        add_line(out_, at(edge, h), at(right - kLevelsMm, h), PatternLine::kFaint);
      }
      if (i > 0) {
        add_line(out_, at(right - (figure ? 5.0 : 3.0), h), at(right, h), PatternLine::kMark);
        if (h < rim) {
          const double tick = figure ? 3.5 : 2.0;
          add_line(out_, at(edge, h), at(edge + tick, h), PatternLine::kMark);
        }
      }
      if (!figure) continue;
      const int figures = i / ruler.steps_per_figure;
      const double value = figures * ruler.figure_step;
      PatternText text{fixed_text(value, 0), at(right - kFiguresMm, h - 0.36 * kRulerSizeMm)};
      if (i == 0) {
        text.words += " " + std::string(unit_name(unit));
        text.at = at(right - 1.5, 1.3);
      }
      text.size_mm = kRulerSizeMm;
      text.align = PatternAlign::kRight;
      out_.texts.push_back(text);
    }
  }

  void words() {
    constexpr double kStartMm = 4.0;
    constexpr double kWordsSizeMm = 3.0;
    PatternText& text =
        add_text(out_, wishes_.words, at(gauge_.right_mm - kWordsMm, kStartMm), kWordsSizeMm);
    text.upwards = true;
    text.quiet = true;
    text.most_width_mm = gauge_.top_mm - kStartMm - 3.0;
  }

  void names() {
    std::vector<double> wanted;
    for (const GaugeName& name : gauge_.names) {
      wanted.push_back(wanted.empty() ? 2.4 : name.height_mm);  // the lowest stands on the bench
    }
    const std::vector<double> heights = spread(wanted, kNameSpacingMm, gauge_.top_mm - 2.4);
    for (std::size_t i = 0; i < heights.size(); ++i) {
      const GaugeName& name = gauge_.names[i];
      const double h = heights[i];
      const double edge = greatest_edge_radius(gauge_, name.height_mm, name.height_mm);
      const double beside = greatest_edge_radius(gauge_, h - 1.8, h + 1.8);
      const double x = std::max(edge, beside) + kNameOffMm;
      out_.paths.push_back(
          {{at(edge, name.height_mm), at(edge + 2.5, name.height_mm), at(x - 0.8, h)},
           PatternLine::kMark,
           false});
      add_text(out_, name.words, at(x, h - 0.36 * kNameSizeMm), kNameSizeMm).bold = true;
    }
  }

  // Small wedges that lie against the cut line, on the side that falls away.
  void wedges() {
    constexpr double kLength = 3.2;
    constexpr double kHeight = 1.3;
    const std::size_t last = gauge_.profile.size() - 1;
    for (const double part : {0.25, 0.5, 0.75}) {
      const auto i = static_cast<std::size_t>(part * static_cast<double>(last));
      const ProfilePoint& a = gauge_.profile[i];
      const ProfilePoint& b = gauge_.profile[std::min(i + 5, last)];
      const double length = std::hypot(b.radius_mm - a.radius_mm, b.height_mm - a.height_mm);
      if (!(length > 0.0)) continue;
      const double tr = (b.radius_mm - a.radius_mm) / length;
      const double tz = (b.height_mm - a.height_mm) / length;
      const auto off = [&](double along, double inwards) {
        return at(a.radius_mm + along * tr - inwards * tz, a.height_mm + along * tz + inwards * tr);
      };
      constexpr double kOff = 0.6;
      out_.areas.push_back({{off(0.0, kOff), off(kLength, kOff), off(0.0, kOff + kHeight)}, true});
    }
  }

  const Gauge& gauge_;
  const GaugeWishes& wishes_;
  Pattern out_;
};

}  // namespace

Result<Gauge> gauge_of(const Profile& fired, const std::vector<ProfileBandRow>& band,
                       const TotalShrinkage& shrinkage) {
  const Profile wet = fired.scaled(shrinkage.enlargement(SizeWay::kAcross),
                                   shrinkage.enlargement(SizeWay::kUpright));
  Gauge gauge;
  gauge.profile = wet.sampled(kProfilePoints);
  double widest = 0.0;
  double highest = 0.0;
  gauge.least_radius_mm = std::numeric_limits<double>::max();
  bool sound = true;
  for (const ProfilePoint& p : gauge.profile) {
    sound = sound && std::isfinite(p.radius_mm) && std::isfinite(p.height_mm);
    widest = std::max(widest, p.radius_mm);
    highest = std::max(highest, p.height_mm);
    gauge.bottom_mm = std::min(gauge.bottom_mm, p.height_mm);
    gauge.least_radius_mm = std::min(gauge.least_radius_mm, p.radius_mm);
  }
  if (!sound || widest < kLeastExtentMm || highest < kLeastExtentMm || widest > kMostExtentMm ||
      highest > kMostExtentMm) {
    return Problem{Code::kBadValue,
                   "The profile has no size that could be cut: it is " + fixed_text(highest, 1) +
                       " mm high and " + fixed_text(2.0 * widest, 1) + " mm wide.",
                   "Check the vessel's marks and the size of the reference, and measure again.",
                   ""};
  }
  const Result<std::vector<BandPoint>> points = band_points(band, shrinkage);
  if (!points) return points.problem();
  gauge.band = band_outline(*points);
  for (const ProfilePoint& p : gauge.band) {
    gauge.least_radius_mm = std::min(gauge.least_radius_mm, p.radius_mm);
  }
  gauge.right_mm = widest + kCardBackMm;
  gauge.top_mm = highest + kCardAboveRimMm;
  gauge.card = gauge.profile;
  gauge.card.push_back({gauge.profile.back().radius_mm, gauge.top_mm});
  gauge.card.push_back({gauge.right_mm, gauge.top_mm});
  gauge.card.push_back({gauge.right_mm, 0.0});
  gauge.card.push_back({gauge.profile.front().radius_mm, 0.0});
  gauge.names = names_of(wet);
  return gauge;
}

double least_edge_radius(const Gauge& gauge, double low_mm, double high_mm) {
  double least = gauge.right_mm;
  visit_edge(gauge, low_mm, high_mm, [&](double radius) { least = std::min(least, radius); });
  return least;
}

double greatest_edge_radius(const Gauge& gauge, double low_mm, double high_mm) {
  double greatest = -1.0;
  visit_edge(gauge, low_mm, high_mm, [&](double radius) { greatest = std::max(greatest, radius); });
  return greatest < 0.0 ? gauge.right_mm : greatest;
}

Pattern gauge_pattern(const Gauge& gauge, const GaugeWishes& wishes) {
  return GaugeDrawer(gauge, wishes).draw();
}

}  // namespace potshadow
