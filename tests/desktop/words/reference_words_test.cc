// SPDX-License-Identifier: MIT
#include "desktop/words/reference_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "desktop/words/outline_words.h"
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

ProjectReference of_kind(const std::string& kind) {
  ProjectReference reference;
  reference.kind = kind;
  return reference;
}

// A length that can be used.
ProjectReference ruler() {
  ProjectReference reference = of_kind("length");
  reference.place = "beside";
  reference.length_mm = 300.0;
  reference.ends = {{100.0, 900.0}, {500.0, 905.0}};
  return reference;
}

// A block of three by two tiles of 100 mm.
ProjectReference tiles() {
  ProjectReference reference = of_kind("grid");
  reference.place = "lying";
  reference.pitch_mm = 100.0;
  reference.columns = 3;
  reference.rows = 2;
  reference.corners = card().corners;
  return reference;
}

ProjectReference neighbour() {
  ProjectReference reference = of_kind("neighbour");
  reference.size = "height";
  reference.value_mm = 180.0;
  reference.marks.rim.resize(kLeastOnRim, {340.0, 100.0});
  reference.marks.base.resize(kLeastOnFoot, {340.0, 400.0});
  reference.marks.right.resize(kLeastOnOutline, {366.0, 190.0});
  return reference;
}

ProjectReference known_size() {
  ProjectReference reference = of_kind("size");
  reference.size = "max_diameter";
  reference.value_mm = 214.0;
  return reference;
}

ProjectReference distance() {
  ProjectReference reference = of_kind("distance");
  reference.value_mm = 900.0;
  return reference;
}

TEST(KindWords, GoWithTheKeysOfAProject) {
  int kinds = 0;
  for (const KindWords& words : all_reference_kinds()) {
    ASSERT_TRUE(kind_words(words.key));
    EXPECT_EQ(kind_words(words.key)->name, words.name);
    // What measuring does not know it would call "this kind of reference".
    for (const std::string& missing : reference_missing(of_kind(std::string(words.key)))) {
      EXPECT_THAT(missing, testing::Not(testing::HasSubstr("this kind"))) << words.key;
    }
    ++kinds;
  }
  EXPECT_EQ(kinds, 7);
  EXPECT_EQ(kind_words("plumb line"), std::nullopt);
}

