// SPDX-License-Identifier: MIT
#include "desktop/window/drop.h"

#include <algorithm>

#include "desktop/session/opened_file.h"

namespace potshadow {

std::vector<Order> orders_of_drop(const std::vector<std::filesystem::path>& files, bool open) {
  const auto project = std::find_if(files.begin(), files.end(), [](const auto& file) {
    return file_kind(file) == FileKind::kProject;
  });
  if (project != files.end()) return {OpenFile{*project}};
  std::vector<Order> orders;
  for (const std::filesystem::path& file : files) {
    if (open || !orders.empty()) {
      orders.push_back(AddPhotoFile{file});
    } else {
      orders.push_back(OpenFile{file});
    }
  }
  return orders;
}

}  // namespace potshadow
