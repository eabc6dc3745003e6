// SPDX-License-Identifier: MIT
// What a file is that is to be opened, by its name.
#pragma once

#include <array>
#include <filesystem>
#include <string>
#include <string_view>

#include "core/result.h"

namespace potshadow {

// The endings that photographs have, in small letters.
inline constexpr std::array<std::string_view, 10> kPhotoEndings{
    ".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".heic", ".heif", ".hif", ".avif"};

enum class FileKind { kPhoto, kProject, kOther };

// Returns what a file is by its ending, in large or small letters: .potshadow is a project.
FileKind file_kind(const std::filesystem::path& file);

// Returns a file's ending in small letters, as ".jpg".
std::string ending_of(const std::filesystem::path& file);

// Returns why a file can be opened neither as a project nor as a photograph: it is not there, is a
// folder, or has another ending.
Problem cannot_open(const std::filesystem::path& file);

// Returns the path from the root folder on, without needless parts.
std::filesystem::path absolute_path(const std::filesystem::path& path);

// Returns whether two paths lead to one file.
bool same_file(const std::filesystem::path& a, const std::filesystem::path& b);

}  // namespace potshadow
