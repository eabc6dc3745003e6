// SPDX-License-Identifier: MIT
#include "cli/cameras.h"
#include "project/photo_lens.h"

namespace potshadow {

PhotoProbe probe_with_own_cameras(const Project& project) {
  const Result<UserFolders> folders = user_folders();
  if (!folders) return probe_photo;
  return probe_with_own_cameras(*folders, project);
}

CameraBook own_camera_book() {
  const Result<UserFolders> folders = user_folders();
  if (!folders) return {};
  const Result<CameraBook> book = load_camera_book(*folders);
  return book ? *book : CameraBook();
}

}  // namespace potshadow
