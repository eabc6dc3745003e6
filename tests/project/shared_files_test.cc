// SPDX-License-Identifier: MIT
#include "project/shared_files.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <optional>
#include <string>

#include "core/temporary_folder.h"
#include "project/project.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

constexpr const char* kNext = "Do it once more.";

Project named(const std::string& name) {
  Project project;
  project.name = name;
  return project;
}

class SharedProject : public testing::Test {
 protected:
  std::string name_in_file() const {
    const Result<Project> project = load_project(file());
    return project.ok() ? project->name : "";
  }
  std::filesystem::path file() const { return folder_.path() / "jar.potshadow"; }
  TemporaryFolder folder_;
};

TEST_F(SharedProject, IsSavedWhereNobodyElseChangedIt) {
  ASSERT_TRUE(save_project(named("old"), file()).ok());
  const auto print = print_of_file(file());
  ASSERT_TRUE(print.has_value());
  ASSERT_TRUE(save_if_unchanged(named("new"), file(), print, kNext).ok());
  EXPECT_EQ(name_in_file(), "new");
  EXPECT_THAT(folder_.names(), ElementsAre("jar.potshadow"));
}

TEST_F(SharedProject, IsLeftAloneWhereAnotherProgramChangedIt) {
  ASSERT_TRUE(save_project(named("old"), file()).ok());
  const auto print = print_of_file(file());
  ASSERT_TRUE(save_project(named("another's"), file()).ok());
  const Result<Done> saved = save_if_unchanged(named("new"), file(), print, kNext);
  ASSERT_FALSE(saved.ok());
  EXPECT_EQ(saved.problem().code, Code::kFileUnwritable);
  EXPECT_THAT(saved.problem().what, HasSubstr("jar.potshadow"));
  EXPECT_EQ(saved.problem().next, kNext);
  EXPECT_EQ(name_in_file(), "another's");
}

TEST_F(SharedProject, ANewOneTakesNobodysPlace) {
  EXPECT_EQ(print_of_file(file()), std::nullopt);
  ASSERT_TRUE(save_project(named("another's"), file()).ok());
  EXPECT_FALSE(save_if_unchanged(named("new"), file(), std::nullopt, kNext).ok());
  EXPECT_EQ(name_in_file(), "another's");
}

TEST_F(SharedProject, OneThatIsGoneIsWrittenAnew) {
  ASSERT_TRUE(save_project(named("old"), file()).ok());
  const auto print = print_of_file(file());
  std::filesystem::remove(file());
  EXPECT_TRUE(save_if_unchanged(named("new"), file(), print, kNext).ok());
  EXPECT_EQ(name_in_file(), "new");
}

}  // namespace
}  // namespace potshadow
