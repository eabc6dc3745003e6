// SPDX-License-Identifier: MIT
#include "project/clay_book.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "project/user_file.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;

ClayBody buff() {
  ClayBody body;
  body.record = "buff-mix";
  body.name = "Buff mix";
  body.note = "dug above the weir";
  body.mix = {{"Weir clay", MixKind::kClay, 70.0, "weir"}, {"Grog", MixKind::kTemper, 30.0}};
  TestBar bar;
  bar.wet_mm = 100.0;
  bar.leather_mm = 97.0;
  bar.dry_mm = 94.2;
  bar.fired_mm = 88.1;
  bar.wet_g = 62.0;
  bar.dry_g = 50.0;
  bar.fired_g = 46.0;
  bar.firing_c = 950.0;
  bar.way = BarWay::kVertical;
  bar.date = "2026-11-25";
  bar.note = "top shelf";
  TestBar other;
  other.wet_mm = 100.0;
  other.cone = "06";
  other.used = false;
  body.bars = {bar, other};
  body.stated = {{Stage::kBoneDry, Stage::kFired, 6.5, 0.4, "the pit's sheet"}};
  body.firing_c = 950.0;
  body.water_percent = StatedValue{26.0, 1.0};
  body.wet_density = StatedValue{1.95, 0.02};
  body.fired_density = StatedValue{1.8, 0.05};
  body.reading_sd_mm = 0.2;
  return body;
}

class Clays : public testing::UserFile {
 public:
  std::filesystem::path file() const override { return folders().data / "clays.json"; }
};

TEST_F(Clays, ComeBackAsTheyWereSaved) {
  const auto none = load_clay_book(folders());
  ASSERT_TRUE(none.ok());
  EXPECT_TRUE(none->bodies.empty());
  ClayBody plain;
  plain.record = "weir";
  const ClayBook book = with_clay(with_clay({}, buff()), plain);
  ASSERT_TRUE(save_clay_book(book, folders()).ok());
  const auto back = load_clay_book(folders());
  ASSERT_TRUE(back.ok()) << back.problem().what;
  EXPECT_EQ(*back, book);
  // Every shrinkage says on which length it counts.
  EXPECT_THAT(content(), HasSubstr("\"basis\": \"bone_dry\""));
}

TEST_F(Clays, OneOfTheSameRecordTakesTheOldOnesPlace) {
  ClayBody second = buff();
  second.record = "second";
  ClayBody changed = buff();
  changed.name = "Other name";
  const ClayBook book = with_clay(with_clay(with_clay({}, buff()), second), changed);
  ASSERT_EQ(book.bodies.size(), 2U);
  EXPECT_EQ(book.bodies[0].name, "Other name");
}

TEST_F(Clays, KeysOfOthersAreKeptOnEveryLevel) {
  put(R"({ "potshadow_clays": 1, "shelf": [3],
  "clays": [ { "record": "weir", "name": "", "colour": "buff",
    "mix": [ { "name": "Clay", "dry_parts": 1, "pit": "A" } ],
    "bars": [ { "wet_mm": 100, "kiln": "big" } ],
    "stated": [ { "basis": "wet", "to": "fired", "percent": 12, "page": 4 } ] } ] })");
  const auto book = load_clay_book(folders());
  ASSERT_TRUE(book.ok()) << book.problem().what;
  EXPECT_EQ(book->bodies[0].stated[0].sd_percent, 0.5);
  ASSERT_TRUE(save_clay_book(*book, folders()).ok());
  int kept = 0;
  for (const char* key : {"\"shelf\"", "\"colour\"", "\"pit\"", "\"kiln\"", "\"page\""}) {
    EXPECT_THAT(content(), HasSubstr(key));
    ++kept;
  }
  EXPECT_EQ(kept, 5);
}

