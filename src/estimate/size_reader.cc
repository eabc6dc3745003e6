// SPDX-License-Identifier: MIT
#include "estimate/size_reader.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "estimate/known_size.h"
#include "estimate/matching.h"

namespace potshadow::internal {

SizeReader::SizeReader(const Task& task, const State& state, const Profile& profile,
                       const Posterior& posterior)
    : task_(task), profile_(profile), posterior_(posterior), sizes_(sizes_of(profile)) {
  if (sizes_.neck) {
    neck_seen_ = outline_seen_at(state, sizes_.neck->s);
    if (!neck_seen_) notch_ml_ = notch_ml(unmarked_about(state, sizes_.neck->s));
  }
  base_mm_ = state.vessel.controls[1];
}

std::optional<SizeReading> SizeReader::read(SizeName name) const {
  switch (name) {
    case SizeName::kHeight:
      return height_at(sizes_.top.s);
    case SizeName::kMaxDiameter:
      return diameter_at(sizes_.widest.s);
    case SizeName::kHeightOfMax:
      return height_of_turn(sizes_.widest.s);
    case SizeName::kNeckDiameter:
      if (!neck_seen_) return {};
      return diameter_at(sizes_.neck->s);
    case SizeName::kHeightOfNeck:
      if (!neck_seen_) return {};
      return height_of_turn(sizes_.neck->s);
    case SizeName::kRimDiameter:
      return diameter_at(1.0);
    case SizeName::kBaseDiameter:
      if (task_.input->round_base) return {};
      return diameter_at(0.0);
    case SizeName::kCapacity:
      return capacity();
  }
  return {};
}

bool SizeReader::outline_seen_at(const State& state, double s) const {
  constexpr double kReach = 0.025;  // of the profile's length
  for (std::size_t v = 0; v < task_.views.size(); ++v) {
    const ViewTask& view = task_.views[v];
    const Sight sight = vessel_sight(view.setting, state.views[v]);
    if (!outline_seen(sight, state.vessel, s)) continue;
    bool below = false;
    bool above = false;
    for (const Match& match : match_marks(sight, state.vessel, view.marks)) {
      if (!match.on_outline()) continue;
      below = below || (match.s <= s && match.s > s - kReach);
      above = above || (match.s >= s && match.s < s + kReach);
    }
    if (below && above) return true;
  }
  return false;
}

SizeReading SizeReader::at(double s, std::size_t coordinate, double factor) const {
  SizeReading q{0.0, posterior_.zero()};
  for (const SizeTerm& term : size_terms({s, coordinate, factor}, profile_.controls().size())) {
    const ProfilePoint& c = profile_.controls()[term.index / 2];
    q.value += term.amount * (coordinate == 0 ? c.radius_mm : c.height_mm);
    posterior_.add_control(q.gradient, term.index, term.amount);
  }
  return q;
}

SizeReading SizeReader::height_at(double s) const {
  SizeReading q = at(s, 1, 1.0);
  q.value -= base_mm_;
  posterior_.add_control(q.gradient, 1, -1.0);
  return q;
}

SizeReading SizeReader::height_of_turn(double s) const {
  SizeReading q = height_at(s);
  if (s < 1e-6 || s > 1.0 - 1e-6) return q;  // at an end the place is fixed
  const ProfileBasis basis = profile_basis(s, profile_.controls().size());
  double bend = 0.0;
  double rise = 0.0;
  for (std::size_t j = 0; j < 4; ++j) {
    bend += basis.curvature[j] * profile_.controls()[basis.first + j].radius_mm;
    rise += basis.slope[j] * profile_.controls()[basis.first + j].height_mm;
  }
  if (bend == 0.0) return q;
  for (std::size_t j = 0; j < 4; ++j) {
    posterior_.add_control(q.gradient, 2 * (basis.first + j), -rise / bend * basis.slope[j]);
  }
  return q;
}

SizeReading SizeReader::capacity() const {
  constexpr int kSlices = 120;
  const double wall = task_.input->wall_mm;
  SizeReading q{capacity_ml(profile_, Mm{wall}, kSlices), posterior_.zero()};
  const double step = 1e-3 * sizes_.max_diameter_mm;
  std::vector<ProfilePoint> moved = profile_.controls();
  for (std::size_t i = 0; i < 2 * moved.size(); ++i) {
    if (posterior_.linear().control_column[i] < 0) continue;
    double& coordinate = i % 2 == 0 ? moved[i / 2].radius_mm : moved[i / 2].height_mm;
    const double kept = coordinate;
    coordinate = kept + step;
    if (const auto profile = Profile::from_controls(moved)) {
      posterior_.add_control(q.gradient, i,
                             (capacity_ml(*profile, Mm{wall}, kSlices) - q.value) / step);
    }
    coordinate = kept;
  }
  const double wall_sd = task_.input->wall_sd_mm;
  if (wall_sd > 0.0) {
    const double thin = capacity_ml(profile_, Mm{std::max(0.0, wall - wall_sd)}, kSlices);
    const double thick = capacity_ml(profile_, Mm{wall + wall_sd}, kSlices);
    q.wall_variance = std::pow((thin - thick) / 2.0, 2);
  }
  q.hidden_variance = notch_ml_ * notch_ml_ / 3.0;  // mean square of what is between 0 and that
  return q;
}

std::pair<double, double> SizeReader::unmarked_about(const State& state, double s) const {
  std::pair<double, double> ends{0.0, 1.0};
  for (std::size_t v = 0; v < task_.views.size(); ++v) {
    const ViewTask& view = task_.views[v];
    const Sight sight = vessel_sight(view.setting, state.views[v]);
    for (const Match& match : match_marks(sight, state.vessel, view.marks)) {
      if (match.s <= s) ends.first = std::max(ends.first, match.s);
      if (match.s >= s) ends.second = std::min(ends.second, match.s);
    }
  }
  return ends;
}

double SizeReader::notch_ml(std::pair<double, double> ends) const {
  const ProfilePoint low = profile_.at(ends.first);
  const ProfilePoint high = profile_.at(ends.second);
  const double chord = std::hypot(high.radius_mm - low.radius_mm, high.height_mm - low.height_mm);
  const double wall = task_.input->wall_mm;
  const double radius = sizes_.neck->radius_mm - wall;
  const double depth = std::min(chord, radius);
  const double wave = std::hypot(chord, std::numbers::pi * depth);
  const double along =
      2.0 / std::numbers::pi * wave * std::comp_ellint_2(std::numbers::pi * depth / wave);
  // The integral of pi (r^2 - (r - d sin x)^2) over the half wave, and by Pappus the wall's.
  const double outside = chord * depth * (4.0 * radius - std::numbers::pi / 2.0 * depth);
  const double inside = 2.0 * std::numbers::pi * (radius - depth / 2.0) * wall * (along - chord);
  constexpr double kMlPerMm3 = 1e-3;
  return kMlPerMm3 * (outside + inside);
}

bool left_open(const Task& task, SizeName name, const Sizes& sizes) {
  const std::optional<HiddenPart>& foot = task.input->hidden_foot;
  const std::optional<HiddenPart>& rim = task.input->hidden_rim;
  const bool rim_open = rim && !(rim->low_mm && rim->high_mm);
  switch (name) {
    case SizeName::kHeight:
      return rim_open;
    case SizeName::kRimDiameter:
      return rim.has_value();
    case SizeName::kBaseDiameter:
      return foot.has_value();
    case SizeName::kCapacity:
      return foot.has_value() || rim.has_value();
    case SizeName::kMaxDiameter:
    case SizeName::kHeightOfMax:
      return rim && sizes.widest.s > 0.98;  // the wall still widens where it is last seen
    case SizeName::kNeckDiameter:
    case SizeName::kHeightOfNeck:
      return false;
  }
  return false;
}

}  // namespace potshadow::internal
