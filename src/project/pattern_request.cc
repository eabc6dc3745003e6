// SPDX-License-Identifier: MIT
#include "project/pattern_request.h"

#include <algorithm>
#include <utility>

#include "clay/stages.h"
#include "core/printable.h"
#include "project/answer_text.h"
#include "project/report.h"

namespace potshadow {
namespace {

// Nearer than this part of the height to the rim, the widest place is the rim.
constexpr double kSamePlace = 0.01;

class Features {
 public:
  Features(const Answer& answer, const TotalShrinkage& shrinkage)
      : answer_(answer), shrinkage_(shrinkage) {}

  std::vector<PatternFeature> all() {
    const std::optional<Measured> height = size(SizeName::kHeight);
    if (!height) return {};
    const std::optional<Measured> foot = size(SizeName::kBaseDiameter);
    add(FeaturePlace::kFoot, foot ? "foot" : "base", Measured{}, foot);
    const std::optional<Measured> widest = size(SizeName::kHeightOfMax);
    const bool open = !widest || height->value - widest->value < kSamePlace * height->value;
    if (!open) {
      add(FeaturePlace::kWidest, "widest place", *widest, size(SizeName::kMaxDiameter));
    }
    if (const auto neck = size(SizeName::kHeightOfNeck)) {
      add(FeaturePlace::kNeck, "neck", *neck, size(SizeName::kNeckDiameter));
    }
    add(FeaturePlace::kRim, open ? "rim, widest" : "rim", *height, size(SizeName::kRimDiameter));
    std::stable_sort(features_.begin(), features_.end(),
                     [](const auto& a, const auto& b) { return a.height.value < b.height.value; });
    return std::move(features_);
  }

 private:
  std::optional<Measured> size(SizeName name) const {
    const MeasuredSize* found = find_size(answer_, name);
    if (found == nullptr) return std::nullopt;
    return shrinkage_.wet_length(found->measured, way_of(name));
  }
  void add(FeaturePlace place, std::string name, const Measured& height,
           const std::optional<Measured>& diameter) {
    features_.push_back({place, std::move(name), height, diameter});
  }

  const Answer& answer_;
  const TotalShrinkage& shrinkage_;
  std::vector<PatternFeature> features_;
};

std::vector<std::string> original_sizes(const Answer& answer, LengthUnit unit) {
  const std::string name(unit_name(unit));
  const auto line = [&](std::initializer_list<SizeName> sizes) {
    std::string words;
    for (const SizeName size : sizes) {
      const MeasuredSize* found = find_size(answer, size);
      if (found == nullptr) continue;
      const std::string what(size_words(size));
      words += (words.empty() ? what : ", " + lower_first(what)) + " " +
               length_text(found->measured, unit) + " " + name;
    }
    return words;
  };
  std::vector<std::string> lines{line({SizeName::kHeight, SizeName::kMaxDiameter}),
                                 line({SizeName::kRimDiameter, SizeName::kBaseDiameter})};
  std::erase(lines, "");
  return lines;
}

}  // namespace

Result<MadeSize> made_size(const ProjectClayFigures& clay, Stage stage) {
  LinearShrinkage from = to_fired(clay.figures, stage, SizeWay::kAcross);
  // TotalShrinkage counts from wet; the stage beside it says from which length it is meant here.
  from.from = Stage::kWet;
  const Result<TotalShrinkage> shrinkage =
      stage == Stage::kWet ? Result<TotalShrinkage>(clay.total) : TotalShrinkage::from_linear(from);
  if (!shrinkage) return shrinkage.problem();
  return MadeSize{stage, *shrinkage, clay.name};
}

Result<PatternVessel> pattern_vessel(const Measurement& measurement, const std::string& file,
                                     const MadeSize& made, LengthUnit unit) {
  const Answer& answer = measurement.answer;
  if (answer.scale == ScaleSource::kNone) {
    return Problem{Code::kCannotBeAnswered,
                   "How big the vessel is stays open, so nothing can be made at its true size.",
                   "Mark something whose size you know on a photograph, or give one size of the "
                   "vessel, be it a guess.",
                   ""};
  }
  const double own_wall = measurement.project.wall.value_mm * made.shrinkage.enlargement();
  const double wall = made.wall_mm.value_or(own_wall);
  PatternVessel vessel{.fired = answer.profile,
                       .band = {},
                       .shrinkage = made.shrinkage,
                       .wall = {wall, wall},
                       .features = Features(answer, made.shrinkage).all(),
                       .unit = unit};
  for (const ProfileRow& row : answer.rows) {
    vessel.band.push_back({row.height_mm, row.radius_mm, row.sd_mm});
  }
  const bool guessed = answer.scale == ScaleSource::kGuess;
  vessel.words = printable_text(title_of(measurement.project, file)) + " · " +
                 std::string(stage_words(made.stage)) + (guessed ? " · scale guessed" : "");
  vessel.original_sizes = original_sizes(answer, unit);
  return vessel;
}

std::string pattern_about(const Measurement& measurement, const std::string& file,
                          const MadeSize& made) {
  std::string about = title_of(measurement.project, file) + ", " +
                      std::string(stage_words(made.stage)) + " size, enlarged for " +
                      shrinkage_percents(made.shrinkage) + " shrinkage";
  if (!made.clay_name.empty()) about += " (" + made.clay_name + ")";
  about += ", scale 1:1, millimetres";
  const std::string guessed = guessed_scale_words(measurement, LengthUnit::kMm);
  if (!guessed.empty()) about += ". " + guessed;
  return about;
}

}  // namespace potshadow
