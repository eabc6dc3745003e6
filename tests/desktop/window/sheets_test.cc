// SPDX-License-Identifier: MIT
// All that is printed and cut, in the Templates step: pages, files, printers, the painting.
#include <gmock/gmock.h>

#include <fstream>
#include <string>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"
#include "project/printer_book.h"

namespace potshadow::bench {
namespace {

using testing::ContainsRegex;
using testing::HasSubstr;
using testing::StartsWith;

class SheetsStep : public AtTheBench {
 protected:
  void start_at(const std::filesystem::path& project, const WindowWishes& wishes = {},
                ScreenSize size = {}) {
    WindowWishes all = wishes;
    all.arguments = {project.string()};
    start(all, size);
    window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
    window().click("Templates");
  }
  void pick(const std::string& list, const std::string& entry) {
    window().click(list);
    window().click(entry);
  }
  Seen make(const std::string& title, const std::string& word) {
    pick(labels::kWhatToMake, title);
    return window().wait_until(
        title, [&](const Seen& seen) { return seen.printed == word && seen.sheet_pages > 0; });
  }
  void save(const std::string& button, const std::filesystem::path& file) {
    window().click(button);
    window().paste_into(labels::kPath, file.string());
    window().click(labels::kSaveHere);
    window().wait_until("the file", [&](const Seen& seen) { return seen.sheet_saved == file; });
    EXPECT_TRUE(std::filesystem::exists(file)) << file;
  }
};

TEST_F(SheetsStep, RingsOnLetterAreSavedAndRememberedTheNextDay) {
  const std::filesystem::path project = copy_of_sample();
  start_at(project);
  make("Ring gauges", "rings");
  pick(labels::kPaperSize, "Letter (8½ × 11 in)");
  pick(labels::kWayUp, "Lying");
  window().wait_until("the pages", [](const Seen& seen) { return seen.sheet_pages > 0; });
  window().put_pointer_aside();
  window().screenshot("sheets-1-rings");
  save(labels::kSaveTemplate, pots("rings.pdf"));
  const ToolRun info = run_tool({"pdfinfo", pots("rings.pdf").string()}, screen().environment());
  EXPECT_THAT(info.out, ContainsRegex("Page size: +792 x 612"));  // 11 x 8.5 in
  save("SVG", pots("rings.svg"));
  EXPECT_THAT(file_content(pots("rings.svg")), HasSubstr("<svg"));
  save("DXF", pots("rings.dxf"));
  EXPECT_THAT(file_content(pots("rings.dxf")), HasSubstr("SECTION"));
  window().key("ctrl+q");
  EXPECT_EQ(window().wait_for_end(), 0);

  start_at(project);
  const Seen again = window().wait_until("the rings again", [](const Seen& seen) {
    return seen.printed == "rings" && seen.sheet_pages > 0;
  });
  EXPECT_EQ(again.sheet_problem, "");
  save(labels::kSaveTemplate, pots("again.pdf"));
  const ToolRun second = run_tool({"pdfinfo", pots("again.pdf").string()}, screen().environment());
  EXPECT_THAT(second.out, ContainsRegex("Page size: +792 x 612"));
}

TEST_F(SheetsStep, PagesAreTurnedByKeysAndOnTheMap) {
  start_at(copy_of_sample());
  const Seen all = make("All sheets", "all");
  ASSERT_GT(all.sheet_pages, 4);
  window().key("Next");
  EXPECT_EQ(window().rest().sheet_page, 1);
  window().key("Prior");
  EXPECT_EQ(window().rest().sheet_page, 0);
  window().click("Page 3");
  EXPECT_EQ(window().rest().sheet_page, 2);
  window().put_pointer_aside();
  window().screenshot("sheets-2-all");
}

TEST_F(SheetsStep, ThePaintingIsUnrolledShownAndSaved) {
  start_at(copy_of_sample());
  make("Painting, laid flat", "wall");
  window().put_pointer_aside();
  window().screenshot("sheets-3-wall");
  save("PNG", pots("wall.png"));
  EXPECT_THAT(file_content(pots("wall.png")), StartsWith("\x89PNG"));
  const Seen strips = make("Painting, in strips", "strips");
  EXPECT_GT(strips.sheet_pages, 2);
  window().type_into(labels::kRepeats, "20");
  window().key("Return");
  window().wait_until("the strips", [](const Seen& seen) { return seen.sheet_pages > 2; });
  window().key("Next");
  window().put_pointer_aside();
  window().screenshot("sheets-4-strips");
  window().click("Sheets");
  window().wait_until("the sheets", [&](const Seen& seen) { return seen.sheet_pages > 0; });
  window().put_pointer_aside();
  window().screenshot("sheets-5-strips-on-paper");
  save(labels::kSaveTemplate, pots("strips.pdf"));
  EXPECT_THAT(file_content(pots("strips.pdf")), StartsWith("%PDF"));
}

TEST_F(SheetsStep, ASolidIsSaved) {
  start_at(copy_of_sample());
  make("Vessel as a solid", "solid");
  save("Save STL", pots("jar.stl"));
  EXPECT_GT(std::filesystem::file_size(pots("jar.stl")), 84U);
}

TEST_F(SheetsStep, APrinterIsMeasuredKeptAndMadeUpFor) {
  start_at(copy_of_sample());
  window().wait_until("the pages", [](const Seen& seen) { return seen.sheet_pages > 0; });
  window().click(labels::kMeasurePrinter);
  window().type_into(labels::kPrinterName, "studio");
  window().type_into(labels::kBarAcross, "98.7");
  window().key("Return");
  window().type_into(labels::kBarAlong, "99.2");
  window().key("Return");
  window().click(labels::kKeepPrinter);
  window().wait_until("the printer",
                      [](const Seen& seen) { return seen.printers == 1 && seen.sheet_pages > 0; });
  window().put_pointer_aside();
  window().screenshot("sheets-6-printer");
  const UserFolders folders{home() / "config" / "potshadow", {}, {}};
  const PrinterBook book = load_printer_book(folders).value();
  ASSERT_EQ(book.printers.size(), 1U);
  EXPECT_DOUBLE_EQ(book.printers[0].scale.across, 0.987);
  EXPECT_DOUBLE_EQ(book.printers[0].scale.along, 0.992);
  save(labels::kSaveTemplate, pots("made up.pdf"));
  const ToolRun text =
      run_tool({"pdftotext", pots("made up.pdf").string(), "-"}, screen().environment());
  EXPECT_THAT(text.out, HasSubstr("studio"));
}

TEST_F(SheetsStep, AnUnwritablePlaceIsSaidAndManySheetsAreAsked) {
  Project giant = loaded(copy_of_sample());
  constexpr double kTimes = 20.0;  // what the card beside it would be
  for (ProjectReference& reference : giant.photos.at(0).references) {
    if (reference.width_mm) reference.width_mm = *reference.width_mm * kTimes;
    if (reference.height_mm) reference.height_mm = *reference.height_mm * kTimes;
  }
  ASSERT_TRUE(save_project(giant, pots("giant.potshadow")).ok());
  start_at(pots("giant.potshadow"));
  const Seen asked = window().wait_until(
      "the question", [](const Seen& seen) { return !seen.sheet_problem.empty(); });
  EXPECT_THAT(asked.sheet_problem, HasSubstr("more than 60"));
  std::string draw;
  for (const Widget& widget : asked.widgets) {
    if (widget.name.starts_with("Draw all ")) draw = widget.name;
  }
  ASSERT_NE(draw, "");
  window().put_pointer_aside();
  window().screenshot("sheets-7-asked");
  window().click(draw);
  const Seen many =
      window().wait_until("the pages", [](const Seen& seen) { return seen.sheet_pages > 60; });
  EXPECT_EQ("Draw all " + std::to_string(many.sheet_pages), draw);
  window().put_pointer_aside();
  window().screenshot("sheets-8-many");
  make("Height stick", "stick");
  window().click(labels::kSaveTemplate);
  window().paste_into(labels::kPath, "/proc/stick.pdf");
  window().click(labels::kSaveHere);
  window().wait_until("what went wrong", [](const Seen& seen) { return !seen.problem.empty(); });
  window().screenshot("sheets-9-unwritable");
}

}  // namespace
}  // namespace potshadow::bench
