// SPDX-License-Identifier: MIT
// Bad files, moved photographs, unsaved work, crashes and old graphics.
#include <gmock/gmock.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <optional>
#include <string>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

using testing::HasSubstr;

// As often as the settings allow, so that the tests are short.
const std::string kAutosaveSettings = labels::kSettingsStart + R"("autosave_seconds": 5})";
constexpr double kAutosaveSeconds = 5.0;
constexpr double kAutosaveSlack = 3.0;  // writing it, on a loaded machine

// A white picture of one pixel. Source: made by the PNG specification's rules (ISO/IEC 15948).
constexpr std::array<unsigned char, 67> kOnePixel = {
    0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48,
    0x44, 0x52, 0x00, 0x00, 0x00, 0x01, 0x00, 0x00, 0x00, 0x01, 0x08, 0x00, 0x00, 0x00,
    0x00, 0x3a, 0x7e, 0x9b, 0x55, 0x00, 0x00, 0x00, 0x0a, 0x49, 0x44, 0x41, 0x54, 0x78,
    0xda, 0x63, 0xf8, 0x0f, 0x00, 0x01, 0x01, 0x01, 0x00, 0x1c, 0xb0, 0x8c, 0x99, 0x00,
    0x00, 0x00, 0x00, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82};

void put(const std::filesystem::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary) << bytes;
}

bool figures_current(const Seen& seen) { return seen.figures == "current"; }

// One sentence on what happened, one on what to do.
void expect_two_sentences(const std::string& text, const std::string& about) {
  EXPECT_GE(std::count(text.begin(), text.end(), '.'), 2) << about << ": " << text;
}

class Trouble : public AtTheBench {
 protected:
  void open_photo(const std::filesystem::path& file) {
    window().click(labels::kOpenPhoto);
    window().paste_into(labels::kPath, file.string());
    window().click(labels::kOpen);
  }

  // Opens a copy of the sample and takes one rim mark away; returns what is then seen.
  Seen start_and_change(const std::filesystem::path& project, const std::string& settings) {
    start({.arguments = {project.string()}, .settings = settings});
    window().wait_until("the figures", figures_current);
    window().click("Outline");
    window().click_photo(loaded(project).photos.at(0).marks.rim.at(2));
    window().key("Delete");
    return window().wait_until("a mark to be deleted", [](const Seen& seen) {
      return seen.unsaved && seen.figures == "current";
    });
  }
};

TEST_F(Trouble, FilesThatAreNoPicturesAreExplained) {
  put(pots("letter.jpg"), "Dear potter, this is a letter and not a picture.\n");
  const std::string whole = file_content(kSamplePhoto);
  put(pots("half.jpg"), whole.substr(0, whole.size() / 2));
  put(pots("empty.jpg"), "");
  int tried = 0;
  for (const char* name : {"letter.jpg", "half.jpg", "empty.jpg", "nowhere.jpg"}) {
    start();
    open_photo(pots(name));
    const Seen seen =
        window().wait_until("a problem", [](const Seen& now) { return !now.problem.empty(); });
    EXPECT_THAT(seen.problem, HasSubstr(name));
    window().screenshot("trouble-" + std::string(name));
    ++tried;
  }
  EXPECT_EQ(tried, 4);
  // And it does not spoil the next.
  std::filesystem::copy_file(kSamplePhoto, pots("good.jpg"));
  window().paste_into(labels::kPath, pots("good.jpg").string());
  window().click(labels::kOpen);
  const Seen seen = window().wait_until(
      "a good photograph", [](const Seen& now) { return now.canvas.pixels_per_photo_pixel > 0.0; });
  EXPECT_EQ(seen.problem, "");
}

TEST_F(Trouble, APictureOfOnePixelDoesNoHarm) {
  put(pots("dot.png"), std::string(kOnePixel.begin(), kOnePixel.end()));
  start();
  open_photo(pots("dot.png"));
  const Seen seen = window().wait_until(
      "an answer", [](const Seen& now) { return !now.problem.empty() || now.open; });
  if (seen.open) {
    for (const std::string& step : labels::kSteps) window().click(step);
  }
  EXPECT_FALSE(window().ended());
  window().screenshot("trouble-dot");
}

TEST_F(Trouble, AMovedPhotographIsAskedForAndTaken) {
  const std::filesystem::path project = copy_of_sample();
  const std::filesystem::path moved = home() / "elsewhere" / "moved.jpg";
  std::filesystem::create_directories(moved.parent_path());
  std::filesystem::rename(pots("shelf-jar.jpg"), moved);
  start({.arguments = {project.string()}});
  const Seen lost =
      window().wait_until("a problem", [](const Seen& seen) { return !seen.problem.empty(); });
  EXPECT_THAT(lost.problem, HasSubstr("shelf-jar.jpg"));
  EXPECT_EQ(mark_count(lost), mark_count(loaded(project)));
  window().screenshot("trouble-moved");
  window().click(labels::kFindPhoto);
  window().paste_into(labels::kPath, moved.string());
  window().click(labels::kOpen);
  const Seen found = window().wait_until("the figures", figures_current);
  EXPECT_EQ(found.problem, "");
  EXPECT_TRUE(found.unsaved);
  window().key("ctrl+s");
  window().wait_until("the project to be saved", [](const Seen& seen) { return !seen.unsaved; });
  EXPECT_EQ(project.parent_path() / loaded(project).photos.at(0).file,
            project.parent_path() / "../elsewhere/moved.jpg");
}

