// SPDX-License-Identifier: MIT
#include "outline/drawn_vessel.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <utility>

namespace potshadow::testing {
namespace {

double value_of(double light) {
  const double c = light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1.0 / 2.4) - 0.055;
  return 255.0 * c;
}

double from_ellipse(double x, double y, double centre_x, double centre_y, double a, double b) {
  const double u = (x - centre_x) / a;
  const double v = (y - centre_y) / b;
  const double out = std::hypot(u, v);
  if (out < 1e-9) return -std::min(a, b);
  return (out - 1.0) / std::hypot(u / a / out, v / b / out);
}

}  // namespace

Picture picture_of(cv::Mat bgr) {
  Picture picture;
  picture.facts.width_px = bgr.cols;
  picture.facts.height_px = bgr.rows;
  picture.bgr = std::move(bgr);
  return picture;
}

Picture drawn(const DrawnPicture& wanted) {
  constexpr int kFine = 8;
  cv::Mat light(wanted.height, wanted.width, CV_32FC3);
  for (int y = 0; y < wanted.height; ++y) {
    for (int x = 0; x < wanted.width; ++x) {
      double share = wanted.distance(x, y) < 0.0 ? 1.0 : 0.0;
      // A pixel's corners are 0.71 px from its middle.
      if (std::abs(wanted.distance(x, y)) < 1.0) {
        int inside = 0;
        for (int j = 0; j < kFine; ++j) {
          for (int i = 0; i < kFine; ++i) {
            const double px = x - 0.5 + (i + 0.5) / kFine;
            const double py = y - 0.5 + (j + 0.5) / kFine;
            if (wanted.distance(px, py) < 0.0) ++inside;
          }
        }
        share = static_cast<double>(inside) / (kFine * kFine);
      }
      const Ink in = wanted.vessel(x, y);
      const Ink out = wanted.surroundings(x, y);
      const auto mixed = [&](double a, double b) {
        return static_cast<float>(share * a + (1.0 - share) * b);
      };
      light.at<cv::Vec3f>(y, x) = {mixed(in.blue, out.blue), mixed(in.green, out.green),
                                   mixed(in.red, out.red)};
    }
  }
  if (wanted.blur_px > 0.0) cv::GaussianBlur(light, light, cv::Size(), wanted.blur_px);
  cv::Mat bgr(light.size(), CV_8UC3);
  cv::RNG random(wanted.seed);
  for (int y = 0; y < light.rows; ++y) {
    for (int x = 0; x < light.cols; ++x) {
      for (int c = 0; c < 3; ++c) {
        const double value = value_of(static_cast<double>(light.at<cv::Vec3f>(y, x)[c]));
        bgr.at<cv::Vec3b>(y, x)[c] =
            cv::saturate_cast<unsigned char>(value + random.gaussian(wanted.noise));
      }
    }
  }
  return picture_of(bgr);
}

double Jar::half_at(double y) const {
  constexpr double kBelly = 70.0;
  const double part = std::clamp((y - rim_y) / (foot_y - rim_y), 0.0, 1.0);
  return rim_half + part * (foot_half - rim_half) + kBelly * std::sin(std::numbers::pi * part);
}

double Jar::rim_distance(double x, double y) const {
  return from_ellipse(x, y, axis_x, rim_y, rim_half, ratio * rim_half);
}

double Jar::foot_distance(double x, double y) const {
  return from_ellipse(x, y, axis_x, foot_y, foot_half, ratio * foot_half);
}

double Jar::side_distance(double x, double y) const {
  constexpr double kStep = 0.01;
  const double slope = (half_at(y + kStep) - half_at(y - kStep)) / (2.0 * kStep);
  return (std::abs(x - axis_x) - half_at(y)) / std::hypot(1.0, slope);
}

double Jar::distance(double x, double y) const {
  const double ends = std::min(rim_distance(x, y), foot_distance(x, y));
  if (y < rim_y || y > foot_y) return ends;
  return std::min(ends, side_distance(x, y));
}

}  // namespace potshadow::testing
