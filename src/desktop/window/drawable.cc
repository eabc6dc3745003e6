// SPDX-License-Identifier: MIT
#include "desktop/window/drawable.h"

#include <algorithm>

#include "desktop/window/kit.h"
#include "desktop/window/work_state.h"

namespace potshadow {
namespace {

void go_to(Frame& frame, Step step) {
  if (kit::button(frame, "Go to " + std::string(step_title(step)), {.accent = true})) {
    frame.state.step = step;
  }
}

}  // namespace

bool not_measured_yet(Frame& frame, const std::string& thing) {
  if (!frame.session.open()) {
    kit::words(frame, "Open a photograph first.");
    return true;
  }
  if (frame.session.figures().measurement == nullptr) {
    kit::words(frame, "The " + thing + " needs the vessel's sizes, and there are none yet.");
    go_to(frame, std::min(step_due(frame.document(), work_state(frame)), Step::kSizes));
    return true;
  }
  return false;
}

bool not_drawable_yet(Frame& frame, const std::string& thing) {
  if (not_measured_yet(frame, thing)) return true;
  const Measurement& measurement = *frame.session.figures().measurement;
  if (measurement.answer.scale == ScaleSource::kNone) {
    kit::words(frame, "The " + thing +
                          " is made at true size, and nothing says yet how big the vessel is. One "
                          "size is enough, known or guessed.");
    go_to(frame, Step::kReference);
    return true;
  }
  if (!measurement.shrinkage) {
    kit::words(frame, "The " + thing +
                          " is made at wet size, and how much the clay shrinks is not known yet.");
    go_to(frame, Step::kClay);
    return true;
  }
  return false;
}

}  // namespace potshadow
