// SPDX-License-Identifier: MIT
#include "desktop/session/clay_desk.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "project/user_file.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;

ClayBody named(const std::string& record) {
  ClayBody body;
  body.record = record;
  body.name = "Clay " + record;
  return body;
}

class Desk : public testing::UserFile {
 public:
  std::filesystem::path file() const override { return folders().data / "clays.json"; }
  ClayBook on_disk() const { return load_clay_book(folders()).value(); }
};

TEST_F(Desk, WritesEachChangeAndTakesItBack) {
  ClayDesk desk(folders());
  EXPECT_FALSE(desk.take_back_words());
  EXPECT_FALSE(desk.take_back().ok());
  ASSERT_TRUE(desk.put(named("weir"), "Begin 'Clay weir'").ok());
  EXPECT_EQ(on_disk(), desk.book());
  ClayBody changed = named("weir");
  changed.firing_c = 950.0;
  ASSERT_TRUE(desk.put(changed, "Change the firing").ok());
  ASSERT_TRUE(desk.put(named("sand-pit"), "Begin 'Clay sand-pit'").ok());
  ASSERT_TRUE(desk.remove("weir").ok());
  ASSERT_EQ(desk.book().bodies.size(), 1U);
  EXPECT_EQ(desk.take_back_words(), "Take 'weir' out of the book");

  ASSERT_TRUE(desk.take_back().ok());
  EXPECT_EQ(desk.book().bodies.at(0), changed);
  ASSERT_TRUE(desk.take_back().ok());
  ASSERT_TRUE(desk.take_back().ok());
  EXPECT_EQ(desk.book(), ClayBook{{named("weir")}});
  EXPECT_EQ(on_disk(), desk.book());
  ASSERT_TRUE(desk.take_back().ok());
  EXPECT_TRUE(on_disk().bodies.empty());
}

TEST_F(Desk, RefusesWhatCannotBeAndWritesNothing) {
  ClayDesk desk(folders());
  ClayBody body = named("weir");
  body.bars.emplace_back();
  body.bars[0].wet_mm = 4.0;  // inches
  const Result<Done> put = desk.put(body, "Change bar 1");
  ASSERT_FALSE(put.ok());
  EXPECT_THAT(put.problem().what, HasSubstr("looks like inches"));
  EXPECT_FALSE(std::filesystem::exists(file()));
  EXPECT_FALSE(desk.remove("weir").ok());
  EXPECT_FALSE(desk.hand_on("weir", folders().data / "weir.json").ok());
}

// A bar that grew a little is written, and asked about.
TEST_F(Desk, HandsOnWhatShouldBeLookedAtAgain) {
  ClayDesk desk(folders());
  ClayBody body = named("weir");
  body.bars.emplace_back();
  body.bars[0].wet_mm = 100.0;
  body.bars[0].fired_mm = 100.4;
  const Result<Done> put = desk.put(body, "Change bar 1");
  ASSERT_TRUE(put.ok());
  ASSERT_EQ(put.notes().size(), 1U);
  EXPECT_THAT(put.notes()[0].text, HasSubstr("grew"));
}

TEST_F(Desk, WritesOverNobodysChanges) {
  ClayDesk desk(folders());
  ASSERT_TRUE(desk.put(named("weir"), "Begin 'Clay weir'").ok());
  const std::uint64_t revision = desk.revision();
  const ClayBook other{{named("weir"), named("from elsewhere")}};
  const ClayBook mended{{named("weir"), named("elsewhere")}};
  ASSERT_FALSE(save_clay_book(other, folders()).ok());  // no record
  ASSERT_TRUE(save_clay_book(mended, folders()).ok());
  const Result<Done> put = desk.put(named("third"), "Begin 'Clay third'");
  ASSERT_FALSE(put.ok());
  EXPECT_THAT(put.problem().what, HasSubstr("Another program"));
  EXPECT_EQ(on_disk(), mended);
  EXPECT_EQ(desk.book(), mended);
  EXPECT_NE(desk.revision(), revision);
  EXPECT_FALSE(desk.take_back_words());  // what was before is not there any more
  EXPECT_TRUE(desk.put(named("third"), "Begin 'Clay third'").ok());
}

TEST_F(Desk, LeavesABookAloneThatItCannotRead) {
  put("{ \"potshadow_clays\": 1, \"clays\": [ ");
  const std::string before = content();
  ClayDesk desk(folders());
  ASSERT_TRUE(desk.problem());
  EXPECT_FALSE(desk.put(named("weir"), "Begin 'Clay weir'").ok());
  EXPECT_EQ(content(), before);
}

TEST_F(Desk, HandsAClayOnWithWhatItIsMixedOf) {
  ClayDesk desk(folders());
  ClayBody mix = named("mix");
  mix.mix = {{"Clay weir", MixKind::kClay, 2.0, "weir"}};
  for (const ClayBody& body : {named("weir"), named("alone"), mix}) {
    ASSERT_TRUE(desk.put(body, "Begin").ok());
  }
  const std::filesystem::path file = folders().data / "mix.json";
  ASSERT_TRUE(desk.hand_on("mix", file).ok());
  const Result<ClayBook> handed = read_clay_book(file);
  ASSERT_TRUE(handed.ok());
  EXPECT_EQ(*handed, (ClayBook{{mix, named("weir")}}));

  ASSERT_TRUE(desk.remove("mix").ok());
  const Result<JoinedBook> joined = desk.take_in(file);
  ASSERT_TRUE(joined.ok());
  EXPECT_EQ(joined->taken, (std::vector<std::string>{"mix", "weir"}));
  EXPECT_EQ(on_disk().bodies.size(), 3U);
  EXPECT_THAT(desk.take_back_words().value(), HasSubstr("mix.json"));
  EXPECT_FALSE(desk.take_in(folders().data / "nowhere.json").ok());
}

TEST(DeskWithoutAHome, SaysWhyNothingIsKept) {
  ClayDesk desk(UserFolders{});
  EXPECT_TRUE(desk.book().bodies.empty());
  EXPECT_FALSE(desk.put(named("weir"), "Begin 'Clay weir'").ok());
}

}  // namespace
}  // namespace potshadow
