// SPDX-License-Identifier: MIT
#include "vessel/sizes.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "core/check.h"

namespace potshadow {
namespace {

constexpr std::size_t kSamples = 513;
constexpr double kMm3PerMl = 1000.0;

double parameter(std::size_t index) {
  return static_cast<double>(index) / static_cast<double>(kSamples - 1);
}

ProfileFeature feature_at(const Profile& profile, double s) {
  const ProfilePoint p = profile.at(s);
  return {s, p.radius_mm, p.height_mm};
}

// Narrows down the largest `value` near sample `index` by golden-section search.
double refined(std::size_t index, const std::function<double(double)>& value) {
  constexpr double kGolden = 0.6180339887498949;
  double low = parameter(index == 0 ? 0 : index - 1);
  double high = parameter(std::min(index + 1, kSamples - 1));
  double a = high - kGolden * (high - low);
  double b = low + kGolden * (high - low);
  double value_a = value(a);
  double value_b = value(b);
  for (int i = 0; i < 40; ++i) {
    if (value_a >= value_b) {
      high = b;
      b = a;
      value_b = value_a;
      a = high - kGolden * (high - low);
      value_a = value(a);
    } else {
      low = a;
      a = b;
      value_a = value_b;
      b = low + kGolden * (high - low);
      value_b = value(b);
    }
  }
  const double middle = (low + high) / 2.0;
  // At the ends of the curve the largest value may be the end itself.
  double best = middle;
  for (const double end : {parameter(index == 0 ? 0 : index - 1), parameter(index),
                           parameter(std::min(index + 1, kSamples - 1))}) {
    if (value(end) > value(best)) best = end;
  }
  return best;
}

}  // namespace

Sizes sizes_of(const Profile& profile) {
  const std::vector<ProfilePoint> points = profile.sampled(kSamples);
  const auto radius = [&](double s) { return profile.at(s).radius_mm; };
  const auto height = [&](double s) { return profile.at(s).height_mm; };

  std::size_t top = 0;
  std::size_t widest = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].height_mm >= points[top].height_mm) top = i;
    if (points[i].radius_mm > points[widest].radius_mm) widest = i;
  }

  // The neck: the place where the wall stands in deepest below what follows above it, looked for
  // between the belly (the widest place below the candidate) and the rim.
  std::size_t neck = 0;
  double best_depth = 0.0;
  double belly = 0.0;
  std::vector<double> widest_above(points.size());
  for (std::size_t i = points.size(); i-- > 0;) {
    widest_above[i] = points[i].radius_mm;
    if (i + 1 < points.size()) widest_above[i] = std::max(widest_above[i], widest_above[i + 1]);
  }
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    belly = std::max(belly, points[i].radius_mm);
    const double depth = std::min(belly, widest_above[i + 1]) - points[i].radius_mm;
    if (depth > best_depth) {
      best_depth = depth;
      neck = i;
    }
  }
  const double max_diameter = 2.0 * points[widest].radius_mm;
  const bool necked = best_depth >= kNeckProminence * max_diameter;

  Sizes sizes;
  sizes.top = feature_at(profile, refined(top, height));
  sizes.widest = feature_at(profile, refined(widest, radius));
  sizes.height_mm = sizes.top.height_mm;
  sizes.max_diameter_mm = 2.0 * sizes.widest.radius_mm;
  sizes.height_of_max_mm = sizes.widest.height_mm;
  if (necked) {
    sizes.neck = feature_at(profile, refined(neck, [&](double s) { return -radius(s); }));
    sizes.neck_diameter_mm = 2.0 * sizes.neck->radius_mm;
    sizes.height_of_neck_mm = sizes.neck->height_mm;
  }
  sizes.rim_diameter_mm = 2.0 * points.back().radius_mm;
  if (points.front().radius_mm > 0.0) sizes.base_diameter_mm = 2.0 * points.front().radius_mm;
  return sizes;
}

