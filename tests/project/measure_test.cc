// SPDX-License-Identifier: MIT
#include "project/measure.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <string>

#include "core/files.h"
#include "core/temporary_folder.h"
#include "photo/probe.h"
#include "project/low_bowl.h"

namespace potshadow {
namespace {

using testing::EndsWith;
using testing::HasSubstr;
using testing::Not;

// A plain grey picture, 2016 x 1512 pixels, whose EXIF gives 40 mm as 35 mm equivalent.
const std::filesystem::path kData = POTSHADOW_SOURCE_DIR "/tests/project/data";
constexpr double kExifFocal = 40.0;

// A project with marks of no meaning: enough for the input, which judges no shapes.
Project marked_project() {
  Project project;
  project.photos.resize(1);
  ProjectPhoto& photo = project.photos[0];
  photo.file = "grey.jpg";
  photo.references.resize(1);
  ProjectReference& card = photo.references[0];
  card.kind = "rectangle";
  card.place = "standing";
  card.width_mm = 120.0;
  card.height_mm = 80.0;
  card.corners = {{100.0, 900.0}, {500.0, 905.0}, {498.0, 650.0}, {102.0, 640.0}};
  photo.marks.rim = {
      {700.0, 300.0}, {900.0, 290.0}, {1000.0, 310.0}, {850.0, 330.0}, {750.0, 320.0}};
  photo.marks.base = {{720.0, 1200.0}, {800.0, 1210.0}, {880.0, 1200.0}};
  photo.marks.left = {{600.0, 700.0}, {590.0, 800.0}, {610.0, 900.0}};
  photo.marks.right = {{1100.0, 700.0}, {1110.0, 800.0}, {1090.0, 900.0}};
  photo.marks.sd_px = 0.8;
  return project;
}

// A coin on the shelf in front, marked at eight points of no meaning.
ProjectReference coin() {
  ProjectReference reference;
  reference.kind = "disc";
  reference.place = "lying";
  reference.diameter_mm = 23.25;  // 1 euro, Council Regulation (EC) No 975/98, Annex I
  reference.size_sd_mm = 0.05;
  for (int i = 0; i < 8; ++i) reference.edge.push_back({300.0 + 10.0 * i, 1300.0 + i % 3});
  return reference;
}

// A stick of a known length lying there.
ProjectReference stick() {
  ProjectReference reference;
  reference.kind = "length";
  reference.place = "lying";
  reference.length_mm = 100.0;
  reference.size_sd_mm = 0.2;
  reference.ends = {{300.0, 1300.0}, {640.0, 1310.0}};
  return reference;
}

// A floor of tiles: corners of a block, and one crossing outside it.
ProjectReference tiles() {
  ProjectReference reference;
  reference.kind = "grid";
  reference.place = "lying";
  reference.pitch_mm = 150.0;
  reference.columns = 3;
  reference.rows = 2;
  reference.corners = {{300.0, 1400.0}, {1300.0, 1405.0}, {1200.0, 1100.0}, {400.0, 1095.0}};
  reference.crossings = {{{1500.0, 1450.0}, 5, -1}};
  return reference;
}

// Another vessel on the shelf, its rim known from the catalogue.
ProjectReference neighbour() {
  ProjectReference reference;
  reference.kind = "neighbour";
  reference.size = "rim_diameter";
  reference.value_mm = 180.0;
  reference.riser_mm = 12.0;
  reference.riser_sd_mm = 1.0;
  reference.round_base = true;
  reference.marks.rim.assign(5, {1400.0, 600.0});
  reference.marks.base.assign(3, {1450.0, 900.0});
  reference.marks.left.assign(3, {1350.0, 700.0});
  reference.marks.right.assign(3, {1550.0, 700.0});
  return reference;
}

std::string all_notes(const std::vector<Note>& notes) {
  std::string text;
  for (const Note& note : notes) text += (note.doubtful ? "! " : "- ") + note.text + "\n";
  return text;
}

Problem problem_of(const Project& project) {
  const Result<EstimateInput> input = estimate_input(project, kData);
  EXPECT_FALSE(input.ok());
  return input.ok() ? Problem{} : input.problem();
}

TEST(EstimateInputOf, JoinsProjectAndPhotograph) {
  Project project = marked_project();
  ProjectPhoto& photo = project.photos[0];
  photo.glass = ProjectGlass{6.0, 0.5, 1.51, {}};
  photo.cropped = true;
  project.out_of_round_percent = 0.3;
  project.round_base = true;
  project.wall = {8.0, 2.0, {}};
  ProjectReference& card = photo.references[0];
  card.place = "on-glass";
  card.behind_glass = false;
  card.size_sd_mm = 0.7;
  card.riser_mm = 15.0;
  card.riser_sd_mm = 0.5;
  card.glass_to_axis_mm = 210.0;
  card.glass_to_axis_sd_mm = 3.0;
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  EXPECT_EQ(all_notes(input.notes()), "");
  EXPECT_EQ(input->photos.front().width_px, 2016);
  EXPECT_EQ(input->photos.front().height_px, 1512);
  ASSERT_TRUE(input->photos.front().focal.has_value());
  EXPECT_EQ(input->photos.front().focal->focal_35mm, kExifFocal);
  EXPECT_EQ(input->photos.front().focal->sd_percent,
            probe_photo(kData / "grey.jpg").value().focal.value().sd_percent);
  EXPECT_TRUE(input->photos.front().cropped);
  ASSERT_TRUE(input->photos.front().glass.has_value());
  EXPECT_EQ(input->photos.front().glass->thickness_mm, 6.0);
  EXPECT_EQ(input->photos.front().glass->thickness_sd_mm, 0.5);
  EXPECT_EQ(input->photos.front().glass->index, 1.51);
  ASSERT_EQ(input->photos.front().references.size(), 1U);
  const RectangleReference& rectangle = input->photos.front().references[0];
  EXPECT_EQ(rectangle.width_mm, 120.0);
  EXPECT_EQ(rectangle.height_mm, 80.0);
  EXPECT_EQ(rectangle.size_sd_mm, 0.7);
  EXPECT_EQ(rectangle.place, Place::kOnGlass);
  EXPECT_FALSE(rectangle.behind_glass);
  EXPECT_EQ(rectangle.riser_mm, 15.0);
  EXPECT_EQ(rectangle.riser_sd_mm, 0.5);
  EXPECT_EQ(rectangle.glass_to_axis_mm, 210.0);
  EXPECT_EQ(rectangle.glass_to_axis_sd_mm, 3.0);
  EXPECT_EQ(rectangle.corners[3], (PhotoPoint{102.0, 640.0}));
  EXPECT_EQ(input->photos.front().marks.rim, photo.marks.rim);
  EXPECT_EQ(input->photos.front().marks.base, photo.marks.base);
  EXPECT_EQ(input->photos.front().marks.left, photo.marks.left);
  EXPECT_EQ(input->photos.front().marks.right, photo.marks.right);
  EXPECT_EQ(input->photos.front().marks.sd_px, 0.8);
  EXPECT_EQ(input->out_of_round_percent, 0.3);
  EXPECT_TRUE(input->round_base);
  EXPECT_EQ(input->wall_mm, 8.0);
  EXPECT_EQ(input->wall_sd_mm, 2.0);
}

TEST(EstimateInputOf, EveryPlaceIsTaken) {
  const std::vector<std::pair<std::string, Place>> places{{"lying", Place::kLying},
                                                          {"standing", Place::kStanding},
                                                          {"leaning", Place::kLeaning},
                                                          {"on-glass", Place::kOnGlass},
                                                          {"beside", Place::kBeside}};
  std::size_t ran = 0;
  for (const auto& [text, place] : places) {
    Project project = marked_project();
    project.photos[0].references[0].place = text;
    project.photos[0].references[0].glass_to_axis_mm = 200.0;
    const Result<EstimateInput> input = estimate_input(project, kData);
    ASSERT_TRUE(input.ok()) << text;
    EXPECT_EQ(input->photos.front().references.at(0).place, place);
    ++ran;
  }
  EXPECT_EQ(ran, 5U);
}

TEST(EstimateInputOf, ProjectsFocalLengthOverrulesThePhotographs) {
  Project project = marked_project();
  project.photos[0].focal_35mm = 41.0;
  Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.front().focal->focal_35mm, 41.0);
  EXPECT_EQ(input->photos.front().focal->sd_percent, 2.0);
  EXPECT_EQ(all_notes(input.notes()), "");  // too near to be a contradiction
  project.photos[0].focal_35mm = 52.0;
  project.photos[0].focal_sd_percent = 1.0;
  input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.front().focal->focal_35mm, 52.0);
  EXPECT_EQ(input->photos.front().focal->sd_percent, 1.0);
  EXPECT_THAT(all_notes(input.notes()), HasSubstr("! The focal length in the project (52.0 mm)"));
}

