// SPDX-License-Identifier: MIT
// What the tests of the window share: a screen, a potter without settings, and the sample.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <utility>

#include "core/temporary_folder.h"
#include "desktop/window/bench_window.h"
#include "project/project.h"

namespace potshadow::bench {

inline const std::filesystem::path kSample = POTSHADOW_SOURCE_DIR "/samples/shelf-jar.potshadow";
inline const std::filesystem::path kSamplePhoto = POTSHADOW_SOURCE_DIR "/samples/shelf-jar.jpg";

// Skips where a tool is missing, but fails there with the variable CI set. A test that has failed
// leaves failed-NAME.png in the screenshot folder.
class AtTheBench : public testing::Test {
 protected:
  void SetUp() override;
  void TearDown() override;

  // Starts the window on a screen of its own, or on the one there is already.
  BenchWindow& start(const WindowWishes& wishes = {}, ScreenSize size = {});
  BenchWindow& window() { return *window_; }
  const Screen& screen(ScreenSize size = {});

  // The potter's folder: its path() / "pots" is for pictures and projects.
  const std::filesystem::path& home() const { return home_.path(); }
  // Returns a name in the potter's folder for pots, which exists.
  std::filesystem::path pots(const std::string& name) const { return home_.path() / "pots" / name; }
  // Copies the sample and its photograph to the folder for pots; returns the project.
  std::filesystem::path copy_of_sample() const;

 private:
  TemporaryFolder home_;
  std::unique_ptr<Screen> screen_;
  std::unique_ptr<BenchWindow> window_;
};

// Returns the lengths that the command line measures, by name, in millimetres.
std::map<std::string, double> sizes_by_command_line(const std::filesystem::path& project);

// Returns the 95 % interval of the height that the command line measures, in millimetres.
std::pair<double, double> height_interval_by_command_line(const std::filesystem::path& project);

// Returns the project; the test fails where it cannot be loaded.
Project loaded(const std::filesystem::path& project);

// Returns how many marks a project has on its first photograph, those of references too.
std::size_t mark_count(const Project& project);
// The same as the window says it.
std::size_t mark_count(const Seen& seen);

}  // namespace potshadow::bench
