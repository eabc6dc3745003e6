// SPDX-License-Identifier: MIT
// The project file: what a potter marked and typed, loaded and saved without loss.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "estimate/input.h"

// Format: UTF-8 JSON, extension .potshadow, one object with "potshadow": 1 (the version of the
// format). Lengths in millimetres, marks in pixels of the upright photograph, photographs named
// relative to the project file. DEVELOPERS.md lists the keys.
//
// A missing key (or null) stands for its default, written beside each field below. Keys that this
// version does not know are kept on every level and written back on saving, in their old order, and
// numbers that did not change keep their spelling.
//
// Failure: anything the file can hold wrongly is a Problem that names the place in plain words
// ("In photo 1, reference 1 of 'jar.potshadow', 'width_mm' should be a number, but it is text.").
namespace potshadow {

inline constexpr int kProjectVersion = 1;
inline constexpr std::uintmax_t kMostProjectBytes = std::uintmax_t{64} * 1024 * 1024;

// One object of the file as it was read, kept so that saving loses nothing. Values that are equal
// hold the same text.
class KeptObject {
 public:
  struct Content;  // of a JSON type, known to this part only
  KeptObject() = default;
  explicit KeptObject(std::shared_ptr<const Content> content) : content_(std::move(content)) {}
  const Content* content() const { return content_.get(); }
  friend bool operator==(const KeptObject& a, const KeptObject& b);

 private:
  std::shared_ptr<const Content> content_;
};

// What says how big things are: a thing of known size in a photograph, a size of the vessel itself
// ("size"), or how far the camera stood ("distance"). All kinds are kept; the estimate uses the
// four named first.
struct ProjectReference {
  std::string kind;   // "rectangle", "disc", "size", "distance"; kept: length, grid, others
  std::string place;  // "lying", "standing", "leaning", "on-glass"; kept: "beside", others
  // Of these rectangles and discs have all but the last four. What is not given yet is empty.
  std::string object;                 // key of a common object (reference_table.h); may be empty
  std::optional<double> width_mm;     // of a rectangle
  std::optional<double> height_mm;    // of a rectangle
  std::optional<double> diameter_mm;  // of a disc
  double size_sd_mm = 0.3;
  bool behind_glass = true;
  double riser_mm = 0.0;
  double riser_sd_mm = 0.0;
  std::optional<double> glass_to_axis_mm;
  double glass_to_axis_sd_mm = 0.0;
  std::vector<PhotoPoint> corners;  // at most four, in the order of RectangleReference
  std::vector<PhotoPoint> edge;     // "edge_px": points on a disc's edge, anywhere round it
  // "size" names a size by its key (size_name.h): of the kind "size" only. The value is that size,
  // or from the lens to the vessel's axis at half height. Its default uncertainty goes by the kind.
  std::string size;
  std::optional<double> value_mm;
  std::optional<double> sd_mm;
  bool guess = false;  // of the kind "size" only
  KeptObject kept;
  friend bool operator==(const ProjectReference&, const ProjectReference&) = default;
};

// Catalogues round to the centimetre: 10 mm / sqrt(12). A tape from a lens to a vessel behind glass
// is good to a centimetre (common practice, no source).
inline constexpr double kDefaultKnownSizeSdMm = 2.9;
inline constexpr double kDefaultDistanceSdMm = 10.0;

struct ProjectMarks {
  std::vector<PhotoPoint> rim;
  std::vector<PhotoPoint> base;
  std::vector<PhotoPoint> left;
  std::vector<PhotoPoint> right;
  double sd_px = 1.0;
  KeptObject kept;
  friend bool operator==(const ProjectMarks&, const ProjectMarks&) = default;
};

struct ProjectGlass {
  double thickness_mm = 8.0;
  double thickness_sd_mm = 1.0;
  double index = 1.52;
  KeptObject kept;
  friend bool operator==(const ProjectGlass&, const ProjectGlass&) = default;
};

// What the photograph's file was when it was marked; `sha256` empty and the others absent if
// unknown.
struct PhotoRecord {
  std::optional<int> width_px;   // upright by the file's own word, before `quarter_turns`
  std::optional<int> height_px;  // likewise
  std::optional<std::uintmax_t> bytes;
  std::string sha256;
  friend bool operator==(const PhotoRecord&, const PhotoRecord&) = default;
};

struct ProjectPhoto {
  std::string file;
  std::optional<double> focal_35mm;        // overrules the photograph's own statement
  std::optional<double> focal_sd_percent;  // of focal_35mm; 2 if not given
  bool cropped = false;
  // "quarter_turns": how often the upright picture is turned clockwise, 0-3. Marks are counted in
  // the turned picture.
  int quarter_turns = 0;
  std::optional<ProjectGlass> glass;
  std::vector<ProjectReference> references;
  ProjectMarks marks;
  PhotoRecord record;
  KeptObject kept;
  friend bool operator==(const ProjectPhoto&, const ProjectPhoto&) = default;
};

struct ProjectWall {
  double value_mm = 6.0;
  double sd_mm = 1.0;
  KeptObject kept;
  friend bool operator==(const ProjectWall&, const ProjectWall&) = default;
};

// Half a percentage point is how well one batch of test bars fixes a clay (common practice, no
// source).
inline constexpr double kDefaultShrinkageSdPercent = 0.5;

struct ProjectClay {
  std::string record;                       // key of a clay's record
  std::string name;                         // as printed
  std::optional<double> shrinkage_percent;  // total, linear, of the wet length
  double shrinkage_sd_percent = kDefaultShrinkageSdPercent;
  std::string stage;  // "wet" and so on
  KeptObject kept;
  friend bool operator==(const ProjectClay&, const ProjectClay&) = default;
};

struct Project {
  std::string name;
  std::string notes;
  std::vector<ProjectPhoto> photos;
  double out_of_round_percent = 1.0;
  bool round_base = false;  // "base": "round"; "flat" if not given
  ProjectWall wall;
  std::optional<ProjectClay> clay;
  KeptObject kept;
  friend bool operator==(const Project&, const Project&) = default;
};

// Returns the project in a file's text; `file_name` is for messages only. Fails with kBadFormat
// (not JSON: line and column; not a project; a key twice; wrong types), kNewerVersion,
// kFileTooLarge (too many values), kBadValue (see check_project).
Result<Project> parse_project(std::string_view text, std::string_view file_name);

// Returns the text of the project's file, with a newline at the end.
std::string project_text(const Project& project);

// Returns Done if every number is one that can be. Fails with kBadValue and names the place:
// numbers that are not finite, sizes below zero or absurdly large, too many photos, references or
// marks. What is merely unfinished (no marks yet) passes.
Result<Done> check_project(const Project& project, std::string_view file_name);

// Returns the project in the file, which it leaves alone. Fails as read_file and parse_project do.
Result<Project> load_project(const std::filesystem::path& path);

// Writes the project to `path`, whole or not at all. Photographs whose record is empty and that
// can be read have their record filled in the written file. Fails as check_project and
// write_file_whole do. Slow: reads such photographs, waits for the disk.
Result<Done> save_project(const Project& project, const std::filesystem::path& path);

}  // namespace potshadow
