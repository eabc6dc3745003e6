// SPDX-License-Identifier: MIT
#include "desktop/words/profile_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/words/sample.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::StartsWith;

// A third of the radius of 90 mm is 30 mm, which is the 95 % interval of 15.3 mm.
std::vector<ProfileRow> rows_with(const std::vector<double>& sds) {
  std::vector<ProfileRow> rows;
  for (std::size_t i = 0; i < sds.size(); ++i) {
    rows.push_back({20.0 * static_cast<double>(i), i == 1 ? 90.0 : 60.0, sds[i]});
  }
  return rows;
}

TEST(UnknownRows, AreThoseWithAnIntervalOfAThirdOfTheRadius) {
  EXPECT_THAT(unknown_rows(rows_with({15.0, 15.4, 0.0, 1e9})),
              ElementsAre(false, true, false, true));
  EXPECT_THAT(unknown_rows({}), ElementsAre());
}

TEST(UnknownProfileWords, NameTheStretches) {
  Measurement measurement = sample_measurement();
  Answer& answer = measurement.answer;
  EXPECT_EQ(unknown_profile_words(answer, LengthUnit::kMm), "");
  const std::string why = ": there it may lie a third of the radius farther in or out, or more.";
  answer.rows = rows_with({1.0, 40.0, 40.0, 1.0});
  EXPECT_EQ(unknown_profile_words(answer, LengthUnit::kMm),
            "The profile is not known from 20 to 40 mm up" + why);
  EXPECT_EQ(unknown_profile_words(answer, LengthUnit::kCm),
            "The profile is not known from 2.0 to 4.0 cm up" + why);
  answer.rows = rows_with({40.0, 1.0, 1.0, 40.0, 40.0});
  EXPECT_EQ(unknown_profile_words(answer, LengthUnit::kMm),
            "The profile is not known at 0 and from 60 to 80 mm up" + why);
  answer.scale = ScaleSource::kNone;
  EXPECT_THAT(unknown_profile_words(answer, LengthUnit::kInch),
              StartsWith("The profile is not known at 0 and from 60 to 80 % of its height up:"));
}

}  // namespace
}  // namespace potshadow
