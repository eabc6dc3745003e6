// SPDX-License-Identifier: MIT
#include "estimate/monte_carlo.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <string>

#include "core/propagation.h"
#include "core/text.h"
#include "estimate/estimate.h"
#include "estimate/solve.h"
#include "photo/focal.h"

namespace potshadow {
namespace {

constexpr double kDiffering = 0.2;
// Draws that are repeated small, which gives their variance to a tenth, and how small: still well
// above the solver's own rounding, but near enough to a straight line.
constexpr int kSmallPairs = 200;
constexpr double kSmall = 0.3;

using Values = std::array<double, kSizeCount>;  // by SizeName; NaN where there is none

Values values_of(const Answer& answer) {
  Values values;
  values.fill(std::numeric_limits<double>::quiet_NaN());
  for (const MeasuredSize& size : answer.sizes) {
    values[static_cast<std::size_t>(size.name)] = size.measured.value;
  }
  return values;
}

// The seen vessel in broad lines: where its axis runs and how the rim's ellipse lies on it.
struct Seen {
  PhotoPoint rim_centre;
  PhotoPoint foot_centre;
  double along_x = 0.0;  // unit vector from the foot to the rim
  double along_y = -1.0;
  double rim_across_px = 1.0;  // half axes of the rim
  double rim_along_px = 1.0;

  double across(const PhotoPoint& from, const PhotoPoint& to) const {
    return (to.x_px - from.x_px) * -along_y + (to.y_px - from.y_px) * along_x;
  }
  double along(const PhotoPoint& from, const PhotoPoint& to) const {
    return (to.x_px - from.x_px) * along_x + (to.y_px - from.y_px) * along_y;
  }
};

Seen seen_of(const Overlay& overlay) {
  Seen seen;
  const std::vector<PhotoPoint>& axis = overlay.axis.points;
  if (axis.size() < 2) return seen;
  seen.foot_centre = axis.front();
  seen.rim_centre = axis.back();
  const double x = seen.rim_centre.x_px - seen.foot_centre.x_px;
  const double y = seen.rim_centre.y_px - seen.foot_centre.y_px;
  const double length = std::hypot(x, y);
  if (length > 0.0) {
    seen.along_x = x / length;
    seen.along_y = y / length;
  }
  for (const OverlayLine& line : overlay.rim) {
    for (const PhotoPoint& point : line.points) {
      seen.rim_across_px =
          std::max(seen.rim_across_px, std::abs(seen.across(seen.rim_centre, point)));
      seen.rim_along_px = std::max(seen.rim_along_px, std::abs(seen.along(seen.rim_centre, point)));
    }
  }
  return seen;
}

// Draws the input anew, every deviation multiplied by `size`.
class Redraw {
 public:
  Redraw(const EstimateInput& input, const Answer& first)
      : input_(input), seen_(seen_of(first.photos.front().overlay)) {
    const PhotoInput& photo = input.photos.front();
    focal_px_ =
        focal_px_from_35mm(first.photos.front().camera.focal_35mm, photo.width_px, photo.height_px);
    // As for the first-order intervals: marks that scatter more than stated count as less precise.
    const double allowed = 1.0 + 2.0 / std::sqrt(2.0 * std::max(1, first.fit.marks));
    const double scatter = first.fit.scatter_ratio;
    mark_sd_px_ = photo.marks.sd_px * (scatter > allowed ? scatter : 1.0);
    // A cut-out's principal point is too far off to be followed from nearby.
    centre_sd_px_ = photo.cropped ? 0.0 : internal::priors_of(input).centre_sd_px;
  }

  EstimateInput drawn(DrawRandom& random, double size) const {
    const auto off = [&](double sd) { return size * sd * random.normal(); };
    EstimateInput out = input_;
    PhotoInput& photo = out.photos.front();
    if (photo.focal) photo.focal->focal_35mm *= std::exp(off(photo.focal->sd_percent / 100.0));
    if (photo.glass) {
      photo.glass->thickness_mm =
          std::max(0.0, photo.glass->thickness_mm + off(photo.glass->thickness_sd_mm));
    }
    out.wall_mm = std::max(0.0, out.wall_mm + off(out.wall_sd_mm));

    const double round = out.out_of_round_percent / 100.0;
    widen_body(off(round), photo.marks);
    widen_foot(off(round), photo.marks);
    const double cos2 = off(round);
    widen_rim(cos2, off(round), photo.marks);

    for (RectangleReference& reference : photo.references) {
      reference.width_mm = moved_length(reference.width_mm, off(reference.size_sd_mm));
      reference.height_mm = moved_length(reference.height_mm, off(reference.size_sd_mm));
      move_place(random, size, reference);
    }
    for (DiscReference& disc : photo.discs) {
      disc.diameter_mm = moved_length(disc.diameter_mm, off(disc.size_sd_mm));
      move_place(random, size, disc);
    }
    for (KnownSize& known : photo.sizes) {
      known.value_mm = moved_length(known.value_mm, off(known.sd_mm));
    }
    for (KnownDistance& known : photo.distances) {
      known.value_mm = moved_length(known.value_mm, off(known.sd_mm));
    }

    // Marks that move together are a principal point that moves the other way; and marks that move
    // towards it by the cube of their distance are a distortion.
    const double k1 = off(photo.lens.k1_sd);
    const PhotoPoint shift{off(centre_sd_px_), off(centre_sd_px_)};
    const auto move = [&](PhotoPoint& mark) {
      const double x = mark.x_px - (photo.width_px - 1.0) / 2.0;
      const double y = mark.y_px - (photo.height_px - 1.0) / 2.0;
      const double bend = k1 * (x * x + y * y) / (focal_px_ * focal_px_);
      mark.x_px += shift.x_px - bend * x + off(mark_sd_px_);
      mark.y_px += shift.y_px - bend * y + off(mark_sd_px_);
    };
    for (auto* marks :
         {&photo.marks.rim, &photo.marks.base, &photo.marks.left, &photo.marks.right}) {
      std::for_each(marks->begin(), marks->end(), move);
    }
    for (auto& reference : photo.references) {
      std::for_each(reference.corners.begin(), reference.corners.end(), move);
    }
    for (auto& disc : photo.discs) std::for_each(disc.edge.begin(), disc.edge.end(), move);
    return out;
  }

