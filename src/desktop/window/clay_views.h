// SPDX-License-Identifier: MIT
// The parts of the Clay step's page.
#pragma once

#include "clay/clay_body.h"
#include "desktop/window/frame.h"

namespace potshadow {

// The list of the user's clays, with what begins one or takes one in.
void clay_list_view(Frame& frame);
// One clay: its bars, what they tell, its mix.
void clay_record_view(Frame& frame, const ClayBody& body);
// The fields of one of its bars, and of one part of its mix; each change is written at once.
void bar_fields(Frame& frame, const ClayBody& body, std::size_t bar);
void mix_fields(Frame& frame, const ClayBody& body, std::size_t part);
// What its maker states of it, in a fold; bars go before it.
void stated_fields(Frame& frame, const ClayBody& body);

// What stood against the last change, or what should be looked at again.
void clay_trouble(Frame& frame);

}  // namespace potshadow
