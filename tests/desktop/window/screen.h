// SPDX-License-Identifier: MIT
// A screen in memory with nothing on it, and pictures of it.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "core/temporary_folder.h"
#include "desktop/window/process.h"

namespace potshadow::bench {

struct ScreenSize {
  int width = 1280;
  int height = 800;
};

// A rectangle in screen pixels, y down.
struct Area {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

// Returns the names of the programs that driving a window needs and that are not installed.
std::vector<std::string> missing_tools();

// An Xvfb server of our own, 24 bit deep, on whatever display number is free. Throws where it does
// not come up.
class Screen {
 public:
  explicit Screen(ScreenSize size);

  ScreenSize size() const { return size_; }
  // Returns this process's environment without what would lead to another screen or another
  // user's files, and with DISPLAY.
  const std::vector<std::string>& environment() const { return environment_; }
  // Writes the whole screen to a PNG. Throws where that fails.
  void take_picture(const std::filesystem::path& png) const;

 private:
  ScreenSize size_;
  TemporaryFolder folder_;
  std::unique_ptr<Process> server_;
  std::vector<std::string> environment_;
};

// How many different colours an area of a PNG has, and how far they spread: the standard deviation
// of the channels where black is 0 and white 1.
struct Colours {
  long count = 0;
  double spread = 0.0;
};
Colours colours_in(const std::filesystem::path& png, const Area& area);

// Returns the folder that screenshots are kept in: POTSHADOW_SCREENSHOTS, else the build's.
std::filesystem::path screenshot_folder();

}  // namespace potshadow::bench
