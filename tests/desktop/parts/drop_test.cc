// SPDX-License-Identifier: MIT
// Files dropped on the window, from the drop to the project.
#include "desktop/window/drop.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <string>
#include <variant>

#include "desktop/session/bench.h"
#include "desktop/window/carry_out.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

std::vector<std::string> in_words(const std::vector<Order>& orders) {
  std::vector<std::string> words;
  for (const Order& order : orders) {
    if (const auto* const open = std::get_if<OpenFile>(&order)) {
      words.push_back("open " + open->file.string());
    } else if (const auto* const add = std::get_if<AddPhotoFile>(&order)) {
      words.push_back("add " + add->file.string());
    } else {
      words.push_back("something else");
    }
  }
  return words;
}

TEST(Drop, OpensOrAddsByWhatIsOpen) {
  using testing::ElementsAre;
  EXPECT_THAT(in_words(orders_of_drop({}, true)), ElementsAre());
  EXPECT_THAT(in_words(orders_of_drop({"/a.jpg"}, false)), ElementsAre("open /a.jpg"));
  EXPECT_THAT(in_words(orders_of_drop({"/a.jpg"}, true)), ElementsAre("add /a.jpg"));
  EXPECT_THAT(in_words(orders_of_drop({"/a.jpg", "/b ø.HEIC"}, false)),
              ElementsAre("open /a.jpg", "add /b ø.HEIC"));
  EXPECT_THAT(in_words(orders_of_drop({"/a.jpg", "/b.png"}, true)),
              ElementsAre("add /a.jpg", "add /b.png"));
  for (const bool open : {false, true}) {
    EXPECT_THAT(in_words(orders_of_drop({"/a.jpg", "/jar.Potshadow", "/b.jpg"}, open)),
                ElementsAre("open /jar.Potshadow"));
  }
}

class Dropping : public testing::Test {
 protected:
  void drop(const std::vector<std::filesystem::path>& files) {
    foreman_.carry_out(orders_of_drop(files, bench_.session.open()));
  }
  // The sample's picture as another file.
  std::filesystem::path side_view() const {
    const std::filesystem::path file = bench_.work() / "from the side.jpg";
    std::filesystem::copy_file(bench_.photo(), file);
    std::ofstream(file, std::ios::binary | std::ios::app) << "another file";
    return file;
  }

  Bench bench_;
  Settings settings_;
  BenchState state_;
  Foreman foreman_{bench_.session, settings_, state_, {bench_.work() / "config", bench_.state()}};
};

TEST_F(Dropping, APhotographOnAnOpenProjectIsAFurtherOneAndCanBeUndone) {
  drop({bench_.project()});
  ASSERT_TRUE(bench_.until_figures());
  const Document before = bench_.session.document();
  const std::filesystem::path side = side_view();
  drop({side});
  EXPECT_EQ(bench_.session.project_file(), bench_.project());
  ASSERT_EQ(bench_.session.document().photos.size(), 2U);
  EXPECT_EQ(bench_.session.document().photos[0], before.photos[0]);
  EXPECT_EQ(bench_.session.document().photos[1].file, side.string());
  EXPECT_EQ(state_.photo, 1U);  // it is shown
  EXPECT_FALSE(state_.said.trouble);
  EXPECT_THAT(state_.said.text, HasSubstr("'from the side.jpg' as a further photograph"));
  foreman_.carry_out({Undo{}});
  EXPECT_EQ(bench_.session.document(), before);
  foreman_.carry_out({Redo{}});
  EXPECT_EQ(bench_.session.document().photos.size(), 2U);
  // The same again, and what is no picture, are refused.
  drop({side});
  EXPECT_TRUE(state_.said.trouble);
  EXPECT_THAT(state_.said.text, HasSubstr("in the project already"));
  const std::filesystem::path words = bench_.work() / "words.txt";
  std::ofstream(words) << "no picture";
  drop({words});
  EXPECT_TRUE(state_.said.trouble);
  EXPECT_EQ(bench_.session.document().photos.size(), 2U);
}

TEST_F(Dropping, WithNothingOpenTheFirstIsOpenedAndTheOthersAreAdded) {
  const std::filesystem::path side = side_view();
  drop({bench_.photo(), side});
  ASSERT_TRUE(bench_.session.open());
  EXPECT_TRUE(bench_.session.project_file().empty());
  ASSERT_EQ(bench_.session.document().photos.size(), 2U);
  EXPECT_EQ(bench_.session.document().photos[0].file, bench_.photo().string());
  EXPECT_EQ(bench_.session.document().photos[1].file, side.string());
}

TEST_F(Dropping, AProjectOnUnsavedWorkIsAskedAboutFirst) {
  drop({bench_.photo()});
  foreman_.carry_out({Perform{SetName{"Larkmoor jar"}}});
  ASSERT_TRUE(bench_.session.unsaved());
  drop({bench_.project()});
  EXPECT_EQ(state_.question, Question::kLeave);
  EXPECT_EQ(bench_.session.document().name, "Larkmoor jar");
}

}  // namespace
}  // namespace potshadow
