// SPDX-License-Identifier: MIT
// What all trials together say: coverage, errors against the bound, failures.
#pragma once

#include <string>
#include <vector>

#include "study/trial.h"

namespace potshadow::study {

// How often something came true, with the 95 % bounds of its probability (Wilson's score interval:
// Wilson, J. American Statistical Association 22, 1927).
struct Share {
  std::size_t hits = 0;
  std::size_t of = 0;
  double part() const;
  double low() const;
  double high() const;
};

// Errors of one size in a group of trials.
struct SizeFigures {
  SizeName name = SizeName::kHeight;
  Share covered;
  double bias_percent = 0.0;
  double rms_percent = 0.0;      // plain
  double robust_percent = 0.0;   // 1.4826 times the median of the absolute error
  double width_percent = 0.0;    // median half-width of the 95 % interval
  std::size_t with_bound = 0;    // trials that have a bound
  double to_bound = 0.0;         // root of the mean of (error / bound)^2
  double to_bound_robust = 0.0;  // 1.4826 times the median of |error / bound|
  double error_to_sd = 0.0;      // root of the mean of (error / stated sd)^2
  std::size_t not_given = 0;     // the vessel has the size, the answer does not
  std::size_t made_up = 0;       // the answer has it, the vessel does not
};

struct Group {
  std::string kind;   // "all" for all
  std::string place;  // empty for all of the kind
  std::size_t scenes = 0;
  std::size_t failures = 0;
  std::vector<SizeFigures> sizes;  // all eight
};

struct Figures {
  Group all;
  std::vector<Group> groups;      // kinds and places, in the order they come
  std::vector<Group> conditions;  // parts of all by other properties; `kind` says which
  std::vector<std::pair<std::string, std::size_t>> reasons;  // of failures, most frequent first
  std::vector<double> promised_to_got;  // sd after following an advice over the promised one
};

// Failures of input that only a guess or nothing scales count like any other.
Figures figures_of(const std::vector<Trial>& trials);

// Whether the figures are what they must be at this number of scenes: a size's coverage not below
// 95 % by more than four standard deviations of a binomial, and not more than `most_failures` of
// all scenes without an answer. Returns what is wrong, in words; empty where all is well.
inline constexpr double kMostFailures = 0.04;
std::vector<std::string> shortcomings(const Figures& figures);

}  // namespace potshadow::study
