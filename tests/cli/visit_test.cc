// SPDX-License-Identifier: MIT
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

Ran run_in(const TemporaryFolder& folder, const std::vector<std::string>& arguments,
           unsigned long most_file_bytes = 0) {
  RunWishes wishes;
  wishes.environment = {"SOURCE_DATE_EPOCH=1795600000"};
  wishes.most_file_bytes = most_file_bytes;
  return run_program(folder.path(), arguments, wishes);
}

TEST(VisitCommand, WritesThePageOrPrintsIt) {
  const TemporaryFolder folder;
  const Ran done = run_in(folder, {"visit", "--output", "museum.pdf", "--paper", "letter"});
  ASSERT_EQ(done.exit_code, 0) << done.err;
  EXPECT_THAT(done.out, HasSubstr("Print it at 100 %"));
  EXPECT_THAT(content(folder.path() / "museum.pdf"), StartsWith("%PDF-"));
  const Ran printed = run_in(folder, {"visit", "--output", "-", "--paper", "letter"});
  ASSERT_EQ(printed.exit_code, 0) << printed.err;
  EXPECT_EQ(printed.out, content(folder.path() / "museum.pdf"));
}

TEST(VisitCommand, AFullDiskLeavesNothing) {
  const TemporaryFolder folder;
  const Ran failed = run_in(folder, {"visit", "--output", "museum.pdf"}, 1000);
  EXPECT_EQ(failed.exit_code, 2);
  EXPECT_THAT(failed.err, HasSubstr("museum.pdf"));
  EXPECT_TRUE(std::filesystem::is_empty(folder.path()));
}

TEST(VisitCommand, SaysWhatIsMissing) {
  const TemporaryFolder folder;
  const Ran no_output = run_in(folder, {"visit"});
  EXPECT_EQ(no_output.exit_code, 2);
  EXPECT_THAT(no_output.err, HasSubstr("--output"));
  const Ran odd_paper = run_in(folder, {"visit", "--output", "a.pdf", "--paper", "b5"});
  EXPECT_EQ(odd_paper.exit_code, 2);
  EXPECT_THAT(odd_paper.err, HasSubstr("b5"));
  EXPECT_TRUE(std::filesystem::is_empty(folder.path()));
}

}  // namespace
}  // namespace potshadow
