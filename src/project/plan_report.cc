// SPDX-License-Identifier: MIT
#include "project/plan_report.h"

#include <algorithm>
#include <vector>

#include "project/answer_text.h"
#include "project/clay_text.h"
#include "project/one_line.h"
#include "project/report.h"
#include "project/stages_report.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr double kMm3PerMl = 1000.0;

std::string length_words(double mm, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kMm ? 0 : 1;
  std::string words =
      fixed_text(in_unit(Mm{mm}, unit), decimals) + " " + std::string(unit_name(unit));
  return unit == LengthUnit::kInch ? words + " (" + sixteenths_text(Mm{mm}) + ")" : words;
}

std::string wall_words(double mm, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kMm ? 1 : 2;
  return fixed_text(in_unit(Mm{mm}, unit), decimals) + " " + std::string(unit_name(unit));
}

std::string weight_words(const Measured& g) {
  constexpr int kLeastDecimals = -6;
  return words_of(figure(g, 0, kLeastDecimals)) + " g";
}

std::string coils_text(const BuildPlan& plan, LengthUnit unit) {
  const int decimals = unit == LengthUnit::kMm ? 0 : 1;
  const auto length = [&](double mm) { return fixed_text(in_unit(Mm{mm}, unit), decimals); };
  const std::string name = std::string(unit_name(unit));
  Table table({true, true, true, true, true, false});
  table.add({"coil", "from " + name, "to " + name, "girth " + name, "roll " + name, "leans"});
  for (const Coil& coil : plan.coils) {
    table.add({std::to_string(coil.number), length(coil.low_mm), length(coil.high_mm),
               length(coil.girth_mm), length(coil.length_mm), lean_words(coil.lean_deg)});
  }
  return table.text() +
         wrapped("  ", coils_sentence(plan) + " Girth is round the outside, halfway up the coil.");
}

std::string bands_text(const BuildPlan& plan, LengthUnit unit) {
  if (plan.bands.empty()) return "";
  const int decimals = unit == LengthUnit::kMm ? 1 : 2;
  const auto length = [&](double mm) { return fixed_text(in_unit(Mm{mm}, unit), decimals); };
  const std::string name = std::string(unit_name(unit));
  Table table({false, true, true, true, true});
  table.add({"", "height " + name, "girth " + name, "repeats", "each " + name});
  const auto add = [&](const std::string& words, const BandPlan& band, const BandLine& line) {
    const bool repeated = band.band.repeats > 0;
    table.add({words, length(line.height_mm), length(line.girth_mm),
               repeated ? std::to_string(band.band.repeats) : "",
               repeated ? length(line.spacing_mm) : ""});
  };
  std::string strips;
  for (std::size_t i = 0; i < plan.bands.size(); ++i) {
    const BandPlan& band = plan.bands[i];
    std::string words =
        band.band.name.empty() ? "Band " + std::to_string(i + 1) : on_one_line(band.band.name);
    add(band.high ? words + ", lower line" : words, band, band.low);
    if (!band.high) continue;
    add(words + ", upper line", band, *band.high);
    words.append(": ").append(length(band.along_mm)).append(" ").append(name);
    strips += wrapped("  ", words.append(" up the wall from line to line."));
  }
  return "\nPainted bands, on the pot " + std::string(stage_words(plan.band_stage)) + "\n" +
         table.text() + strips +
         wrapped("  ",
                 "Heights are above the bench, girths round the outside. Mark a girth in equal "
                 "parts with a strip of paper laid round and folded.");
}

Json line_json(const BandLine& line, int repeats) {
  Json json{{"height_mm", line.height_mm}, {"girth_mm", line.girth_mm}};
  json["spacing_mm"] = repeats > 0 ? Json(line.spacing_mm) : Json();
  return json;
}

Json bands_json(const BuildPlan& plan) {
  Json list = Json::array();
  for (const BandPlan& band : plan.bands) {
    Json json = Json::object();
    json["name"] = band.band.name;
    json["repeats"] = band.band.repeats;
    json["low"] = line_json(band.low, band.band.repeats);
    json["high"] = band.high ? line_json(*band.high, band.band.repeats) : Json();
    json["along_mm"] = band.high ? Json(band.along_mm) : Json();
    list.push_back(std::move(json));
  }
  return list;
}

