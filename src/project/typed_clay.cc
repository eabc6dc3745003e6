// SPDX-License-Identifier: MIT
#include "project/typed_clay.h"

#include <algorithm>
#include <optional>
#include <string>

#include "clay/body_figures.h"
#include "core/typed_number.h"
#include "project/clay_book.h"

namespace potshadow {
namespace {

std::string trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return std::string(text);
}

Problem not_understood(const std::string& part) {
  return {Code::kBadValue, "The part '" + part + "' of the mix is not understood.",
          "Write each as NAME=PARTS with commas between, as in \"river=70, temper:Grog=30\".", ""};
}

Result<MixPart> typed_part(const std::string& text, const std::vector<ClayBody>& book) {
  constexpr std::string_view kTemper = "temper:";
  const std::size_t equals = text.rfind('=');
  if (equals == std::string::npos) return not_understood(text);
  MixPart part;
  part.name = trimmed(std::string_view(text).substr(0, equals));
  if (part.name.starts_with(kTemper)) {
    part.kind = MixKind::kTemper;
    part.name = trimmed(std::string_view(part.name).substr(kTemper.size()));
  }
  std::string amount = trimmed(std::string_view(text).substr(equals + 1));
  if (amount.ends_with('%')) amount.pop_back();
  const std::optional<double> parts = typed_number(amount);
  if (part.name.empty() || !parts || !(*parts > 0.0)) return not_understood(text);
  part.dry_parts = *parts;
  if (const ClayBody* const body = body_in(book, part.name); body != nullptr) {
    part.record = body->record;
    part.name = clay_words(*body);
  }
  return part;
}

void take(std::optional<double>& into, const std::optional<double>& newer) {
  if (newer) into = newer;
}
void take(std::string& into, const std::string& newer) {
  if (!newer.empty()) into = newer;
}

}  // namespace

Result<std::vector<MixPart>> typed_mix(std::string_view text, const std::vector<ClayBody>& book) {
  std::vector<MixPart> mix;
  std::size_t at = 0;
  while (at <= text.size()) {
    const std::size_t end = std::min(text.find(',', at), text.size());
    const Result<MixPart> part = typed_part(trimmed(text.substr(at, end - at)), book);
    if (!part) return part.problem();
    mix.push_back(*part);
    at = end + 1;
  }
  return mix;
}

TestBar with_newer(TestBar bar, const TestBar& newer) {
  take(bar.wet_mm, newer.wet_mm);
  take(bar.leather_mm, newer.leather_mm);
  take(bar.dry_mm, newer.dry_mm);
  take(bar.fired_mm, newer.fired_mm);
  take(bar.wet_g, newer.wet_g);
  take(bar.dry_g, newer.dry_g);
  take(bar.fired_g, newer.fired_g);
  // A heat in degrees goes before a cone, so the newer of the two must stand alone.
  if (newer.firing_c || !newer.cone.empty()) {
    bar.firing_c = newer.firing_c;
    bar.cone = newer.cone;
  }
  if (newer.way != BarWay::kEither) bar.way = newer.way;
  take(bar.date, newer.date);
  take(bar.note, newer.note);
  return bar;
}

}  // namespace potshadow
