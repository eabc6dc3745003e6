// SPDX-License-Identifier: MIT
#include "outline/lip_scan.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

namespace potshadow {
namespace {

// The ends, where the front runs into the outline, are left out, in radians.
constexpr double kEndsRad = 0.45;
constexpr int kSamples = 121;
constexpr int kScatter = 37;  // shares no factor with them
// Half widths that are tried, as parts of the outline's: a lip may stand out, or be hidden.
constexpr double kNarrower = 0.88;
constexpr double kWider = 1.10;
constexpr int kWidths = 45;
// Half heights that are tried, as parts of the half width: from nearly level to steeply from above.
constexpr double kFlattest = 0.05;
constexpr double kRoundest = 0.6;
constexpr double kHeightStepPx = 1.0;
// Colours are compared so far to both sides of an edge, and by so many grey levels a clear one
// differs.
constexpr double kBesidePx = 3.0;
constexpr double kBlurPx = 1.5;
constexpr double kTouchesPx = 2.0 * (kBesidePx + kBlurPx);  // so far apart two show one edge
constexpr double kClearLevels = 10.0;
// What a back that is so far off, in pixels, costs of the front's share.
constexpr double kOffCost = 0.02;
// Of the fronts about as clear, whose back fits about as well, the highest is a lip's, and what
// lies within so much of its half height below it may be the same lip's outer edge; bands lie
// lower. A back's place is off by so much by chance.
constexpr double kAboutAsClear = 0.9;
constexpr double kAboutAsGood = 9.0;
constexpr double kLipPart = 0.2;
constexpr double kBackSdPx = 0.5;
// Such a share of the front must show an edge.
constexpr double kLeastShown = 0.75;

// What differs across an edge at a place of the picture, in grey levels of the channels together.
class Contrast {
 public:
  Contrast(const cv::Mat& bgr, const cv::Rect2d& part)
      : part_(cv::Rect(part) & cv::Rect(0, 0, bgr.cols, bgr.rows)) {
    if (part_.area() > 0) cv::GaussianBlur(bgr(part_), smooth_, {}, kBlurPx);
  }

  double at(cv::Point2d place, cv::Point2d normal) const {
    const cv::Vec3b* in = colour(place - kBesidePx * normal);
    const cv::Vec3b* out = colour(place + kBesidePx * normal);
    if (in == nullptr || out == nullptr) return 0.0;
    return cv::norm(cv::Vec3d(*in) - cv::Vec3d(*out));
  }

 private:
  const cv::Vec3b* colour(cv::Point2d place) const {
    const cv::Point p(static_cast<int>(std::lround(place.x)) - part_.x,
                      static_cast<int>(std::lround(place.y)) - part_.y);
    if (p.x < 0 || p.y < 0 || p.x >= smooth_.cols || p.y >= smooth_.rows) return nullptr;
    return &smooth_.at<cv::Vec3b>(p);
  }

