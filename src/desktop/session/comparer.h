// SPDX-License-Identifier: MIT
// Holds the open project's pot against those in other files, in the background.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>

#include "core/result.h"
#include "desktop/session/compare_works.h"
#include "desktop/session/latest_job.h"

namespace potshadow {

struct ComparisonView {
  CompareWish wish{};
  std::shared_ptr<const ComparedWork> work{};  // the last good one; null before the first
  std::uint64_t revision = 0;                  // changes whenever `work` does
  bool current = false;                        // it is of the figures and the wish of now
  std::optional<Problem> problem{};            // why there is none of those
  std::optional<Busy> busy{};
  std::filesystem::path saved{};          // the file that was written last
  std::optional<Problem> save_problem{};  // why the last one was not
  std::optional<Busy> saving{};
};

class Comparer {
 public:
  explicit Comparer(const std::function<void()>& wake) : comparing_(wake), saving_(wake) {}

  // Compares, unless that is done or in work.
  void want(const CompareQuestion& question, CompareTools tools);
  // Writes a part of the present comparison; nothing happens without a current one.
  void save(const ComparisonFile& wanted, std::chrono::system_clock::time_point now);
  // Takes what is ready; returns whether anything was.
  bool take();
  // Forgets everything, as another project is opened.
  void forget();
  const ComparisonView& view() const { return view_; }

 private:
  ComparisonView view_;
  CompareQuestion asked_;
  LatestJob<Result<ComparedWork>> comparing_;
  LatestJob<Result<Done>> saving_;
  std::filesystem::path saving_to_;
};

}  // namespace potshadow
