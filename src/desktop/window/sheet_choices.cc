// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>

#include "clay/painted_bands.h"
#include "desktop/window/kit.h"
#include "desktop/window/number_fields.h"
#include "desktop/window/sheet_panel.h"
#include "desktop/words/print_words.h"
#include "desktop/words/stage_words.h"

namespace potshadow {
namespace {

void stage(Frame& frame) {
  std::vector<std::string> entries;
  for (const Stage each : kStages) entries.push_back(stage_title(each));
  Stage& chosen = frame.state.sheets.stage;
  const auto now =
      static_cast<std::size_t>(std::find(kStages.begin(), kStages.end(), chosen) - kStages.begin());
  const auto picked = kit::list(frame, "For the pot when it is", entries, now,
                                "Sheets are as large as the pot is at that stage; wet for building "
                                "it, fired for the original's own size.");
  if (picked) chosen = kStages.at(*picked);
}

void hands(Frame& frame) {
  PrintSettings print = frame.settings.print;
  bool changed = kit::check(frame, "For the left hand", print.left_handed,
                            "Turns gauge, rib and cradle template over.");
  changed = kit::check(frame, "Whole pieces", print.whole,
                       "Both sides of gauge, rib and cradle template, and whole rings where they "
                       "slip on; else halves.") ||
            changed;
  if (changed) change_print(frame, print);
}

void unrolling(Frame& frame) {
  UnrollWish& unroll = frame.state.sheets.unroll;
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame.look.scale - 8.0);
  const bool was_picture = unroll.picture;
  if (kit::choice(frame, "Picture", unroll.picture,
                  {.tooltip = "What was unrolled, part by part. Stripes show through where no "
                              "photograph sees the wall, and where it is seen at a slant.",
                   .width = half})) {
    unroll.picture = true;
  }
  ImGui::SameLine();
  if (kit::choice(frame, "Sheets", !unroll.picture,
                  {.tooltip = "The pages that it is printed on at true size.", .width = half})) {
    unroll.picture = false;
  }
  if (unroll.picture != was_picture) {
    frame.state.sheets.page = 0;
    frame.state.sheets.zoom = 0.0;
  }
  const auto repeats = count_field(
      frame, {.label = "Repeats round the pot",
              .value = unroll.repeats,
              .tooltip = "Draws borders between so many repeats of a motif, one of them centred on "
                         "the front. 0: as a painted band itself says.",
              .least = 0,
              .most = kMostRepeats});
  if (repeats) unroll.repeats = *repeats;
  constexpr double kFullTurn = 360.0;
  const auto front = kit::number(frame, "In the middle", unroll.front_deg,
                                 {.unit = "°",
                                  .tooltip = "Which side of the pot: 0 is where the first "
                                             "photograph looks, more is to the right of it.",
                                  .decimals = 1});
  if (front && *front && **front >= -kFullTurn && **front <= kFullTurn) {
    unroll.front_deg = **front;
  } else if (front) {
    kit::complain(frame, "That is no direction.", "Give it from -360 to 360 degrees.");
  }
  kit::check(frame, "All round", unroll.all_round,
             "The whole girth, blank where no photograph shows it; else as far round as they do.");
  kit::note(frame,
            "What stands before the pot and what its glaze mirrors comes along. A design belongs "
            "to someone: ask those whose it is.");
}

}  // namespace

void change_print(Frame& frame, const PrintSettings& print) {
  Settings settings = frame.settings;
  settings.print = print;
  frame.ask(ChangeSettings{settings});
  frame.state.sheets.page = 0;
  frame.state.sheets.zoom = 0.0;
  frame.state.sheets.most_pages = kMostPages;
}

void choose_printed(Frame& frame) {
  std::vector<std::string> entries;
  for (const Printed each : kPrinted) entries.emplace_back(printed_title(each));
  const PrintSettings& now = frame.settings.print;
  const auto picked =
      kit::list(frame, "What to make", entries, static_cast<std::size_t>(now.printed), "");
  kit::note(frame, std::string(printed_note(now.printed)));
  if (!picked || kPrinted.at(*picked) == now.printed) return;
  PrintSettings print = now;
  print.printed = kPrinted.at(*picked);
  change_print(frame, print);
}

void sheet_choices(Frame& frame) {
  const Printed printed = frame.settings.print.printed;
  kit::heading(frame, "Made how");
  stage(frame);
  if (has_hands(printed)) hands(frame);
  if (is_unrolled(printed)) unrolling(frame);
  if (printed == Printed::kSolid) {
    kit::check(frame, "Filled up to the rim", frame.state.sheets.filled,
               "What the outside encloses, as for a mould; else the wall, as thick as stated.");
  }
}

}  // namespace potshadow
