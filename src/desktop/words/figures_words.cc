// SPDX-License-Identifier: MIT
#include "desktop/words/figures_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>
#include <utility>

#include "desktop/words/figure_text.h"
#include "desktop/words/note_words.h"
#include "project/answer_text.h"
#include "project/report.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

// A size is doubtful where its interval is wider than half of what a clay commonly shrinks by (a
// tenth; common practice, no source): then it no longer tells one clay from another. A volume goes
// with the cube of a length.
constexpr double kDoubtfulShare = 0.05;
constexpr double kDoubtfulVolumeShare = 3.0 * kDoubtfulShare;

bool is_volume(SizeName name) { return name == SizeName::kCapacity; }

bool is_leading(SizeName name) {
  return name == SizeName::kHeight || name == SizeName::kMaxDiameter ||
         name == SizeName::kNeckDiameter || name == SizeName::kRimDiameter;
}

FigureText figure_of(const MeasuredSize& size, const Measured& m, LengthUnit unit) {
  return is_volume(size.name) ? volume_figure(m) : length_figure(m, unit);
}

// Half of the interval as a part of the value; 0 where the value is.
double doubt_share(const MeasuredSize& size) {
  if (!(size.measured.value > 0.0)) return 0.0;
  return half_width95(size.measured) / size.measured.value;
}

std::string share_text(double share) { return fixed_text(100.0 * share, 0) + " %"; }

// The sources of a size's doubt, the largest share first.
std::array<std::size_t, kDoubtCount> by_share(const MeasuredSize& size) {
  std::array<std::size_t, kDoubtCount> order{};
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return size.budget[a] > size.budget[b]; });
  return order;
}

DoubtSource largest_source(const MeasuredSize& size) {
  return static_cast<DoubtSource>(by_share(size).front());
}

std::string lower_label(SizeName name) { return with_small_start(size_words(name)); }

// "about half", "a little over two thirds"; nothing beyond the named fractions.
std::optional<std::string> fraction_words(double ratio) {
  struct Named {
    double value;
    std::string_view words;
  };
  constexpr std::array<Named, 8> kNamed{{{0.25, "a quarter"},
                                         {1.0 / 3.0, "a third"},
                                         {0.4, "two fifths"},
                                         {0.5, "half"},
                                         {0.6, "three fifths"},
                                         {2.0 / 3.0, "two thirds"},
                                         {0.75, "three quarters"},
                                         {0.8, "four fifths"}}};
  constexpr double kLeast = 0.22;
  constexpr double kMost = 0.85;
  constexpr double kAbout = 0.015;
  if (!(ratio >= kLeast && ratio <= kMost)) return std::nullopt;
  const Named* best = &kNamed.front();
  for (const Named& named : kNamed) {
    if (std::abs(named.value - ratio) < std::abs(best->value - ratio)) best = &named;
  }
  const double over = ratio - best->value;
  const char* how = std::abs(over) <= kAbout ? "about "
                    : over > 0.0             ? "a little over "
                                             : "just under ";
  return how + std::string(best->words);
}

// "about half as wide", "as wide", "1.3 times as wide".
std::string times_as(double ratio, const std::string& wide) {
  constexpr double kSame = 0.025;
  if (const auto fraction = fraction_words(ratio)) return *fraction + " as " + wide;
  if (std::abs(ratio - 1.0) <= kSame) return "about as " + wide;
  return fixed_text(ratio, 2) + " times as " + wide;
}

std::string meaning_of(const Proportion& proportion) {
  const double ratio = proportion.measured.value;
  if (proportion.key == "height_to_max_diameter") {
    return "The vessel is " + times_as(ratio, "high") + " as it is wide.";
  }
  if (proportion.key == "height_of_max_to_height") {
    if (const auto fraction = fraction_words(ratio)) {
      return "It is widest " + *fraction + " of the way up.";
    }
    return "It is widest " + fixed_text(100.0 * ratio, 0) + " % of the way up.";
  }
  constexpr std::array<std::pair<std::string_view, std::string_view>, 3> kParts{
      {{"neck_to_max_diameter", "neck"},
       {"rim_to_max_diameter", "rim"},
       {"base_to_max_diameter", "foot"}}};
  for (const auto& [key, part] : kParts) {
    if (proportion.key == key) {
      return "The " + std::string(part) + " is " + times_as(ratio, "wide") +
             " as the vessel at its widest.";
    }
  }
  return "";
}

