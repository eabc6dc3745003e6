// SPDX-License-Identifier: MIT
// 'potshadow trace' as a user runs it, on the sample's photograph.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <variant>
#include <vector>

#include "cli/options.h"
#include "cli/run_program.h"
#include "core/files.h"
#include "core/temporary_folder.h"
#include "project/measure.h"
#include "project/project.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

namespace fs = std::filesystem;

const fs::path kSamples = POTSHADOW_SOURCE_DIR "/samples";
// Round the jar, some tens of pixels off.
constexpr const char* kBox = "1350,520,3070,2390";
// The true sizes of the rendered jar (samples/scenes/truth-shelf-jar.json).
constexpr double kHeightMm = 235.0;
constexpr double kMaximumMm = 238.3;

class TraceCommand : public ::testing::Test {
 protected:
  void SetUp() override {
    for (const char* name : {"shelf-jar.jpg", "shelf-jar.potshadow"}) {
      fs::copy_file(kSamples / name, folder_.path() / name);
    }
  }
  Ran run(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "trace");
    return run_program(folder_.path(), arguments);
  }
  Project project(const std::string& name) {
    const Result<Project> loaded = load_project(folder_.path() / name);
    EXPECT_TRUE(loaded.ok());
    return loaded.ok() ? *loaded : Project();
  }
  std::string bytes(const std::string& name) {
    return read_file(folder_.path() / name, 100'000'000).value();
  }

  TemporaryFolder folder_;
};

