// SPDX-License-Identifier: MIT
#include <cmath>
#include <optional>
#include <span>
#include <string>

#include "project/json_reader.h"
#include "project/project.h"

namespace potshadow {
namespace {

using namespace internal;

// Judges numbers; the first that cannot be is kept.
class Judge {
 public:
  explicit Judge(Trouble& trouble) : trouble_(trouble) {}

  void number(const std::string& place, const char* key, std::optional<double> value, double least,
              double most) {
    if (!value || (*value >= least && *value <= most)) return;
    trouble_.add(Code::kBadValue, place,
                 "'" + std::string(key) + "' is " + plain(*value) + ", and it should be between " +
                     plain(least) + " and " + plain(most),
                 "Put in the true figure.");
  }
  void count(const std::string& place, const char* key, std::size_t count, std::size_t most) {
    if (count <= most) return;
    trouble_.add(Code::kBadValue, place,
                 "'" + std::string(key) + "' holds more than " + std::to_string(most) + " entries",
                 "Take some out.");
  }
  void points(const std::string& place, const char* key, std::span<const PhotoPoint> points,
              std::size_t most) {
    count(place, key, points.size(), most);
    for (std::size_t i = 0; i < points.size(); ++i) point(place, key, i, points[i]);
  }
  void point(const std::string& place, const char* key, std::size_t index,
             const PhotoPoint& point) {
    constexpr double kFarthest = 1e7;  // beyond any photograph
    if (std::abs(point.x_px) <= kFarthest && std::abs(point.y_px) <= kFarthest) return;
    trouble_.add(Code::kBadValue, place,
                 counted("point", index) + " of '" + key + "' lies far outside any photograph",
                 "Mark it again.");
  }

