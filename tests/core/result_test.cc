// SPDX-License-Identifier: MIT
#include "core/result.h"

#include <gtest/gtest.h>

#include <memory>
#include <string>
#include <type_traits>
#include <utility>

namespace potshadow {
namespace {

Result<double> reciprocal(double x) {
  if (x == 0.0) {
    return Problem{Code::kBadValue, "Zero has no reciprocal.", "Give another number.", "x = 0"};
  }
  return 1.0 / x;
}

// A Result that nobody looks at, and a Problem that passes for an answer, must not compile.
static_assert(!std::is_convertible_v<Result<double>, bool>);
static_assert(!std::is_convertible_v<Result<double>, double>);
static_assert(!std::is_constructible_v<Result<double>>);

TEST(Result, HoldsAValue) {
  const Result<double> result = reciprocal(4.0);
  ASSERT_TRUE(result.ok());
  EXPECT_TRUE(static_cast<bool>(result));
  EXPECT_EQ(result.value(), 0.25);
  EXPECT_EQ(*result, 0.25);
  EXPECT_TRUE(result.notes().empty());
}

TEST(Result, HoldsAProblem) {
  const Result<double> result = reciprocal(0.0);
  ASSERT_FALSE(result.ok());
  EXPECT_FALSE(static_cast<bool>(result));
  EXPECT_EQ(result.problem().code, Code::kBadValue);
  EXPECT_EQ(result.problem().what, "Zero has no reciprocal.");
  EXPECT_EQ(result.problem().next, "Give another number.");
  EXPECT_EQ(result.problem().detail, "x = 0");
  EXPECT_TRUE(result.notes().empty());
}

TEST(Result, CarriesNotesBesideTheValue) {
  const Note informs{"Two of nine marks were left out.", false};
  const Note doubts{"The rim may not be round.", true};
  const Result<std::string> result("jar", {informs, doubts});
  ASSERT_TRUE(result.ok());
  ASSERT_EQ(result.notes().size(), 2U);
  EXPECT_EQ(result.notes()[0], informs);
  EXPECT_EQ(result.notes()[1], doubts);
  EXPECT_NE(informs, (Note{informs.text, true}));
}

TEST(Result, ArrowReachesTheValue) {
  const Result<std::string> result(std::string("bowl"));
  EXPECT_EQ(result->size(), 4U);
}

TEST(Result, ValueMovesOutOfATemporary) {
  Result<std::unique_ptr<int>> result(std::make_unique<int>(7));
  const std::unique_ptr<int> taken = std::move(result).value();
  ASSERT_NE(taken, nullptr);
  EXPECT_EQ(*taken, 7);
}

TEST(Result, DoneStandsForNoValue) {
  const Result<Done> result(Done{});
  EXPECT_TRUE(result.ok());
  EXPECT_EQ(result.value(), Done{});
}

// "threadsafe" because other tests of this program start threads.
class ResultDeathTest : public testing::Test {
 protected:
  void SetUp() override { GTEST_FLAG_SET(death_test_style, "threadsafe"); }
};

TEST_F(ResultDeathTest, ReadingTheValueOfAProblemStopsTheProgram) {
  const Result<double> result = reciprocal(0.0);
  EXPECT_DEATH(static_cast<void>(result.value()), "internal check failed: ok\\(\\)");
  EXPECT_DEATH(static_cast<void>(*result), "internal check failed: ok\\(\\)");
}

TEST_F(ResultDeathTest, ReadingTheProblemOfAValueStopsTheProgram) {
  const Result<double> result = reciprocal(1.0);
  EXPECT_DEATH(static_cast<void>(result.problem()), "internal check failed: !ok\\(\\)");
}

TEST_F(ResultDeathTest, CheckSaysWhereItFailed) {
  EXPECT_DEATH(POTSHADOW_CHECK(1 + 1 == 3),
               "internal check failed: 1 \\+ 1 == 3 \\(.*result_test.cc:[0-9]+\\)");
}

TEST(Check, PassesWhenTheConditionHolds) {
  int evaluations = 0;
  POTSHADOW_CHECK(++evaluations == 1);
  EXPECT_EQ(evaluations, 1) << "a check must evaluate its condition once, in every kind of build";
}

}  // namespace
}  // namespace potshadow
