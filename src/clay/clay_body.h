// SPDX-License-Identifier: MIT
// A clay body as its potter wrote it down: what it is mixed of, and the bars made of it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "core/result.h"

// Model: nothing here is worked out; body_figures.h does that. Lengths in millimetres, weights in
// grams, heats in °C. A length or weight that was not taken is absent. A bar's lengths are those
// between its two marks. `kept` holds what a file said beyond this, as text, so that saving loses
// nothing.
namespace potshadow {

// Along which way of a pot a bar was cut; coils and slabs can shrink more one way than the other.
enum class BarWay { kEither, kVertical, kHorizontal };

struct TestBar {
  std::optional<double> wet_mm;
  std::optional<double> leather_mm;
  std::optional<double> dry_mm;
  std::optional<double> fired_mm;
  std::optional<double> wet_g;
  std::optional<double> dry_g;
  std::optional<double> fired_g;
  std::optional<double> firing_c;
  std::string cone;  // as "06"; firing_c goes before it
  BarWay way = BarWay::kEither;
  bool used = true;  // false: kept, but left out of every figure
  std::string date;  // "2026-11-25"
  std::string note;
  std::string kept{};
  friend bool operator==(const TestBar&, const TestBar&) = default;
};

enum class MixKind { kClay, kTemper };  // temper: grog, sand, grit, ground sherds

struct MixPart {
  std::string name;
  MixKind kind = MixKind::kClay;
  double dry_parts = 0.0;  // by weight of dry material, in any unit
  std::string record{};    // of a body in the same book, where it is one
  std::string kept{};
  friend bool operator==(const MixPart&, const MixPart&) = default;
};

// A figure from elsewhere, as a maker's: of the length at `from`.
struct StatedShrinkage {
  Stage from = Stage::kWet;
  Stage to = Stage::kFired;
  double percent = 0.0;
  double sd_percent = 0.5;  // common practice, no source
  std::string source{};
  std::string kept{};
  friend bool operator==(const StatedShrinkage&, const StatedShrinkage&) = default;
};

// What one finished pot shrank by, as a percentage of its length at `from`; pot_shrinkage.h says
// how it weighs.
struct PotRecord {
  std::string pot;  // its name
  Stage from = Stage::kWet;
  Stage to = Stage::kFired;
  double percent = 0.0;
  double sd_percent = 0.0;
  BarWay way = BarWay::kEither;    // kVertical: of its heights, kHorizontal: of its diameters
  std::optional<double> firing_c;  // how hot it was fired
  bool used = true;                // false: kept, but left out of every figure
  std::string date;
  std::string kept{};
  friend bool operator==(const PotRecord&, const PotRecord&) = default;
};

struct StatedValue {
  double value = 0.0;
  double sd = 0.0;
  friend bool operator==(const StatedValue&, const StatedValue&) = default;
};

struct ClayBody {
  std::string record;  // its short name, unlike every other's
  std::string name;
  std::string note;
  std::vector<MixPart> mix;
  std::vector<TestBar> bars;
  std::vector<PotRecord> pots;
  std::vector<StatedShrinkage> stated;
  std::optional<double> firing_c;            // how it is usually fired
  std::optional<StatedValue> water_percent;  // of plasticity, of the DRY weight
  std::optional<StatedValue> wet_density;    // g/cm3
  std::optional<StatedValue> fired_density;  // g/cm3, pores included
  double reading_sd_mm = 0.3;                // of one length; a ruler read to half a millimetre
  std::string kept{};
  friend bool operator==(const ClayBody&, const ClayBody&) = default;
};

// Returns the bar's length at a stage.
const std::optional<double>& length_at(const TestBar& bar, Stage stage);

// Returns how hot the bar was fired: in °C as written, else by its cone, else nothing.
std::optional<double> firing_of(const TestBar& bar);

// Returns Done, with doubtful notes on what should be looked at again (a bar that grew a little).
// Fails with kBadValue and says which bar: lengths or weights below 0, not finite or absurd;
// lengths that grow by more than 1 % or shrink by more than 30 %, as where two columns were
// exchanged; inches among millimetres; a cone, a mix or a stated figure that cannot be.
Result<Done> check_bar(const TestBar& bar, std::size_t number);
Result<Done> check_body(const ClayBody& body);

// Returns whether a text can be a record: letters, digits, "-", "_" and ".", at most 60 of them.
bool is_record(const std::string& text);

}  // namespace potshadow
