// SPDX-License-Identifier: MIT
#include "project/typed_outline.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "project/answer_text.h"
#include "project/one_line.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

constexpr double kHangsTogether = 0.1;  // of the outline's length
constexpr double kGapFrom = 0.15;       // of its length: between neighbouring points
constexpr double kGapBulge = 0.1;       // of the gap
constexpr std::size_t kControls = 24;
constexpr std::size_t kRows = 61;

double uniform_sd(double tolerance) { return tolerance / std::numbers::sqrt3; }

// How far over a gap the outline may bulge at a place along it, as a standard deviation.
double gap_sd(const std::vector<double>& along, double at) {
  const double length = along.back();
  for (std::size_t i = 1; i < along.size(); ++i) {
    const double gap = along[i] - along[i - 1];
    if (at < along[i - 1] || at > along[i] || gap < kGapFrom * length) continue;
    const double part = (at - along[i - 1]) / gap;
    return uniform_sd(4.0 * part * (1.0 - part) * kGapBulge * gap);
  }
  return 0.0;
}

std::vector<double> lengths_along(const std::vector<ProfilePoint>& points) {
  std::vector<double> along{0.0};
  for (std::size_t i = 1; i < points.size(); ++i) {
    along.push_back(along.back() + std::hypot(points[i].radius_mm - points[i - 1].radius_mm,
                                              points[i].height_mm - points[i - 1].height_mm));
  }
  return along;
}

Form form_of(const Profile& profile, const std::vector<ProfilePoint>& outline, double tolerance) {
  Form form;
  form.rows = profile.sampled(kRows);
  const std::vector<double> along = lengths_along(form.rows);
  const std::vector<double> typed_along = lengths_along(outline);
  const double near = kHangsTogether * along.back();
  const auto n = static_cast<Eigen::Index>(kRows);
  Eigen::VectorXd sd(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const double part = along[static_cast<std::size_t>(i)] / along.back();
    sd(i) = std::hypot(uniform_sd(tolerance), gap_sd(typed_along, part * typed_along.back()));
  }
  form.covariance.resize(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const double apart =
          (along[static_cast<std::size_t>(i)] - along[static_cast<std::size_t>(j)]) / near;
      form.covariance(i, j) = sd(i) * sd(j) * std::exp(-0.5 * apart * apart);
    }
  }
  return form;
}

double sd_near(const Form& form, double height_mm) {
  std::size_t nearest = 0;
  for (std::size_t i = 1; i < form.rows.size(); ++i) {
    if (std::abs(form.rows[i].height_mm - height_mm) <
        std::abs(form.rows[nearest].height_mm - height_mm)) {
      nearest = i;
    }
  }
  const auto k = static_cast<Eigen::Index>(nearest);
  return std::sqrt(form.covariance(k, k));
}

// How far up and down from a widest or narrowest place the radius stays within `tolerance` of it.
double sd_of_height(const Form& form, double height_mm, double radius_mm, double tolerance) {
  double low = height_mm;
  double high = height_mm;
  for (const ProfilePoint& row : form.rows) {
    if (std::abs(row.radius_mm - radius_mm) > tolerance) continue;
    low = std::min(low, row.height_mm);
    high = std::max(high, row.height_mm);
  }
  return std::max(uniform_sd(tolerance), uniform_sd((high - low) / 2.0));
}

// The sizes of the curve.
std::vector<MeasuredSize> read_off(const Sizes& sizes, const Form& form, double tolerance) {
  std::vector<MeasuredSize> out;
  const auto add = [&](SizeName name, double value, double sd) {
    MeasuredSize size;
    size.name = name;
    size.measured = normal_measured(value, sd);
    out.push_back(size);
  };
  const auto across = [&](SizeName name, double diameter, double height) {
    add(name, diameter, 2.0 * sd_near(form, height));
  };
  add(SizeName::kHeight, sizes.height_mm, uniform_sd(tolerance));
  across(SizeName::kMaxDiameter, sizes.max_diameter_mm, sizes.height_of_max_mm);
  add(SizeName::kHeightOfMax, sizes.height_of_max_mm,
      sd_of_height(form, sizes.height_of_max_mm, sizes.max_diameter_mm / 2.0, tolerance));
  if (sizes.neck) {
    across(SizeName::kNeckDiameter, *sizes.neck_diameter_mm, *sizes.height_of_neck_mm);
    add(SizeName::kHeightOfNeck, *sizes.height_of_neck_mm,
        sd_of_height(form, *sizes.height_of_neck_mm, *sizes.neck_diameter_mm / 2.0, tolerance));
  }
  across(SizeName::kRimDiameter, sizes.rim_diameter_mm, sizes.height_mm);
  if (sizes.base_diameter_mm) across(SizeName::kBaseDiameter, *sizes.base_diameter_mm, 0.0);
  return out;
}

// The outline as a curve; base first.
Result<Profile> curve_of(std::vector<ProfilePoint>& outline) {
  if (outline.front().height_mm > outline.back().height_mm) {
    std::reverse(outline.begin(), outline.end());
  }
  // Heights are counted from the bench.
  const double foot = outline.front().height_mm;
  for (ProfilePoint& point : outline) point.height_mm -= foot;
  return Profile::through(outline, kControls);
}

}  // namespace

Result<TypedOutline> typed_outline(const TypedStage& typed, const std::string& file) {
  constexpr std::size_t kFewest = 4;
  if (typed.outline.size() < kFewest) {
    return Problem{Code::kTooFewMarks,
                   "The profile in '" + on_one_line(file) + "' has fewer than four places.",
                   "Give more heights and radii from the foot to the rim.", ""};
  }
  std::vector<ProfilePoint> points = typed.outline;
  const Result<Profile> curve = curve_of(points);
  if (!curve) return curve.problem();
  TypedOutline out;
  out.form = form_of(*curve, points, typed.outline_tolerance_mm);
  out.sizes = read_off(sizes_of(*curve), out.form, typed.outline_tolerance_mm);
  out.kind = kind_words(*curve);
  const std::vector<double> along = lengths_along(points);
  for (std::size_t i = 1; i < along.size(); ++i) {
    if (along[i] - along[i - 1] < kGapFrom * along.back()) continue;
    out.gaps.push_back({points[i - 1].height_mm, points[i].height_mm});
  }
  return out;
}

}  // namespace potshadow
