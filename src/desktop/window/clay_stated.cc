// SPDX-License-Identifier: MIT
#include <cmath>
#include <functional>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "desktop/window/clay_views.h"
#include "desktop/window/kit.h"
#include "desktop/window/table.h"

namespace potshadow {
namespace {

constexpr double kValueWidth = 176.0;
constexpr double kWithinWidth = 110.0;

// A figure as it is typed: "11 within ± 1", anywhere within it. Source: JCGM 100:2008, 4.3.7.
double within_of(double sd) { return sd * std::numbers::sqrt3; }
double sd_of_within(double within) { return within / std::numbers::sqrt3; }

// One stated figure of a body: how it is read and written.
struct StatedRow {
  std::string label;
  std::string short_label;
  std::string unit;
  std::string tooltip;
  double usual_within = 0.0;  // where none is typed; common practice, no source
  std::optional<StatedValue> now{};
  std::function<void(ClayBody&, std::optional<StatedValue>)> put;
};

std::optional<StatedValue> shrinkage_in(const ClayBody& body, Stage from, Stage to) {
  for (const StatedShrinkage& stated : body.stated) {
    if (stated.from == from && stated.to == to) {
      return StatedValue{stated.percent, stated.sd_percent};
    }
  }
  return std::nullopt;
}

void put_shrinkage(ClayBody& body, Stage from, Stage to, const std::optional<StatedValue>& value) {
  const auto same = [&](const StatedShrinkage& s) { return s.from == from && s.to == to; };
  if (!value) {
    std::erase_if(body.stated, same);
    return;
  }
  for (StatedShrinkage& stated : body.stated) {
    if (!same(stated)) continue;
    stated.percent = value->value;
    stated.sd_percent = value->sd;
    return;
  }
  body.stated.push_back({from, to, value->value, value->sd});
}

StatedRow shrinkage_row(const ClayBody& body, const std::string& label,
                        const std::string& short_label, Stage from, Stage to,
                        const std::string& tooltip) {
  return {label,
          short_label,
          "%",
          tooltip,
          1.0,
          shrinkage_in(body, from, to),
          [from, to](ClayBody& changed, std::optional<StatedValue> value) {
            put_shrinkage(changed, from, to, value);
          }};
}

StatedRow value_row(const ClayBody& body, const std::string& label, const std::string& short_label,
                    const std::string& unit, const std::string& tooltip, double usual_within,
                    std::optional<StatedValue> ClayBody::*which) {
  return {label,
          short_label,
          unit,
          tooltip,
          usual_within,
          body.*which,
          [which](ClayBody& changed, std::optional<StatedValue> value) { changed.*which = value; }};
}

void fields(Frame& frame, kit::FieldRow& places, const ClayBody& body, const StatedRow& row) {
  const auto put = [&](std::optional<StatedValue> value) {
    ClayBody changed = body;
    row.put(changed, value);
    frame.ask(PutClay{std::move(changed), "Change what is stated of '" + body.record + "'"});
  };
  places.next(kValueWidth);
  const auto value = kit::number(
      frame, row.label, row.now ? std::optional<double>(row.now->value) : std::nullopt,
      {.unit = row.unit, .tooltip = row.tooltip, .hint = "not stated", .width = places.width()});
  if (value && *value) {
    put(StatedValue{**value, row.now ? row.now->sd : sd_of_within(row.usual_within)});
  } else if (value) {
    put(std::nullopt);
  }
  if (!row.now) return;
  places.next(kWithinWidth);
  const auto within = kit::number(
      frame, row.short_label + " within ±", within_of(row.now->sd),
      {.tooltip = "From 10 to 12 is 11 within ± 1.", .decimals = 2, .width = places.width()});
  if (within) put(StatedValue{row.now->value, sd_of_within(within->value_or(row.usual_within))});
}

}  // namespace

void stated_fields(Frame& frame, const ClayBody& body) {
  const bool stated =
      !body.stated.empty() || body.water_percent || body.wet_density || body.fired_density;
  if (!kit::fold(frame, "What its maker states", stated)) return;
  kit::note(frame,
            "Of a clay that you buy, or that somebody told you of. Where there are bars, they go "
            "before it.");
  kit::FieldRow places(frame);
  fields(frame, places, body,
         shrinkage_row(body, "Shrinks in all, of the wet length", "In all", Stage::kWet,
                       Stage::kFired, "From wet to fired, along a line."));
  fields(frame, places, body,
         shrinkage_row(body, "Drying, of the wet length", "Drying", Stage::kWet, Stage::kBoneDry,
                       "From wet to bone-dry."));
  fields(frame, places, body,
         shrinkage_row(body, "Firing, of the dry length", "Firing", Stage::kBoneDry, Stage::kFired,
                       "From bone-dry to fired."));
  fields(frame, places, body,
         value_row(body, "Water, of the dry weight", "Water", "%", "That makes it plastic.", 3.0,
                   &ClayBody::water_percent));
  fields(frame, places, body,
         value_row(body, "Density, wet", "Density wet", "g/cm³", "A litre of it in kilograms.",
                   0.05, &ClayBody::wet_density));
  fields(frame, places, body,
         value_row(body, "Density, fired", "Density fired", "g/cm³", "Pores included.", 0.05,
                   &ClayBody::fired_density));
}

}  // namespace potshadow
