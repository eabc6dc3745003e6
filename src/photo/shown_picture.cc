// SPDX-License-Identifier: MIT
#include "photo/shown_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <exception>
#include <new>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <utility>

#include "core/check.h"

namespace potshadow {
namespace {

// A level of which both sides are at most this long is the last.
constexpr int kLastLevelPx = 512;

// ---- Halving ----

// Each halves what is left over beside or below the pairs: a column or row one pixel wide.
void halve_column(const cv::Mat& from, cv::Mat to) {
  const int bytes = from.channels();
  for (int y = 0; y < to.rows; ++y) {
    const int below = std::min(2 * y + 1, from.rows - 1);
    const auto* upper = from.ptr<uchar>(2 * y);
    const auto* lower = from.ptr<uchar>(below);
    auto* out = to.ptr<uchar>(y);
    for (int i = 0; i < bytes; ++i) out[i] = static_cast<uchar>((upper[i] + lower[i] + 1) / 2);
  }
}

void halve_row(const cv::Mat& from, cv::Mat to) {
  const int channels = from.channels();
  const auto* in = from.ptr<uchar>(0);
  auto* out = to.ptr<uchar>(0);
  for (int x = 0; x < to.cols; ++x) {
    const int right = std::min(2 * x + 1, from.cols - 1);
    for (int i = 0; i < channels; ++i) {
      out[x * channels + i] =
          static_cast<uchar>((in[2 * x * channels + i] + in[right * channels + i] + 1) / 2);
    }
  }
}

// Returns the means of two by two pixels; a last odd row or column is a mean of what is there.
cv::Mat halved(const cv::Mat& picture) {
  const int wide = picture.cols / 2;
  const int high = picture.rows / 2;
  cv::Mat half((picture.rows + 1) / 2, (picture.cols + 1) / 2, picture.type());
  if (wide > 0 && high > 0) {
    cv::Mat even = half(cv::Rect(0, 0, wide, high));
    cv::resize(picture(cv::Rect(0, 0, 2 * wide, 2 * high)), even, even.size(), 0, 0,
               cv::INTER_AREA);
  }
  if (picture.cols % 2 != 0) halve_column(picture.col(picture.cols - 1), half.col(half.cols - 1));
  if (picture.rows % 2 != 0) halve_row(picture.row(picture.rows - 1), half.row(half.rows - 1));
  return half;
}

// ---- Gamma and brightness ----

using Tones = std::array<uchar, 256>;

Tones tones_of(const ViewAdjust& adjust) {
  Tones tones{};
  for (std::size_t i = 0; i < tones.size(); ++i) {
    const double v = std::pow(static_cast<double>(i) / 255.0, 1.0 / adjust.gamma);
    tones[i] = cv::saturate_cast<uchar>(255.0 * (v + adjust.brightness));
  }
  return tones;
}

bool changes_tones(const ViewAdjust& adjust) {
  return adjust.gamma != 1.0 || adjust.brightness != 0.0;
}

cv::Mat table_of(const Tones& tones) {
  return cv::Mat(1, 256, CV_8UC1, const_cast<uchar*>(tones.data()));  // only read
}

// ---- Local contrast ----

// No brightness is lifted over the next more than this many times as far as with even spacing.
constexpr double kSteepest = 4.0;
// Tiles along a side: an eighth of a picture is about a pot's shoulder or foot.
constexpr int kTiles = 8;
// A tile of fewer pixels than this along a side has too few for a histogram.
constexpr int kLeastTilePx = 16;

// Changes the brightness to that with local contrast in full.
void equalise(cv::Mat& grey) {
  const auto tiles = [](int side) { return std::clamp(side / kLeastTilePx, 1, kTiles); };
  cv::createCLAHE(kSteepest, cv::Size(tiles(grey.cols), tiles(grey.rows)))->apply(grey, grey);
}

cv::Mat grey_of(const cv::Mat& bgr) {
  cv::Mat grey;
  cv::cvtColor(bgr, grey, cv::COLOR_BGR2GRAY);
  return grey;
}

// Brightness in 1/16384ths of the channels, as cv::COLOR_BGR2GRAY weighs them (ITU-R BT.601).
int brightness_of(const uchar* bgr) {
  constexpr int kBlue = 1868;
  constexpr int kGreen = 9617;
  constexpr int kRed = 4899;
  constexpr int kBits = 14;
  return (kBlue * bgr[0] + kGreen * bgr[1] + kRed * bgr[2] + (1 << (kBits - 1))) >> kBits;
}

// Returns the picture with `strength` of the change that `equalised` made to its brightness, all
// channels moved alike so that colours stay, and then its tones.
cv::Mat with_brightness(const cv::Mat& bgr, const cv::Mat& equalised, double strength,
                        const Tones& tones) {
  constexpr int kOne = 256;
  const int part = static_cast<int>(std::lround(strength * kOne));
  cv::Mat out(bgr.rows, bgr.cols, CV_8UC3);
  cv::parallel_for_(cv::Range(0, bgr.rows), [&](const cv::Range& rows) {
    for (int y = rows.start; y < rows.end; ++y) {
      const auto* from = bgr.ptr<uchar>(y);
      const auto* wanted = equalised.ptr<uchar>(y);
      auto* to = out.ptr<uchar>(y);
      for (int x = 0; x < bgr.cols; ++x, from += 3, to += 3) {
        const int more = (wanted[x] - brightness_of(from)) * part / kOne;
        for (int i = 0; i < 3; ++i) {
          to[i] = tones[static_cast<std::size_t>(std::clamp(from[i] + more, 0, 255))];
        }
      }
    }
  });
  return out;
}

// ---- Edges ----

// Sobel's masks over 5 x 5 pixels smooth by a binomial of one pixel's standard deviation. On a ramp
// of one grey level a pixel they give (1 2 + 2 1 + 2 1 + 1 2) x (1 + 4 + 6 + 4 + 1).
constexpr int kMaskPx = 5;
constexpr float kMaskGain = 8.0F * 16.0F;
// Rows done at once, so that what lies between stays small.
constexpr int kStripRows = 32;

// Returns how steep the brightness is, CV_32F in kMaskGain times grey levels a pixel.
cv::Mat steepness_of(const cv::Mat& grey, const cv::Range& rows) {
  // Outside the strip its neighbours are looked at, outside the picture its last pixels go on.
  const cv::Mat strip = grey.rowRange(rows);
  cv::Mat slope;
  cv::Mat across;
  cv::Mat down;
  cv::Sobel(strip, slope, CV_16S, 1, 0, kMaskPx, 1.0, 0.0, cv::BORDER_REPLICATE);
  slope.convertTo(across, CV_32F);
  cv::Sobel(strip, slope, CV_16S, 0, 1, kMaskPx, 1.0, 0.0, cv::BORDER_REPLICATE);
  slope.convertTo(down, CV_32F);
  cv::magnitude(across, down, across);
  return across;
}

// Slopes, in grey levels a pixel, up to which nothing is drawn and from which on it is black.
struct Ink {
  float none = 0.0F;
  float full = 1.0F;
};

// Returns what suits the level: half of a picture is taken for plain, one in twenty pixels for
// edges. Looks at strips spread over it.
Ink ink_of(const cv::Mat& grey) {
  constexpr int kStrips = 24;
  constexpr int kRows = 4;
  constexpr double kEdges = 0.95;
  // A hundredth of what chance makes steep is steeper than this many medians (Rayleigh's law).
  constexpr float kAboveMedian = 2.58F;
  // Even on an empty wall the finest step of an 8-bit picture, 0.4 levels a pixel once smoothed,
  // should stay white, and only clear edges be black.
  constexpr float kLeastNone = 0.6F;
  constexpr float kLeastFull = 3.0F;
  std::vector<float> seen;
  const int strips = std::min(kStrips, (grey.rows + kRows - 1) / kRows);
  for (int i = 0; i < strips; ++i) {
    const auto middle = static_cast<int>((2LL * i + 1) * grey.rows / (2LL * strips));
    const int first = std::clamp(middle - kRows / 2, 0, std::max(0, grey.rows - kRows));
    const cv::Mat steep = steepness_of(grey, {first, std::min(first + kRows, grey.rows)});
    seen.insert(seen.end(), steep.begin<float>(), steep.end<float>());
  }
  const auto ranked = [&seen](double part) {
    const auto place =
        seen.begin() + static_cast<std::ptrdiff_t>(part * static_cast<double>(seen.size() - 1));
    std::nth_element(seen.begin(), place, seen.end());
    return *place / kMaskGain;
  };
  Ink ink;
  ink.full = std::max(kLeastFull, ranked(kEdges));
  ink.none = std::clamp(kAboveMedian * ranked(0.5), kLeastNone, ink.full / 2.0F);
  return ink;
}

// Returns black lines on white, in three equal channels.
cv::Mat edges_of(const cv::Mat& grey) {
  const Ink ink = ink_of(grey);
  const double scale = 255.0 / (ink.full - ink.none);
  cv::Mat out(grey.rows, grey.cols, CV_8UC3);
  const int strips = (grey.rows + kStripRows - 1) / kStripRows;
  cv::parallel_for_(cv::Range(0, strips), [&](const cv::Range& mine) {
    for (int strip = mine.start; strip < mine.end; ++strip) {
      const int first = strip * kStripRows;
      const cv::Range rows(first, std::min(first + kStripRows, grey.rows));
      cv::Mat tones;  // saturated at black and at white
      steepness_of(grey, rows)
          .convertTo(tones, CV_8U, -scale / kMaskGain, 255.0 + ink.none * scale);
      cv::Mat lines = out.rowRange(rows);
      cv::cvtColor(tones, lines, cv::COLOR_GRAY2BGR);
    }
  });
  return out;
}

// ---- Steps ----

bool in_range(double value, double least, double most) { return value >= least && value <= most; }

Problem out_of_memory() {
  return {Code::kFileTooLarge, "There is not enough memory to show the picture.",
          "Close other programs, or save a smaller copy of the whole picture and use that.", ""};
}

Problem stopped() {
  return {Code::kCannotBeAnswered, "The picture was not made ready, because another one is wanted.",
          "Wait for that one.", ""};
}

// Returns the picture, or its brightness alone where edges are wanted, with all that is done before
// it is halved. Nothing where a stop was requested.
std::optional<cv::Mat> first_level(const cv::Mat& bgr, const ViewAdjust& adjust,
                                   const std::stop_token& stop) {
  const Tones tones = tones_of(adjust);
  cv::Mat level = bgr;
  if (adjust.edges) {
    level = grey_of(bgr);
    if (stop.stop_requested()) return std::nullopt;
    if (adjust.local_contrast > 0.0) {
      const cv::Mat before = level.clone();
      equalise(level);
      cv::addWeighted(level, adjust.local_contrast, before, 1.0 - adjust.local_contrast, 0.0,
                      level);
      if (stop.stop_requested()) return std::nullopt;
    }
    if (changes_tones(adjust)) cv::LUT(level, table_of(tones), level);
  } else if (adjust.local_contrast > 0.0) {
    cv::Mat equalised = grey_of(bgr);
    if (stop.stop_requested()) return std::nullopt;
    equalise(equalised);
    if (stop.stop_requested()) return std::nullopt;
    level = with_brightness(bgr, equalised, adjust.local_contrast, tones);
  } else if (changes_tones(adjust)) {
    cv::Mat toned;
    cv::LUT(bgr, table_of(tones), toned);
    level = toned;
  }
  return level;
}

// Nothing where a stop was requested.
std::optional<std::vector<cv::Mat>> levels_of(const cv::Mat& bgr, const ViewAdjust& adjust,
                                              const std::stop_token& stop) {
  if (stop.stop_requested()) return std::nullopt;
  auto first = first_level(bgr, adjust, stop);
  if (!first) return std::nullopt;
  std::vector<cv::Mat> levels = {*first};
  while (levels.back().cols > kLastLevelPx || levels.back().rows > kLastLevelPx) {
    if (stop.stop_requested()) return std::nullopt;
    levels.push_back(halved(levels.back()));
  }
  if (adjust.edges) {
    for (cv::Mat& level : levels) {
      if (stop.stop_requested()) return std::nullopt;
      level = edges_of(level);
    }
  }
  if (stop.stop_requested()) return std::nullopt;
  return levels;
}

ShownPicture::Pixels pixels_of(const cv::Mat& bgr) {
  return {bgr.data, bgr.step[0], bgr.cols, bgr.rows};
}

}  // namespace

struct ShownPicture::Levels {
  std::vector<cv::Mat> bgr;
};

Picture turned_picture(const Picture& picture, int quarter_turns) {
  Picture turned = picture;
  const int turns = ((quarter_turns % 4) + 4) % 4;
  if (turns == 0 || picture.bgr.empty()) return turned;
  turned.bgr = cv::Mat();
  try {
    constexpr std::array<int, 3> kTurns = {cv::ROTATE_90_CLOCKWISE, cv::ROTATE_180,
                                           cv::ROTATE_90_COUNTERCLOCKWISE};
    cv::rotate(picture.bgr, turned.bgr, kTurns[static_cast<std::size_t>(turns - 1)]);
  } catch (const std::exception&) {
    turned.bgr = cv::Mat();
  }
  return turned;
}

ShownPicture::ShownPicture(std::shared_ptr<const Levels> levels) : levels_(std::move(levels)) {}

Result<ShownPicture> ShownPicture::of(const Picture& picture, const ViewAdjust& adjust,
                                      const std::stop_token& stop) {
  if (picture.bgr.empty()) return out_of_memory();
  POTSHADOW_CHECK(picture.bgr.type() == CV_8UC3);
  if (!in_range(adjust.brightness, -1.0, 1.0) || !in_range(adjust.gamma, 0.25, 4.0) ||
      !in_range(adjust.local_contrast, 0.0, 1.0)) {
    return Problem{Code::kBadValue, "The picture cannot be shown as bright or as sharp as that.",
                   "Put brightness, shadows and local contrast back to where they were.", ""};
  }
  try {
    auto levels = levels_of(picture.bgr, adjust, stop);
    if (!levels) return stopped();
    auto kept = std::make_shared<Levels>();
    kept->bgr = std::move(*levels);
    return ShownPicture(std::move(kept));
  } catch (const std::exception& error) {  // the sizes and kinds fit, so only memory is left
    Problem problem = out_of_memory();
    problem.detail = error.what();
    return problem;
  }
}

int ShownPicture::width_px() const { return levels_->bgr.front().cols; }
int ShownPicture::height_px() const { return levels_->bgr.front().rows; }
int ShownPicture::levels() const { return static_cast<int>(levels_->bgr.size()); }

ShownPicture::Pixels ShownPicture::whole(int level) const {
  POTSHADOW_CHECK(level >= 0 && level < levels());
  return pixels_of(levels_->bgr[static_cast<std::size_t>(level)]);
}

ShownPicture::Pixels ShownPicture::part(int level, int x, int y, int width, int height) const {
  const Pixels all = whole(level);
  POTSHADOW_CHECK(x >= 0 && y >= 0 && x < all.width_px && y < all.height_px);
  constexpr std::size_t kBytes = 3;
  const unsigned char* first = all.first + static_cast<std::size_t>(y) * all.bytes_per_row +
                               static_cast<std::size_t>(x) * kBytes;
  return {first, all.bytes_per_row, std::clamp(width, 0, all.width_px - x),
          std::clamp(height, 0, all.height_px - y)};
}

}  // namespace potshadow
