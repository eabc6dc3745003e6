// SPDX-License-Identifier: MIT
// A folder for one test's files, removed when the test ends.
#pragma once

#include <stdlib.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <string>
#include <system_error>
#include <vector>

namespace potshadow {

// Makes a new folder in the system's folder for temporary files, which every user may enter.
// Invariant: path() is a folder of this object alone. Throws if it cannot be made.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "potshadow-test-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr || ::chmod(name.c_str(), 0755) != 0) {
      throw std::filesystem::filesystem_error("cannot make a folder for a test", name,
                                              std::error_code(errno, std::generic_category()));
    }
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }

  // Returns the names of everything in the folder, hidden files too, in alphabetical order.
  std::vector<std::string> names() const {
    std::vector<std::string> all;
    for (const auto& entry : std::filesystem::directory_iterator(path_)) {
      all.push_back(entry.path().filename().string());
    }
    std::sort(all.begin(), all.end());
    return all;
  }

 private:
  std::filesystem::path path_;
};

}  // namespace potshadow
