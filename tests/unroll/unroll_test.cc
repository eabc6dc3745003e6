// SPDX-License-Identifier: MIT
// Painted vessels unrolled: squares where a renderer painted them, blanks where it sees nothing.
#include "unroll/unroll.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <utility>
#include <vector>

#include "estimate/estimate.h"
#include "estimate/scene.h"
#include "unroll/photo_over.h"

namespace potshadow {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kRadPerDeg = kPi / 180.0;
// As render_painted.py has them.
constexpr double kStepDeg = 10.0;
constexpr double kStepMm = 12.0;
constexpr double kCellDeg = 3.0;
constexpr double kCellMm = 3.0;

struct PaintedScene {
  Answer answer;
  UnrollPhoto photo;
  std::vector<ProfilePoint> truth;  // the true profile
  Eigen::Vector3d eye_mm;           // the true camera, in the renderer's frame
  double turned_rad = 0.0;          // from the renderer's azimuth to the estimate's
  std::string stem;
};

PaintedScene painted(const std::string& name) {
  const testing::Scene scene = testing::load_scene(name);
  const std::string stem = std::string(POTSHADOW_SOURCE_DIR) + "/tests/scenes/" + name;
  const nlohmann::json truth = nlohmann::json::parse(std::ifstream(stem + ".json"));
  Answer answer = estimate(scene.input).value();
  const SolvedView view = answer.photos.front().view;
  const cv::Mat bgr = cv::imread(stem + "-painted.png", cv::IMREAD_COLOR);
  EXPECT_EQ(bgr.cols, 2016) << "cannot read " << stem << "-painted.png";
  PaintedScene out{std::move(answer), {bgr, view}, {}, Eigen::Vector3d::Zero(), 0.0, stem};
  for (const auto& row : truth.at("profile")) out.truth.push_back({row.at(0), row.at(1)});
  // Its neck is hidden, so no mark shows the wall that is to be laid flat.
  constexpr std::size_t kControls = 60;
  if (name == "everted-jar") out.answer.profile = Profile::through(out.truth, kControls).value();
  const auto& c = truth.at("camera").at("C");
  out.eye_mm = Eigen::Vector3d(c.at(0).get<double>(), c.at(1).get<double>(), c.at(2).get<double>());
  out.turned_rad = -kPi / 2.0 - std::atan2(out.eye_mm.y(), out.eye_mm.x());
  return out;
}

// A place on the true wall.
struct TruePlace {
  double along_mm = 0.0;
  double radius_mm = 0.0;
  double obliquity_deg = 0.0;  // from the true camera, the pane left out
};

TruePlace true_place(const PaintedScene& scene, double azimuth_rad, double height_mm) {
  double along = 0.0;
  for (std::size_t i = 1; i < scene.truth.size(); ++i) {
    const ProfilePoint& a = scene.truth[i - 1];
    const ProfilePoint& b = scene.truth[i];
    const double step = std::hypot(b.radius_mm - a.radius_mm, b.height_mm - a.height_mm);
    if (b.height_mm >= height_mm) {
      const double part = (height_mm - a.height_mm) / (b.height_mm - a.height_mm);
      const double radius = a.radius_mm + part * (b.radius_mm - a.radius_mm);
      const Eigen::Vector3d point(radius * std::cos(azimuth_rad), radius * std::sin(azimuth_rad),
                                  height_mm);
      const double out = b.height_mm - a.height_mm;
      const Eigen::Vector3d normal(out * std::cos(azimuth_rad), out * std::sin(azimuth_rad),
                                   a.radius_mm - b.radius_mm);
      const double facing = (scene.eye_mm - point).normalized().dot(normal.normalized());
      return {along + part * step, radius, std::acos(std::clamp(facing, -1.0, 1.0)) / kRadPerDeg};
    }
    along += step;
  }
  return {along, scene.truth.back().radius_mm, 90.0};
}

class Painted : public ::testing::TestWithParam<const char*> {};

// The squares' corners, found in the unrolled picture, lie where they were painted.
TEST_P(Painted, SquaresLieWhereTheyWerePainted) {
  constexpr double kPxPerMm = 8.0;
  constexpr double kMostRmsMm = 0.5;
  constexpr double kUntilDeg = 60.0;
  constexpr double kEdgeMm = 4.0;  // nearer to rim and foot the window would leave the wall
  const PaintedScene scene = painted(GetParam());
  const PaintedFace face(scene.answer.profile, scene.answer.oval);
  const Development flat = whole_face(face, {1.0, 1.0}, -kPi / 2.0);
  UnrollChoices choices;
  choices.px_per_mm = kPxPerMm;
  const auto picture = unroll(face, flat, {scene.photo}, choices);
  ASSERT_TRUE(picture.ok()) << picture.problem().what;
  cv::Mat grey;
  cv::cvtColor(picture->bgra, grey, cv::COLOR_BGRA2GRAY);

  std::vector<cv::Point2f> expected;
  std::vector<TruePlace> places;
  const double top = scene.truth.back().height_mm;
  for (int i = 0; i < 36; ++i) {
    for (double height = kStepMm; height < top - kEdgeMm; height += kStepMm) {
      const double azimuth = i * kStepDeg * kRadPerDeg;
      const TruePlace place = true_place(scene, azimuth, height);
      if (place.obliquity_deg >= kUntilDeg) continue;
      const double turn = std::remainder(azimuth + scene.turned_rad + kPi / 2.0, 2.0 * kPi);
      const double x = turn * flat.low_radius_mm;
      const auto px = [&](double mm) { return static_cast<float>(mm * kPxPerMm - 0.5); };
      const cv::Point2f at(px(x - picture->left_mm), px(picture->top_mm - place.along_mm));
      // Hidden ones have no picture: the alpha tells, and the next test judges it.
      const auto column = static_cast<int>(at.x);
      const auto row = static_cast<int>(at.y);
      if (picture->bgra.at<cv::Vec4b>(row, column)[3] < 255) continue;
      expected.push_back(at);
      places.push_back(place);
    }
  }
  ASSERT_GE(expected.size(), 40U);
  std::vector<cv::Point2f> found = expected;
  cv::cornerSubPix(grey, found, {7, 7}, {-1, -1},
                   {cv::TermCriteria::EPS | cv::TermCriteria::COUNT, 50, 0.01});
  double squares = 0.0;
  double worst = 0.0;
  for (std::size_t i = 0; i < found.size(); ++i) {
    const double across =
        (found[i].x - expected[i].x) / kPxPerMm * places[i].radius_mm / flat.low_radius_mm;
    const double up = (found[i].y - expected[i].y) / kPxPerMm;
    squares += across * across + up * up;
    worst = std::max(worst, std::hypot(across, up));
  }
  const double rms = std::sqrt(squares / static_cast<double>(found.size()));
  std::printf(
      "  %s: %zu corners, %.3f mm rms, worst %.2f mm; seen %.0f %%, %.2f to %.2f mm a pixel\n",
      GetParam(), found.size(), rms, worst, 100.0 * picture->seen_part, picture->finest_mm,
      picture->coarsest_mm);
  EXPECT_LE(rms, kMostRmsMm);
}

// What is blank is what the renderer's own camera does not see.
TEST_P(Painted, BlanksAreWhatTheRendererDoesNotSee) {
  constexpr double kPxPerMm = 4.0;
  constexpr double kBlankFromDeg = 78.0;
  constexpr double kMarginDeg = 3.0;  // of slant, where the cell's middle is as good as blank
  const PaintedScene scene = painted(GetParam());
  const PaintedFace face(scene.answer.profile, scene.answer.oval);
  const Development flat = whole_face(face, {1.0, 1.0}, -kPi / 2.0);
  UnrollChoices choices;
  choices.px_per_mm = kPxPerMm;
  choices.blank_from_deg = kBlankFromDeg;
  const auto picture = unroll(face, flat, {scene.photo}, choices);
  ASSERT_TRUE(picture.ok()) << picture.problem().what;
  const cv::Mat seen = cv::imread(scene.stem + "-seen.png", cv::IMREAD_GRAYSCALE);
  ASSERT_EQ(seen.cols, static_cast<int>(360.0 / kCellDeg));
  // Beside a border a cell may be either.
  cv::Mat surely_seen, surely_hidden;
  cv::Mat round;
  cv::copyMakeBorder(seen, round, 1, 1, 1, 1, cv::BORDER_WRAP);
  cv::erode(round, surely_seen, cv::Mat());
  cv::dilate(round, surely_hidden, cv::Mat());
  int shown = 0;
  int blank = 0;
  int wrongly_shown = 0;
  int wrongly_blank = 0;
  for (int j = 1; j < seen.rows - 1; ++j) {
    for (int i = 0; i < seen.cols; ++i) {
      const double azimuth = (i + 0.5) * kCellDeg * kRadPerDeg;
      const TruePlace place = true_place(scene, azimuth, (j + 0.5) * kCellMm);
      const double turn = std::remainder(azimuth + scene.turned_rad + kPi / 2.0, 2.0 * kPi);
      const auto x = static_cast<int>((turn * flat.low_radius_mm - picture->left_mm) * kPxPerMm);
      const auto y = static_cast<int>((picture->top_mm - place.along_mm) * kPxPerMm);
      if (x < 0 || y < 0 || x >= picture->bgra.cols || y >= picture->bgra.rows) continue;
      const bool is_shown = picture->bgra.at<cv::Vec4b>(y, x)[3] > 0;
      if (surely_seen.at<uchar>(j + 1, i + 1) > 0 &&
          place.obliquity_deg < kBlankFromDeg - kMarginDeg) {
        ++shown;
        wrongly_blank += is_shown ? 0 : 1;
      } else if (surely_hidden.at<uchar>(j + 1, i + 1) == 0 ||
                 place.obliquity_deg > kBlankFromDeg + kMarginDeg) {
        ++blank;
        wrongly_shown += is_shown ? 1 : 0;
      }
    }
  }
  std::printf("  %s: of %d cells seen %d are blank, of %d not seen %d are shown\n", GetParam(),
              shown, wrongly_blank, blank, wrongly_shown);
  EXPECT_GE(shown, 1000);
  EXPECT_GE(blank, 1000);
  EXPECT_EQ(wrongly_blank, 0);
  EXPECT_EQ(wrongly_shown, 0);
}

INSTANTIATE_TEST_SUITE_P(Scenes, Painted, ::testing::Values("flared-jar", "everted-jar", "bottle"));

// Seen by its own camera a photograph is itself, wherever it shows the wall.
TEST_P(Painted, ByItsOwnCameraAPhotographIsItself) {
  const PaintedScene scene = painted(GetParam());
  const PaintedFace face(scene.answer.profile, scene.answer.oval);
  const cv::Rect all(0, 0, scene.photo.bgr.cols, scene.photo.bgr.rows);
  const cv::Mat again = seen_as(scene.photo.view, all, face, 1.0, scene.photo);
  std::vector<cv::Mat> planes;
  cv::split(again, planes);
  ASSERT_GE(cv::countNonZero(planes[3] == 255), 50'000);
  cv::Mat grey;
  cv::cvtColor(scene.photo.bgr, grey, cv::COLOR_BGR2GRAY);
  cv::Mat off;
  cv::absdiff(grey, planes[0], off);
  // Some pixels beside the squares' borders change by what the spline between nodes is off.
  constexpr double kGreys = 2.0;
  EXPECT_LE(cv::mean(off, planes[3] == 255)[0], kGreys);
}

// Carried over to a camera farther round, higher and nearer, the squares unroll to their places.
TEST(PhotoOver, SquaresKeepTheirPlacesThroughAnotherCamera) {
  constexpr double kTurnRad = 15.0 * kRadPerDeg;
  constexpr double kPxPerMm = 4.0;
  constexpr double kMostGreys = 25.0;  // of 255, on black and white squares sampled twice
  const PaintedScene scene = painted("flared-jar");
  const PaintedFace face(scene.answer.profile, {});
  const Eigen::Matrix3d turn =
      Eigen::AngleAxisd(kTurnRad, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  SolvedView other = scene.photo.view;
  other.pane.reset();
  other.camera_from_vessel = other.camera_from_vessel * turn.transpose();
  other.eye_mm = turn * (0.9 * other.eye_mm);
  const cv::Rect all(0, 0, scene.photo.bgr.cols, scene.photo.bgr.rows);
  // The pots are put front to front, so a turned camera sees the same side.
  const cv::Mat over = seen_as(other, all, face, 1.0, scene.photo);
  cv::Mat bgr;
  cv::cvtColor(over, bgr, cv::COLOR_BGRA2BGR);
  UnrollChoices choices;
  choices.px_per_mm = kPxPerMm;
  const Development flat = strip_between(face, 60.0, 140.0, {1.0, 1.0}, -kPi / 2.0).value();
  Development turned = flat;
  turned.front_rad += kTurnRad;
  const auto before = unroll(face, flat, {scene.photo}, choices);
  const auto after = unroll(face, turned, {{bgr, other}}, choices);
  ASSERT_TRUE(before.ok() && after.ok());
  ASSERT_EQ(before->bgra.size(), after->bgra.size());
  std::vector<cv::Mat> a, b;
  cv::split(before->bgra, a);
  cv::split(after->bgra, b);
  cv::Mat full = (a[3] == 255) & (b[3] == 255);
  cv::erode(full, full, cv::Mat(), {-1, -1}, 20);
  ASSERT_GE(cv::countNonZero(full), 20'000);
  cv::Mat off;
  cv::absdiff(a[0], b[0], off);
  EXPECT_LE(cv::mean(off, full)[0], kMostGreys);
}

// Two photographs of the same wall, one of them half as bright, join without a step.
TEST(Unroll, PhotographsOfUnlikeBrightnessAreMadeAlike) {
  const PaintedScene scene = painted("flared-jar");
  const PaintedFace face(scene.answer.profile, {});
  const Development flat = whole_face(face, {1.0, 1.0}, -kPi / 2.0);
  UnrollChoices choices;
  choices.px_per_mm = 2.0;
  UnrollPhoto dark = scene.photo;
  scene.photo.bgr.convertTo(dark.bgr, -1, 0.5);
  const cv::Mat alone = unroll(face, flat, {scene.photo}, choices)->bgra;
  const cv::Mat both = unroll(face, flat, {scene.photo, dark}, choices)->bgra;
  constexpr double kGreys = 3.0;  // of 255; the dark one's are rounded
  EXPECT_LE(cv::norm(alone, both, cv::NORM_L1) / static_cast<double>(alone.total() * 4), kGreys);
}

// Squares much finer than the flat picture's pixels become grey instead of flickering: taken at
// single places they would be black or white, 127 from the mean.
TEST(Unroll, SquaresTooFineToShowBecomeGrey) {
  constexpr double kMostOffGreys = 45.0;
  const PaintedScene scene = painted("flared-jar");
  const PaintedFace face(scene.answer.profile, {});
  UnrollChoices coarse;
  coarse.px_per_mm = 1.0 / (2.0 * kStepMm);
  const auto picture =
      unroll(face, whole_face(face, {1.0, 1.0}, -kPi / 2.0), {scene.photo}, coarse);
  ASSERT_TRUE(picture.ok());
  int shown = 0;
  double squares = 0.0;
  for (int y = 0; y < picture->bgra.rows; ++y) {
    for (int x = 0; x < picture->bgra.cols; ++x) {
      const cv::Vec4b& pixel = picture->bgra.at<cv::Vec4b>(y, x);
      if (pixel[3] < 255) continue;
      squares += std::pow(pixel[0] - 127.5, 2);
      ++shown;
    }
  }
  ASSERT_GE(shown, 20);
  EXPECT_LE(std::sqrt(squares / shown), kMostOffGreys);
}

TEST(Unroll, WhatCannotBeIsRefused) {
  const PaintedScene scene = painted("flared-jar");
  const PaintedFace face(scene.answer.profile, {});
  const Development flat = whole_face(face, {1.0, 1.0}, -kPi / 2.0);
  UnrollChoices huge;
  huge.px_per_mm = 100.0;
  EXPECT_FALSE(unroll(face, flat, {scene.photo}, huge).ok());
  UnrollChoices none;
  none.px_per_mm = 0.0;
  EXPECT_FALSE(unroll(face, flat, {scene.photo}, none).ok());
  UnrollPhoto elsewhere = scene.photo;
  elsewhere.view.lens.cx_px += 1e5;
  const auto nothing = unroll(face, flat, {elsewhere}, {});
  ASSERT_FALSE(nothing.ok());
  EXPECT_EQ(nothing.problem().code, Code::kCannotBeAnswered);
}

}  // namespace
}  // namespace potshadow
