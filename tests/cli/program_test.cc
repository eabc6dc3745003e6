// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.h"
#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

// The jar of this project: a surface of revolution 235 mm high with 150 mm rim and 110 mm base, put
// through a pinhole of 40 mm (35 mm equivalent) 820 mm away, 17 degrees above the level. The
// contact with each ray was solved in closed form outside this program, and 0.5 px of noise added.
const std::filesystem::path kJar = POTSHADOW_SOURCE_DIR "/tests/cli/data/shelf-jar.potshadow";
const std::filesystem::path kPicture = POTSHADOW_SOURCE_DIR "/tests/project/data/grey.jpg";
const std::map<std::string, double> kTruthMm{
    {"height", 235.0}, {"rim_diameter", 150.0}, {"base_diameter", 110.0}};

void put(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

std::string replaced(std::string text, const std::string& old_part, const std::string& new_part) {
  const std::size_t at = text.find(old_part);
  EXPECT_NE(at, std::string::npos) << old_part;
  return at == std::string::npos ? text : text.replace(at, old_part.size(), new_part);
}

// Returns the text with the list of points under `key` emptied but for the first `keep`.
std::string with_fewer_points(const std::string& text, const std::string& key, int keep) {
  const std::size_t start = text.find('[', text.find("\"" + key + "\""));
  std::size_t end = start;
  for (int i = 0; i < keep; ++i) end = text.find(']', end + 1);
  const std::size_t close = text.find(']', text.find("]\n", start) + 2);
  const std::string kept = keep == 0 ? "[" : text.substr(start, end + 1 - start);
  return text.substr(0, start) + kept + text.substr(close);
}

// Two lines, each one sentence.
void expect_two_sentences(const std::string& err, const std::string& about) {
  std::vector<std::string> lines;
  std::istringstream stream(err);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  ASSERT_EQ(lines.size(), 2U) << about << ": " << err;
  EXPECT_THAT(lines[0], StartsWith("potshadow: ")) << about;
  for (const std::string& line : lines) {
    EXPECT_THAT(line, testing::EndsWith(".")) << about;
    EXPECT_EQ(line.find(". "), std::string::npos) << about << ": " << line;
  }
}

// A folder with the jar's project and its picture.
class Program : public testing::Test {
 protected:
  Program() {
    put(at("jar.potshadow"), content(kJar));
    put(at("grey.jpg"), content(kPicture));
  }

  std::filesystem::path at(const std::string& name) const { return folder_.path() / name; }
  Ran run(const std::vector<std::string>& arguments, const RunWishes& wishes = {}) const {
    return run_program(folder_.path(), arguments, wishes);
  }
  std::vector<std::string> names() const { return folder_.names(); }

  // Runs the program and checks that it failed with two sentences and left every file alone.
  std::string refused(const std::vector<std::string>& arguments, int exit_code,
                      const RunWishes& wishes = {}) const {
    const std::map<std::string, std::string> before = files();
    const Ran ran = run(arguments, wishes);
    const std::string about = testing::PrintToString(arguments);
    EXPECT_EQ(ran.exit_code, exit_code) << about << ran.err;
    expect_two_sentences(ran.err, about);
    EXPECT_EQ(files(), before) << about;
    return ran.err;
  }

 private:
  std::map<std::string, std::string> files() const {
    std::map<std::string, std::string> all;
    for (const std::string& name : names()) {
      all[name] = std::filesystem::is_directory(at(name)) ? "a folder" : content(at(name));
    }
    return all;
  }

  TemporaryFolder folder_;
};

// Returns the fields of the line of `size` in a CSV text: project, size, value, sd ...
std::vector<std::string> csv_fields(const std::string& csv, const std::string& size) {
  std::istringstream lines(csv);
  for (std::string line; std::getline(lines, line);) {
    std::vector<std::string> fields;
    std::istringstream stream(line.substr(0, line.find('\r')));
    for (std::string field; std::getline(stream, field, ',');) fields.push_back(field);
    if (fields.size() == 8 && fields[1] == size) return fields;
  }
  return {};
}

TEST_F(Program, MeasurePrintsATableAndLeavesTheProjectAlone) {
  const auto time = std::filesystem::last_write_time(at("jar.potshadow"));
  const Ran ran = run({"measure", "jar.potshadow"});
  EXPECT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_EQ(ran.err, "");
  EXPECT_THAT(ran.out, StartsWith("Shelf jar\njar.potshadow, photograph grey.jpg\n"));
  EXPECT_THAT(ran.out, HasSubstr("\n  Capacity to the brim"));
  EXPECT_THAT(ran.out, HasSubstr("a jar with a drawn-in mouth"));
  EXPECT_THAT(ran.out, HasSubstr("shrinks by 12.0 ± 0.8 %"));
  EXPECT_THAT(ran.out, Not(HasSubstr("\x1B")));
  EXPECT_EQ(content(at("jar.potshadow")), content(kJar));
  EXPECT_EQ(std::filesystem::last_write_time(at("jar.potshadow")), time);
  EXPECT_THAT(names(), ElementsAre("grey.jpg", "jar.potshadow"));
}

TEST_F(Program, MeasuredSizesHoldTheTruth) {
  const Ran ran = run({"measure", "jar.potshadow", "--csv", "-"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, StartsWith("project,size,value,sd,low95,high95,unit,scale\r\n"));
  constexpr double kChance = 4.0;       // predicted deviations: about 1 in 16,000 by chance
  constexpr double kMostPercent = 2.0;  // a wide interval alone would be no answer
  std::size_t ran_checks = 0;
  for (const auto& [size, truth] : kTruthMm) {
    const std::vector<std::string> fields = csv_fields(ran.out, size);
    ASSERT_EQ(fields.size(), 8U) << size;
    const double value = std::stod(fields[2]);
    const double sd = std::stod(fields[3]);
    EXPECT_NEAR(value, truth, kChance * sd) << size;
    EXPECT_NEAR(100.0 * value / truth, 100.0, kMostPercent) << size;
    EXPECT_EQ(fields[6], "mm");
    ++ran_checks;
  }
  EXPECT_EQ(ran_checks, 3U);
}

TEST_F(Program, JsonGoesToAFileOrToStandardOutputTheSame) {
  const Ran to_file = run({"measure", "jar.potshadow", "--json", "jar.json"});
  EXPECT_EQ(to_file.exit_code, 0) << to_file.err;
  EXPECT_THAT(to_file.out, StartsWith("Shelf jar\n"));
  const Ran to_output = run({"measure", "jar.potshadow", "--json", "-", "--csv", "jar.csv"});
  EXPECT_EQ(to_output.exit_code, 0);
  EXPECT_EQ(to_output.out, content(at("jar.json")));
  EXPECT_THAT(to_output.out, StartsWith("{\n  \"format\": 1,\n  \"projects\": ["));
  EXPECT_THAT(content(at("jar.csv")), StartsWith("project,size,"));
  EXPECT_THAT(names(), ElementsAre("grey.jpg", "jar.csv", "jar.json", "jar.potshadow"));
}

TEST_F(Program, IntervalsCanBeChecked) {
  const Ran first = run({"measure", "jar.potshadow", "--csv", "-"});
  const Ran one = run({"measure", "jar.potshadow", "--monte-carlo", "100", "--json", "one.json",
                       "--csv", "one.csv", "--jobs", "1"});
  EXPECT_EQ(one.exit_code, 0) << one.err;
  EXPECT_EQ(one.err, "");  // a terminal alone is told how far it is
  EXPECT_THAT(one.out,
              HasSubstr("Checked by redrawing 100 times (0 failed, seed 1): the intervals agree"));
  const Ran two = run(
      {"measure", "jar.potshadow", "--monte-carlo", "100", "--json", "two.json", "--jobs", "2"});
  EXPECT_EQ(two.exit_code, 0) << two.err;
  EXPECT_EQ(two.out, one.out);
  EXPECT_EQ(content(at("two.json")), content(at("one.json")));
  EXPECT_THAT(content(at("one.json")), HasSubstr("\"monte_carlo\": {"));
  EXPECT_EQ(content(at("one.csv")), first.out);  // they agree on this jar, so no figure changes
}

TEST_F(Program, OneBadProjectDoesNotStopTheRest) {
  put(at("bad.potshadow"), "{");
  const Ran ran =
      run({"measure", "bad.potshadow", "jar.potshadow", "--csv", "all.csv", "--json", "all.json"});
  EXPECT_EQ(ran.exit_code, 2);
  expect_two_sentences(ran.err, "bad and good");
  EXPECT_THAT(ran.out, HasSubstr("Shelf jar\n"));
  EXPECT_EQ(csv_fields(content(at("all.csv")), "height").size(), 8U);
  EXPECT_THAT(content(at("all.json")), HasSubstr("\"problem\": {"));
  EXPECT_THAT(content(at("all.json")), HasSubstr("\"sizes_mm\": {"));
  // The worst code counts, not the last.
  put(at("few.potshadow"), with_fewer_points(content(kJar), "rim_px", 0));
  EXPECT_EQ(run({"measure", "few.potshadow", "jar.potshadow"}).exit_code, 1);
  EXPECT_EQ(run({"measure", "bad.potshadow", "few.potshadow"}).exit_code, 2);
}

TEST_F(Program, ManyProjectsGiveTheSameWhateverTheJobs) {
  std::vector<std::string> measure{"measure"};
  constexpr int kProjects = 12;
  for (int i = 0; i < kProjects; ++i) {
    const std::string name = "jar-" + std::to_string(i) + ".potshadow";
    put(at(name),
        i % 5 == 2 ? "{" : replaced(content(kJar), "Shelf jar", "Jar " + std::to_string(i)));
    measure.push_back(name);
  }
  std::vector<Ran> all;
  for (const std::string jobs : {"1", "2", "7"}) {
    std::vector<std::string> arguments = measure;
    const std::string file = "with-" + jobs;
    arguments.insert(arguments.end(),
                     {"--jobs", jobs, "--json", file + ".json", "--csv", file + ".csv"});
    all.push_back(run(arguments));
    EXPECT_EQ(all.back().exit_code, 2);
    EXPECT_EQ(all.back().out, all.front().out);
    EXPECT_EQ(all.back().err, all.front().err);
    EXPECT_EQ(content(at(file + ".json")), content(at("with-1.json")));
    EXPECT_EQ(content(at(file + ".csv")), content(at("with-1.csv")));
  }
  EXPECT_EQ(all.size(), 3U);
  // In their order, the bad ones among them.
  const std::string csv = content(at("with-1.csv"));
  EXPECT_LT(csv.find("\r\nJar 1,"), csv.find("\r\nJar 3,"));
  EXPECT_LT(csv.find("\r\nJar 3,"), csv.find("\r\nJar 11,"));
  EXPECT_EQ(csv.find("Jar 2,"), std::string::npos);
  const std::string json = content(at("with-1.json"));
  EXPECT_LT(json.find("jar-1.potshadow"), json.find("jar-2.potshadow"));
  EXPECT_LT(all.front().err.find("jar-2.potshadow"), all.front().err.find("jar-7.potshadow"));
}

TEST_F(Program, BadProjectsAreRefused) {
  struct Case {
    std::string text;
    int exit_code;
    std::string message;
  };
  const std::string jar = content(kJar);
  const std::vector<Case> cases{
      {"", 2, "is empty"},
      {"\x89PNG\r\n\x1A\n", 2, "is not sound JSON at line 1, column 1"},
      {"{\n \"potshadow\": 1,\n \"name\" \"jar\"\n}", 2, "is not sound JSON at line 3, column 13"},
      {jar.substr(0, jar.size() / 2), 2, "is not sound JSON at line "},
      {replaced(jar, "\"potshadow\": 1", "\"potshadow\": 2"), 2, "newer Potshadow"},
      {replaced(jar, "120.0", "\"120\""), 2, "'width_mm' should be a number, but it is text"},
      {replaced(jar, "120.0", "-120.0"), 2, "'width_mm' is -120.0"},
      {replaced(jar, "120.0", "NaN"), 2, "is not sound JSON"},
      {replaced(jar, "120.0", "1e999"), 2, "a number too large"},
      {replaced(jar, "\"rectangle\"", "\"grid\", \"columns\": 0"), 2,
       "'columns' should be between 1 and 10000"},
      {replaced(jar, "\"rectangle\"", "\"neighbour\", \"rim_diameter_mm\": 90"), 2,
       "both 'height_mm' and 'rim_diameter_mm' are given"},
      {replaced(jar, "\"file\"", "\"direction_deg\": 400, \"file\""), 2,
       "'direction_deg' is 400.0"},
      {replaced(jar, "\"shrinkage_percent\": 12.0", "\"shrinkage_percent\": 35.0"), 2,
       "'shrinkage_percent' is 35.0"},
      {replaced(jar, "grey.jpg", "gone.jpg"), 2, "There is no file"},
      {replaced(jar, "grey.jpg", "."), 2, "potshadow: case.potshadow: "},
      {with_fewer_points(jar, "rim_px", 0), 1, "potshadow: case.potshadow: "},
      {with_fewer_points(jar, "base_px", 0), 1, "potshadow: case.potshadow: "},
      {replaced(jar, "[246.8, 1128.9]", "[246.8, 99999]"), 1, "corner 1 lies far outside"},
  };
  std::size_t ran = 0;
  for (const Case& test : cases) {
    put(at("case.potshadow"), test.text);
    const std::string err = refused({"measure", "case.potshadow", "--csv", "case.csv"},
                                    test.exit_code, {.standard_output = "/dev/null"});
    EXPECT_THAT(err, HasSubstr(test.message));
    ++ran;
  }
  EXPECT_EQ(ran, 18U);
}

// The jar of which nothing but a guess says how big it is.
std::string guessed_jar() {
  const std::string jar = content(kJar);
  return replaced(jar, "\"kind\": \"rectangle\"",
                  "\"kind\": \"size\", \"size\": \"height\", \"value_mm\": 240, \"sd_mm\": 10, "
                  "\"guess\": true");
}

TEST_F(Program, AGuessedScaleIsSaidWhereverItReaches) {
  put(at("jar.potshadow"), guessed_jar());
  const Ran ran =
      run({"measure", "jar.potshadow", "--json", "jar.json", "--csv", "jar.csv", "--units", "mm"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("\n! Scale guessed: height 240 ± 20 mm. "));
  const std::string json = content(at("jar.json"));
  EXPECT_THAT(json, HasSubstr("\"scale\": \"guess\""));
  EXPECT_THAT(json, HasSubstr("\"guess\": true"));
  const std::vector<std::string> fields = csv_fields(content(at("jar.csv")), "rim_diameter");
  ASSERT_EQ(fields.size(), 8U);
  EXPECT_EQ(fields[7], "guess");
  const Ran sheet = run({"sheet", "jar.potshadow", "--output", "jar.pdf"});
  EXPECT_EQ(sheet.exit_code, 0) << sheet.err;
  EXPECT_THAT(sheet.out, HasSubstr("\n! The scale is a guess"));
  EXPECT_THAT(content(at("jar.pdf")), StartsWith("%PDF-"));
}

// A bowl 80 mm high with a rim of 180 mm and a base of 90 mm, its radius a parabola of the height,
// through a pinhole of 40 mm (35 mm equivalent): from 700 mm away and 20 degrees above the level
// beside a bank card, and from 900 mm away, 38 degrees above and 70 degrees to the left, without
// anything of known size. The contacts were solved in closed form outside this program, and 0.5 px
// of noise added.
const std::filesystem::path kBowl = POTSHADOW_SOURCE_DIR "/tests/cli/data/low-bowl-two.potshadow";
const std::map<std::string, double> kBowlMm{
    {"height", 80.0}, {"rim_diameter", 180.0}, {"base_diameter", 90.0}};

// The same picture with a comment in it (ITU-T T.81, B.2.4.5): another file.
std::string commented(const std::string& jpeg) {
  return jpeg.substr(0, 2) + std::string("\xFF\xFE\x00\x06left", 8) + jpeg.substr(2);
}

TEST_F(Program, TwoPhotographsAreMeasuredTogether) {
  put(at("bowl.potshadow"), content(kBowl));
  put(at("left.jpg"), commented(content(kPicture)));
  const Ran both = run({"measure", "bowl.potshadow", "--json", "bowl.json", "--csv", "bowl.csv"});
  ASSERT_EQ(both.exit_code, 0) << both.err;
  EXPECT_THAT(both.out, HasSubstr("bowl.potshadow, photographs grey.jpg, left.jpg\n"));
  EXPECT_THAT(both.out, HasSubstr("\n  Photo 1 was taken from "));
  EXPECT_THAT(both.out, HasSubstr("\n  Photo 2 was taken from "));
  EXPECT_THAT(content(at("bowl.json")), HasSubstr(R"("photos": ["grey.jpg", "left.jpg"])"));
  EXPECT_THAT(content(at("bowl.json")), HasSubstr("\"scale\": \"known\""));
  // The second alone carries no scale, but what it shows of the shape narrows the answer.
  put(at("left.jpg"), content(kPicture));
  const Ran one = run({"measure", "bowl.potshadow", "--csv", "one.csv"});
  ASSERT_EQ(one.exit_code, 0) << one.err;
  EXPECT_THAT(one.out, HasSubstr("\n! Photo 2 is the same picture as photo 1"));
  constexpr double kChance = 4.0;  // predicted deviations: about 1 in 16,000 by chance
  std::size_t ran = 0;
  for (const auto& [size, truth] : kBowlMm) {
    const std::vector<std::string> two = csv_fields(content(at("bowl.csv")), size);
    const std::vector<std::string> first = csv_fields(content(at("one.csv")), size);
    ASSERT_EQ(two.size(), 8U) << size;
    ASSERT_EQ(first.size(), 8U) << size;
    EXPECT_NEAR(std::stod(two[2]), truth, kChance * std::stod(two[3])) << size;
    EXPECT_LT(std::stod(two[3]), std::stod(first[3])) << size;
    ++ran;
  }
  EXPECT_EQ(ran, 3U);
}

TEST_F(Program, WithoutAScaleTheProportionsAreAnswered) {
  // The reference that cannot be used is named.
  const std::string jar = content(kJar);
  struct Case {
    std::string text;
    std::string note;
  };
  const std::vector<Case> cases{
      {replaced(jar, "\"rectangle\"", "\"spoon\""), "is of the kind 'spoon'"},
      {replaced(jar, "\"rectangle\"", "\"disc\""), "has no diameter yet"},
      {replaced(jar, "\"rectangle\"", "\"grid\""), "has no distance from line to line yet"},
      {with_fewer_points(jar, "corners_px", 3), "has 3 of its 4 corners marked"}};
  std::size_t ran = 0;
  for (const Case& test : cases) {
    put(at("open.potshadow"), test.text);
    const Ran measured =
        run({"measure", "open.potshadow", "--json", "open.json", "--csv", "open.csv"});
    ASSERT_EQ(measured.exit_code, 0) << measured.err;
    EXPECT_THAT(measured.out, HasSubstr("\n! Nothing of known size was given"));
    EXPECT_THAT(measured.out, HasSubstr("Height to maximum diameter"));
    EXPECT_THAT(measured.out, HasSubstr("\n! Photo 1, reference 1 " + test.note));
    EXPECT_THAT(measured.out, Not(HasSubstr("mm away")));
    EXPECT_THAT(content(at("open.json")), HasSubstr("\"scale\": \"none\""));
    EXPECT_THAT(content(at("open.json")), HasSubstr("\"profile_unit\": \"percent_of_height\""));
    EXPECT_THAT(content(at("open.json")), HasSubstr("\"height\": null"));
    const std::vector<std::string> fields =
        csv_fields(content(at("open.csv")), "height_to_max_diameter");
    ASSERT_EQ(fields.size(), 8U);
    EXPECT_EQ(fields[6], "ratio");
    EXPECT_EQ(fields[7], "none");
    EXPECT_THAT(refused({"sheet", "open.potshadow", "--output", "open.pdf"}, 1),
                HasSubstr("How big the vessel is stays open"));
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
}

TEST_F(Program, BadPicturesAreRefusedUnlessTheirSizeIsKnown) {
  const std::string picture = content(kPicture);
  struct Case {
    std::string bytes;
    int exit_code;
  };
  const std::vector<Case> cases{{"", 2},
                                {"not a picture", 2},
                                {picture.substr(0, 200), 2},
                                {picture.substr(0, picture.size() - 100), 2}};
  std::size_t ran = 0;
  for (const Case& test : cases) {
    put(at("grey.jpg"), test.bytes);
    put(at("jar.potshadow"), content(kJar));
    EXPECT_THAT(refused({"measure", "jar.potshadow"}, test.exit_code), HasSubstr("grey.jpg"));
    put(at("jar.potshadow"),
        replaced(content(kJar), "\"file\": \"grey.jpg\",",
                 "\"file\": \"grey.jpg\", \"width_px\": 2016, \"height_px\": 1512,"));
    const Ran measured = run({"measure", "jar.potshadow"});
    EXPECT_EQ(measured.exit_code, 0) << measured.err;
    EXPECT_THAT(measured.out, HasSubstr("\n! The "));
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
}

TEST_F(Program, WrongUsageIsTwoSentencesAndCodeTwo) {
  const std::vector<std::vector<std::string>> cases{
      {"guess"},
      {"mesure", "jar.potshadow"},
      {"jar.potshadow", "grey.jpg"},
      {"--fast"},
      {"measure"},
      {"measure", "jar.potshadow", "--fast"},
      {"measure", "jar.potshadow", "--units", "yd"},
      {"measure", "jar.potshadow", "--json"},
      {"measure", "none.potshadow"},
      {"measure", "."},
      {"sheet", "jar.potshadow"},
      {"sheet", "jar.potshadow", "--output", "jar.pdf", "--shrinkage", "31"},
      {"sheet", "jar.potshadow", "--output", "jar.pdf", "--shrinkage", "-1"},
      {"sheet", "jar.potshadow", "--output", "jar.pdf", "--shrinkage", "nan"},
      {"sheet", "jar.potshadow", "--output", "jar.pdf", "--shrinkage-sd", "-1"},
      {"sheet", "none.potshadow", "--output", "jar.pdf"}};
  std::size_t ran = 0;
  for (const auto& arguments : cases) {
    refused(arguments, 2);
    ++ran;
  }
  EXPECT_EQ(ran, 16U);
}

TEST_F(Program, HelpAndVersionGoToStandardOutput) {
  for (const std::vector<std::string>& arguments :
       {std::vector<std::string>{"--help"}, {"measure", "--help"}, {"sheet", "--help"}}) {
    const Ran ran = run(arguments);
    EXPECT_EQ(ran.exit_code, 0);
    EXPECT_EQ(ran.err, "");
    EXPECT_THAT(ran.out, HasSubstr("Examples:\n  potshadow "));
  }
  EXPECT_EQ(run({"--version"}).out, "potshadow " POTSHADOW_VERSION "\n");
}

TEST_F(Program, OutputsThatCannotBeWrittenLeaveOldFilesAlone) {
  put(at("old.json"), "old");
  put(at("old.pdf"), "old");
  std::filesystem::create_directory(at("folder"));
  const std::string project = "jar.potshadow";
  std::size_t ran = 0;
  for (const std::string output : {"none/new", "folder", "old.json/new"}) {
    const RunWishes quiet{.standard_output = "/dev/null"};
    refused({"measure", project, "--json", output}, 2, quiet);
    refused({"measure", project, "--csv", output}, 2, quiet);
    refused({"sheet", project, "--output", output}, 2, quiet);
    ++ran;
  }
  EXPECT_EQ(ran, 3U);
}

TEST_F(Program, InputsAreNeverOverwritten) {
  std::filesystem::create_symlink("jar.potshadow", at("link.json"));
  const RunWishes quiet{.standard_output = "/dev/null"};
  std::size_t ran = 0;
  for (const std::string output : {"jar.potshadow", "./grey.jpg", "link.json"}) {
    EXPECT_THAT(refused({"measure", "jar.potshadow", "--json", output}, 2, quiet),
                HasSubstr("is also an input"));
    EXPECT_THAT(refused({"measure", "jar.potshadow", "--csv", output}, 2, quiet),
                HasSubstr("is also an input"));
    EXPECT_THAT(refused({"sheet", "jar.potshadow", "--output", output}, 2, quiet),
                HasSubstr("is also an input"));
    ++ran;
  }
  EXPECT_EQ(ran, 3U);
  EXPECT_THAT(refused({"measure", "jar.potshadow", "--json", "x", "--csv", "./x"}, 2, quiet),
              HasSubstr("same file"));
}

// A limit on the length of files stops a write half-way, as a full disk does.
TEST_F(Program, FullDiskLeavesOldFilesWhole) {
  put(at("jar.json"), "the old report");
  put(at("jar.pdf"), "the old template");
  RunWishes wishes{.standard_output = "/dev/null"};
  wishes.most_file_bytes = 1000;
  refused({"measure", "jar.potshadow", "--json", "jar.json"}, 2, wishes);
  refused({"sheet", "jar.potshadow", "--output", "jar.pdf"}, 2, wishes);
  // /dev/full: "Writes to the /dev/full device fail with an ENOSPC error" (Linux manual, full(4)).
  const RunWishes full{.standard_output = "/dev/full"};
  std::size_t ran = 0;
  for (const std::vector<std::string>& arguments :
       {std::vector<std::string>{"measure", "jar.potshadow"},
        {"measure", "jar.potshadow", "--json", "-"},
        {"sheet", "jar.potshadow", "--output", "-"},
        {"--help"}}) {
    EXPECT_THAT(refused(arguments, 2, full), HasSubstr("Standard output could not be written"));
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
  refused({"measure", "jar.potshadow", "--json", "/dev/full"}, 2, {.standard_output = "/dev/null"});
}

TEST_F(Program, NothingMeasuredLeavesOldReportsAlone) {
  put(at("bad.potshadow"), "{");
  put(at("old.csv"), "last season");
  put(at("old.json"), "last season");
  refused({"measure", "bad.potshadow", "--csv", "old.csv", "--json", "old.json"}, 2);
}

TEST_F(Program, SheetWritesAPdfThatSaysWhatItIs) {
  const RunWishes dated{.environment = {"SOURCE_DATE_EPOCH=1764028800"}};  // 25 November 2025
  const Ran ran = run({"sheet", "jar.potshadow", "--output", "jar.pdf"}, dated);
  EXPECT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_EQ(ran.err, "");
  EXPECT_THAT(ran.out, StartsWith("Wrote jar.pdf: "));
  EXPECT_THAT(ran.out, HasSubstr("enlarged for 12.0 % shrinkage"));
  const std::string pdf = content(at("jar.pdf"));
  EXPECT_THAT(pdf, StartsWith("%PDF-"));
  // The same date gives the same bytes, to a file or to standard output.
  const Ran again = run({"sheet", "jar.potshadow", "--output", "-"}, dated);
  EXPECT_EQ(again.exit_code, 0);
  EXPECT_EQ(again.err, "");
  EXPECT_TRUE(again.out == pdf);
  // What is typed goes before what the project says.
  EXPECT_THAT(run({"sheet", "jar.potshadow", "--output", "a.pdf", "--shrinkage", "8.5"}).out,
              HasSubstr("enlarged for 8.5 % shrinkage"));
  EXPECT_EQ(run({"sheet", "jar.potshadow", "--output", "b.pdf", "--shrinkage", "0"}).exit_code, 0);
  EXPECT_EQ(run({"sheet", "jar.potshadow", "--output", "c.pdf", "--paper", "letter", "--units",
                 "in", "--shrinkage-sd", "1"})
                .exit_code,
            0);
  EXPECT_FALSE(content(at("c.pdf")) == pdf);
  EXPECT_THAT(names(),
              ElementsAre("a.pdf", "b.pdf", "c.pdf", "grey.jpg", "jar.pdf", "jar.potshadow"));
}

TEST_F(Program, SheetNeedsAShrinkage) {
  RunWishes wishes;
  wishes.environment = {"XDG_DATA_HOME=" + at("data").string()};
  const std::string open =
      replaced(content(kJar), "\"shrinkage_percent\": 12.0", "\"shrinkage_percent\": null");
  put(at("jar.potshadow"), open);
  EXPECT_THAT(refused({"sheet", "jar.potshadow", "--output", "jar.pdf"}, 1, wishes),
              HasSubstr("'buff-mix' is not in your book of clays"));
  put(at("jar.potshadow"), replaced(open, "\"record\": \"buff-mix\"", "\"record\": \"\""));
  EXPECT_THAT(refused({"sheet", "jar.potshadow", "--output", "jar.pdf"}, 1, wishes),
              HasSubstr("how much its clay shrinks"));
}

// A copy of the program in a folder of its own, so that each test says what lies beside it.
class Installed : public Program {
 protected:
  Installed() {
    std::filesystem::create_directories(prefix_.path() / "bin");
    std::filesystem::copy_file(POTSHADOW_PROGRAM, program());
  }
  std::filesystem::path program() const { return prefix_.path() / "bin" / "potshadow"; }
  std::filesystem::path beside() const { return prefix_.path() / "bin" / "potshadow-window"; }
  std::filesystem::path in_libexec() const {
    return prefix_.path() / "libexec" / "potshadow" / "potshadow-window";
  }
  // Puts a program there that prints `name` and its arguments, and ends with 7.
  static void put_window(const std::filesystem::path& path, const std::string& name) {
    std::filesystem::create_directories(path.parent_path());
    put(path, "#!/bin/sh\necho '" + name + "'\nfor word; do echo \"[$word]\"; done\nexit 7\n");
    std::filesystem::permissions(path, std::filesystem::perms::owner_all);
  }
  Ran start(const std::vector<std::string>& arguments) const {
    return run(arguments, {.program = program()});
  }

 private:
  TemporaryFolder prefix_;
};

TEST_F(Installed, OpensTheWindowWithTheFile) {
  put_window(beside(), "beside");
  put(at("pot"), "");
  struct Case {
    std::vector<std::string> arguments;
    std::string out;
  };
  const std::vector<Case> cases{{{}, "beside\n"},
                                {{"jar.potshadow"}, "beside\n[jar.potshadow]\n"},
                                {{"./grey.jpg"}, "beside\n[./grey.jpg]\n"},
                                {{"pot"}, "beside\n[pot]\n"},  // a bare word that is a file
                                {{"my jar.jpg"}, "beside\n[my jar.jpg]\n"}};
  std::size_t ran = 0;
  for (const Case& test : cases) {
    const Ran window = start(test.arguments);
    EXPECT_EQ(window.exit_code, 7) << window.err;
    EXPECT_EQ(window.out, test.out);
    EXPECT_EQ(window.err, "");
    ++ran;
  }
  EXPECT_EQ(ran, 5U);
}

TEST_F(Installed, FindsTheWindowInLibexecToo) {
  put_window(in_libexec(), "libexec");
  EXPECT_EQ(start({"jar.potshadow"}).out, "libexec\n[jar.potshadow]\n");
  put_window(beside(), "beside");
  EXPECT_EQ(start({"jar.potshadow"}).out, "beside\n[jar.potshadow]\n");
}

TEST_F(Installed, SaysWhereTheWindowIsMissing) {
  const RunWishes wishes{.program = program()};
  EXPECT_THAT(refused({}, 2, wishes), HasSubstr("'potshadow-window', is not where"));
  EXPECT_THAT(refused({"jar.potshadow"}, 2, wishes), HasSubstr("use 'potshadow measure'"));
  // What cannot be started counts as missing.
  put(beside(), "no program");
  EXPECT_THAT(refused({}, 2, wishes), HasSubstr("is not where"));
  std::filesystem::permissions(beside(), std::filesystem::perms::owner_all);
  put(beside(), std::string("\x7F"
                            "ELF",
                            4));
  EXPECT_THAT(refused({}, 2, wishes), HasSubstr("could not be started"));
}

TEST_F(Installed, MistypedCommandsOpenNoWindow) {
  put_window(beside(), "beside");
  const RunWishes wishes{.program = program()};
  EXPECT_THAT(refused({"mesure", "jar.potshadow"}, 2, wishes),
              HasSubstr("'mesure' is neither a command nor a file."));
  EXPECT_THAT(refused({"jar"}, 2, wishes), HasSubstr("'jar' is neither a command nor a file."));
}

// Picture decoders cost a tenth of a second at every start, and no command here looks at pixels.
TEST_F(Program, LoadsNoPictureDecoder) {
  const Ran ran = run({}, {.environment = {"LD_TRACE_LOADED_OBJECTS=1"}});
  EXPECT_THAT(ran.out, HasSubstr("libc.so"));
  EXPECT_THAT(ran.out, Not(HasSubstr("opencv_imgcodecs")));
  // Nor does it need what draws a window.
  EXPECT_THAT(ran.out, Not(HasSubstr("libOpenGL")));
  EXPECT_THAT(ran.out, Not(HasSubstr("libglfw")));
}

}  // namespace
}  // namespace potshadow