TEST(EstimateInputOf, MissingPhotographIsANoteWhereItsSizeIsKnown) {
  Project project = marked_project();
  project.photos[0].file = "gone.jpg";
  EXPECT_EQ(problem_of(project).code, Code::kFileMissing);
  project.photos[0].record.width_px = 1000;
  project.photos[0].record.height_px = 1300;
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  EXPECT_EQ(input->photos.front().width_px, 1000);
  EXPECT_EQ(input->photos.front().height_px, 1300);
  EXPECT_FALSE(input->photos.front().focal.has_value());
  const std::string notes = all_notes(input.notes());
  EXPECT_THAT(notes, HasSubstr("! There is no file"));
  EXPECT_THAT(notes, HasSubstr("gone.jpg"));
  EXPECT_THAT(notes, HasSubstr("- Neither the photograph nor the project gives a focal length"));
}

TEST(EstimateInputOf, PhotographThatIsNoneIsAProblemOrANote) {
  const TemporaryFolder folder;
  std::ofstream(folder.path() / "grey.jpg") << "this is no picture";
  Project project = marked_project();
  const Result<EstimateInput> none = estimate_input(project, folder.path());
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.problem().code, Code::kFileUnreadable);
  project.photos[0].record.width_px = 2016;
  project.photos[0].record.height_px = 1512;
  const Result<EstimateInput> input = estimate_input(project, folder.path());
  ASSERT_TRUE(input.ok());
  EXPECT_THAT(all_notes(input.notes()), HasSubstr("The marks alone were measured"));
}

TEST(EstimateInputOf, ChangedPhotographIsADoubtfulNote) {
  const Result<std::string> bytes = read_file(kData / "grey.jpg", 1U << 20U);
  ASSERT_TRUE(bytes.ok());
  Project project = marked_project();
  PhotoRecord& record = project.photos[0].record;
  record = {2016, 1512, bytes->size(), sha256_hex(*bytes)};
  EXPECT_EQ(all_notes(estimate_input(project, kData).notes()), "");

  const std::string changed = "! The photograph 'grey.jpg' is not the same as when it was marked";
  record.sha256[0] = record.sha256[0] == '0' ? '1' : '0';
  EXPECT_THAT(all_notes(estimate_input(project, kData).notes()), HasSubstr(changed));
  record.sha256.clear();
  EXPECT_EQ(all_notes(estimate_input(project, kData).notes()), "");
  *record.bytes += 1;
  EXPECT_THAT(all_notes(estimate_input(project, kData).notes()), HasSubstr(changed));

  // Another size: the marks belong to the picture they were put on.
  record = {4032, 3024, std::nullopt, std::string(64, '0')};
  Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.front().width_px, 4032);
  EXPECT_EQ(input->photos.front().height_px, 3024);
  EXPECT_THAT(all_notes(input.notes()), HasSubstr("4032 x 3024"));
  // The very file that was marked: then its own size is right.
  record.sha256 = sha256_hex(*bytes);
  input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.front().width_px, 2016);
  EXPECT_THAT(all_notes(input.notes()), HasSubstr(changed));
}

