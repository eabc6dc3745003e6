// SPDX-License-Identifier: MIT
#include "project/compare_side.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <utility>

#include "core/files.h"
#include "core/text.h"
#include "estimate/estimate.h"
#include "project/photo_lens.h"
#include "project/typed_vessel.h"

namespace potshadow {
namespace {

// How much of a focal length's uncertainty is one photograph's own: what focusing changes.
constexpr double kOwnPercent = 0.3;

// What the figures are off where the camera's focal length is off by one standard uncertainty;
// nothing where that cannot be measured.
std::optional<SharedDoubt> doubt_of_camera(const CompareSide& side) {
  EstimateInput moved = side.camera->input;
  for (PhotoInput& photo : moved.photos) {
    if (photo.focal) photo.focal->focal_35mm *= 1.0 + side.camera->sd_percent / 100.0;
  }
  const Result<Answer> found = estimate(moved);
  const Answer& as_is = side.measurement->answer;
  if (!found || found->rows.size() != as_is.rows.size()) return std::nullopt;
  SharedDoubt doubt;
  doubt.source = side.camera->source;
  for (const MeasuredSize& size : found->sizes) {
    const MeasuredSize* const before = find_size(as_is, size.name);
    if (before == nullptr) continue;
    doubt.sizes.at(static_cast<std::size_t>(size.name)) =
        size.measured.value - before->measured.value;
  }
  for (const Proportion& after : found->proportions) {
    for (const Proportion& before : as_is.proportions) {
      if (before.key != after.key) continue;
      doubt.proportions[after.key] = after.measured.value - before.measured.value;
    }
  }
  doubt.rows.resize(static_cast<Eigen::Index>(as_is.rows.size()));
  for (std::size_t i = 0; i < as_is.rows.size(); ++i) {
    const Eigen::Vector2d step(found->rows[i].radius_mm - as_is.rows[i].radius_mm,
                               found->rows[i].height_mm - as_is.rows[i].height_mm);
    doubt.rows(static_cast<Eigen::Index>(i)) = normal_of(side.vessel.form.rows, i).dot(step);
  }
  return doubt;
}

}  // namespace

std::optional<SideCamera> side_camera(const Measurement& measurement,
                                      const std::filesystem::path& folder, const PhotoProbe& probe,
                                      const CameraBook& cameras) {
  Result<EstimateInput> input = estimate_input(measurement.project, folder, probe);
  if (!input || input->photos.size() != measurement.photo_indices.size()) return std::nullopt;
  std::optional<SideCamera> camera;
  for (std::size_t i = 0; i < input->photos.size(); ++i) {
    const ProjectPhoto& photo = measurement.project.photos[measurement.photo_indices[i]];
    const Result<PhotoFacts> facts = probe(folder / photo.file);
    const std::optional<FocalPrior>& focal = input->photos[i].focal;
    if (!facts || !focal || photo.cropped || facts->exif.model.empty() ||
        !facts->exif.focal_length) {
      return std::nullopt;
    }
    SideCamera own;
    own.source = "camera " + facts->exif.make + "|" + facts->exif.model + "|" + facts->exif.lens +
                 "|" + fixed_text(facts->exif.focal_length->value, 3) + "|" +
                 fixed_text(facts->exif.digital_zoom.value_or(1.0), 3) + "|" +
                 fixed_text(photo.focal_35mm.value_or(0.0), 3);
    const CameraProfile* const record = photo.focal_35mm ? nullptr : camera_for(cameras, *facts);
    own.sd_percent = record != nullptr
                         ? 100.0 * record->focal_35mm_sd / record->focal_35mm
                         : std::sqrt(std::max(0.0, focal->sd_percent * focal->sd_percent -
                                                       kOwnPercent * kOwnPercent));
    if (camera && camera->source != own.source) return std::nullopt;
    camera = std::move(own);
  }
  if (!camera || !(camera->sd_percent > 0.0)) return std::nullopt;
  camera->input = std::move(input).value();
  return camera;
}

Result<VesselComparison> compare_sides(const CompareSide& original, const CompareSide& replica,
                                       Stage at) {
  const bool one_camera = original.camera && replica.camera &&
                          original.camera->source == replica.camera->source &&
                          original.vessel.scaled && replica.vessel.scaled;
  if (!one_camera) return compare_vessels(original.vessel, replica.vessel, at);
  ComparedVessel a = original.vessel;
  ComparedVessel b = replica.vessel;
  const std::optional<SharedDoubt> one = doubt_of_camera(original);
  const std::optional<SharedDoubt> other = doubt_of_camera(replica);
  if (one && other) {
    a.shared.push_back(*one);
    b.shared.push_back(*other);
  }
  return compare_vessels(a, b, at);
}

Result<std::vector<CompareSide>> read_compare_sides(const std::filesystem::path& file, Stage stage,
                                                    const ProbeMaker& make_probe,
                                                    const Result<ClayBook>& book,
                                                    const CameraBook& cameras) {
  std::vector<CompareSide> sides;
  if (names_typed_vessel(file.string())) {
    constexpr std::uintmax_t kMostBytes = 1'000'000;
    const Result<std::string> text = read_file(file, kMostBytes);
    if (!text) return text.problem();
    Result<std::vector<ComparedVessel>> vessels = typed_vessels(*text, file.string(), stage, book);
    if (!vessels) return vessels.problem();
    for (const ComparedVessel& vessel : *vessels)
      sides.push_back({vessel, std::nullopt, std::nullopt});
    return sides;
  }
  const Result<Project> project = load_project(file);
  if (!project) return project.problem();
  const PhotoProbe probe = make_probe(*project);
  Result<Measurement> found = measure_project(*project, file.parent_path(), probe);
  if (!found) return found.problem();
  Measurement measurement = std::move(found).value();
  add_clay(book, measurement);
  ComparedVessel vessel = compared_vessel(measurement, file.string(), stage);
  std::optional<SideCamera> camera = side_camera(measurement, file.parent_path(), probe, cameras);
  sides.push_back({std::move(vessel), std::move(measurement), std::move(camera)});
  return sides;
}

Result<CompareSide> read_compare_side(const std::filesystem::path& file, Stage stage,
                                      const ProbeMaker& make_probe, const Result<ClayBook>& book,
                                      const CameraBook& cameras) {
  Result<std::vector<CompareSide>> sides =
      read_compare_sides(file, stage, make_probe, book, cameras);
  if (!sides) return sides.problem();
  return std::move(sides).value().back();
}

}  // namespace potshadow
