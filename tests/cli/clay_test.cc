// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>
#include <vector>

#include "clay/body_figures.h"
#include "cli/clay_options.h"
#include "cli/run_program.h"
#include "core/temporary_folder.h"
#include "project/clay_book.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

class ClayCommand : public testing::Test {
 protected:
  std::filesystem::path at(const std::string& name) const { return folder_.path() / name; }
  Ran run(const std::vector<std::string>& arguments, const std::string& data = "data") const {
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + at(data).string()};
    std::vector<std::string> all{"clay"};
    all.insert(all.end(), arguments.begin(), arguments.end());
    return run_program(folder_.path(), all, wishes);
  }
  void done(const std::vector<std::string>& arguments) const {
    const Ran ran = run(arguments);
    EXPECT_EQ(ran.exit_code, 0) << testing::PrintToString(arguments) << ran.err;
    EXPECT_EQ(ran.err, "");
  }
  std::string shown(const std::vector<std::string>& arguments) const {
    const Ran ran = run(arguments);
    EXPECT_EQ(ran.exit_code, 0) << testing::PrintToString(arguments) << ran.err;
    return ran.out;
  }
  std::string refused(const std::vector<std::string>& arguments, int exit_code = 2) const {
    const Ran ran = run(arguments);
    EXPECT_EQ(ran.exit_code, exit_code) << testing::PrintToString(arguments) << ran.out;
    EXPECT_THAT(ran.err, StartsWith("potshadow: "));
    return ran.err;
  }

 private:
  TemporaryFolder folder_;
};

// Real processes at the same time, the first of them without a book or even its folder.
TEST_F(ClayCommand, CommandsAtTheSameTimeLoseNothing) {
  constexpr int kCommands = 12;
  std::atomic<int> done_well = 0;
  const auto all_at_once = [&](const auto& arguments_of) {
    std::vector<std::thread> running;
    for (int i = 0; i < kCommands; ++i) {
      running.emplace_back([&, i] { done_well += run(arguments_of(i)).exit_code == 0 ? 1 : 0; });
    }
    for (std::thread& each : running) each.join();
  };
  all_at_once([](int i) {
    return std::vector<std::string>{"write", "mix-" + std::to_string(i), "--total", "12"};
  });
  all_at_once(
      [](int) { return std::vector<std::string>{"bar", "mix-0", "--wet", "100", "--dry", "94"}; });
  EXPECT_EQ(done_well, 2 * kCommands);
  const Result<ClayBook> book = read_clay_book(at("data/potshadow/clays.json"));
  ASSERT_TRUE(book.ok());
  EXPECT_EQ(book->bodies.size(), static_cast<std::size_t>(kCommands));
  const ClayBody* const first = body_in(book->bodies, "mix-0");
  ASSERT_NE(first, nullptr);
  EXPECT_EQ(first->bars.size(), static_cast<std::size_t>(kCommands));
}

TEST_F(ClayCommand, ABarIsWrittenDownAsItDriesAndIsFired) {
  EXPECT_THAT(shown({}), HasSubstr("empty"));
  done({"write", "buff-mix", "--name", "Buff mix", "--firing", "950"});
  for (const std::string dry : {"94.0", "94.2", "93.8"}) {
    done({"bar", "buff-mix", "--wet", "100", "--dry", dry, "--date", "2026-11-25"});
  }
  const std::string dried = shown({"show", "buff-mix"});
  EXPECT_THAT(dried, HasSubstr("6.00 ± 0.50 %"));  // 4.303 x 0.2 / sqrt(3)
  EXPECT_THAT(dried, HasSubstr("a handbook's range"));
  int number = 0;
  for (const std::string fired : {"88.0", "88.4", "87.6"}) {
    done({"bar", "buff-mix", "--number", std::to_string(++number), "--fired", fired, "--firing",
          "950"});
  }
  EXPECT_THAT(shown({"show", "buff-mix"}), HasSubstr("12.00 ± 0.99 %"));
  EXPECT_THAT(shown({"list"}), HasSubstr("Buff mix"));
  EXPECT_THAT(refused({"show", "buff-mix", "--firing", "1100"}, 1), HasSubstr("lies beyond"));
  done({"bar", "buff-mix", "--number", "3", "--leave-out"});
  EXPECT_THAT(shown({"show", "buff-mix"}), HasSubstr("left out"));
  done({"remove", "buff-mix", "--number", "3"});
  done({"remove", "buff-mix"});
  EXPECT_THAT(shown({"list"}), HasSubstr("empty"));
}

