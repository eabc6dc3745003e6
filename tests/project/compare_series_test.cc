// SPDX-License-Identifier: MIT
#include "project/compare_series.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <tuple>

#include "project/json_text.h"
#include "project/series_sheet.h"
#include "project/series_table.h"
#include "project/typed_vessel.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

std::vector<ComparedVessel> typed(const std::string& text, const std::string& file) {
  const auto found = typed_vessels(text, file, Stage::kFired, ClayBook());
  EXPECT_TRUE(found.ok()) << found.problem().what;
  return found ? *found : std::vector<ComparedVessel>();
}

ComparedVessel original() {
  return typed("name = Shelf jar\nheight = 235 ± 2\nmax = 238 ± 2\nrim = 162 ± 2\n", "jar.txt")
      .front();
}

// A pot that was made `wet` times the original's fired size and shrank by `part` in all, a third of
// it in firing.
std::vector<ComparedVessel> pot(const std::string& name, double wet, double part) {
  const auto sizes = [&](double factor) {
    const auto line = [&](const char* size, double mm) {
      return std::string(size) + " = " + std::to_string(factor * mm) + " ± 0.5\n";
    };
    return line("girth:max", 238.0 * 3.14159265358979) + line("height", 235.0);
  };
  const double dry = 1.0 - 2.0 / 3.0 * part;
  return typed("name = " + name + "\nstage = fired\n" + sizes(wet * (1.0 - part)) +
                   "stage = wet\n" + sizes(wet) + "stage = bone-dry\n" + sizes(wet * dry),
               name + ".txt");
}

