// SPDX-License-Identifier: MIT
#include "desktop/words/sample.h"

#include <array>
#include <filesystem>

namespace potshadow {
namespace {

const std::filesystem::path kSamples = POTSHADOW_SOURCE_DIR "/samples";

// Shares of a size's doubt, in the order of DoubtSource; they add up to 1.
using Budget = std::array<double, kDoubtCount>;

struct MadeUpSize {
  SizeName name;
  double value;
  double half_width;  // of the 95 % interval
  Budget budget;
};

constexpr Budget kOfPlace{0.36, 0.15, 0.43, 0.02, 0.02, 0.02, 0.0, 0.0, 0.0};
constexpr Budget kOfRoundness{0.26, 0.02, 0.10, 0.01, 0.01, 0.01, 0.59, 0.0, 0.0};
constexpr Budget kOfMarks{0.92, 0.01, 0.02, 0.02, 0.02, 0.01, 0.0, 0.0, 0.0};
constexpr Budget kOfWall{0.13, 0.03, 0.09, 0.01, 0.01, 0.0, 0.25, 0.48, 0.0};
constexpr std::array<MadeUpSize, kSizeCount> kSizes{{
    {SizeName::kHeight, 235.1, 2.8, kOfPlace},
    {SizeName::kMaxDiameter, 238.0, 5.8, kOfRoundness},
    {SizeName::kHeightOfMax, 105.4, 4.8, kOfMarks},
    {SizeName::kNeckDiameter, 116.6, 2.8, kOfRoundness},
    {SizeName::kHeightOfNeck, 198.7, 4.2, kOfMarks},
    {SizeName::kRimDiameter, 161.9, 3.9, kOfRoundness},
    {SizeName::kBaseDiameter, 103.3, 9.4, kOfMarks},
    {SizeName::kCapacity, 5420.0, 430.0, kOfWall},
}};

}  // namespace

Document sample_document() {
  return document_of(load_project(kSamples / "shelf-jar.potshadow").value(), kSamples);
}

Measurement sample_measurement() { return measure_project(sample_document(), kSamples).value(); }

Measurement made_up_measurement() {
  Measurement measurement = sample_measurement();
  Answer& answer = measurement.answer;
  answer.sizes.clear();
  for (const MadeUpSize& made : kSizes) {
    MeasuredSize size;
    size.name = made.name;
    size.measured = normal_measured(made.value, made.half_width / kNormal95);
    size.budget = made.budget;
    answer.sizes.push_back(size);
  }
  const auto ratio = [](double value, double half_width) {
    return normal_measured(value, half_width / kNormal95);
  };
  answer.proportions = {
      {"height_to_max_diameter", "Height to maximum diameter", ratio(0.988, 0.023)},
      {"height_of_max_to_height", "Height of the maximum to height", ratio(0.448, 0.019)},
      {"neck_to_max_diameter", "Neck to maximum diameter", ratio(0.490, 0.004)},
      {"rim_to_max_diameter", "Rim to maximum diameter", ratio(0.680, 0.019)},
      {"base_to_max_diameter", "Base to maximum diameter", ratio(0.434, 0.036)}};
  answer.advice.clear();
  answer.notes.clear();
  for (PhotoAnswer& photo : answer.photos) photo.overlay.whiskers.clear();
  return measurement;
}

PhotoFacts sample_facts() { return probe_photo(kSamples / "shelf-jar.jpg").value(); }

}  // namespace potshadow
