// SPDX-License-Identifier: MIT
#include "desktop/window/bench_test.h"

#include <stdlib.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

namespace potshadow::bench {

void AtTheBench::SetUp() {
  std::string names;
  for (const std::string& name : missing_tools()) names += (names.empty() ? "" : ", ") + name;
  if (!names.empty()) {
    const std::string sentence = "The window is not tested, for these are not installed: " + names +
                                 ". third_party/install-debian.sh --tests installs them.";
    if (::getenv("CI") != nullptr) FAIL() << sentence;
    GTEST_SKIP() << sentence;
  }
  std::filesystem::create_directories(home() / "pots");
}

void AtTheBench::TearDown() {
  if (!HasFailure() || !window_ || window_->ended()) return;
  const auto* test = testing::UnitTest::GetInstance()->current_test_info();
  std::string name = std::string("failed-") + test->test_suite_name() + "-" + test->name();
  for (char& letter : name) letter = letter == '/' ? '-' : letter;
  window_->screenshot(name);
}

const Screen& AtTheBench::screen(ScreenSize size) {
  if (!screen_) screen_ = std::make_unique<Screen>(size);
  return *screen_;
}

BenchWindow& AtTheBench::start(const WindowWishes& wishes, ScreenSize size) {
  window_.reset();  // there is one at a time
  WindowWishes all = wishes;
  all.home = home();
  window_ = std::make_unique<BenchWindow>(screen(size), all);
  return *window_;
}

std::filesystem::path AtTheBench::copy_of_sample() const {
  const std::filesystem::path project = pots(kSample.filename());
  std::filesystem::copy_file(kSample, project);
  std::filesystem::copy_file(kSamplePhoto, pots(kSamplePhoto.filename()));
  return project;
}

namespace {

// What "sizes_mm" holds in the answer of the command line.
nlohmann::json measured_sizes(const std::filesystem::path& project) {
  const ToolRun run = run_tool({POTSHADOW_PROGRAM, "measure", project.string(), "--json", "-"}, {});
  if (run.exit_code != 0) throw std::runtime_error("potshadow measure: " + run.err);
  return nlohmann::json::parse(run.out).at("projects").at(0).at("sizes_mm");
}

}  // namespace

std::map<std::string, double> sizes_by_command_line(const std::filesystem::path& project) {
  std::map<std::string, double> sizes;
  const auto all = measured_sizes(project);
  for (const auto& [name, size] : all.items()) {
    if (size.is_object()) sizes[name] = size.at("value");
  }
  return sizes;
}

std::pair<double, double> height_interval_by_command_line(const std::filesystem::path& project) {
  const auto height = measured_sizes(project).at("height");
  return {height.at("low95"), height.at("high95")};
}

Project loaded(const std::filesystem::path& project) {
  const Result<Project> result = load_project(project);
  if (!result) throw std::runtime_error(result.problem().what);
  return result.value();
}

std::size_t mark_count(const Project& project) {
  const ProjectPhoto& photo = project.photos.at(0);
  const auto on_vessel = [](const ProjectMarks& marks) {
    return marks.rim.size() + marks.base.size() + marks.left.size() + marks.right.size();
  };
  std::size_t count = on_vessel(photo.marks);
  for (const ProjectReference& reference : photo.references) {
    count += reference.corners.size() + reference.edge.size() + reference.ends.size() +
             reference.crossings.size() + on_vessel(reference.marks);
    if (reference.shelf_at_glass) count += reference.shelf_at_glass->size();
  }
  return count;
}

std::size_t mark_count(const Seen& seen) {
  std::size_t count = 0;
  for (const auto& [kind, marks] : seen.marks) count += static_cast<std::size_t>(marks);
  return count;
}

}  // namespace potshadow::bench
