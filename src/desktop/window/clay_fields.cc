// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "clay/body_figures.h"
#include "core/typed_number.h"
#include "desktop/window/clay_views.h"
#include "desktop/window/kit.h"
#include "desktop/window/number_fields.h"
#include "desktop/window/table.h"

namespace potshadow {
namespace {

constexpr double kLengthWidth = 96.0;

std::string bar_words(const ClayBody& body, std::size_t bar) {
  return "bar " + std::to_string(bar + 1) + " of '" + body.record + "'";
}

void put(Frame& frame, const ClayBody& body, std::size_t bar, TestBar changed) {
  ClayBody more = body;
  more.bars[bar] = std::move(changed);
  frame.ask(PutClay{std::move(more), "Change " + bar_words(body, bar)});
}

// "950", "950 °C", "06", "cone 6": up to two digits, or with a leading 0, are a cone.
void set_heat(const std::string& typed, TestBar& bar) {
  std::string text = typed;
  constexpr double kLeastHeat = 100.0;
  const std::size_t degree = text.find("°");
  if (degree != std::string::npos) text.resize(degree);
  const std::optional<double> number = typed_number(text);
  bar.firing_c.reset();
  bar.cone.clear();
  if (number && *number >= kLeastHeat && text.front() != '0') {
    bar.firing_c = *number;
    return;
  }
  constexpr std::string_view kCone = "cone ";
  bar.cone = typed.starts_with(kCone) ? typed.substr(kCone.size()) : typed;
}

std::string heat_text(const TestBar& bar) {
  if (bar.firing_c) return typed_text(*bar.firing_c, 0);
  return bar.cone.empty() ? "" : "cone " + bar.cone;
}

void lengths(Frame& frame, const ClayBody& body, std::size_t index) {
  const TestBar& bar = body.bars[index];
  const std::vector<std::pair<std::string, std::optional<double> TestBar::*>> fields{
      {"Marks wet", &TestBar::wet_mm},
      {"Leather-hard", &TestBar::leather_mm},
      {"Bone-dry", &TestBar::dry_mm},
      {"Fired", &TestBar::fired_mm}};
  kit::FieldRow row(frame);
  for (const auto& [label, field] : fields) {
    row.next(kLengthWidth);
    const auto typed =
        length_field_or_none(frame, {.label = label,
                                     .mm = bar.*field,
                                     .tooltip = "From mark to mark. Empty: not measured yet.",
                                     .width = row.width()});
    if (!typed) continue;
    TestBar changed = bar;
    changed.*field = *typed;
    put(frame, body, index, std::move(changed));
  }
  row.next(130);
  const auto heat = kit::text(frame, "Fired to, °C or cone", heat_text(bar),
                              {.tooltip = "As 950, or a cone as 06.", .width = row.width()});
  if (heat) {
    TestBar changed = bar;
    set_heat(*heat, changed);
    put(frame, body, index, std::move(changed));
  }
}

void weights(Frame& frame, const ClayBody& body, std::size_t index) {
  const TestBar& bar = body.bars[index];
  const std::vector<std::pair<std::string, std::optional<double> TestBar::*>> fields{
      {"Weight wet", &TestBar::wet_g},
      {"Weight dry", &TestBar::dry_g},
      {"Weight fired", &TestBar::fired_g}};
  kit::FieldRow row(frame);
  for (const auto& [label, field] : fields) {
    row.next(kLengthWidth);
    const auto typed = kit::number(frame, label, bar.*field,
                                   {.unit = "g",
                                    .tooltip = "For the clay and water to weigh out. Empty: not "
                                               "weighed.",
                                    .width = row.width()});
    if (!typed) continue;
    TestBar changed = bar;
    changed.*field = *typed;
    put(frame, body, index, std::move(changed));
  }
  row.next(130);
  const std::vector<std::string> ways{"either way", "upright", "across"};
  const auto way =
      kit::list(frame, "Cut along the pot", ways, static_cast<std::size_t>(bar.way),
                "Coils and slabs can shrink more one way than the other.", row.width());
  if (way) {
    TestBar changed = bar;
    changed.way = static_cast<BarWay>(*way);
    put(frame, body, index, std::move(changed));
  }
}

void remarks(Frame& frame, const ClayBody& body, std::size_t index) {
  const TestBar& bar = body.bars[index];
  kit::FieldRow row(frame);
  row.next(120);
  if (const auto date = kit::text(frame, "Date", bar.date, {.width = row.width()})) {
    TestBar changed = bar;
    changed.date = *date;
    put(frame, body, index, std::move(changed));
  }
  row.next(330);
  if (const auto note = kit::text(frame, "Note on the bar", bar.note, {.width = row.width()})) {
    TestBar changed = bar;
    changed.note = *note;
    put(frame, body, index, std::move(changed));
  }
}

}  // namespace

void bar_fields(Frame& frame, const ClayBody& body, std::size_t index) {
  ImGui::PushID(static_cast<int>(index));
  kit::space(frame);
  kit::words(frame, "Bar " + std::to_string(index + 1));
  lengths(frame, body, index);
  weights(frame, body, index);
  remarks(frame, body, index);
  clay_trouble(frame);
  bool used = body.bars[index].used;
  if (kit::check(frame, "It counts", used,
                 "A bar that cracked or bent is better left out than taken out.")) {
    TestBar changed = body.bars[index];
    changed.used = used;
    put(frame, body, index, std::move(changed));
  }
  if (kit::button(frame, "Take this bar out", {.width = 0.0})) {
    ClayBody fewer = body;
    fewer.bars.erase(fewer.bars.begin() + static_cast<std::ptrdiff_t>(index));
    frame.state.clays.bar.reset();
    frame.ask(PutClay{std::move(fewer), "Take out " + bar_words(body, index)});
  }
  ImGui::SameLine();
  if (kit::button(frame, "Done with it", {.width = 0.0})) frame.state.clays.bar.reset();
  ImGui::PopID();
  kit::space(frame, 16);
}

void mix_fields(Frame& frame, const ClayBody& body, std::size_t index) {
  ImGui::PushID(static_cast<int>(index));
  const MixPart& part = body.mix[index];
  const auto put_part = [&](MixPart changed) {
    ClayBody more = body;
    more.mix[index] = std::move(changed);
    frame.ask(PutClay{std::move(more), "Change the mix of '" + body.record + "'"});
  };
  {
    kit::FieldRow row(frame);
    row.next(200);
    if (const auto name = kit::text(frame, "What it is", part.name,
                                    {.tooltip = "A name of a clay in your book stands for that "
                                                "clay, so that its bars count.",
                                     .width = row.width()})) {
      MixPart changed = part;
      changed.name = *name;
      changed.record.clear();
      for (const ClayBody& other : frame.session.clays().book().bodies) {
        const bool same = other.name == *name || other.record == *name;
        if (same && other.record != body.record) changed.record = other.record;
      }
      put_part(std::move(changed));
    }
    row.next(96);
    if (const auto parts = kit::number(
            frame, "Dry weight", part.dry_parts,
            {.tooltip = "In any unit, the same for all parts.", .width = row.width()})) {
      MixPart changed = part;
      changed.dry_parts = parts->value_or(0.0);
      put_part(std::move(changed));
    }
    row.next(220);
    const std::vector<std::string> kinds{"Clay, which shrinks", "Temper: grog, sand, grit"};
    const auto kind =
        kit::list(frame, "Which kind", kinds, static_cast<std::size_t>(part.kind), "", row.width());
    if (kind) {
      MixPart changed = part;
      changed.kind = static_cast<MixKind>(*kind);
      put_part(std::move(changed));
    }
  }
  clay_trouble(frame);
  if (kit::button(frame, "Take this part out", {.width = 0.0})) {
    ClayBody fewer = body;
    fewer.mix.erase(fewer.mix.begin() + static_cast<std::ptrdiff_t>(index));
    frame.state.clays.part.reset();
    frame.ask(PutClay{std::move(fewer), "Take a part out of the mix of '" + body.record + "'"});
  }
  ImGui::SameLine();
  if (kit::button(frame, "Done with this part", {.width = 0.0})) frame.state.clays.part.reset();
  ImGui::PopID();
  kit::space(frame, 8);
}

}  // namespace potshadow