// The choices with whatever was typed in place of what they had. A wall that is typed for the foot
// alone is the same up to the rim.
PlanChoices with_typed(PlanChoices choices, const PlanChoices& typed) {
  const auto take = [](std::optional<double>& into, const std::optional<double>& newer) {
    if (newer) into = newer;
  };
  if (typed.wall_mm) choices.wall_rim_mm.reset();
  take(choices.wall_mm, typed.wall_mm);
  take(choices.wall_rim_mm, typed.wall_rim_mm);
  take(choices.wall_sd_mm, typed.wall_sd_mm);
  take(choices.coil_mm, typed.coil_mm);
  take(choices.allowance_percent, typed.allowance_percent);
  take(choices.cradle_mm, typed.cradle_mm);
  choices.band_stage = typed.band_stage;
  return choices;
}

Json coil_json(const Coil& coil) {
  return {{"number", coil.number},       {"from_mm", coil.low_mm},
          {"to_mm", coil.high_mm},       {"girth_mm", coil.girth_mm},
          {"length_mm", coil.length_mm}, {"lean_deg", coil.lean_deg},
          {"thickness_part", coil.part}, {"clay_ml", coil.clay_mm3 / kMm3PerMl}};
}

Json sag_json(const std::optional<Sag>& sag) {
  if (!sag) return Json();
  return {{"height_mm", sag->height_mm},
          {"lean_below_deg", sag->below_deg},
          {"lean_above_deg", sag->above_deg},
          {"steepest_height_mm", sag->steepest_mm},
          {"steepest_lean_deg", sag->steepest_deg}};
}

}  // namespace

std::vector<PaintedBand> painted_bands(const std::vector<ProjectBand>& bands) {
  std::vector<PaintedBand> painted;
  painted.reserve(bands.size());
  for (const ProjectBand& band : bands) {
    painted.push_back({band.name, band.height_mm, band.top_mm, band.repeats});
  }
  return painted;
}

std::string lean_words(double degrees) {
  const std::string amount = fixed_text(degrees < 0.0 ? -degrees : degrees, 0) + "°";
  constexpr double kUpright = 0.5;
  if (degrees > -kUpright && degrees < kUpright) return "upright";
  return amount + (degrees > 0.0 ? " out" : " in");
}

std::string cradle_sentence(const BuildPlan& plan, LengthUnit unit) {
  const Cradle& cradle = plan.cradle;
  std::string text = "Up to a line " + length_words(cradle.line_mm, unit) +
                     " above the bench the pot is pressed into a cradle, " +
                     length_words(cradle.diameter_mm, unit) + " wide at its mouth and " +
                     length_words(cradle.depth_mm, unit) + " deep";
  if (cradle.floor_mm > 0.0) text += ", with a floor of " + length_words(cradle.floor_mm, unit);
  text += ". It follows the lower profile of the wet pot; the piece of clay for it takes " +
          fixed_text(cradle.clay_mm3 / kMm3PerMl, 0) + " ml.";
  return text;
}

std::string sag_sentence(const BuildPlan& plan, LengthUnit unit) {
  if (!plan.sag) return "The wall nowhere leans inward, so it hardly sags.";
  const Sag& sag = *plan.sag;
  return "It turns inward fastest " + length_words(sag.height_mm, unit) +
         " above the bench, from " + lean_words(sag.below_deg) + " to " +
         lean_words(sag.above_deg) + ", and leans in most (" + lean_words(sag.steepest_deg) +
         ") at " + length_words(sag.steepest_mm, unit) +
         ": there the wall is likeliest to sag. Let what is below stiffen first.";
}

std::string coils_sentence(const BuildPlan& plan) {
  double together = 0.0;
  for (const Coil& coil : plan.coils) together += coil.length_mm;
  std::string text = "All together " + fixed_text(together / 1000.0, 1) + " m of coil.";
  constexpr double kWhole = 0.999;
  if (!plan.coils.empty() && plan.coils.back().part < kWhole) {
    text += " The last one need only be " + fixed_text(100.0 * plan.coils.back().part, 0) +
            " % as thick as the others.";
  }
  return text;
}