TEST(EstimateInputOf, ReferencesThatCannotBeUsedAreNamedAndLeftOut) {
  Project project = marked_project();
  ProjectPhoto& photo = project.photos[0];
  ProjectReference spoon;
  spoon.kind = "spoon";
  ProjectReference above = photo.references[0];
  above.place = "above";
  photo.references.insert(photo.references.begin(), {spoon, above});
  Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.front().references.size(), 1U);
  const std::string notes = all_notes(input.notes());
  EXPECT_THAT(notes, HasSubstr("! Photo 1, reference 1 is of the kind 'spoon', which this version "
                               "does not know, so it was left out. Use "));
  EXPECT_THAT(notes, HasSubstr("! Photo 1, reference 2 has the place 'above', which this version "
                               "does not know, so it was left out. Say "));
  // None left, or none at all: the scale stays open, which is no error.
  photo.references.pop_back();
  input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_TRUE(input->photos.front().references.empty());
  EXPECT_THAT(all_notes(input.notes()), HasSubstr("reference 2 has the place 'above'"));
  photo.references.clear();
  input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(all_notes(input.notes()), "");
}

TEST(EstimateInputOf, DiscsAreTakenToo) {
  Project project = marked_project();
  ProjectReference disc = coin();
  disc.place = "on-glass";
  disc.behind_glass = false;
  disc.riser_mm = 15.0;
  disc.riser_sd_mm = 0.5;
  disc.glass_to_axis_mm = 210.0;
  disc.glass_to_axis_sd_mm = 3.0;
  project.photos[0].references = {disc};  // a disc alone will do
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  EXPECT_EQ(all_notes(input.notes()), "");
  EXPECT_TRUE(input->photos.front().references.empty());
  ASSERT_EQ(input->photos.front().discs.size(), 1U);
  const DiscReference& taken = input->photos.front().discs[0];
  EXPECT_EQ(taken.diameter_mm, 23.25);
  EXPECT_EQ(taken.size_sd_mm, 0.05);
  EXPECT_EQ(taken.place, Place::kOnGlass);
  EXPECT_FALSE(taken.behind_glass);
  EXPECT_EQ(taken.riser_mm, 15.0);
  EXPECT_EQ(taken.riser_sd_mm, 0.5);
  EXPECT_EQ(taken.glass_to_axis_mm, 210.0);
  EXPECT_EQ(taken.glass_to_axis_sd_mm, 3.0);
  EXPECT_EQ(taken.edge, disc.edge);
}

TEST(EstimateInputOf, SizesOfTheVesselAndDistancesAreTakenToo) {
  Project project = marked_project();
  ProjectPhoto& photo = project.photos[0];
  ProjectReference height;
  height.kind = "size";
  height.size = "height";
  height.value_mm = 260.0;
  height.sd_mm = 5.0;
  height.guess = true;
  ProjectReference rim;
  rim.kind = "size";
  rim.size = "rim_diameter";
  rim.value_mm = 120.0;
  ProjectReference tape;
  tape.kind = "distance";
  tape.value_mm = 900.0;
  photo.references = {height, rim, tape};  // nothing of known size in the picture
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  EXPECT_EQ(all_notes(input.notes()), "");
  EXPECT_TRUE(input->photos.front().references.empty());
  ASSERT_EQ(input->photos.front().sizes.size(), 2U);
  const KnownSize& taken = input->photos.front().sizes[0];
  EXPECT_EQ(taken.number, 0U);
  EXPECT_EQ(taken.name, SizeName::kHeight);
  EXPECT_EQ(taken.value_mm, 260.0);
  EXPECT_EQ(taken.sd_mm, 5.0);
  EXPECT_TRUE(taken.guess);
  EXPECT_EQ(input->photos.front().sizes[1].name, SizeName::kRimDiameter);
  // Rounded to the centimetre: uniform over 10 mm (JCGM 100:2008, 4.3.7).
  constexpr double kRoundingMm = 0.05;
  EXPECT_NEAR(input->photos.front().sizes[1].sd_mm, 10.0 / std::sqrt(12.0), kRoundingMm);
  EXPECT_FALSE(input->photos.front().sizes[1].guess);
  ASSERT_EQ(input->photos.front().distances.size(), 1U);
  EXPECT_EQ(input->photos.front().distances[0].number, 2U);
  EXPECT_EQ(input->photos.front().distances[0].value_mm, 900.0);
  EXPECT_EQ(input->photos.front().distances[0].sd_mm, 10.0);
}

