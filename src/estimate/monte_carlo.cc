// SPDX-License-Identifier: MIT
#include "estimate/monte_carlo.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <optional>
#include <string>

#include "core/propagation.h"
#include "core/text.h"
#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "estimate/solve.h"
#include "estimate/solved.h"
#include "photo/focal.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

constexpr double kDiffering = 0.2;
// Draws that are repeated small, which gives their variance to a tenth, and how small: still well
// above the solver's own rounding, but near enough to a straight line.
constexpr int kSmallPairs = 200;
constexpr double kSmall = 0.3;

using Values = std::array<double, kSizeCount>;  // by SizeName; NaN where there is none

// Reads a drawn vessel's sizes, those that the first answer has.
std::optional<Values> values_of(const internal::State& state, const Answer& first, double wall_mm) {
  constexpr int kSlices = 60;  // the same error in every draw
  const auto profile = internal::profile_of(state.vessel.controls);
  if (!profile) return std::nullopt;
  const double foot_mm = state.vessel.controls[1];
  const Sizes sizes = sizes_of(*profile);
  const auto read = [&](SizeName name) -> std::optional<double> {
    switch (name) {
      case SizeName::kHeight:
        return sizes.height_mm - foot_mm;
      case SizeName::kMaxDiameter:
        return sizes.max_diameter_mm;
      case SizeName::kHeightOfMax:
        return sizes.height_of_max_mm - foot_mm;
      case SizeName::kNeckDiameter:
        return sizes.neck_diameter_mm;
      case SizeName::kHeightOfNeck:
        if (!sizes.height_of_neck_mm) return std::nullopt;
        return *sizes.height_of_neck_mm - foot_mm;
      case SizeName::kRimDiameter:
        return sizes.rim_diameter_mm;
      case SizeName::kBaseDiameter:
        return sizes.base_diameter_mm;
      case SizeName::kCapacity:
        return capacity_ml(*profile, Mm{wall_mm}, kSlices);
    }
    return std::nullopt;
  };
  Values values;
  values.fill(std::numeric_limits<double>::quiet_NaN());
  for (const MeasuredSize& size : first.sizes) {
    if (const auto value = read(size.name)) values[static_cast<std::size_t>(size.name)] = *value;
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

// How many times as uncertain as stated the marks are. As for the first-order intervals: where they
// scatter more than stated they count as less precise.
double widening(const Answer& first) {
  const double allowed = 1.0 + 2.0 / std::sqrt(2.0 * std::max(1, first.fit.marks));
  return first.fit.scatter_ratio > allowed ? first.fit.scatter_ratio : 1.0;
}

// Draws the input anew, every deviation multiplied by `size`.
class Redraw {
 public:
  Redraw(const EstimateInput& input, const Answer& first) : input_(input) {
    for (std::size_t v = 0; v < input.photos.size(); ++v) {
      const PhotoInput& photo = input.photos[v];
      Photo& of = photos_.emplace_back();
      of.seen = seen_of(first.photos[v].overlay);
      of.focal_px =
          focal_px_from_35mm(first.photos[v].camera.focal_35mm, photo.width_px, photo.height_px);
      of.widening = widening(first);
      // A cut-out's principal point is too far off to be followed from nearby.
      of.centre_sd_px = photo.cropped ? 0.0 : internal::priors_of(photo).centre_sd_px;
    }
  }

  EstimateInput drawn(DrawRandom& random, double size) const {
    const auto off = [&](double sd) { return size * sd * random.normal(); };
    EstimateInput out = input_;
    out.wall_mm = std::max(0.0, out.wall_mm + off(out.wall_sd_mm));
    // The vessel is oval in one way, however often it is photographed; and one camera's focal
    // length is off by as much in each of its photographs.
    const double round = out.out_of_round_percent / 100.0;
    Oval oval{{off(round), off(round)}, {}, {}};
    for (std::size_t k = 0; k < 2; ++k) {
      oval.foot[k] = oval.body[k] + off(internal::kOwnOval * round);
      oval.rim[k] = oval.body[k] + off(internal::kOwnOval * round);
    }
    std::map<int, double> focal_off;
    for (std::size_t v = 0; v < out.photos.size(); ++v) {
      PhotoInput& photo = out.photos[v];
      double part = off(1.0);
      if (photo.same_lens) part = focal_off.emplace(*photo.same_lens, part).first->second;
      draw_photo(random, size, photos_[v], oval, part, photo);
    }
    return out;
  }

 private:
  // One photograph as the first estimate had it.
  struct Photo {
    Seen seen;
    double focal_px = 1.0;
    double widening = 1.0;
    double centre_sd_px = 1.0;
  };
  // Ovalness of body, foot and rim in cos 2a and sin 2a.
  struct Oval {
    std::array<double, 2> body{};
    std::array<double, 2> foot{};
    std::array<double, 2> rim{};
  };

  static void draw_photo(DrawRandom& random, double size, const Photo& of, const Oval& oval,
                         double focal_part, PhotoInput& photo) {
    const auto off = [&](double sd) { return size * sd * random.normal(); };
    if (photo.focal) {
      photo.focal->focal_35mm *= std::exp(focal_part * photo.focal->sd_percent / 100.0);
    }
    if (photo.glass) {
      photo.glass->thickness_mm =
          std::max(0.0, photo.glass->thickness_mm + off(photo.glass->thickness_sd_mm));
    }
    const double twice = 2.0 * photo.direction_deg * std::numbers::pi / 180.0;
    const double c = std::cos(twice);
    const double s = std::sin(twice);
    widen_body(of.seen, c * oval.body[0] + s * oval.body[1], photo.marks);
    const auto widen = [&](const std::array<double, 2>& part, const PhotoPoint& centre,
                           std::vector<PhotoPoint>& marks) {
      widen_ring(of.seen, centre, c * part[0] + s * part[1], c * part[1] - s * part[0], marks);
    };
    widen(oval.foot, of.seen.foot_centre, photo.marks.base);
    widen(oval.rim, of.seen.rim_centre, photo.marks.rim);

    for (RectangleReference& reference : photo.references) {
      reference.width_mm = moved_length(reference.width_mm, off(reference.size_sd_mm));
      reference.height_mm = moved_length(reference.height_mm, off(reference.size_sd_mm));
      move_place(random, size, reference);
    }
    for (DiscReference& disc : photo.discs) {
      disc.diameter_mm = moved_length(disc.diameter_mm, off(disc.size_sd_mm));
      move_place(random, size, disc);
    }
    for (LengthReference& length : photo.lengths) {
      length.length_mm = moved_length(length.length_mm, off(length.size_sd_mm));
      move_place(random, size, length);
    }
    for (GridReference& grid : photo.grids) {
      grid.pitch_mm = moved_length(grid.pitch_mm, off(grid.size_sd_mm));
      move_place(random, size, grid);
    }
    for (NeighbourReference& neighbour : photo.neighbours) {
      neighbour.value_mm = moved_length(neighbour.value_mm, off(neighbour.sd_mm));
      neighbour.riser_mm += off(neighbour.riser_sd_mm);
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
    const PhotoPoint shift{off(of.centre_sd_px), off(of.centre_sd_px)};
    const auto move = [&](PhotoPoint& mark, double stated_sd_px) {
      const double sd_px = stated_sd_px * of.widening;
      const double x = mark.x_px - (photo.width_px - 1.0) / 2.0;
      const double y = mark.y_px - (photo.height_px - 1.0) / 2.0;
      const double bend = k1 * (x * x + y * y) / (of.focal_px * of.focal_px);
      mark.x_px += shift.x_px - bend * x + off(sd_px);
      mark.y_px += shift.y_px - bend * y + off(sd_px);
    };
    const auto move_vessel = [&](Marks& marks) {
      const std::vector<internal::MarkRef> refs = internal::mark_refs(marks);
      std::size_t next = 0;
      for (auto* list : {&marks.rim, &marks.base, &marks.left, &marks.right}) {
        for (PhotoPoint& mark : *list) move(mark, refs[next++].sd_px);
      }
    };
    const auto move_line = [&](FlatReference& seat) {
      if (!seat.shelf_at_glass) return;
      for (PhotoPoint& mark : *seat.shelf_at_glass) move(mark, photo.marks.sd_px);
    };
    const auto move_points = [&](FlatReference& seat, auto& points) {
      const double sd_px = internal::marks_sd_px(photo, seat);
      for (PhotoPoint& point : points) move(point, sd_px);
      move_line(seat);
    };
    move_vessel(photo.marks);
    for (auto& reference : photo.references) move_points(reference, reference.corners);
    for (auto& disc : photo.discs) move_points(disc, disc.edge);
    for (auto& length : photo.lengths) move_points(length, length.ends);
    for (auto& grid : photo.grids) {
      const double sd_px = internal::marks_sd_px(photo, grid);
      for (GridReference::Crossing& crossing : grid.crossings) move(crossing.at, sd_px);
      move_line(grid);
    }
    for (auto& neighbour : photo.neighbours) move_vessel(neighbour.marks);
  }

  static double moved_length(double mm, double by_mm) {
    constexpr double kLeastPart = 0.1;  // no reference is so badly known
    return std::max(kLeastPart * mm, mm + by_mm);
  }

  static void move_place(DrawRandom& random, double size, FlatReference& seat) {
    const double off = size * random.normal();
    if (seat.place == Place::kOnGlass) {
      if (seat.glass_to_axis_mm > 0.0) {
        seat.glass_to_axis_mm = moved_length(seat.glass_to_axis_mm, off * seat.glass_to_axis_sd_mm);
      }
      if (seat.shelf_at_glass) seat.riser_mm += size * random.normal() * seat.riser_sd_mm;
    } else if (seat.place == Place::kBeside) {
      seat.depth_offset_mm += off * seat.depth_offset_sd_mm;
    } else {
      seat.riser_mm += off * seat.riser_sd_mm;
    }
  }

  // The outline is seen from one side: the body there is wider or narrower as a whole.
  static void widen_body(const Seen& seen, double part, Marks& marks) {
    for (auto* side : {&marks.left, &marks.right}) {
      for (PhotoPoint& mark : *side) {
        const double by = part * seen.across(seen.foot_centre, mark);
        mark.x_px -= by * seen.along_y;
        mark.y_px += by * seen.along_x;
      }
    }
  }

  // The foot's ellipse is as flat as the rim's.
  static void widen_ring(const Seen& seen, const PhotoPoint& centre, double cos2, double sin2,
                         std::vector<PhotoPoint>& marks) {
    for (PhotoPoint& mark : marks) {
      const double angle = std::atan2(seen.along(centre, mark) / seen.rim_along_px,
                                      seen.across(centre, mark) / seen.rim_across_px);
      const double part = cos2 * std::cos(2.0 * angle) + sin2 * std::sin(2.0 * angle);
      mark.x_px += part * (mark.x_px - centre.x_px);
      mark.y_px += part * (mark.y_px - centre.y_px);
    }
  }

  const EstimateInput& input_;
  std::vector<Photo> photos_;
};

// One draw: the sizes it gave and the normal deviations for what no draw reaches.
struct Drawn {
  bool answered = false;
  Values values{};
  Values extra{};
};

// Estimates drawn inputs anew.
class Anew {
 public:
  Anew(const Answer& first, const internal::Solved& solved)
      : first_(first), solved_(solved), scatter_(widening(first)) {
    const internal::Linear linear =
        internal::linearised(solved.task, solved.smoothness, solved.state);
    squares_ = linear.residual.squaredNorm();
    drawn_ = static_cast<double>(std::count_if(
        linear.rows.begin(), linear.rows.end(),
        [](const internal::RowInfo& row) { return row.kind != internal::RowKind::kSmoothness; }));
  }

  // Returns the sizes that an input gives whose deviations were multiplied by `size`, or none where
  // it gives no vessel.
  std::optional<Values> sizes(const EstimateInput& drawn, double size) const {
    if (const auto state = internal::solved_redrawn(drawn, solved_, most_cost(size))) {
      return values_of(*state, first_, drawn.wall_mm);
    }
    // It has led into a vessel that does not fit, so nothing is taken from the first one.
    if (!internal::check_input(drawn)) return std::nullopt;
    const auto solved = internal::solved(drawn);
    if (!solved) return std::nullopt;
    return values_of(solved->state, first_, drawn.wall_mm);
  }

 private:
  // What a draw that was followed costs at most: the first vessel's misfit and deviations by
  // chance. Their squares add up to a noncentral chi-squared variable.
  double most_cost(double size) const {
    constexpr double kChance = 4.0;  // standard deviations, of which the fit takes some away
    const double variance = size * size * scatter_ * scatter_;
    const double mean = squares_ + variance * drawn_;
    const double sd = std::sqrt(2.0 * variance * variance * drawn_ + 4.0 * variance * squares_);
    return (mean + kChance * sd) / 2.0;
  }

  const Answer& first_;
  const internal::Solved& solved_;
  double scatter_ = 1.0;
  double squares_ = 0.0;  // at the first vessel
  double drawn_ = 0.0;    // how many of them are of what is drawn
};

// Half the difference of two draws that deviate the other way each, brought to full size.
std::optional<Values> small_response(const Redraw& redraw, const Anew& anew, std::uint64_t seed,
                                     std::uint64_t index) {
  Values response{};
  for (const double sign : {1.0, -1.0}) {
    DrawRandom random(seed, index);
    const auto values = anew.sizes(redraw.drawn(random, sign * kSmall), kSmall);
    if (!values) return std::nullopt;
    for (std::size_t i = 0; i < kSizeCount; ++i) {
      response[i] += sign * (*values)[i] / (2.0 * kSmall);
    }
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

// How an interval compares with the usual one: "34 % wider than the usual one".
std::string against_usual(double width, double usual) {
  // Percent no longer say much beyond this, and nothing where the usual interval has no width.
  constexpr double kManyTimes = 10.0;
  if (!(usual > 0.0)) return "where the usual way gives none";
  const double ratio = width / usual;
  if (ratio > kManyTimes) return "more than ten times as wide as the usual one";
  return percent_text(std::abs(ratio - 1.0)) + (ratio > 1.0 ? " wider" : " narrower") +
         " than the usual one";
}

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
  MonteCarlo out{wishes.draws, 0, wishes.seed, {}};
  if (first.sizes.empty()) return out;  // without a scale there is nothing to redraw
  const auto solved = internal::solved(input);
  if (!solved) return solved.problem();

  const Redraw redraw(input, first);
  const Anew anew(first, *solved);
  const int pairs = std::min(kSmallPairs, wishes.draws);
  const int all = pairs + wishes.draws;
  std::vector<std::optional<Values>> responses(static_cast<std::size_t>(pairs));
  std::vector<Drawn> draws(static_cast<std::size_t>(wishes.draws));
  const auto work = [&](int index) {
    if (index < pairs) {
      const auto at = static_cast<std::size_t>(index);
      responses[at] = small_response(redraw, anew, wishes.seed, at);
      return;
    }
    const auto at = static_cast<std::size_t>(index - pairs);
    DrawRandom random(wishes.seed, at);
    const auto values = anew.sizes(redraw.drawn(random, 1.0), 1.0);
    if (!values) return;
    draws[at].answered = true;
    draws[at].values = *values;
    for (double& extra : draws[at].extra) extra = random.normal();
  };
  const auto progress = [&](int done) {
    if (wishes.progress) wishes.progress(done, all);
  };
  if (!run_draws(all, wishes.jobs, work, progress, wishes.stop)) {
    return Problem{Code::kCannotBeAnswered, "The check of the intervals was stopped.",
                   "Start it again, with fewer draws if it takes too long.", "stopped"};
  }

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
      answer.notes.push_back({std::string(size_words(size.name)) +
                                  ": redrawing the marks and everything else that is uncertain "
                                  "gave an interval " +
                                  against_usual(redrawn.high95 - redrawn.low95, stated) +
                                  ", so it is used here.",
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