TEST_F(TraceCommand, TracedOutlineMeasuresTheJar) {
  const Ran ran = run({"shelf-jar.potshadow", "--box", kBox, "--picture", "seen.png"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("left side"));
  EXPECT_THAT(bytes("seen.png"), StartsWith("\x89PNG"));

  Project traced = project("shelf-jar.potshadow");
  ASSERT_TRUE(traced.photos.front().trace.has_value());
  constexpr std::size_t kManyMarks = 50;  // a hand makes 16 a side
  EXPECT_GT(traced.photos.front().trace->left.size(), kManyMarks);
  EXPECT_GT(traced.photos.front().trace->right.size(), kManyMarks);
  EXPECT_EQ(traced.photos.front().marks,
            load_project(kSamples / "shelf-jar.potshadow")->photos.front().marks);

  // The trace alone, without a mark of the hand on the vessel.
  ProjectMarks& by_hand = traced.photos.front().marks;
  by_hand.rim = by_hand.base = by_hand.left = by_hand.right = {};
  const Result<Measurement> measured = measure_project(traced, folder_.path());
  ASSERT_TRUE(measured.ok()) << measured.problem().what;
  const auto covers = [&](SizeName name, double truth) {
    const Measured& size = find_size(measured->answer, name)->measured;
    EXPECT_LE(size.low95, truth);
    EXPECT_GE(size.high95, truth);
  };
  covers(SizeName::kHeight, kHeightMm);
  covers(SizeName::kMaxDiameter, kMaximumMm);

  // Once more without a box it takes the one before.
  const Ran again = run({"shelf-jar.potshadow"});
  EXPECT_EQ(again.exit_code, 0) << again.err;
  EXPECT_EQ(project("shelf-jar.potshadow").photos.front().trace->box,
            traced.photos.front().trace->box);
}

TEST_F(TraceCommand, ReferencesAreSetOntoTheirEdges) {
  const Result<Project> before = load_project(folder_.path() / "shelf-jar.potshadow");
  const Ran ran = run({"shelf-jar.potshadow", "--box", kBox, "--references"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Reference 1 lies on its edges"));
  const ProjectReference after = project("shelf-jar.potshadow").photos.front().references.front();
  ASSERT_TRUE(after.marks_sd_px.has_value());
  ASSERT_EQ(after.corners.size(), 4u);
  constexpr double kHandPx = 8.0;  // the sample's corners were clicked by eye
  for (std::size_t i = 0; i < 4; ++i) {
    const PhotoPoint& clicked = before->photos.front().references.front().corners[i];
    EXPECT_LT(
        std::hypot(after.corners[i].x_px - clicked.x_px, after.corners[i].y_px - clicked.y_px),
        kHandPx);
  }
  const Result<Measurement> measured =
      measure_project(project("shelf-jar.potshadow"), folder_.path());
  ASSERT_TRUE(measured.ok()) << measured.problem().what;
  const Measured& height = find_size(measured->answer, SizeName::kHeight)->measured;
  EXPECT_LE(height.low95, kHeightMm);
  EXPECT_GE(height.high95, kHeightMm);
}

TEST_F(TraceCommand, APhotographBecomesAProject) {
  const Ran ran = run({"shelf-jar.jpg", "--project", "new.potshadow", "--box", kBox});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  const Project made = project("new.potshadow");
  ASSERT_EQ(made.photos.size(), 1u);
  EXPECT_EQ(made.photos.front().file, "shelf-jar.jpg");
  EXPECT_TRUE(made.photos.front().trace.has_value());
  // It is never written over.
  const std::string before = bytes("new.potshadow");
  const Ran again = run({"shelf-jar.jpg", "--project", "new.potshadow", "--box", kBox});
  EXPECT_EQ(again.exit_code, 2);
  EXPECT_THAT(again.err, HasSubstr("There is a file 'new.potshadow' already"));
  EXPECT_EQ(bytes("new.potshadow"), before);
}

// A line along the right side says that it is something else's; one on the vessel changes little.
TEST_F(TraceCommand, PaintedLinesAreKeptAndObeyed) {
  ASSERT_EQ(run({"shelf-jar.potshadow", "--box", kBox}).exit_code, 0);
  const ProjectTrace plain = *project("shelf-jar.potshadow").photos.front().trace;
  ASSERT_GT(plain.right.size(), 20u);
  const PhotoPoint from = plain.right[plain.right.size() / 3].at;
  const PhotoPoint to = plain.right[plain.right.size() / 2].at;
  const auto text = [](const PhotoPoint& a, const PhotoPoint& b) {
    return std::to_string(a.x_px) + "," + std::to_string(a.y_px) + "," + std::to_string(b.x_px) +
           "," + std::to_string(b.y_px);
  };
  const auto between = [&](const ProjectTrace& trace) {
    return std::count_if(trace.right.begin(), trace.right.end(), [&](const TracedPoint& mark) {
      return mark.at.y_px > from.y_px && mark.at.y_px < to.y_px;
    });
  };
  ASSERT_GT(between(plain), 5);

  const Ran ran = run({"shelf-jar.potshadow", "--not-vessel", text(from, to), "--vessel",
                       "2150,1300,2250,1700", "--vessel", "2100,1500,2300,1500"});
  ASSERT_EQ(ran.exit_code, 0) << ran.err;
  const ProjectTrace painted = *project("shelf-jar.potshadow").photos.front().trace;
  EXPECT_EQ(painted.box, plain.box);
  ASSERT_EQ(painted.strokes.size(), 3u);
  EXPECT_EQ(std::count_if(painted.strokes.begin(), painted.strokes.end(),
                          [](const ProjectTrace::Stroke& stroke) { return stroke.vessel; }),
            2);
  EXPECT_EQ(between(painted), 0);
  constexpr double kMostKept = 0.8;  // of the marks on the other side: it was not painted over
  EXPECT_GT(static_cast<double>(painted.left.size()),
            kMostKept * static_cast<double>(plain.left.size()));

  // They hold for the next trace, too, until others are painted.
  ASSERT_EQ(run({"shelf-jar.potshadow"}).exit_code, 0);
  EXPECT_EQ(between(*project("shelf-jar.potshadow").photos.front().trace), 0);
  EXPECT_EQ(project("shelf-jar.potshadow").photos.front().trace->strokes, painted.strokes);
}

TEST_F(TraceCommand, WhatCannotBeTracedLeavesTheProjectAlone) {
  const std::string before = bytes("shelf-jar.potshadow");
  struct Wrong {
    std::vector<std::string> arguments;
    int code;
    const char* words;
  };
  const std::vector<Wrong> wrong{
      {{"shelf-jar.potshadow"}, 1, "where in the photograph the vessel is"},
      {{"shelf-jar.potshadow", "--photo", "2", "--box", kBox}, 2, "no photo 2"},
      {{"shelf-jar.potshadow", "--box", "1,2,3"}, 2, "is not understood"},
      {{"shelf-jar.potshadow", "--box", kBox, "--vessel", "1,2,3"}, 2, "--vessel 1300"},
      {{"shelf-jar.potshadow", "--box", kBox, "--not-vessel", "1,2,3,x"}, 2, "--not-vessel 1300"},
      {{"shelf-jar.potshadow", "--box", "9000,9000,9900,9900"}, 2, "box"},
      {{"shelf-jar.jpg", "--box", kBox}, 2, "--project"},
      {{"gone.potshadow", "--box", kBox}, 2, "gone.potshadow"},
      {{}, 2, "No project was named"}};
  int tried = 0;
  for (const Wrong& one : wrong) {
    const Ran ran = run(one.arguments);
    EXPECT_EQ(ran.exit_code, one.code) << ran.err;
    EXPECT_THAT(ran.err, HasSubstr(one.words));
    EXPECT_EQ(bytes("shelf-jar.potshadow"), before);
    ++tried;
  }
  EXPECT_EQ(tried, 9);
}

TEST(TraceOptionsText, IsRead) {
  const Command command = parse_arguments(
      {"trace", "jar.potshadow", "--photo", "3", "--box", "10,20.5,30,40", "--picture", "o.png"});
  const auto* options = std::get_if<TraceOptions>(&command);
  ASSERT_NE(options, nullptr);
  EXPECT_EQ(options->file, "jar.potshadow");
  EXPECT_EQ(options->photo, 2u);
  EXPECT_EQ(options->box_px, (std::array{10.0, 20.5, 30.0, 40.0}));
  EXPECT_EQ(options->picture_file, "o.png");
}

}  // namespace
}  // namespace potshadow
