// SPDX-License-Identifier: MIT
#include <array>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <span>

#include "core/files.h"
#include "estimate/size_name.h"
#include "project/json_text.h"
#include "project/project.h"

namespace potshadow {
namespace {

// More points or pieces than anyone marks; the rest of the program may count on these bounds.
constexpr std::size_t kMostPhotos = 1000;
constexpr std::size_t kMostReferences = 100;
constexpr std::size_t kMostMarks = 5000;
constexpr int kMostQuarterTurns = 3;  // four are none
constexpr int kMostCells = 10'000;    // of a grid, across and up

// The keys under which a neighbour's size is written.
constexpr std::array kNeighbourSizes{SizeName::kHeight, SizeName::kMaxDiameter,
                                     SizeName::kRimDiameter};

std::string kind_of_value(const Json& value) {
  if (value.is_string()) return "text";
  if (value.is_boolean()) return "true or false";
  if (value.is_number()) return "a number";
  if (value.is_array()) return "a list";
  if (value.is_object()) return "a group of keys";
  return "empty";
}

std::string counted(std::string_view word, std::size_t index) {
  return std::string(word) + " " + std::to_string(index + 1);
}

// What a place is called in messages: "photo 1, reference 1 of 'jar.potshadow'".
std::string in_file(const std::string& place, std::string_view file_name) {
  const std::string file = "'" + std::string(file_name) + "'";
  return place.empty() ? file : place + " of " + file;
}

// Keeps the first thing that went wrong; reading goes on with defaults.
struct Trouble {
  std::string_view file_name;
  std::optional<Problem> first;

  void add(Code code, const std::string& place, const std::string& what, const std::string& next) {
    if (first) return;
    first = Problem{code, "In " + in_file(place, file_name) + ", " + what + ".", next, ""};
  }
};

// Reads the keys of one object, each under its default.
class Reader {
 public:
  // `place` is empty for the whole project. Requires an object.
  Reader(const Json& object, std::string place, Trouble& trouble)
      : object_(object), place_(std::move(place)), trouble_(trouble) {}

  const std::string& place() const { return place_; }
  KeptObject kept() const {
    return KeptObject(std::make_shared<const KeptObject::Content>(KeptObject::Content{object_}));
  }

  std::optional<double> number(const char* key) const {
    const Json* value = find(key);
    if (value == nullptr) return std::nullopt;
    if (!value->is_number()) {
      wrong_type(key, "a number", *value);
      return std::nullopt;
    }
    return value->get<double>();
  }
  double number(const char* key, double otherwise) const { return number(key).value_or(otherwise); }

  // Returns whether the key is there at all, empty or not.
  bool has(const std::string& key) const { return object_.contains(key); }

  std::optional<std::int64_t> whole_number(const char* key) const {
    const Json* value = find(key);
    if (value == nullptr) return std::nullopt;
    if (!value->is_number()) {
      wrong_type(key, "a whole number", *value);
      return std::nullopt;
    }
    const double number = value->get<double>();
    if (!is_whole(number)) {
      trouble_.add(Code::kBadFormat, place_, "'" + std::string(key) + "' should be a whole number",
                   kMend);
      return std::nullopt;
    }
    return static_cast<std::int64_t>(number);
  }

  // Returns the whole number under `key`, which must lie between `least` and `most`.
  int whole_number(const char* key, int otherwise, int least, int most) const {
    const std::int64_t number = whole_number(key).value_or(otherwise);
    if (number >= least && number <= most) return static_cast<int>(number);
    complain("'" + std::string(key) + "' should be between " + std::to_string(least) + " and " +
                 std::to_string(most),
             kMend);
    return otherwise;
  }

  bool flag(const char* key, bool otherwise) const {
    const Json* value = find(key);
    if (value == nullptr) return otherwise;
    if (!value->is_boolean()) {
      wrong_type(key, "true or false", *value);
      return otherwise;
    }
    return value->get<bool>();
  }

  std::string text(const char* key) const {
    const Json* value = find(key);
    if (value == nullptr) return "";
    if (!value->is_string()) {
      wrong_type(key, "text", *value);
      return "";
    }
    return value->get<std::string>();
  }

  std::vector<PhotoPoint> points(const char* key, std::size_t most) const {
    std::vector<PhotoPoint> points;
    const Json* list = find_list(key, "a list of [x, y] pairs", most);
    if (list == nullptr) return points;
    points.reserve(list->size());
    for (const Json& pair : *list) {
      if (!pair.is_array() || pair.size() != 2 || !pair[0].is_number() || !pair[1].is_number()) {
        trouble_.add(Code::kBadFormat, place_,
                     "point " + std::to_string(points.size() + 1) + " of '" + key +
                         "' should be a pair of numbers [x, y]",
                     kMend);
        return {};
      }
      points.push_back({pair[0].get<double>(), pair[1].get<double>()});
    }
    return points;
  }

  // Returns two points, or none where the key is missing or its list is empty.
  std::optional<std::array<PhotoPoint, 2>> two_points(const char* key) const {
    const std::vector<PhotoPoint> found = points(key, 2);
    if (found.empty()) return std::nullopt;
    if (found.size() == 2) return std::array{found[0], found[1]};
    complain("'" + std::string(key) + "' should hold two points", kMend);
    return std::nullopt;
  }