TEST_F(Clays, WhatCannotBeReadIsNamed) {
  const std::vector<std::pair<std::string, std::string>> kBad{
      {"", "is empty"},
      {"[]", "is no book of clays"},
      {R"({ "potshadow_clays": 0, "clays": [] })", "is no book of clays"},
      {R"({ "potshadow_clays": 9, "clays": [] })", "a later version"},
      {R"({ "potshadow_clays": 1 })", "has no list of clays"},
      {R"({ "potshadow_clays": 1, "clays": [4] })", "clay 1 of"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": 4 }] })", "'record' should be text"},
      {R"({ "potshadow_clays": 1, "clays": [{ "name": "x" }] })", "cannot be a clay's record"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": "a" }, { "record": "a" }] })", "two clays"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": "a", "bars": [{ "wet_mm": "x" }] }] })",
       "bar 1, 'wet_mm' should be a number"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": "a", "bars": [{ "way": "up" }] }] })",
       "should be one of 'either', 'vertical', 'horizontal'"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": "a", "bars": [{ "used": 1 }] }] })",
       "should be true or false"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": "a", "mix": 4 }] })", "should be a list"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": "a", "stated": [{ "to": "wet" }] }] })",
       "runs backwards"},
      {R"({ "potshadow_clays": 1, "clays": [{ "record": "a",
          "bars": [{ "wet_mm": 94, "dry_mm": 100 }] }] })",
       "exchanged"}};
  int checked = 0;
  for (const auto& [text, says] : kBad) {
    put(text);
    const auto book = load_clay_book(folders());
    ASSERT_FALSE(book.ok()) << text;
    EXPECT_THAT(book.problem().what, HasSubstr(says)) << text;
    EXPECT_THAT(book.problem().what, HasSubstr("clays.json")) << text;
    EXPECT_TRUE(book.problem().next.ends_with(".")) << text;
    ++checked;
  }
  EXPECT_EQ(checked, 15);
}

TEST_F(Clays, AreNotWrittenWithoutAHome) {
  UserFolders nowhere = folders();
  nowhere.data.clear();
  EXPECT_TRUE(load_clay_book(nowhere).ok());
  EXPECT_EQ(save_clay_book({}, nowhere).problem().code, Code::kFileMissing);
}

TEST(FreeRecord, IsMadeOfTheName) {
  EXPECT_EQ(free_record({}, "Buff mix"), "buff-mix");
  EXPECT_EQ(free_record({}, "  Weir  clay, 2 "), "weir-clay-2");
  EXPECT_EQ(free_record({}, "ø"), "clay");
  EXPECT_TRUE(is_record(free_record({}, std::string(200, 'a'))));
  const ClayBook book{{buff()}};
  EXPECT_EQ(free_record(book, "Buff mix"), "buff-mix-2");
}

// Nothing of the user's own is written over, and a mix follows the clay that came with it.
TEST(JoinedBooks, RenameWhatHasTheRecordOfAnother) {
  ClayBody weir;
  weir.record = "weir";
  weir.name = "Weir clay";
  ClayBody other = weir;
  other.note = "from farther down";
  ClayBody mix = buff();
  mix.record = "grey-mix";
  const ClayBook own{{buff(), weir}};
  const JoinedBook joined = joined_books(own, {buff(), other, mix});
  EXPECT_EQ(joined.taken, (std::vector<std::string>{"buff-mix", "weir-2", "grey-mix"}));
  EXPECT_EQ(joined.renamed, std::vector<std::string>{"weir-2"});
  ASSERT_EQ(joined.book.bodies.size(), 4U);
  EXPECT_EQ(joined.book.bodies[0], buff());
  EXPECT_EQ(joined.book.bodies[1], weir);
  EXPECT_EQ(joined.book.bodies[2].note, "from farther down");
  EXPECT_EQ(joined.book.bodies[3].mix.at(0).record, "weir-2");
  // Once more brings nothing new but the renamed one under a further name.
  EXPECT_EQ(joined_books(own, own.bodies).book, own);
}

}  // namespace
}  // namespace potshadow
