// SPDX-License-Identifier: MIT
#include "project/bench_page_request.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>

#include "project/bench_pot.h"

namespace potshadow {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

// The bowl is 80 mm high and its clay shrinks by an eighth: a line at 35 mm lies at 40 on the wet
// pot.
TEST(BenchPageRequest, SaysWhereThePaintedBandsLie) {
  Measurement measurement = bowl_to_make();
  const Result<BenchSheet> plain =
      bench_page_request(measurement, ClayBook(), {}, {}, LengthUnit::kMm);
  ASSERT_TRUE(plain.ok()) << plain.problem().what;
  EXPECT_THAT(plain->notes, Not(Contains(HasSubstr("Waves"))));
  measurement.project.bands = {{"Waves", 35.0, std::nullopt, 12, {}}, {"", 42.0, 49.0, 0, {}}};
  const Result<BenchSheet> painted =
      bench_page_request(measurement, ClayBook(), {}, {}, LengthUnit::kMm);
  ASSERT_TRUE(painted.ok()) << painted.problem().what;
  EXPECT_THAT(painted->notes, Contains(HasSubstr("Waves, wet: line at 40 mm, girth ")));
  EXPECT_THAT(painted->notes, Contains(HasSubstr(", 12 repeats of ")));
  EXPECT_THAT(painted->notes, Contains(HasSubstr("Band, wet: line at 48 and 56 mm, girth ")));
}

TEST(BenchSheetPdf, IsOnePage) {
  const Result<SheetPdf> pdf =
      bench_sheet_pdf(bowl_to_make(), ClayBook(), "bowl.potshadow", {Paper::kA4, LengthUnit::kMm},
                      std::chrono::system_clock::time_point());
  ASSERT_TRUE(pdf.ok()) << pdf.problem().what;
  EXPECT_EQ(pdf->pages, 1);
  EXPECT_TRUE(pdf->bytes.starts_with("%PDF-"));
}

}  // namespace
}  // namespace potshadow