TEST(EstimateInputOf, UnfinishedReferencesAreNamed) {
  struct Case {
    void (*spoil)(ProjectReference&);
    std::string why;
  };
  const std::vector<Case> cases{
      {[](ProjectReference& r) { r = {}, r.kind = "size"; }, "does not say yet which size"},
      {[](ProjectReference& r) { r.kind = "size", r.size = "girth"; },
       "gives the size 'girth', which this version does not know"},
      {[](ProjectReference& r) { r.kind = "size", r.size = "height"; },
       "does not give the size yet"},
      {[](ProjectReference& r) { r.kind = "distance"; },
       "does not say yet how far away the camera was"},
      {[](ProjectReference& r) { r.width_mm.reset(); }, "has no width yet"},
      {[](ProjectReference& r) { r.height_mm.reset(); }, "has no height yet"},
      {[](ProjectReference& r) { r.place.clear(); }, "does not say yet where it is"},
      {[](ProjectReference& r) { r.corners.pop_back(); }, "has 3 of its 4 corners marked"},
      {[](ProjectReference& r) { r.place = "on-glass"; },
       "is on the glass, but how far that is from the vessel is not given yet"},
      {[](ProjectReference& r) { r = coin(), r.diameter_mm.reset(); }, "has no diameter yet"},
      {[](ProjectReference& r) { r = coin(), r.edge.resize(4); }, "has 4 marks on its edge"},
      {[](ProjectReference& r) { r = stick(), r.length_mm.reset(); }, "has no length yet"},
      {[](ProjectReference& r) { r = stick(), r.ends.pop_back(); }, "has 1 of its 2 ends marked"},
      {[](ProjectReference& r) { r = tiles(), r.pitch_mm.reset(); },
       "has no distance from line to line yet"},
      {[](ProjectReference& r) { r = tiles(), r.corners.clear(); },
       "has 0 of its 4 corners marked"},
      {[](ProjectReference& r) { r = neighbour(), r.value_mm.reset(); }, "has no size yet"},
      {[](ProjectReference& r) { r = neighbour(), r.size = "base_diameter"; }, "has no size yet"},
      {[](ProjectReference& r) { r = neighbour(), r.marks.rim.clear(); },
       "has 0 marks on the rim, and at least 5 are needed"},
      {[](ProjectReference& r) { r = neighbour(), r.marks.rim.resize(4); },
       "has 4 marks on the rim, and at least 5 are needed"},
      {[](ProjectReference& r) { r = neighbour(), r.round_base = false, r.marks.base.resize(2); },
       "has 2 marks on the foot, and at least 3 are needed"},
      {[](ProjectReference& r) { r = neighbour(), r.marks.left.clear(), r.marks.right.clear(); },
       "has 0 marks on the outline, and at least 6 are needed"},
      {[](ProjectReference& r) { r = neighbour(), r.marks.left.pop_back(); },
       "has 5 marks on the outline, and at least 6 are needed"},
  };
  std::size_t ran = 0;
  for (const Case& test : cases) {
    Project project = marked_project();
    test.spoil(project.photos[0].references[0]);
    const Result<EstimateInput> input = estimate_input(project, kData);
    ASSERT_TRUE(input.ok()) << test.why;
    const std::string notes = all_notes(input.notes());
    EXPECT_THAT(notes, HasSubstr("! Photo 1, reference 1 " + test.why));
    EXPECT_THAT(notes, HasSubstr(", so it was left out. "));
    EXPECT_THAT(notes,
                EndsWith("\n! No reference that is complete is left to say how big the vessel "
                         "is, so only its proportions are given.\n"));
    const PhotoInput& photo = input->photos.front();
    EXPECT_EQ(photo.references.size() + photo.discs.size() + photo.lengths.size() +
                  photo.grids.size() + photo.neighbours.size() + photo.sizes.size() +
                  photo.distances.size(),
              0U);
    ++ran;
  }
  EXPECT_EQ(ran, 22U);
}

TEST(EstimateInputOf, LengthsGridsAndNeighboursAreTakenToo) {
  Project project = marked_project();
  ProjectPhoto& photo = project.photos[0];
  ProjectReference beside = photo.references[0];
  beside.place = "beside";
  beside.depth_offset_mm = -30.0;
  beside.depth_offset_sd_mm = 7.0;
  ProjectReference on_glass = stick();
  on_glass.place = "on-glass";
  on_glass.shelf_at_glass = {{{200.0, 1400.0}, {1800.0, 1410.0}}};
  photo.references = {beside, on_glass, tiles(), neighbour()};
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  EXPECT_EQ(all_notes(input.notes()), "");
  const PhotoInput& taken = input->photos.front();
  ASSERT_EQ(taken.references.size(), 1U);
  EXPECT_EQ(taken.references[0].place, Place::kBeside);
  EXPECT_EQ(taken.references[0].depth_offset_mm, -30.0);
  EXPECT_EQ(taken.references[0].depth_offset_sd_mm, 7.0);
  ASSERT_EQ(taken.lengths.size(), 1U);
  const LengthReference& length = taken.lengths[0];
  EXPECT_EQ(length.number, 1U);
  EXPECT_EQ(length.place, Place::kOnGlass);
  EXPECT_EQ(length.length_mm, 100.0);
  EXPECT_EQ(length.size_sd_mm, 0.2);
  EXPECT_EQ(length.ends[1], (PhotoPoint{640.0, 1310.0}));
  EXPECT_EQ(length.glass_to_axis_mm, 0.0);  // the marked line stands for it
  EXPECT_EQ(length.shelf_at_glass, on_glass.shelf_at_glass);
  ASSERT_EQ(taken.grids.size(), 1U);
  const GridReference& grid = taken.grids[0];
  EXPECT_EQ(grid.number, 2U);
  EXPECT_EQ(grid.pitch_mm, 150.0);
  ASSERT_EQ(grid.crossings.size(), 5U);
  const std::vector<std::pair<int, int>> places{{0, 0}, {3, 0}, {3, 2}, {0, 2}, {5, -1}};
  for (std::size_t i = 0; i < places.size(); ++i) {
    EXPECT_EQ(grid.crossings[i].column, places[i].first);
    EXPECT_EQ(grid.crossings[i].row, places[i].second);
  }
  EXPECT_EQ(grid.crossings[2].at, tiles().corners[2]);
  EXPECT_EQ(grid.crossings[4].at, (PhotoPoint{1500.0, 1450.0}));
  ASSERT_EQ(taken.neighbours.size(), 1U);
  const NeighbourReference& bowl = taken.neighbours[0];
  EXPECT_EQ(bowl.number, 3U);
  EXPECT_EQ(bowl.name, SizeName::kRimDiameter);
  EXPECT_EQ(bowl.value_mm, 180.0);
  EXPECT_EQ(bowl.sd_mm, kDefaultKnownSizeSdMm);
  EXPECT_EQ(bowl.riser_mm, 12.0);
  EXPECT_EQ(bowl.riser_sd_mm, 1.0);
  EXPECT_TRUE(bowl.round_base);
  EXPECT_EQ(bowl.marks.rim, neighbour().marks.rim);
  EXPECT_EQ(bowl.marks.sd_px, 0.8);  // the photograph's
}

