// SPDX-License-Identifier: MIT
#include <type_traits>

#include "core/files.h"
#include "estimate/size_name.h"
#include "photo/probe.h"
#include "project/json_text.h"
#include "project/project.h"

namespace potshadow {
namespace {

// Writes known keys over an object as it was read: unchanged values keep their spelling, unknown
// keys and the order stay, and a key that was not there comes only with a value other than its
// default. A new object gets every key.
class Writer {
 public:
  explicit Writer(const KeptObject& kept)
      : is_new_(kept.content() == nullptr),
        object_(is_new_ ? Json::object() : kept.content()->object) {}

  template <class T>
  void set(const char* key, const T& value, const T& otherwise) {
    const auto found = object_.find(key);
    if (found == object_.end()) {
      if (is_new_ || value != otherwise) object_[key] = value;
      return;
    }
    if (found->is_null() && value == otherwise) return;
    if constexpr (std::is_arithmetic_v<T> && !std::is_same_v<T, bool>) {
      if (found->is_number() && found->get<T>() == value) return;
    }
    *found = value;
  }

  // An absent value takes the key away.
  template <class T>
  void set(const char* key, const std::optional<T>& value) {
    const auto found = object_.find(key);
    if (value) {
      if (found == object_.end() || found->is_null()) {
        object_[key] = *value;
      } else {
        set(key, *value, *value);
      }
      return;
    }
    if (found != object_.end() && !found->is_null()) object_.erase(key);
  }

  void set_text(const char* key, const std::string& value) { set(key, value, std::string()); }

  void set_points(const char* key, const std::vector<PhotoPoint>& points) {
    const auto found = object_.find(key);
    if (points.empty() && !is_new_ && (found == object_.end() || found->is_null())) return;
    Json list = Json::array();
    for (const PhotoPoint& point : points) list.push_back({point.x_px, point.y_px});
    set_list(key, std::move(list));
  }

  // Numbers that did not change keep their spelling.
  void set_list(const char* key, Json list) {
    const auto found = object_.find(key);
    if (found == object_.end() || *found != list) object_[key] = std::move(list);
  }

  void erase(const char* key) { object_.erase(key); }

  void set_object(const char* key, Json value) { object_[key] = std::move(value); }
  bool has(const char* key) const { return object_.contains(key); }
  bool is_new() const { return is_new_; }

  Json take() { return std::move(object_); }

