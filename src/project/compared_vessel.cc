// SPDX-License-Identifier: MIT
#include "project/compared_vessel.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/text.h"
#include "project/answer_text.h"
#include "project/one_line.h"
#include "project/report.h"

namespace potshadow {
namespace {

double doubt_of_reference(const Answer& answer) {
  const MeasuredSize* widest = find_size(answer, SizeName::kMaxDiameter);
  if (widest == nullptr || !(widest->measured.value > 0.0)) return 0.0;
  const double share = widest->budget[static_cast<std::size_t>(DoubtSource::kReferenceSize)];
  return std::sqrt(std::max(0.0, share)) * widest->measured.sd / widest->measured.value;
}

std::vector<std::string> objects_of(const Measurement& measurement) {
  std::vector<std::string> objects;
  for (const std::size_t index : measurement.photo_indices) {
    for (const ProjectReference& reference : measurement.project.photos[index].references) {
      if (!reference.object.empty()) objects.push_back(reference.object);
    }
  }
  std::sort(objects.begin(), objects.end());
  objects.erase(std::unique(objects.begin(), objects.end()), objects.end());
  return objects;
}

// Normal, and as wide as its interval: few bars make that wider than the standard deviation says.
Measured as_wide(const Measured& m) {
  return normal_measured(m.value, std::max(m.sd, (m.high95 - m.low95) / 2.0 / kNormal95));
}

double wide_sd(const LinearShrinkage& shrinkage) {
  return std::max(shrinkage.sd, shrinkage.half95 / kNormal95);
}

// All lengths of the fired pot are too small by a part of them where the shrinkage is too large.
SharedDoubt doubt_of_clay(const ComparedVessel& fired, const ProjectClayFigures& clay, Stage stage,
                          double part) {
  const LinearShrinkage& total = clay.total.linear();
  SharedDoubt doubt;
  doubt.source = "clay " + clay.name + " " + std::string(stage_key(stage)) + " " +
                 fixed_text(total.fraction, 9) + " " + fixed_text(total.sd, 9);
  for (const MeasuredSize& size : fired.sizes) {
    const double power = size.name == SizeName::kCapacity ? 3.0 : 1.0;
    doubt.sizes.at(static_cast<std::size_t>(size.name)) = -power * part * size.measured.value;
  }
  doubt.rows.resize(static_cast<Eigen::Index>(fired.form.rows.size()));
  for (std::size_t i = 0; i < fired.form.rows.size(); ++i) {
    const ProfilePoint& row = fired.form.rows[i];
    doubt.rows(static_cast<Eigen::Index>(i)) =
        -part * normal_of(fired.form.rows, i).dot(Eigen::Vector2d(row.radius_mm, row.height_mm));
  }
  return doubt;
}

}  // namespace

ComparedVessel compared_vessel(const Measurement& measurement, const std::string& file,
                               Stage stage) {
  const Answer& answer = measurement.answer;
  ComparedVessel out;
  out.title = on_one_line(title_of(measurement.project, file));
  out.file = file;
  out.stage = stage;
  out.scaled = answer.scale != ScaleSource::kNone && answer.rows_covariance.size() > 0;
  out.guessed = answer.scale == ScaleSource::kGuess;
  out.proportions = answer.proportions;
  out.kind = kind_words(answer.profile);
  out.clay = measurement.clay;
  if (out.scaled) {
    out.sizes = answer.sizes;
    out.form.covariance = answer.rows_covariance;
    for (const ProfileRow& row : answer.rows) {
      out.form.rows.push_back({row.radius_mm, row.height_mm});
    }
    out.objects = objects_of(measurement);
    out.reference_doubt = doubt_of_reference(answer);
  }
  for (const Note& note : answer.notes) {
    if (note.doubtful) out.notes.push_back(note);
  }
  return out;
}

const MeasuredSize* find_size(const ComparedVessel& vessel, SizeName name) {
  const auto found = std::find_if(vessel.sizes.begin(), vessel.sizes.end(),
                                  [&](const MeasuredSize& size) { return size.name == name; });
  return found == vessel.sizes.end() ? nullptr : &*found;
}

ComparedVessel when_fired(const ComparedVessel& vessel) {
  if (vessel.stage == Stage::kFired) return vessel;
  const BodyFigures& figures = vessel.clay->figures;
  ComparedVessel out = vessel;
  out.stage = Stage::kFired;
  for (MeasuredSize& size : out.sizes) {
    size.measured =
        as_wide(size.name == SizeName::kCapacity
                    ? volume_when_fired(size.measured, figures, vessel.stage)
                    : length_when_fired(size.measured, figures, vessel.stage, way_of(size.name)));
  }
  const LinearShrinkage across = to_fired(figures, vessel.stage, SizeWay::kAcross);
  const LinearShrinkage upright = to_fired(figures, vessel.stage, SizeWay::kUpright);
  out.form = enlarged(out.form, 1.0 - across.fraction, 1.0 - upright.fraction,
                      wide_sd(across) / (1.0 - across.fraction));
  // What was shared before goes on with the pot.
  for (SharedDoubt& shared : out.shared) {
    const double left = 1.0 - across.fraction;
    for (double& off : shared.sizes) off *= left;
    shared.rows *= left;
  }
  out.shared.push_back(
      doubt_of_clay(out, *vessel.clay, vessel.stage, wide_sd(across) / (1.0 - across.fraction)));
  return out;
}

double left_when_fired(const ComparedVessel& vessel) {
  if (vessel.stage == Stage::kFired) return 1.0;
  return 1.0 - to_fired(vessel.clay->figures, vessel.stage, SizeWay::kAcross).fraction;
}

}  // namespace potshadow
