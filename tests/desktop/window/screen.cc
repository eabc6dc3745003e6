// SPDX-License-Identifier: MIT
#include "desktop/window/screen.h"

#include <stdlib.h>
#include <unistd.h>

#include <cmath>
#include <sstream>
#include <stdexcept>
#include <string_view>

namespace potshadow::bench {
namespace {

constexpr double kServerSeconds = 60.0;  // a loaded machine starts it within a few seconds
constexpr double kLookAgainSeconds = 0.02;

// What is taken from this process's environment; everything else would make runs differ.
std::vector<std::string> plain_environment() {
  std::vector<std::string> plain{"LANG=C.UTF-8", "LIBGL_ALWAYS_SOFTWARE=1"};
  for (char** entry = environ; *entry != nullptr; ++entry) {
    const std::string_view text = *entry;
    for (const std::string_view name :
         {"PATH=", "TMPDIR=", "ASAN_OPTIONS=", "LSAN_OPTIONS=", "UBSAN_OPTIONS="}) {
      if (text.starts_with(name)) plain.emplace_back(text);
    }
  }
  return plain;
}

}  // namespace

std::vector<std::string> missing_tools() {
  std::vector<std::string> missing;
  for (const char* name : {"Xvfb", "xdotool", "xclip", "import", "identify"}) {
    if (!program_in_path(name)) missing.emplace_back(name);
  }
  return missing;
}

Screen::Screen(ScreenSize size) : size_(size), environment_(plain_environment()) {
  const std::string mode = std::to_string(size.width) + "x" + std::to_string(size.height) + "x24";
  const std::filesystem::path number = folder_.path() / "number";
  const std::filesystem::path err = folder_.path() / "err";
  server_ = std::make_unique<Process>(
      std::vector<std::string>{"Xvfb", "-displayfd", "1", "-noreset", "-nolisten", "tcp", "-screen",
                               "0", mode},
      ProcessWishes{.environment = environment_, .out = number, .err = err});
  // It writes its number and a line end once it listens.
  for (double waited = 0.0; file_content(number).find('\n') == std::string::npos;
       waited += kLookAgainSeconds) {
    if (server_->ended() || waited > kServerSeconds) {
      throw std::runtime_error("Xvfb does not start: " + file_content(err));
    }
    sleep_seconds(kLookAgainSeconds);
  }
  std::string shown = file_content(number);
  shown.erase(shown.find('\n'));
  environment_.push_back("DISPLAY=:" + shown);
}

void Screen::take_picture(const std::filesystem::path& png) const {
  std::filesystem::create_directories(png.parent_path());
  const ToolRun run =
      run_tool({"import", "-silent", "-window", "root", "png:" + png.string()}, environment_);
  if (run.exit_code != 0) throw std::runtime_error("no picture of the screen: " + run.err);
}

Colours colours_in(const std::filesystem::path& png, const Area& area) {
  std::ostringstream part;
  part << png.string() << "[" << std::lround(area.width) << "x" << std::lround(area.height) << "+"
       << std::lround(area.x) << "+" << std::lround(area.y) << "]";
  const ToolRun run = run_tool({"identify", "-format", "%k %[fx:standard_deviation]", part.str()},
                               plain_environment());
  Colours colours;
  std::istringstream stream(run.out);
  if (run.exit_code != 0 || !(stream >> colours.count >> colours.spread)) {
    throw std::runtime_error("the colours of '" + part.str() + "' cannot be counted: " + run.err);
  }
  return colours;
}

std::filesystem::path screenshot_folder() {
  const char* wished = ::getenv("POTSHADOW_SCREENSHOTS");
  if (wished != nullptr && *wished != '\0') return wished;
  return POTSHADOW_SCREENSHOTS_DIR;
}

}  // namespace potshadow::bench
