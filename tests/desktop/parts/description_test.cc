// SPDX-License-Identifier: MIT
// The description of the window that other programs read.
#include "desktop/window/description.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "core/files.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

constexpr std::uintmax_t kMostBytes = 1 << 20;

TEST(Description, IsJsonWithEveryDigit) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "seen.json";
  Description description(file);
  description.begin_frame();
  description.tell("status", "a \"quoted\"\nline \\ ø");
  description.tell("idle", true);
  description.tell("third", 1.0 / 3.0);
  description.tell("sizes", std::map<std::string, double>{{"height", 235.09939602144652}});
  description.widget("Save", 16.0, 20.5, 84.0, 23.0, false);
  description.widget("Open", 1.0, 2.0, 3.0, 4.0, true);
  ASSERT_TRUE(description.end_frame().ok());

  const auto text = read_file(file, kMostBytes);
  ASSERT_TRUE(text.ok());
  const auto seen = nlohmann::json::parse(*text);
  EXPECT_EQ(seen["status"], "a \"quoted\"\nline \\ ø");
  EXPECT_EQ(seen["idle"], true);
  EXPECT_EQ(seen["third"].get<double>(), 1.0 / 3.0);
  EXPECT_EQ(seen["sizes"]["height"].get<double>(), 235.09939602144652);
  ASSERT_EQ(seen["widgets"].size(), 2U);
  EXPECT_EQ(seen["widgets"][0]["name"], "Save");
  EXPECT_EQ(seen["widgets"][0]["y"], 20.5);
  EXPECT_EQ(seen["widgets"][0]["enabled"], false);
}

TEST(Description, BeginsEachFrameAnew) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "seen.json";
  Description description(file);
  description.begin_frame();
  description.tell("step", "Photo");
  description.widget("Gone", 0.0, 0.0, 1.0, 1.0, true);
  ASSERT_TRUE(description.end_frame().ok());
  description.begin_frame();
  description.tell("open", false);
  ASSERT_TRUE(description.end_frame().ok());
  const auto seen = nlohmann::json::parse(*read_file(file, kMostBytes));
  EXPECT_FALSE(seen.contains("step"));
  EXPECT_TRUE(seen["widgets"].empty());
  EXPECT_EQ(seen["open"], false);
}

TEST(Description, NothingIsWrittenUnlessAskedFor) {
  Description description({});
  EXPECT_FALSE(description.wanted());
  description.begin_frame();
  description.tell("open", true);
  EXPECT_TRUE(description.end_frame().ok());
}

TEST(Description, AFolderThatIsNotThereIsAProblem) {
  Description description("/nowhere at all/seen.json");
  description.begin_frame();
  const auto written = description.end_frame();
  ASSERT_FALSE(written.ok());
  EXPECT_EQ(written.problem().code, Code::kFileUnwritable);
}

}  // namespace
}  // namespace potshadow
