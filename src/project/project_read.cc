// SPDX-License-Identifier: MIT
#include <array>
#include <initializer_list>

#include "clay/painted_bands.h"
#include "core/files.h"
#include "estimate/size_name.h"
#include "project/json_reader.h"
#include "project/project.h"

namespace potshadow {
namespace {

using namespace internal;

// The keys under which a neighbour's size is written.
constexpr std::array kNeighbourSizes{SizeName::kHeight, SizeName::kMaxDiameter,
                                     SizeName::kRimDiameter};

ProjectMarks read_marks(const Reader& from, bool with_sd = true) {
  ProjectMarks marks;
  marks.kept = from.kept();
  marks.rim = from.points("rim_px", kMostMarks);
  marks.base = from.points("base_px", kMostMarks);
  marks.left = from.points("left_px", kMostMarks);
  marks.right = from.points("right_px", kMostMarks);
  if (with_sd) marks.sd_px = from.number("sd_px", marks.sd_px);
  return marks;
}

bool read_round_base(const Reader& from) {
  const std::string base = from.text("base");
  if (!base.empty() && base != "flat" && base != "round") {
    from.complain("'base' should be \"flat\" or \"round\"", Reader::kMend);
  }
  return base == "round";
}

void read_riser(const Reader& from, ProjectReference& reference) {
  reference.riser_mm = from.number("riser_mm", reference.riser_mm);
  reference.riser_sd_mm = from.number("riser_sd_mm", reference.riser_sd_mm);
}

// A neighbour's size stands under the key of that size; one that is not measured yet is null there.
void read_neighbour(const Reader& from, ProjectReference& reference) {
  for (const SizeName name : kNeighbourSizes) {
    const std::string key = std::string(size_key(name)) + "_mm";
    const std::optional<double> value = from.number(key.c_str());
    if (value && reference.value_mm) {
      from.complain("both '" + reference.size + "_mm' and '" + key + "' are given",
                    "Keep the one that is known best.");
    }
    if (value || (from.has(key) && reference.size.empty())) {
      reference.size = size_key(name);
      reference.value_mm = value;
    }
  }
  reference.sd_mm = from.number("sd_mm");
  read_riser(from, reference);
  reference.round_base = read_round_base(from);
  if (const auto marks = from.object("marks")) reference.marks = read_marks(*marks, false);
}

void read_known(const Reader& from, ProjectReference& reference) {
  if (reference.kind == "size") {
    reference.size = from.text("size");
    reference.guess = from.flag("guess", reference.guess);
  }
  reference.value_mm = from.number("value_mm");
  reference.sd_mm = from.number("sd_mm");
}

// Reads where the reference is; all kinds but a neighbour have this in common.
void read_whereabouts(const Reader& from, ProjectReference& reference) {
  reference.size_sd_mm = from.number("size_sd_mm", reference.size_sd_mm);
  reference.behind_glass = from.flag("behind_glass", reference.behind_glass);
  read_riser(from, reference);
  reference.glass_to_axis_mm = from.number("glass_to_axis_mm");
  reference.glass_to_axis_sd_mm = from.number("glass_to_axis_sd_mm", reference.glass_to_axis_sd_mm);
  reference.shelf_at_glass = from.two_points("shelf_at_glass_px");
  reference.depth_offset_mm = from.number("depth_offset_mm", reference.depth_offset_mm);
  reference.depth_offset_sd_mm = from.number("depth_offset_sd_mm", reference.depth_offset_sd_mm);
}

ProjectReference read_reference(const Reader& from) {
  ProjectReference reference;
  reference.kept = from.kept();
  reference.kind = from.text("kind");
  reference.place = from.text("place");
  const std::string& kind = reference.kind;
  if (kind.empty()) {
    from.complain("'kind' is missing", "Say what the reference is, for example \"rectangle\".");
  }
  if (kind == "size" || kind == "distance") {
    read_known(from, reference);
    return reference;
  }
  if (kind == "neighbour") {
    read_neighbour(from, reference);
    return reference;
  }
  if (kind == "rectangle") {
    reference.width_mm = from.number("width_mm");
    reference.height_mm = from.number("height_mm");
    reference.corners = from.points("corners_px", 4);
  } else if (kind == "disc") {
    reference.diameter_mm = from.number("diameter_mm");
    reference.edge = from.points("edge_px", kMostMarks);
  } else if (kind == "length") {
    reference.length_mm = from.number("length_mm");
    reference.ends = from.points("ends_px", 2);
  } else if (kind == "grid") {
    reference.pitch_mm = from.number("pitch_mm");
    reference.columns = from.whole_number("columns", reference.columns, 1, kMostCells);
    reference.rows = from.whole_number("rows", reference.rows, 1, kMostCells);
    reference.corners = from.points("corners_px", 4);
    reference.crossings = from.crossings("crossings_px");
  } else {
    return reference;
  }
  reference.object = from.text("object");
  reference.marks_sd_px = from.number("marks_sd_px");
  read_whereabouts(from, reference);
  return reference;
}

ProjectTrace read_trace(const Reader& from) {
  ProjectTrace trace;
  trace.kept = from.kept();
  if (const auto box = from.two_points("box_px")) {
    trace.box = *box;
  } else {
    from.complain("'box_px' is missing", "Trace the outline again.");
  }
  for (const Reader& stroke : from.objects("strokes", "stroke", kMostStrokes)) {
    trace.strokes.push_back({stroke.flag("vessel", true), stroke.number("width_px", 0.0),
                             stroke.points("points_px", kMostMarks)});
  }
  trace.rim = from.traced_points("rim_px", kMostMarks);
  trace.base = from.traced_points("base_px", kMostMarks);
  trace.left = from.traced_points("left_px", kMostMarks);
  trace.right = from.traced_points("right_px", kMostMarks);
  for (const Reader& doubtful : from.objects("doubtful", "doubtful stretch", kMostStrokes)) {
    trace.doubtful.push_back(
        {doubtful.text("edge"), doubtful.text("why"), doubtful.points("points_px", kMostMarks)});
  }
  return trace;
}

std::optional<int> read_pixels(const Reader& from, const char* key) {
  const std::optional<std::int64_t> number = from.whole_number(key);
  constexpr std::int64_t kMostPixels = 1'000'000;
  if (!number) return std::nullopt;
  if (*number < 1 || *number > kMostPixels) {
    from.complain(std::string("'") + key + "' should be between 1 and 1000000", Reader::kMend);
    return std::nullopt;
  }
  return static_cast<int>(*number);
}

int read_quarter_turns(const Reader& from) {
  const std::int64_t turns = from.whole_number("quarter_turns").value_or(0);
  if (turns < 0 || turns > kMostQuarterTurns) {
    from.complain("'quarter_turns' should be 0, 1, 2 or 3", Reader::kMend);
    return 0;
  }
  return static_cast<int>(turns);
}

ProjectPhoto read_photo(const Reader& from) {
  ProjectPhoto photo;
  photo.kept = from.kept();
  photo.file = from.text("file");
  if (photo.file.find('\0') != std::string::npos) {
    from.complain("'file' is not a file name", Reader::kMend);
  }
  photo.focal_35mm = from.number("focal_35mm");
  photo.focal_sd_percent = from.number("focal_sd_percent");
  photo.cropped = from.flag("cropped", photo.cropped);
  photo.quarter_turns = read_quarter_turns(from);
  photo.direction_deg = from.number("direction_deg");
  if (const auto glass = from.object("glass")) {
    const ProjectGlass defaults;
    photo.glass = ProjectGlass{glass->number("thickness_mm", defaults.thickness_mm),
                               glass->number("thickness_sd_mm", defaults.thickness_sd_mm),
                               glass->number("index", defaults.index), glass->kept()};
  }
  for (const Reader& reader : from.objects("references", "reference", kMostReferences)) {
    photo.references.push_back(read_reference(reader));
  }
  if (const auto marks = from.object("marks")) photo.marks = read_marks(*marks);
  if (const auto trace = from.object("trace")) photo.trace = read_trace(*trace);
  photo.record.width_px = read_pixels(from, "width_px");
  photo.record.height_px = read_pixels(from, "height_px");
  if (const auto bytes = from.whole_number("bytes")) {
    if (*bytes < 0) from.complain("'bytes' should not be negative", Reader::kMend);
    photo.record.bytes = static_cast<std::uintmax_t>(*bytes < 0 ? 0 : *bytes);
  }
  photo.record.sha256 = from.text("sha256");
  return photo;
}

std::optional<ProjectHidden> read_hidden(const Reader& from, const char* key) {
  const auto hidden = from.object(key);
  if (!hidden) return std::nullopt;
  return ProjectHidden{hidden->number("low_mm"), hidden->number("high_mm"), hidden->kept()};
}

ProjectBand read_band(const Reader& from) {
  ProjectBand band;
  band.kept = from.kept();
  band.name = from.text("name");
  if (!from.number("height_mm")) from.complain("'height_mm' is missing", Reader::kMend);
  band.height_mm = from.number("height_mm", band.height_mm);
  band.top_mm = from.number("top_mm");
  band.repeats = from.whole_number("repeats", band.repeats, 0, kMostRepeats);
  return band;
}

ProjectBench read_bench(const Reader& from) {
  ProjectBench bench;
  bench.kept = from.kept();
  const std::optional<Stage> stage = stage_of_key(from.text("stage"));
  if (!stage) {
    from.complain("'stage' should be \"wet\", \"leather_hard\", \"bone_dry\" or \"fired\"",
                  Reader::kMend);
  }
  bench.stage = stage.value_or(bench.stage);
  bench.date = from.text("date");
  for (const Reader& reader : from.objects("sizes", "size", kSizeCount)) {
    ProjectBenchSize size;
    size.kept = reader.kept();
    const std::optional<SizeName> name = size_of_key(reader.text("size"));
    if (!name) reader.complain("'size' is none that a vessel has", Reader::kMend);
    size.size = name.value_or(size.size);
    size.value = reader.number("value", size.value);
    size.sd = reader.number("sd", size.sd);
    bench.sizes.push_back(size);
  }
  return bench;
}

Project read_project(const Reader& from) {
  Project project;
  project.kept = from.kept();
  project.name = from.text("name");
  project.notes = from.text("notes");
  for (const Reader& reader : from.objects("photos", "photo", kMostPhotos)) {
    project.photos.push_back(read_photo(reader));
  }
  project.out_of_round_percent = from.number("out_of_round_percent", project.out_of_round_percent);
  project.round_base = read_round_base(from);
  project.hidden_foot = read_hidden(from, "hidden_foot");
  project.hidden_rim = read_hidden(from, "hidden_rim");
  if (const auto wall = from.object("wall_mm")) {
    const ProjectWall defaults;
    project.wall = {wall->number("value", defaults.value_mm), wall->number("sd", defaults.sd_mm),
                    wall->kept()};
  }
  if (const auto clay = from.object("clay")) {
    project.clay = ProjectClay{clay->text("record"),
                               clay->text("name"),
                               clay->number("shrinkage_percent"),
                               clay->number("shrinkage_sd_percent", kDefaultShrinkageSdPercent),
                               clay->text("stage"),
                               clay->number("firing_c"),
                               clay->kept()};
  }
  if (const auto plan = from.object("plan")) {
    project.plan = ProjectPlan{plan->number("wall_mm"),   plan->number("wall_rim_mm"),
                               plan->number("coil_mm"),   plan->number("allowance_percent"),
                               plan->number("cradle_mm"), plan->kept()};
  }
  for (const Reader& reader : from.objects("bands", "band", kMostBands)) {
    project.bands.push_back(read_band(reader));
  }
  for (const Reader& reader : from.objects("bench", "stage of the bench", kMostBenchStages)) {
    project.bench.push_back(read_bench(reader));
  }
  return project;
}
// The version of the format, or why there is none.
Result<Done> check_version(const Json& json, std::string_view file_name) {
  const std::string quoted = "'" + std::string(file_name) + "'";
  const Json* version = nullptr;
  if (json.is_object() && json.contains("potshadow")) version = &json.at("potshadow");
  if (version == nullptr || !version->is_number_integer() || version->get<double>() < 1.0) {
    return Problem{Code::kBadFormat,
                   "The file " + quoted +
                       " is not a Potshadow project: it has no version number \"potshadow\": 1.",
                   "Check that it is the right file.", ""};
  }
  if (version->get<double>() > kProjectVersion) {
    return Problem{Code::kNewerVersion,
                   "The project " + quoted + " was written by a newer Potshadow (format " +
                       version->dump() + ", and this one reads up to " +
                       std::to_string(kProjectVersion) + ").",
                   "Open it with the newer program.", ""};
  }
  return Done{};
}
}  // namespace

bool operator==(const KeptObject& a, const KeptObject& b) {
  if (a.content_ == b.content_) return true;
  return a.content_ && b.content_ && a.content_->object == b.content_->object;
}

Result<Project> parse_project(std::string_view text, std::string_view file_name) {
  const Result<Json> json = parse_json(text, {file_name});
  if (!json) return json.problem();
  const Result<Done> version = check_version(*json, file_name);
  if (!version) return version.problem();
  Trouble trouble{file_name, {}};
  Project project = read_project(Reader(*json, "", trouble));
  if (trouble.first) return *trouble.first;
  const Result<Done> checked = check_project(project, file_name);
  if (!checked) return checked.problem();
  return project;
}

Result<Project> load_project(const std::filesystem::path& path) {
  const Result<std::string> bytes = read_file(path, kMostProjectBytes);
  if (!bytes) return bytes.problem();
  return parse_project(*bytes, path.string());
}

}  // namespace potshadow
