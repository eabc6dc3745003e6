// SPDX-License-Identifier: MIT
#include "desktop/words/stage_words.h"

#include <algorithm>

#include "desktop/words/figure_text.h"

namespace potshadow {
namespace {

constexpr double kHalf = 0.5;

bool has_stages(const Measurement& measurement) {
  return measurement.clay && measurement.answer.scale != ScaleSource::kNone;
}

double wet_clay_share(const Measurement& measurement, const MeasuredSize& size) {
  return at_stage(size, measurement.clay->figures, Stage::kWet).clay_share;
}

}  // namespace

std::vector<StageRow> stage_rows(const Measurement& measurement, LengthUnit unit) {
  std::vector<StageRow> rows;
  if (!has_stages(measurement)) return rows;
  for (const MeasuredSize& size : measurement.answer.sizes) {
    const bool volume = size.name == SizeName::kCapacity;
    StageRow row;
    row.name = size.name;
    row.label = std::string(size_words(size.name));
    row.unit = volume ? "ml" : std::string(unit_name(unit));
    for (std::size_t i = 0; i < kStages.size(); ++i) {
      const Measured m = at_stage(size, measurement.clay->figures, kStages[i]).measured;
      const FigureText text = volume ? volume_figure(m) : length_figure(m, unit);
      row.value[i] = text.value;
      row.plus_minus[i] = text.plus_minus;
    }
    const double share = wet_clay_share(measurement, size);
    row.by_clay = share > kHalf;
    row.doubt = (row.by_clay ? "clay " : "photo ") +
                fixed_text(100.0 * (row.by_clay ? share : 1.0 - share), 0) + " %";
    rows.push_back(std::move(row));
  }
  return rows;
}

std::string stage_doubt_sentence(const Measurement& measurement) {
  if (!has_stages(measurement)) return "";
  const auto& sizes = measurement.answer.sizes;
  const auto by_clay = std::count_if(sizes.begin(), sizes.end(), [&](const MeasuredSize& size) {
    return wet_clay_share(measurement, size) > kHalf;
  });
  if (by_clay == 0) {
    return "The photograph brings more of the doubt than the clay: a better photograph or "
           "reference helps more than bars do.";
  }
  if (by_clay == static_cast<std::ptrdiff_t>(sizes.size())) {
    return "The clay brings more of the doubt than the photograph: more test bars help most.";
  }
  return "Of some sizes the clay brings more of the doubt, of the others the photograph: the last "
         "column says which.";
}

std::string stage_title(Stage stage) { return with_large_start(stage_words(stage)); }

}  // namespace potshadow
