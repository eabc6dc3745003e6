// SPDX-License-Identifier: MIT
// A photograph of the pot on the bench, marked in a project of its own, measured in the background.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>

#include "core/result.h"
#include "desktop/session/latest_job.h"
#include "desktop/session/tracer.h"
#include "project/measure.h"

namespace potshadow {

struct BenchPhotoView {
  std::filesystem::path file;                      // of its project; empty: none was chosen
  std::shared_ptr<const Measurement> measurement;  // null while it is measured, or with a problem
  std::optional<Problem> problem;
  std::optional<Busy> busy;
};

class BenchPhoto {
 public:
  // Makes the probe of its photographs; called on the worker.
  using MakeProbe = std::function<PhotoProbe(const Project&)>;

  explicit BenchPhoto(std::function<void()> wake) : measuring_(std::move(wake)) {}

  // Measures the project in the file as it is saved there; what was chosen before goes.
  void use(const std::filesystem::path& file, MakeProbe make_probe);
  void drop();
  // Takes the measurement that is ready; returns whether there was one.
  bool take();
  const BenchPhotoView& view() const { return view_; }

 private:
  BenchPhotoView view_;
  LatestJob<Result<Measurement>> measuring_;
};

}  // namespace potshadow
