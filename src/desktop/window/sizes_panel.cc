// SPDX-License-Identifier: MIT
#include <optional>
#include <string>
#include <utility>

#include "core/typed_number.h"
#include "desktop/document/shown_photo.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/work_state.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/figures_words.h"
#include "project/answer_text.h"

namespace potshadow {
namespace {

// The size that is guessed becomes a reference of its own.
void give_guess(Frame& frame, double height) {
  constexpr double kTallestMm = 5000.0;
  constexpr double kGuessSdPart = 0.1;  // common practice, no source: two in three guess so well
  const double height_mm = height / in_unit(Mm{1.0}, frame.settings.unit);
  if (!(height_mm > 0.0 && height_mm <= kTallestMm)) {
    kit::complain(frame, "That is no height of a vessel, so nothing was changed.",
                  "Type how high you think it is, such as 240 for 24 cm.");
    return;
  }
  ProjectReference reference;
  reference.kind = "size";
  reference.size = std::string(size_key(SizeName::kHeight));
  reference.value_mm = height_mm;
  reference.sd_mm = kGuessSdPart * height_mm;
  reference.guess = true;
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) return;
  frame.state.reference = photo->references.size();
  frame.ask(Perform{AddReference{frame.state.photo, std::move(reference)}});
  frame.state.step = Step::kReference;
}

// What the sizes hang on, where that is a guess or nothing; and the way to something better.
void scale(Frame& frame, const Answer& answer) {
  if (answer.scale == ScaleSource::kKnown) return;
  kit::space(frame);
  kit::doubt(frame, scale_words(answer.scale));
  if (answer.scale == ScaleSource::kNone) {
    const auto guess = kit::number(
        frame, "My guess of its height", std::nullopt,
        {.unit = std::string(unit_name(frame.settings.unit)),
         .tooltip = "A height that you would bet on. It scales everything, and all that follows is "
                    "marked as guessed. The Reference step then asks how sure you are of it.",
         .hint = "open"});
    if (guess && *guess) give_guess(frame, **guess);
  }
  if (kit::button(frame, "Go to Reference",
                  {.tooltip = "Mark a thing of known size, or give a size from a catalogue.",
                   .accent = true})) {
    frame.state.step = Step::kReference;
  }
}

// The figures say it too, where they are not folded away.
void helping(Frame& frame, const Answer& answer, bool current) {
  if (!frame.settings.figures_folded && !frame.state.narrow) return;
  const std::string advice = advice_words(answer, frame.settings.unit);
  if (advice.empty() || !current) return;
  kit::heading(frame, "What would help most");
  kit::note(frame, advice);
}

// How round and how even the vessel is, where the photographs tell.
void form(Frame& frame, const Answer& answer) {
  if (!answer.out_of_round && !answer.uneven) return;
  kit::heading(frame, "How true it stands");
  if (answer.out_of_round) kit::note(frame, out_of_round_words(*answer.out_of_round));
  if (!answer.uneven) return;
  const std::string words = uneven_words(*answer.uneven, frame.settings.unit, answer.scale);
  answer.uneven->beyond_chance ? kit::doubt(frame, words) : kit::note(frame, words);
}

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

void details(Frame& frame, const Measurement& measurement) {
  const Answer& answer = measurement.answer;
  if (!kit::fold(frame, "Details")) return;
  const PhotoAnswer* const shown =
      answer_of_photo(measurement, frame.document(), frame.state.photo);
  if (shown != nullptr) kit::note(frame, camera_sentence(shown->camera, frame.settings.unit));
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
  scale(frame, answer);
  helping(frame, answer, figures.current);
  form(frame, answer);

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
  details(frame, measurement);
}

}  // namespace potshadow
