// SPDX-License-Identifier: MIT
#include "desktop/words/clay_words.h"

#include <optional>
#include <utility>

#include "clay/stages.h"
#include "core/typed_number.h"
#include "desktop/words/figures_words.h"

namespace potshadow {
namespace {

constexpr double kPlausibleSd = 0.5;        // any doubt that can be, to check a shrinkage alone
constexpr double kPlausiblePercent = 10.0;  // any shrinkage that can be, to check a doubt alone
constexpr std::size_t kMostQuoted = 24;     // typed characters that a message repeats

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

// The number in "12", "12.5 %" or "12,5"; nothing where it is none.
std::optional<double> number_in(std::string_view typed) {
  std::string_view text = trimmed(typed);
  if (text.ends_with('%')) text = trimmed(text.substr(0, text.size() - 1));
  return typed_number(text);
}

Problem no_number(std::string_view typed, std::string next) {
  const std::string_view text = trimmed(typed);
  std::string what = "There is no number here.";
  if (!text.empty() && text.size() <= kMostQuoted) {
    what = "'" + std::string(text) + "' is not a number.";
  } else if (!text.empty()) {
    what = "What is typed here is not a number.";
  }
  return {Code::kBadValue, std::move(what), std::move(next), ""};
}

}  // namespace

std::vector<WetRow> wet_rows(const Measurement& measurement, LengthUnit unit) {
  std::vector<WetRow> rows;
  for (const FigureRow& figure : figure_rows(measurement, unit)) {
    rows.push_back({figure.name, figure.label, figure.unit, figure.value, figure.plus_minus,
                    figure.wet_value, figure.wet_plus_minus, figure.wet_sixteenths,
                    figure.leading});
  }
  return rows;
}

std::string_view shrinkage_explained() {
  return "Shrinkage is the part of its wet length that a clay loses until it is fired. Find yours "
         "on "
         "test bars: mark 100 mm on the wet bar, dry and fire it as the pot will be, and every "
         "millimetre that is gone is one percent. The sizes grow by as much as the clay will take "
         "back.";
}

std::string shrinkage_example(const TotalShrinkage& shrinkage) {
  constexpr double kLine = 100.0;
  return "A 100 mm line on wet clay fires to " +
         typed_text(kLine * (1.0 - shrinkage.fraction_of_wet()), 1) + " mm.";
}

std::string enlargement_sentence(const TotalShrinkage& shrinkage) {
  if (shrinkage.fraction_of_wet() == 0.0) return "Make every length the original's own.";
  return "Make every length " + fixed_text(shrinkage.enlargement(), 3) + " times the original's.";
}

std::string enlargement_sentence(const BodyFigures& figures, const TotalShrinkage& total) {
  if (!has_ways(figures, Stage::kWet)) return enlargement_sentence(total);
  const auto times = [&](SizeWay way) {
    return fixed_text(1.0 / (1.0 - to_fired(figures, Stage::kWet, way).fraction), 3);
  };
  return "Make every height " + times(SizeWay::kUpright) +
         " times the original's, and every "
         "diameter " +
         times(SizeWay::kAcross) + " times.";
}

Result<double> typed_shrinkage(std::string_view text) {
  const std::optional<double> percent = number_in(text);
  if (!percent) {
    return no_number(text,
                     "Type the shrinkage from wet to fired in percent of the wet length, such "
                     "as 12.");
  }
  const auto checked = TotalShrinkage::from_percent_of_wet(*percent, kPlausibleSd);
  if (!checked) return checked.problem();
  return *percent;
}

Result<double> typed_shrinkage_doubt(std::string_view text) {
  const std::optional<double> percent = number_in(text);
  if (!percent) {
    return no_number(text,
                     "Type how sure you are of the shrinkage, in percentage points, such as "
                     "0.5.");
  }
  if (!TotalShrinkage::from_percent_of_wet(kPlausiblePercent, *percent)) {
    return Problem{Code::kBadValue,
                   typed_text(*percent, 2) +
                       " percentage points are not how sure one can be of a "
                       "shrinkage.",
                   "Type a number from 0 to 10; test bars of one batch give about 0.5.", ""};
  }
  return *percent;
}

}  // namespace potshadow
