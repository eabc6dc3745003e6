// SPDX-License-Identifier: MIT
#include "project/measure.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "core/files.h"
#include "core/temporary_folder.h"
#include "photo/probe.h"

namespace potshadow {
namespace {

using testing::EndsWith;
using testing::HasSubstr;

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
  photo.marks.rim = {{700.0, 300.0}, {900.0, 290.0}};
  photo.marks.base = {{720.0, 1200.0}};
  photo.marks.left = {{600.0, 700.0}};
  photo.marks.right = {{1100.0, 700.0}};
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
                                                          {"on-glass", Place::kOnGlass}};
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
  EXPECT_EQ(ran, 4U);
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

TEST(EstimateInputOf, OtherReferencesAreNamedAndLeftOut) {
  Project project = marked_project();
  ProjectPhoto& photo = project.photos[0];
  ProjectReference grid;
  grid.kind = "grid";
  ProjectReference spoon;
  spoon.kind = "spoon";
  ProjectReference beside = photo.references[0];
  beside.place = "beside";
  photo.references.insert(photo.references.begin(), {grid, spoon, beside});
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok());
  EXPECT_EQ(input->photos.front().references.size(), 1U);
  const std::string notes = all_notes(input.notes());
  EXPECT_THAT(notes, HasSubstr("! Photo 1, reference 1 is of the kind 'grid', which this version "
                               "does not use yet, so it was left out."));
  EXPECT_THAT(notes, HasSubstr("! Photo 1, reference 2 is of the kind 'spoon', which this version "
                               "does not know, so it was left out."));
  EXPECT_THAT(notes, HasSubstr("! Photo 1, reference 3 has the place 'beside', which this version "
                               "does not use yet, so it was left out."));
  // None left: a problem that names the first.
  photo.references.pop_back();
  const Problem problem = problem_of(project);
  EXPECT_EQ(problem.code, Code::kCannotBeAnswered);
  EXPECT_EQ(problem.what,
            "Photo 1, reference 1 is of the kind 'grid', which this version does not use yet.");
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

TEST(EstimateInputOf, UnfinishedSizesAreNamed) {
  Project project = marked_project();
  ProjectReference& known = project.photos[0].references[0];
  known = {};
  known.kind = "size";
  EXPECT_THAT(problem_of(project).what, HasSubstr("does not say yet which size"));
  known.size = "girth";
  EXPECT_THAT(problem_of(project).what, HasSubstr("the size 'girth', which this version"));
  known.size = "height";
  EXPECT_THAT(problem_of(project).what, HasSubstr("does not give the size yet"));
  known.kind = "distance";
  EXPECT_THAT(problem_of(project).what, HasSubstr("how far away the camera was"));
  EXPECT_EQ(problem_of(project).code, Code::kCannotBeAnswered);
}

TEST(EstimateInputOf, ReferencesKeepTheirNumberWhenOthersAreLeftOut) {
  Project project = marked_project();
  ProjectPhoto& photo = project.photos[0];
  const ProjectReference card = photo.references[0];
  ProjectReference grid;
  grid.kind = "grid";
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
      {[](Project& p) { p.photos[0].references.clear(); }, Code::kCannotBeAnswered,
       "Photo 1 has no reference"},
      {[](Project& p) { p.photos[0].references[0].width_mm.reset(); }, Code::kCannotBeAnswered,
       "Photo 1, reference 1 has no width yet"},
      {[](Project& p) { p.photos[0].references[0].height_mm.reset(); }, Code::kCannotBeAnswered,
       "Photo 1, reference 1 has no height yet"},
      {[](Project& p) { p.photos[0].references[0].place.clear(); }, Code::kCannotBeAnswered,
       "Photo 1, reference 1 does not say yet where it is"},
      {[](Project& p) { p.photos[0].references[0].corners.pop_back(); }, Code::kTooFewMarks,
       "Photo 1, reference 1 has 3 of its 4 corners marked"},
      {[](Project& p) { p.photos[0].references[0].place = "on-glass"; }, Code::kCannotBeAnswered,
       "how far that is from the vessel is not given yet"},
      {[](Project& p) { p.photos[0].marks.rim[1].x_px = 4033.0; }, Code::kBadMarks,
       "In photo 1, rim mark 2 lies far outside the picture"},
      {[](Project& p) { p.photos[0].marks.left[0].y_px = -2017.0; }, Code::kBadMarks,
       "In photo 1, left mark 1 lies far outside the picture"},
      {[](Project& p) { p.photos[0].references[0].corners[2].y_px = 1e6; }, Code::kBadMarks,
       "In photo 1, reference 1, corner 3 lies far outside the picture"},
      {[](Project& p) {
         p.photos[0].references[0] = coin();
         p.photos[0].references[0].diameter_mm.reset();
       },
       Code::kCannotBeAnswered, "Photo 1, reference 1 has no diameter yet"},
      {[](Project& p) {
         p.photos[0].references[0] = coin();
         p.photos[0].references[0].edge.resize(4);
       },
       Code::kTooFewMarks, "Photo 1, reference 1 has 4 marks on its edge"},
      {[](Project& p) {
         p.photos[0].references[0] = coin();
         p.photos[0].references[0].edge[6].x_px = -1e6;
       },
       Code::kBadMarks, "In photo 1, reference 1, edge mark 7 lies far outside the picture"},
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
  EXPECT_EQ(ran, 15U);
}

TEST(EstimateInputOf, TakesTheFirstPhotographWithMarks) {
  Project project = marked_project();
  project.photos.insert(project.photos.begin(), ProjectPhoto{});
  EXPECT_EQ(measured_photo(project), 1U);
  const Result<EstimateInput> input = estimate_input(project, kData);
  ASSERT_TRUE(input.ok()) << input.problem().what;
  EXPECT_THAT(all_notes(input.notes()),
              HasSubstr("- The project has 2 photographs; this version measures one, and took "
                        "photo 2"));
  EXPECT_EQ(measured_photo(Project()), std::nullopt);
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
