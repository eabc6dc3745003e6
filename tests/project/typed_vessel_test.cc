// SPDX-License-Identifier: MIT
#include "project/typed_vessel.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "project/compare_report.h"
#include "project/low_bowl.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

std::vector<ComparedVessel> typed(const std::string& text, Stage stage = Stage::kFired) {
  const auto found = typed_vessels(text, "pot.txt", stage, ClayBook());
  EXPECT_TRUE(found.ok()) << found.problem().what;
  return found ? *found : std::vector<ComparedVessel>();
}

Problem refused(const std::string& text) {
  const auto found = typed_vessels(text, "pot.txt", Stage::kFired, ClayBook());
  EXPECT_FALSE(found.ok()) << text;
  return found ? Problem() : found.problem();
}

double value_of(const ComparedVessel& vessel, SizeName name) {
  const MeasuredSize* const size = find_size(vessel, name);
  return size == nullptr ? 0.0 : size->measured.value;
}

double sd_of(const ComparedVessel& vessel, SizeName name) {
  const MeasuredSize* const size = find_size(vessel, name);
  return size == nullptr ? 0.0 : size->measured.sd;
}

TEST(TypedVessel, ACataloguesLineInCentimetres) {
  const auto pots = typed(
      "# page 12\r\nname = Bowl 15, catalogue\r\nunit = cm\r\nheight = 10.6 ± 0.3\r\nmax = "
      "22.5  # at the shoulder\r\nrim=21\r\n");
  ASSERT_EQ(pots.size(), 1U);
  const ComparedVessel& pot = pots[0];
  EXPECT_EQ(pot.title, "Bowl 15, catalogue");
  EXPECT_EQ(pot.stage, Stage::kFired);
  EXPECT_TRUE(pot.scaled);
  EXPECT_TRUE(pot.form.rows.empty());
  constexpr double kExact = 1e-9;
  EXPECT_NEAR(value_of(pot, SizeName::kHeight), 106.0, kExact);
  // Anything within the tolerance is equally likely (JCGM 100:2008, 4.3.7).
  EXPECT_NEAR(sd_of(pot, SizeName::kHeight), 3.0 / std::numbers::sqrt3, kExact);
  // Half of the last digit, 5 mm of 21 cm, and 1 % for a pot that is not round.
  EXPECT_NEAR(sd_of(pot, SizeName::kRimDiameter), std::hypot(5.0 / std::numbers::sqrt3, 2.1),
              kExact);
  ASSERT_EQ(pot.proportions.size(), 2U);
  EXPECT_EQ(pot.proportions[0].key, "height_to_max_diameter");
  EXPECT_NEAR(pot.proportions[0].measured.value, 106.0 / 225.0, kExact);
  EXPECT_EQ(pot.kind, "");  // without an outline nobody knows whether it has a neck
}

TEST(TypedVessel, CellsOfATableMeanTheSame) {
  const auto lines = typed("name = Pot\nheight = 106.5 ± 3\nmax = 225\n");
  for (const char* text :
       {"name,Pot\nheight,106.5,3\nmax,225\n", "name;Pot\nheight;106,5;3\nmax;225;\n",
        "\xEF\xBB\xBFname\tPot\nheight\t106,5\t3\nmax\t225\n"}) {
    const auto cells = typed(text);
    ASSERT_EQ(cells.size(), 1U) << text;
    EXPECT_EQ(cells[0].title, "Pot");
    for (const SizeName name : {SizeName::kHeight, SizeName::kMaxDiameter}) {
      EXPECT_EQ(value_of(cells[0], name), value_of(lines[0], name)) << text;
      EXPECT_EQ(sd_of(cells[0], name), sd_of(lines[0], name)) << text;
    }
  }
}

// The keys and words of proportions are those of a pot measured from photographs.
TEST(TypedVessel, ProportionsAreCalledAsThoseOfPhotographs) {
  const auto pots = typed("height=200\nmax=180\nmax-height=100\nneck=100\nrim=120\nbase=90\n");
  ASSERT_EQ(pots.size(), 1U);
  const Measurement measured = low_bowl();
  int found = 0;
  for (const Proportion& p : measured.answer.proportions) {
    for (const Proportion& own : pots[0].proportions) {
      if (own.key != p.key) continue;
      EXPECT_EQ(own.words, p.words);
      ++found;
    }
  }
  EXPECT_EQ(found, static_cast<int>(measured.answer.proportions.size()));
  EXPECT_EQ(pots[0].proportions.size(), 5U);
}

