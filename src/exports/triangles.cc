// SPDX-License-Identifier: MIT
#include "exports/triangles.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace potshadow {
namespace {

double cross(const PatternPoint& a, const PatternPoint& b, const PatternPoint& c) {
  return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
}

double area_of(const std::vector<PatternPoint>& loop) {
  double twice = 0.0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const PatternPoint& a = loop[i];
    const PatternPoint& b = loop[(i + 1) % loop.size()];
    twice += a.x_mm * b.y_mm - b.x_mm * a.y_mm;
  }
  return twice / 2.0;
}

std::vector<PatternPoint> cleaned(std::vector<PatternPoint> loop, bool anticlockwise) {
  constexpr double kSamePlaceMm = 1e-3;
  std::vector<PatternPoint> out;
  const auto same = [](const PatternPoint& a, const PatternPoint& b) {
    return std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) < kSamePlaceMm;
  };
  for (const PatternPoint& p : loop) {
    if (out.empty() || !same(out.back(), p)) out.push_back(p);
  }
  while (out.size() > 1 && same(out.front(), out.back())) out.pop_back();
  if ((area_of(out) > 0.0) != anticlockwise) std::reverse(out.begin(), out.end());
  return out;
}

bool segments_cross(const PatternPoint& a, const PatternPoint& b, const PatternPoint& c,
                    const PatternPoint& d) {
  return (cross(a, b, c) > 0.0) != (cross(a, b, d) > 0.0) &&
         (cross(c, d, a) > 0.0) != (cross(c, d, b) > 0.0);
}

class Clipper {
 public:
  explicit Clipper(FilledFigure& figure) : figure_(figure) {}

  // Joins a hole to the ring by the shortest line that crosses neither.
  bool bridge(const std::vector<std::uint32_t>& hole) {
    struct Best {
      double length = 1e300;
      std::size_t ring = 0;
      std::size_t hole = 0;
    } best;
    for (std::size_t i = 0; i < ring_.size(); ++i) {
      for (std::size_t j = 0; j < hole.size(); ++j) {
        const PatternPoint& a = at(ring_[i]);
        const PatternPoint& b = at(hole[j]);
        const double length = std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm);
        if (length < best.length && clear(ring_[i], hole[j], hole)) best = {length, i, j};
      }
    }
    if (best.length == 1e300) return false;
    std::vector<std::uint32_t> joined(ring_.begin(),
                                      ring_.begin() + static_cast<std::ptrdiff_t>(best.ring) + 1);
    for (std::size_t k = 0; k <= hole.size(); ++k) {
      joined.push_back(hole[(best.hole + k) % hole.size()]);
    }
    joined.insert(joined.end(), ring_.begin() + static_cast<std::ptrdiff_t>(best.ring),
                  ring_.end());
    ring_ = std::move(joined);
    return true;
  }

  void start(std::vector<std::uint32_t> ring) { ring_ = std::move(ring); }

  bool clip() {
    std::size_t at_index = 0;
    std::size_t tried = 0;
    while (ring_.size() > 3) {
      if (tried > ring_.size()) return false;
      at_index %= ring_.size();
      if (!is_ear(at_index)) {
        ++at_index;
        ++tried;
        continue;
      }
      const std::size_t n = ring_.size();
      figure_.triangles.push_back(
          {ring_[(at_index + n - 1) % n], ring_[at_index], ring_[(at_index + 1) % n]});
      ring_.erase(ring_.begin() + static_cast<std::ptrdiff_t>(at_index));
      // The next ear is looked for two corners on, so that triangles do not fan out of one corner.
      ++at_index;
      tried = 0;
    }
    if (cross(at(ring_[0]), at(ring_[1]), at(ring_[2])) < 0.0) return false;
    figure_.triangles.push_back({ring_[0], ring_[1], ring_[2]});
    return true;
  }

 private:
  const PatternPoint& at(std::uint32_t index) const { return figure_.points[index]; }

  bool clear(std::uint32_t a, std::uint32_t b, const std::vector<std::uint32_t>& hole) const {
    const auto free_of = [&](const std::vector<std::uint32_t>& loop) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const std::uint32_t c = loop[i];
        const std::uint32_t d = loop[(i + 1) % loop.size()];
        if (c == a || c == b || d == a || d == b) continue;
        if (segments_cross(at(a), at(b), at(c), at(d))) return false;
      }
      return true;
    };
    return free_of(ring_) && free_of(hole);
  }

  bool is_ear(std::size_t i) const {
    const std::size_t n = ring_.size();
    const PatternPoint& a = at(ring_[(i + n - 1) % n]);
    const PatternPoint& b = at(ring_[i]);
    const PatternPoint& c = at(ring_[(i + 1) % n]);
    if (!(cross(a, b, c) > 0.0)) return false;
    for (const std::uint32_t other : ring_) {
      const PatternPoint& p = at(other);
      if (p == a || p == b || p == c) continue;
      if (cross(a, b, p) >= 0.0 && cross(b, c, p) >= 0.0 && cross(c, a, p) >= 0.0) return false;
    }
    return true;
  }

  FilledFigure& figure_;
  std::vector<std::uint32_t> ring_;
};

}  // namespace

std::optional<FilledFigure> triangles_of(const std::vector<PatternPoint>& outline,
                                         const std::vector<std::vector<PatternPoint>>& holes) {
  FilledFigure figure;
  const auto add = [&](const std::vector<PatternPoint>& loop) {
    std::vector<std::uint32_t> indices;
    for (const PatternPoint& p : loop) {
      indices.push_back(static_cast<std::uint32_t>(figure.points.size()));
      figure.points.push_back(p);
    }
    figure.loops.push_back(std::move(indices));
  };
  add(cleaned(outline, true));
  for (const std::vector<PatternPoint>& hole : holes) add(cleaned(hole, false));
  for (const auto& loop : figure.loops) {
    if (loop.size() < 3) return std::nullopt;
  }
  Clipper clipper(figure);
  clipper.start(figure.loops.front());
  for (std::size_t i = 1; i < figure.loops.size(); ++i) {
    if (!clipper.bridge(figure.loops[i])) return std::nullopt;
  }
  if (!clipper.clip()) return std::nullopt;
  return figure;
}

}  // namespace potshadow
