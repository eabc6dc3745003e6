// SPDX-License-Identifier: MIT
#include "cli/compare_options.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "cli/run_program.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

class CompareCommand : public testing::Test {
 protected:
  CompareCommand() {
    const std::filesystem::path samples = POTSHADOW_SOURCE_DIR "/samples";
    for (const char* name : {"shelf-jar", "low-bowl"}) {
      for (const char* ending : {".potshadow", ".jpg"}) {
        std::filesystem::copy(samples / (std::string(name) + ending), folder_.path());
      }
    }
  }
  Ran run(std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), "compare");
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + (folder_.path() / "data").string()};
    return run_program(folder_.path(), arguments, wishes);
  }
  TemporaryFolder folder_;
};

TEST_F(CompareCommand, HoldsTwoSamplesAgainstEachOther) {
  // The jar is 235 mm high and the bowl 106, by the scenes' truth.
  const Ran ran = run({"shelf-jar.potshadow", "low-bowl.potshadow", "--csv", "gaps.csv"});
  EXPECT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, StartsWith("Low bowl against Shelf jar"));
  EXPECT_THAT(ran.out, HasSubstr("vessels of different kinds"));
  EXPECT_THAT(ran.out, HasSubstr("smaller"));
  EXPECT_TRUE(std::filesystem::exists(folder_.path() / "gaps.csv"));
  EXPECT_THAT(run({"shelf-jar.potshadow", "low-bowl.potshadow", "--json", "-"}).out,
              StartsWith("{"));
  EXPECT_THAT(run({"--help"}).out, HasSubstr("Usage: potshadow compare"));
}

TEST_F(CompareCommand, SaysWhatIsWrong) {
  struct Row {
    std::vector<std::string> arguments;
    int exit_code;
    const char* words;
  };
  const std::vector<Row> rows = {
      {{"shelf-jar.potshadow"}, 2, "Two project files are needed"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "--stage", "damp"}, 2, "'damp' is no stage"},
      {{"shelf-jar.potshadow", "shelf-jar.potshadow"}, 2, "the same project"},
      {{"shelf-jar.potshadow", "gone.potshadow"}, 2, "gone.potshadow"},
      {{"shelf-jar.potshadow", "low-bowl.jpg"}, 2, "low-bowl.jpg"},
      {{"shelf-jar.potshadow", "low-bowl.potshadow", "--json", "-", "--csv", "-"},
       2,
       "cannot both"}};
  for (const Row& row : rows) {
    const Ran ran = run(row.arguments);
    EXPECT_EQ(ran.exit_code, row.exit_code) << ran.err;
    EXPECT_THAT(ran.err, HasSubstr(row.words));
    EXPECT_EQ(ran.out, "");
  }
}

}  // namespace
}  // namespace potshadow