// A ball of 100 mm across, cut at the foot and at the rim by 60 mm: geometry.
std::string ball(double step_degrees, const std::string& tolerance) {
  constexpr double kRadius = 50.0;
  constexpr double kCut = 0.6;  // of the radius
  std::string text = "name = Ball\nprofile " + tolerance + "\n";
  const double from = -std::acos(kCut) * 180.0 / std::numbers::pi;
  for (double a = from; a <= -from + 1e-9; a += step_degrees) {
    const double rad = a * std::numbers::pi / 180.0;
    text += std::to_string(kRadius * std::sin(rad)) + " " +
            std::to_string(kRadius * std::cos(rad)) + "\n";
  }
  return text;
}

TEST(TypedVessel, SizesAreReadOffADrawnOutline) {
  const double all = 2.0 * std::acos(0.6) * 180.0 / std::numbers::pi;
  const auto pots = typed(ball(all / 60.0, "± 0.5"));
  ASSERT_EQ(pots.size(), 1U);
  const ComparedVessel& pot = pots[0];
  constexpr double kCurve = 0.1;  // of a smooth curve through 61 places, mm
  EXPECT_NEAR(value_of(pot, SizeName::kHeight), 80.0, kCurve);
  EXPECT_NEAR(value_of(pot, SizeName::kMaxDiameter), 100.0, kCurve);
  EXPECT_NEAR(value_of(pot, SizeName::kRimDiameter), 60.0, kCurve);
  EXPECT_NEAR(value_of(pot, SizeName::kBaseDiameter), 60.0, kCurve);
  // The widest place of a ball is told no better than within sqrt(2 R tolerance): 7 mm.
  EXPECT_GT(sd_of(pot, SizeName::kHeightOfMax), 3.0);
  EXPECT_NEAR(sd_of(pot, SizeName::kMaxDiameter), 2.0 * 0.5 / std::numbers::sqrt3, 1e-9);
  EXPECT_TRUE(pot.notes.empty());
  ASSERT_GT(pot.form.rows.size(), 30U);
  EXPECT_EQ(static_cast<std::size_t>(pot.form.covariance.rows()), pot.form.rows.size());
}

TEST(TypedVessel, AGapIsSaidAndWidensTheInterval) {
  std::string text = "profile\n0 30\n5 35\n10 40\n15 43\n60 43\n65 40\n70 35\n75 30\n";
  const auto pots = typed(text);
  ASSERT_EQ(pots.size(), 1U);
  ASSERT_EQ(pots[0].notes.size(), 1U);
  EXPECT_THAT(pots[0].notes[0].text, HasSubstr("Between 15 and 60 mm up the profile has a gap"));
  const Form& form = pots[0].form;
  double in_gap = 0.0;
  double elsewhere = 0.0;
  for (std::size_t i = 0; i < form.rows.size(); ++i) {
    const auto k = static_cast<Eigen::Index>(i);
    const bool inside = form.rows[i].height_mm > 30.0 && form.rows[i].height_mm < 45.0;
    double& most = inside ? in_gap : elsewhere;
    if (inside || form.rows[i].height_mm < 10.0) most = std::max(most, form.covariance(k, k));
  }
  EXPECT_GT(in_gap, 4.0 * elsewhere);  // of the variance: twice as wide at least
}

TEST(TypedVessel, OnePotAtSeveralStages) {
  const auto pots = typed(
      "name = Pot 1\nshrinkage = 12 ± 1\nstage = wet\nmax = 270 ± 1\nstage = bone-dry\nmax = 254\n"
      "stage = fired\nmax = 238\n");
  ASSERT_EQ(pots.size(), 3U);
  EXPECT_EQ(pots[0].stage, Stage::kWet);
  EXPECT_EQ(pots[1].stage, Stage::kBoneDry);
  EXPECT_EQ(pots[2].stage, Stage::kFired);
  for (const ComparedVessel& pot : pots) {
    EXPECT_EQ(pot.title, "Pot 1");
    ASSERT_TRUE(pot.clay);
    EXPECT_NEAR(pot.clay->total.fraction_of_wet(), 0.12, 1e-12);
  }
  EXPECT_EQ(typed("max=240", Stage::kWet)[0].stage, Stage::kWet);
}

