// SPDX-License-Identifier: MIT
// One edge as a blurred step, fitted to the pixels around it.
#pragma once

#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>
#include <optional>

// Model: with t the distance across the edge, outward, from a parabola that follows its bend,
//   value = inner + step H(Phi(u)) + shade_in (t - place) Phi(-u) + shade_out (t - place) Phi(u),
//   u = (t - place) / blur,
// where Phi is the normal distribution and the shades are the light's slopes on both sides. Values
// are the pixels' colours along the direction in which the two sides differ. Every pixel is used as
// it is, none is interpolated, so that noise stays independent and the covariance of the least
// squares is the place's.
//
// Tone: a lens blurs light, but a picture holds light through the curve of IEC 61966-2-1, which
// makes a step lopsided: H(x) = x + warp x (1 - x), where the two sides' colours tell the warp.
// Only so much of it is applied as `light` says: 1 for a plain photograph, 0 where values are
// light. Failure: nothing where the sides do not differ, or no edge lies near.
namespace potshadow {

struct EdgeFit {
  double off_px = 0.0;   // of the edge from the place given, along `outward`
  double sd_px = 0.0;    // by noise alone
  double blur_px = 0.0;  // standard deviation
  double step = 0.0;     // along the direction of colour; > 0
  double misfit = 0.0;   // standard deviation of what is left, same unit
  double alike = 0.0;    // correlation of neighbouring pixels' misfits
  double warp = 0.0;     // of the whole tone curve, whatever part of it was applied
  double squares = 0.0;  // sum of the squared misfits
};

struct EdgeWindow {
  cv::Point2d at;
  cv::Point2d outward;         // unit length
  double bend_per_px = 0.0;    // second derivative of the edge's offset along the edge
  double half_along_px = 4.0;  // of the window
  double half_across_px = 7.0;
};

// Returns the edge, or nothing. `light` from 0 to 1; `noise` is the least deviation of a pixel's
// channel. Fast: some tens of microseconds.
std::optional<EdgeFit> fit_edge(const cv::Mat& bgr, const EdgeWindow& window, double light,
                                double noise);

}  // namespace potshadow
