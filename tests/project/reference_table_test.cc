// SPDX-License-Identifier: MIT
#include "project/reference_table.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace potshadow {
namespace {

using testing::EndsWith;
using testing::HasSubstr;

std::string table_file() {
  std::ifstream stream(POTSHADOW_SOURCE_DIR "/assets/references.json", std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

const CommonObject& object(const std::string& key) {
  const CommonObject* found = find_object(common_objects(), key);
  POTSHADOW_CHECK(found != nullptr);
  return *found;
}

TEST(ReferenceTable, TheFileIsWhatIsBuiltIn) {
  const Result<std::vector<CommonObject>> table =
      parse_reference_table(table_file(), "references.json");
  ASSERT_TRUE(table.ok()) << table.problem().what;
  EXPECT_EQ(*table, common_objects());
}

TEST(ReferenceTable, EveryEntryIsSane) {
  std::map<std::string, int> groups;
  std::set<std::string> keys;
  std::set<std::string> names;
  for (const CommonObject& entry : common_objects()) {
    EXPECT_TRUE(keys.insert(entry.key).second) << entry.key;
    EXPECT_TRUE(names.insert(entry.name).second) << entry.name;
    ++groups[entry.group];
    // What fits into a show case, and a tolerance that leaves something to measure by.
    constexpr double kLeastMm = 5.0;
    constexpr double kMostMm = 700.0;
    constexpr double kLargestShare = 0.12;
    EXPECT_GE(entry.width_mm, kLeastMm) << entry.key;
    EXPECT_LE(entry.width_mm, kMostMm) << entry.key;
    EXPECT_GT(entry.tolerance_mm, 0.0) << entry.key;
    if (entry.shape == ReferenceShape::kDisc) {
      EXPECT_EQ(entry.height_mm, 0.0) << entry.key;
      EXPECT_LE(entry.tolerance_mm / entry.width_mm, kLargestShare) << entry.key;
    } else {
      EXPECT_GE(entry.height_mm, kLeastMm) << entry.key;
      EXPECT_LE(entry.height_mm, kMostMm) << entry.key;
      EXPECT_LE(entry.tolerance_mm / std::min(entry.width_mm, entry.height_mm), kLargestShare)
          << entry.key;
    }
    EXPECT_GT(entry.source.size(), 10U) << entry.key;
    if (!entry.remark.empty()) {
      EXPECT_THAT(entry.remark, EndsWith("."));
    }
  }
  EXPECT_GE(common_objects().size(), 30U);
  EXPECT_EQ(groups.size(), 5U);
  for (const std::string group : {"Cards", "Paper", "Coins", "Tiles and bricks", "Photo scales"}) {
    EXPECT_GE(groups[group], 4) << group;
  }
}

// Sizes against what is published, each with its source.
TEST(ReferenceTable, SizesAreThePublishedOnes) {
  struct Case {
    std::string key;
    double width_mm;
    double height_mm;
    double tolerance_mm;
  };
  const std::vector<Case> cases{
      // ISO/IEC 7810: 85.60 x 53.98 mm; its limits, 85.47 to 85.72 mm, from memory.
      {"iso-id1-card", 85.60, 53.98, 0.13},
      // ISO 216: 210 x 297 mm; +- 2 mm from 150 to 600 mm, +- 1.5 mm below.
      {"iso-a4", 210.0, 297.0, 2.0},
      {"iso-a6", 105.0, 148.0, 1.5},  // the size from memory
      // 8 1/2 x 11 in of 25.4 mm (from memory); the tolerance: common practice, no source.
      {"us-letter", 8.5 * 25.4, 11.0 * 25.4, 1.6},
      // Council Regulation (EC) No 975/98, Annex I; tolerances: common practice, no source.
      {"eur-cent-1", 16.25, 0.0, 0.1},
      {"eur-cent-2", 18.75, 0.0, 0.1},
      {"eur-cent-5", 21.25, 0.0, 0.1},
      {"eur-cent-10", 19.75, 0.0, 0.1},
      {"eur-cent-20", 22.25, 0.0, 0.1},
      {"eur-cent-50", 24.25, 0.0, 0.1},
      {"eur-1", 23.25, 0.0, 0.1},
      {"eur-2", 25.75, 0.0, 0.1},
      // US Mint, Coin Specifications; tolerances: common practice, no source.
      {"us-cent", 19.05, 0.0, 0.1},
      {"us-nickel", 21.21, 0.0, 0.1},
      {"us-dime", 17.91, 0.0, 0.1},
      {"us-quarter", 24.26, 0.0, 0.1},
      {"us-half-dollar", 30.61, 0.0, 0.1},
      {"us-dollar", 26.49, 0.0, 0.1},
      // EN 771-1, class T2: 215 +- 4, 102.5 +- 3, 65 +- 2 mm; the larger of a face's two.
      {"uk-brick-stretcher", 215.0, 65.0, 4.0},
      {"uk-brick-header", 102.5, 65.0, 3.0},
  };
  std::size_t ran = 0;
  constexpr double kSpelling = 1e-9;  // the table's decimals as doubles
  for (const Case& test : cases) {
    const CommonObject& entry = object(test.key);
    EXPECT_NEAR(entry.width_mm, test.width_mm, kSpelling) << test.key;
    EXPECT_NEAR(entry.height_mm, test.height_mm, kSpelling) << test.key;
    EXPECT_NEAR(entry.tolerance_mm, test.tolerance_mm, kSpelling) << test.key;
    const bool disc = entry.shape == ReferenceShape::kDisc;
    EXPECT_EQ(disc, test.height_mm == 0.0) << test.key;
    ++ran;
  }
  EXPECT_EQ(ran, 20U);
}

TEST(ReferenceTable, PaperSizesHalve) {
  // ISO 216: each size is the one before folded in half, rounded down to the millimetre.
  std::size_t ran = 0;
  for (int n = 3; n < 7; ++n) {
    const CommonObject& large = object("iso-a" + std::to_string(n));
    const CommonObject& small = object("iso-a" + std::to_string(n + 1));
    EXPECT_EQ(small.height_mm, large.width_mm);
    EXPECT_EQ(small.width_mm, static_cast<int>(large.height_mm / 2.0));
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
}

TEST(ReferenceTable, RoundedCardsSayWhereToMark) {
  std::size_t ran = 0;
  for (const std::string key : {"iso-id1-card", "iso-id2-card", "playing-card-wide"}) {
    EXPECT_EQ(object(key).remark, "Mark where the straight edges would meet.");
    ++ran;
  }
  EXPECT_EQ(ran, 3U);
}

TEST(ReferenceTable, ToleranceIsARectangleAroundTheSize) {
  // JCGM 100:2008, 4.3.7: a rectangle of half-width a has the standard uncertainty a / sqrt(3).
  constexpr double kRounding = 1e-12;
  CommonObject sheet;
  sheet.tolerance_mm = 2.0;
  EXPECT_NEAR(size_sd_mm(sheet), 1.1547005383792515, kRounding);
}

TEST(ReferenceTable, UnknownKeysAreNotFound) {
  EXPECT_EQ(find_object(common_objects(), "spoon"), nullptr);
  EXPECT_EQ(find_object(common_objects(), ""), nullptr);
  EXPECT_EQ(find_object({}, "iso-a4"), nullptr);
}

TEST(ReferenceTable, BadTextNamesTheEntry) {
  const std::string good = R"({"key": "a", "name": "A", "group": "Cards", "shape": "rectangle",
      "width_mm": 80, "height_mm": 50, "tolerance_mm": 1, "source": "a standard"})";
  const std::string coin = R"({"key": "b", "name": "B", "group": "Coins", "shape": "disc",
      "diameter_mm": 20, "tolerance_mm": 0.1, "source": "a mint"})";
  const auto table = [](const std::string& objects) {
    return "{\"potshadow_references\": 1, \"objects\": [" + objects + "]}";
  };
  const auto with = [](std::string text, const std::string& old_part, const std::string& part) {
    const std::size_t at = text.find(old_part);
    EXPECT_NE(at, std::string::npos) << old_part;
    return at == std::string::npos ? text : text.replace(at, old_part.size(), part);
  };
  const Result<std::vector<CommonObject>> sound =
      parse_reference_table(table(good + "," + coin), "t");
  ASSERT_TRUE(sound.ok()) << sound.problem().what;
  EXPECT_EQ(sound->size(), 2U);

