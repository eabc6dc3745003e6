// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "cli/plan_options.h"
#include "cli/run_program.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

class PlanCommand : public testing::Test {
 protected:
  PlanCommand() {
    std::string project = content(POTSHADOW_SOURCE_DIR "/tests/cli/data/shelf-jar.potshadow");
    put("jar.potshadow", project);
    const std::string clay = R"("clay": {)";
    project.replace(project.find(clay), clay.size(), R"("another": {)");
    put("bare.potshadow", project);
    put("grey.jpg", content(POTSHADOW_SOURCE_DIR "/tests/project/data/grey.jpg"));
  }
  Ran run(std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), "plan");
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + (folder_.path() / "data").string()};
    return run_program(folder_.path(), arguments, wishes);
  }

 private:
  void put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_.path() / name, std::ios::binary) << bytes;
  }
  TemporaryFolder folder_;
};

TEST_F(PlanCommand, PrintsThePlan) {
  const Ran ran = run({"jar.potshadow", "--wall", "8", "--coil", "14"});
  EXPECT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Weigh out, wet"));
  EXPECT_THAT(ran.out, HasSubstr("Wall: 8.0 mm. Coils: 14.0 mm thick as rolled."));
  EXPECT_THAT(run({"jar.potshadow", "--json", "-"}).out, StartsWith("{"));
  EXPECT_THAT(run({"--help"}).out, HasSubstr("Usage: potshadow plan"));
}

TEST_F(PlanCommand, SaysWhatIsWrong) {
  struct Row {
    std::vector<std::string> arguments;
    int exit_code;
    std::string says;
  };
  const std::vector<Row> kRows{
      {{"bare.potshadow"}, 1, "how much its clay shrinks"},
      {{"jar.potshadow", "--wall", "200", "--coil", "300"}, 2, "thicker than the vessel's radius"},
      {{"jar.potshadow", "--cradle", "900"}, 2, "larger than the vessel"},
      {{"jar.potshadow", "--coil", "1"}, 2, "cannot make a wall"},
      {{"jar.potshadow", "--wall", "thick"}, 2, "not a number"},
      {{"nowhere.potshadow"}, 2, "nowhere.potshadow"},
      {{}, 2, "No project was named"}};
  int checked = 0;
  for (const Row& row : kRows) {
    const Ran ran = run(row.arguments);
    EXPECT_EQ(ran.exit_code, row.exit_code) << ran.err;
    EXPECT_THAT(ran.err, HasSubstr(row.says));
    ++checked;
  }
  EXPECT_EQ(checked, 7);
}

}  // namespace
}  // namespace potshadow
