// SPDX-License-Identifier: MIT
#include "desktop/words/reference_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/words/sample.h"
#include "project/reference_table.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// A card that can be used.
ProjectReference card() {
  ProjectReference reference;
  reference.kind = "rectangle";
  reference.place = "standing";
  reference.width_mm = 120.0;
  reference.height_mm = 80.0;
  reference.corners = {{100.0, 900.0}, {500.0, 905.0}, {498.0, 650.0}, {102.0, 640.0}};
  return reference;
}

ProjectReference coin() {
  ProjectReference reference;
  reference.kind = "disc";
  reference.place = "lying";
  reference.diameter_mm = 23.25;
  reference.edge.resize(5);
  return reference;
}

TEST(PlaceWords, GoWithTheKeysOfAProject) {
  int places = 0;
  for (const PlaceWords& words : all_places()) {
    EXPECT_EQ(place_of_key(words.key), words.place);
    EXPECT_EQ(place_words(words.place).title, words.title);
    ++places;
  }
  EXPECT_EQ(places, 4);
  EXPECT_EQ(place_of_key("beside"), std::nullopt);
  EXPECT_EQ(place_words(Place::kLeaning).sentence,
            "Its lower edge is on the shelf and it leans back; how far does not matter.");
}

TEST(CornerOrder, IsThatOfTheEstimate) {
  EXPECT_EQ(corner_order(Place::kStanding),
            "1 lower left, 2 lower right, 3 upper right, 4 upper left");
  EXPECT_EQ(corner_order(Place::kOnGlass), corner_order(Place::kLeaning));
  EXPECT_EQ(corner_order(Place::kLying), "1 near left, 2 near right, 3 far right, 4 far left");
}

TEST(CornerPrompt, CountsUp) {
  EXPECT_EQ(corner_prompt(Place::kStanding, 0), "Corner 1 of 4: the lower left.");
  EXPECT_EQ(corner_prompt(Place::kLying, 2), "Corner 3 of 4: the far right.");
  EXPECT_EQ(corner_prompt(Place::kLeaning, 4), "All four corners are marked.");
}

TEST(EdgePrompt, AsksForFivePoints) {
  EXPECT_EQ(edge_prompt(0), "Mark at least 5 points round its edge, spread all round it.");
  EXPECT_EQ(edge_prompt(3), "Mark at least 2 more points round its edge.");
  EXPECT_EQ(edge_prompt(4), "Mark at least 1 more point round its edge.");
  EXPECT_EQ(edge_prompt(5), "5 points marked, which is enough; more make it surer.");
}

TEST(ReferencePrompt, FitsTheKind) {
  ProjectReference reference = card();
  reference.corners.resize(1);
  EXPECT_EQ(reference_prompt(reference), "Corner 2 of 4: the lower right.");
  reference.place = "lying";
  EXPECT_EQ(reference_prompt(reference), "Corner 2 of 4: the near right.");
  reference.place = "";
  EXPECT_EQ(reference_prompt(reference), "Corner 2 of 4: the lower right.");
  reference = coin();
  reference.edge.resize(2);
  EXPECT_EQ(reference_prompt(reference), "Mark at least 3 more points round its edge.");
}

TEST(ReferenceSize, IsInTheUnit) {
  EXPECT_EQ(reference_size_text(card(), LengthUnit::kMm), "120 × 80 mm");
  EXPECT_EQ(reference_size_text(card(), LengthUnit::kCm), "12 × 8 cm");
  // 120 / 25.4 = 4.724, 80 / 25.4 = 3.150.
  EXPECT_EQ(reference_size_text(card(), LengthUnit::kInch), "4.72 × 3.15 in");
  EXPECT_EQ(reference_size_text(coin(), LengthUnit::kMm), "ø 23.25 mm");
  EXPECT_EQ(reference_size_text(coin(), LengthUnit::kCm), "ø 2.325 cm");
  ProjectReference without = card();
  without.height_mm.reset();
  EXPECT_EQ(reference_size_text(without, LengthUnit::kMm), "size not given");
}

