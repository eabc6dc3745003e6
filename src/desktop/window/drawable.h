// SPDX-License-Identifier: MIT
// What plan, templates and checks need before anything can be drawn of them.
#pragma once

#include <string>

#include "desktop/window/frame.h"

namespace potshadow {

// Says that a `thing` needs sizes where there are none, with a button that leads to what is
// missing. Returns whether that is so.
bool not_measured_yet(Frame& frame, const std::string& thing);

// Says what is missing before there can be a `thing` ("template", "plan"), with a button that leads
// there. Returns whether anything is.
bool not_drawable_yet(Frame& frame, const std::string& thing);

}  // namespace potshadow