  struct Case {
    std::string old_part;
    std::string new_part;
    std::string message;
    Code code = Code::kBadFormat;
  };
  const std::vector<Case> of_coin{
      {"\"key\": \"b\"", "\"key\": \"a\"", "entry 2 ('a') has the key of an entry before it."},
      {"\"key\": \"b\", ", "", "entry 2 has no 'key'."},
      {"\"key\": \"b\"", "\"key\": \"B 1\"", "entry 2 ('B 1') has a 'key' with more than"},
      {"\"name\": \"B\"", "\"name\": 5", "entry 2 ('b') has a 'name' that is no text."},
      {"\"Coins\"", "\"Spoons\"", "entry 2 ('b') is in the group 'Spoons', which is not known."},
      {"\"disc\"", "\"ball\"", "entry 2 ('b') has a 'shape' that is neither"},
      {"\"diameter_mm\"", "\"width_mm\"", "entry 2 ('b') has no number 'diameter_mm'."},
      {"20", "-20", "entry 2 ('b') has a 'diameter_mm' that cannot be.", Code::kBadValue},
      {"20", "\"20\"", "entry 2 ('b') has no number 'diameter_mm'."},
      {"0.1", "0", "entry 2 ('b') has a 'tolerance_mm' that cannot be.", Code::kBadValue},
      {"0.1", "2.6", "entry 2 ('b') has a 'tolerance_mm' that cannot be.", Code::kBadValue},
      {"\"a mint\"", "\"\"", "entry 2 ('b') has a 'source' that is no text."},
      {", \"source\": \"a mint\"", "", "entry 2 ('b') has no 'source'."},
      {"\"source\"", "\"remarks\": \"x\", \"source\"",
       "entry 2 ('b') has the key 'remarks', which"},
  };
  std::size_t ran = 0;
  for (const Case& test : of_coin) {
    const std::string text = table(good + "," + with(coin, test.old_part, test.new_part));
    const Result<std::vector<CommonObject>> result = parse_reference_table(text, "t.json");
    ASSERT_FALSE(result.ok()) << test.message;
    EXPECT_EQ(result.problem().code, test.code) << test.message;
    EXPECT_THAT(result.problem().what, HasSubstr("In the table 't.json', " + test.message));
    EXPECT_THAT(result.problem().what, EndsWith("."));
    EXPECT_THAT(result.problem().next, EndsWith("."));
    ++ran;
  }
  EXPECT_EQ(ran, 14U);

  const std::vector<std::pair<std::string, std::string>> whole{
      {"", "The table 't.json' is empty."},
      {"{\n", "The table 't.json' is not sound JSON at line"},
      {"[]", "does not say \"potshadow_references\": 1."},
      {"{\"potshadow_references\": 2, \"objects\": []}", "does not say"},
      {"{\"potshadow_references\": 1}", "has no list 'objects'."},
      {table("3"), "entry 1 is no group of keys in braces."}};
  ran = 0;
  for (const auto& [text, message] : whole) {
    const Result<std::vector<CommonObject>> result = parse_reference_table(text, "t.json");
    ASSERT_FALSE(result.ok()) << text;
    EXPECT_EQ(result.problem().code, Code::kBadFormat) << text;
    EXPECT_THAT(result.problem().what, HasSubstr(message)) << text;
    ++ran;
  }
  EXPECT_EQ(ran, 6U);
}

}  // namespace
}  // namespace potshadow
