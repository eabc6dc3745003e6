// SPDX-License-Identifier: MIT
#include "patterns/band.h"

#include <algorithm>
#include <cmath>

#include "core/measured.h"

namespace potshadow {

Result<std::vector<BandPoint>> band_points(const std::vector<ProfileBandRow>& fired,
                                           const TotalShrinkage& shrinkage) {
  const double across = shrinkage.enlargement(SizeWay::kAcross);
  const double upright = shrinkage.enlargement(SizeWay::kUpright);
  // How far the clay's doubt may move a point, as a part of its radius and of its height.
  const auto relative_sd = [&](SizeWay way) {
    return shrinkage.linear(way).half95 / kNormal95 * shrinkage.enlargement(way);
  };
  const double across_sd = relative_sd(SizeWay::kAcross);
  const double upright_sd = relative_sd(SizeWay::kUpright);
  std::vector<ProfilePoint> rows;
  std::vector<double> sds;
  for (const ProfileBandRow& row : fired) {
    if (!std::isfinite(row.height_mm) || !std::isfinite(row.radius_mm) ||
        !std::isfinite(row.sd_mm) || row.sd_mm < 0.0) {
      return Problem{Code::kBadValue, "The profile's uncertainty is not a number or is negative.",
                     "Measure the vessel again, or print the template without its grey band.", ""};
    }
    const ProfilePoint p{row.radius_mm * across, row.height_mm * upright};
    if (!rows.empty() && rows.back() == p) continue;
    rows.push_back(p);
    sds.push_back(row.sd_mm);
  }
  std::vector<BandPoint> points;
  if (rows.size() < 2) return points;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const ProfilePoint& before = rows[i == 0 ? 0 : i - 1];
    const ProfilePoint& after = rows[std::min(i + 1, rows.size() - 1)];
    const double dr = after.radius_mm - before.radius_mm;
    const double dz = after.height_mm - before.height_mm;
    const double length = std::hypot(dr, dz);
    if (!(length > 0.0)) continue;
    const ProfilePoint normal{dz / length, -dr / length};
    const ProfilePoint& p = rows[i];
    // What moved along the fired profile's normal has moved by so much along this one.
    const double stretch = std::hypot(across * normal.radius_mm, upright * normal.height_mm);
    const double outward = p.radius_mm * normal.radius_mm * across_sd;
    const double upward = p.height_mm * normal.height_mm * upright_sd;
    const double clay = shrinkage.has_ways() ? std::hypot(outward, upward) : outward + upward;
    points.push_back({p, normal, kNormal95 * std::hypot(sds[i] * stretch, clay)});
  }
  return points;
}

std::vector<ProfilePoint> band_outline(const std::vector<BandPoint>& points) {
  std::vector<ProfilePoint> outline;
  std::vector<ProfilePoint> inner;
  const auto off = [](const BandPoint& p, double by) {
    return ProfilePoint{std::max(p.at.radius_mm + by * p.normal.radius_mm, 0.0),
                        p.at.height_mm + by * p.normal.height_mm};
  };
  for (const BandPoint& p : points) {
    outline.push_back(off(p, p.half_mm));
    inner.push_back(off(p, -p.half_mm));
  }
  outline.insert(outline.end(), inner.rbegin(), inner.rend());
  return outline;
}

}  // namespace potshadow
