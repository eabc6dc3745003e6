// SPDX-License-Identifier: MIT
#include "desktop/session/opened_file.h"

#include <algorithm>
#include <system_error>

namespace potshadow {

namespace fs = std::filesystem;

FileKind file_kind(const fs::path& file) {
  const std::string ending = ending_of(file);
  if (ending == ".potshadow") return FileKind::kProject;
  const bool photo =
      std::find(kPhotoEndings.begin(), kPhotoEndings.end(), ending) != kPhotoEndings.end();
  return photo ? FileKind::kPhoto : FileKind::kOther;
}

std::string ending_of(const fs::path& file) {
  std::string ending = file.extension().string();
  for (char& c : ending) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return ending;
}

Problem cannot_open(const fs::path& file) {
  std::error_code error;
  const std::string name = "'" + file.string() + "'";
  const std::string next =
      "Open a project (.potshadow) or a photograph (JPEG, PNG, TIFF, WebP or HEIC).";
  const fs::file_status status = fs::status(file, error);
  if (!fs::exists(status)) {
    return {Code::kFileMissing, "There is no file " + name + ".", "Check the name and the folder.",
            ""};
  }
  if (fs::is_directory(status)) return {Code::kFileUnreadable, name + " is a folder.", next, ""};
  return {Code::kFileUnreadable,
          "By its ending, " + name + " is neither a project nor a photograph.", next, ""};
}

fs::path absolute_path(const fs::path& path) {
  std::error_code error;
  const fs::path absolute = fs::absolute(path, error);
  if (error) return path;
  const fs::path tidy = absolute.lexically_normal();
  // ".." out of a folder that is a link leads elsewhere than the names say.
  return fs::exists(absolute, error) && !fs::equivalent(tidy, absolute, error) ? absolute : tidy;
}

bool same_file(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return a == b || fs::equivalent(a, b, error);
}

}  // namespace potshadow
