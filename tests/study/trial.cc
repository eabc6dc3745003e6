// SPDX-License-Identifier: MIT
#include "study/trial.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "estimate/estimate.h"

namespace potshadow::study {
namespace {

// Draws of what follows an advice stand apart from those of the scene.
constexpr std::uint64_t kAdviceDraws = 0x8000000000000000ULL;

void improve(Dice& dice, double sd, double& told_sd, double& told, double exact) {
  told_sd = sd;
  told = exact + dice.normal(sd);
}

bool improve_flat(Dice& dice, const Advice& advice, FlatReference& told,
                  const FlatReference& exact) {
  if (told.number != advice.reference) return false;
  if (told.place == Place::kBeside) {
    improve(dice, advice.source_sd, told.depth_offset_sd_mm, told.depth_offset_mm,
            exact.depth_offset_mm);
  } else if (told.place == Place::kOnGlass && told.glass_to_axis_mm > 0.0) {
    improve(dice, advice.source_sd, told.glass_to_axis_sd_mm, told.glass_to_axis_mm,
            exact.glass_to_axis_mm);
  } else {
    improve(dice, advice.source_sd, told.riser_sd_mm, told.riser_mm, exact.riser_mm);
  }
  return true;
}

// Steps through the same references of two photographs; true once `act` has found its own.
template <class List, class Do>
bool any_pair(List& told, const List& exact, const Do& act) {
  for (std::size_t i = 0; i < told.size(); ++i) {
    if (act(told[i], exact[i])) return true;
  }
  return false;
}

bool improve_place(Dice& dice, const Advice& advice, PhotoInput& told, const PhotoInput& exact) {
  const auto flat = [&](auto& a, const auto& b) { return improve_flat(dice, advice, a, b); };
  return any_pair(told.references, exact.references, flat) ||
         any_pair(told.discs, exact.discs, flat) || any_pair(told.lengths, exact.lengths, flat) ||
         any_pair(told.grids, exact.grids, flat) ||
         any_pair(told.neighbours, exact.neighbours,
                  [&](NeighbourReference& a, const NeighbourReference& b) {
                    if (a.number != advice.reference) return false;
                    improve(dice, advice.source_sd, a.riser_sd_mm, a.riser_mm, b.riser_mm);
                    return true;
                  }) ||
         any_pair(told.distances, exact.distances, [&](KnownDistance& a, const KnownDistance& b) {
           if (a.number != advice.reference) return false;
           improve(dice, advice.source_sd, a.sd_mm, a.value_mm, b.value_mm);
           return true;
         });
}

bool improve_size(Dice& dice, const Advice& advice, PhotoInput& told, const PhotoInput& exact) {
  const double sd = advice.source_sd;
  const auto mine = [&](const auto& r) { return r.number == advice.reference; };
  return any_pair(told.references, exact.references,
                  [&](RectangleReference& a, const RectangleReference& b) {
                    if (!mine(a)) return false;
                    improve(dice, sd, a.size_sd_mm, a.width_mm, b.width_mm);
                    improve(dice, sd, a.size_sd_mm, a.height_mm, b.height_mm);
                    return true;
                  }) ||
         any_pair(told.discs, exact.discs,
                  [&](DiscReference& a, const DiscReference& b) {
                    if (!mine(a)) return false;
                    improve(dice, sd, a.size_sd_mm, a.diameter_mm, b.diameter_mm);
                    return true;
                  }) ||
         any_pair(told.lengths, exact.lengths,
                  [&](LengthReference& a, const LengthReference& b) {
                    if (!mine(a)) return false;
                    improve(dice, sd, a.size_sd_mm, a.length_mm, b.length_mm);
                    return true;
                  }) ||
         any_pair(told.grids, exact.grids,
                  [&](GridReference& a, const GridReference& b) {
                    if (!mine(a)) return false;
                    improve(dice, sd, a.size_sd_mm, a.pitch_mm, b.pitch_mm);
                    return true;
                  }) ||
         any_pair(told.neighbours, exact.neighbours,
                  [&](NeighbourReference& a, const NeighbourReference& b) {
                    if (!mine(a)) return false;
                    improve(dice, sd, a.sd_mm, a.value_mm, b.value_mm);
                    return true;
                  }) ||
         any_pair(told.sizes, exact.sizes, [&](KnownSize& a, const KnownSize& b) {
           if (!mine(a)) return false;
           improve(dice, sd, a.sd_mm, a.value_mm, b.value_mm);
           return true;
         });
}

}  // namespace

std::optional<EstimateInput> following(const Scene& scene, const Advice& advice) {
  Dice dice(scene.seed, scene.number | kAdviceDraws);
  EstimateInput input = scene.told;
  bool done = false;
  for (std::size_t i = 0; i < input.photos.size(); ++i) {
    PhotoInput& told = input.photos[i];
    const PhotoInput& exact = scene.exact.photos[i];
    switch (advice.source) {
      case DoubtSource::kReferenceSize:
        done = done || improve_size(dice, advice, told, exact);
        break;
      case DoubtSource::kReferencePlace:
        done = done || improve_place(dice, advice, told, exact);
        break;
      case DoubtSource::kFocalLength:
        told.focal = FocalPrior{exact.focal->focal_35mm, advice.source_sd};
        told.focal->focal_35mm *= std::exp(dice.normal(advice.source_sd / 100.0));
        done = true;
        break;
      case DoubtSource::kLens:
        improve(dice, advice.source_sd, told.lens.k1_sd, told.lens.k1, exact.lens.k1);
        done = true;
        break;
      case DoubtSource::kGlass:
        if (!told.glass) break;
        improve(dice, advice.source_sd, told.glass->thickness_sd_mm, told.glass->thickness_mm,
                exact.glass->thickness_mm);
        done = true;
        break;
      case DoubtSource::kMarks: {
        // The same marks without noise, then with the lesser one.
        Marks marks = exact.marks;
        for (auto* list : {&marks.rim, &marks.base, &marks.left, &marks.right}) {
          for (PhotoPoint& p : *list) {
            p.x_px += dice.normal(advice.source_sd);
            p.y_px += dice.normal(advice.source_sd);
          }
        }
        marks.sd_px = advice.source_sd;
        told.marks = marks;
        done = true;
        break;
      }
      case DoubtSource::kWall:
        improve(dice, advice.source_sd, input.wall_sd_mm, input.wall_mm, scene.exact.wall_mm);
        done = true;
        break;
      default:
        break;  // nothing in the input to better
    }
  }
  if (!done) return std::nullopt;
  return input;
}

Trial tried(const Scene& scene, bool advice) {
  Trial trial;
  const PhotoInput& photo = scene.told.photos.front();
  trial.number = scene.number;
  trial.kind = scene.kind;
  trial.place = scene.place;
  trial.family = scene.pot.family;
  trial.round_base = scene.pot.round_base;
  trial.larger_mm = std::max(scene.pot.height(), 2.0 * scene.pot.widest());
  trial.oval_percent = scene.told.out_of_round_percent;
  trial.focal_35mm = photo.focal->focal_35mm;
  trial.focal_sd_percent = photo.focal->sd_percent;
  trial.elevation_deg = scene.elevation_deg;
  trial.distance_mm = scene.distance_mm;
  trial.eye_over_rim_mm = scene.eye_over_rim_mm;
  trial.glass = photo.glass.has_value();
  trial.views = scene.told.photos.size();
  trial.mark_sd_px = photo.marks.sd_px;

  const auto start = std::chrono::steady_clock::now();
  const Result<Answer> answer = estimate(scene.told);
  trial.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  const Result<Answer> exact = estimate(scene.exact);
  trial.answered = answer.ok();
  if (!answer.ok()) trial.problem = answer.problem().what;
  if (!exact.ok()) trial.exact_problem = exact.problem().what;
  if (answer.ok()) {
    trial.scale = answer->scale;
    trial.scatter_ratio = answer->fit.scatter_ratio;
    trial.rms_px = answer->fit.rms_px;
    for (const Note& note : answer->notes) {
      if (note.doubtful) trial.notes += (trial.notes.empty() ? "" : " | ") + note.text;
    }
  }
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    SizeResult size;
    size.name = static_cast<SizeName>(i);
    size.truth = scene.truth[i];
    if (answer.ok()) {
      if (const MeasuredSize* found = find_size(*answer, size.name)) size.found = found->measured;
    }
    if (exact.ok()) {
      if (const MeasuredSize* found = find_size(*exact, size.name)) {
        size.bound_sd = found->measured.sd;
        size.noiseless = found->measured.value;
      }
    }
    trial.sizes.push_back(size);
  }
  if (advice && answer.ok() && !answer->advice.empty()) {
    const Advice& first = answer->advice.front();
    if (const auto input = following(scene, first)) {
      Followed followed{first.what, first.size, first.sd_now, first.sd_then, std::nullopt};
      const Result<Answer> then = estimate(*input);
      if (then.ok()) {
        if (const MeasuredSize* got = find_size(*then, first.size)) {
          followed.sd_got = got->measured.sd;
        }
      }
      trial.followed = followed;
    }
  }
  return trial;
}

}  // namespace potshadow::study
