// SPDX-License-Identifier: MIT
#include "project/typed_bench.h"

#include <array>
#include <optional>
#include <string>
#include <utility>

#include "core/typed_number.h"

namespace potshadow {
namespace {

constexpr std::array<std::pair<std::string_view, SizeName>, 8> kShortNames{
    {{"height", SizeName::kHeight},
     {"max", SizeName::kMaxDiameter},
     {"max-height", SizeName::kHeightOfMax},
     {"neck", SizeName::kNeckDiameter},
     {"neck-height", SizeName::kHeightOfNeck},
     {"rim", SizeName::kRimDiameter},
     {"base", SizeName::kBaseDiameter},
     {"capacity", SizeName::kCapacity}}};

std::optional<SizeName> size_called(std::string_view name) {
  for (const auto& [short_name, size] : kShortNames) {
    if (short_name == name) return size;
  }
  return size_of_key(name);
}

Problem not_understood(std::string_view text, const std::string& why) {
  return {Code::kBadValue, "The size '" + std::string(text) + "' is not understood: " + why + ".",
          "Write it as max=240, height=262±1 or girth:max=752.", ""};
}

// Splits at the first of the separators; the second part is absent where there is none.
std::pair<std::string_view, std::optional<std::string_view>> split(
    std::string_view text, std::initializer_list<std::string_view> separators) {
  for (const std::string_view separator : separators) {
    const std::size_t at = text.find(separator);
    if (at != std::string_view::npos) {
      return {text.substr(0, at), text.substr(at + separator.size())};
    }
  }
  return {text, std::nullopt};
}

}  // namespace

Result<BenchSizeReading> typed_bench_size(std::string_view text, LengthUnit unit) {
  const auto [name_and_tool, lengths] = split(text, {"="});
  if (!lengths) return not_understood(text, "it has no '='");
  const auto [first, second] = split(name_and_tool, {":"});
  const std::string_view name = second.value_or(first);
  const std::optional<SizeName> size = size_called(name);
  if (!size) return not_understood(text, "'" + std::string(name) + "' is no size of a pot");

  BenchSizeReading typed;
  typed.size = *size;
  const bool diameter = part_kind_of(*size) == PartKind::kDiameter;
  typed.reading.tool = diameter ? BenchTool::kCaliper : BenchTool::kTape;
  if (second) {
    const std::optional<BenchTool> tool = tool_of_key(first);
    if (!tool) return not_understood(text, "'" + std::string(first) + "' is no tool");
    typed.reading.tool = *tool;
  }
  const auto [length, tolerance] = split(*lengths, {"±", "+-"});
  const double mm_per_unit = *size == SizeName::kCapacity ? 1.0 : 1.0 / in_unit(Mm{1.0}, unit);
  const std::optional<double> value = typed_number(length);
  if (!value) return not_understood(text, "'" + std::string(length) + "' is no number");
  typed.reading.mm = *value * mm_per_unit;
  if (!tolerance) return typed;
  const std::optional<double> within = typed_number(*tolerance);
  if (!within) return not_understood(text, "'" + std::string(*tolerance) + "' is no number");
  typed.reading.tolerance_mm = *within * mm_per_unit;
  return typed;
}

}  // namespace potshadow
