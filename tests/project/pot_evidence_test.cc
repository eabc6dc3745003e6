// SPDX-License-Identifier: MIT
#include "project/pot_evidence.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "project/bench_report.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

ProjectBench bench(Stage stage, double height, double widest) {
  return {stage,
          "2026-11-25",
          {{SizeName::kHeight, height, 0.5, {}}, {SizeName::kMaxDiameter, widest, 0.5, {}}},
          {}};
}

ClayBook book_of_bars() {
  ClayBody body;
  body.record = "buff-mix";
  body.firing_c = 950.0;
  for (const double fired : {88.0, 88.4, 87.6, 88.1}) {
    TestBar bar;
    bar.wet_mm = 100.0;
    bar.dry_mm = 94.0;
    bar.fired_mm = fired;
    bar.firing_c = 950.0;
    body.bars.push_back(bar);
  }
  return {{body}};
}

Project project_of_pot() {
  Project project;
  project.clay = ProjectClay{};
  project.clay->record = "buff-mix";
  project.bench = {bench(Stage::kWet, 100.0, 240.0), bench(Stage::kBoneDry, 94.0, 226.0)};
  return project;
}

TEST(PotEvidence, EachEarlierStageTells) {
  const auto found = pot_evidence(project_of_pot(), bench(Stage::kFired, 87.5, 210.0),
                                  book_of_bars(), "Shelf jar");
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found->stages.size(), 2U);
  EXPECT_EQ(found->stages[0].from, Stage::kWet);
  EXPECT_NEAR(found->stages[0].pot.shrinkage.fraction, 0.125, 1e-12);
  EXPECT_EQ(found->stages[1].from, Stage::kBoneDry);
  // The record: a total for the pot, one each for its heights and diameters, at both stages.
  ASSERT_TRUE(found->body);
  ASSERT_EQ(found->body->pots.size(), 6U);
  EXPECT_EQ(found->body->pots[0].firing_c, 950.0);
  EXPECT_TRUE(check_body(*found->body).ok());
  EXPECT_FALSE(found->without->total.without_pots.has_value());
  EXPECT_EQ(found->with->total.without_pots, found->without->total.shrinkage);
  const std::string text = evidence_text(*found);
  EXPECT_THAT(text, HasSubstr("What this pot shrank by, wet to fired"));
  EXPECT_THAT(text, HasSubstr("(4 bars and 1 pot)"));
}

TEST(PotEvidence, TheSamePotCountsOnce) {
  const ProjectBench fired = bench(Stage::kFired, 87.5, 210.0);
  ClayBook book = book_of_bars();
  const auto first = pot_evidence(project_of_pot(), fired, book, "Shelf jar");
  book.bodies[0] = *first->body;
  const auto again = pot_evidence(project_of_pot(), fired, book, "Shelf jar");
  EXPECT_EQ(again->body->pots.size(), 6U);
  EXPECT_EQ(again->without->total.shrinkage, first->without->total.shrinkage);
  const auto other = pot_evidence(project_of_pot(), fired, book, "Another jar");
  EXPECT_EQ(other->body->pots.size(), 12U);
}

TEST(PotEvidence, NothingToTellIsNothing) {
  Project project = project_of_pot();
  project.bench.clear();
  const auto none =
      pot_evidence(project, bench(Stage::kFired, 87.5, 210.0), book_of_bars(), "Shelf jar");
  ASSERT_TRUE(none.ok());
  EXPECT_THAT(none->stages, IsEmpty());
  EXPECT_FALSE(none->body.has_value());
  EXPECT_EQ(evidence_text(*none), "");
  // A clay without a record takes none, and the pot tells all the same.
  project = project_of_pot();
  project.clay->record = "elsewhere";
  const auto bare =
      pot_evidence(project, bench(Stage::kFired, 87.5, 210.0), book_of_bars(), "Shelf jar");
  EXPECT_EQ(bare->stages.size(), 2U);
  EXPECT_FALSE(bare->body.has_value());
}

TEST(PotEvidence, ExchangedStagesAreAskedAbout) {
  const auto grown =
      pot_evidence(project_of_pot(), bench(Stage::kFired, 110.0, 260.0), book_of_bars(), "Jar");
  ASSERT_FALSE(grown.ok());
  EXPECT_THAT(grown.problem().what, HasSubstr("exchanged"));
}

TEST(WithBench, KeepsOneRecordAStageInTheirOrder) {
  Project project;
  project = with_bench(project, bench(Stage::kFired, 88.0, 210.0));
  project = with_bench(project, bench(Stage::kWet, 100.0, 240.0));
  project = with_bench(project, bench(Stage::kWet, 101.0, 241.0));
  ASSERT_EQ(project.bench.size(), 2U);
  EXPECT_EQ(project.bench[0].stage, Stage::kWet);
  EXPECT_EQ(project.bench[0].sizes[0].value, 101.0);
}

}  // namespace
}  // namespace potshadow
