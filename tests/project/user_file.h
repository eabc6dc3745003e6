// SPDX-License-Identifier: MIT
// A user's folders in a temporary place, and one file in them.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "core/temporary_folder.h"
#include "project/settings.h"

namespace potshadow::testing {

class UserFile : public ::testing::Test {
 public:
  UserFolders folders() const {
    return {folder_.path() / "config", folder_.path() / "state", folder_.path() / "data"};
  }
  virtual std::filesystem::path file() const = 0;
  void put(const std::string& text) const {
    std::filesystem::create_directories(file().parent_path());
    std::ofstream(file(), std::ios::binary) << text;
  }
  std::string content() const {
    std::ifstream stream(file(), std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  }

 private:
  TemporaryFolder folder_;
};

}  // namespace potshadow::testing
