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
  // Each segment of the polyline carries its balls to every slice within reach.
  const double step = (brim - w) / static_cast<double>(slices);
  std::vector<double> inside(static_cast<std::size_t>(slices) + 1, 1e300);
  const auto cover = [&](std::size_t slice, double radius) {
    inside[slice] = std::min(inside[slice], radius);
  };
  for (std::size_t k = 0; k + 1 < points.size(); ++k) {
    const ProfilePoint& a = points[k];
    const ProfilePoint& b = points[k + 1];
    const double dr = b.radius_mm - a.radius_mm;
    const double dz = b.height_mm - a.height_mm;
    const double length = std::hypot(dr, dz);
    if (!(length > 0.0)) continue;
    const double low = std::min(a.height_mm, b.height_mm) - w;
    const double high = std::max(a.height_mm, b.height_mm) + w;
    const auto first = static_cast<long>(std::ceil((low - w) / step - 1e-9));
    const auto last = static_cast<long>(std::floor((high - w) / step + 1e-9));
    for (long i = std::max(first, 0L); i <= std::min(last, static_cast<long>(slices)); ++i) {
      const double z = w + step * static_cast<double>(i);
      // Smallest R - sqrt(w^2 - (z - Z)^2) along the segment: at an end, or where the offset
      // segment itself is met.
      for (const ProfilePoint* end : {&a, &b}) {
        const double gap = z - end->height_mm;
        if (std::abs(gap) <= w) {
          cover(static_cast<std::size_t>(i), end->radius_mm - std::sqrt(w * w - gap * gap));
        }
      }
      if (dz != 0.0) {
        // Inward offset of the segment by w: (R, Z) - w (dz, -dr) / length, for an upward segment.
        const double sign = dz > 0.0 ? 1.0 : -1.0;
        const double offset_r = -w * sign * dz / length;
        const double offset_z = w * sign * dr / length;
        const double t = (z - a.height_mm - offset_z) / dz;
        if (t >= 0.0 && t <= 1.0) {
          cover(static_cast<std::size_t>(i), a.radius_mm + t * dr + offset_r);
        }
      }
    }
  }
  double volume = 0.0;  // frusta between the slices
  for (std::size_t i = 0; i + 1 < inside.size(); ++i) {
    const double a = inside[i] < 1e299 ? std::max(inside[i], 0.0) : 0.0;
    const double b = inside[i + 1] < 1e299 ? std::max(inside[i + 1], 0.0) : 0.0;
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
