// SPDX-License-Identifier: MIT
#include "cli/console.h"

#include <gtest/gtest.h>

namespace potshadow {
namespace {

TEST(ExitCodes, FollowTheKindOfProblem) {
  const auto code_of = [](Code code) { return exit_code_of(Problem{code, "", "", ""}); };
  EXPECT_EQ(code_of(Code::kTooFewMarks), ExitCode::kCannotBeAnswered);
  EXPECT_EQ(code_of(Code::kBadMarks), ExitCode::kCannotBeAnswered);
  EXPECT_EQ(code_of(Code::kCannotBeAnswered), ExitCode::kCannotBeAnswered);
  EXPECT_EQ(code_of(Code::kFileMissing), ExitCode::kWrongInput);
  EXPECT_EQ(code_of(Code::kFileUnwritable), ExitCode::kWrongInput);
  EXPECT_EQ(code_of(Code::kNewerVersion), ExitCode::kWrongInput);
  EXPECT_EQ(worse(ExitCode::kCannotBeAnswered, ExitCode::kDone), ExitCode::kCannotBeAnswered);
  EXPECT_EQ(worse(ExitCode::kCannotBeAnswered, ExitCode::kWrongInput), ExitCode::kWrongInput);
}

}  // namespace
}  // namespace potshadow
