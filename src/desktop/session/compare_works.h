// SPDX-License-Identifier: MIT
// What comparing takes and makes, as the workers do it.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/result.h"
#include "desktop/session/compare_wish.h"
#include "desktop/session/facts_cache.h"
#include "desktop/session/tracer.h"
#include "project/compare_report.h"
#include "project/compare_series.h"
#include "project/compare_side.h"
#include "sheets/paper.h"
#include "unroll/compared_photos.h"

namespace potshadow {

// Both photographs, ready to be shown and to be put on paper.
struct ComparedPhotos {
  ComparedPhoto original;
  ComparedPhoto replica;
  PhotoLayers layers;
  OutlinedPhoto original_outlined;
  OutlinedPhoto replica_outlined;
};

// Two pots, or a series.
struct ComparedWork {
  std::optional<VesselComparison> comparison{};
  std::optional<Profile> original_profile{};  // at the common stage; none where it is not known
  std::optional<Profile> replica_profile{};
  std::shared_ptr<const ComparedPhotos> photos{};  // null where one is missing
  std::optional<Problem> photos_problem{};         // why it is
  std::optional<PotSeries> series{};
  PatternPixels drawing{};                      // all of a series in small; empty where none
  std::vector<std::filesystem::path> inputs{};  // files that it came from: not to write over
};

// What is to be written where, and how.
struct ComparisonFile {
  ComparisonPart part = ComparisonPart::kSheet;
  std::filesystem::path file;
  Paper paper = Paper::kA4;
  LengthUnit unit = LengthUnit::kMm;
  PhotoOver over{};  // of the picture
};

// What a comparison depends on.
struct CompareQuestion {
  CompareWish wish{};
  std::shared_ptr<const Measurement> measurement{};  // of the open project; null: no figures
  std::string title{};
  std::filesystem::path file{};       // of the open project; empty: never saved
  std::uint64_t book = 0;             // revision of the book of clays
  std::vector<ProjectBench> bench{};  // sizes that the open project keeps
  std::vector<std::optional<FactsCache::Stamp>> others{};  // of the other files as they are now
  friend bool operator==(const CompareQuestion&, const CompareQuestion&) = default;
};

// What comparing takes beside the question. All is used on the worker, and `cache` must outlive it.
struct CompareTools {
  Result<ClayBook> clays;
  UserFolders folders;  // of the book of cameras
  ProbeMaker make_probe;
  FactsCache& cache;
};

// Returns the comparison. Requires figures and another pot. Fails as read_compare_sides,
// compare_sides and pot_series do. Slow: a second or so where there are photographs.
Result<ComparedWork> compared_work(const CompareQuestion& question, const CompareTools& tools,
                                   const std::stop_token& stop);

// Returns the bytes of a part. Fails where there is no such part, and as whoever makes it.
Result<std::string> comparison_bytes(const ComparedWork& work, const ComparisonFile& wanted,
                                     std::chrono::system_clock::time_point now);

}  // namespace potshadow