 private:
  static double moved_length(double mm, double by_mm) {
    constexpr double kLeastPart = 0.1;  // no reference is so badly known
    return std::max(kLeastPart * mm, mm + by_mm);
  }

  template <class Reference>
  static void move_place(DrawRandom& random, double size, Reference& reference) {
    const double off = size * random.normal();
    if (reference.place == Place::kOnGlass) {
      reference.glass_to_axis_mm =
          moved_length(reference.glass_to_axis_mm, off * reference.glass_to_axis_sd_mm);
    } else {
      reference.riser_mm += off * reference.riser_sd_mm;
    }
  }

  // The outline is seen from one side: the body there is wider or narrower as a whole.
  void widen_body(double part, Marks& marks) const {
    for (auto* side : {&marks.left, &marks.right}) {
      for (PhotoPoint& mark : *side) {
        const double by = part * seen_.across(seen_.foot_centre, mark);
        mark.x_px -= by * seen_.along_y;
        mark.y_px += by * seen_.along_x;
      }
    }
  }

  void widen_foot(double part, Marks& marks) const {
    for (PhotoPoint& mark : marks.base) {
      mark.x_px += part * (mark.x_px - seen_.foot_centre.x_px);
      mark.y_px += part * (mark.y_px - seen_.foot_centre.y_px);
    }
  }

  void widen_rim(double cos2, double sin2, Marks& marks) const {
    for (PhotoPoint& mark : marks.rim) {
      const double angle = std::atan2(seen_.along(seen_.rim_centre, mark) / seen_.rim_along_px,
                                      seen_.across(seen_.rim_centre, mark) / seen_.rim_across_px);
      const double part = cos2 * std::cos(2.0 * angle) + sin2 * std::sin(2.0 * angle);
      mark.x_px += part * (mark.x_px - seen_.rim_centre.x_px);
      mark.y_px += part * (mark.y_px - seen_.rim_centre.y_px);
    }
  }