TEST(PlaceWords, GoWithTheKeysOfAProject) {
  int places = 0;
  for (const PlaceWords& words : all_places()) {
    EXPECT_EQ(place_of_key(words.key), words.place);
    EXPECT_EQ(place_words(words.place).title, words.title);
    ++places;
  }
  EXPECT_EQ(places, 5);
  EXPECT_EQ(place_of_key("beside"), Place::kBeside);
  EXPECT_EQ(place_of_key("above"), std::nullopt);
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

TEST(EndPrompt, SaysWhichEndStandsOnTheShelf) {
  EXPECT_EQ(end_prompt(Place::kStanding, 0), "End 1 of 2: the one on the shelf.");
  EXPECT_EQ(end_prompt(Place::kLeaning, 1), "End 2 of 2: the upper one.");
  EXPECT_EQ(end_prompt(Place::kLying, 0), "End 1 of 2: either one.");
  EXPECT_EQ(end_prompt(Place::kBeside, 1), "End 2 of 2: the other one.");
  EXPECT_EQ(end_prompt(Place::kOnGlass, 2), "Both ends are marked.");
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
  reference = ruler();
  reference.ends.resize(1);
  EXPECT_EQ(reference_prompt(reference), "End 2 of 2: the other one.");
  EXPECT_EQ(reference_prompt(tiles()), "All four corners are marked.");
  EXPECT_EQ(reference_prompt(neighbour()),
            "Mark its rim, its foot and both its sides, as those of your pot.");
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
  EXPECT_EQ(reference_size_text(ruler(), LengthUnit::kCm), "30 cm");
  EXPECT_EQ(reference_size_text(tiles(), LengthUnit::kMm), "3 × 2 of 100 mm");
  EXPECT_EQ(reference_size_text(neighbour(), LengthUnit::kMm), "height 180 mm");
  EXPECT_EQ(reference_size_text(known_size(), LengthUnit::kMm), "maximum diameter 214 mm");
  EXPECT_EQ(reference_size_text(distance(), LengthUnit::kMm), "900 mm");
  int kinds = 0;
  for (const KindWords& words : all_reference_kinds()) {
    EXPECT_THAT(reference_size_text(of_kind(std::string(words.key)), LengthUnit::kMm),
                testing::EndsWith(" not given"));
    ++kinds;
  }
  EXPECT_EQ(kinds, 7);
  // Of a neighbour only three sizes count.
  ProjectReference neck = neighbour();
  neck.size = "neck_diameter";
  EXPECT_EQ(reference_size_text(neck, LengthUnit::kMm), "size not given");
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
  EXPECT_EQ(reference_title(neighbour(), LengthUnit::kMm), "The pot beside it, height 180 mm");
  ProjectReference guess = known_size();
  EXPECT_EQ(reference_title(guess, LengthUnit::kMm), "Size of the pot, maximum diameter 214 mm");
  guess.guess = true;
  EXPECT_EQ(reference_title(guess, LengthUnit::kMm), "Guess, maximum diameter 214 mm");
}

TEST(ReferenceSummary, NamesSizePlaceAndWhatIsMissing) {
  const auto summary = [](const ProjectReference& reference) {
    return reference_summary(reference, LengthUnit::kMm);
  };
  EXPECT_EQ(summary(card()), "120 × 80 mm, standing, complete");
  EXPECT_EQ(summary(ruler()), "300 mm, beside it, complete");
  EXPECT_EQ(summary(known_size()), "maximum diameter 214 mm, complete");
  EXPECT_EQ(summary(distance()), "900 mm, complete");
  EXPECT_EQ(summary(of_kind("distance")), "distance not given");
  ProjectReference half = card();
  half.corners.resize(2);
  EXPECT_EQ(summary(half), "120 × 80 mm, standing, 2 corners missing");
  half.place = "";
  EXPECT_EQ(summary(half), "120 × 80 mm, place missing");
  half.place = "on-glass";
  EXPECT_EQ(summary(half), "120 × 80 mm, on the glass, distance missing");
  half.width_mm.reset();
  EXPECT_EQ(summary(half), "size not given, on the glass");
  ProjectReference end = ruler();
  end.ends.resize(1);
  EXPECT_EQ(summary(end), "300 mm, beside it, 1 end missing");
  ProjectReference edge = coin();
  edge.edge.resize(2);
  EXPECT_EQ(summary(edge), "ø 23.25 mm, lying, 3 points missing");
  ProjectReference pot = neighbour();
  EXPECT_EQ(summary(pot), "height 180 mm, complete");
  pot.marks.right.resize(5);
  EXPECT_EQ(summary(pot), "height 180 mm, 1 side mark missing");
  pot.marks.base.clear();
  EXPECT_EQ(summary(pot), "height 180 mm, 3 foot marks missing");
  pot.round_base = true;
  EXPECT_EQ(summary(pot), "height 180 mm, 1 side mark missing");
  pot.marks.rim.clear();
  EXPECT_EQ(summary(pot), "height 180 mm, 5 rim marks missing");
  EXPECT_EQ(summary(of_kind("plumb line")), "size not given, not used");
}

TEST(CrossingWords, CountAndName) {
  EXPECT_THAT(crossings_prompt(0), testing::StartsWith("Click where joints cross."));
  EXPECT_THAT(crossings_prompt(1), testing::StartsWith("1 further crossing marked."));
  EXPECT_THAT(crossings_prompt(3), testing::StartsWith("3 further crossings marked."));
  EXPECT_EQ(crossing_words(1, {5, -1}), "2  Column 5, row -1");
}

TEST(ReferenceMissing, SaysWhatIsLeft) {
  EXPECT_THAT(reference_missing(card()), IsEmpty());
  EXPECT_THAT(reference_missing(coin()), IsEmpty());

  ProjectReference empty;
  empty.kind = "rectangle";
  EXPECT_THAT(reference_missing(empty),
              ElementsAre("Type its 'Width' and 'Height', or choose it from the common objects.",
                          "Say where it is: on the shelf, on the glass or beside the vessel.",
                          "Mark its four corners."));
  ProjectReference half = card();
  half.width_mm.reset();
  half.corners.resize(3);
  EXPECT_THAT(reference_missing(half),
              ElementsAre("Type its 'Width', or choose it from the common objects.",
                          "Mark 1 more corner of it."));
  ProjectReference glass = card();
  glass.place = "on-glass";
  EXPECT_THAT(reference_missing(glass),
              ElementsAre("Type the distance 'From glass to middle of pot', and how sure you are "
                          "of it; or press 'Mark the shelf line'."));
  glass.shelf_at_glass = {{{10.0, 900.0}, {900.0, 902.0}}};
  EXPECT_THAT(reference_missing(glass), IsEmpty());
  glass.shelf_at_glass.reset();
  glass.glass_to_axis_mm = 180.0;
  EXPECT_THAT(reference_missing(glass), IsEmpty());
  ProjectReference disc = coin();
  disc.diameter_mm.reset();
  disc.edge.resize(4);
  EXPECT_THAT(reference_missing(disc),
              ElementsAre("Type its 'Diameter', or choose it from the common objects.",
                          "Mark at least 1 more point round its edge."));
  EXPECT_THAT(reference_missing(of_kind("length")),
              ElementsAre("Type its 'Length'.",
                          "Say where it is: on the shelf, on the glass or beside the vessel.",
                          "Mark both its ends."));
  EXPECT_THAT(reference_missing(of_kind("grid")),
              ElementsAre("Type the length 'From joint to joint'.",
                          "Say where it is: on the shelf, on the glass or beside the vessel.",
                          "Mark the four corners of a block of tiles."));
  EXPECT_THAT(reference_missing(of_kind("neighbour")),
              ElementsAre("Choose 'Which size' of that vessel is known.", "Mark that vessel's rim.",
                          "Mark that vessel's foot.", "Mark that vessel's sides."));
  ProjectReference pot = neighbour();
  pot.marks.rim.resize(3);
  EXPECT_THAT(reference_missing(pot), ElementsAre("Mark 2 more points on that vessel's rim."));
  EXPECT_THAT(reference_missing(of_kind("size")),
              ElementsAre("Choose 'Which size' of the pot is known."));
  ProjectReference unsaid = known_size();
  unsaid.value_mm.reset();
  EXPECT_THAT(reference_missing(unsaid), ElementsAre("Type that size under 'It is'."));
  EXPECT_THAT(reference_missing(of_kind("distance")),
              ElementsAre("Type the distance 'From lens to pot'."));
  EXPECT_THAT(reference_missing(of_kind("plumb line")),
              ElementsAre("Use a flat rectangle or a disc; this kind of reference is kept, but not "
                          "used yet."));
}

// What is called usable here is what measuring takes, and the other way round.
TEST(ReferenceMissing, AgreesWithMeasuring) {
  std::vector<ProjectReference> references{card(),      coin(),       ruler(),   tiles(),
                                           neighbour(), known_size(), distance()};
  const auto add = [&](ProjectReference reference, auto change) {
    change(reference);
    references.push_back(reference);
  };
  add(card(), [](ProjectReference& r) { r.place = ""; });
  add(card(), [](ProjectReference& r) { r.place = "beside"; });
  add(card(), [](ProjectReference& r) { r.place = "above"; });
  add(card(), [](ProjectReference& r) { r.place = "on-glass"; });
  add(card(), [](ProjectReference& r) {
    r.place = "on-glass";
    r.shelf_at_glass = {{{10.0, 900.0}, {900.0, 902.0}}};
  });
  add(card(), [](ProjectReference& r) { r.width_mm.reset(); });
  add(card(), [](ProjectReference& r) { r.corners.resize(2); });
  add(card(), [](ProjectReference& r) { r.kind = "plumb line"; });
  add(coin(), [](ProjectReference& r) { r.edge.resize(4); });
  add(coin(), [](ProjectReference& r) { r.diameter_mm.reset(); });
  add(coin(), [](ProjectReference& r) { r.place = "leaning"; });
  add(ruler(), [](ProjectReference& r) { r.length_mm.reset(); });
  add(ruler(), [](ProjectReference& r) { r.ends.resize(1); });
  add(ruler(), [](ProjectReference& r) { r.place = ""; });
  add(tiles(), [](ProjectReference& r) { r.pitch_mm.reset(); });
  add(tiles(), [](ProjectReference& r) { r.corners.resize(3); });
  add(neighbour(), [](ProjectReference& r) { r.value_mm.reset(); });
  add(neighbour(), [](ProjectReference& r) { r.size = "neck_diameter"; });
  add(neighbour(), [](ProjectReference& r) { r.marks.rim.clear(); });
  add(neighbour(), [](ProjectReference& r) { r.marks.rim.pop_back(); });
  add(neighbour(), [](ProjectReference& r) { r.marks.base.pop_back(); });
  add(neighbour(), [](ProjectReference& r) { r.marks.right.pop_back(); });
  add(neighbour(), [](ProjectReference& r) { r.marks.right.clear(); });
  add(known_size(), [](ProjectReference& r) { r.size = ""; });
  add(known_size(), [](ProjectReference& r) { r.value_mm.reset(); });
  add(distance(), [](ProjectReference& r) { r.value_mm.reset(); });
  int usable = 0;
  int unusable = 0;
  for (const ProjectReference& reference : references) {
    Document document = sample_document();
    document.photos[0].references = {reference};
    const Result<EstimateInput> input = estimate_input(document, ".");
    ASSERT_TRUE(input.ok()) << input.problem().what;
    const bool taken = std::none_of(
        input.notes().begin(), input.notes().end(),
        [](const Note& note) { return note.text.find("so it was left out") != std::string::npos; });
    EXPECT_EQ(reference_missing(reference).empty(), taken)
        << reference.kind << " " << reference.place;
    ++(taken ? usable : unusable);
  }
  EXPECT_EQ(usable, 10);
  EXPECT_EQ(unusable, 23);
}

TEST(ReferenceWords, SayHowWellItLiesOnItsEdges) {
  ProjectReference reference;
  reference.kind = "rectangle";
  reference.marks_sd_px = 0.34;
  EXPECT_EQ(refined_words(reference), "Its corners lie on its edges now, to 0.3 px.");
  reference.kind = "disc";
  reference.marks_sd_px.reset();
  EXPECT_EQ(refined_words(reference), "Its marks lie on its edge now.");
}

}  // namespace
}  // namespace potshadow