TEST(EstimateInputOf, HiddenPartsAreHandedOn) {
  Project project = marked_project();
  project.hidden_foot = ProjectHidden{5.0, 20.0, {}};
  project.hidden_rim = ProjectHidden{{}, 300.0, {}};
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->hidden_foot->low_mm, 5.0);
  EXPECT_EQ(input->hidden_foot->high_mm, 20.0);
  EXPECT_FALSE(input->hidden_rim->low_mm.has_value());
  EXPECT_EQ(input->hidden_rim->high_mm, 300.0);
  project.hidden_foot->low_mm = 21.0;
  EXPECT_EQ(problem_of(project).code, Code::kBadValue);
  EXPECT_EQ(problem_of(project).what,
            "The lower bound of the hidden foot is above its upper bound.");
}

TEST(EstimateInputOf, ReferencesKeepTheirNumberWhenOthersAreLeftOut) {
  Project project = marked_project();
  ProjectPhoto& photo = project.photos[0];
  const ProjectReference card = photo.references[0];
  ProjectReference grid;
  grid.kind = "grid";
  grid.place = "lying";
  ProjectReference unmarked = card;
  unmarked.corners.clear();
  photo.references = {grid, coin(), unmarked, card, coin()};
  Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  ASSERT_EQ(input->photos.front().references.size(), 1U);
  EXPECT_EQ(input->photos.front().references[0].number, 3U);
  ASSERT_EQ(input->photos.front().discs.size(), 2U);
  EXPECT_EQ(input->photos.front().discs[0].number, 1U);
  EXPECT_EQ(input->photos.front().discs[1].number, 4U);
  // Problems name the reference as the project counts it.
  photo.references[3].corners[1].x_px = 1e6;
  EXPECT_THAT(problem_of(project).what,
              HasSubstr("In photo 1, reference 4, corner 2 lies far outside the picture"));
}

