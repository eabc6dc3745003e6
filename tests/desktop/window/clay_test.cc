// SPDX-License-Identifier: MIT
// From a clay's first test bar to the pot's plan, and what is said of figures that cannot be.
#include <gmock/gmock.h>

#include <cmath>
#include <string>
#include <vector>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"
#include "project/clay_book.h"

namespace potshadow::bench {
namespace {

using testing::HasSubstr;

constexpr double kRounding = 1e-9;  // of a mean of three and a quotient

class Clay : public AtTheBench {
 protected:
  void SetUp() override {
    AtTheBench::SetUp();
    if (HasFailure() || IsSkipped()) return;
    project_ = copy_of_sample();
    start({.arguments = {project_.string()}});
    window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
    window().click("Clay");
  }

  ClayBook book() const {
    return read_clay_book(home() / "data" / "potshadow" / "clays.json").value();
  }

  void begin_clay(const std::string& name) {
    window().click(labels::kBookPage);
    window().type_into(labels::kNewClay, name);
    window().click(labels::kBeginClay);
    window().wait_until("the clay", [&](const Seen& seen) {
      return find_widget(seen, labels::kAddBar).has_value();
    });
  }

  void put(const std::string& field, const std::string& text) {
    window().type_into(field, text);
    window().key("Return");
  }