// --- What would help ----------------------------------------------------------------------------

std::string_view marks_advice(SizeName name) {
  switch (name) {
    case SizeName::kHeight:
      return "Add marks round the rim and along the front of the foot.";
    case SizeName::kMaxDiameter:
    case SizeName::kHeightOfMax:
      return "Add marks on both sides, above and below the widest place.";
    case SizeName::kNeckDiameter:
    case SizeName::kHeightOfNeck:
      return "Add marks on both sides of the neck, close together where it is narrowest.";
    case SizeName::kRimDiameter:
      return "Add marks all round the outer edge of the lip.";
    case SizeName::kBaseDiameter:
      return "Add marks along the front of the foot, as far round to both sides as you see it.";
    case SizeName::kCapacity:
      break;
  }
  return "Add marks on both sides, close together where the form turns.";
}

// "Measure how high the riser is, to a millimetre. The height would then be known to ± 1.9 mm
// instead of ± 2.8 mm."
std::string best_advice(const Answer& answer, const Advice& advice, LengthUnit unit) {
  std::string text = with_large_start(advice.what);
  if (!text.ends_with('.')) text += '.';
  const MeasuredSize* const size = find_size(answer, advice.size);
  if (size == nullptr) return text;
  const auto figure = [&](double sd) {
    return figure_of(*size, normal_measured(size->measured.value, sd), unit).plus_minus + " " +
           (is_volume(advice.size) ? "ml" : std::string(unit_name(unit)));
  };
  return text + " The " + lower_label(advice.size) + " would then be known to ± " +
         figure(advice.sd_then) + " instead of ± " + figure(advice.sd_now) + ".";
}

}  // namespace

std::string inch_fraction_text(Mm length) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 7> kGlyphs{{{"1/8", "⅛"},
                                                                                  {"1/4", "¼"},
                                                                                  {"3/8", "⅜"},
                                                                                  {"1/2", "½"},
                                                                                  {"5/8", "⅝"},
                                                                                  {"3/4", "¾"},
                                                                                  {"7/8", "⅞"}}};
  const std::string text = sixteenths_text(length);
  const bool negative = text.starts_with('-');
  const std::string plain = negative ? text.substr(1) : text;
  const std::size_t space = plain.find(' ');
  const std::string whole = space == std::string::npos ? "" : plain.substr(0, space);
  const std::string part = space == std::string::npos ? plain : plain.substr(space + 1);
  for (const auto& [digits, glyph] : kGlyphs) {
    if (part == digits) return (negative ? "-" : "") + whole + std::string(glyph);
  }
  return text;
}

std::string_view size_lesson(SizeName name) {
  switch (name) {
    case SizeName::kHeight:
      return "From the shelf to the top of the lip. It is the size that you check last, so make it "
             "by the wet figure from the start.";
    case SizeName::kMaxDiameter:
      return "The widest place of the outside. It takes the most clay, and it cannot be made "
             "wider once the neck is closed.";
    case SizeName::kHeightOfMax:
      return "How far above the shelf the vessel is widest. Set it too high or too low and the pot "
             "has the right sizes but the wrong stance.";
    case SizeName::kNeckDiameter:
      return "The narrowest place between belly and rim. Check it while the clay still gives, for "
             "it is closed last.";
    case SizeName::kHeightOfNeck:
      return "How far above the shelf the neck is narrowest. It tells where the shoulder must end.";
    case SizeName::kRimDiameter:
      return "Across the mouth, from outer edge to outer edge of the lip. A lid or a ring gauge is "
             "made to this size.";
    case SizeName::kBaseDiameter:
      return "Across the foot, where it meets the shelf. It is the first thing that you lay down, "
             "and all the rest stands on it.";
    case SizeName::kCapacity:
      break;
  }
  return "What the vessel holds when filled to the brim, inside a wall of the thickness you gave. "
         "It is a good check of a finished pot, for water finds its whole form.";
}

