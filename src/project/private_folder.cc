// SPDX-License-Identifier: MIT
#include "project/private_folder.h"

#include <sys/stat.h>

#include <cerrno>
#include <system_error>

namespace potshadow {

Result<Done> make_private_folder(const std::filesystem::path& folder) {
  std::filesystem::path so_far;
  int error = 0;
  for (const std::filesystem::path& name : folder) {
    so_far /= name;
    constexpr mode_t kUserAlone = 0700;
    error = ::mkdir(so_far.c_str(), kUserAlone) == 0 ? 0 : errno;
  }
  std::error_code ignored;
  if (std::filesystem::is_directory(folder, ignored)) return Done{};
  if (error == EEXIST) error = ENOTDIR;
  return Problem{Code::kFileUnwritable,
                 "The folder '" + folder.string() +
                     "' could not be made: " + std::generic_category().message(error) + ".",
                 "Check that you may write there, and that no file is in its way.", ""};
}

}  // namespace potshadow