  std::filesystem::path project_;
};

TEST_F(Clay, ABodyIsBegunMeasuredUsedAndPlannedFor) {
  window().screenshot("clay-1-stages");
  begin_clay("Weir clay");
  for (const char* fired : {"90", "90.4", "89.6"}) {
    window().click(labels::kAddBar);
    put(labels::kBarWet, "100");
    put(labels::kBarDry, "94");
    put(labels::kBarFired, fired);
    EXPECT_EQ(window().see().page_problem, "");
  }
  window().screenshot("clay-2-record");
  const ClayBook written = book();
  ASSERT_EQ(written.bodies.size(), 1U);
  EXPECT_EQ(written.bodies[0].record, "weir-clay");
  ASSERT_EQ(written.bodies[0].bars.size(), 3U);
  EXPECT_EQ(written.bodies[0].bars[1].fired_mm, 90.4);
  EXPECT_FALSE(window().see().unsaved);  // the book is no part of the project

  window().click(labels::kUseClay);
  const Seen used = window().wait_until("the clay's sizes", [](const Seen& seen) {
    return seen.unsaved && seen.figures == "current" && !seen.wet_sizes.empty();
  });
  // Ten in a hundred on average.
  EXPECT_NEAR(used.wet_sizes.at("height"), used.sizes.at("height") / 0.9, kRounding * 1e3);
  window().click(labels::kStagesPage);
  window().screenshot("clay-3-stages-by-the-book");

  window().click("Plan");
  const Seen planned =
      window().wait_until("the plan", [](const Seen& seen) { return seen.coils > 0; });
  window().screenshot("clay-4-plan");
  put(labels::kCoil, "20");
  const Seen thicker = window().wait_until("a plan of thicker coils",
                                           [&](const Seen& seen) { return seen.coils > 0; });
  EXPECT_LT(thicker.coils, planned.coils);
  window().key("ctrl+z");
  window().wait_until("the plan before",
                      [&](const Seen& seen) { return seen.coils == planned.coils; });
  window().key("ctrl+z");
  const Seen typed = window().wait_until(
      "the clay before", [&](const Seen& seen) { return seen.figures == "current"; });
  EXPECT_GT(typed.wet_sizes.at("height"), used.wet_sizes.at("height"));  // 12 % again
  EXPECT_EQ(book(), written);
}

TEST_F(Clay, FiguresThatCannotBeAreAskedAboutOnThePage) {
  begin_clay("Weir clay");
  window().click(labels::kAddBar);
  put(labels::kBarWet, "4");  // inches
  EXPECT_THAT(window().see().page_problem, HasSubstr("looks like inches"));
  window().screenshot("clay-trouble-inches");
  EXPECT_FALSE(book().bodies.at(0).bars.at(0).wet_mm);
  put(labels::kBarWet, "88");
  EXPECT_EQ(window().see().page_problem, "");
  put(labels::kBarFired, "100");  // the two columns exchanged
  EXPECT_THAT(window().see().page_problem, HasSubstr("as if the two were exchanged"));
  put(labels::kBarFired, "88.4");
  EXPECT_EQ(window().see().page_problem, "");
  EXPECT_EQ(window().see().page_notes, 1);  // a few clays grow a little: asked, not refused
  EXPECT_EQ(book().bodies.at(0).bars.at(0).fired_mm, 88.4);

  window().click("Plan");
  window().wait_until("the plan", [](const Seen& seen) { return seen.coils > 0; });
  const std::vector<std::pair<std::string, std::string>> wrong{
      {labels::kWallFoot, "200"}, {labels::kCoil, "2"}, {labels::kCradleLine, "900"}};
  int refused = 0;
  for (const auto& [field, text] : wrong) {
    put(field, text);
    const Seen seen =
        window().wait_until("a problem", [](const Seen& now) { return !now.page_problem.empty(); });
    EXPECT_EQ(seen.coils, 0) << field;
    window().screenshot("clay-trouble-" + std::to_string(++refused));
    window().key("ctrl+z");
    window().wait_until("the plan again", [](const Seen& now) { return now.coils > 0; });
  }
  EXPECT_EQ(refused, 3);
}

TEST_F(Clay, WithoutBarsAHandbookStandsInUntilSomethingIsStated) {
  begin_clay("Weir clay");
  window().click(labels::kUseClay);
  const Seen bare = window().wait_until("the handbook's range",
                                        [](const Seen& seen) { return !seen.clay_from.empty(); });
  EXPECT_THAT(bare.clay_from, HasSubstr("handbook"));
  window().click(labels::kStatedFold);
  put(labels::kStatedInAll, "11");
  put(labels::kStatedWithin, "1");
  put(labels::kStatedDensity, "1.9");
  const Seen stated = window().wait_until(
      "what is stated", [&](const Seen& seen) { return seen.clay_from != bare.clay_from; });
  EXPECT_NEAR(stated.wet_sizes.at("height"), stated.sizes.at("height") / 0.89, kRounding * 1e3);
  window().screenshot("clay-6-stated");
  const ClayBody body = book().bodies.at(0);
  ASSERT_EQ(body.stated.size(), 1U);
  EXPECT_EQ(body.stated[0].percent, 11.0);
  EXPECT_NEAR(body.stated[0].sd_percent, 1.0 / std::sqrt(3.0), kRounding);
  ASSERT_TRUE(body.wet_density);
  EXPECT_EQ(body.wet_density->value, 1.9);
  put(labels::kStatedInAll, "");
  window().wait_until("the handbook again",
                      [&](const Seen& seen) { return seen.clay_from == bare.clay_from; });
  EXPECT_TRUE(book().bodies.at(0).stated.empty());
}

TEST_F(Clay, ABenchSheetIsSavedWithItsPaintedBands) {
  window().click("Plan");
  window().wait_until("the plan", [](const Seen& seen) { return seen.coils > 0; });
  window().click(labels::kAddBand);
  window().wait_until("the band", [](const Seen& seen) { return seen.undo == 1; });
  window().click(labels::kBandsAt);
  window().click("Fired");
  window().wait_until("the bands of the fired pot",
                      [](const Seen& seen) { return seen.bands_at == "fired"; });
  window().screenshot("clay-7-bands");
  const std::filesystem::path file = pots("bench.pdf");
  window().click(labels::kSaveBenchSheet);
  window().paste_into(labels::kPath, file.string());
  window().click(labels::kSaveHere);
  window().wait_until("the file", [&](const Seen&) { return std::filesystem::exists(file); });
  EXPECT_TRUE(file_content(file).starts_with("%PDF-"));
}

TEST_F(Clay, ClaysAreHandedOnAndTakenBackIn) {
  begin_clay("Weir clay");
  const std::filesystem::path file = pots("weir.json");
  window().click(labels::kExportClay);
  window().paste_into(labels::kPath, file.string());
  window().click(labels::kSaveHere);
  window().wait_until("the file", [&](const Seen&) { return std::filesystem::exists(file); });
  const ClayBook written = book();
  EXPECT_EQ(read_clay_book(file).value(), written);
  window().click(labels::kRemoveClay);
  window().wait_until("an empty book", [&](const Seen&) { return book().bodies.empty(); });
  window().click(labels::kImportClays);
  window().paste_into(labels::kPath, file.string());
  window().click(labels::kOpen);
  window().wait_until("the clay", [&](const Seen&) { return book() == written; });
  window().screenshot("clay-5-book");
}

}  // namespace
}  // namespace potshadow::bench
