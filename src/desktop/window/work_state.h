// SPDX-License-Identifier: MIT
// What the words about the steps are made from, gathered from the session.
#pragma once

#include "desktop/session/comparer.h"
#include "desktop/window/frame.h"
#include "desktop/words/steps.h"

namespace potshadow {

// Returns the state of the work; it points into the session and is good for this frame.
inline WorkState work_state(const Frame& frame) {
  const auto pointer = [](const auto& optional) { return optional ? &*optional : nullptr; };
  const Session& session = frame.session;
  return {
      .facts = pointer(session.photo().facts),
      .photo = session.photo_index(),
      .photo_problem = pointer(session.photo().problem),
      .measurement = session.figures().measurement.get(),
      .current = session.figures().current,
      .figures_problem = pointer(session.figures().problem),
      .template_problem = pointer(session.sheet().problem),
      .plan_problem = pointer(session.plan().problem),
      .check = pointer(session.check().answer),
      .check_problem = pointer(session.check().problem),
      .comparison =
          session.comparison().work ? pointer(session.comparison().work->comparison) : nullptr,
      .series = session.comparison().work ? pointer(session.comparison().work->series) : nullptr,
      .comparison_problem = pointer(session.comparison().problem),
      .clay = pointer(session.clay_work().clay),
      .clay_problem = pointer(session.clay_work().problem),
      .clay_notes = &session.clay_work().notes,
      .unit = frame.settings.unit};
}

}  // namespace potshadow