TEST_F(ClayCommand, WhatLooksWrongIsAskedAboutAndNothingIsWritten) {
  done({"write", "buff-mix"});
  const std::string before = content(at("data") / "potshadow" / "clays.json");
  EXPECT_THAT(refused({"bar", "buff-mix", "--wet", "100", "--dry", "3.7"}), HasSubstr("inches"));
  EXPECT_THAT(refused({"bar", "buff-mix", "--wet", "94", "--dry", "100"}), HasSubstr("exchanged"));
  EXPECT_THAT(refused({"bar", "buff-mix", "--wet", "many"}), HasSubstr("not a number"));
  EXPECT_THAT(refused({"bar", "buff-mix"}), HasSubstr("Nothing was said"));
  EXPECT_THAT(refused({"bar", "other", "--wet", "100"}), HasSubstr("no clay 'other'"));
  EXPECT_THAT(refused({"bar", "buff-mix", "--number", "7", "--dry", "94"}), HasSubstr("no bar 7"));
  EXPECT_THAT(refused({"write", "two words"}), HasSubstr("cannot be a clay's record"));
  EXPECT_THAT(refused({"knead"}), HasSubstr("'knead'"));
  EXPECT_EQ(content(at("data") / "potshadow" / "clays.json"), before);
  // Expansion that is small is asked about, and written.
  const Ran grew = run({"bar", "buff-mix", "--dry", "90", "--fired", "90.4"});
  EXPECT_EQ(grew.exit_code, 0);
  EXPECT_THAT(grew.out, HasSubstr("! Bar 1 grew by 0.4 %"));
}

TEST_F(ClayCommand, InchesAreReadWhereTheyAreSaid) {
  done({"write", "buff-mix"});
  done({"bar", "buff-mix", "--wet", "4", "--dry", "3 3/4", "--units", "in"});
  EXPECT_THAT(shown({"show", "buff-mix"}), HasSubstr("101.6"));
}

TEST_F(ClayCommand, AClayIsHandedOn) {
  done({"write", "river", "--total", "11"});
  done({"write", "mix", "--mix", "river=70, temper:Grog=30"});
  EXPECT_THAT(shown({"show", "mix"}), HasSubstr("an estimate from the clays of its mix"));
  done({"export", "--output", "clays.json"});
  const Ran taken = run({"import", "clays.json"}, "friend");
  EXPECT_EQ(taken.exit_code, 0) << taken.err;
  EXPECT_EQ(content(at("data") / "potshadow" / "clays.json"),
            content(at("friend") / "potshadow" / "clays.json"));
  // Another clay of the same record is not written over without a word.
  const Ran changed = run({"write", "river", "--total", "9"}, "friend");
  EXPECT_EQ(changed.exit_code, 0);
  const Ran kept = run({"import", "clays.json"}, "friend");
  EXPECT_EQ(kept.exit_code, 2);
  EXPECT_THAT(kept.err, HasSubstr("--replace"));
  const Ran replaced = run({"import", "clays.json", "--replace"}, "friend");
  EXPECT_EQ(replaced.exit_code, 0);
  EXPECT_THAT(run({"export", "river", "--output", "-"}, "friend").out,
              HasSubstr("\"percent\": 11.0"));
  EXPECT_THAT(refused({"import", "nowhere.json"}), HasSubstr("nowhere.json"));
}