  const EstimateInput& input_;
  Seen seen_;
  double focal_px_ = 1.0;
  double mark_sd_px_ = 1.0;
  double centre_sd_px_ = 1.0;
};

// One draw: the sizes it gave and the normal deviations for what no draw reaches.
struct Drawn {
  bool answered = false;
  Values values{};
  Values extra{};
};

// Half the difference of two draws that deviate the other way each, brought to full size.
std::optional<Values> small_response(const Redraw& redraw, const EstimateMemory& memory,
                                     std::uint64_t seed, std::uint64_t index) {
  Values response{};
  for (const double sign : {1.0, -1.0}) {
    DrawRandom random(seed, index);
    EstimateMemory start = memory;
    const auto answer = estimate_nearby(redraw.drawn(random, sign * kSmall), start);
    if (!answer) return std::nullopt;
    const Values values = values_of(*answer);
    for (std::size_t i = 0; i < kSizeCount; ++i) response[i] += sign * values[i] / (2.0 * kSmall);
  }
  return response;
}

// Returns the variance of a size that the redrawn inputs bring while they are small, or none where
// too few draws had that size.
std::optional<double> small_variance(const std::vector<std::optional<Values>>& responses,
                                     std::size_t size) {
  double sum = 0.0;
  double count = 0.0;
  for (const auto& response : responses) {
    if (!response || !std::isfinite((*response)[size])) continue;
    sum += (*response)[size] * (*response)[size];
    count += 1.0;
  }
  if (2.0 * count < static_cast<double>(responses.size())) return std::nullopt;
  return sum / count;
}

std::string percent_text(double part) { return fixed_text(100.0 * part, 0) + " %"; }

}  // namespace

bool RedrawnSize::differs() const {
  // The half-width of a normal sample's interval varies by chance by this over the root of its
  // size; three of that are no finding. It matters below some 200 draws.
  constexpr double kChance = 0.96;
  const double chance = 3.0 * kChance / std::sqrt(static_cast<double>(std::max(1, draws)));
  const double stated = first.high95 - first.low95;
  return std::abs((high95 - low95) - stated) > std::max(kDiffering, chance) * stated;
}

Result<MonteCarlo> monte_carlo(const EstimateInput& input, const Answer& first,
                               const MonteCarloWishes& wishes) {
  if (wishes.draws < kFewestDraws || wishes.draws > kMostDraws) {
    return Problem{Code::kBadValue, "The number of draws is out of range.",
                   "Ask for " + std::to_string(kFewestDraws) + " to " + std::to_string(kMostDraws) +
                       " draws; 1000 is a good number.",
                   ""};
  }
  EstimateMemory memory;
  if (const auto again = estimate(input, &memory); !again) return again.problem();

  const Redraw redraw(input, first);
  const int pairs = std::min(kSmallPairs, wishes.draws);
  const int all = pairs + wishes.draws;
  std::vector<std::optional<Values>> responses(static_cast<std::size_t>(pairs));
  std::vector<Drawn> draws(static_cast<std::size_t>(wishes.draws));
  const auto work = [&](int index) {
    if (index < pairs) {
      const auto at = static_cast<std::size_t>(index);
      responses[at] = small_response(redraw, memory, wishes.seed, at);
      return;
    }
    const auto at = static_cast<std::size_t>(index - pairs);
    DrawRandom random(wishes.seed, at);
    EstimateMemory start = memory;
    const auto answer = estimate_nearby(redraw.drawn(random, 1.0), start);
    if (!answer) return;
    draws[at].answered = true;
    draws[at].values = values_of(*answer);
    for (double& extra : draws[at].extra) extra = random.normal();
  };
  const auto progress = [&](int done) {
    if (wishes.progress) wishes.progress(done, all);
  };
  if (!run_draws(all, wishes.jobs, work, progress, wishes.stop)) {
    return Problem{Code::kCannotBeAnswered, "The check of the intervals was stopped.",
                   "Start it again, with fewer draws if it takes too long.", "stopped"};
  }

  MonteCarlo out{wishes.draws, 0, wishes.seed, {}};
  for (const Drawn& drawn : draws) out.failed += drawn.answered ? 0 : 1;
  if (2 * out.failed > out.draws) {
    return Problem{Code::kCannotBeAnswered,
                   "The intervals could not be checked: most of the redrawn marks gave no answer.",
                   "Add marks on the rim, the foot and both outlines, or another reference.",
                   "draws failed"};
  }
  for (const MeasuredSize& size : first.sizes) {
    const auto at = static_cast<std::size_t>(size.name);
    const std::optional<double> reached = small_variance(responses, at);
    if (!reached) continue;
    const double stated = size.measured.sd * size.measured.sd;
    const double missing = std::max(0.0, stated - *reached);
    std::vector<double> sample;
    for (const Drawn& drawn : draws) {
      if (!drawn.answered || !std::isfinite(drawn.values[at])) continue;
      sample.push_back(drawn.values[at] + std::sqrt(missing) * drawn.extra[at]);
    }
    if (2 * sample.size() < draws.size()) continue;
    const int count = static_cast<int>(sample.size());
    const Spread spread = spread_of(std::move(sample));
    out.sizes.push_back({size.name, size.measured, spread.mean, spread.sd, spread.low95,
                         spread.high95, stated > 0.0 ? missing / stated : 0.0, count});
  }
  return out;
}

void take_up(const MonteCarlo& monte_carlo, Answer& answer) {
  for (const RedrawnSize& redrawn : monte_carlo.sizes) {
    if (!redrawn.differs()) continue;
    for (MeasuredSize& size : answer.sizes) {
      if (size.name != redrawn.name) continue;
      const double stated = redrawn.first.high95 - redrawn.first.low95;
      const double change = (redrawn.high95 - redrawn.low95) / stated - 1.0;
      answer.notes.push_back({std::string(size_words(size.name)) +
                                  ": redrawing the marks and everything else that "
                                  "is uncertain gave an interval " +
                                  percent_text(std::abs(change)) +
                                  (change > 0.0 ? " wider" : " narrower") +
                                  " than the usual one, so it is used here.",
                              true});
      const double own = size.budget[static_cast<std::size_t>(DoubtSource::kOutOfRound)] *
                         redrawn.first.sd * redrawn.first.sd;
      size.measured = {size.measured.value, redrawn.sd, redrawn.low95, redrawn.high95};
      size.camera_sd = std::sqrt(std::max(0.0, redrawn.sd * redrawn.sd - own));
    }
  }
  constexpr double kNoticeable = 0.05;
  const double failed = static_cast<double>(monte_carlo.failed) / monte_carlo.draws;
  if (failed > kNoticeable) {
    answer.notes.push_back({percent_text(failed) +
                                " of the redrawn estimates gave no answer, so "
                                "the intervals may be too narrow. More marks would help.",
                            true});
  }
}

}  // namespace potshadow
