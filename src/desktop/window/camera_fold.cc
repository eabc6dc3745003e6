// SPDX-License-Identifier: MIT
#include "desktop/window/camera_fold.h"

#include <string>

#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/calibration_words.h"

namespace potshadow {
namespace {

constexpr const char* kMeasuring = "Measure this camera";

// What is known of the camera, and whether it is used.
void known(Frame& frame, const ProjectPhoto& photo) {
  const PhotoView& view = frame.session.photo();
  if (view.camera) {
    kit::note(frame, known_camera_words(*view.camera));
    if (photo.focal_35mm) {
      kit::note(frame, "The focal length that you typed is used instead of this one.");
    }
    return;
  }
  kit::note(
      frame,
      "This camera with this lens and zoom has not been measured yet. Measuring it once makes "
      "the sizes of all its photographs surer.");
  if (view.facts && view.facts->exif.model.empty()) {
    kit::doubt(frame,
               "The file does not say which camera took it, so a measured one is not found again. "
               "Use the original file if you have it.");
  }
}

void found(Frame& frame, const CameraWork& work) {
  kit::words(frame, calibration_sentence(work.found->calibration));
  for (const Note& note : calibration_notes(work.found->calibration, work.found->pictures)) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
  if (work.kept) {
    kit::note(frame, "It is kept, and used for all photographs by this camera at this zoom.");
    return;
  }
  if (kit::button(frame, "Keep for this camera",
                  {.tooltip = "Photographs by this camera, lens and zoom are measured with it from "
                              "now on, in every project.",
                   .accent = true})) {
    frame.ask(KeepCamera{});
  }
}

}  // namespace

void camera_fold(Frame& frame, const ProjectPhoto& photo) {
  const CameraWork& work = frame.session.camera_work();
  if (!kit::fold(frame, "This camera")) return;
  known(frame, photo);
  bool& measuring = frame.state.open_folds[kMeasuring];
  if (!measuring && !work.busy && !work.found && !work.problem) {
    measuring = kit::button(frame, kMeasuring,
                            {.tooltip = "Print a board, photograph it from all sides, and choose "
                                        "the pictures."});
    return;
  }
  kit::note(frame, "1. Print the board at 100 % and stick it flat on something stiff.");
  if (kit::button(frame, "Save the board",
                  {.tooltip = "A PDF file of one page, for the paper chosen in Templates."})) {
    open_browser(frame, BrowsePurpose::kSaveBoard);
  }
  kit::note(frame,
            "2. Photograph it ten times or more with the zoom of the pot's photograph and the "
            "camera held the same way up: from about as far as the pot, aslant from all sides, the "
            "whole board in the picture.");
  if (kit::button(frame, "Choose the pictures",
                  {.enabled = !work.busy,
                   .reason = "The pictures chosen before are being looked at.",
                   .tooltip = "Several at once, from one folder.",
                   .accent = !work.found && !work.busy})) {
    open_browser(frame, BrowsePurpose::kBoardPictures);
  }
  if (kit::busy(frame, work.busy, "Gives up measuring this camera.")) {
    frame.ask(StopMeasuringCamera{});
  }
  if (work.found) found(frame, work);
  if (work.problem) kit::problem(frame, *work.problem);
}

}  // namespace potshadow
