// SPDX-License-Identifier: MIT
#include "geometry/calibration.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <opencv2/calib3d.hpp>
#include <optional>

namespace potshadow {
namespace {

// Focal length, cx, cy, k1, k2.
constexpr std::size_t kValues = 5;
using Values = std::array<double, kValues>;

struct Fit {
  Values value{};
  Values sd{};
  double rms_px = 0.0;
  std::vector<double> picture_rms_px;
  std::vector<double> distance_mm;
  double widest_turn_rad = 0.0;  // between the boards of any two pictures, off their own planes
};

// Returns the two-sided 95 % point of Student's distribution.
// Source: JCGM 100:2008, table G.2; between its rows the lower, wider row is taken.
double student_95(std::size_t degrees) {
  constexpr std::array<double, 20> kTable{12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36,
                                          2.31,  2.26, 2.23, 2.20, 2.18, 2.16, 2.14,
                                          2.13,  2.12, 2.11, 2.10, 2.09, 2.09};
  POTSHADOW_CHECK(degrees >= 1);
  return kTable.at(std::min(degrees, kTable.size()) - 1);
}

std::vector<cv::Point3f> board_points(const BoardShape& shape) {
  std::vector<cv::Point3f> points;
  for (int row = 0; row < shape.rows; ++row) {
    for (int column = 0; column < shape.columns; ++column) {
      points.emplace_back(static_cast<float>(column * shape.square_mm),
                          static_cast<float>(row * shape.square_mm), 0.0F);
    }
  }
  return points;
}

// Returns the least-squares fit, or nothing where there is none; `near` (may be null) is a fit to
// start from.
std::optional<Fit> fit_of(const std::vector<std::vector<cv::Point2f>>& pictures,
                          const BoardShape& shape, cv::Size size, const Fit* near) {
  const std::vector<std::vector<cv::Point3f>> boards(pictures.size(), board_points(shape));
  cv::Mat camera = cv::Mat::eye(3, 3, CV_64F);  // says that pixels are square
  cv::Mat lens = cv::Mat::zeros(5, 1, CV_64F);
  int wishes = cv::CALIB_FIX_ASPECT_RATIO | cv::CALIB_ZERO_TANGENT_DIST | cv::CALIB_FIX_K3;
  if (near != nullptr) {
    camera.at<double>(0, 0) = near->value[0];
    camera.at<double>(1, 1) = near->value[0];
    camera.at<double>(0, 2) = near->value[1];
    camera.at<double>(1, 2) = near->value[2];
    lens.at<double>(0) = near->value[3];
    lens.at<double>(1) = near->value[4];
    wishes |= cv::CALIB_USE_INTRINSIC_GUESS;
  }
  cv::Mat sds;
  cv::Mat pose_sds;
  cv::Mat misfits;
  std::vector<cv::Mat> rotations;
  std::vector<cv::Mat> translations;
  Fit fit;
  try {
    constexpr int kMostSteps = 100;
    constexpr double kSmallStep = 1e-8;
    fit.rms_px = cv::calibrateCamera(
        boards, pictures, size, camera, lens, rotations, translations, sds, pose_sds, misfits,
        wishes,
        cv::TermCriteria(cv::TermCriteria::COUNT | cv::TermCriteria::EPS, kMostSteps, kSmallStep));
  } catch (const cv::Exception&) {
    return std::nullopt;
  }
  fit.value = {camera.at<double>(1, 1), camera.at<double>(0, 2), camera.at<double>(1, 2),
               lens.at<double>(0), lens.at<double>(1)};
  // calibrateCamera divides the sum of squares by corners less unknowns; every corner gives two
  // readings.
  const double corners = static_cast<double>(pictures.size() * shape.corners());
  const double unknowns = static_cast<double>(kValues + 6 * pictures.size());
  const double rescale = std::sqrt((corners - unknowns) / (2.0 * corners - unknowns));
  fit.sd = {sds.at<double>(1), sds.at<double>(2), sds.at<double>(3), sds.at<double>(4),
            sds.at<double>(5)};
  for (double& sd : fit.sd) sd *= rescale;
  const cv::Mat middle = (cv::Mat_<double>(3, 1) << (shape.columns - 1) * shape.square_mm / 2.0,
                          (shape.rows - 1) * shape.square_mm / 2.0, 0.0);
  std::vector<cv::Vec3d> normals;
  for (std::size_t i = 0; i < pictures.size(); ++i) {
    cv::Mat turn;
    cv::Rodrigues(rotations[i], turn);
    const cv::Vec3d normal(turn.at<double>(0, 2), turn.at<double>(1, 2), turn.at<double>(2, 2));
    for (const cv::Vec3d& other : normals) {
      fit.widest_turn_rad =
          std::max(fit.widest_turn_rad, std::acos(std::clamp(normal.dot(other), -1.0, 1.0)));
    }
    normals.push_back(normal);
    fit.picture_rms_px.push_back(misfits.at<double>(static_cast<int>(i)));
    fit.distance_mm.push_back(cv::norm(turn * middle + translations[i]));
  }
  const auto finite = [](double x) { return std::isfinite(x); };
  const bool sound = std::all_of(fit.value.begin(), fit.value.end(), finite) &&
                     std::all_of(fit.sd.begin(), fit.sd.end(), finite) && fit.value[0] > 0.0;
  if (!sound) return std::nullopt;
  return fit;
}

Problem not_fixed(const std::string& detail) {
  return {Code::kCannotBeAnswered,
          "The pictures do not fix the focal length: the board was seen too nearly square on.",
          "Take more, with the board tilted by 30 to 45 degrees to each side and up and down.",
          detail};
}

Problem no_fit(const std::string& detail) {
  return {Code::kBadMarks, "No lens fits the corners of these pictures.",
          "Check that all were taken with the same camera, lens and zoom, of a flat board.",
          detail};
}

}  // namespace

Result<LensCalibration> calibrate_lens(const std::vector<BoardCorners>& pictures,
                                       const BoardShape& shape, int width_px, int height_px) {
  POTSHADOW_CHECK(shape.columns >= 3 && shape.rows >= 3 && shape.square_mm > 0.0);
  POTSHADOW_CHECK(width_px > 0 && height_px > 0);
  if (pictures.size() < kFewestBoardPictures) {
    return Problem{Code::kTooFewMarks,
                   "The board is in " + std::to_string(pictures.size()) +
                       (pictures.size() == 1 ? " picture" : " pictures") +
                       ", and a camera takes at least " + std::to_string(kFewestBoardPictures) +
                       " to calibrate.",
                   "Take 10 to 20 pictures of it, tilted to every side.", ""};
  }
  std::vector<std::vector<cv::Point2f>> images;
  for (const BoardCorners& corners : pictures) {
    POTSHADOW_CHECK(corners.size() == shape.corners());
    std::vector<cv::Point2f>& image = images.emplace_back();
    for (const PhotoPoint& corner : corners) {
      image.emplace_back(static_cast<float>(corner.x_px), static_cast<float>(corner.y_px));
    }
  }
  const cv::Size size(width_px, height_px);
  const std::optional<Fit> all = fit_of(images, shape, size, nullptr);
  if (!all) return not_fixed("no solution");
  // Planes that are parallel say the same of the lens (Zhang, section 3.1). Noise alone makes them
  // seem turned by a few degrees, and then the fit is too sure of itself.
  constexpr double kLeastTurnRad = 0.175;  // 10 degrees
  if (all->widest_turn_rad < kLeastTurnRad) return not_fixed("all boards are parallel");
  if (!(all->sd[0] < kMostFocalSdPart * all->value[0])) return not_fixed("focal length too vague");
  // A good board in focus misses by a few tenths of a pixel of a 12-megapixel picture; a bent one,
  // or one corner taken for another, by far more.
  constexpr double kMostMisfitPart = 0.0015;  // of the longer side
  if (all->rms_px > kMostMisfitPart * std::max(width_px, height_px)) {
    return no_fit("misfit " + std::to_string(all->rms_px) + " px");
  }

  // Leave out one picture at a time.
  std::vector<Values> without;
  for (std::size_t left_out = 0; left_out < images.size(); ++left_out) {
    std::vector<std::vector<cv::Point2f>> rest = images;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(left_out));
    const std::optional<Fit> fit = fit_of(rest, shape, size, &*all);
    if (!fit) return not_fixed("no solution without picture " + std::to_string(left_out + 1));
    without.push_back(fit->value);
  }
  const double count = static_cast<double>(images.size());
  const double factor = student_95(images.size() - 1);
  std::array<Measured, kValues> found;
  for (std::size_t i = 0; i < kValues; ++i) {
    double mean = 0.0;
    for (const Values& values : without) mean += values.at(i) / count;
    double squares = 0.0;
    for (const Values& values : without) squares += (values.at(i) - mean) * (values.at(i) - mean);
    const double sd = std::max(all->sd.at(i), std::sqrt((count - 1.0) / count * squares));
    const double value = all->value.at(i);
    found.at(i) = {value, sd, value - factor * sd, value + factor * sd};
  }
  if (!(found[0].sd < kMostFocalSdPart * found[0].value)) {
    return not_fixed("focal length changes from picture to picture");
  }

  LensCalibration answer{
      width_px,    height_px,           found[0],        found[1], found[2], found[3], found[4],
      all->rms_px, all->picture_rms_px, all->distance_mm};
  // Half a picture is 6 to 140 degrees wide for these: beyond what camera.h describes.
  constexpr double kShortestFocal = 0.18;  // parts of the longer side
  constexpr double kLongestFocal = 10.0;
  const double longer = std::max(width_px, height_px);
  if (found[0].value < kShortestFocal * longer || found[0].value > kLongestFocal * longer) {
    return not_fixed("focal length " + std::to_string(found[0].value) + " px");
  }
  if (found[1].value < 0.0 || found[1].value > width_px || found[2].value < 0.0 ||
      found[2].value > height_px) {
    return not_fixed("principal point outside the picture");
  }
  return answer;
}

}  // namespace potshadow