TEST(TypedVessel, SaysWhatIsWrong) {
  struct Row {
    const char* text;
    Code code;
    const char* words;
  };
  const std::vector<Row> rows{
      {"", Code::kTooFewMarks, "no size and no profile"},
      {"name = Pot\n", Code::kTooFewMarks, "no size and no profile"},
      {"height 235\nwidth = 12\n", Code::kBadFormat, "Line 2 of 'pot.txt'"},
      {"height = tall\n", Code::kBadFormat, "Line 1"},
      {"height = -3\n", Code::kBadValue, ""},
      {"height = 235\nheight = 236\n", Code::kBadFormat, "a second time"},
      {"unit = ell\n", Code::kBadFormat, "no unit"},
      {"stage = damp\n", Code::kBadFormat, "no stage"},
      {"clay = none-such\nheight = 200\n", Code::kCannotBeAnswered, "none-such"},
      {"shrinkage = 60\nheight = 200\n", Code::kBadValue, ""},
      {"unit = in\nheight = 235\n", Code::kBadValue, "another unit"},
      {"height = 3\nmax = 4\n", Code::kBadValue, "another unit"},
      {"max = 200\nrim = 230\n", Code::kBadValue, "cannot be of one pot"},
      {"profile\n0 10\n5 12\n", Code::kTooFewMarks, "fewer than four"},
      {"profile\n0 10\n5 -12\n", Code::kBadFormat, "below zero"},
      {"profile\n0 10 3\n", Code::kBadFormat, "a height and a radius"},
      {"profile ± 0\n", Code::kBadFormat, "above zero"}};
  for (const Row& row : rows) {
    const Problem problem = refused(row.text);
    EXPECT_EQ(problem.code, row.code) << row.text << problem.what;
    EXPECT_THAT(problem.what, HasSubstr(row.words)) << row.text;
    EXPECT_FALSE(problem.next.empty()) << row.text;
  }
  EXPECT_EQ(refused(std::string("height\0=2", 9)).code, Code::kBadFormat);
}

// By common practice an original of which all that is known is 6 to 7 across, and a pot wet at 8 of
// a clay that shrinks by an eighth: fired it is 7, which is larger than the middle of what the
// original may be, and yet nothing can be claimed.
TEST(TypedVessel, SixToSevenAcrossAgainstWetAtEight) {
  const std::string original = "name = Original\nunit = in\ncaliper:max = 6.5 ± 0.5\n";
  const auto wet = [](const std::string& size) {
    return "name = Pot\nunit = in\nshrinkage = 12.5 ± 1\nstage = wet\nmax = " + size + "\n";
  };
  const auto compared = [&](const std::string& size) {
    ComparedVessel one = typed(original)[0];
    ComparedVessel other = typed(wet(size))[0];
    other.file = "other.txt";
    return compare_vessels(one, other).value();
  };
  const VesselComparison c = compared("8 ± 1/16");
  ASSERT_EQ(c.sizes.size(), 1U);
  constexpr double kExact = 1e-6;
  EXPECT_NEAR(c.sizes[0].difference.replica.value, 7.0 * kMmPerInch, kExact);
  EXPECT_NEAR(c.sizes[0].difference.difference.value, 0.5 * kMmPerInch, kExact);
  EXPECT_EQ(c.sizes[0].difference.verdict, Comparison::kCannotTell);
  const std::string text = comparison_text(c, LengthUnit::kInch);
  EXPECT_THAT(text, HasSubstr("cannot be told"));
  EXPECT_THAT(text, HasSubstr("The outline is known of neither"));
  EXPECT_FALSE(c.shape);
  // What can be claimed: a pot wet at 10 fires too large for any original of 6 to 7.
  EXPECT_EQ(compared("10 ± 1/16").sizes[0].difference.verdict, Comparison::kLarger);
}

TEST(TypedVessel, IsToldByItsEnding) {
  EXPECT_TRUE(names_typed_vessel("pots/bowl.txt"));
  EXPECT_TRUE(names_typed_vessel("BOWL.CSV"));
  EXPECT_FALSE(names_typed_vessel("bowl.potshadow"));
  EXPECT_FALSE(names_typed_vessel("csv"));
}

}  // namespace
}  // namespace potshadow
