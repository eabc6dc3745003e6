// SPDX-License-Identifier: MIT
// Reading files whole, writing them so that nothing is ever half-written, and SHA-256.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "core/result.h"

namespace potshadow {

// Returns the file's bytes. Fails with kFileMissing (no such file), kFileUnreadable (a folder, no
// permission, a read error) or kFileTooLarge (more than `most_bytes`). Slow for large files.
Result<std::string> read_file(const std::filesystem::path& path, std::uintmax_t most_bytes);

// Writes `bytes` to a new temporary file in the same folder, flushes it to disk and renames it over
// `path`; whatever fails, `path` keeps its old content whole or gets the new content whole. A
// symbolic link is followed, and an existing file's permissions are kept. What is no ordinary file
// (a pipe, /dev/stdout) is written to, not replaced. A program that is killed meanwhile can leave
// its temporary file, `.potshadow-*.part`, which may be deleted. A folder that knows no flushing,
// or no permissions, is done without them: the new file is then its user's alone. Fails with
// kFileUnwritable. Slow: waits for the disk.
Result<Done> write_file_whole(const std::filesystem::path& path, std::string_view bytes);

// Returns the path that `path` leads to through symbolic links, whether or not a file is there yet.
std::filesystem::path behind_links(std::filesystem::path path);

// Returns the SHA-256 of `bytes` as 64 lower-case hexadecimal digits. Source: FIPS 180-4.
std::string sha256_hex(std::string_view bytes);

}  // namespace potshadow
