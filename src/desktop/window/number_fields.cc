// SPDX-License-Identifier: MIT
#include "desktop/window/number_fields.h"

#include <cmath>

#include "core/text.h"
#include "desktop/window/kit.h"

namespace potshadow {
namespace {

void complain_of_length(Frame& frame) {
  const LengthUnit unit = frame.settings.unit;
  kit::complain(frame, "That is not a length that can be here, so nothing was changed.",
                "Type it in " + std::string(unit_name(unit)) + ", for example " +
                    (unit == LengthUnit::kMm ? "85.6." : "3 1/2."));
}

}  // namespace

std::optional<std::optional<double>> length_field_or_none(Frame& frame, const LengthField& field) {
  const LengthUnit unit = frame.settings.unit;
  std::optional<double> shown;
  if (field.mm) shown = in_unit(Mm{*field.mm}, unit);
  const auto typed = kit::number(frame, field.label, shown,
                                 {.unit = std::string(unit_name(unit)),
                                  .tooltip = field.tooltip,
                                  .decimals = unit == LengthUnit::kMm ? 2 : 3,
                                  .hint = field.hint,
                                  .width = field.width});
  if (!typed || !*typed) return typed;
  const double mm = **typed / in_unit(Mm{1.0}, unit);
  const bool enough = field.least_allowed ? mm >= field.least_mm : mm > field.least_mm;
  if (!enough || mm > field.most_mm) {
    complain_of_length(frame);
    return std::nullopt;
  }
  return std::optional<double>(mm);
}

std::optional<double> length_field(Frame& frame, const LengthField& field) {
  const auto typed = length_field_or_none(frame, field);
  if (!typed) return std::nullopt;
  if (!*typed) complain_of_length(frame);
  return *typed;
}

std::optional<int> count_field(Frame& frame, const CountField& field) {
  const auto typed = kit::number(frame, field.label, field.value,
                                 {.tooltip = field.tooltip, .decimals = 0, .width = field.width});
  if (!typed) return std::nullopt;
  const double count = typed->value_or(field.least - 1.0);
  if (!(count >= field.least && count <= field.most) || count != std::floor(count)) {
    kit::complain(frame, "That is not a number that can be here, so nothing was changed.",
                  "Type a whole number from " + std::to_string(field.least) + " to " +
                      std::to_string(field.most) + ".");
    return std::nullopt;
  }
  return static_cast<int>(count);
}

}  // namespace potshadow
