// SPDX-License-Identifier: MIT
#include "project/bench_page_request.h"

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "clay/stages.h"
#include "project/answer_text.h"
#include "project/clay_text.h"
#include "project/one_line.h"
#include "project/pattern_request.h"
#include "project/plan_report.h"
#include "project/text_layout.h"
#include "sheets/sheet_set.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr double kMm3PerMl = 1000.0;

class BenchWords {
 public:
  BenchWords(const Measurement& measurement, const BuildPlan& plan, LengthUnit unit)
      : measurement_(measurement), plan_(plan), unit_(unit) {}

  BenchSheet all() {
    sizes();
    clay();
    cradle();
    coils();
    bands();
    for (const std::string_view caution : clay_cautions()) sheet_.cautions.emplace_back(caution);
    return std::move(sheet_);
  }

 private:
  std::string name() const { return std::string(unit_name(unit_)); }
  std::string length(double mm) const {
    const int decimals = unit_ == LengthUnit::kMm ? 0 : 1;
    return fixed_text(in_unit(Mm{mm}, unit_), decimals);
  }
  static std::string grams(const Measured& g) {
    constexpr int kLeastDecimals = -6;
    return words_of(figure(g, 0, kLeastDecimals)) + " g";
  }

  void sizes() {
    constexpr std::array kStages{Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry, Stage::kFired};
    BenchTable& table = sheet_.sizes;
    table.heads = {name()};
    for (const Stage stage : kStages) table.heads.emplace_back(stage_words(stage));
    const BodyFigures& figures = measurement_.clay->figures;
    for (const MeasuredSize& size : measurement_.answer.sizes) {
      const bool volume = size.name == SizeName::kCapacity;
      std::vector<std::string> row{std::string(size_words(size.name)) + (volume ? ", ml" : "")};
      for (const Stage stage : kStages) {
        row.push_back(
            volume
                ? words_of(volume_figure(volume_at_stage(size.measured, figures, stage).measured))
                : length_text(
                      length_at_stage(size.measured, figures, stage, way_of(size.name)).measured,
                      unit_));
      }
      table.rows.push_back(std::move(row));
    }
    sheet_.sizes_note = "Each ± is the 95 % interval. The fired size is the original's.";
  }

  void clay() {
    const std::string spare = fixed_text(plan_.request.allowance_percent, 0);
    sheet_.clay.first_part = 0.55;
    sheet_.clay.heads = {"for the whole pot", "weight"};
    sheet_.clay.rows = {{"Weigh out, wet, " + spare + " % to spare", grams(plan_.weigh_out_g)},
                        {"of that, dry materials", grams(plan_.dry_g)},
                        {"and water", grams(plan_.water_g)},
                        {"Fired, empty", grams(plan_.empty_g)},
                        {"Fired, brimful of water", grams(plan_.brim_full_g)}};
  }

  void cradle() {
    const Cradle& cradle = plan_.cradle;
    sheet_.cradle = {
        "Its line is " + length(cradle.line_mm) + " " + name() + " above the bench.",
        "Mouth ø " + length(cradle.diameter_mm) + " " + name() + ", depth " +
            length(cradle.depth_mm) + " " + name() + ".",
        "The piece of clay for it takes " + fixed_text(cradle.clay_mm3 / kMm3PerMl, 0) + " ml."};
    if (cradle.floor_mm > 0.0) {
      sheet_.cradle.push_back("Foot ø " + length(cradle.floor_mm) + " " + name() + ".");
    }
    const WallThickness& wall = plan_.request.wall;
    const auto fine = [&](double mm) {
      return fixed_text(in_unit(Mm{mm}, unit_), unit_ == LengthUnit::kMm ? 1 : 2);
    };
    sheet_.cradle.push_back("Wall " + fine(wall.foot_mm) + " " + name() + ", coils " +
                            fine(plan_.request.coil_mm) + " " + name() + " thick as rolled.");
  }

  void coils() {
    BenchTable& table = sheet_.coils;
    table.first_part = 0.1;
    table.heads = {"coil", "from, " + name(), "to, " + name(), "girth", "roll", "leans"};
    double together = 0.0;
    for (const Coil& coil : plan_.coils) {
      together += coil.length_mm;
      table.rows.push_back({std::to_string(coil.number), length(coil.low_mm), length(coil.high_mm),
                            length(coil.girth_mm), length(coil.length_mm),
                            (coil.lean_deg > 0.0 ? "+" : "") + fixed_text(coil.lean_deg, 0) + "°"});
    }
    sheet_.notes.push_back(
        "Girth is round the outside, halfway up the coil; roll it as long as "
        "that says. Leans: + outward, - inward of upright.");
    sheet_.notes.push_back("All together " + fixed_text(together / 1000.0, 1) + " m of coil.");
    if (plan_.sag) {
      sheet_.notes.back() += " The wall turns inward fastest at " + length(plan_.sag->height_mm) +
                             " " + name() + ": let what is below stiffen first.";
    }
  }

  // A line each, as a potter marks them: how high, round how much, and how far from motif to motif.
  void bands() {
    for (const BandPlan& band : plan_.bands) {
      const std::string name = band.band.name.empty() ? "Band" : on_one_line(band.band.name);
      std::string words = name + ", " + std::string(stage_words(plan_.band_stage)) + ": line at " +
                          length(band.low.height_mm);
      if (band.high) words += " and " + length(band.high->height_mm);
      words += " " + this->name() + ", girth " + length(band.low.girth_mm);
      if (band.high) words += " and " + length(band.high->girth_mm);
      if (band.band.repeats > 0) {
        words +=
            ", " + std::to_string(band.band.repeats) + " repeats of " + length(band.low.spacing_mm);
        if (band.high) words += " and " + length(band.high->spacing_mm);
      }
      sheet_.notes.push_back(words + ".");
    }
  }

  const Measurement& measurement_;
  const BuildPlan& plan_;
  LengthUnit unit_;
  BenchSheet sheet_;
};

}  // namespace

Result<BenchSheet> bench_page_request(const Measurement& measurement, const Result<ClayBook>& book,
                                      std::optional<double> wall_mm,
                                      std::optional<double> cradle_mm, LengthUnit unit) {
  Measurement with_clay = measurement;
  add_clay(book, with_clay);
  PlanChoices choices;
  choices.wall_mm = wall_mm;
  choices.cradle_mm = cradle_mm;
  const Result<BuildPlan> plan = plan_for(with_clay, choices);
  if (!plan) return plan.problem();
  return BenchWords(with_clay, *plan, unit).all();
}

Result<SheetPdf> bench_sheet_pdf(const Measurement& measurement, const Result<ClayBook>& book,
                                 const std::string& file, const SheetChoices& choices,
                                 std::chrono::system_clock::time_point now) {
  Result<BenchSheet> bench = bench_page_request(measurement, book, {}, {}, choices.unit);
  if (!bench) return bench.problem();
  const Result<MadeSize> made = made_size(*measurement.clay, Stage::kWet);
  if (!made) return made.problem();
  const Result<PatternVessel> vessel = pattern_vessel(measurement, file, *made, choices.unit);
  if (!vessel) return vessel.problem();
  SheetSetRequest request{
      .facts = template_request(measurement, file, made->shrinkage, choices, now),
      .vessel = *vessel,
      .choices = {}};
  request.bench = std::move(bench).value();
  return sheet_set(request);
}

}  // namespace potshadow
