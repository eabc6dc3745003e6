// SPDX-License-Identifier: MIT
// What a project says of the new pot: its sizes on the bench at each stage, and its painted bands.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "estimate/size_name.h"
#include "project/kept_object.h"

namespace potshadow {

// A size of the pot as it was measured: millimetres, or millilitres of the capacity.
struct ProjectBenchSize {
  SizeName size = SizeName::kHeight;
  double value = 0.0;
  double sd = 0.0;
  KeptObject kept;
  friend bool operator==(const ProjectBenchSize&, const ProjectBenchSize&) = default;
};

// The pot at one stage.
struct ProjectBench {
  Stage stage = Stage::kWet;
  std::string date;  // "2026-11-25"
  std::vector<ProjectBenchSize> sizes;
  KeptObject kept;
  friend bool operator==(const ProjectBench&, const ProjectBench&) = default;
};

// A painted band of the original: see PaintedBand.
struct ProjectBand {
  std::string name;
  double height_mm = 0.0;
  std::optional<double> top_mm;  // of a strip
  int repeats = 0;
  KeptObject kept;
  friend bool operator==(const ProjectBand&, const ProjectBand&) = default;
};

}  // namespace potshadow