double capacity_ml(const Profile& profile, Mm wall, int slices) {
  POTSHADOW_CHECK(wall.value >= 0.0 && slices > 1);
  const double w = wall.value;
  const std::vector<ProfilePoint> points = profile.sampled(kSamples);
  double brim = 0.0;
  for (const ProfilePoint& p : points) brim = std::max(brim, p.height_mm);
  if (!(brim > w)) return 0.0;

  // The inside at height z reaches out to where a ball of the wall's thickness, centred anywhere
  // on the outer surface, first covers it: r(z) = min over the curve of R - sqrt(w^2 - (z - Z)^2).
  // That is at a point of the polyline, or where the inward offset of a segment is met.
  constexpr double kNone = 1e300;
  const double step = (brim - w) / static_cast<double>(slices);
  std::vector<double> inside(static_cast<std::size_t>(slices) + 1, kNone);
  // Calls `radius_at` with the height of every slice from `low` to `high`, and a trace beyond.
  const auto cover = [&](double low, double high, const auto& radius_at) {
    const auto first = static_cast<long>(std::ceil((low - w) / step - 1e-9));
    const auto last = static_cast<long>(std::floor((high - w) / step + 1e-9));
    for (long i = std::max(first, 0L); i <= std::min(last, static_cast<long>(slices)); ++i) {
      double& radius = inside[static_cast<std::size_t>(i)];
      radius = std::min(radius, radius_at(w + step * static_cast<double>(i)));
    }
  };
  for (const ProfilePoint& p : points) {
    cover(p.height_mm - w, p.height_mm + w, [&](double z) {
      const double gap = z - p.height_mm;
      return std::abs(gap) <= w ? p.radius_mm - std::sqrt(w * w - gap * gap) : kNone;
    });
  }
  for (std::size_t k = 0; k + 1 < points.size(); ++k) {
    const ProfilePoint& a = points[k];
    const double dr = points[k + 1].radius_mm - a.radius_mm;
    const double dz = points[k + 1].height_mm - a.height_mm;
    if (dz == 0.0) continue;
    // The segment moved inwards by w: (R, Z) - w (dz, -dr) / length, if it goes upwards.
    const double inward = (dz > 0.0 ? w : -w) / std::hypot(dr, dz);
    const double offset_r = -inward * dz;
    const double offset_z = inward * dr;
    const double from = a.height_mm + offset_z;
    cover(std::min(from, from + dz), std::max(from, from + dz), [&](double z) {
      const double t = (z - from) / dz;
      constexpr double kRounding = 1e-9;  // else a slice at the very brim might meet no piece
      return t >= -kRounding && t <= 1.0 + kRounding ? a.radius_mm + t * dr + offset_r : kNone;
    });
  }
  double volume = 0.0;  // frusta between the slices
  for (std::size_t i = 0; i + 1 < inside.size(); ++i) {
    const double a = inside[i] < kNone ? std::max(inside[i], 0.0) : 0.0;
    const double b = inside[i + 1] < kNone ? std::max(inside[i + 1], 0.0) : 0.0;
    volume += std::numbers::pi * step * (a * a + a * b + b * b) / 3.0;
  }
  return volume / kMm3PerMl;
}

double frusta_volume_ml(const std::vector<ProfilePoint>& polyline) {
  double volume = 0.0;
  for (std::size_t i = 0; i + 1 < polyline.size(); ++i) {
    const double a = polyline[i].radius_mm;
    const double b = polyline[i + 1].radius_mm;
    const double h = polyline[i + 1].height_mm - polyline[i].height_mm;
    volume += std::numbers::pi * h * (a * a + a * b + b * b) / 3.0;
  }
  return volume / kMm3PerMl;
}

Shape shape_of(const Sizes& sizes) {
  Shape shape;
  const double height = sizes.height_mm / sizes.max_diameter_mm;
  const double mouth = sizes.rim_diameter_mm / sizes.max_diameter_mm;
  constexpr double kRounding = 0.995;  // a mouth this near the maximum is the maximum
  if (mouth < 0.9) {
    shape.opening = Opening::kClosed;
  } else if (mouth < kRounding) {
    shape.opening = Opening::kRestricted;
  }
  constexpr double kJarNeck = 0.75;   // a neck this narrow makes a jar of any height
  constexpr double kJarMouth = 0.60;  // and so does a mouth this narrow
  const bool necked =
      sizes.neck_diameter_mm && *sizes.neck_diameter_mm < kJarNeck * sizes.max_diameter_mm;
  if (height > 1.0 || necked || mouth < kJarMouth) {
    shape.height_class = HeightClass::kJar;
  } else if (height < 1.0 / 5.0) {
    shape.height_class = HeightClass::kPlate;
  } else if (height < 1.0 / 3.0) {
    shape.height_class = HeightClass::kDish;
  } else {
    shape.height_class = HeightClass::kBowl;
  }
  return shape;
}

}  // namespace potshadow