TEST(ReferenceTitle, NamesTheObject) {
  EXPECT_EQ(reference_title(card(), LengthUnit::kMm), "Rectangle, 120 × 80 mm");
  EXPECT_EQ(reference_title(coin(), LengthUnit::kMm), "Disc, ø 23.25 mm");
  ProjectReference unknown = card();
  unknown.object = "no such thing";
  EXPECT_EQ(reference_title(unknown, LengthUnit::kMm), "Rectangle, 120 × 80 mm");
  ASSERT_FALSE(common_objects().empty());
  const CommonObject& object = common_objects().front();
  unknown.object = object.key;
  EXPECT_EQ(reference_title(unknown, LengthUnit::kMm), object.name + ", 120 × 80 mm");
}

TEST(ReferenceMissing, SaysWhatIsLeft) {
  EXPECT_THAT(reference_missing(card()), IsEmpty());
  EXPECT_THAT(reference_missing(coin()), IsEmpty());

  ProjectReference empty;
  empty.kind = "rectangle";
  EXPECT_THAT(
      reference_missing(empty),
      ElementsAre("Type its width and height, or choose it from the common objects.",
                  "Say where it is: on the shelf or on the glass.", "Mark its four corners."));
  ProjectReference half = card();
  half.width_mm.reset();
  half.corners.resize(3);
  EXPECT_THAT(reference_missing(half),
              ElementsAre("Type its width, or choose it from the common objects.",
                          "Mark 1 more corner of it."));
  ProjectReference glass = card();
  glass.place = "on-glass";
  EXPECT_THAT(reference_missing(glass),
              ElementsAre("Type how far the glass is from the middle of the vessel, and how sure "
                          "you are of it."));
  glass.glass_to_axis_mm = 180.0;
  EXPECT_THAT(reference_missing(glass), IsEmpty());
  ProjectReference disc = coin();
  disc.diameter_mm.reset();
  disc.edge.resize(4);
  EXPECT_THAT(reference_missing(disc),
              ElementsAre("Type its diameter, or choose it from the common objects.",
                          "Mark at least 1 more point round its edge."));
  ProjectReference grid;
  grid.kind = "grid";
  EXPECT_THAT(reference_missing(grid),
              ElementsAre("Use a flat rectangle or a disc; this kind of reference is kept, but not "
                          "used yet."));
}

// What is called usable here is what measuring takes, and the other way round.
TEST(ReferenceMissing, AgreesWithMeasuring) {
  std::vector<ProjectReference> references{card(), coin()};
  const auto add = [&](ProjectReference reference, auto change) {
    change(reference);
    references.push_back(reference);
  };
  add(card(), [](ProjectReference& r) { r.place = ""; });
  add(card(), [](ProjectReference& r) { r.place = "beside"; });
  add(card(), [](ProjectReference& r) { r.place = "on-glass"; });
  add(card(), [](ProjectReference& r) { r.width_mm.reset(); });
  add(card(), [](ProjectReference& r) { r.corners.resize(2); });
  add(card(), [](ProjectReference& r) { r.kind = "length"; });
  add(coin(), [](ProjectReference& r) { r.edge.resize(4); });
  add(coin(), [](ProjectReference& r) { r.diameter_mm.reset(); });
  add(coin(), [](ProjectReference& r) { r.place = "leaning"; });
  int usable = 0;
  int unusable = 0;
  for (const ProjectReference& reference : references) {
    Document document = sample_document();
    document.photos[0].references = {reference};
    const bool taken = estimate_input(document, ".").ok();
    EXPECT_EQ(reference_missing(reference).empty(), taken)
        << reference.kind << " " << reference.place;
    ++(taken ? usable : unusable);
  }
  EXPECT_GE(usable, 2);
  EXPECT_GE(unusable, 7);
  EXPECT_EQ(usable + unusable, 11);
}

}  // namespace
}  // namespace potshadow