std::vector<FigureRow> figure_rows(const Measurement& measurement, LengthUnit unit) {
  std::vector<FigureRow> rows;
  if (measurement.answer.scale == ScaleSource::kNone) return rows;
  for (const MeasuredSize& size : measurement.answer.sizes) {
    const bool volume = is_volume(size.name);
    const bool fractions = unit == LengthUnit::kInch && !volume;
    FigureRow row;
    row.name = size.name;
    row.label = size_words(size.name);
    row.unit = volume ? "ml" : unit_name(unit);
    row.guessed = measurement.answer.scale == ScaleSource::kGuess;
    row.leading = is_leading(size.name);
    row.tooltip = size_lesson(size.name);
    const FigureText figure = figure_of(size, size.measured, unit);
    row.value = figure.value;
    row.plus_minus = figure.plus_minus;
    row.interval = figure.low + " to " + figure.high;
    if (fractions) row.sixteenths = inch_fraction_text(Mm{size.measured.value});
    if (measurement.shrinkage) {
      const Measured wet = wet_size(measurement, size);
      const FigureText wet_figure = figure_of(size, wet, unit);
      row.wet_value = wet_figure.value;
      row.wet_plus_minus = wet_figure.plus_minus;
      if (fractions) row.wet_sixteenths = inch_fraction_text(Mm{wet.value});
    }
    row.doubtful = doubt_share(size) > (volume ? kDoubtfulVolumeShare : kDoubtfulShare);
    if (row.doubtful) {
      row.doubt = "Known only to " + percent_text(doubt_share(size)) +
                  ", and what limits it most is " + std::string(doubt_words(largest_source(size))) +
                  ".";
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ProportionRow> proportion_rows(const Answer& answer) {
  constexpr int kMostDecimals = 3;
  std::vector<ProportionRow> rows;
  for (const Proportion& proportion : answer.proportions) {
    const FigureText figure = plain_figure(proportion.measured, kMostDecimals);
    rows.push_back({proportion.words, figure.value, figure.plus_minus, meaning_of(proportion)});
  }
  return rows;
}

std::string_view advice_for(SizeName name, DoubtSource source) {
  switch (source) {
    case DoubtSource::kMarks:
      return marks_advice(name);
    case DoubtSource::kReferenceSize:
      return "Find out the reference's size more exactly, and say how sure you are of it.";
    case DoubtSource::kReferencePlace:
      return "Find out more about where the reference stands, or mark a second one in another "
             "place.";
    case DoubtSource::kFocalLength:
      return "Type the lens's focal length if you know it better than the file does, and stand "
             "farther back next time.";
    case DoubtSource::kLens:
      return "Use the whole, uncropped picture, and next time keep vessel and reference near its "
             "middle.";
    case DoubtSource::kGlass:
      return "Find out how thick the pane is, and say how sure you are of it.";
    case DoubtSource::kOutOfRound:
      return "No photograph takes this away, for it is the pot's own. Change the out-of-round "
             "figure only if you know how round the vessel is.";
    case DoubtSource::kWall:
      return "Give the wall's thickness as the museum's record or a look at the lip tells it.";
    case DoubtSource::kHidden:
      break;
  }
  return "Type how far the hidden part may reach, at least and at most, as a look from another "
         "side "
         "or a vessel of its kind tells it.";
}

std::vector<LimitRow> limit_rows(const Answer& answer) {
  constexpr std::size_t kMostNamed = 3;
  constexpr double kWorthNaming = 0.10;
  std::vector<LimitRow> rows;
  for (const MeasuredSize& size : answer.sizes) {
    const std::array<std::size_t, kDoubtCount> order = by_share(size);
    LimitRow row{size.name, std::string(size_words(size.name)), "",
                 std::string(advice_for(size.name, largest_source(size)))};
    for (std::size_t i = 0; i < kMostNamed; ++i) {
      const double share = size.budget[order[i]];
      if (i > 0 && !(share >= kWorthNaming)) break;
      row.causes += (i == 0 ? "" : ", ") +
                    std::string(doubt_words(static_cast<DoubtSource>(order[i]))) + " " +
                    share_text(share);
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<BudgetPart> budget_parts(const MeasuredSize& size) {
  constexpr std::size_t kMostNamed = 4;
  constexpr double kMatters = 0.05;
  std::vector<BudgetPart> parts;
  double left = 1.0;
  for (const std::size_t i : by_share(size)) {
    const double share = size.budget[i];
    if (parts.size() == kMostNamed || !(share >= kMatters)) break;
    const auto source = static_cast<DoubtSource>(i);
    parts.push_back({source, std::string(doubt_words(source)), share, share_text(share)});
    left -= share;
  }
  constexpr double kShown = 0.005;  // less rounds to 0 %
  if (!parts.empty() && left >= kShown) {
    parts.push_back({std::nullopt, "all else", left, share_text(left)});
  }
  return parts;
}

std::string advice_words(const Answer& answer, LengthUnit unit) {
  if (answer.scale == ScaleSource::kNone) return "";
  if (!answer.advice.empty()) return best_advice(answer, answer.advice.front(), unit);
  const MeasuredSize* worst = nullptr;
  for (const MeasuredSize& size : answer.sizes) {
    if (!is_leading(size.name) && size.name != SizeName::kBaseDiameter) continue;
    if (worst == nullptr || doubt_share(size) > doubt_share(*worst)) worst = &size;
  }
  if (worst == nullptr) return "";
  const DoubtSource source = largest_source(*worst);
  const std::string advice(advice_for(worst->name, source));
  return "Of the main sizes the " + lower_label(worst->name) + " is the least sure, to " +
         percent_text(doubt_share(*worst)) +
         ". What limits it most: " + std::string(doubt_words(source)) + ", with " +
         share_text(worst->budget[static_cast<std::size_t>(source)]) + " of its doubt. " +
         (source == DoubtSource::kOutOfRound ? advice
                                             : "What would help: " + with_small_start(advice));
}

std::string scale_words(ScaleSource scale) {
  switch (scale) {
    case ScaleSource::kKnown:
      return "";
    case ScaleSource::kGuess:
      return "Every size hangs on a guess. Each ± says how sure you called yourself, not how right "
             "you are; the proportions do not need the guess.";
    case ScaleSource::kNone:
      break;
  }
  return "Nothing says how big the vessel is, so its sizes are left open. Its proportions and its "
         "shape hold all the same.";
}

std::string out_of_round_words(const OutOfRound& found) {
  const FigureText figure = plain_figure(found.percent, 1);
  return "It is " + figure.value + " ± " + figure.plus_minus +
         " % out of round: its widest diameter is that much larger than its narrowest.";
}

std::string uneven_words(const Uneven& found, LengthUnit unit, ScaleSource scale) {
  if (!found.beyond_chance) {
    return "Left and right agree as well as the marks can tell, so it stands upright and even.";
  }
  const bool open = scale == ScaleSource::kNone;
  const auto length = [&](double value, double sd) {
    const Measured m = normal_measured(value, sd);
    const FigureText figure = open ? plain_figure(m, 1) : length_figure(m, unit);
    const std::string of = open ? " % of its height" : " " + std::string(unit_name(unit));
    return std::pair(figure, of);
  };
  Measured lean = found.lean_deg;
  const bool to_left = lean.value < 0.0;
  if (to_left) {
    lean.value = -lean.value;
    std::swap(lean.low95, lean.high95);
    lean.low95 = -lean.low95;
    lean.high95 = -lean.high95;
  }
  const FigureText angle = plain_figure(lean, 1);
  const auto [wide, of] = length(std::abs(found.widest_mm), found.widest_sd_mm);
  const double up = open ? found.at_height_mm : in_unit(Mm{found.at_height_mm}, unit);
  return "Left and right differ: it leans " + angle.value + " ± " + angle.plus_minus + "° to the " +
         (to_left ? "left" : "right") + ", and beyond that its " +
         (found.widest_mm < 0.0 ? "right" : "left") + " side stands out by up to " + wide.value +
         " ± " + wide.plus_minus + of + ", " + fixed_text(up, unit == LengthUnit::kInch ? 1 : 0) +
         of + " up.";
}

std::string stale_words(const Problem* problem) {
  const std::string before = "These figures are from before the last change: ";
  if (problem == nullptr) return before + "new ones are being worked out.";
  return before + with_small_start(problem->what) + " " + problem->next;
}

std::string camera_sentence(const CameraAnswer& camera, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kMm ? 0 : 1;
  const double angle = camera.elevation_deg;
  return "The photograph was taken from " +
         fixed_text(in_unit(Mm{camera.distance_mm}, unit), decimals) + " " +
         std::string(unit_name(unit)) + " away, " + fixed_text(std::abs(angle), 0) + "° " +
         (angle < 0.0 ? "below" : "above") + " the level, with a lens like " +
         fixed_text(camera.focal_35mm, 1) + " mm on 35 mm film.";
}

std::string figures_text(const Measurement& measurement, const std::string& file, LengthUnit unit) {
  return answer_text(with_window_notes(measurement), file, unit);
}

std::string figures_csv(const Measurement& measurement, const std::string& file) {
  return report_csv({{file, measurement}});
}

}  // namespace potshadow