 private:
  static std::string plain(double value) {
    return std::isfinite(value) ? Json(value).dump() : "not a number";
  }
  Trouble& trouble_;
};
// Bounds: a pot and what stands beside it are smaller than 10 m; the rest is where a typing mistake
// is certain.
constexpr double kSmallestSizeMm = 0.1;
constexpr double kLargestMm = 10'000.0;
constexpr double kLargestMl = 1e6;         // a cubic metre
constexpr double kFarthestMm = 100'000.0;  // of a camera from what it shows
constexpr double kFinestMarkPx = 0.001;
constexpr double kRoughestMarkPx = 200.0;
constexpr double kWidestStrokePx = 10'000.0;

void judge_marks(const std::string& place, const ProjectMarks& marks, Judge& judge) {
  judge.points(place, "rim_px", marks.rim, kMostMarks);
  judge.points(place, "base_px", marks.base, kMostMarks);
  judge.points(place, "left_px", marks.left, kMostMarks);
  judge.points(place, "right_px", marks.right, kMostMarks);
  judge.number(place, "sd_px", marks.sd_px, kFinestMarkPx, 1000.0);
}

void judge_reference(const std::string& place, const ProjectReference& reference, Judge& judge) {
  judge.number(place, "width_mm", reference.width_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "height_mm", reference.height_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "diameter_mm", reference.diameter_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "size_sd_mm", reference.size_sd_mm, 0.0, kLargestMm);
  judge.number(place, "marks_sd_px", reference.marks_sd_px, kFinestMarkPx, kRoughestMarkPx);
  judge.number(place, "riser_mm", reference.riser_mm, -kLargestMm, kLargestMm);
  judge.number(place, "riser_sd_mm", reference.riser_sd_mm, 0.0, kLargestMm);
  judge.number(place, "glass_to_axis_mm", reference.glass_to_axis_mm, 0.0, kLargestMm);
  judge.number(place, "glass_to_axis_sd_mm", reference.glass_to_axis_sd_mm, 0.0, kLargestMm);
  judge.number(place, "depth_offset_mm", reference.depth_offset_mm, -kLargestMm, kLargestMm);
  judge.number(place, "depth_offset_sd_mm", reference.depth_offset_sd_mm, 0.0, kLargestMm);
  judge.number(place, "length_mm", reference.length_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "pitch_mm", reference.pitch_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "columns", reference.columns, 1.0, kMostCells);
  judge.number(place, "rows", reference.rows, 1.0, kMostCells);
  const bool neighbour = reference.kind == "neighbour" && !reference.size.empty();
  const std::string value_key = neighbour ? reference.size + "_mm" : "value_mm";
  judge.number(place, value_key.c_str(), reference.value_mm, kSmallestSizeMm, kFarthestMm);
  judge.number(place, "sd_mm", reference.sd_mm, 0.0, kFarthestMm);
  judge.points(place, "corners_px", reference.corners, 4);
  judge.points(place, "edge_px", reference.edge, kMostMarks);
  judge.points(place, "ends_px", reference.ends, 2);
  if (reference.shelf_at_glass) {
    judge.points(place, "shelf_at_glass_px", *reference.shelf_at_glass, 2);
  }
  judge.count(place, "crossings_px", reference.crossings.size(), kMostMarks);
  for (std::size_t i = 0; i < reference.crossings.size(); ++i) {
    const ProjectReference::Crossing& crossing = reference.crossings[i];
    judge.point(place, "crossings_px", i, crossing.at);
    judge.number(place, "crossings_px", crossing.column, -kMostCells, kMostCells);
    judge.number(place, "crossings_px", crossing.row, -kMostCells, kMostCells);
  }
  judge_marks(place + ", 'marks'", reference.marks, judge);
}

void judge_trace(const std::string& place, const ProjectTrace& trace, Judge& judge) {
  judge.points(place, "box_px", trace.box, trace.box.size());
  judge.count(place, "strokes", trace.strokes.size(), kMostStrokes);
  for (const ProjectTrace::Stroke& stroke : trace.strokes) {
    judge.number(place, "width_px", stroke.width_px, 0.0, kWidestStrokePx);
    judge.points(place, "points_px", stroke.points, kMostMarks);
  }
  const auto judge_edge = [&](const char* key, const std::vector<TracedPoint>& edge) {
    judge.count(place, key, edge.size(), kMostMarks);
    for (std::size_t i = 0; i < edge.size(); ++i) {
      judge.point(place, key, i, edge[i].at);
      judge.number(place, key, edge[i].sd_px, kFinestMarkPx, kRoughestMarkPx);
    }
  };
  judge_edge("rim_px", trace.rim);
  judge_edge("base_px", trace.base);
  judge_edge("left_px", trace.left);
  judge_edge("right_px", trace.right);
  judge.count(place, "doubtful", trace.doubtful.size(), kMostStrokes);
  for (const ProjectTrace::Doubtful& doubtful : trace.doubtful) {
    judge.points(place, "points_px", doubtful.points, kMostMarks);
  }
}

void judge_photo(const std::string& place, const ProjectPhoto& photo, Judge& judge) {
  judge.number(place, "focal_35mm", photo.focal_35mm, 1.0, 5000.0);
  judge.number(place, "focal_sd_percent", photo.focal_sd_percent, 0.001, 100.0);
  judge.number(place, "quarter_turns", photo.quarter_turns, 0.0, kMostQuarterTurns);
  judge.number(place, "direction_deg", photo.direction_deg, -360.0, 360.0);
  if (photo.glass) {
    const std::string glass = place + ", 'glass'";
    judge.number(glass, "thickness_mm", photo.glass->thickness_mm, 0.0, 200.0);
    judge.number(glass, "thickness_sd_mm", photo.glass->thickness_sd_mm, 0.0, 200.0);
    judge.number(glass, "index", photo.glass->index, 1.0, 3.0);
  }
  judge.count(place, "references", photo.references.size(), kMostReferences);
  for (std::size_t i = 0; i < photo.references.size(); ++i) {
    judge_reference(place + ", " + counted("reference", i), photo.references[i], judge);
  }
  judge_marks(place + ", 'marks'", photo.marks, judge);
  if (photo.trace) judge_trace(place + ", 'trace'", *photo.trace, judge);
}

void judge_hidden(const std::string& place, const std::optional<ProjectHidden>& hidden,
                  Judge& judge) {
  if (!hidden) return;
  judge.number(place, "low_mm", hidden->low_mm, 0.0, kLargestMm);
  judge.number(place, "high_mm", hidden->high_mm, 0.0, kLargestMm);
}
}  // namespace

Result<Done> check_project(const Project& project, std::string_view file_name) {
  Trouble trouble{file_name, {}};
  Judge judge(trouble);
  judge.count("", "photos", project.photos.size(), kMostPhotos);
  for (std::size_t i = 0; i < project.photos.size(); ++i) {
    judge_photo(counted("photo", i), project.photos[i], judge);
  }
  judge.number("", "out_of_round_percent", project.out_of_round_percent, 0.0, 20.0);
  judge_hidden("'hidden_foot'", project.hidden_foot, judge);
  judge_hidden("'hidden_rim'", project.hidden_rim, judge);
  judge.number("'wall_mm'", "value", project.wall.value_mm, 0.0, 1000.0);
  judge.number("'wall_mm'", "sd", project.wall.sd_mm, 0.0, 1000.0);
  if (project.clay) {
    judge.number("'clay'", "shrinkage_percent", project.clay->shrinkage_percent, 0.0, 30.0);
    judge.number("'clay'", "shrinkage_sd_percent", project.clay->shrinkage_sd_percent, 0.0, 10.0);
    judge.number("'clay'", "firing_c", project.clay->firing_c, 300.0, 1500.0);
  }
  if (project.plan) {
    judge.number("'plan'", "wall_mm", project.plan->wall_mm, 0.0, kLargestMm);
    judge.number("'plan'", "wall_rim_mm", project.plan->wall_rim_mm, 0.0, kLargestMm);
    judge.number("'plan'", "coil_mm", project.plan->coil_mm, 0.0, kLargestMm);
    judge.number("'plan'", "allowance_percent", project.plan->allowance_percent, 0.0, 100.0);
    judge.number("'plan'", "cradle_mm", project.plan->cradle_mm, 0.0, kLargestMm);
  }
  for (std::size_t i = 0; i < project.bands.size(); ++i) {
    judge.number(counted("band", i), "height_mm", project.bands[i].height_mm, 0.0, kLargestMm);
    judge.number(counted("band", i), "top_mm", project.bands[i].top_mm, 0.0, kLargestMm);
  }
  for (const ProjectBench& bench : project.bench) {
    for (const ProjectBenchSize& size : bench.sizes) {
      const std::string place = "'bench', " + std::string(stage_words(bench.stage)) + ", " +
                                std::string(size_key(size.size));
      const double most = size.size == SizeName::kCapacity ? kLargestMl : kLargestMm;
      judge.number(place, "value", size.value, 0.001, most);
      judge.number(place, "sd", size.sd, 0.0, most);
    }
  }
  if (trouble.first) return *trouble.first;
  return Done{};
}

}  // namespace potshadow