TEST(EstimateInputOf, QuarterTurnsSwapTheSides) {
  // The picture in the file is 2016 x 1512; marks are counted in the turned one.
  Project project = marked_project();
  std::size_t ran = 0;
  for (int turns = 0; turns <= 3; ++turns) {
    project.photos[0].quarter_turns = turns;
    project.photos[0].record = {};
    Result<EstimateInput> input = estimate_input(project, kData);
    ASSERT_TRUE(input.ok()) << input.problem().what;
    EXPECT_EQ(input->photos.front().width_px, turns % 2 == 0 ? 2016 : 1512);
    EXPECT_EQ(input->photos.front().height_px, turns % 2 == 0 ? 1512 : 2016);
    // The record is of the picture before turning, so it agrees.
    project.photos[0].record = {2016, 1512, std::nullopt, ""};
    input = estimate_input(project, kData);
    ASSERT_TRUE(input.ok());
    EXPECT_EQ(all_notes(input.notes()), "");
    // It counts likewise where the file is gone.
    input = estimate_input(project, kData / "none");
    ASSERT_TRUE(input.ok());
    EXPECT_EQ(input->photos.front().width_px, turns % 2 == 0 ? 2016 : 1512);
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
}

TEST(EstimateInputOf, TheProbeMayBeWhatWasReadBefore) {
  Project project = marked_project();
  std::vector<std::filesystem::path> asked;
  const PhotoProbe probe = [&](const std::filesystem::path& path) -> Result<PhotoFacts> {
    asked.push_back(path);
    PhotoFacts facts;
    facts.width_px = 1800;
    facts.height_px = 1400;
    return facts;
  };
  const Result<EstimateInput> input = estimate_input(project, "case 3", probe);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  EXPECT_EQ(input->photos.front().width_px, 1800);
  EXPECT_EQ(input->photos.front().height_px, 1400);
  EXPECT_FALSE(input->photos.front().focal.has_value());
  EXPECT_EQ(asked, std::vector{std::filesystem::path("case 3") / "grey.jpg"});
}

TEST(EstimateInputOf, SaysWhatIsMissing) {
  struct Case {
    void (*spoil)(Project&);
    Code code;
    std::string what;
  };
  const std::vector<Case> cases{
      {[](Project& p) { p.photos.clear(); }, Code::kCannotBeAnswered, "no photograph"},
      {[](Project& p) { p.photos[0].marks = {}; }, Code::kTooFewMarks, "marks on the vessel"},
      {[](Project& p) { p.photos[0].file.clear(); }, Code::kCannotBeAnswered, "which photograph"},
      {[](Project& p) { p.photos[0].marks.rim[1].x_px = 4033.0; }, Code::kBadMarks,
       "In photo 1, rim mark 2 lies far outside the picture"},
      {[](Project& p) { p.photos[0].marks.left[0].y_px = -2017.0; }, Code::kBadMarks,
       "In photo 1, left mark 1 lies far outside the picture"},
      {[](Project& p) { p.photos[0].references[0].corners[2].y_px = 1e6; }, Code::kBadMarks,
       "In photo 1, reference 1, corner 3 lies far outside the picture"},
      {[](Project& p) {
         p.photos[0].references[0] = coin();
         p.photos[0].references[0].edge[6].x_px = -1e6;
       },
       Code::kBadMarks, "In photo 1, reference 1, edge mark 7 lies far outside the picture"},
      {[](Project& p) {
         p.photos[0].references[0] = stick();
         p.photos[0].references[0].ends[1].y_px = 1e6;
       },
       Code::kBadMarks, "In photo 1, reference 1, end 2 lies far outside the picture"},
      {[](Project& p) {
         p.photos[0].references[0] = tiles();
         p.photos[0].references[0].crossings[0].at.y_px = 1e6;
       },
       Code::kBadMarks, "In photo 1, reference 1, crossing 5 lies far outside the picture"},
      {[](Project& p) {
         p.photos[0].references[0] = neighbour();
         p.photos[0].references[0].marks.right[0].y_px = 1e6;
       },
       Code::kBadMarks, "In photo 1, reference 1, right mark 1 lies far outside the picture"},
      {[](Project& p) {
         p.photos[0].references[0].place = "on-glass";
         p.photos[0].references[0].shelf_at_glass = {{{0.0, 1400.0}, {1e6, 1400.0}}};
       },
       Code::kBadMarks,
       "In photo 1, reference 1, mark where shelf and glass meet 2 lies far outside the picture"},
  };
  std::size_t ran = 0;
  for (const Case& test : cases) {
    Project project = marked_project();
    test.spoil(project);
    const Problem problem = problem_of(project);
    EXPECT_EQ(problem.code, test.code) << test.what;
    EXPECT_THAT(problem.what, HasSubstr(test.what));
    EXPECT_THAT(problem.what, EndsWith("."));
    EXPECT_THAT(problem.next, EndsWith("."));
    ++ran;
  }
  EXPECT_EQ(ran, 11U);
}

// Photographs "a.jpg", "b.jpg" ... by one camera, each a picture of its own.
Project project_of(std::size_t count) {
  Project project;
  for (std::size_t i = 0; i < count; ++i) {
    ProjectPhoto photo = marked_project().photos[0];
    photo.file = std::string(1, static_cast<char>('a' + i)) + ".jpg";
    project.photos.push_back(photo);
  }
  return project;
}

PhotoFacts facts_of(const std::filesystem::path& path) {
  PhotoFacts facts;
  facts.width_px = 2016;
  facts.height_px = 1512;
  facts.sha256 = sha256_hex(path.filename().string());
  facts.exif.make = "Larkmoor";
  facts.exif.model = "Pocket 3";
  facts.exif.lens = "back";
  facts.exif.focal_length = Mm{6.8};
  FocalFromExif focal;
  focal.focal_35mm = 26.0;
  focal.sd_percent = 2.3;
  facts.focal = focal;
  return facts;
}

// Returns a probe that finds facts_of, changed by `spoil` for "b.jpg".
PhotoProbe probe_of(const std::function<void(PhotoFacts&)>& spoil = {}) {
  return [spoil](const std::filesystem::path& path) -> Result<PhotoFacts> {
    PhotoFacts facts = facts_of(path);
    if (spoil && path.filename() == "b.jpg") spoil(facts);
    return facts;
  };
}

TEST(EstimateInputOf, AllPhotographsWithMarksAreTakenInOrder) {
  Project project = project_of(5);
  project.photos[0].marks = {};
  project.photos[0].references.clear();  // carries nothing
  project.photos[1].focal_35mm = 41.0;
  project.photos[1].glass = ProjectGlass{6.0, 0.5, 1.51, {}};
  project.photos[2].marks = {};  // but a reference
  project.photos[3].marks.rim[0] = {710.0, 310.0};
  project.photos[3].marks.sd_px = 0.3;
  project.photos[3].references = {coin(), project.photos[3].references[0]};
  project.photos[4].references.clear();  // takes its scale from the others
  EXPECT_EQ(measured_photo(project), 1U);
  const Result<EstimateInput> input = estimate_input(project, "", probe_of());
  ASSERT_TRUE(input.ok()) << input.problem().what;
  const std::string notes = all_notes(input.notes());
  EXPECT_THAT(notes, Not(HasSubstr("hoto 1 ")));
  EXPECT_THAT(notes, HasSubstr("! Photo 3 carries no marks on the vessel, so it was left out, and "
                               "its references with it.\n"));
  EXPECT_THAT(notes, HasSubstr("! Photo 2: The focal length in the project (41.0 mm)"));
  ASSERT_EQ(input->photos.size(), 3U);
  EXPECT_EQ(input->photos[0].focal->focal_35mm, 41.0);
  EXPECT_TRUE(input->photos[0].glass.has_value());
  EXPECT_EQ(input->photos[1].focal->focal_35mm, 26.0);
  EXPECT_FALSE(input->photos[1].glass.has_value());
  EXPECT_EQ(input->photos[1].marks.rim, project.photos[3].marks.rim);
  EXPECT_EQ(input->photos[1].marks.sd_px, 0.3);
  EXPECT_EQ(input->photos[1].discs.at(0).number, 0U);
  EXPECT_EQ(input->photos[1].references.at(0).number, 1U);  // within its photograph
  EXPECT_TRUE(input->photos[2].references.empty());
  EXPECT_EQ(measured_photo(Project()), std::nullopt);
}

TEST(EstimateInputOf, AFurtherPhotographThatIsHardlyMarkedIsLeftOut) {
  const std::vector<std::pair<void (*)(Project&), std::string>> cases{
      {[](Project& p) { p.photos[1].marks.rim.resize(2); },
       "has 2 marks on the rim, and at least 5 are needed"},
      {[](Project& p) { p.photos[1].marks.base.clear(); },
       "has 0 marks on the foot, and at least 3 are needed"},
      {[](Project& p) { p.photos[1].marks.left.clear(); },
       "has 3 marks on the outline, and at least 6 are needed"},
      // What is hidden needs no marks, and a round foot has none.
      {[](Project& p) { p.photos[1].marks.rim.clear(), p.hidden_rim = ProjectHidden{}; }, ""},
      {[](Project& p) { p.photos[1].marks.base.clear(), p.hidden_foot = ProjectHidden{}; }, ""},
      {[](Project& p) { p.photos[1].marks.base.clear(), p.round_base = true; }, ""}};
  std::size_t ran = 0;
  for (const auto& [spoil, why] : cases) {
    Project project = project_of(3);
    spoil(project);
    const Result<EstimateInput> input = estimate_input(project, "", probe_of());
    ASSERT_TRUE(input.ok()) << why;
    EXPECT_EQ(input->photos.size(), why.empty() ? 3U : 2U) << why;
    EXPECT_EQ(all_notes(input.notes()),
              why.empty() ? "" : "! Photo 2 " + why + ", so it was left out.\n");
    ++ran;
  }
  EXPECT_EQ(ran, 6U);
  // The first is never left out: the estimate says what it needs.
  Project project = project_of(2);
  project.photos[0].marks.rim.resize(1);
  EXPECT_EQ(estimate_input(project, "", probe_of()).value().photos.size(), 2U);
}

TEST(EstimateInputOf, ProblemsNameTheirPhotograph) {
  Project project = project_of(2);
  project.photos[1].marks.base[0].y_px = 1e6;
  const Result<EstimateInput> outside = estimate_input(project, "", probe_of());
  ASSERT_FALSE(outside.ok());
  EXPECT_THAT(outside.problem().what, HasSubstr("In photo 2, base mark 1 lies far outside"));
  project = project_of(2);
  project.photos[1].file.clear();
  const Result<EstimateInput> nameless = estimate_input(project, "", probe_of());
  ASSERT_FALSE(nameless.ok());
  EXPECT_THAT(nameless.problem().what, HasSubstr("Photo 2: The project does not say"));
}

TEST(EstimateInputOf, TheSamePictureCountsOnce) {
  Project project = project_of(3);
  const auto same = probe_of([](PhotoFacts& facts) { facts.sha256 = facts_of("a.jpg").sha256; });
  Result<EstimateInput> input = estimate_input(project, "", same);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.size(), 2U);
  EXPECT_EQ(all_notes(input.notes()),
            "! Photo 2 is the same picture as photo 1, so it was left out: a picture counts "
            "once.\n");
  // The files are gone: what was recorded tells it, else the name.
  for (ProjectPhoto& photo : project.photos) photo.record = {2016, 1512, {}, ""};
  project.photos[2].file = "b.jpg";
  input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.size(), 2U);
  EXPECT_THAT(all_notes(input.notes()), HasSubstr("! Photo 3 is the same picture as photo 2"));
  project.photos[0].record.sha256 = project.photos[1].record.sha256 = std::string(64, '1');
  project.photos[2].record.sha256 = std::string(64, '2');
  input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.size(), 2U);
  EXPECT_THAT(all_notes(input.notes()), HasSubstr("! Photo 2 is the same picture as photo 1"));
}

