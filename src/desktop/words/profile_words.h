// SPDX-License-Identifier: MIT
// Where the photographs leave the profile open, in words.
#pragma once

#include <string>
#include <vector>

#include "core/text.h"
#include "estimate/answer.h"

namespace potshadow {

// Returns for each row whether the profile counts as not known there: its wall may lie, within the
// 95 % interval, more than a third of the vessel's largest radius farther in or out.
std::vector<bool> unknown_rows(const std::vector<ProfileRow>& rows);

// Returns "The profile is not known from 12 to 45 mm up: ..."; empty where it is known throughout.
// Heights in `unit`, in percent of the vessel's height where there is no scale.
std::string unknown_profile_words(const Answer& answer, LengthUnit unit);

}  // namespace potshadow
