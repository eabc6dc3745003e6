// SPDX-License-Identifier: MIT
#include "desktop/window/plan_bands.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "desktop/window/kit.h"
#include "desktop/window/number_fields.h"
#include "desktop/window/table.h"
#include "desktop/words/plan_words.h"
#include "desktop/words/stage_words.h"

namespace potshadow {
namespace {

void fields(Frame& frame, std::size_t index) {
  const std::vector<ProjectBand>& bands = frame.document().bands;
  const ProjectBand& band = bands[index];
  const auto put = [&](ProjectBand changed) {
    std::vector<ProjectBand> all = bands;
    all[index] = std::move(changed);
    frame.ask(Perform{SetBands{std::move(all)}});
  };
  ImGui::PushID(static_cast<int>(index));
  {
    kit::FieldRow row(frame);
    row.next(150);
    if (const auto name = kit::text(frame, "Name of the band", band.name, {.width = row.width()})) {
      ProjectBand changed = band;
      changed.name = *name;
      put(std::move(changed));
    }
    row.next(110);
    if (const auto height = length_field(frame, {.label = "Line at, on the original",
                                                 .mm = band.height_mm,
                                                 .tooltip = "Height above its foot.",
                                                 .least_allowed = true,
                                                 .width = row.width()})) {
      ProjectBand changed = band;
      changed.height_mm = *height;
      put(std::move(changed));
    }
    row.next(110);
    if (const auto top = length_field_or_none(
            frame, {.label = "Upper line",
                    .mm = band.top_mm,
                    .tooltip = "Where it is a strip between two lines. Empty: a single line.",
                    .width = row.width()})) {
      ProjectBand changed = band;
      changed.top_mm = *top;
      put(std::move(changed));
    }
    row.next(80);
    if (const auto repeats = count_field(frame, {.label = "Repeats",
                                                 .value = band.repeats,
                                                 .tooltip = "Of its motif, all round; 0: none.",
                                                 .least = 0,
                                                 .most = kMostRepeats,
                                                 .width = row.width()})) {
      ProjectBand changed = band;
      changed.repeats = *repeats;
      put(std::move(changed));
    }
  }
  if (kit::button(frame, "Take this band out", {.width = 0.0})) {
    std::vector<ProjectBand> fewer = bands;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(index));
    frame.state.band.reset();
    frame.ask(Perform{SetBands{std::move(fewer)}});
  }
  ImGui::PopID();
}

}  // namespace

void plan_bands(Frame& frame, const BuildPlan& plan) {
  const std::string unit(unit_name(frame.settings.unit));
  kit::heading(frame, "Painted bands, in " + unit);
  std::optional<std::size_t>& open = frame.state.band;
  std::vector<kit::TableRow> rows;
  for (const BandRow& row : band_rows(plan, frame.settings.unit)) {
    rows.push_back({.cells = {row.name, row.height, row.girth, row.repeats, row.each},
                    .name = "Band " + row.name,
                    .chosen = open == row.band});
  }
  if (rows.empty()) {
    kit::note(frame, "Lines and motifs of the original, carried over to the new pot.");
  } else if (const auto clicked = kit::table(frame, "bands",
                                             {{.heading = "Band", .fills = true},
                                              {"Height", true},
                                              {"Girth", true},
                                              {"Repeats", true},
                                              {"Each", true}},
                                             rows)) {
    const std::size_t band = band_rows(plan, frame.settings.unit)[*clicked].band;
    open = open == band ? std::nullopt : std::optional(band);
  }
  if (open && *open < frame.document().bands.size()) fields(frame, *open);
  if (kit::button(frame, "Add a band", {.width = 0.0})) {
    std::vector<ProjectBand> more = frame.document().bands;
    ProjectBand band;
    const double enlargement = 1.0 / (1.0 - plan.request.clay.total.shrinkage.fraction);
    band.height_mm = std::round(0.5 * plan.request.wet_profile.at(1.0).height_mm / enlargement);
    open = more.size();
    more.push_back(std::move(band));
    frame.ask(Perform{SetBands{std::move(more)}});
  }
  if (!rows.empty()) {
    std::vector<std::string> stages;
    for (const Stage stage : kStages) stages.push_back(stage_title(stage));
    const auto now = static_cast<std::size_t>(
        std::find(kStages.begin(), kStages.end(), frame.state.bands_at) - kStages.begin());
    const auto picked = kit::list(frame, "Painted on the pot when it is", stages, now,
                                  "Heights, girths and spacings are those of the pot then.", 200.0);
    if (picked) frame.state.bands_at = kStages.at(*picked);
  }
}

}  // namespace potshadow
