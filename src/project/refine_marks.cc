// SPDX-License-Identifier: MIT
#include "project/refine_marks.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "outline/refine_reference.h"

namespace potshadow {
namespace {

// Takes up the refined points, and says how precise they are as a whole: none where one was not
// refined.
template <class Points>
void take_up(const Points& points, std::vector<PhotoPoint>& marks, std::optional<double>& sd_px) {
  marks.clear();
  double squares = 0.0;
  bool all = !points.empty();
  for (const RefinedPoint& point : points) {
    marks.push_back(point.at);
    squares += point.sd_px * point.sd_px;
    all = all && point.refined;
  }
  sd_px.reset();
  if (!all) return;
  sd_px = std::max(kSharpestReferencePx, std::sqrt(squares / static_cast<double>(points.size())));
}

}  // namespace

bool can_refine(const ProjectReference& reference) {
  constexpr std::size_t kLeastOnDisc = 5;
  if (reference.kind == "rectangle") return reference.corners.size() == 4;
  return reference.kind == "disc" && reference.edge.size() >= kLeastOnDisc;
}

Result<RefinedMarks> refine_marks(const ProjectReference& reference, const Picture& picture) {
  RefinedMarks refined{reference, {}};
  ProjectReference& to = refined.reference;
  if (reference.kind == "rectangle") {
    std::array<PhotoPoint, 4> clicks{};
    std::copy_n(reference.corners.begin(), clicks.size(), clicks.begin());
    const Result<RefinedCard> card = refine_card(picture, clicks);
    if (!card) return card.problem();
    take_up(card->corners, to.corners, to.marks_sd_px);
    refined.notes = card.notes();
  } else {
    const Result<RefinedDisc> disc = refine_disc(picture, reference.edge);
    if (!disc) return disc.problem();
    take_up(disc->edge, to.edge, to.marks_sd_px);
    refined.notes = disc.notes();
  }
  return refined;
}

}  // namespace potshadow