 private:
  bool is_new_;
  Json object_;
};

Json marks_json(const ProjectMarks& marks, bool with_sd = true) {
  Writer to(marks.kept);
  to.set_points("rim_px", marks.rim);
  to.set_points("base_px", marks.base);
  to.set_points("left_px", marks.left);
  to.set_points("right_px", marks.right);
  if (with_sd) to.set("sd_px", marks.sd_px, ProjectMarks().sd_px);
  return to.take();
}

void write_riser(const ProjectReference& reference, Writer& to) {
  const ProjectReference defaults;
  to.set("riser_mm", reference.riser_mm, defaults.riser_mm);
  to.set("riser_sd_mm", reference.riser_sd_mm, defaults.riser_sd_mm);
}

// What is no thing in the picture, or a vessel on the shelf, has no place: none is added.
void write_place_if_any(const ProjectReference& reference, Writer& to) {
  if (!reference.place.empty() || to.has("place")) to.set_text("place", reference.place);
}

void write_known(const ProjectReference& reference, Writer& to) {
  const bool size = reference.kind == "size";
  if (size) to.set_text("size", reference.size);
  to.set("value_mm", reference.value_mm);
  to.set("sd_mm", reference.sd_mm);
  if (size) to.set("guess", reference.guess, ProjectReference().guess);
  write_place_if_any(reference, to);
}

// A neighbour has one of its sizes: see the reading of it.
void write_neighbour(const ProjectReference& reference, Writer& to) {
  for (const SizeName name : {SizeName::kHeight, SizeName::kMaxDiameter, SizeName::kRimDiameter}) {
    const std::string key = std::string(size_key(name)) + "_mm";
    const bool chosen = reference.size == size_key(name);
    if (reference.value_mm) {
      to.set(key.c_str(), chosen ? reference.value_mm : std::nullopt);
    } else if (chosen) {
      to.set_object(key.c_str(), Json());
    } else {
      to.erase(key.c_str());
    }
  }
  to.set("sd_mm", reference.sd_mm);
  write_riser(reference, to);
  to.set("base", std::string(reference.round_base ? "round" : "flat"), std::string("flat"));
  if (to.is_new() || to.has("marks") || reference.marks != ProjectMarks()) {
    to.set_object("marks", marks_json(reference.marks, false));
  }
  write_place_if_any(reference, to);
}

void write_sizes(const ProjectReference& reference, Writer& to) {
  if (reference.kind == "rectangle") {
    to.set("width_mm", reference.width_mm);
    to.set("height_mm", reference.height_mm);
  } else if (reference.kind == "disc") {
    to.set("diameter_mm", reference.diameter_mm);
  } else if (reference.kind == "length") {
    to.set("length_mm", reference.length_mm);
  } else {
    to.set("pitch_mm", reference.pitch_mm);
    to.set("columns", reference.columns, ProjectReference().columns);
    to.set("rows", reference.rows, ProjectReference().rows);
  }
}

void write_whereabouts(const ProjectReference& reference, Writer& to) {
  const ProjectReference defaults;
  to.set("behind_glass", reference.behind_glass, defaults.behind_glass);
  write_riser(reference, to);
  to.set("glass_to_axis_mm", reference.glass_to_axis_mm);
  to.set("glass_to_axis_sd_mm", reference.glass_to_axis_sd_mm, defaults.glass_to_axis_sd_mm);
  if (const auto& line = reference.shelf_at_glass) {
    to.set_points("shelf_at_glass_px", {line->front(), line->back()});
  } else if (to.has("shelf_at_glass_px")) {
    to.set_points("shelf_at_glass_px", {});
  }
  const bool beside = reference.place == "beside";
  const auto set_depth = [&](const char* key, double value, double otherwise) {
    if (beside || to.has(key) || value != otherwise) to.set(key, value, otherwise);
  };
  set_depth("depth_offset_mm", reference.depth_offset_mm, defaults.depth_offset_mm);
  set_depth("depth_offset_sd_mm", reference.depth_offset_sd_mm, defaults.depth_offset_sd_mm);
}

void write_crossings(const ProjectReference& reference, Writer& to) {
  Json list = Json::array();
  for (const ProjectReference::Crossing& crossing : reference.crossings) {
    list.push_back({crossing.at.x_px, crossing.at.y_px, crossing.column, crossing.row});
  }
  if (!list.empty() || to.has("crossings_px")) to.set_list("crossings_px", std::move(list));
}

Json reference_json(const ProjectReference& reference) {
  Writer to(reference.kept);
  const std::string& kind = reference.kind;
  to.set_text("kind", kind);
  if (kind == "size" || kind == "distance") {
    write_known(reference, to);
    return to.take();
  }
  if (kind == "neighbour") {
    write_neighbour(reference, to);
    return to.take();
  }
  const bool known = kind == "rectangle" || kind == "disc" || kind == "length" || kind == "grid";
  if (known) {
    if (!reference.object.empty() || to.has("object")) to.set_text("object", reference.object);
    write_sizes(reference, to);
    to.set("size_sd_mm", reference.size_sd_mm, ProjectReference().size_sd_mm);
    to.set("marks_sd_px", reference.marks_sd_px);
  }
  to.set_text("place", reference.place);
  if (known) {
    write_whereabouts(reference, to);
    if (kind == "rectangle" || kind == "grid") to.set_points("corners_px", reference.corners);
    if (kind == "disc") to.set_points("edge_px", reference.edge);
    if (kind == "length") to.set_points("ends_px", reference.ends);
    if (kind == "grid") write_crossings(reference, to);
  }
  return to.take();
}

Json trace_json(const ProjectTrace& trace) {
  Writer to(trace.kept);
  to.set_points("box_px", {trace.box[0], trace.box[1]});
  Json strokes = Json::array();
  for (const ProjectTrace::Stroke& stroke : trace.strokes) {
    Writer one{KeptObject()};
    one.set("vessel", stroke.vessel, true);
    one.set("width_px", stroke.width_px, 0.0);
    one.set_points("points_px", stroke.points);
    strokes.push_back(one.take());
  }
  to.set_list("strokes", std::move(strokes));
  const auto set_edge = [&](const char* key, const std::vector<TracedPoint>& edge) {
    Json list = Json::array();
    for (const TracedPoint& point : edge) {
      list.push_back({point.at.x_px, point.at.y_px, point.sd_px});
    }
    to.set_list(key, std::move(list));
  };
  set_edge("rim_px", trace.rim);
  set_edge("base_px", trace.base);
  set_edge("left_px", trace.left);
  set_edge("right_px", trace.right);
  Json doubtful = Json::array();
  for (const ProjectTrace::Doubtful& stretch : trace.doubtful) {
    Writer one{KeptObject()};
    one.set_text("edge", stretch.edge);
    one.set_text("why", stretch.why);
    one.set_points("points_px", stretch.points);
    doubtful.push_back(one.take());
  }
  to.set_list("doubtful", std::move(doubtful));
  return to.take();
}

Json photo_json(const ProjectPhoto& photo) {
  Writer to(photo.kept);
  to.set_text("file", photo.file);
  to.set("width_px", photo.record.width_px);
  to.set("height_px", photo.record.height_px);
  to.set("bytes", photo.record.bytes);
  if (!photo.record.sha256.empty() || to.has("sha256")) {
    to.set_text("sha256", photo.record.sha256);
  }
  to.set("focal_35mm", photo.focal_35mm);
  to.set("focal_sd_percent", photo.focal_sd_percent);
  to.set("cropped", photo.cropped, false);
  to.set("quarter_turns", photo.quarter_turns, 0);
  to.set("direction_deg", photo.direction_deg);
  if (photo.glass) {
    Writer glass(photo.glass->kept);
    const ProjectGlass defaults;
    glass.set("thickness_mm", photo.glass->thickness_mm, defaults.thickness_mm);
    glass.set("thickness_sd_mm", photo.glass->thickness_sd_mm, defaults.thickness_sd_mm);
    glass.set("index", photo.glass->index, defaults.index);
    to.set_object("glass", glass.take());
  } else {
    to.set("glass", std::optional<Json>());
  }
  if (!photo.references.empty() || to.is_new() || to.has("references")) {
    Json references = Json::array();
    for (const ProjectReference& reference : photo.references) {
      references.push_back(reference_json(reference));
    }
    to.set_object("references", std::move(references));
  }
  if (to.is_new() || to.has("marks") || photo.marks != ProjectMarks()) {
    to.set_object("marks", marks_json(photo.marks));
  }
  if (photo.trace) {
    to.set_object("trace", trace_json(*photo.trace));
  } else {
    to.set("trace", std::optional<Json>());
  }
  return to.take();
}

void write_hidden(const char* key, const std::optional<ProjectHidden>& hidden, Writer& to) {
  if (!hidden) {
    to.set(key, std::optional<Json>());
    return;
  }
  Writer bounds(hidden->kept);
  bounds.set("low_mm", hidden->low_mm);
  bounds.set("high_mm", hidden->high_mm);
  to.set_object(key, bounds.take());
}

Json band_json(const ProjectBand& band) {
  Writer to(band.kept);
  to.set_text("name", band.name);
  to.set("height_mm", std::optional<double>(band.height_mm));
  to.set("top_mm", band.top_mm);
  to.set("repeats", band.repeats, 0);
  return to.take();
}

Json bench_json(const ProjectBench& bench) {
  Writer to(bench.kept);
  to.set_text("stage", std::string(stage_key(bench.stage)));
  to.set_text("date", bench.date);
  Json sizes = Json::array();
  for (const ProjectBenchSize& size : bench.sizes) {
    Writer one(size.kept);
    one.set_text("size", std::string(size_key(size.size)));
    one.set("value", std::optional<double>(size.value));
    one.set("sd", std::optional<double>(size.sd));
    sizes.push_back(one.take());
  }
  to.set_list("sizes", std::move(sizes));
  return to.take();
}

// Writes a list of objects; none where it is empty and was not there.
template <class Item, class Write>
void set_objects(const char* key, const std::vector<Item>& items, Write write, Writer& to) {
  if (items.empty() && !to.has(key)) return;
  Json list = Json::array();
  for (const Item& item : items) list.push_back(write(item));
  to.set_object(key, std::move(list));
}

Json project_json(const Project& project) {
  Writer to(project.kept);
  to.set("potshadow", kProjectVersion, 0);
  to.set_text("name", project.name);
  to.set_text("notes", project.notes);
  if (!project.photos.empty() || to.is_new() || to.has("photos")) {
    Json photos = Json::array();
    for (const ProjectPhoto& photo : project.photos) photos.push_back(photo_json(photo));
    to.set_object("photos", std::move(photos));
  }
  const Project defaults;
  to.set("out_of_round_percent", project.out_of_round_percent, defaults.out_of_round_percent);
  to.set("base", std::string(project.round_base ? "round" : "flat"), std::string("flat"));
  write_hidden("hidden_foot", project.hidden_foot, to);
  write_hidden("hidden_rim", project.hidden_rim, to);
  if (to.is_new() || to.has("wall_mm") || project.wall != defaults.wall) {
    Writer wall(project.wall.kept);
    wall.set("value", project.wall.value_mm, defaults.wall.value_mm);
    wall.set("sd", project.wall.sd_mm, defaults.wall.sd_mm);
    to.set_object("wall_mm", wall.take());
  }
  if (project.clay) {
    Writer clay(project.clay->kept);
    if (!project.clay->record.empty() || clay.has("record")) {
      clay.set_text("record", project.clay->record);
    }
    clay.set_text("name", project.clay->name);
    clay.set("shrinkage_percent", project.clay->shrinkage_percent);
    clay.set("shrinkage_sd_percent", project.clay->shrinkage_sd_percent,
             kDefaultShrinkageSdPercent);
    clay.set_text("stage", project.clay->stage);
    clay.set("firing_c", project.clay->firing_c);
    to.set_object("clay", clay.take());
  } else {
    to.set("clay", std::optional<Json>());
  }
  if (project.plan) {
    Writer plan(project.plan->kept);
    plan.set("wall_mm", project.plan->wall_mm);
    plan.set("wall_rim_mm", project.plan->wall_rim_mm);
    plan.set("coil_mm", project.plan->coil_mm);
    plan.set("allowance_percent", project.plan->allowance_percent);
    plan.set("cradle_mm", project.plan->cradle_mm);
    to.set_object("plan", plan.take());
  } else {
    to.set("plan", std::optional<Json>());
  }
  set_objects("bands", project.bands, band_json, to);
  set_objects("bench", project.bench, bench_json, to);
  return to.take();
}

bool is_empty(const PhotoRecord& record) { return record == PhotoRecord(); }

}  // namespace

std::string project_text(const Project& project) { return json_text(project_json(project)); }

Result<Done> save_project(const Project& project, const std::filesystem::path& path) {
  const Result<Done> checked = check_project(project, path.string());
  if (!checked) return checked.problem();
  Project recorded = project;
  for (ProjectPhoto& photo : recorded.photos) {
    if (photo.file.empty() || !is_empty(photo.record)) continue;
    const Result<PhotoFacts> facts = probe_photo(path.parent_path() / photo.file);
    if (!facts) continue;
    photo.record = {facts->width_px, facts->height_px, facts->bytes, facts->sha256};
  }
  return write_file_whole(path, project_text(recorded));
}

}  // namespace potshadow
