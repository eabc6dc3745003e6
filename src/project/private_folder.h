// SPDX-License-Identifier: MIT
// Folders that only their user may enter, for this part only.
#pragma once

#include <filesystem>

#include "core/result.h"

namespace potshadow {

// Makes the folder and those above it, entered by this user alone; one that is there stays as it
// is. Fails with kFileUnwritable. Source: XDG Base Directory Specification 0.8, "Referencing this
// specification" (permission 0700).
Result<Done> make_private_folder(const std::filesystem::path& folder);

}  // namespace potshadow