TEST_F(Trouble, APlaceThatTakesNoFilesIsExplainedAndNothingIsLost) {
  const std::filesystem::path project = copy_of_sample();
  start_and_change(project, "");
  put(pots("plain"), "a file, not a folder");
  window().key("ctrl+shift+s");
  window().paste_into(labels::kPath, pots("plain/jar.potshadow").string());
  window().click(labels::kSaveHere);
  const Seen seen =
      window().wait_until("a problem", [](const Seen& now) { return !now.problem.empty(); });
  expect_two_sentences(seen.status, "save as");
  EXPECT_TRUE(seen.unsaved);
  window().key("Escape");
  window().key("ctrl+s");
  window().wait_until("the project to be saved", [](const Seen& now) { return !now.unsaved; });
  EXPECT_EQ(mark_count(loaded(project)), mark_count(loaded(kSample)) - 1);
}

TEST_F(Trouble, LeavingUnsavedWorkAsksAndDoesAsToldToStay) {
  const std::filesystem::path project = copy_of_sample();
  const Seen changed = start_and_change(project, "");
  window().key("ctrl+q");
  EXPECT_EQ(window().see().question, "leave");
  window().screenshot("trouble-leaving");
  window().click(labels::kStay);
  const Seen stayed = window().rest();
  EXPECT_EQ(stayed.marks, changed.marks);
  EXPECT_TRUE(stayed.unsaved);
  EXPECT_EQ(stayed.question, "");
}

TEST_F(Trouble, LeavingUnsavedWorkAsksAndSaves) {
  const std::filesystem::path project = copy_of_sample();
  start_and_change(project, "");
  window().key("ctrl+q");
  window().click(labels::kSaveAndLeave);
  EXPECT_EQ(window().wait_for_end(), 0);
  EXPECT_EQ(mark_count(loaded(project)), mark_count(loaded(kSample)) - 1);
}

TEST_F(Trouble, LeavingUnsavedWorkAsksAndForgetsForGood) {
  const std::filesystem::path project = copy_of_sample();
  start_and_change(project, kAutosaveSettings);
  sleep_seconds(kAutosaveSeconds + kAutosaveSlack);
  window().key("ctrl+q");
  window().click(labels::kLeaveUnsaved);
  EXPECT_EQ(window().wait_for_end(), 0);
  EXPECT_EQ(loaded(project), loaded(kSample));
  // What was given up is not offered again.
  start();
  EXPECT_EQ(window().see().question, "");
}

TEST_F(Trouble, AfterACrashTheWorkIsOffered) {
  const std::filesystem::path project = copy_of_sample();
  start_and_change(project, kAutosaveSettings);
  // The first change is kept at once, a second one only with the next autosave.
  window().click_photo(loaded(project).photos.at(0).marks.left.at(9));
  window().key("Delete");
  const Seen changed = window().wait_until("a second mark to be deleted", [](const Seen& seen) {
    return marks_of(seen, "left") == 15 && seen.figures == "current";
  });
  sleep_seconds(kAutosaveSeconds + kAutosaveSlack);
  window().kill();
  EXPECT_EQ(loaded(project), loaded(kSample));
  start();
  window().screenshot("trouble-recovery");
  window().click(labels::kRecover);
  const Seen back = window().wait_until("the figures", figures_current);
  EXPECT_EQ(back.marks, changed.marks);
  EXPECT_EQ(back.sizes, changed.sizes);
  EXPECT_EQ(back.project_file, project.string());
  EXPECT_TRUE(back.unsaved);
  window().key("ctrl+s");
  window().wait_until("the project to be saved", [](const Seen& seen) { return !seen.unsaved; });
  EXPECT_EQ(mark_count(loaded(project)), mark_count(loaded(kSample)) - 2);
}

TEST_F(Trouble, AMarkDraggedTooFarKeepsTheLastFigures) {
  const std::filesystem::path project = copy_of_sample();
  start({.arguments = {project.string()}});
  const Seen before = window().wait_until("the figures", figures_current);
  window().click("Reference");
  const std::vector<PhotoPoint> corners = loaded(project).photos.at(0).references.at(0).corners;
  // The first corner goes where the third is, and no rectangle is left.
  std::optional<Seen> held;
  window().drag_photo(corners.at(0), corners.at(2), [&] { held = window().see(); });
  ASSERT_TRUE(held);
  EXPECT_EQ(held->figures, "stale");
  window().screenshot("trouble-degenerate");
  const Seen after = window().rest();
  EXPECT_EQ(after.figures, "stale");
  EXPECT_NE(after.figures_problem, "");
  window().key("ctrl+z");
  const Seen undone = window().wait_until("the figures again", figures_current);
  EXPECT_EQ(undone.sizes, before.sizes);
  EXPECT_EQ(undone.figures_problem, "");
}

TEST_F(Trouble, OldGraphicsGiveOneSentenceThatNamesTheCommandLine) {
  std::vector<std::string> environment = environment_for(screen(), home());
  environment.emplace_back("MESA_GL_VERSION_OVERRIDE=2.1");
  const ToolRun run = run_tool({POTSHADOW_WINDOW}, environment);
  EXPECT_EQ(run.exit_code, 2);
  EXPECT_THAT(run.err, HasSubstr("OpenGL 3.3"));
  EXPECT_THAT(run.err, HasSubstr("potshadow measure"));
}

TEST_F(Trouble, NoDisplayGivesOneSentenceThatNamesTheCommandLine) {
  std::vector<std::string> environment;
  for (const std::string& entry : environment_for(screen(), home())) {
    if (!entry.starts_with("DISPLAY=")) environment.push_back(entry);
  }
  const ToolRun run = run_tool({POTSHADOW_WINDOW}, environment);
  EXPECT_EQ(run.exit_code, 2);
  EXPECT_THAT(run.err, HasSubstr("display"));
  EXPECT_THAT(run.err, HasSubstr("potshadow measure"));
}

}  // namespace
}  // namespace potshadow::bench
