// SPDX-License-Identifier: MIT
#include "desktop/words/check_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

#include "desktop/words/sample.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

class OnTheBench : public testing::Test {
 protected:
  void SetUp() override { add_clay(ClayBook(), measurement_); }

  // The pot with one diameter, which is that part of what it must be.
  BenchAnswer answer(double part, Stage stage = Stage::kWet) const {
    const MeasuredSize& size = *find_size(measurement_.answer, SizeName::kMaxDiameter);
    const double target = at_stage(size, measurement_.clay->figures, stage).measured.value;
    BenchInput input{.stage = stage, .readings = {}};
    input.readings.push_back({SizeName::kMaxDiameter, {BenchTool::kCaliper, part * target, 0.5}});
    return check_pot(measurement_, input).value();
  }
  static std::string words(const BenchAnswer& answer) {
    return check_words(answer.check.sizes.at(0), LengthUnit::kMm);
  }

  Measurement measurement_ = made_up_measurement();
};

TEST_F(OnTheBench, SaysWhatIsOffAndWhatToDo) {
  EXPECT_THAT(words(answer(1.15)), StartsWith("Larger by "));
  EXPECT_THAT(words(answer(1.15)), HasSubstr("Press the wall in"));
  EXPECT_THAT(words(answer(0.85)), StartsWith("Smaller by "));
  EXPECT_THAT(pot_sentence(answer(1.15)), StartsWith("Correct the maximum diameter first. "));
  EXPECT_EQ(pot_sentence(answer(1.15, Stage::kFired)),
            "It is fired: what is off can only be made anew.");
}

TEST_F(OnTheBench, SaysWhatIsRightOrCannotBeTold) {
  const BenchAnswer right = answer(1.0);
  const bool told = right.check.sizes.at(0).verdict == Verdict::kRight;
  EXPECT_THAT(words(right), StartsWith(told ? "Right, to within ± " : "Cannot tell yet. "));
  EXPECT_EQ(pot_sentence(right), told ? "The pot is right, as far as it was measured."
                                      : "It cannot be told yet whether the pot is right.");
}

TEST_F(OnTheBench, SaysWhatItWillBeWhenFired) {
  const BenchSize size = answer(1.0).check.sizes.at(0);
  EXPECT_THAT(when_fired_words(size, Stage::kWet, LengthUnit::kMm),
              HasSubstr("; the original has 238.0."));
  EXPECT_EQ(when_fired_words(size, Stage::kFired, LengthUnit::kMm), "");
  EXPECT_THAT(when_fired_words(size, Stage::kWet, LengthUnit::kInch), HasSubstr(" in; "));
}

TEST(EvidenceSentence, CountsTheSizes) {
  StageEvidence evidence;
  evidence.names = {SizeName::kHeight, SizeName::kMaxDiameter};
  evidence.pot.shrinkage = normal_shrinkage(Stage::kWet, Stage::kFired, 0.112, 0.003);
  EXPECT_THAT(evidence_sentence(evidence), StartsWith("From wet to fired this pot shrank by 11.2"));
  EXPECT_THAT(evidence_sentence(evidence), HasSubstr("of the wet length, by 2 sizes."));
}

TEST(ToolWords, AreThreeDifferentOnes) {
  const std::array words{tool_words(BenchTool::kCaliper), tool_words(BenchTool::kTape),
                         tool_words(BenchTool::kGirth)};
  EXPECT_EQ(words[0], "Calipers");
  EXPECT_NE(words[1], words[2]);
}

}  // namespace
}  // namespace potshadow
