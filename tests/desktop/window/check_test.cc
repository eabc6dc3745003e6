// SPDX-License-Identifier: MIT
// The pot on the bench: typed figures, verdicts, and what it shrank by told to its clay's record.
#include <gmock/gmock.h>

#include <string>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"
#include "project/clay_book.h"

namespace potshadow::bench {
namespace {

using testing::HasSubstr;

class Check : public AtTheBench {
 protected:
  void start_with(const std::filesystem::path& project) {
    project_ = project;
    start({.arguments = {project_.string()}});
    window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
    window().click("Check");
  }

  void put(const std::string& field, double value) {
    window().type_into(field, std::to_string(std::lround(value)));
    window().key("Return");
  }

  Seen until_verdict(const std::string& verdict) {
    return window().wait_until(verdict, [&](const Seen& seen) {
      return seen.verdicts.find(verdict) != std::string::npos;
    });
  }

  ClayBook book() const {
    return read_clay_book(home() / "data" / "potshadow" / "clays.json").value();
  }

  std::filesystem::path project_;
};

TEST_F(Check, OneDiameterIsEnoughAndUndoTakesItBack) {
  start_with(copy_of_sample());
  window().screenshot("check-1-empty");
  const double wet = window().see().wet_sizes.at("max_diameter");
  constexpr double kFarOff = 1.15;  // beyond any doubt of the sample's
  put("Measured Maximum diameter", wet * kFarOff);
  const Seen large = until_verdict("max_diameter larger");
  EXPECT_EQ(large.undo, 1);
  window().screenshot("check-2-too-large");
  put("Measured Maximum diameter", wet / kFarOff);
  until_verdict("max_diameter smaller");
  window().key("ctrl+z");
  until_verdict("max_diameter larger");
  window().key("ctrl+z");
  window().wait_until("no verdict", [](const Seen& seen) { return seen.verdicts.empty(); });
}

TEST_F(Check, WhatIsTypedIsRedoneSavedAndThereAgainWhenReopened) {
  start_with(copy_of_sample());
  const double wet = window().see().wet_sizes.at("max_diameter");
  constexpr double kFarOff = 1.15;  // beyond any doubt of the sample's
  put("Measured Maximum diameter", wet * kFarOff);
  until_verdict("max_diameter larger");
  window().key("ctrl+z");
  window().wait_until("no verdict", [](const Seen& seen) { return seen.verdicts.empty(); });
  window().key("ctrl+shift+z");
  until_verdict("max_diameter larger");
  window().key("ctrl+s");
  window().wait_until("it to be saved", [](const Seen& seen) { return !seen.unsaved; });
  ASSERT_EQ(loaded(project_).bench.size(), 1U);
  EXPECT_EQ(loaded(project_).bench[0].sizes.at(0).value, std::lround(wet * kFarOff));
  window().key("ctrl+q");
  EXPECT_EQ(window().wait_for_end(), 0);
  start_with(project_);
  until_verdict("max_diameter larger");
}

// The original's own photograph stands for one of a pot that came out just like it.
TEST_F(Check, APhotographOfThePotCountsAndItsSizesAreKept) {
  start_with(copy_of_sample());
  const std::filesystem::path pot = pots("pot.potshadow");
  std::filesystem::copy_file(kSample, pot);
  window().click(labels::kPotIs);
  window().click(labels::kFiredStage);
  window().click(labels::kUsePotPhoto);
  window().paste_into(labels::kPath, pot.string());
  window().click(labels::kOpen);
  const Seen seen =
      window().wait_until("verdicts", [](const Seen& now) { return !now.verdicts.empty(); });
  EXPECT_EQ(seen.bench_photo, "pot.potshadow");
  EXPECT_THAT(seen.verdicts, HasSubstr("height "));
  EXPECT_THAT(seen.verdicts, HasSubstr("capacity "));
  EXPECT_EQ(seen.verdicts.find("larger"), std::string::npos);
  EXPECT_EQ(seen.verdicts.find("smaller"), std::string::npos);
  window().screenshot("check-6-photograph");
  window().click(labels::kKeepSizes);
  const Seen kept = window().wait_until(
      "the sizes", [](const Seen& now) { return now.bench_photo.empty() && now.unsaved; });
  EXPECT_EQ(kept.undo, 1);
  EXPECT_THAT(kept.verdicts, HasSubstr("height "));
  window().key("ctrl+z");
  window().wait_until("no verdict", [](const Seen& now) { return now.verdicts.empty(); });
}

TEST_F(Check, AGirthIsKeptAsADiameterAndAskedAboutElsewhere) {
  start_with(copy_of_sample());
  const double wet = window().see().wet_sizes.at("max_diameter");
  constexpr double kPi = 3.14159265358979;
  put("Measured Maximum diameter", wet * kPi);
  const Seen asked = window().wait_until(
      "a question", [](const Seen& seen) { return !seen.page_problem.empty(); });
  EXPECT_EQ(asked.verdicts, "");
  window().screenshot("check-3-girth-asked");
  window().click("With Maximum diameter");
  window().click("Tape laid round");  // what was typed is taken so
  const Seen seen =
      window().wait_until("a verdict", [](const Seen& now) { return !now.verdicts.empty(); });
  EXPECT_EQ(seen.page_problem, "");
  EXPECT_EQ(seen.verdicts.find("larger"), std::string::npos);
  EXPECT_EQ(seen.verdicts.find("smaller"), std::string::npos);
  put("Measured Height", 10.0);  // inches, or a mistake
  const Seen inches =
      window().wait_until("a question", [](const Seen& now) { return !now.page_problem.empty(); });
  EXPECT_EQ(inches.verdicts, "");
}

TEST_F(Check, AFiredPotIsOfferedToItsClaysRecord) {
  ClayBody body;
  body.record = "weir";
  body.name = "Weir clay";
  for (const double fired : {88.0, 88.4, 87.6}) {
    TestBar bar;
    bar.wet_mm = 100.0;
    bar.dry_mm = 94.0;
    bar.fired_mm = fired;
    body.bars.push_back(bar);
  }
  ASSERT_TRUE(save_clay_book({{body}}, {home(), home(), home() / "data" / "potshadow"}).ok());
  Project project = loaded(copy_of_sample());
  project.clay = ProjectClay();
  project.clay->record = "weir";
  project.bench = {{Stage::kWet, "2026-11-20", {{SizeName::kMaxDiameter, 270.0, 0.6, {}}}, {}}};
  ASSERT_TRUE(save_project(project, pots("shelf-jar.potshadow")).ok());
  start_with(pots("shelf-jar.potshadow"));
  window().click(labels::kPotIs);
  window().click(labels::kFiredStage);
  put("Measured Maximum diameter", 237.0);
  window().wait_until("a verdict", [](const Seen& seen) { return !seen.verdicts.empty(); });
  window().screenshot("check-4-fired");
  window().click(labels::kTellRecord);
  window().wait_until("the record", [&](const Seen&) { return !book().bodies.at(0).pots.empty(); });
  const PotRecord pot = book().bodies.at(0).pots.at(0);
  EXPECT_NEAR(pot.percent, 100.0 * (270.0 - 237.0) / 270.0, 1e-6);
  EXPECT_EQ(book().bodies.at(0).bars.size(), 3U);
  window().click("Clay");
  window().click(labels::kBookPage);
  window().click("Clay weir");
  window().screenshot("check-5-record");
}

}  // namespace
}  // namespace potshadow::bench