TEST(EstimateInputOf, OneCameraAtOneZoomSharesItsLens) {
  const auto numbers = [](const Result<EstimateInput>& input) {
    std::vector<int> all;
    for (const PhotoInput& photo : input.value().photos) {
      all.push_back(photo.same_lens.value_or(-1));
    }
    return all;
  };
  Project project = project_of(3);
  EXPECT_EQ(numbers(estimate_input(project, "", probe_of())), (std::vector{0, 0, 0}));
  // Held upright: the same sides, exchanged.
  const auto upright = probe_of([](PhotoFacts& f) { std::swap(f.width_px, f.height_px); });
  EXPECT_EQ(numbers(estimate_input(project, "", upright)), (std::vector{0, 0, 0}));
  const std::vector<std::function<void(PhotoFacts&)>> others{
      [](PhotoFacts& f) { f.exif.make = "Other"; },
      [](PhotoFacts& f) { f.exif.model = "Pocket 4"; },
      [](PhotoFacts& f) { f.exif.model.clear(); },
      [](PhotoFacts& f) { f.exif.lens = "front"; },
      [](PhotoFacts& f) { f.exif.focal_length = Mm{9.0}; },
      [](PhotoFacts& f) { f.exif.focal_length.reset(); },
      [](PhotoFacts& f) { f.exif.digital_zoom = 2.0; },
      [](PhotoFacts& f) { f.width_px = 2000; },
  };
  std::size_t ran = 0;
  for (const auto& other : others) {
    EXPECT_EQ(numbers(estimate_input(project, "", probe_of(other))), (std::vector{0, -1, 0}))
        << ran;
    ++ran;
  }
  EXPECT_EQ(ran, 8U);
  project.photos[1].cropped = true;
  EXPECT_EQ(numbers(estimate_input(project, "", probe_of())), (std::vector{0, -1, 0}));
  project.photos[1].cropped = false;
  project.photos[1].focal_35mm = 27.0;
  EXPECT_EQ(numbers(estimate_input(project, "", probe_of())), (std::vector{0, -1, 0}));
  EXPECT_EQ(numbers(estimate_input(project_of(1), "", probe_of())), (std::vector{-1}));
  // Two cameras.
  project = project_of(4);
  const PhotoProbe two = [](const std::filesystem::path& path) -> Result<PhotoFacts> {
    PhotoFacts facts = facts_of(path);
    if (path == "b.jpg" || path == "d.jpg") facts.exif.model = "Pocket 4";
    return facts;
  };
  EXPECT_EQ(numbers(estimate_input(project, "", two)), (std::vector{0, 1, 0, 1}));
}

