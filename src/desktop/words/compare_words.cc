// SPDX-License-Identifier: MIT
#include "desktop/words/compare_words.h"

#include <cmath>

#include "desktop/words/figure_text.h"

namespace potshadow {
namespace {

constexpr int kRatioDecimals = 3;

std::string both(const FigureText& figure) { return figure.value + " ± " + figure.plus_minus; }

bool is_off(Comparison verdict) {
  return verdict == Comparison::kLarger || verdict == Comparison::kSmaller;
}

int decimals_of(LengthUnit unit, int of_mm) { return unit == LengthUnit::kMm ? of_mm : of_mm + 1; }

}  // namespace

std::vector<ComparedRow> compared_size_rows(const VesselComparison& comparison, LengthUnit unit) {
  std::vector<ComparedRow> rows;
  for (const ComparedSize& size : comparison.sizes) {
    const bool volume = size.name == SizeName::kCapacity;
    const auto words = [&](const Measured& m) {
      return both(volume ? volume_figure(m) : length_figure(m, unit));
    };
    const SizeDifference& d = size.difference;
    rows.push_back({std::string(size_words(size.name)) + (volume ? ", ml" : ""), words(d.original),
                    words(d.replica), words(d.together()), std::string(comparison_words(d.verdict)),
                    is_off(d.verdict)});
  }
  return rows;
}

std::vector<ComparedRow> compared_proportion_rows(const VesselComparison& comparison) {
  std::vector<ComparedRow> rows;
  for (const ComparedProportion& proportion : comparison.proportions) {
    const auto words = [](const Measured& m) { return both(plain_figure(m, kRatioDecimals)); };
    const SizeDifference& d = proportion.difference;
    rows.push_back({proportion.words, words(d.original), words(d.replica), words(d.together()),
                    std::string(comparison_words(d.verdict)), is_off(d.verdict)});
  }
  return rows;
}

std::string gap_words(const GapRow& row, LengthUnit unit) {
  const std::string name(unit_name(unit));
  Measured gap = row.gap_mm;
  if (gap.value < 0.0) gap = {-gap.value, gap.sd, -gap.high95, -gap.low95};
  return fixed_text(in_unit(Mm{row.at.height_mm}, unit), decimals_of(unit, 0)) + " " + name +
         " up, at the " + std::string(part_words(row.part)) + ": " +
         both(length_figure(gap, unit)) + " " + name +
         (row.gap_mm.value < 0.0 ? " farther in." : " farther out.") +
         (row.differs ? " Beyond doubt." : "");
}

std::string scales_words(const ShapeDifference& shape) {
  const auto words = [](const Measured& m) { return both(plain_figure(m, kRatioDecimals)); };
  return "All over " + words(shape.scale) + " times the original, heights " +
         words(shape.upright_scale) + ", widths " + words(shape.across_scale) + ".";
}

std::string apart_words(const ShapeDifference& shape, LengthUnit unit) {
  constexpr double kMm2PerCm2 = 100.0;
  return fixed_text(in_unit(Mm{shape.rms_mm}, unit), decimals_of(unit, 1)) + " " +
         std::string(unit_name(unit)) + " apart on average, with " +
         fixed_text(shape.area_mm2 / kMm2PerCm2, 1) + " cm² between them on each side.";
}

std::string line_legend(const VesselComparison& comparison) {
  return "Solid: " + comparison.original + ". Dashed: " + comparison.replica + ".";
}

}  // namespace potshadow
