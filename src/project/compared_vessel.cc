// SPDX-License-Identifier: MIT
#include "project/compared_vessel.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "clay/stages.h"
#include "core/text.h"
#include "estimate/proportion_kinds.h"
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

// What the clay shrinks by between two stages, counted on the earlier one.
LinearShrinkage between(const BodyFigures& figures, Stage one, Stage other, SizeWay way) {
  const Stage early = std::min(one, other);
  const Stage late = std::max(one, other);
  const LinearShrinkage whole = to_fired(figures, early, way);
  return late == Stage::kFired ? whole : rest_before(whole, to_fired(figures, late, way));
}

// A way from one stage to another: what lengths are multiplied by, and that factor's doubt as a
// part of it.
struct StageFactor {
  double factor = 1.0;
  double doubt = 0.0;
};

StageFactor stage_factor(const ComparedVessel& vessel, Stage stage, SizeWay way) {
  const LinearShrinkage s = between(vessel.clay->figures, vessel.stage, stage, way);
  const double left = 1.0 - s.fraction;
  return {vessel.stage < stage ? left : 1.0 / left, wide_sd(s) / left};
}

// `one_way`: the same bars tell both factors, so that their doubts add up.
Measured enlarged_size(const MeasuredSize& size, const StageFactor& across,
                       const StageFactor& upright, bool one_way) {
  const bool volume = size.name == SizeName::kCapacity;
  const bool is_across = volume || way_of(size.name) == SizeWay::kAcross;
  const StageFactor& one = is_across ? across : upright;
  const double factor = volume ? across.factor * across.factor * upright.factor : one.factor;
  double doubt = one.doubt;
  if (volume) doubt = one_way ? 3.0 * across.doubt : std::hypot(2.0 * across.doubt, upright.doubt);
  const Measured now = as_wide(size.measured);
  const double value = factor * now.value;
  return normal_measured(value, std::hypot(factor * now.sd, value * doubt));
}

// Heights and widths that shrink each their way change what one is of the other.
void turn_proportions(const StageFactor& across, const StageFactor& upright,
                      std::vector<Proportion>& proportions) {
  const auto is_across = [](SizeName name) { return way_of(name) == SizeWay::kAcross; };
  for (Proportion& proportion : proportions) {
    const auto kind =
        std::find_if(kProportionKinds.begin(), kProportionKinds.end(),
                     [&](const ProportionKind& one) { return one.key == proportion.key; });
    if (kind == kProportionKinds.end() || is_across(kind->above) == is_across(kind->below))
      continue;
    const double factor =
        is_across(kind->above) ? across.factor / upright.factor : upright.factor / across.factor;
    const double value = factor * proportion.measured.value;
    proportion.measured =
        normal_measured(value, std::hypot(factor * proportion.measured.sd,
                                          value * std::hypot(across.doubt, upright.doubt)));
  }
}

// Later lengths come out too small where the shrinkage is too large, and earlier ones too large.
SharedDoubt doubt_of_clay(const ComparedVessel& moved, const ComparedVessel& before, double part) {
  const ProjectClayFigures& clay = *before.clay;
  const LinearShrinkage& total = clay.total.linear();
  const double sign = before.stage < moved.stage ? -1.0 : 1.0;
  SharedDoubt doubt;
  doubt.source = "clay " + clay.name + " " + std::string(stage_key(before.stage)) + " " +
                 std::string(stage_key(moved.stage)) + " " + fixed_text(total.fraction, 9) + " " +
                 fixed_text(total.sd, 9);
  for (const MeasuredSize& size : moved.sizes) {
    const double power = size.name == SizeName::kCapacity ? 3.0 : 1.0;
    doubt.sizes.at(static_cast<std::size_t>(size.name)) = sign * power * part * size.measured.value;
  }
  doubt.rows.resize(static_cast<Eigen::Index>(moved.form.rows.size()));
  for (std::size_t i = 0; i < moved.form.rows.size(); ++i) {
    const ProfilePoint& row = moved.form.rows[i];
    doubt.rows(static_cast<Eigen::Index>(i)) =
        sign * part *
        normal_of(moved.form.rows, i).dot(Eigen::Vector2d(row.radius_mm, row.height_mm));
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
  out.wall_mm = measurement.project.wall.value_mm;
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

std::vector<ComparedVessel> bench_vessels(const std::vector<ProjectBench>& benches,
                                          const std::optional<ProjectClayFigures>& clay,
                                          const std::string& title) {
  std::vector<ComparedVessel> out;
  for (const ProjectBench& bench : benches) {
    ComparedVessel vessel;
    vessel.title = title;
    vessel.file = "on the bench";  // no file, and unlike every other pot's
    vessel.stage = bench.stage;
    vessel.clay = clay;
    for (const ProjectBenchSize& size : bench.sizes) {
      MeasuredSize measured;
      measured.name = size.size;
      measured.measured = normal_measured(size.value, size.sd);
      vessel.sizes.push_back(measured);
    }
    add_proportions(vessel);
    out.push_back(std::move(vessel));
  }
  return out;
}

void add_proportions(ComparedVessel& vessel) {
  for (const ProportionKind& ratio : kProportionKinds) {
    const MeasuredSize* const above = find_size(vessel, ratio.above);
    const MeasuredSize* const below = find_size(vessel, ratio.below);
    if (above == nullptr || below == nullptr) continue;
    const double value = above->measured.value / below->measured.value;
    const double sd = value * std::hypot(above->measured.sd / above->measured.value,
                                         below->measured.sd / below->measured.value);
    vessel.proportions.push_back({ratio.key, ratio.words, normal_measured(value, sd)});
  }
}

const MeasuredSize* find_size(const ComparedVessel& vessel, SizeName name) {
  const auto found = std::find_if(vessel.sizes.begin(), vessel.sizes.end(),
                                  [&](const MeasuredSize& size) { return size.name == name; });
  return found == vessel.sizes.end() ? nullptr : &*found;
}

ComparedVessel at_stage(const ComparedVessel& vessel, Stage stage) {
  if (vessel.stage == stage) return vessel;
  const StageFactor across = stage_factor(vessel, stage, SizeWay::kAcross);
  const StageFactor upright = stage_factor(vessel, stage, SizeWay::kUpright);
  ComparedVessel out = vessel;
  out.stage = stage;
  const bool one_way = !has_ways(vessel.clay->figures, std::min(vessel.stage, stage));
  for (MeasuredSize& size : out.sizes) {
    size.measured = enlarged_size(size, across, upright, one_way);
  }
  if (!one_way) turn_proportions(across, upright, out.proportions);
  out.form = enlarged(out.form, across.factor, upright.factor, across.doubt);
  if (out.wall_mm) *out.wall_mm *= across.factor;
  // What was shared before goes on with the pot.
  for (SharedDoubt& shared : out.shared) {
    for (double& off : shared.sizes) off *= across.factor;
    shared.rows *= across.factor;
  }
  out.shared.push_back(doubt_of_clay(out, vessel, across.doubt));
  return out;
}

double factor_to(const ComparedVessel& vessel, Stage stage) {
  return vessel.stage == stage ? 1.0 : stage_factor(vessel, stage, SizeWay::kAcross).factor;
}

std::optional<LinearShrinkage> shrinkage_to(const ComparedVessel& vessel, Stage stage) {
  if (vessel.stage == stage) return std::nullopt;
  return between(vessel.clay->figures, vessel.stage, stage, SizeWay::kAcross);
}

}  // namespace potshadow