TEST(EstimateInputOf, WhatIsKnownOfTheLensIsHandedOn) {
  const auto calibrated = probe_of([](PhotoFacts& facts) {
    facts.lens = LensFacts{-0.04, 0.006, 0.02, LensFacts::Middle{0.01, -0.005, 0.003}};
  });
  const Result<EstimateInput> input = estimate_input(project_of(2), "", calibrated);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos[0].lens.k1_sd, LensPrior().k1_sd);
  EXPECT_FALSE(input->photos[0].lens.centre_sd_px.has_value());
  const LensPrior& lens = input->photos[1].lens;
  EXPECT_EQ(lens.k1, -0.04);
  EXPECT_EQ(lens.k1_sd, 0.006);
  EXPECT_EQ(lens.k2, 0.02);
  // Parts of the longer side, 2016 px.
  EXPECT_DOUBLE_EQ(lens.centre_x_px, 20.16);
  EXPECT_DOUBLE_EQ(lens.centre_y_px, -10.08);
  EXPECT_DOUBLE_EQ(lens.centre_sd_px.value_or(0.0), 6.048);
}

TEST(EstimateInputOf, DirectionsCountFromTheFirstMeasured) {
  Project project = project_of(4);
  Result<EstimateInput> input = estimate_input(project, "", probe_of());
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos[1].direction_deg, 0.0);
  EXPECT_EQ(all_notes(input.notes()), "");
  project.photos[0].marks = {};
  project.photos[0].references.clear();
  project.photos[1].direction_deg = 60.0;
  project.photos[2].direction_deg = -75.0;
  input = estimate_input(project, "", probe_of());
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos[0].direction_deg, 0.0);
  EXPECT_EQ(input->photos[1].direction_deg, -135.0);
  EXPECT_EQ(input->photos[2].direction_deg, -60.0);
  EXPECT_EQ(all_notes(input.notes()),
            "- Photo 4 does not say from which side it was taken, so it counts as taken from the "
            "side that all directions count from.\n");
}

TEST(MeasureProject, SaysWhichPhotographsWereMeasured) {
  Project project = project_of(3);
  project.photos[0].marks = {};
  const Estimator found = [](const EstimateInput& input) -> Result<Answer> {
    EXPECT_EQ(input.photos.size(), 2U);
    return low_bowl().answer;
  };
  const Result<Measurement> measured = measure_project(project, "", probe_of(), found);
  ASSERT_TRUE(measured.ok());
  EXPECT_EQ(measured->photo_index, 1U);
  EXPECT_EQ(measured->photo_indices, (std::vector<std::size_t>{1, 2}));
}

TEST(MeasureProject, AHalfMarkedNeighbourIsLeftOutAndTheRestAnswered) {
  const std::filesystem::path samples = POTSHADOW_SOURCE_DIR "/samples";
  Project project = load_project(samples / "shelf-jar.potshadow").value();
  const Result<Measurement> before = measure_project(project, samples);
  ASSERT_TRUE(before.ok()) << before.problem().what;
  EXPECT_TRUE(before->left_out.empty());
  ProjectReference pot = neighbour();
  pot.marks.rim.resize(3);
  std::vector<ProjectReference>& references = project.photos[0].references;
  references.push_back(pot);
  const Result<Measurement> beside = measure_project(project, samples);
  ASSERT_TRUE(beside.ok()) << beside.problem().what;
  ASSERT_EQ(beside->left_out.size(), 1U);
  EXPECT_EQ(beside->left_out[0].photo, 0U);
  EXPECT_EQ(beside->left_out[0].reference, 1U);
  EXPECT_THAT(beside->answer.notes, testing::Contains(beside->left_out[0].note));
  EXPECT_EQ(beside->answer.scale, ScaleSource::kKnown);
  ASSERT_EQ(beside->answer.sizes.size(), before->answer.sizes.size());
  for (std::size_t i = 0; i < before->answer.sizes.size(); ++i) {
    EXPECT_EQ(beside->answer.sizes[i].measured, before->answer.sizes[i].measured);
  }
  // Where it is all there is, proportions are left.
  references.erase(references.begin());
  const Result<Measurement> alone = measure_project(project, samples);
  ASSERT_TRUE(alone.ok()) << alone.problem().what;
  EXPECT_EQ(alone->answer.scale, ScaleSource::kNone);
  EXPECT_TRUE(alone->answer.sizes.empty());
  EXPECT_FALSE(alone->answer.proportions.empty());
  const std::string notes = all_notes(alone->answer.notes);
  EXPECT_THAT(notes, HasSubstr("reference 1 has 3 marks on the rim, and at least 5 are needed, so "
                               "it was left out."));
  EXPECT_THAT(notes, HasSubstr("! No reference that is complete is left to say how big"));
}

TEST(ClayShrinkage, ComesFromTheProjectsClay) {
  Project project;
  EXPECT_FALSE(clay_shrinkage(project).value().has_value());
  project.clay = ProjectClay{};
  EXPECT_FALSE(clay_shrinkage(project).value().has_value());
  project.clay->shrinkage_percent = 12.0;
  const Result<std::optional<TotalShrinkage>> shrinkage = clay_shrinkage(project);
  ASSERT_TRUE(shrinkage.ok() && shrinkage->has_value());
  constexpr double kRounding = 1e-12;
  EXPECT_NEAR((*shrinkage)->fraction_of_wet(), 0.12, kRounding);
  EXPECT_NEAR((*shrinkage)->sd_fraction(), kDefaultShrinkageSdPercent / 100.0, kRounding);
  project.clay->shrinkage_percent = 31.0;
  EXPECT_EQ(clay_shrinkage(project).problem().code, Code::kBadValue);
}

}  // namespace
}  // namespace potshadow
