// SPDX-License-Identifier: MIT
#include "desktop/words/plan_words.h"

#include "core/typed_number.h"
#include "desktop/words/figure_text.h"
#include "project/plan_report.h"

namespace potshadow {
namespace {

constexpr double kMm3PerMl = 1000.0;

std::string grams(const Measured& g) {
  // Tens or hundreds of grams are what is known of them, so digits end before the point.
  const RoundedText text = rounded(g.value, half_width95(g), -6, 0);
  return text.value + " ± " + text.plus_minus + " g";
}

}  // namespace

std::vector<CoilRow> coil_rows(const BuildPlan& plan, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kMm ? 0 : 1;
  const auto length = [&](double mm) { return fixed_text(in_unit(Mm{mm}, unit), decimals); };
  std::vector<CoilRow> rows;
  for (const Coil& coil : plan.coils) {
    const bool sags =
        plan.sag && plan.sag->height_mm >= coil.low_mm && plan.sag->height_mm < coil.high_mm;
    rows.push_back({std::to_string(coil.number), length(coil.low_mm), length(coil.high_mm),
                    length(coil.girth_mm), length(coil.length_mm), lean_words(coil.lean_deg),
                    sags});
  }
  return rows;
}

std::vector<BandRow> band_rows(const BuildPlan& plan, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kMm ? 1 : 2;
  const auto length = [&](double mm) { return fixed_text(in_unit(Mm{mm}, unit), decimals); };
  std::vector<BandRow> rows;
  for (std::size_t i = 0; i < plan.bands.size(); ++i) {
    const BandPlan& band = plan.bands[i];
    const std::string name =
        band.band.name.empty() ? "Band " + std::to_string(i + 1) : band.band.name;
    const auto add = [&](const std::string& words, const BandLine& line) {
      const bool repeated = band.band.repeats > 0;
      rows.push_back({i, words, length(line.height_mm), length(line.girth_mm),
                      repeated ? std::to_string(band.band.repeats) : "",
                      repeated ? length(line.spacing_mm) : ""});
    };
    add(band.high ? name + ", lower line" : name, band.low);
    if (band.high) add(name + ", upper line", *band.high);
  }
  return rows;
}

std::vector<AmountRow> amount_rows(const BuildPlan& plan) {
  const FigureText capacity = volume_figure(plan.capacity_ml);
  return {{"Weigh out, wet", grams(plan.weigh_out_g),
           "With " + typed_text(plan.request.allowance_percent, 1) + " % for scraping."},
          {"Of that, dry clay", grams(plan.dry_g), "All dry materials of the mix together."},
          {"And water", grams(plan.water_g), "A gram is a millilitre."},
          {"Clay in the pot", fixed_text(plan.clay_mm3 / kMm3PerMl, 0) + " ml",
           "Floor and wall, wet, with nothing to spare."},
          {"Fired, empty", grams(plan.empty_g), "Without the water and what burns off."},
          {"Holds, fired", capacity.value + " ± " + capacity.plus_minus + " ml", "To the brim."},
          {"Brim-full of water", grams(plan.brim_full_g), "Pot and water together."}};
}

std::string thickness_text(double mm, LengthUnit unit) {
  return typed_text(in_unit(Mm{mm}, unit), unit == LengthUnit::kMm ? 1 : 2);
}

}  // namespace potshadow