std::vector<ComparedVessel> both(std::vector<ComparedVessel> a,
                                 const std::vector<ComparedVessel>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

TEST(PotSeries, SaysWhatEachPotShrankByFromStageToStage) {
  const auto found =
      pot_series(original(), both(pot("First", 1.12, 0.12), pot("Second", 1.14, 0.11)));
  ASSERT_TRUE(found.ok()) << found.problem().what;
  ASSERT_EQ(found->pots.size(), 2U);
  const SeriesPot& first = found->pots[0];
  EXPECT_EQ(first.title, "First");
  ASSERT_EQ(first.states.size(), 3U);
  EXPECT_EQ(first.states[0].vessel.stage, Stage::kWet);
  EXPECT_EQ(first.states[2].vessel.stage, Stage::kFired);
  ASSERT_EQ(first.shrank.size(), 2U);
  constexpr double kTyped = 1e-5;  // of figures typed to six digits
  EXPECT_NEAR(first.shrank[0].shrinkage.fraction, 0.08, kTyped);
  EXPECT_NEAR(first.shrank[1].shrinkage.fraction, 1.0 - 0.88 / 0.92, kTyped);
  ASSERT_TRUE(first.in_all);
  EXPECT_NEAR(first.in_all->shrinkage.fraction, 0.12, kTyped);
  // Of the fired pot, held against the original: 1.12 * 0.88 of it.
  ASSERT_TRUE(first.states[2].against);
  EXPECT_NEAR(first.states[2].against->sizes.at(0).difference.replica.value, 235.0 * 1.12 * 0.88,
              0.01);
  // A wet pot of no known clay cannot be held against it.
  EXPECT_FALSE(first.states[0].against);
  EXPECT_THAT(first.states[0].why_not, HasSubstr("how much its clay shrinks"));
}

TEST(PotSeries, TheNextPotsSizesComeOfWhatTheOthersDid) {
  const auto found = pot_series(
      original(),
      both(pot("First", 1.12, 0.12), both(pot("Second", 1.13, 0.118), pot("Third", 1.13, 0.122))));
  ASSERT_TRUE(found.ok());
  EXPECT_EQ(found->followed, 3U);
  ASSERT_TRUE(found->next_pot);
  EXPECT_NEAR(found->mean->fraction, 0.12, 0.002);
  // One pot scatters about the mean.
  EXPECT_GT(found->next_pot->half95, found->mean->half95);
  EXPECT_GT(found->next_pot->sd, kPotScatter);
  ASSERT_EQ(found->next.size(), 3U);
  const NextSize& height = found->next[0];
  EXPECT_EQ(height.name, SizeName::kHeight);
  EXPECT_NEAR(height.wet.value, 235.0 / 0.88, 1.0);
  EXPECT_GT(height.wet.high95 - height.wet.low95, height.original.high95 - height.original.low95);
  // Without a pot that was followed nothing is suggested.
  const auto fired = pot_series(original(), {pot("First", 1.12, 0.12).front()});
  ASSERT_TRUE(fired.ok());
  EXPECT_TRUE(fired->next.empty());
}

// Simulated: a clay of a true mean shrinkage, pots that scatter about it as they do, read with
// tools that err. What the next pot then really shrinks by must lie in what was said of it.
TEST(PotSeries, TheNextPotShrinksByWhatWasSaid) {
  constexpr int kClays = 300;
  constexpr std::uint64_t kSeed = 71;
  std::mt19937_64 random(kSeed);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform(-1.0, 1.0);
  for (const int pots : {1, 2, 5}) {
    int held = 0;
    int tried = 0;
    for (int clay = 0; clay < kClays; ++clay) {
      const double mean = 0.11 + 0.01 * normal(random);  // within a handbook's range
      std::vector<ComparedVessel> made;
      for (int i = 0; i < pots; ++i) {
        const double shrinks = mean + kPotScatter * normal(random);
        const auto read = [&](double mm) { return std::to_string(mm + 0.5 * uniform(random)); };
        const std::string name = "Pot " + std::to_string(i);
        const auto states = typed(
            "name = " + name + "\nstage = wet\nheight = " + read(264.0) +
                " ± 0.5\nstage = fired\nheight = " + read(264.0 * (1.0 - shrinks)) + " ± 0.5\n",
            name + ".txt");
        made.insert(made.end(), states.begin(), states.end());
      }
      const auto found = pot_series(original(), made);
      ASSERT_TRUE(found.ok());
      const double next = mean + kPotScatter * normal(random);
      ++tried;
      held += std::abs(next - found->next_pot->fraction) <= found->next_pot->half95 ? 1 : 0;
    }
    std::printf("  %d pots: the next one within what was said in %d of %d\n", pots, held, tried);
    EXPECT_EQ(tried, kClays);
    // At least 95 % less three binomial standard deviations.
    EXPECT_GE(held, static_cast<int>(kClays * (0.95 - 3.0 * std::sqrt(0.95 * 0.05 / kClays))));
  }
}

TEST(PotSeries, TextTableAndDrawingsHoldAll) {
  const auto found =
      pot_series(original(), both(pot("First", 1.12, 0.12), pot("Second", 1.14, 0.11)));
  ASSERT_TRUE(found.ok());
  const std::string text = series_text(*found, LengthUnit::kMm);
  EXPECT_THAT(text, StartsWith("A series after Shelf jar"));
  EXPECT_THAT(text, HasSubstr("First shrank from wet to bone-dry by 8.0"));
  EXPECT_THAT(text, HasSubstr("in all by 12.0"));
  EXPECT_THAT(text, HasSubstr("Make it, wet:"));
  const auto json = nlohmann::json::parse(series_json(*found)).at("series");
  EXPECT_EQ(json.at("pots").size(), 2U);
  EXPECT_EQ(json.at("pots").at(0).at("states").size(), 3U);
  EXPECT_EQ(json.at("next").at("pots"), 2);
  const std::string csv = series_csv(*found);
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 1 + 3 + 2 * 3 * 2);
  const Pattern drawing = series_drawing(*found, 0.2, 165.0);
  EXPECT_GT(drawing.texts.size(), 12U);  // six pots and stages, and a chart
  const auto pdf = series_pdf(*found, {Paper::kA4, LengthUnit::kMm},
                              std::chrono::system_clock::time_point(std::chrono::hours(500'000)));
  ASSERT_TRUE(pdf.ok()) << pdf.problem().what;
  EXPECT_THAT(pdf->bytes, StartsWith("%PDF"));
}

TEST(PotSeries, AtAnotherStageAllAreBroughtThere) {
  std::vector<ComparedVessel> pots;
  for (const auto& [name, stage, height] :
       {std::tuple{"First", "wet", "267.0"}, {"Second", "fired", "235.0"}}) {
    const auto one = typed("name = " + std::string(name) + "\nstage = " + stage +
                               "\nshrinkage = 12 ± 0.5\nheight = " + height + " ± 1\n",
                           std::string(name) + ".txt");
    pots.insert(pots.end(), one.begin(), one.end());
  }
  const auto found = pot_series(original(), pots, Stage::kWet);
  ASSERT_TRUE(found.ok()) << found.problem().what;
  for (const SeriesPot& pot : found->pots) {
    ASSERT_TRUE(pot.states.at(0).against) << pot.states.at(0).why_not;
    const SizeDifference& height = pot.states.at(0).against->sizes.at(0).difference;
    constexpr double kTyped = 0.1;
    EXPECT_NEAR(height.original.value, 235.0 / 0.88, kTyped);
    EXPECT_NEAR(height.replica.value, 235.0 / 0.88, kTyped);
  }
  const SeriesRows rows = series_difference_rows(*found, LengthUnit::kMm);
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0], (std::vector<std::string>{"mm", "First, wet", "Second, fired"}));
  EXPECT_THAT(series_text(*found, LengthUnit::kMm), HasSubstr("Against the original, wet"));
}

// One page of drawings and one of figures.
TEST(PotSeries, AFewPotsTakeTwoPages) {
  const auto found =
      pot_series(original(), both(pot("First", 1.12, 0.12), pot("Second", 1.14, 0.11)));
  ASSERT_TRUE(found.ok());
  const auto pdf = series_pdf(*found, {Paper::kA4, LengthUnit::kMm},
                              std::chrono::system_clock::time_point(std::chrono::hours(500'000)));
  ASSERT_TRUE(pdf.ok()) << pdf.problem().what;
  EXPECT_EQ(pdf->pages, 2);
}

TEST(PotSeries, SaysWhatIsWrong) {
  const std::vector<ComparedVessel> first = pot("First", 1.12, 0.12);
  const auto twice = pot_series(original(), both(first, first));
  ASSERT_FALSE(twice.ok());
  EXPECT_THAT(twice.problem().what, HasSubstr("'First' was given twice wet"));
  const auto own = pot_series(original(), {original()});
  ASSERT_FALSE(own.ok());
  EXPECT_THAT(own.problem().what, HasSubstr("among the pots too"));
  // Wet and fired exchanged: it grew by an eighth.
  const auto grew = pot_series(original(), pot("First", 1.0, -0.12));
  ASSERT_FALSE(grew.ok());
  EXPECT_THAT(grew.problem().what, StartsWith("First: "));
}

}  // namespace
}  // namespace potshadow
