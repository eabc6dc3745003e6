// SPDX-License-Identifier: MIT
#include "desktop/session/bench_photo.h"

#include <chrono>
#include <stop_token>
#include <utility>

#include "project/project.h"

namespace potshadow {

void BenchPhoto::use(const std::filesystem::path& file, MakeProbe make_probe) {
  view_ = {};
  view_.file = file;
  view_.busy = Busy{"Measuring the pot's photograph", std::chrono::steady_clock::now()};
  measuring_.request(
      [file, make_probe = std::move(make_probe)](const std::stop_token&) -> Result<Measurement> {
        const Result<Project> project = load_project(file);
        if (!project) return project.problem();
        return measure_project(*project, file.parent_path(), make_probe(*project));
      });
}

void BenchPhoto::drop() {
  measuring_.cancel();
  view_ = {};
}

bool BenchPhoto::take() {
  std::optional<Result<Measurement>> done = measuring_.take();
  if (!done) return false;
  view_.busy.reset();
  if (done->ok()) {
    view_.measurement = std::make_shared<const Measurement>(std::move(*done).value());
  } else {
    view_.problem = done->problem();
  }
  return true;
}

}  // namespace potshadow
