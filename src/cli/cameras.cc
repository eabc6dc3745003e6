// SPDX-License-Identifier: MIT
#include "cli/cameras.h"

#include "project/camera_book.h"

namespace potshadow {

PhotoProbe probe_with_own_cameras(const Project& project) {
  const Result<UserFolders> folders = user_folders();
  if (!folders) return probe_photo;
  return probe_with_own_cameras(*folders, project);
}

}  // namespace potshadow
