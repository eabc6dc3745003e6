// SPDX-License-Identifier: MIT
// Common objects of known size that can serve as a reference: cards, paper, coins, tiles, scales.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"

// The table is assets/references.json, built into the program. Sizes in millimetres. Each entry
// names the standard or published source of its size and tolerance, or says that it is common
// practice without a source. A tolerance is turned into a standard uncertainty as a rectangle of
// half-width t: t / sqrt(3) (JCGM 100:2008, 4.3.7).
namespace potshadow {

enum class ReferenceShape { kRectangle, kDisc };

struct CommonObject {
  std::string key;    // "iso-id1-card"
  std::string name;   // "Bank or identity card"
  std::string group;  // "Cards", "Paper", "Coins", "Tiles and bricks", "Photo scales"
  ReferenceShape shape = ReferenceShape::kRectangle;
  double width_mm = 0.0;   // the diameter of a disc
  double height_mm = 0.0;  // 0 for a disc
  double tolerance_mm = 0.0;
  std::string source;  // "ISO/IEC 7810:2019, ID-1"
  std::string remark;  // what to look out for, one sentence; may be empty
  friend bool operator==(const CommonObject&, const CommonObject&) = default;
};

// Returns the table in the text of a file. Fails with kBadFormat or kBadValue, naming the entry.
Result<std::vector<CommonObject>> parse_reference_table(std::string_view text,
                                                        std::string_view file_name);

// Returns the table that is built in.
const std::vector<CommonObject>& common_objects();

// Returns the entry with that key, or null.
const CommonObject* find_object(const std::vector<CommonObject>& table, std::string_view key);

// Returns the standard uncertainty of the object's size.
double size_sd_mm(const CommonObject& object);

}  // namespace potshadow