PlanChoices plan_choices(const Project& project) {
  if (!project.plan) return {};
  const ProjectPlan& plan = *project.plan;
  return {plan.wall_mm, plan.wall_rim_mm,       std::nullopt,
          plan.coil_mm, plan.allowance_percent, plan.cradle_mm};
}

Result<BuildPlan> plan_for(const Measurement& measurement, const PlanChoices& typed) {
  if (measurement.answer.scale == ScaleSource::kNone) {
    return Problem{Code::kCannotBeAnswered, "Nothing says how big the vessel is.",
                   "Mark something of known size, or give one size of the vessel, be it a guess.",
                   ""};
  }
  if (!measurement.clay || !measurement.shrinkage) {
    return Problem{Code::kCannotBeAnswered, "The project does not say how much its clay shrinks.",
                   "Give 'record' (see 'potshadow clay') or 'shrinkage_percent' in its 'clay'.",
                   ""};
  }
  const PlanChoices choices = with_typed(plan_choices(measurement.project), typed);
  const double enlargement = measurement.shrinkage->enlargement();
  const BodyFigures& clay = measurement.clay->figures;
  const Profile& fired = measurement.answer.profile;
  PlanRequest request{.wet_profile = profile_at_stage(fired, clay, Stage::kWet),
                      .wall = {},
                      .cradle_height_mm = choices.cradle_mm,
                      .clay = clay};
  const double own_wall = measurement.project.wall.value_mm * enlargement;
  request.wall.foot_mm = choices.wall_mm.value_or(own_wall);
  request.wall.rim_mm = choices.wall_rim_mm.value_or(request.wall.foot_mm);
  request.wall_sd_mm = choices.wall_sd_mm.value_or(request.wall_sd_mm);
  request.allowance_percent = choices.allowance_percent.value_or(request.allowance_percent);
  constexpr double kOfWall = 1.5;
  const double thickest = std::max(request.wall.foot_mm, request.wall.rim_mm);
  request.coil_mm = choices.coil_mm.value_or(std::max(request.coil_mm, kOfWall * thickest));
  Result<BuildPlan> found = build_plan(request);
  if (!found) return found;
  BuildPlan plan = std::move(found).value();
  const Result<std::vector<BandPlan>> bands =
      band_plans(fired, painted_bands(measurement.project.bands), clay, choices.band_stage);
  if (!bands) return bands.problem();
  plan.bands = *bands;
  plan.band_stage = choices.band_stage;
  for (const Note& note : measurement.answer.notes) {
    if (note.doubtful) plan.notes.push_back(note);
  }
  return plan;
}

std::string enlargement_words(const BodyFigures& figures) {
  const auto times = [&](SizeWay way) {
    const LinearShrinkage shrinkage = to_fired(figures, Stage::kWet, way);
    return fixed_text(1.0 / (1.0 - shrinkage.fraction), 3) + " times";
  };
  if (!has_ways(figures, Stage::kWet)) {
    return "Every length is that of the wet pot, " + times(SizeWay::kAcross) + " the fired one.";
  }
  return "Every length is that of the wet pot: heights " + times(SizeWay::kUpright) +
         " the fired ones, diameters " + times(SizeWay::kAcross) +
         ", as the clay's vertical and horizontal bars shrink.";
}

