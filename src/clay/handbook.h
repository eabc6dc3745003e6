// SPDX-License-Identifier: MIT
// Published figures of clays: wide ranges for a body without bars, and a table of measured ones.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "clay/linear_shrinkage.h"

// A range is read as "anywhere within it": sd = half the range / sqrt(3), and the middle 95 % of it
// is the interval (JCGM 100:2008, 4.3.7). Whoever uses one says so.
namespace potshadow {

struct HandbookRange {
  double low = 0.0;
  double high = 0.0;
  std::string_view source;
};

// Percent of the wet length. Pottery texts name 5 to 8 % for made-up bodies; wild clays go higher.
inline constexpr HandbookRange kDryingPercent{
    4.0, 12.0,
    "pottery texts (5 to 8 %); Florida Geological Survey, 15th Annual Report (10.8 to 11.8 %)"};
// Percent of the DRY length, for low to high firing.
inline constexpr HandbookRange kFiringPercent{
    0.0, 8.0,
    "Florida Geological Survey, 15th Annual Report (0.1 to 2.4 % at 950 °C); a potter's 6 to 8 %, "
    "high-fired"};
// Percent of the wet length.
inline constexpr HandbookRange kTotalPercent{
    5.0, 15.0, "a pottery dictionary (most 5 to 10 %); a potter's 12 to 14 %, high-fired"};
// Which part of the total shrinkage has happened when the pot is bone-dry: all of it in a low-fired
// clay (Springside below), or a little more where it grows in the fire; about half in a high-fired
// one (6 % of 12.5 %).
inline constexpr HandbookRange kDryingPart{
    0.42, 1.02, "Florida Geological Survey, 15th Annual Report; a pottery text"};
// Which part of the drying shrinkage has happened when the pot is leather-hard. Common practice, no
// source: a bar measured leather-hard is far surer.
inline constexpr HandbookRange kLeatherPart{0.3, 0.9, "common practice, no source"};
// Water of plasticity, percent of the DRY weight: 19.5 to 22.5 % of the wet weight is 24 to 29 % of
// the dry; wild clays need up to 40 %.
inline constexpr HandbookRange kWaterPercent{
    22.0, 40.0, "a laboratory's procedure; Florida Geological Survey, 15th Annual Report"};
// Loss from bone-dry to fired, percent of the DRY weight: 9 % of the wet weight is 11 % of the dry
// in one potter's notes; little in a body with much grog.
inline constexpr HandbookRange kIgnitionPercent{4.0, 13.0, "a potter's notes (11 %)"};

// Returns the middle of a range, in its unit.
constexpr double middle_of(const HandbookRange& range) { return (range.low + range.high) / 2.0; }
// Returns the standard deviation, and half the 95 % interval, in its unit.
double sd_of(const HandbookRange& range);
double half95_of(const HandbookRange& range);

// Returns a range of percent as a shrinkage.
LinearShrinkage handbook_shrinkage(Stage from, Stage to, const HandbookRange& percent);

// A clay as it was measured and published; what is not printed there is absent.
struct PublishedClay {
  std::string_view name;
  double water_percent = 0.0;                   // of plasticity, of the dry weight
  double drying_percent = 0.0;                  // linear, of the wet length
  std::optional<double> drying_volume_percent;  // of the wet volume
  std::optional<double> firing_percent;         // linear, at 950 °C
};

// Source: Florida Geological Survey, 15th Annual Report, chapter on clay, about 1924.
inline constexpr std::array<PublishedClay, 4> kPublishedClays{
    {{"Springside", 25.1, 11.1, 28.57, 0.1},
     {"Dexland 6", 26.9, 10.8, 31.0, 0.8},
     {"Doctors Inlet", 32.25, 14.8, 36.6, std::nullopt},
     {"Lyle", 40.5, 11.79, std::nullopt, 2.39}}};

}  // namespace potshadow
