// SPDX-License-Identifier: MIT
#include "outline/board.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <string>

namespace potshadow {
namespace {

// Searching a larger picture is slow and finds no more.
constexpr double kMostSearchedPx = 1600.0;

bool found_in(const cv::Mat& grey, cv::Size shape, std::vector<cv::Point2f>& corners) {
  if (cv::findChessboardCornersSB(grey, shape, corners, cv::CALIB_CB_NORMALIZE_IMAGE)) return true;
  return cv::findChessboardCorners(
      grey, shape, corners,
      cv::CALIB_CB_ADAPTIVE_THRESH | cv::CALIB_CB_NORMALIZE_IMAGE | cv::CALIB_CB_FILTER_QUADS);
}

// Returns the least distance between corners that are neighbours in a row or a column.
double least_spacing(const std::vector<cv::Point2f>& corners, cv::Size shape) {
  double least = INFINITY;
  const auto at = [&](int row, int column) {
    return corners.at(static_cast<std::size_t>(row * shape.width + column));
  };
  for (int row = 0; row < shape.height; ++row) {
    for (int column = 0; column < shape.width; ++column) {
      if (column > 0) least = std::min(least, cv::norm(at(row, column) - at(row, column - 1)));
      if (row > 0) least = std::min(least, cv::norm(at(row, column) - at(row - 1, column)));
    }
  }
  return least;
}

// --- Where two edges cross --------------------------------------------------------------------

// One corner as it is seen: in(x, y) = mean + slope . (x, y) + contrast E(a) E(b), where a and b
// are the distances from its two edges and E(t) = erf(t / (blur sqrt 2)).
constexpr int kCrossingValues = 9;
enum Value { kX, kY, kTurnA, kTurnB, kMean, kContrast, kBlur, kSlopeX, kSlopeY };
using Crossing = cv::Vec<double, kCrossingValues>;
using Normal = cv::Matx<double, kCrossingValues, kCrossingValues>;

struct Pixel {
  double x = 0.0;
  double y = 0.0;
  double value = 0.0;
};

// Returns the brightness of the model at (x, y), and by how much each value changes it.
double crossing_at(const Crossing& c, double x, double y, Crossing& slopes) {
  const double dx = x - c[kX];
  const double dy = y - c[kY];
  const cv::Vec2d across_a(-std::sin(c[kTurnA]), std::cos(c[kTurnA]));
  const cv::Vec2d across_b(-std::sin(c[kTurnB]), std::cos(c[kTurnB]));
  const double a = across_a[0] * dx + across_a[1] * dy;
  const double b = across_b[0] * dx + across_b[1] * dy;
  const double wide = c[kBlur] * std::numbers::sqrt2;
  const double step_a = std::erf(a / wide);
  const double step_b = std::erf(b / wide);
  const double peak = 2.0 * std::numbers::inv_sqrtpi / wide;
  // What moving along a, and along b, changes.
  const double by_a = c[kContrast] * step_b * peak * std::exp(-(a / wide) * (a / wide));
  const double by_b = c[kContrast] * step_a * peak * std::exp(-(b / wide) * (b / wide));
  slopes[kX] = -by_a * across_a[0] - by_b * across_b[0] - c[kSlopeX];
  slopes[kY] = -by_a * across_a[1] - by_b * across_b[1] - c[kSlopeY];
  slopes[kTurnA] = by_a * (-across_a[1] * dx + across_a[0] * dy);
  slopes[kTurnB] = by_b * (-across_b[1] * dx + across_b[0] * dy);
  slopes[kMean] = 1.0;
  slopes[kContrast] = step_a * step_b;
  slopes[kBlur] = -(by_a * a + by_b * b) / c[kBlur];
  slopes[kSlopeX] = dx;
  slopes[kSlopeY] = dy;
  return c[kMean] + c[kSlopeX] * dx + c[kSlopeY] * dy + c[kContrast] * step_a * step_b;
}

double misfit_of(const Crossing& crossing, const std::vector<Pixel>& pixels) {
  double squares = 0.0;
  Crossing unused;
  for (const Pixel& pixel : pixels) {
    const double miss = pixel.value - crossing_at(crossing, pixel.x, pixel.y, unused);
    squares += miss * miss;
  }
  return squares;
}

// Improves the crossing until the sum of squared misfits no longer falls (Marquardt's method).
void fit_crossing(const std::vector<Pixel>& pixels, Crossing& crossing) {
  constexpr int kMostSteps = 50;
  constexpr double kSmallStepPx = 1e-4;
  constexpr double kLeastBlurPx = 0.3;  // a pixel's own width: a unit square's standard deviation
  constexpr double kMostDamping = 1e6;
  double damping = 1e-3;
  double misfit = misfit_of(crossing, pixels);
  for (int step = 0; step < kMostSteps && damping < kMostDamping; ++step) {
    Normal normal = Normal::zeros();
    Crossing pull = Crossing::all(0.0);
    Crossing slopes;
    for (const Pixel& pixel : pixels) {
      const double miss = pixel.value - crossing_at(crossing, pixel.x, pixel.y, slopes);
      normal += slopes * slopes.t();
      pull += miss * slopes;
    }
    for (int i = 0; i < kCrossingValues; ++i) normal(i, i) = normal(i, i) * (1.0 + damping) + 1e-9;
    bool solved = false;
    Crossing next = crossing + Crossing(normal.inv(cv::DECOMP_CHOLESKY, &solved) * pull);
    next[kBlur] = std::max(next[kBlur], kLeastBlurPx);
    const double next_misfit = misfit_of(next, pixels);
    if (!solved || !(next_misfit < misfit)) {
      damping *= 5.0;
      continue;
    }
    const double moved = std::hypot(next[kX] - crossing[kX], next[kY] - crossing[kY]);
    crossing = next;
    misfit = next_misfit;
    damping *= 0.2;
    if (moved < kSmallStepPx) return;
  }
}

// Returns the step from one corner to the next, by both neighbours where there are two.
cv::Point2d step_at(const std::vector<cv::Point2f>& corners, int index, int stride, int place,
                    int count) {
  const int before = place > 0 ? index - stride : index;
  const int after = place + 1 < count ? index + stride : index;
  const cv::Point2d way =
      corners.at(static_cast<std::size_t>(after)) - corners.at(static_cast<std::size_t>(before));
  return way * (static_cast<double>(stride) / (after - before));
}

// Returns a first guess: edges along the rows and columns of corners, brightness from the pixels.
Crossing first_guess(const std::vector<Pixel>& pixels, cv::Point2d start, cv::Point2d along,
                     cv::Point2d down) {
  const auto [darkest, brightest] = std::minmax_element(
      pixels.begin(), pixels.end(),
      [](const Pixel& left, const Pixel& right) { return left.value < right.value; });
  Crossing guess = Crossing::all(0.0);
  guess[kX] = start.x;
  guess[kY] = start.y;
  guess[kTurnA] = std::atan2(along.y, along.x);
  guess[kTurnB] = std::atan2(down.y, down.x);
  guess[kMean] = (darkest->value + brightest->value) / 2.0;
  guess[kContrast] = (brightest->value - darkest->value) / 2.0;
  guess[kBlur] = 1.0;
  // Which two of the four squares are the bright ones.
  double agreement = 0.0;
  Crossing unused;
  for (const Pixel& pixel : pixels) {
    agreement += (pixel.value - guess[kMean]) *
                 (crossing_at(guess, pixel.x, pixel.y, unused) - guess[kMean]);
  }
  if (agreement < 0.0) guess[kContrast] = -guess[kContrast];
  return guess;
}

// Returns where the edges that fit the brightness around `start` best cross; `along` and `down`
// lead to the next corners. Nothing where no crossing is found near.
std::optional<cv::Point2d> crossing_near(const cv::Mat& grey, cv::Point2d start, cv::Point2d along,
                                         cv::Point2d down) {
  // Pixels are taken to this part of a square from each edge, so that no other edge is among them;
  // of a large picture only so many of them, for farther on the lens bends the edges.
  constexpr double kReachPart = 0.4;
  constexpr double kMostReachPx = 15.0;
  constexpr std::size_t kFewestPixels = 25;  // for nine values
  constexpr double kMostMovePart = 0.25;     // farther on it may be another thing
  const double area = along.cross(down);
  if (std::abs(area) < 1.0) return std::nullopt;
  const auto reach = [&](double along_part, double down_part) {
    return std::min(kMostReachPx, kReachPart * (std::abs(along_part) + std::abs(down_part)));
  };
  const double wide = reach(along.x, down.x);
  const double high = reach(along.y, down.y);
  std::vector<Pixel> pixels;
  for (int y = std::max(0, cvCeil(start.y - high));
       y <= std::min(grey.rows - 1, cvFloor(start.y + high)); ++y) {
    for (int x = std::max(0, cvCeil(start.x - wide));
         x <= std::min(grey.cols - 1, cvFloor(start.x + wide)); ++x) {
      const cv::Point2d from_start(x - start.x, y - start.y);
      if (std::abs(from_start.cross(down) / area) > kReachPart ||
          std::abs(along.cross(from_start) / area) > kReachPart) {
        continue;
      }
      pixels.push_back({static_cast<double>(x), static_cast<double>(y),
                        static_cast<double>(grey.at<unsigned char>(y, x))});
    }
  }
  if (pixels.size() < kFewestPixels) return std::nullopt;
  Crossing crossing = first_guess(pixels, start, along, down);
  fit_crossing(pixels, crossing);
  const cv::Point2d found(crossing[kX], crossing[kY]);
  const double most = kMostMovePart * std::min(cv::norm(along), cv::norm(down));
  if (!(cv::norm(found - start) < most)) return std::nullopt;
  return found;
}

// Moves every corner to where its two edges cross; where they are not found it stays.
void move_to_crossings(const cv::Mat& grey, cv::Size shape, std::vector<cv::Point2f>& corners) {
  const std::vector<cv::Point2f> before = corners;
  for (int row = 0; row < shape.height; ++row) {
    for (int column = 0; column < shape.width; ++column) {
      const int index = row * shape.width + column;
      const cv::Point2d along = step_at(before, index, 1, column, shape.width);
      const cv::Point2d down = step_at(before, index, shape.width, row, shape.height);
      const std::size_t at = static_cast<std::size_t>(index);
      const std::optional<cv::Point2d> found = crossing_near(grey, before.at(at), along, down);
      if (found) corners.at(at) = *found;
    }
  }
}

}  // namespace

Result<std::vector<PhotoPoint>> find_board(const Picture& picture, int columns, int rows) {
  POTSHADOW_CHECK(columns >= 3 && rows >= 3);
  const Problem nothing{
      Code::kCannotBeAnswered,
      "No board of " + std::to_string(columns) + " by " + std::to_string(rows) +
          " inner corners is to be seen whole.",
      "Take the picture again with the whole board in it, in focus and evenly lit.", ""};
  const cv::Size shape(columns, rows);
  std::vector<cv::Point2f> corners;
  cv::Mat grey;
  try {
    cv::cvtColor(picture.bgr, grey, cv::COLOR_BGR2GRAY);
    const double scale = std::min(1.0, kMostSearchedPx / std::max(grey.cols, grey.rows));
    cv::Mat small = grey;
    if (scale < 1.0) cv::resize(grey, small, cv::Size(), scale, scale, cv::INTER_AREA);
    if (!found_in(small, shape, corners)) return nothing;
    // Both pictures' first pixels have their centres at (0, 0).
    const double x_scale = static_cast<double>(grey.cols) / small.cols;
    const double y_scale = static_cast<double>(grey.rows) / small.rows;
    for (cv::Point2f& corner : corners) {
      corner.x = static_cast<float>((corner.x + 0.5) * x_scale - 0.5);
      corner.y = static_cast<float>((corner.y + 0.5) * y_scale - 0.5);
    }
    // A good start for the fit. The window holds no other corner.
    constexpr double kWindowPart = 0.3;  // of the distance between corners, each way
    constexpr int kLeastWindowPx = 2;
    constexpr int kMostWindowPx = 15;
    const int window = std::clamp(static_cast<int>(kWindowPart * least_spacing(corners, shape)),
                                  kLeastWindowPx, kMostWindowPx);
    constexpr int kMostSteps = 60;
    constexpr double kSmallStepPx = 1e-3;
    cv::cornerSubPix(grey, corners, cv::Size(window, window), cv::Size(-1, -1),
                     cv::TermCriteria(cv::TermCriteria::COUNT | cv::TermCriteria::EPS, kMostSteps,
                                      kSmallStepPx));
    move_to_crossings(grey, shape, corners);
  } catch (const cv::Exception&) {
    return nothing;
  }
  std::vector<PhotoPoint> points;
  for (const cv::Point2f& corner : corners) points.push_back({corner.x, corner.y});
  return points;
}

}  // namespace potshadow