TEST_F(ClayCommand, TheSheetAndTheHandbookArePrinted) {
  done({"sheet", "--output", "bars.pdf"});
  EXPECT_THAT(content(at("bars.pdf")), StartsWith("%PDF-"));
  EXPECT_THAT(shown({"handbook"}), HasSubstr("Springside"));
  EXPECT_THAT(shown({"--help"}), HasSubstr("Usage: potshadow clay"));
}

// A project names its clay's record: measure and sheet use the book's shrinkage.
TEST_F(ClayCommand, MeasureAndSheetUseTheRecord) {
  std::string project = content(POTSHADOW_SOURCE_DIR "/tests/cli/data/shelf-jar.potshadow");
  const std::string stated = R"("shrinkage_percent": 12.0)";
  ASSERT_NE(project.find(stated), std::string::npos);
  project.replace(project.find(stated), stated.size(), R"("firing_c": 950)");
  std::ofstream(at("jar.potshadow"), std::ios::binary) << project;
  std::ofstream(at("grey.jpg"), std::ios::binary)
      << content(POTSHADOW_SOURCE_DIR "/tests/project/data/grey.jpg");
  const auto measure = [&](const std::vector<std::string>& arguments) {
    RunWishes wishes;
    wishes.environment = {"XDG_DATA_HOME=" + at("data").string()};
    return run_program(at("."), arguments, wishes);
  };
  const Ran unknown = measure({"measure", "jar.potshadow"});
  EXPECT_EQ(unknown.exit_code, 0) << unknown.err;
  EXPECT_THAT(unknown.out, HasSubstr("'buff-mix' is not in your book of clays"));
  EXPECT_EQ(measure({"sheet", "jar.potshadow", "--output", "jar.pdf"}).exit_code, 1);

  done({"write", "buff-mix", "--name", "Buff mix"});
  for (const std::string fired : {"88.0", "88.4", "87.6"}) {
    done({"bar", "buff-mix", "--wet", "100", "--dry", "94", "--fired", fired, "--firing", "950"});
  }
  const Ran known = measure({"measure", "jar.potshadow"});
  EXPECT_EQ(known.exit_code, 0) << known.err;
  EXPECT_THAT(known.out, HasSubstr("shrinks by 12.0 ± 1.0 %"));
  EXPECT_THAT(known.out, HasSubstr("At each stage"));
  EXPECT_THAT(known.out, HasSubstr("By Buff mix: in all it shrinks by 12.00 ± 0.99 %"));
  const Ran sheet = measure({"sheet", "jar.potshadow", "--output", "jar.pdf"});
  EXPECT_EQ(sheet.exit_code, 0) << sheet.err;
  EXPECT_THAT(sheet.out, HasSubstr("enlarged for 12.0 % shrinkage"));
}

TEST(ClayArguments, WhatIsWrongIsSaid) {
  const std::vector<std::vector<std::string>> kBad{
      {"show"},
      {"show", "a", "b"},
      {"bar", "a", "--wet"},
      {"bar", "a", "--wet", "100", "--units", "ell"},
      {"bar", "a", "--wet", "100", "--way", "up"},
      {"bar", "a", "--wet", "100", "--cone", "06", "--firing", "950"},
      {"bar", "a", "--number", "1.5", "--dry", "94"},
      {"bar", "a", "--number", "1", "--use", "--leave-out"},
      {"export"},
      {"sheet", "--output", "x.pdf", "--paper", "b7"},
      {"list", "all"},
      {"write", "a", "--colour", "red"}};
  int checked = 0;
  for (const auto& arguments : kBad) {
    const auto parsed = parse_clay_arguments(arguments);
    const auto* wrong = std::get_if<UsageProblem>(&parsed);
    ASSERT_NE(wrong, nullptr) << testing::PrintToString(arguments);
    EXPECT_TRUE(wrong->what.ends_with(".")) << wrong->what;
    EXPECT_TRUE(wrong->next.ends_with(".")) << wrong->next;
    ++checked;
  }
  EXPECT_EQ(checked, 12);
}

}  // namespace
}  // namespace potshadow
