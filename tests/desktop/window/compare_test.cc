// SPDX-License-Identifier: MIT
// The replica against the original in the real window: chosen, read, wiped, and written.
#include <gmock/gmock.h>

#include <fstream>
#include <string>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"
#include "desktop/window/process.h"

namespace potshadow::bench {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

class Compare : public AtTheBench {
 protected:
  // The sample, and the sample with its card said to be 6 % larger.
  void SetUp() override {
    AtTheBench::SetUp();
    if (IsSkipped() || HasFatalFailure()) return;
    original_ = copy_of_sample();
    Project project = loaded(original_);
    project.name = "My jar";
    ProjectReference& card = project.photos.at(0).references.at(0);
    ASSERT_TRUE(card.width_mm && card.height_mm);
    *card.width_mm *= kLarger;
    *card.height_mm *= kLarger;
    ASSERT_TRUE(save_project(project, replica()).ok());
  }

  static constexpr double kLarger = 1.06;
  std::filesystem::path replica() const { return pots("my-jar.potshadow"); }

  Seen start_and_compare(const WindowWishes& more = {}, ScreenSize size = {}) {
    WindowWishes wishes = more;
    wishes.arguments = {original_.string()};
    start(wishes, size);
    window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
    window().click("Compare");
    window().click(labels::kChooseOtherPot);
    window().paste_into(labels::kPath, replica().string());
    window().click(labels::kOpen);
    return until_said("larger than Shelf jar");
  }

  Seen until_said(const std::string& words) {
    return window().wait_until(
        words, [&](const Seen& seen) { return seen.compared.find(words) != std::string::npos; });
  }

  std::filesystem::path save(const std::string& button, const std::string& name) {
    window().click(button);
    window().paste_into(labels::kFileName, name);
    window().click(labels::kSaveHere);
    window().wait_until("the file", [](const Seen& seen) { return !seen.compared_file.empty(); });
    return window().see().compared_file;
  }

  std::filesystem::path original_;
};

TEST_F(Compare, TheReplicaIsReadWipedAndWritten) {
  const Seen seen = start_and_compare();
  EXPECT_EQ(seen.page_problem, "");
  EXPECT_TRUE(seen.compared_photos);
  EXPECT_THAT(seen.compared, HasSubstr("no part of its outline is different"));
  EXPECT_FALSE(seen.unsaved);  // comparing is no change of the project
  window().put_pointer_aside();
  window().screenshot("compare-1-page");
  window().click("Chart of gaps");  // pointing at it says the gap
  window().screenshot("compare-2-gap");
  window().click("Wiped");
  window().put_pointer_aside();
  window().screenshot("compare-3-wiped");

  EXPECT_THAT(file_content(save(labels::kSaveComparison, "both")), StartsWith("%PDF"));
  EXPECT_THAT(file_content(save(labels::kSaveDrawing, "both")), StartsWith("<?xml"));
  EXPECT_THAT(file_content(save(labels::kSavePicture, "both")), StartsWith("\x89PNG"));
  for (const char* name : {"both.pdf", "both.svg", "both.png"}) {
    EXPECT_TRUE(std::filesystem::exists(pots(name))) << name;
  }

  window().click(labels::kOpenIs);
  window().click(labels::kTheReplica);
  until_said("Shelf jar is ");
  window().click(labels::kReplicaIs);
  window().click(labels::kWetStage);
  until_said("smaller than My jar");
  window().click(labels::kLeaveOut);
  window().wait_until("nothing", [](const Seen& now) { return now.compared.empty(); });
  EXPECT_TRUE(window().has(labels::kChooseOtherPot));
}

TEST_F(Compare, SeveralPotsAreASeries) {
  std::ofstream(pots("first.txt")) << "name = First\nstage = wet\nheight = 268 ± 1\n"
                                      "max = 271 ± 1\nstage = fired\nheight = 236 ± 1\n"
                                      "max = 239 ± 1\n";
  start_and_compare();
  window().click(labels::kAddOnePot);
  window().paste_into(labels::kPath, pots("first.txt").string());
  window().click(labels::kOpen);
  const Seen seen = until_said("A series after Shelf jar");
  EXPECT_THAT(seen.compared, HasSubstr("First shrank from wet to fired"));
  EXPECT_THAT(seen.compared, HasSubstr("Make it, wet:"));
  EXPECT_TRUE(window().has("Series in small"));
  window().put_pointer_aside();
  window().screenshot("compare-5-series");
  EXPECT_THAT(file_content(save(labels::kSavePicture, "series")), StartsWith("\x89PNG"));
  window().click(labels::kComparedAt);
  window().click(labels::kWetStage);
  until_said("Difference from the original, wet");
}

TEST_F(Compare, OneProjectTwiceIsSaid) {
  start({.arguments = {original_.string()}});
  window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
  window().key("h");
  window().wait_until("the step", [](const Seen& seen) { return seen.step == "Compare"; });
  window().click(labels::kChooseOtherPot);
  window().paste_into(labels::kPath, original_.string());
  window().click(labels::kOpen);
  const Seen seen =
      window().wait_until("the problem", [](const Seen& now) { return !now.page_problem.empty(); });
  EXPECT_THAT(seen.page_problem, HasSubstr("the same project"));
  EXPECT_EQ(seen.compared, "");
}

TEST_F(Compare, AtTwiceTheSizeInEveningColours) {
  start_and_compare({.settings = labels::kSettingsStart + "\"theme\": \"evening\", \"scale\": 2}"},
                    {2560, 1600});
  window().put_pointer_aside();
  window().screenshot("compare-4-evening-200");
  EXPECT_TRUE(window().has("Chart of gaps"));
}

}  // namespace
}  // namespace potshadow::bench
