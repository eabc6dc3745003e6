// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "cli/run_program.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

// 'export', 'printer' and the kinds of 'sheet', by a jar whose clay states its shrinkage.
class WorkCommands : public testing::Test {
 protected:
  WorkCommands() {
    put("jar.potshadow", content(POTSHADOW_SOURCE_DIR "/tests/cli/data/shelf-jar.potshadow"));
    put("grey.jpg", content(POTSHADOW_SOURCE_DIR "/tests/project/data/grey.jpg"));
  }
  Ran run(const std::vector<std::string>& arguments, unsigned long most_file_bytes = 0) const {
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + (folder_.path() / "data").string(),
                          "XDG_CONFIG_HOME=" + (folder_.path() / "config").string(),
                          "SOURCE_DATE_EPOCH=1795600000"};
    wishes.most_file_bytes = most_file_bytes;
    return run_program(folder_.path(), arguments, wishes);
  }
  std::string made(const std::string& name) const { return content(folder_.path() / name); }
  void put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_.path() / name, std::ios::binary) << bytes;
  }

 private:
  TemporaryFolder folder_;
};

TEST_F(WorkCommands, ExportWritesEveryFormat) {
  struct Row {
    std::string file;
    std::string kind;
    std::string begins;
  };
  int ran = 0;
  for (const Row& row :
       {Row{"a.svg", "profile,rings,stick,cradle,lid,section,rib", "<?xml"},
        Row{"a.dxf", "profile,rings", "999\n"}, Row{"a.stl", "vessel", "Potshadow, mm: "},
        Row{"b.stl", "cradle", "Potshadow, mm: "}, Row{"c.OBJ", "rib", "# "}}) {
    const Ran done = run({"export", "jar.potshadow", "--output", row.file, "--kind", row.kind});
    EXPECT_EQ(done.exit_code, 0) << done.err;
    EXPECT_THAT(done.out, StartsWith("Wrote " + row.file + ": "));
    EXPECT_THAT(done.out, HasSubstr("wet size, enlarged for 12.0 % shrinkage"));
    EXPECT_THAT(made(row.file), StartsWith(row.begins));
    ++ran;
  }
  EXPECT_EQ(ran, 5);
  EXPECT_THAT(run({"export", "--help"}).out, HasSubstr("Usage: potshadow export"));
}

TEST_F(WorkCommands, SheetWritesEveryKindNumberedThrough) {
  const Ran all = run({"sheet", "jar.potshadow", "--output", "all.pdf", "--kind", "all"});
  EXPECT_EQ(all.exit_code, 0) << all.err;
  EXPECT_THAT(made("all.pdf"), StartsWith("%PDF"));
  const Ran fired = run({"sheet", "jar.potshadow", "--output", "fired.pdf", "--kind", "rings",
                         "--stage", "fired", "--paper", "tabloid"});
  EXPECT_EQ(fired.exit_code, 0) << fired.err;
  EXPECT_THAT(fired.out, HasSubstr("enlarged for 0.0 % shrinkage"));
}

TEST_F(WorkCommands, PrintersAreKeptAndMadeUpFor) {
  EXPECT_THAT(run({"printer"}).out, HasSubstr("No printer is kept yet."));
  const Ran unknown = run({"sheet", "jar.potshadow", "--output", "a.pdf", "--printer", "studio"});
  EXPECT_EQ(unknown.exit_code, 2);
  EXPECT_THAT(unknown.err, HasSubstr("There is no printer 'studio'."));
  EXPECT_EQ(run({"printer", "studio", "--across", "99.1", "--along", "98.6"}).exit_code, 0);
  EXPECT_THAT(run({"printer"}).out, HasSubstr("studio: 100 mm come out as 99.10 mm across"));
  EXPECT_EQ(run({"sheet", "jar.potshadow", "--output", "a.pdf"}).exit_code, 0);
  EXPECT_EQ(run({"sheet", "jar.potshadow", "--output", "b.pdf", "--printer", "studio"}).exit_code,
            0);
  EXPECT_NE(made("a.pdf"), made("b.pdf"));
  // Measured again on a sheet that made up for it: 99.1 x 1.002.
  EXPECT_THAT(run({"printer", "studio", "--across", "100.2", "--along", "100", "--corrected"}).out,
              HasSubstr("99.30 mm across and 98.60 mm along"));
  EXPECT_EQ(run({"printer", "studio", "--forget"}).exit_code, 0);
  EXPECT_EQ(run({"printer", "studio", "--forget"}).exit_code, 2);
  EXPECT_EQ(run({"printer", "studio", "--across", "50", "--along", "100"}).exit_code, 2);
}

TEST_F(WorkCommands, BadInputIsSaidAndNothingIsHalfWritten) {
  struct Row {
    std::vector<std::string> arguments;
    int exit_code;
    std::string says;
  };
  put("old.stl", "old");
  const std::vector<Row> kRows{
      {{"export", "jar.potshadow", "--output", "old.stl", "--wall", "200"}, 2, "thicker than"},
      {{"export", "jar.potshadow", "--output", "old.stl", "--tolerance", "0"}, 2, "keep within"},
      {{"export", "jar.potshadow", "--output", "old.stl", "--kind", "rib", "--plate", "0"},
       2,
       "A plate cannot"},
      {{"export", "jar.potshadow", "--output", "no/such/old.stl"}, 2, "no/such"},
      {{"export", "jar.potshadow", "--output", "jar.potshadow.svg/x.svg"}, 2, "x.svg"},
      {{"sheet", "jar.potshadow", "--output", "old.stl", "--kind", "rib", "--wall", "150"},
       2,
       "thicker than"},
      {{"sheet", "jar.potshadow", "--output", "old.stl", "--kind", "section", "--scale", "1:1",
        "--most-pages", "1"},
       1,
       "more than 1 sheets"},
      {{"sheet", "jar.potshadow", "--output", "old.stl", "--kind", "cradle", "--cradle", "900"},
       2,
       "larger than the vessel"},
      {{"export", "none.potshadow", "--output", "old.stl"}, 2, "none.potshadow"},
  };
  std::size_t ran = 0;
  for (const Row& row : kRows) {
    const Ran done = run(row.arguments);
    EXPECT_EQ(done.exit_code, row.exit_code) << row.says;
    EXPECT_THAT(done.err, HasSubstr(row.says));
    EXPECT_THAT(done.out, Not(HasSubstr("Wrote")));
    ++ran;
  }
  EXPECT_EQ(ran, kRows.size());
  EXPECT_EQ(made("old.stl"), "old");
  // A disk that is full.
  const Ran full = run({"export", "jar.potshadow", "--output", "old.stl"}, 100'000);
  EXPECT_EQ(full.exit_code, 2);
  EXPECT_EQ(made("old.stl"), "old");
}

}  // namespace
}  // namespace potshadow
