// SPDX-License-Identifier: MIT
#include <string>

#include "core/typed_number.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/work_state.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/figures_words.h"
#include "project/answer_text.h"

namespace potshadow {
namespace {

// How the project is called in what is copied.
std::string copied_name(const Frame& frame) {
  const std::filesystem::path& file = frame.session.project_file();
  return file.empty() ? frame.session.title() : file.filename().string();
}

void copy_buttons(Frame& frame, const Measurement& measurement, bool current) {
  kit::ButtonLook look;
  look.enabled = current;
  look.reason = "The figures are from before the last change. Wait for the new ones.";
  look.tooltip =
      "Puts sizes, proportions and notes on the clipboard, as text for a letter or a log.";
  if (kit::button(frame, "Copy as text", look)) {
    frame.ask(CopyText{figures_text(measurement, copied_name(frame), frame.settings.unit),
                       "Copied the figures as text."});
  }
  look.tooltip =
      "Puts the sizes on the clipboard as a table for a spreadsheet, in millimetres with every "
      "digit.";
  if (kit::button(frame, "Copy as CSV", look)) {
    frame.ask(
        CopyText{figures_csv(measurement, copied_name(frame)), "Copied the figures as a table."});
  }
}

void details(Frame& frame, const Answer& answer) {
  if (!kit::fold(frame, "Details")) return;
  kit::note(frame, camera_sentence(answer.photos.front().camera, frame.settings.unit));
  kit::note(frame, "The fitted vessel passes the " +
                       counted(static_cast<std::size_t>(answer.fit.marks), "mark", "marks") +
                       " at " + fixed_text(answer.fit.rms_px, 1) +
                       " px on average (root mean square). They scatter " +
                       fixed_text(answer.fit.scatter_ratio, 1) +
                       " times as much as was stated for them.");
  if (!answer.fit.worst.empty()) {
    const MarkResidual& worst = answer.fit.worst.front();
    kit::note(frame,
              "Farthest off: " + worst.mark + ", by " + fixed_text(worst.off_px, 1) + " px.");
  }
}

}  // namespace

void sizes_panel(Frame& frame) {
  const Figures& figures = frame.session.figures();
  if (!figures.measurement) {
    kit::words(frame, next_action(Step::kSizes, frame.document(), work_state(frame)));
    return;
  }
  const Measurement& measurement = *figures.measurement;
  const Answer& answer = measurement.answer;
  kit::words(frame, shape_words(answer.profile));

  kit::space(frame);
  copy_buttons(frame, measurement, figures.current);

  kit::heading(frame, "Proportions");
  for (const ProportionRow& row : proportion_rows(answer)) {
    kit::note(frame, row.words);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() - frame.look.px(6));
    kit::words(frame, row.value + " ± " + row.plus_minus);
    kit::tip(frame, row.meaning);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() - frame.look.px(6));
    kit::note(frame, row.meaning);
    kit::space(frame, 4);
  }

  if (find_size(answer, SizeName::kCapacity) != nullptr) {
    const ProjectWall& wall = measurement.project.wall;
    const auto in_units = [&](double mm) {
      return typed_text(in_unit(Mm{mm}, frame.settings.unit),
                        frame.settings.unit == LengthUnit::kMm ? 1 : 2);
    };
    kit::note(frame, "The capacity is for a wall " + in_units(wall.value_mm) + " ± " +
                         in_units(kNormal95 * wall.sd_mm) + " " +
                         std::string(unit_name(frame.settings.unit)) +
                         " thick. A photograph does not show it: set it in the Clay step.");
  }
  details(frame, answer);
}

}  // namespace potshadow
