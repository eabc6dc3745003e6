// SPDX-License-Identifier: MIT
// The open project's pot against another's, in a session without a window.
#include "desktop/session/comparer.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <tuple>

#include "desktop/session/bench.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

std::string bytes_in(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

// The sample open, and a copy of it as the replica, its card said to be 6 % larger.
class SessionCompares : public testing::Test {
 protected:
  void SetUp() override {
    std::string project = bytes_in(bench_.project());
    const auto replace = [&](const std::string& from, const std::string& to) {
      const std::size_t at = project.find(from);
      ASSERT_NE(at, std::string::npos) << from;
      project.replace(at, from.size(), to);
    };
    replace("\"width_mm\": 120.0", "\"width_mm\": 127.2");
    replace("\"height_mm\": 80.0", "\"height_mm\": 84.8");
    replace("Shelf jar", "My jar");
    std::ofstream(replica(), std::ios::binary) << project;
    ASSERT_TRUE(bench_.session.open_project(bench_.project()).ok());
    ASSERT_TRUE(bench_.until_figures());
  }

  std::filesystem::path replica() const { return bench_.work() / "my-jar.potshadow"; }
  const ComparisonView& view() const { return bench_.session.comparison(); }
  bool until_compared(const CompareWish& wish) {
    return bench_.until([&] {
      bench_.session.want_comparison(wish);
      return !view().busy;
    });
  }
  bool until_saved(ComparisonPart part, const std::filesystem::path& file) {
    bench_.session.save_comparison({part, file});
    EXPECT_TRUE(view().saving);
    return bench_.until([&] { return !view().saving; });
  }

  Bench bench_;
};

TEST_F(SessionCompares, TheReplicaWithTheOpenOriginalAndTheOtherWayRound) {
  bench_.session.want_comparison({});
  EXPECT_FALSE(view().busy);
  ASSERT_TRUE(until_compared({.others = {{replica()}}}));
  ASSERT_TRUE(view().current) << view().problem->what;
  const VesselComparison larger = *view().work->comparison;
  EXPECT_EQ(larger.original, "Shelf jar");
  EXPECT_EQ(larger.replica, "My jar");
  EXPECT_EQ(larger.scale_verdict, Comparison::kLarger);
  // What is typed into the project is exact.
  constexpr double kNear = 0.002;
  EXPECT_NEAR(larger.shape->scale.value, 1.06, kNear);
  ASSERT_TRUE(view().work->photos);
  const PhotoLayers& layers = view().work->photos->layers;
  EXPECT_EQ(layers.original.width_px, layers.replica.width_px);
  EXPECT_EQ(layers.original.height_px, layers.replica.height_px);

  const std::uint64_t before = view().revision;
  ASSERT_TRUE(until_compared({.others = {{replica()}}, .open_is_replica = true}));
  EXPECT_GT(view().revision, before);
  EXPECT_EQ(view().work->comparison->replica, "Shelf jar");
  EXPECT_EQ(view().work->comparison->scale_verdict, Comparison::kSmaller);
  bench_.session.close();
  EXPECT_EQ(view().work, nullptr);
}

TEST_F(SessionCompares, AWetReplicaAsItWillBeWhenFired) {
  ASSERT_TRUE(until_compared({.others = {{replica(), Stage::kWet}}}));
  ASSERT_TRUE(view().current) << view().problem->what;
  const VesselComparison& wet = *view().work->comparison;
  EXPECT_EQ(wet.stage, Stage::kWet);
  // The sample's clay shrinks by 12 % of the wet length.
  constexpr double kNear = 0.002;
  EXPECT_NEAR(wet.shape->scale.value, 1.06 * 0.88, kNear);
  EXPECT_EQ(wet.scale_verdict, Comparison::kSmaller);
}

TEST_F(SessionCompares, BothAtTheReplicasStage) {
  ASSERT_TRUE(until_compared({.others = {{replica(), Stage::kWet}}, .at = Stage::kWet}));
  ASSERT_TRUE(view().current) << view().problem->what;
  const VesselComparison& wet = *view().work->comparison;
  EXPECT_EQ(wet.at, Stage::kWet);
  // The original, wet, is 1 / 0.88 times as large; the scale between the two is the same as fired.
  constexpr double kNear = 0.002;
  EXPECT_NEAR(wet.shape->scale.value, 1.06 * 0.88, kNear);
  EXPECT_NEAR(wet.original_factor, 1.0 / 0.88, kNear);
  EXPECT_EQ(wet.replica_factor, 1.0);
}

TEST_F(SessionCompares, SeveralPotsAreASeries) {
  const std::filesystem::path text = bench_.work() / "first.txt";
  std::ofstream(text) << "name = First\nstage = wet\nheight = 268 ± 1\nmax = 271 ± 1\n"
                         "stage = fired\nheight = 236 ± 1\nmax = 239 ± 1\n";
  // A text that gives one pot at two stages is one by itself.
  ASSERT_TRUE(until_compared({.others = {{text}}}));
  ASSERT_TRUE(view().current) << view().problem->what;
  ASSERT_TRUE(view().work->series);
  EXPECT_EQ(view().work->series->pots.size(), 1U);
  ASSERT_TRUE(until_compared({.others = {{text}, {replica()}}}));
  ASSERT_TRUE(view().current) << view().problem->what;
  ASSERT_TRUE(view().work->series);
  EXPECT_EQ(view().work->series->pots.size(), 2U);
  EXPECT_FALSE(view().work->series->next.empty());
  EXPECT_GT(view().work->drawing.width_px, 0);
  EXPECT_FALSE(view().work->comparison);
  for (const auto& [part, name, start] : {std::tuple{ComparisonPart::kSheet, "s.pdf", "%PDF"},
                                          {ComparisonPart::kDrawing, "s.svg", "<?xml"},
                                          {ComparisonPart::kPicture, "s.png", "\x89PNG"}}) {
    ASSERT_TRUE(until_saved(part, bench_.work() / name));
    EXPECT_THAT(bytes_in(bench_.work() / name), StartsWith(start));
  }
  ASSERT_TRUE(until_saved(ComparisonPart::kSheet, text));
  ASSERT_TRUE(view().save_problem);
}

TEST_F(SessionCompares, ThePotThatTheCheckStepKeeps) {
  const CompareWish wish{.others = {{.on_bench = true}}};
  ASSERT_TRUE(until_compared(wish));
  ASSERT_TRUE(view().problem);
  EXPECT_EQ(view().problem->code, Code::kTooFewMarks);
  const auto kept = [](Stage stage, double height) {
    return ProjectBench{stage, "2026-11-25", {{SizeName::kHeight, height, 0.5, {}}}, {}};
  };
  ASSERT_TRUE(bench_.session.perform(SetBench{kept(Stage::kWet, 268.0)}).ok());
  ASSERT_TRUE(until_compared(wish));
  ASSERT_TRUE(view().current) << view().problem->what;
  ASSERT_TRUE(view().work->comparison);
  EXPECT_EQ(view().work->comparison->stage, Stage::kWet);
  constexpr double kNear = 0.01;
  EXPECT_NEAR(view().work->comparison->sizes.at(0).difference.replica.value, 268.0 * 0.88, kNear);
  ASSERT_TRUE(bench_.session.perform(SetBench{kept(Stage::kFired, 236.0)}).ok());
  ASSERT_TRUE(until_compared(wish));
  ASSERT_TRUE(view().current) << view().problem->what;
  ASSERT_TRUE(view().work->series);
  EXPECT_EQ(view().work->series->followed, 1U);
}

TEST_F(SessionCompares, FollowsTheOpenProjectAndTheOtherFile) {
  const CompareWish wish{.others = {{replica()}}};
  ASSERT_TRUE(until_compared(wish));
  ASSERT_TRUE(bench_.session.perform(SetName{"Jar 14"}).ok());
  ASSERT_TRUE(until_compared(wish));
  EXPECT_EQ(view().work->comparison->original, "Jar 14");
  std::ofstream(replica(), std::ios::binary) << "{";
  ASSERT_TRUE(until_compared(wish));
  EXPECT_FALSE(view().current);
  ASSERT_TRUE(view().problem);
  EXPECT_EQ(view().problem->code, Code::kBadFormat);
  EXPECT_EQ(view().work->comparison->original, "Jar 14");  // the last good one stays
}

TEST_F(SessionCompares, SaysWhatCannotBeCompared) {
  ASSERT_TRUE(until_compared({.others = {{bench_.project()}}}));
  ASSERT_TRUE(view().problem);
  EXPECT_THAT(view().problem->what, HasSubstr("the same project"));
  ASSERT_TRUE(until_compared({.others = {{bench_.work() / "none.potshadow"}}}));
  ASSERT_TRUE(view().problem);
  EXPECT_EQ(view().problem->code, Code::kFileMissing);
  EXPECT_EQ(view().work, nullptr);
}

TEST_F(SessionCompares, WritesSheetDrawingAndPictureButOverNothingOfTheirs) {
  const std::filesystem::path sheet = bench_.work() / "both.pdf";
  bench_.session.save_comparison({ComparisonPart::kSheet, sheet});
  EXPECT_FALSE(view().saving);  // nothing is compared yet
  ASSERT_TRUE(until_compared({.others = {{replica()}}}));
  ASSERT_TRUE(until_saved(ComparisonPart::kSheet, sheet));
  EXPECT_EQ(view().saved, sheet);
  EXPECT_THAT(bytes_in(sheet), StartsWith("%PDF"));
  ASSERT_TRUE(until_saved(ComparisonPart::kDrawing, bench_.work() / "both.svg"));
  EXPECT_THAT(bytes_in(bench_.work() / "both.svg"), StartsWith("<?xml"));
  ASSERT_TRUE(until_saved(ComparisonPart::kPicture, bench_.work() / "both.png"));
  EXPECT_THAT(bytes_in(bench_.work() / "both.png"), StartsWith("\x89PNG"));

  const std::string photo = bytes_in(bench_.photo());
  for (const std::filesystem::path& own : {bench_.photo(), bench_.project(), replica()}) {
    ASSERT_TRUE(until_saved(ComparisonPart::kPicture, own));
    ASSERT_TRUE(view().save_problem) << own;
    EXPECT_THAT(view().save_problem->what, HasSubstr("left alone"));
    EXPECT_TRUE(view().saved.empty());
  }
  EXPECT_EQ(bytes_in(bench_.photo()), photo);
  ASSERT_TRUE(until_saved(ComparisonPart::kSheet, bench_.work() / "no" / "both.pdf"));
  ASSERT_TRUE(view().save_problem);
  EXPECT_EQ(view().save_problem->code, Code::kFileUnwritable);
}

}  // namespace
}  // namespace potshadow