  cv::Rect part_;
  cv::Mat smooth_;
};

// Moves the ellipse along the axis to where its back fits the places best, and returns by how much
// they are off then, root mean square. None where it does not reach as wide as they do.
std::optional<double> seated(const std::vector<cv::Point2d>& back, Arc& arc) {
  std::vector<double> centres;
  centres.reserve(back.size());
  double mean = 0.0;
  for (const cv::Point2d& p : back) {
    const double across = (p.x - arc.u0) / arc.a;
    if (std::abs(across) >= 1.0) return std::nullopt;
    centres.push_back(p.y + arc.b * std::sqrt(1.0 - across * across));
    mean += centres.back() / static_cast<double>(back.size());
  }
  arc.v0 = mean;
  double squares = 0.0;
  for (const double centre : centres) squares += (centre - mean) * (centre - mean);
  return std::sqrt(squares / static_cast<double>(back.size()));
}

struct Front {
  Arc arc;
  double shown = 0.0;  // how much of it is a clear edge, 0 to 1
  double off = 0.0;    // of the back's places, root mean square
  double lowest() const { return arc.v0 + arc.b; }
  double score() const { return shown - kOffCost * off * off; }
};

// Finds out how much is shown, as long as it may be enough.
void look_along(const Contrast& contrast, const Axis& axis, Front& front) {
  const Arc& arc = front.arc;
  front.shown = 0.0;
  for (int i = 0; i < kSamples; ++i) {
    // Here and there at first, so that what shows little is soon known.
    const double part = static_cast<double>(i * kScatter % kSamples) / (kSamples - 1);
    const double angle = std::numbers::pi + kEndsRad + (std::numbers::pi - 2.0 * kEndsRad) * part;
    const cv::Point2d across(std::cos(angle) / arc.a, -std::sin(angle) / arc.b);
    const cv::Point2d normal = across.x * axis.right() + across.y * axis.down;
    const double levels = contrast.at(axis.from_axis(arc.place(angle)), normal / cv::norm(normal));
    front.shown += std::min(1.0, levels / kClearLevels) / kSamples;
    if (front.shown + static_cast<double>(kSamples - 1 - i) / kSamples < kLeastShown) return;
  }
}

// The fronts that show an edge, with a back where its places are.
std::vector<Front> shown_fronts(const Contrast& contrast, const Axis& axis,
                                const std::vector<cv::Point2d>& back, double narrowest,
                                double widest) {
  std::vector<Front> fronts;
  for (int w = 0; w < kWidths; ++w) {
    Front front;
    Arc& arc = front.arc;
    arc.a = narrowest + (widest - narrowest) * w / (kWidths - 1);
    for (arc.b = kFlattest * arc.a; arc.b < kRoundest * arc.a; arc.b += kHeightStepPx) {
      const auto off = seated(back, arc);
      if (!off) continue;
      front.off = *off;
      front.shown = 1.0;
      if (front.score() < kLeastShown) continue;
      look_along(contrast, axis, front);
      if (front.shown >= kLeastShown) fronts.push_back(front);
    }
  }
  return fronts;
}

// Of the fronts about as clear, whose back fits about as well, the lip's outer one.
std::optional<Arc> outer_front(std::vector<Front> fronts, std::size_t back_places) {
  if (fronts.empty()) return std::nullopt;
  const auto best =
      std::max_element(fronts.begin(), fronts.end(),
                       [](const auto& a, const auto& b) { return a.score() < b.score(); });
  double most_shown = 0.0;
  for (const Front& front : fronts) most_shown = std::max(most_shown, front.shown);
  const auto squares = [&](const Front& front) {
    return static_cast<double>(back_places) * std::pow(front.off / kBackSdPx, 2);
  };
  const double most_off = squares(*best) + kAboutAsGood;
  std::erase_if(fronts, [&](const Front& front) {
    return front.shown < kAboutAsClear * most_shown || squares(front) > most_off;
  });
  if (fronts.empty()) return std::nullopt;
  const auto lower = [](const Front& a, const Front& b) { return a.lowest() < b.lowest(); };
  const Front& first = *std::min_element(fronts.begin(), fronts.end(), lower);
  const double lip = first.lowest() + kTouchesPx + kLipPart * first.arc.b;
  std::erase_if(fronts, [&](const Front& front) { return front.lowest() > lip; });
  return std::max_element(fronts.begin(), fronts.end(), lower)->arc;
}

}  // namespace

std::optional<Arc> scanned_lip(const cv::Mat& bgr, const Axis& axis,
                               const std::vector<cv::Point2d>& back, HalfWidths widths) {
  double top = back.front().y;
  for (const cv::Point2d& p : back) top = std::min(top, p.y);
  const double narrowest = kNarrower * widths.narrow_px;
  const double widest = kWider * widths.wide_px;
  std::vector<cv::Point2f> corners;
  for (const double u : {-widest, widest}) {
    for (const double v : {top, top + 2.0 * kRoundest * widest}) {
      corners.emplace_back(axis.from_axis({u, v}));
    }
  }
  const Contrast contrast(bgr, cv::boundingRect(corners));
  return outer_front(shown_fronts(contrast, axis, back, narrowest, widest), back.size());
}

}  // namespace potshadow