  std::vector<ProjectReference::Crossing> crossings(const char* key) const {
    std::vector<ProjectReference::Crossing> crossings;
    const Json* list = find_list(key, "a list of [x, y, column, row] groups", kMostMarks);
    if (list == nullptr) return crossings;
    const auto counts = [](const Json& value) {
      return value.is_number() && is_whole(value.get<double>()) &&
             std::abs(value.get<double>()) <= kMostCells;
    };
    for (const Json& group : *list) {
      if (!group.is_array() || group.size() != 4 || !group[0].is_number() ||
          !group[1].is_number() || !counts(group[2]) || !counts(group[3])) {
        complain(counted("point", crossings.size()) + " of '" + key +
                     "' should be [x, y, column, row], the last two whole numbers up to " +
                     std::to_string(kMostCells),
                 kMend);
        return {};
      }
      crossings.push_back({{group[0].get<double>(), group[1].get<double>()},
                           static_cast<int>(group[2].get<double>()),
                           static_cast<int>(group[3].get<double>())});
    }
    return crossings;
  }

  // Returns the readers of a list of objects; `word` names one of them.
  std::vector<Reader> objects(const char* key, std::string_view word, std::size_t most) const {
    std::vector<Reader> readers;
    const Json* list = find_list(key, "a list", most);
    if (list == nullptr) return readers;
    for (const Json& item : *list) {
      const std::string name = counted(word, readers.size());
      const std::string place = place_.empty() ? name : place_ + ", " + name;
      if (!item.is_object()) {
        trouble_.add(
            Code::kBadFormat, place_,
            name + " should be a group of keys in braces, but it is " + kind_of_value(item), kMend);
        return {};
      }
      readers.emplace_back(item, place, trouble_);
    }
    return readers;
  }

  // Returns the reader of an object inside this one, or none where the key is missing.
  std::optional<Reader> object(const char* key) const {
    const Json* value = find(key);
    if (value == nullptr) return std::nullopt;
    if (!value->is_object()) {
      wrong_type(key, "a group of keys in braces", *value);
      return std::nullopt;
    }
    const std::string word = std::string("'") + key + "'";
    return Reader(*value, place_.empty() ? word : place_ + ", " + word, trouble_);
  }

  void complain(const std::string& what, const std::string& next) const {
    trouble_.add(Code::kBadFormat, place_, what, next);
  }

  static constexpr const char* kMend = "Mend it in a text editor, or go back to a saved copy.";

 private:
  static bool is_whole(double number) {
    constexpr double kLargestExact = 9007199254740992.0;  // 2^53
    return std::floor(number) == number && std::abs(number) <= kLargestExact;
  }

  const Json* find(const char* key) const {
    const auto found = object_.find(key);
    return found == object_.end() || found->is_null() ? nullptr : &*found;
  }

  const Json* find_list(const char* key, const char* expected, std::size_t most) const {
    const Json* value = find(key);
    if (value == nullptr) return nullptr;
    if (!value->is_array()) {
      wrong_type(key, expected, *value);
      return nullptr;
    }
    if (value->size() > most) {
      trouble_.add(Code::kBadValue, place_,
                   "'" + std::string(key) + "' holds " + std::to_string(value->size()) +
                       " entries, and at most " + std::to_string(most) + " are read",
                   "Take some out, or check that it is the right file.");
      return nullptr;
    }
    return value;
  }

  void wrong_type(const char* key, const char* expected, const Json& value) const {
    complain(
        "'" + std::string(key) + "' should be " + expected + ", but it is " + kind_of_value(value),
        kMend);
  }

  const Json& object_;
  std::string place_;
  Trouble& trouble_;
};

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
  read_whereabouts(from, reference);
  return reference;
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
constexpr double kFarthestMm = 100'000.0;  // of a camera from what it shows

void judge_marks(const std::string& place, const ProjectMarks& marks, Judge& judge) {
  judge.points(place, "rim_px", marks.rim, kMostMarks);
  judge.points(place, "base_px", marks.base, kMostMarks);
  judge.points(place, "left_px", marks.left, kMostMarks);
  judge.points(place, "right_px", marks.right, kMostMarks);
  judge.number(place, "sd_px", marks.sd_px, 0.001, 1000.0);
}

void judge_reference(const std::string& place, const ProjectReference& reference, Judge& judge) {
  judge.number(place, "width_mm", reference.width_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "height_mm", reference.height_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "diameter_mm", reference.diameter_mm, kSmallestSizeMm, kLargestMm);
  judge.number(place, "size_sd_mm", reference.size_sd_mm, 0.0, kLargestMm);
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
}

void judge_hidden(const std::string& place, const std::optional<ProjectHidden>& hidden,
                  Judge& judge) {
  if (!hidden) return;
  judge.number(place, "low_mm", hidden->low_mm, 0.0, kLargestMm);
  judge.number(place, "high_mm", hidden->high_mm, 0.0, kLargestMm);
}

}  // namespace

bool operator==(const KeptObject& a, const KeptObject& b) {
  if (a.content_ == b.content_) return true;
  return a.content_ && b.content_ && a.content_->object == b.content_->object;
}

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
  if (trouble.first) return *trouble.first;
  return Done{};
}

Result<Project> parse_project(std::string_view text, std::string_view file_name) {
  const Result<Json> json = parse_json(text, file_name);
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
