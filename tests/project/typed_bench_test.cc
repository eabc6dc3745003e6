// SPDX-License-Identifier: MIT
#include "project/typed_bench.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

namespace potshadow {
namespace {

using testing::HasSubstr;

BenchSizeReading typed(const std::string& text, LengthUnit unit = LengthUnit::kMm) {
  const auto found = typed_bench_size(text, unit);
  EXPECT_TRUE(found.ok()) << text;
  return found.ok() ? *found : BenchSizeReading();
}

TEST(TypedBench, SizesToolsAndTolerancesAreRead) {
  struct Row {
    const char* text;
    SizeName size;
    BenchTool tool;
    double mm;
    std::optional<double> within;
  };
  int read = 0;
  for (const Row& row :
       {Row{"max=240", SizeName::kMaxDiameter, BenchTool::kCaliper, 240.0, {}},
        Row{"height=262±1", SizeName::kHeight, BenchTool::kTape, 262.0, 1.0},
        Row{"caliper:height=262+-0.5", SizeName::kHeight, BenchTool::kCaliper, 262.0, 0.5},
        Row{"girth:max=752,5", SizeName::kMaxDiameter, BenchTool::kGirth, 752.5, {}},
        Row{"max-height=120", SizeName::kHeightOfMax, BenchTool::kTape, 120.0, {}},
        Row{"neck_diameter=130", SizeName::kNeckDiameter, BenchTool::kCaliper, 130.0, {}},
        Row{"capacity=5400±50", SizeName::kCapacity, BenchTool::kTape, 5400.0, 50.0}}) {
    const BenchSizeReading found = typed(row.text);
    EXPECT_EQ(found.size, row.size) << row.text;
    EXPECT_EQ(found.reading.tool, row.tool) << row.text;
    EXPECT_EQ(found.reading.mm, row.mm) << row.text;
    EXPECT_EQ(found.reading.tolerance_mm, row.within) << row.text;
    ++read;
  }
  EXPECT_EQ(read, 7);
  // Inches, with fractions; a capacity stays in millilitres.
  const BenchSizeReading inches = typed("rim=6 3/8±1/16", LengthUnit::kInch);
  EXPECT_NEAR(inches.reading.mm, 6.375 * 25.4, 1e-9);
  EXPECT_NEAR(*inches.reading.tolerance_mm, 25.4 / 16.0, 1e-9);
  EXPECT_EQ(typed("capacity=5400", LengthUnit::kCm).reading.mm, 5400.0);
}

TEST(TypedBench, WhatIsNotUnderstoodIsSaid) {
  struct Row {
    const char* text;
    const char* says;
  };
  int refused = 0;
  for (const Row& row : {Row{"max", "no '='"}, Row{"belly=240", "'belly' is no size"},
                         Row{"laser:max=240", "'laser' is no tool"}, Row{"max=wide", "'wide'"},
                         Row{"max=240±little", "'little'"}, Row{"max=", "'' is no number"}}) {
    const auto found = typed_bench_size(row.text, LengthUnit::kMm);
    ASSERT_FALSE(found.ok()) << row.text;
    EXPECT_EQ(found.problem().code, Code::kBadValue);
    EXPECT_THAT(found.problem().what, HasSubstr(row.says));
    ++refused;
  }
  EXPECT_EQ(refused, 6);
}

}  // namespace
}  // namespace potshadow