std::string plan_text(const Measurement& measurement, const BuildPlan& plan,
                      const std::string& file, LengthUnit unit) {
  const Measurement& m = measurement;
  std::string out = on_one_line(title_of(m.project, file)) + ": how to build it, wet\n";
  const std::string guessed = guessed_scale_words(m, unit);
  if (!guessed.empty()) out += wrapped("! ", guessed);
  out += wrapped("  ", enlargement_words(m.clay->figures) + " By " +
                           on_one_line(m.clay->name.empty() ? "the clay" : m.clay->name) + ": " +
                           clay_sentence(m.clay->figures));
  const PlanRequest& request = plan.request;
  std::string wall = wall_words(request.wall.foot_mm, unit);
  if (request.wall.rim_mm != request.wall.foot_mm) {
    wall += " at the foot, " + wall_words(request.wall.rim_mm, unit) + " at the rim";
  }
  out += wrapped("  ", "Wall: " + wall + ". Coils: " + wall_words(request.coil_mm, unit) +
                           " thick as rolled.");
  out += "\nClay\n";
  Table table({false, false});
  table.add({"Weigh out, wet", weight_words(plan.weigh_out_g) + ", " +
                                   fixed_text(request.allowance_percent, 0) +
                                   " % more than the pot holds, for scraping"});
  table.add({"of that, dry materials", weight_words(plan.dry_g)});
  table.add({"and water", weight_words(plan.water_g)});
  table.add({"Clay in the pot", fixed_text(plan.clay_mm3 / kMm3PerMl, 0) + " ml"});
  table.add({"Fired, empty", weight_words(plan.empty_g)});
  table.add({"Fired, to the brim", words_of(volume_figure(plan.capacity_ml)) + " ml, and then " +
                                       weight_words(plan.brim_full_g)});
  out += table.text();
  out += wrapped("  ", "Each ± is the 95 % interval for a pot built to these lengths.");
  out += "\nCradle\n" + wrapped("  ", cradle_sentence(plan, unit));
  out += "\nCoils\n" + coils_text(plan, unit) +
         wrapped(plan.sag ? "! " : "  ", sag_sentence(plan, unit));
  out += bands_text(plan, unit);
  if (!plan.notes.empty()) out += "\nNotes\n";
  for (const Note& note : plan.notes) {
    out += wrapped(note.doubtful ? "! " : "- ", on_one_line(note.text));
  }
  out += "\nTake care\n";
  for (const std::string_view caution : clay_cautions()) out += wrapped("- ", std::string(caution));
  return out;
}

std::string plan_json(const Measurement& measurement, const BuildPlan& plan,
                      const std::string& file) {
  Json json = Json::object();
  json["project"] = title_of(measurement.project, file);
  const auto enlargement = [&](SizeWay way) {
    return 1.0 / (1.0 - to_fired(measurement.clay->figures, Stage::kWet, way).fraction);
  };
  json["enlargement"] = measurement.shrinkage->enlargement();
  json["enlargement_upright"] = enlargement(SizeWay::kUpright);
  json["enlargement_across"] = enlargement(SizeWay::kAcross);
  json["guess"] = measurement.answer.scale == ScaleSource::kGuess;
  json["clay"] = clay_json(measurement);
  json["wall_mm"] = {{"foot", plan.request.wall.foot_mm},
                     {"rim", plan.request.wall.rim_mm},
                     {"sd", plan.request.wall_sd_mm}};
  json["coil_mm"] = plan.request.coil_mm;
  json["allowance_percent"] = plan.request.allowance_percent;
  json["clay_ml"] = plan.clay_mm3 / kMm3PerMl;
  json["weigh_out_g"] = measured_json(plan.weigh_out_g);
  json["dry_g"] = measured_json(plan.dry_g);
  json["water_g"] = measured_json(plan.water_g);
  json["fired_empty_g"] = measured_json(plan.empty_g);
  json["fired_capacity_ml"] = measured_json(plan.capacity_ml);
  json["fired_brim_full_g"] = measured_json(plan.brim_full_g);
  json["cradle"] = {{"line_mm", plan.cradle.line_mm},
                    {"diameter_mm", plan.cradle.diameter_mm},
                    {"depth_mm", plan.cradle.depth_mm},
                    {"floor_mm", plan.cradle.floor_mm},
                    {"clay_ml", plan.cradle.clay_mm3 / kMm3PerMl}};
  json["coils"] = Json::array();
  for (const Coil& coil : plan.coils) json["coils"].push_back(coil_json(coil));
  json["sag"] = sag_json(plan.sag);
  json["bands_at"] = std::string(stage_key(plan.band_stage));
  json["bands"] = bands_json(plan);
  json["notes"] = Json::array();
  for (const Note& note : plan.notes) {
    json["notes"].push_back({{"text", note.text}, {"doubtful", note.doubtful}});
  }
  return json_text({{"format", 1}, {"plan", std::move(json)}});
}

}  // namespace potshadow
