// SPDX-License-Identifier: MIT
#include "desktop/window/hidden_parts.h"

#include <optional>
#include <string>
#include <utility>

#include "core/text.h"
#include "desktop/window/kit.h"

namespace potshadow {
namespace {

constexpr double kTallestMm = 5000.0;  // of what one person can throw or build, with room to spare

struct BoundWords {
  const char* low;
  const char* high;
  const char* what;  // the tooltip of both
};

constexpr BoundWords kFoot{"Pot seen from, at least", "Pot seen from, at most",
                           "How high above the shelf the pot comes into sight: the height of the "
                           "stand or mount. Mark the outline down to there. Empty leaves it open."};
constexpr BoundWords kRim{"Whole height, at least", "Whole height, at most",
                          "How high the whole vessel was, as others of its kind or a shard tell. "
                          "Empty leaves it open."};

// Returns the bounds as changed, or nothing where they were not.
std::optional<ProjectHidden> bounds(Frame& frame, const ProjectHidden& now,
                                    const BoundWords& words) {
  const LengthUnit unit = frame.settings.unit;
  const double per_mm = in_unit(Mm{1.0}, unit);
  ProjectHidden changed = now;
  const auto field = [&](const char* label, std::optional<double>& value_mm) {
    std::optional<double> shown;
    if (value_mm) shown = *value_mm * per_mm;
    const auto typed = kit::number(frame, label, shown,
                                   {.unit = std::string(unit_name(unit)),
                                    .tooltip = words.what,
                                    .decimals = unit == LengthUnit::kMm ? 1 : 3,
                                    .hint = "open"});
    if (!typed) return;
    std::optional<double> mm;
    if (*typed) mm = **typed / per_mm;
    if (mm && !(*mm >= 0.0 && *mm <= kTallestMm)) {
      kit::complain(frame, "That is no height on a vessel, so nothing was changed.",
                    "Type it in " + std::string(unit_name(unit)) + ", or leave it empty.");
      return;
    }
    value_mm = mm;
  };
  field(words.low, changed.low_mm);
  field(words.high, changed.high_mm);
  if (changed == now) return std::nullopt;
  if (changed.low_mm && changed.high_mm && *changed.low_mm > *changed.high_mm) {
    kit::complain(frame, "The least is larger than the most, so nothing was changed.",
                  "Empty one of the two fields first, or type another number.");
    return std::nullopt;
  }
  return changed;
}

template <class Set>
void part(Frame& frame, const char* label, const char* tooltip,
          const std::optional<ProjectHidden>& now, const BoundWords& words, MarkKind kind) {
  bool hidden = now.has_value();
  if (kit::check(frame, label, hidden, tooltip)) {
    frame.ask(Perform{Set{hidden ? std::optional(ProjectHidden{}) : std::nullopt}});
    if (hidden && frame.state.tool == Tool{.kind = ToolKind::kMark, .mark = kind}) {
      frame.state.tool = Tool{};
    }
    return;
  }
  if (!now) return;
  if (auto changed = bounds(frame, *now, words)) frame.ask(Perform{Set{std::move(changed)}});
}

}  // namespace

void hidden_parts(Frame& frame) {
  const Document& document = frame.document();
  part<SetHiddenFoot>(
      frame, "The foot can't be seen (stand or mount)",
      "What the stand hides is left open, and the rest is answered all the same. The foot then "
      "needs no marks.",
      document.hidden_foot, kFoot, MarkKind::kBase);
  part<SetHiddenRim>(
      frame, "The rim is broken or can't be seen",
      "The form is given as far up as its sides are marked. The rim then needs no marks.",
      document.hidden_rim, kRim, MarkKind::kRim);
}

}  // namespace potshadow
