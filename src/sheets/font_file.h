// SPDX-License-Identifier: MIT
// The file of an installed font, found by its family's name.
#pragma once

#include <string>

#include "core/result.h"

namespace potshadow {

enum class FontWeight { kRegular, kSemiBold };

// Returns the path of the font that fontconfig puts in the family's place: the family itself where
// it is installed, else the nearest sans serif. Fails with kFileMissing where there is no font at
// all. Slow the first time: some 20 ms.
Result<std::string> font_file(const std::string& family, FontWeight weight);

}  // namespace potshadow
